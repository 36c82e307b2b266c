"""Masks: what fills the slot that is not in use, so that the router cannot enter it. Layout in, Parts out; mm.

While R is routed the mask for slot L lies in slot L, and the other way about. A mask is a plug a hair smaller than the
slot, on feet that stand on the board's edge as the bearers do, its face just below the plate's. Its marks say which
hand is in work and at which end the stop belongs. Nothing stands above the plate; it lifts straight out by a cord.
"""

from dataclasses import replace
from math import radians, sin

from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Outline
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, direction_deg, draw_outline, mortise, round_hole, shifted
from jigmaker.parts.housing_jig.bearer import rib, upright
from jigmaker.parts.housing_jig.layout import ALONG_MM, TENON_SHORT_MM, JigLayout
from jigmaker.parts.housing_jig.plate import corner_radius, plate_frame, slot_ring
from jigmaker.parts.mark_list import short_name, words_of
from jigmaker.parts.part import Feature, Hole, Part, PartHand, Placement, Said
from jigmaker.parts.relief import hole_diameter, relief_radius
from jigmaker.parts.text_box import Box, fill_box

GAP_MM = 0.3  # between mask and slot, all round
BELOW_MM = 0.3  # the mask's face under the plate's
SHOULDER_MM = 5.0  # a foot's seat before and behind its tenon
BESIDE_FOOT_MM = 2.0  # from a foot to the slot's wall
WEB_MM = 1.1  # at least so much wood stays between a foot's mortise and the mask's edge
BETWEEN_FEET_MM = 3.0  # wood between two mortises
CORD_HOLE_MM = 6.0  # smaller than any cutter that fits a bush
CORD_MM = 7.0  # the cord hole's middle from the slot's rear end
AWAY_MM = 4.0
EDGE_AWAY_MM = 1.8  # a foot is small: as far as a mark may come to a cut


def masks(layout: JigLayout, shop: Shop) -> tuple[Part, ...]:
    """A mask for either slot and the feet of both; nothing for a one-handed jig, or where no foot has room."""
    if layout.hands != "both" or not foot_places(layout):
        return ()
    return (_mask(layout, "R", shop), _mask(layout, "L", shop), _foot(layout, shop))


def _foot_span(layout: JigLayout) -> tuple[float, float]:
    """q of a foot's front and rear: over the board, clear of both faces, unless bites at its tenon need more."""
    tenon = layout.bites.least_length if layout.bites.radius else 0.0
    least = (2 * _shoulder(layout) + tenon) * sin(radians(layout.splay_deg))
    middle, half = layout.top_thickness / 2, max(0.8 * layout.top_thickness, least) / 2
    return middle - half, middle + half


def _shoulder(layout: JigLayout) -> float:
    return layout.bites.seat(SHOULDER_MM)


def _seat_v(layout: JigLayout, q: float) -> float:
    """v of the point at q on the mask's underside: q = v sin b - m cos b."""
    s, m = sin(radians(layout.splay_deg)), _seat(layout)
    return (q + m * (-layout.bearer_point(0.0, 1.0)[0])) / s


def _seat(layout: JigLayout) -> float:
    """m of the mask's underside: BELOW_MM under the plate's."""
    return layout.standoff - BELOW_MM


def foot_places(layout: JigLayout) -> tuple[float, ...]:
    """X of the left face of each foot under slot R's mask: two where they have room, else one, else none.

    A foot goes through the slot from above, so over its whole length it must lie between the walls.
    """
    # The walls slant: free all the way is what lies right of the far wall at the foot's rear and left of the near wall
    # at its front.
    front, rear = (_seat_v(layout, q) for q in _foot_span(layout))
    along = (GAP_MM + WEB_MM) / sin(radians(layout.face_deg))
    beside = max(BESIDE_FOOT_MM, along + layout.joint / 2 + layout.bites.aside)
    low, high = layout.far_wall(rear) + beside, layout.near_wall(front) - beside - layout.sheet
    if high < low:
        return ()
    two = layout.sheet + layout.joint + 2 * layout.bites.aside + BETWEEN_FEET_MM
    return (low, high) if high - low >= max(2 * layout.sheet, two) else ((low + high) / 2,)


def _tenon_span(layout: JigLayout) -> tuple[float, float]:
    front, rear = (_seat_v(layout, q) for q in _foot_span(layout))
    hole = layout.bites.least_hole(CORD_HOLE_MM) + layout.bites.endwise + WEB_MM + ALONG_MM / 2
    return front + _shoulder(layout), min(rear - _shoulder(layout), _cord_v(layout) - hole)


def _cord_v(layout: JigLayout) -> float:
    """v of the cord hole's middle."""
    hole = layout.bites.least_hole(CORD_HOLE_MM)
    return layout.slot_rear - max(CORD_MM, GAP_MM + BETWEEN_FEET_MM + hole)


def _mask(layout: JigLayout, hand: PartHand, shop: Shop) -> Part:
    """The plug for the slot of this hand. Part frame: x = X - its left end, y = v - its front end."""
    radius = max(corner_radius(layout) - GAP_MM, relief_radius(shop))
    plug = Outline.from_rounded(slot_ring(layout, hand, GAP_MM)[::-1], radius)
    origin = plug.bounds[:2]  # of the rounded plug: a sharp corner of the slot may lie outside it
    outline = plug.placed(PlaneFrame(-origin[0], -origin[1]))
    holes, features = _mask_holes(layout, hand, origin, shop)
    # Arcs and straight pieces by turns, an arc first.
    edges, corners = list[Feature](), list[Feature]()
    for number in range(1, 5):
        arc, at = 2 * number - 2, 2 * number - 1
        direction = direction_deg(outline.segments[at].start, outline.segments[at].end)
        edges.append(Feature(f"edge {number}", "edge", "outer", (at,), "angle_deg", direction))
        corners.append(Feature(f"corner {number}", "corner", "outer", (arc,), "diameter_mm", 2 * radius))
    # Across the two long walls: the slot's opening less the gap on both sides.
    walls = tuple(edge.pieces[0] for edge in edges if edge.value != 0.0)[:2]
    width = Feature("width", "edge", "outer", walls, "across_mm", layout.slot_width - 2 * GAP_MM)
    work, side = ("L", "LEFT") if hand == "R" else ("R", "RIGHT")
    # In the slot not in use: the mask for slot L belongs to the jig's R state.
    frame = plate_frame(layout, origin[0], origin[1], _seat(layout))
    # In front of the feet's tenons.
    low_v, high_v = layout.slot_front + AWAY_MM, _tenon_span(layout)[0] - AWAY_MM
    right = Box(layout.far_wall(high_v) + AWAY_MM, low_v, layout.near_wall(low_v) - AWAY_MM, high_v)
    return Part(
        name=f"mask for slot {hand}",
        slug=f"mask-for-slot-{hand.lower()}",
        assembly="housing jig",
        hand=hand,
        needed=1,
        spares=0,
        thickness_mm=layout.sheet,
        outline=outline,
        holes=holes,
        features=(*edges, *corners, *features, width),
        marks=fill_box(
            words_of("mask-for-slot", ["work", "stop", "name"], shop, hand=hand, work=work, side=side),
            (right if hand == "R" else right.mirrored()).moved(-origin[0], -origin[1]),
            5.0,
        ),
        placements=(Placement(f"mask in slot {hand}", "L" if hand == "R" else "R", frame),),
    )


def _mask_holes(
    layout: JigLayout, hand: PartHand, origin: Point, shop: Shop
) -> tuple[tuple[Hole, ...], tuple[Feature, ...]]:
    """A mortise for each foot and the cord's hole near the rear end."""
    p, joint, sign = layout.sheet, layout.joint, (1 if hand == "R" else -1)
    low_v, high_v = (v - origin[1] for v in _tenon_span(layout))
    made = []
    for i, x in enumerate(sorted(foot_xs(layout, hand)), 1):
        left = x - origin[0] - joint / 2
        low, high = (left, low_v - ALONG_MM / 2), (left + p + joint, high_v + ALONG_MM / 2)
        made.append(mortise(f"mortise, foot {i}", low, high, layout.bites))
    v = _cord_v(layout)
    centre = (sign * layout.centre_line(v) - origin[0], v - origin[1])
    made.append(round_hole("cord hole", centre, hole_diameter(shop, CORD_HOLE_MM)))
    return tuple(hole for hole, _ in made), tuple(feature for _, found in made for feature in found)


def foot_xs(layout: JigLayout, hand: PartHand) -> list[float]:
    """X of the left face of each foot under the mask of this hand's slot."""
    right = foot_places(layout)
    return list(right) if hand == "R" else [-x - layout.sheet for x in right]


def _foot(layout: JigLayout, shop: Shop) -> Part:
    """The mask's foot: flat on the board's edge, its tenon square to the plate; no hand."""
    # Anticlockwise in the bearer plane, from the foot's front on the board's edge.
    seat, (front, rear), (low_v, high_v) = _seat(layout), _foot_span(layout), _tenon_span(layout)
    high = seat + layout.sheet - TENON_SHORT_MM
    drawn = [
        OutlineCorner((front, 0.0), "foot on the board's edge"),
        OutlineCorner((rear, 0.0), "rear end", "free"),
        OutlineCorner(layout.bearer_point(_seat_v(layout, rear), seat), "seat, rear"),
        OutlineCorner(layout.bearer_point(high_v, seat), "tenon, rear side", "tenon", True),
        OutlineCorner(layout.bearer_point(high_v, high), "tenon, end", "tenon"),
        OutlineCorner(layout.bearer_point(low_v, high), "tenon, front side", "tenon"),
        OutlineCorner(layout.bearer_point(low_v, seat), "seat, front", "edge", True),
        OutlineCorner(layout.bearer_point(_seat_v(layout, front), seat), "front end", "free"),
    ]
    origin: Point = (min(c.at[0] for c in drawn), 0.0)
    outline, features = draw_outline(shifted(drawn, (-origin[0], 0.0)), relief_mm=relief_radius(shop))
    hands: tuple[PartHand, ...] = ("R", "L")
    placements = tuple(
        upright(x, origin, "L" if hand == "R" else "R", f"mask foot {i}, slot {hand}")
        for hand in hands
        for i, x in enumerate(sorted(foot_xs(layout, hand)), 1)
    )
    tenon = across(features, "tenon, front side", "tenon, rear side", "tenon, length", "tenon", high_v - low_v)
    # In the tenon and below it, clear of the bites at its root.
    relief = relief_radius(shop)
    at = {corner.piece: corner.at for corner in drawn}
    front = max(at["tenon, front side"][0], at["seat, front"][0]) - origin[0]
    rear = min(at["tenon, rear side"][0], at["tenon, end"][0]) - origin[0]
    high = min(at["tenon, front side"][1], at["tenon, end"][1])
    in_by = relief + EDGE_AWAY_MM
    box = Box(front + in_by, EDGE_AWAY_MM, rear - in_by, high - EDGE_AWAY_MM)
    marks = fill_box(words_of("mask-foot", ["name"], shop), box, 5.0) or fill_box(
        [Said(short_name("mask-foot"), "name")], box, 5.0
    )
    return replace(rib("mask foot", layout, outline, placements), features=(*features, tenon), marks=marks)
