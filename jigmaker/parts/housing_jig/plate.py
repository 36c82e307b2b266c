"""The plate the router rides on, with its slots: layout in, Part out. Part frame; mm.

Seen from the router's side, the top face's side (the operator's) at the bottom: x along the board to the operator's
right, y up the slope. Part x = X - plate_low, y = v - plate_front.
"""

from dataclasses import replace
from math import cos, radians, sin, sqrt

from jigmaker.geometry.frames import Frame, PlaneFrame, Point
from jigmaker.geometry.outline import Outline
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, direction_deg, draw_outline, mortise
from jigmaker.parts.housing_jig.bearer import Span, end_mortises, plain_mortises
from jigmaker.parts.housing_jig.layout import PLATE_WEB_MM, JigLayout
from jigmaker.parts.part import Feature, FeatureKind, Hole, Part, PartHand, Placement, State

FRONT_CORNER_MM = 30.0  # cut off the two front corners, so that front and rear, R and L are told apart by eye


def plate(layout: JigLayout, shop: Shop) -> Part:
    """The plate with both slots, or the R or the L plate of a one-handed pair. Marks are added by plate_marks."""
    outline, features = _outline(layout)
    slots = [_slot(layout, hand) for hand in (("R", "L") if layout.hands == "both" else (layout.hands,))]
    mortises = _mortises(layout)
    holes = [*slots, *mortises]
    hand: PartHand = "" if layout.hands == "both" else layout.hands
    # Underside at the standoff over the plane through the top arris, tilted by 90 - splay about the board's length.
    state: State = "both" if layout.hands == "both" else layout.hands
    name = "plate" if state == "both" else f"plate {state}"
    # By how much a rounded corner of a slot is further from the nearest bearer than the wall's own end is. The round
    # touches the wall r (1/tan + 1/sin) before its end, along the board, and reaches r beyond its centre.
    r, face = corner_radius(layout), radians(layout.face_deg)
    return Part(
        name=f"plate {hand}".strip(),
        slug=f"plate-{hand.lower()}".strip("-"),
        assembly="housing jig",
        hand=hand,
        needed=1,
        spares=0,
        thickness_mm=layout.sheet,
        outline=outline,
        holes=tuple(hole for hole, _ in holes),
        features=(*features, *(feature for _, found in holes for feature in found)),
        placements=(Placement(name, state, plate_frame(layout, span(layout)[0], layout.plate_front, layout.standoff)),),
        least_wood_mm=(("web", PLATE_WEB_MM), ("land", layout.land + (r * (layout.wall_slope + 1 / sin(face) - 1)))),
    )


def span(layout: JigLayout) -> Span:
    """X of the plate's left and right edges in its own jig's frame; an L plate's is the R plate's mirrored."""
    if layout.hands == "L":
        return -layout.plate_high, -layout.plate_low
    return layout.plate_low, layout.plate_high


def part_from_plate(layout: JigLayout) -> PlaneFrame:
    """From (X, v) of the plate plane to the part frame."""
    return PlaneFrame(-span(layout)[0], -layout.plate_front)


def _outline(layout: JigLayout) -> tuple[Outline, tuple[Feature, ...]]:
    """Front corners cut off: both on a plate for both hands, on a one-handed one only the corner at the stop's end."""
    width = layout.plate_high - layout.plate_low
    depth = layout.plate_rear - layout.plate_front
    left, right = (0.0 if layout.hands == off else front_corner(layout) for off in ("R", "L"))
    corners = [
        OutlineCorner((left, 0.0), "front edge", "free"),
        *([OutlineCorner((width - right, 0.0), "front corner, right", "free")] if right else []),
        OutlineCorner((width, right), "right end", "free"),
        OutlineCorner((width, depth), "rear edge", "free"),
        OutlineCorner((0.0, depth), "left end", "free"),
        *([OutlineCorner((0.0, left), "front corner, left", "free")] if left else []),
    ]
    outline, features = draw_outline(corners)
    deep = across(features, "front edge", "rear edge", "depth", "edge", depth)
    return outline, (*features, deep, across(features, "left end", "right end", "length", "edge", width))


def front_corner(layout: JigLayout) -> float:
    """How much is cut off a front corner: under a small base less, for the web beside the end bearer's mortise.

    Nearest to the cut, which leans by 45 degrees, is the mortise's corner, or the bite beside it.
    """
    beside = layout.bites.radius if layout.bites.are_beside else 0.0
    across = end_mortises(layout)[0][0] + beside - layout.plate_front + layout.plate_high - layout.half
    return min(FRONT_CORNER_MM, across - sqrt(2) * (PLATE_WEB_MM + beside))


def corner_radius(layout: JigLayout) -> float:
    """Radius of the slots' corners: under the bush's, so that it never meets them; the cutter's at least."""
    return max(min(4.0, layout.bush_radius - 1), layout.bites.radius)


def slot_ring(layout: JigLayout, hand: PartHand, inside_mm: float = 0.0) -> list[Point]:
    """(X, v) of the slot's four sharp corners, clockwise; inside_mm draws it in, square to every side."""
    v0, v1 = layout.slot_front + inside_mm, layout.slot_rear - inside_mm
    along = inside_mm / sin(radians(layout.face_deg))
    near, far = layout.near_wall, layout.far_wall
    right = [(near(v0) - along, v0), (far(v0) + along, v0), (far(v1) + along, v1), (near(v1) - along, v1)]
    return right if hand == "R" else [(-x, v) for x, v in reversed(right)]


def _slot(layout: JigLayout, hand: PartHand) -> tuple[Hole, tuple[Feature, ...]]:
    """One slot, run clockwise, with each wall's direction, its opening and its length."""
    outline = Outline.from_rounded(slot_ring(layout, hand), corner_radius(layout)).placed(part_from_plate(layout))
    # pieces: corner arcs at 0, 2, 4, 6; straight pieces front, far, rear, near (R) or rear, far, front, near (L)
    order = ("front", "far", "rear", "near") if hand == "R" else ("rear", "far", "front", "near")
    at = {name: 2 * i + 1 for i, name in enumerate(order)}
    name = f"slot {hand}"
    walls = []
    for side, kind, code in _SIDES:
        segment = outline.segments[at[side]]
        direction = direction_deg(segment.start, segment.end)
        walls.append(Feature(f"{name}, {side} {kind}", code, name, (at[side],), "angle_deg", direction))
    opening = Feature(f"{name}, opening", "slot_wall", name, (at["near"], at["far"]), "across_mm", layout.slot_width)
    long, ends = layout.slot_rear - layout.slot_front, (at["front"], at["rear"])
    length = Feature(f"{name}, length", "slot_end", name, ends, "across_mm", long)
    corners = [
        Feature(f"{name}, corner {i + 1}", "corner", name, (2 * i,), "diameter_mm", 2 * corner_radius(layout))
        for i in range(4)
    ]
    return Hole(name, outline), (*walls, opening, length, *corners)


_SIDES: tuple[tuple[str, str, FeatureKind], ...] = (
    ("near", "wall", "slot_wall"),
    ("far", "wall", "slot_wall"),
    ("front", "end", "slot_end"),
    ("rear", "end", "slot_end"),
)


def _mortises(layout: JigLayout) -> list[tuple[Hole, tuple[Feature, ...]]]:
    """Two mortises over every bearer. Over an end bearer the outer wall stands exactly in the stop plane."""
    p, joint, half = layout.sheet, layout.joint, layout.half
    # Bearer's name, X low, X high, v spans, side of the stop plane; an L plate is an R plate's mirror image.
    plain = [(name, x - joint / 2, x + p + joint / 2, plain_mortises(layout), "") for name, x in layout.bearer_faces]
    if layout.hands == "L":
        plain = [(name, -high, -low, spans, side) for name, low, high, spans, side in plain]
    right = ("end, right", half - p - joint, half, end_mortises(layout), "right")
    left = ("end, left", -half, -half + p + joint, end_mortises(layout), "left")
    ends = {"both": [right, left], "R": [right], "L": [left]}[layout.hands]
    move = part_from_plate(layout).point
    made = []
    for name, low_x, high_x, spans, stop_side in [*plain, *ends]:
        for where, (low_v, high_v) in zip(("front", "rear"), spans, strict=True):
            low, high = move((low_x, low_v)), move((high_x, high_v))
            hole, features = mortise(f"mortise, {name}, {where}", low, high, layout.bites)
            if stop_side:
                # Where the outer wall stands, from the part's left edge.
                index, x = (0, low[0]) if stop_side == "left" else (2, high[0])
                named = f"{features[index].name}: stop plane"
                features = (*features, replace(features[index], name=named, measure="x_mm", value=x))
            made.append((hole, features))
    return made


def plate_frame(layout: JigLayout, x: float, v: float, m: float) -> Frame:
    """jig_from_part of a part that lies in the plate plane with its origin at (x, v), its underside at m."""
    s = sin(radians(layout.splay_deg))
    c = cos(radians(layout.splay_deg)) if layout.splay_deg != 90 else 0.0
    return Frame((x, v * c + m * s, -v * s + m * c), (1.0, 0.0, 0.0), (0.0, c, -s), (0.0, s, c))
