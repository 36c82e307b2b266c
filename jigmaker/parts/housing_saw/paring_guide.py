"""The paring guide, one for all four housings: SawLayout and Shop in, Parts out. Part frames; mm.

A ramp in the plane of the housing's floor, before the board's top face: the chisel's back lies flat on it and cuts
through the fence's window, along the leg's axis at the walls. The floor holds the board's direction, so the guide has
no hand. Two ribs carry the ramp; they hook on the board's edge and stand over the ramp at both sides.
"""

from dataclasses import replace

from jigmaker.geometry.frames import Frame
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, PartOpening, drawn_part
from jigmaker.parts.housing_saw.layout import ALONG_MM, BELOW_EDGE_MM, TENON_SHORT_MM, GuideSpan, SawLayout
from jigmaker.parts.housing_saw.saw_guide import AWAY_MM, LOUD_MM, named_inside
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import Part, Placement
from jigmaker.parts.text_box import Box, fill_box

PARING_GUIDE = "paring guide"
HOOK_MM = 16.0  # a rib over the board's edge
GUARD_MM = 8.0  # ribs over the ramp, beside the chisel
FENCE_OUT_MM = 22.0  # fence beyond the ribs


def paring_guide_parts(lay: SawLayout, shop: Shop) -> tuple[Part, ...]:
    """Ramp, two ribs and a fence with a window."""
    return ramp(lay, shop), rib(lay, shop), paring_fence(lay, shop)


def _ramp_tenons(lay: SawLayout) -> tuple[GuideSpan, GuideSpan]:
    """v of both ends of the ramp's tenons, front and rear."""
    front, rear = lay.ramp_front + lay.ramp_shoulder, lay.ramp_rear - lay.ramp_shoulder
    return (front, front + lay.ramp_tenon), (rear - lay.ramp_tenon, rear)


def _fence_tenon(lay: SawLayout) -> GuideSpan:
    """y of both ends of a rib's tenon in the fence."""
    return lay.window_floor - 30, lay.window_floor - 30 + max(20.0, lay.bites.least_length)


def ramp(lay: SawLayout, shop: Shop) -> Part:
    """Its upper face in the plane of the floor, m = -d. Plane: X, v."""
    half, tip = lay.ramp_width / 2, lay.ramp_width / 2 + lay.sheet - TENON_SHORT_MM
    front, rear = lay.ramp_front, lay.ramp_rear
    right = [OutlineCorner((half, front), "right side, front")]
    for where, (low, high), after in zip(("front", "rear"), _ramp_tenons(lay), ("middle", "rear"), strict=True):
        right += [
            OutlineCorner((half, low), f"right tenon {where}, front side", "tenon", True),
            OutlineCorner((tip, low), f"right tenon {where}, end", "tenon"),
            OutlineCorner((tip, high), f"right tenon {where}, rear side", "tenon"),
            OutlineCorner((half, high), f"right side, {after}", "edge", True),
        ]
    right.append(OutlineCorner((half, rear), "rear edge", "free"))
    left = [
        replace(at, at=(-at.at[0], at.at[1]), piece=to.piece.replace("right", "left"), kind=to.kind)
        for at, to in zip(reversed(right), [*list(reversed(right))[1:], right[0]], strict=True)
    ]
    left[-1] = replace(left[-1], piece="front edge", kind="free")
    part, at = drawn_part("paring guide ramp", PARING_GUIDE, [*right, *left], shop)
    v, n, _ = lay.axes
    m = -lay.depth_square - lay.sheet
    plane = Frame((0.0, n[1] * m, n[2] * m), (1.0, 0.0, 0.0), v, n)
    box = Box(-half + 2 * AWAY_MM, front + 2 * AWAY_MM, half - 2 * AWAY_MM, rear - 2 * AWAY_MM)
    words = words_of("paring-guide-ramp", ["back", "name"], shop)
    place = Placement("paring guide ramp", "both", plane @ Frame((*at, 0.0)), "over")
    return replace(part, placements=(place,), marks=fill_box(words, box.moved(-at[0], -at[1]), 5.0))


def _rib_corners(lay: SawLayout) -> list[OutlineCorner]:
    """Bearer plane, anticlockwise from the hook's end on the board's edge."""
    p, d = lay.sheet, lay.depth_square
    hook = min(30.0, lay.top_thickness - 3)
    low, high = (y + cut for y, cut in zip(_fence_tenon(lay), (ALONG_MM / 2, -ALONG_MM / 2), strict=True))
    front = lay.ramp_front - 6
    nose = lay.bearer_point(front, -d - p - 8)
    foot = min(_fence_tenon(lay)[0] - 2 - lay.bites.seat(0.0), nose[1])
    # Where the nose lies higher than the foot, the lower edge runs level before it falls to the nose.
    level = [OutlineCorner((-p - 14, foot), "lower edge, front", "free")] if nose[1] > foot + 1 else []
    return [
        OutlineCorner((hook, 0.0), "hook, end", "free"),
        OutlineCorner((hook, HOOK_MM), "hook, top", "free"),
        OutlineCorner((-p - 8, HOOK_MM), "guard", "free"),
        OutlineCorner(lay.bearer_point(front, GUARD_MM - d), "front end", "free"),
        OutlineCorner(nose, "lower edge", "free"),
        *level,
        OutlineCorner((-p, foot), "fence tenon shoulder, lower"),
        OutlineCorner((-p, low), "fence tenon, lower side", "tenon", True),
        OutlineCorner((-TENON_SHORT_MM, low), "fence tenon, end", "tenon"),
        OutlineCorner((-TENON_SHORT_MM, high), "fence tenon, upper side", "tenon"),
        OutlineCorner((-p, high), "fence tenon shoulder, upper", "edge", True),
        OutlineCorner((-p, 0.0), "hook on the board's edge", "edge", True),
    ]


def rib(lay: SawLayout, shop: Shop) -> Part:
    """Carries the ramp, hooks on the edge; no hand. Its part frame lies along the ramp: x along v, y along m, so that
    the ramp's mortises are upright in it.
    """
    v, n, _ = lay.axes
    # A point of the bearer plane lies (0, y, -q): its v and m are what it has in common with the two axes.
    corners = [
        replace(c, at=(c.at[1] * v[1] - c.at[0] * v[2], c.at[1] * n[1] - c.at[0] * n[2])) for c in _rib_corners(lay)
    ]
    under, over = -lay.depth_square - lay.sheet - lay.joint / 2, -lay.depth_square + lay.joint / 2
    openings: list[PartOpening] = [
        (f"mortise, ramp, {where}", (low - ALONG_MM / 2, under), (high + ALONG_MM / 2, over))
        for where, (low, high) in zip(("front", "rear"), _ramp_tenons(lay), strict=True)
    ]
    part, at = drawn_part("paring guide rib", PARING_GUIDE, corners, shop, openings)
    places = []
    for name, x in (("left rib", -lay.ramp_width / 2 - lay.sheet), ("right rib", lay.ramp_width / 2)):
        # (v, n, X) is right-handed: the marked face looks to the right.
        places.append(Placement(name, "both", Frame((x, 0.0, 0.0), v, n, (1.0, 0.0, 0.0)) @ Frame((*at, 0.0))))
    front = lay.ramp_front - 6 + AWAY_MM
    box = Box(front, over + lay.bites.aside + 1.0, lay.ramp_rear, GUARD_MM - lay.depth_square + 2.0)
    marks = named_inside(part, "paring-guide-rib", box.moved(-at[0], -at[1]), shop)
    return replace(part, needed=2, placements=tuple(places), marks=marks)


def paring_fence(lay: SawLayout, shop: Shop) -> Part:
    """On the board's top face; the chisel goes through its window. Plane: X, Y."""
    out, low, high = lay.ramp_width / 2 + lay.sheet + FENCE_OUT_MM, -lay.paring_depth, -BELOW_EDGE_MM
    window = lay.ramp_width / 2 - 1
    corners = [
        OutlineCorner((-out, low), "lower edge", "free"),
        OutlineCorner((out, low), "right end", "free"),
        OutlineCorner((out, high), "upper edge, right", "free"),
        OutlineCorner((window, high), "window, right side", "free"),
        OutlineCorner((window, lay.window_floor), "window, floor", "free"),
        OutlineCorner((-window, lay.window_floor), "window, left side", "free"),
        OutlineCorner((-window, high), "upper edge, left", "free"),
        OutlineCorner((-out, high), "left end", "free"),
    ]
    span = _fence_tenon(lay)
    openings: list[PartOpening] = []
    for name, x in (("left rib", -lay.ramp_width / 2 - lay.sheet), ("right rib", lay.ramp_width / 2)):
        openings.append((f"mortise, {name}", (x - lay.joint / 2, span[0]), (x + lay.sheet + lay.joint / 2, span[1])))
    part, at = drawn_part("paring guide fence", PARING_GUIDE, corners, shop, openings)
    inside = lay.ramp_width / 2 - lay.joint / 2 - max(1.0, lay.bites.aside) - AWAY_MM
    box = Box(-inside, low + AWAY_MM, inside, lay.window_floor - AWAY_MM).moved(-at[0], -at[1])
    # The face in large letters, for nothing else tells it; all other words below, which smaller ones leave room for.
    tried = []
    for largest in LOUD_MM:
        face = fill_box(words_of("paring-guide-fence", ["top"], shop), box, largest, is_loud=True)
        below = replace(box, y_high=min((mark.at[1] for mark in face), default=box.y_high) - AWAY_MM)
        tried.append((*face, *fill_box(words_of("paring-guide-fence", ["name", "clamps"], shop), below, 5.0)))
    marks = max(tried, key=lambda made: len({mark.fact for mark in made}))
    place = Placement("paring guide fence", "both", Frame((*at, 0.0)))
    return replace(part, placements=(place,), marks=marks)
