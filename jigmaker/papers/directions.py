"""Which way, in words: every direction on a sheet, worked out from the geometry that draws its picture.

A Bench in, facts out. The words are fixed by signs: of the saw's settings, of the housing's depths and starts, of the
places where the jig's pieces stand. tests/papers/test_directions.py finds each anew on solids.
"""

from collections.abc import Iterator

from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.outline import Outline
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.geometry.vectors import Vector, cross, dot
from jigmaker.levelling.feet import FEET
from jigmaker.papers.bench import Bench
from jigmaker.papers.facts import Fact
from jigmaker.papers.pictures.jig_bodies import plate_place, slot_corners
from jigmaker.papers.pictures.jig_on_board import feed
from jigmaker.papers.pictures.saw_setups import SawSetup, saw_setup
from jigmaker.parts.kit import Kit
from jigmaker.parts.part import Part
from jigmaker.parts.solids import Worked, jig_places, stop_plane_x
from jigmaker.trestle.leg import leg_directions
from jigmaker.trestle.records import Trestle

_HANDS: tuple[Worked, ...] = ("R", "L")


def direction_facts(bench: Bench) -> Iterator[Fact]:
    """Every direction by its name, the same names for every job."""
    trestle, kit = bench.kit.trestle, bench.kit
    housing = trestle.housing
    own = {
        "housing.wall_runs": _sign(housing.start_top_mm - housing.start_bottom_mm, "toward", "away from"),
        "housing.deeper_face": _sign(housing.depth_top_mm - housing.depth_bottom_mm, "top", "bottom"),
        # Sheets lie at (0, 0) and go to the right and up from there. A circle begins where its angle is 0, to +x. In a
        # CNC machine's files holes run the same way round as outlines.
        "machine.zero": "left",
        "machine.turn": _turn(list(kit.parts[0].outline.corners)),
        "machine.circle_start": "right",
    }
    # Someone who stands at the near end, at +x, and faces the board has +y at the right.
    for foot in FEET:
        if foot.key.startswith("near_"):
            own[f"foot.{foot.key[-1].upper()}"] = "right" if foot.y > 0 else "left"
    jig = _jig(kit) if kit.shop.routs_housings else ()
    groups = (_saw(trestle), jig, own.items())
    yield from (Fact(name, words, "direction") for group in groups for name, words in group)


def _saw(trestle: Trestle) -> Iterator[tuple[str, str]]:
    """The three cuts as the operator sees them; the part that is kept lies at the left of the blade."""
    down, wide, edge = leg_directions(trestle)
    flat, on_edge, brace = (saw_setup(trestle, cut) for cut in ("leg flat", "leg on edge", "brace end"))
    # A product with a direction that is known tells which way an axis points: above 0 along it, below 0 against it.
    for name, setup in (("saw", flat), ("saw_edge", on_edge)):
        foot_right = dot(setup.timber_axes[0], down) > 0
        yield f"{name}.head", "left" if foot_right else "right"
        yield f"{name}.mitre", setup.swings_toward
        yield f"{name}.tilt", setup.leans_toward
    yield "saw.face_down", "outer" if dot(flat.timber_axes[1], wide) < 0 else "inner"
    # On edge the face toward the operator shows how the leg lies: the saw frame's y points away from the operator.
    yield "saw_edge.outer_face", "toward you" if dot(_away(on_edge), wide) < 0 else "away from you"
    yield "saw_edge.edge_down", "near" if dot(on_edge.timber_axes[1], edge) < 0 else "far"
    # The +x brace's inside face lies on the legs: out of it is toward the middle of the trestle.
    inside_up = dot(brace.timber_axes[1], (-edge[0], 0.0, -edge[2])) > 0
    yield "saw_brace.inside_face", "up" if inside_up else "down"
    yield "saw_brace.top_edge", "at the fence" if _away(brace)[2] > 0 else "toward you"
    yield "saw_brace.mitre", brace.swings_toward
    yield "saw_brace.other_end", "left" if brace.left == "brace" else "right"
    yield "saw_brace.tilt", brace.leans_toward
    # The blade leans out of the piece toward the top: then what is kept is shorter below than above.
    shorter_below = brace.tilt_deg < 0
    yield (
        "saw_brace.shorter_face",
        "" if not brace.leans_toward else "outside" if shorter_below is inside_up else "inside",
    )


def _away(setup: SawSetup) -> Vector:
    """The saw frame's y axis, from the operator to the fence, in the timber frame."""
    return cross(setup.timber_axes[1], setup.timber_axes[0])


def _sign(difference: float, above: str, below: str) -> str:
    """The word for the sign of a difference; none for nothing."""
    return "" if abs(difference) < TOUCH_MM else above if difference > 0 else below


def _jig(kit: Kit) -> Iterator[tuple[str, str]]:
    """The jig at work, for either hand, and how its pieces stand. Jig frame: X to the operator's right, Z out of the
    top face toward the operator.
    """
    for hand in _HANDS:
        slot = sum(x for x, _ in slot_corners(kit, hand)) / 4 + plate_place(kit, hand)[1].origin[0]
        is_right = stop_plane_x(kit, hand) > slot
        yield f"rout.stop_{hand}", "right" if is_right else "left"
        yield f"rout.end_{hand}", "right" if is_right else "left"
        other = [part.name for part, _ in jig_places(kit, hand) if part.name.startswith("mask for slot")]
        yield f"rout.mask_{hand}", other[0][-1] if other else "L" if hand == "R" else "R"
        yield f"rout.feed_{hand}", _turn(feed(slot_corners(kit, hand)))
    # v rises away from the operator, so the slot's low end is the one in front.
    yield "rout.park", "front" if kit.layout.cut_front < 0 else "rear"
    plate, frame = plate_place(kit, "R")
    yield "jig.marks", "up" if frame.z_axis[1] > 0 else "down"
    # The fence lies on the board's top face, the back strip behind the bottom face.
    fence, on_board = _piece(kit, "fence")
    behind = _piece(kit, "back strip")[1]
    yield "jig.top_face", _side(on_board.origin[2] - behind.origin[2])
    bearer, at = _piece(kit, "bearer")
    tenons = {feature.name: bearer.outline.segments[feature.pieces[0]].start for feature in bearer.features}
    fence_z, back_z = (at.point((*tenons[f"{strip} tenon, end"], 0.0))[2] for strip in ("fence", "back strip"))
    yield "jig.fence_side", _side(fence_z - back_z)
    mortises = [hole.contour.bounds for hole in fence.holes if hole.name.startswith("mortise")]
    low, high = fence.outline.bounds[1], fence.outline.bounds[3]
    above = sum(box[1] + box[3] for box in mortises) / len(mortises) > low + high
    yield "jig.mortises", _up(on_board, above)
    stop, on_board = _piece(kit, "stop")
    sill = next(feature for feature in stop.features if feature.name == "window, sill")
    yield "jig.notch", _up(on_board, stop.outline.segments[sill.pieces[0]].start[1] > 0)
    # The stop plane is a wall of the end bearer's mortise: the bearer is pushed against that one.
    holes = {hole.name: hole.contour for hole in plate.holes}
    walls = [
        frame.origin[0] + contour.segments[feature.pieces[0]].start[0]
        for feature in plate.features
        if isinstance(contour := holes.get(feature.contour), Outline)
        and feature.name.startswith("mortise, end")
        and feature.name.endswith(("left wall", "right wall"))
    ]
    is_outer = abs(max(walls) - stop_plane_x(kit, "R")) < TOUCH_MM
    yield "jig.push", "outward" if is_outer else "inward"


def _turn(ring: list[Point]) -> str:
    """Which way round a path goes, seen from the router, by the sign of its area."""
    # The shoelace formula: twice the area, above 0 where the ring runs anticlockwise.
    area = sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(ring, [*ring[1:], ring[0]], strict=True))
    return "clockwise" if area < 0 else "anticlockwise"


def _piece(kit: Kit, name: str) -> tuple[Part, Frame]:
    """A piece of the jig set for R, and where its part frame stands."""
    part, place = next((part, place) for part, place in jig_places(kit, "R") if place.name.startswith(name))
    return part, place.assembly_from_part


def _up(frame: Frame, is_above: bool) -> str:
    """What lies above the middle of a part points up when the part's own y does."""
    return "upward" if (frame.y_axis[1] > 0) is is_above else "downward"


def _side(z: float) -> str:
    return "toward you" if z > 0 else "away from you"
