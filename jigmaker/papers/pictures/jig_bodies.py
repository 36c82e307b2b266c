"""Solids for pictures of the jig at work: board, router, clamps, and the way of the feed. Jig frame; mm.

The router and the clamps are plain stand-ins: only the router's base has a size that the shop knows.
"""

from collections.abc import Sequence
from functools import lru_cache

from jigmaker.drawing.projection import Body
from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.outline import Circle, Outline
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, scale
from jigmaker.parts.kit import Kit
from jigmaker.parts.part import Part
from jigmaker.parts.solids import Worked, jig_places, stop_plane_x

BOARD_ON_MM = 150.0
"""How much of a long board is drawn beyond the jig."""

ROUTER_HIGH_MM = 95.0
_BASE_MM, _KNOB_MM = 9.0, 34.0  # the router's base and handles, in height
_CLAMP_MM, _ARM_MM, _TIP_MM = 22.0, 14.0, 6.0
_TINY_RADIUS_MM = 3.0  # rounder things as few chords


def drawn_solid(part: Part) -> Solid:
    """A part for the eye: small arcs, such as a cutter's reliefs, as one chord a quarter turn; part frame."""
    rings = [drawn_points(contour) for contour in (part.outline, *(hole.contour for hole in part.holes))]
    return Solid.prism_of_points(rings, part.thickness_mm)


def drawn_points(contour: Outline | Circle) -> list[Point]:
    """A contour as few points, small arcs as one chord; the contour's own frame."""
    if isinstance(contour, Circle):
        return contour.points(6 if contour.radius > _TINY_RADIUS_MM else 4)
    found: list[Point] = []
    for segment in contour.segments:
        tiny = segment.bulge and segment.length < 2 * _TINY_RADIUS_MM
        found += segment.points(1 if tiny else 6)
    return found


@lru_cache(maxsize=4)
def jig_bodies(kit: Kit, hand: Worked) -> tuple[Body, ...]:
    """Every piece of the jig set for this hand, by its place's name, in the kit's order."""
    places = jig_places(kit, hand)
    solids = {part.slug: drawn_solid(part) for part in {part.slug: part for part, _ in places}.values()}
    return tuple(Body(place.name, solids[part.slug].placed(place.assembly_from_part)) for part, place in places)


def plate_place(kit: Kit, hand: Worked) -> tuple[Part, Frame]:
    """The plate of this hand and where its part frame lies."""
    part, place = next((p, at) for p, at in jig_places(kit, hand) if f"slot {hand}" in {hole.name for hole in p.holes})
    return part, place.assembly_from_part


def on_plate(kit: Kit, hand: Worked, at: Point, above: float = 0.0) -> Vector:
    """A point of the plate's part frame on the face that the router rides on, or above it; jig frame."""
    part, frame = plate_place(kit, hand)
    return frame.point((at[0], at[1], part.thickness_mm + above))


def slot_corners(kit: Kit, hand: Worked) -> list[Point]:
    """Four corners of the slot as bush's centre can reach them, clockwise seen from the router, part frame."""
    layout, left = kit.layout, plate_place(kit, hand)[1].origin[0]
    # The bush's centre stays a radius away from each wall, square to it; along the plate's x that is radius * (slot
    # along x) / (slot square to its walls), both of which the layout knows.
    low, high = layout.bush_travel
    side = layout.bush_radius / layout.slot_width * (layout.near_wall(0) - layout.far_wall(0))
    sign = 1 if hand == "R" else -1
    right = [
        (layout.far_wall(low) + side, low),
        (layout.far_wall(high) + side, high),
        (layout.near_wall(high) - side, high),
        (layout.near_wall(low) - side, low),
    ]
    ring = [(sign * x - left, v - layout.plate_front) for x, v in right]
    return ring if hand == "R" else ring[::-1]


def board_body(kit: Kit, hand: Worked) -> tuple[Body, bool]:
    """The board as clamped, and whether it goes on beyond what is drawn."""
    top, stop_x = kit.trestle.job.top, stop_plane_x(kit, hand)
    part, frame = plate_place(kit, hand)
    _, _, wide, _ = part.outline.bounds
    ends = (frame.origin[0], frame.origin[0] + wide)
    if hand == "R":
        low, high = max(stop_x - top.length_mm, ends[0] - BOARD_ON_MM), stop_x
    else:
        low, high = stop_x, min(stop_x + top.length_mm, ends[1] + BOARD_ON_MM)
    solid = Solid.block((low, -top.width_mm, -top.thickness_mm), (high, 0.0, 0.0))
    return Body("board", solid), high - low < top.length_mm - 1


def router_body(kit: Kit, hand: Worked, at: Point) -> Body:
    """A router with its axis at a point of the plate: base, body and two handles along the board."""
    base = kit.shop.router.base_mm / 2
    _, frame = plate_place(kit, hand)
    own = Frame(on_plate(kit, hand, at), frame.x_axis, frame.y_axis, frame.z_axis)
    disc = Solid.prism(Circle((0.0, 0.0), base), [], _BASE_MM, 12)
    body = Solid.prism(Circle((0.0, 0.0), 0.55 * base), [], ROUTER_HIGH_MM, 8)
    knobs = [
        Solid.prism(Circle((sign * 0.85 * base, 0.0), 0.2 * base), [], _KNOB_MM, 6).moved((0.0, 0.0, _BASE_MM))
        for sign in (-1, 1)
    ]
    return Body("router", Solid.union([disc, body, *knobs]).placed(own))


def clamp_bodies(kit: Kit, hand: Worked) -> list[Body]:
    """Two clamps from below, round the board's lower edge, on the band that fence and back strip leave free."""
    layout = kit.layout
    strip = next(solid for solid in jig_bodies(kit, hand) if solid.name.startswith("fence"))
    (low, _, _), (high, _, _) = strip.solid.bounds
    # A bow open upward in the bearer plane (q = -Z, y), _CLAMP_MM along X from 0, its tips on fence and strip.
    # q to the right, y up: a C round the board's lower edge, its tips pressing fence and back strip together.
    #
    #            fence |board| strip
    #     tips  --> ===|     |=== <--
    #          |  _____|     |____  |
    #          | |     |_____|    | |
    #          | |________________| |
    #          |____________________|
    #
    band = -(layout.strip_depth + layout.lug_depth) / 2
    front, rear = -layout.sheet, layout.top_thickness + layout.sheet
    floor = -kit.trestle.job.top.width_mm - 8.0
    out, tip = 12.0, _TIP_MM
    ring = [
        (front, band - tip),
        (front, band + tip),
        (front - out - _ARM_MM, band + tip),
        (front - out - _ARM_MM, floor - _ARM_MM),
        (rear + out + _ARM_MM, floor - _ARM_MM),
        (rear + out + _ARM_MM, band + tip),
        (rear, band + tip),
        (rear, band - tip),
        (rear + out, band - tip),
        (rear + out, floor),
        (front - out, floor),
        (front - out, band - tip),
    ]
    upright = Frame((0.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0))
    shape = Solid.prism_of_points([ring], _CLAMP_MM).placed(upright)
    return [
        Body(f"clamp {i + 1}", shape.moved((low + share * (high - low) - _CLAMP_MM / 2, 0.0, 0.0)))
        for i, share in enumerate((0.2, 0.8))
    ]


def exploded(bodies: Sequence[Body], ways: dict[str, Vector]) -> list[Body]:
    """Bodies moved by the way whose key their name starts with, the longest such key; the others stay."""
    moved = []
    for body in bodies:
        key = max((key for key in ways if body.name.startswith(key)), key=len, default="")
        moved.append(Body(body.name, body.solid.moved(ways[key])) if key else body)
    return moved


def out_of_plate(kit: Kit, hand: Worked, by: float) -> Vector:
    """So far out of the plate's plane, away from the wood, jig frame."""
    return scale(plate_place(kit, hand)[1].z_axis, by)
