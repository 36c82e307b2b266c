"""The housing saw guide, R and L: SawLayout and Shop in, Parts out. Part frames; mm.

Eight pieces a guide. Outlines are shared: what is lettered for one hand (fence, plates) is a part for each hand, the L
one's outline the R one's mirror image, so that both are read from the marked face; what is not is one part, turned over
for L. The saw lies flat on one cheek, then on the other, always over the good wood: a saw that wanders leaves wood.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.shape_number import WIDEST
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import (
    LEAST_WEB_MM,
    SCREW_HOLE_MM,
    OutlineCorner,
    PartOpening,
    PartScrew,
    across,
    drawn_part,
)
from jigmaker.parts.housing_saw.layout import (
    ALONG_MM,
    BELOW_EDGE_MM,
    SCREW_UP_MM,
    SMALL_BITE_MM,
    TENON_SHORT_MM,
    GuideSpan,
    SawLayout,
    turned_over,
)
from jigmaker.parts.mark_list import short_name, words_of
from jigmaker.parts.marks import text_mark
from jigmaker.parts.part import Feature, FeatureKind, Mark, Part, PartHand, Placement, Said, Setting, State
from jigmaker.parts.relief import hole_diameter
from jigmaker.parts.text_box import CLEAR_MM, Box, fill_box, fill_inside
from jigmaker.units import caliper_text, length_text

SAW_GUIDE = "housing saw guide"
AWAY_MM = 3.0  # marks keep this far from every cut
LOUD_MM = (12.0, 10.0, 8.0)  # letters that are read across the shop, the largest that leave room for all others
LUG_MM = 20.0  # width of a bearer's lug before the fence
ARM_IN_MM = 4.0  # from a plate's front and rear edges to the ends of a bearer
LETTER_MM = 25.0  # the hand's letter on the near plate, at most

InPart = Callable[[Box], Box]
"""From the plane that a part is drawn in to its part frame."""


def saw_guide_parts(lay: SawLayout, job: Job, shop: Shop) -> tuple[Part, ...]:
    """Fence and both plates for each hand; cheeks, bearers and stops for both guides; two spacers."""
    hands: tuple[PartHand, ...] = ("R", "L")
    plates = [make(lay, hand, shop) for make in (near_plate, far_plate) for hand in hands]
    fences = [fence(lay, hand, job, shop) for hand in hands]
    plain = [cheek(lay, "near", shop), cheek(lay, "far", shop), bearer(lay, shop), stop(lay, shop)]
    return (*plates, *plain, *fences, spacer(lay, job, shop))


def back_to_front(corners: Sequence[OutlineCorner], piece: str, kind: FeatureKind) -> list[OutlineCorner]:
    """The same way run backwards; every piece keeps its name. piece, kind: of what leaves the last corner."""
    back = list(reversed(corners))
    # The piece that led to a corner now leaves it.
    named = [replace(at, piece=to.piece, kind=to.kind) for at, to in pairwise(back)]
    return [*named, replace(back[-1], piece=piece, kind=kind)]


def _handed(
    lay: SawLayout,
    name: str,
    hand: PartHand,
    plane: Frame,
    corners: Sequence[OutlineCorner],
    openings: Sequence[PartOpening],
    shop: Shop,
    screws: Sequence[PartScrew] = (),
) -> tuple[Part, InPart]:
    """A part drawn for R, or its mirror image in X = 0 for L: marked face up in both. plane: jig_from_plane."""
    if hand == "L":
        mirrored = [replace(c, at=(-c.at[0], c.at[1])) for c in corners]
        corners = back_to_front(mirrored, corners[-1].piece, corners[-1].kind)
        openings = [(label, (-b[0], a[1]), (-a[0], b[1])) for label, a, b in openings]
        screws = [(label, (-x, y)) for label, (x, y) in screws]
    part, low = drawn_part(f"{name} {hand}", SAW_GUIDE, corners, shop, openings, screws)
    state: State = "L" if hand == "L" else "R"
    place = Placement(part.name, state, plane @ Frame((*low, 0.0)))

    def in_part(box: Box) -> Box:
        return (box if hand == "R" else box.mirrored()).moved(-low[0], -low[1])

    return replace(part, hand=hand, placements=(place,)), in_part


def _for_both(part: Part, *right: tuple[str, Frame]) -> Part:
    """The part at its places in the R guide, and turned over in the L guide. right: each place's name and frame."""
    places = [Placement(f"{name} R", "R", frame) for name, frame in right]
    left = [Placement(f"{name} L", "L", turned_over(frame, part.thickness_mm), "over") for name, frame in right]
    return replace(part, needed=2 * len(right), placements=(*places, *left))


def _under(lay: SawLayout, name: str, x: float, span: GuideSpan) -> PartOpening:
    """The mortise for a bearer whose left face stands at x."""
    return (f"mortise, {name}", (x - lay.joint / 2, span[0]), (x + lay.sheet + lay.joint / 2, span[1]))


def fence(lay: SawLayout, hand: PartHand, job: Job, shop: Shop) -> Part:
    """On the board's top face; sawn into down to the housing's floor, and still one piece. Plane: X, Y."""
    low, high = -lay.fence_depth, -BELOW_EDGE_MM
    corners = [
        OutlineCorner((lay.left_end, low), "lower edge", "free"),
        OutlineCorner((-0.5, low), "stop's end", "free"),
        OutlineCorner((-0.5, high), "upper edge", "free"),
        OutlineCorner((lay.left_end, high), "far end", "free"),
    ]
    span = (-lay.lug_depth + lay.under_tenon - ALONG_MM / 2, -lay.over_tenon + ALONG_MM / 2)
    bearers = (("near bearer", lay.near_bearer), ("far bearer", lay.far_bearer))
    openings = [_under(lay, name, x, span) for name, x in bearers]
    screws = [(f"screw, {name}", (x + lay.sheet / 2, SCREW_UP_MM - lay.lug_depth)) for name, x in bearers]
    part, in_part = _handed(lay, "saw guide fence", hand, Frame(), corners, openings, shop, screws)
    box = Box(lay.left_end + 2 * AWAY_MM, low + AWAY_MM, -0.5 - 2 * AWAY_MM, -lay.lug_depth - AWAY_MM)
    diameter = hole_diameter(shop, SCREW_HOLE_MM)
    screw = Setting("screw hole", diameter, "mm", "for a 3.5 mm screw into each bearer's lug, pilot 2.5 mm", "fence")
    saw, unit = lay.saw, job.unit
    figures = {
        "hand": hand,
        "kit": WIDEST,
        "depth": length_text(saw.depth_mm, unit),
        "plate": caliper_text(saw.plate_mm, unit),
        "kerf": caliper_text(saw.kerf_mm, unit),
        "leg": f"{length_text(job.leg.width_mm, unit)} × {length_text(job.leg.thickness_mm, unit)}",
    }
    # The face in letters that are seen from across the shop, for nothing else tells it; all other words beside it,
    # which smaller ones leave more room for.
    half, tried = (box.x_low + box.x_high) / 2, []
    words = words_of("saw-guide-fence", ["name", "kit", "saw", "leg", "clamps"], shop, **figures)
    for largest in LOUD_MM:
        loud = words_of("saw-guide-fence", ["top"], shop)
        face = fill_box(loud, in_part(replace(box, x_high=half)), largest, is_loud=True)
        width = max((text_width(mark.text, mark.height_mm) for mark in face), default=0.0)
        # Once more in a box no wider than they are, whose mirror image lies at the far end of the L guide's fence.
        face = fill_box(loud, in_part(replace(box, x_high=box.x_low + width + TOUCH_MM)), largest, is_loud=True)
        wide = width + 2 * AWAY_MM
        tried.append((*face, *fill_box(words, in_part(replace(box, x_low=box.x_low + wide)), 5.0)))
    marks = max(tried, key=lambda made: len({mark.fact for mark in made}))
    return replace(part, marks=marks, settings=(screw,))


def _against_cheek(lay: SawLayout, face_x: float, out: int) -> list[OutlineCorner]:
    """A plate's edge along a cheek's outer face, with both tenons, from the rear; out: +1 near, -1 far. Plane: X, v."""
    outer, tip = out * lay.sheet, out * TENON_SHORT_MM
    at_front, at_rear = ((v + outer * lay.lie) / lay.rise for v in lay.plate_span)
    front, rear = lay.cheek_tenons

    def at(s: float, e: float, piece: str, kind: FeatureKind = "edge", relieved: bool = False) -> OutlineCorner:
        return OutlineCorner(lay.cheek_point(face_x, s, e), piece, kind, relieved)

    run = [at(at_rear, outer, "seat of the cheek, rear")]
    for where, (low, high), after in (("rear", rear, "middle"), ("front", front, "front")):
        run += [
            at(high - ALONG_MM / 2, outer, f"tenon {where}, rear side", "tenon", True),
            at(high - ALONG_MM / 2, tip, f"tenon {where}, end", "tenon"),
            at(low + ALONG_MM / 2, tip, f"tenon {where}, front side", "tenon"),
            at(low + ALONG_MM / 2, outer, f"seat of the cheek, {after}", "edge", True),
        ]
    return [*run, at(at_front, outer, "front edge", "free")]


def _tenon_lengths(lay: SawLayout, features: tuple[Feature, ...], spans: tuple[GuideSpan, GuideSpan]) -> list[Feature]:
    """The length of both tenons, front and rear, by the mortises that they go into."""
    return [
        across(
            features,
            f"tenon {where}, front side",
            f"tenon {where}, rear side",
            f"tenon {where}, length",
            "tenon",
            high - low - ALONG_MM,
        )
        for where, (low, high) in zip(("front", "rear"), spans, strict=True)
    ]


def _plate_plane(lay: SawLayout) -> Frame:
    """jig_from_plane of the plates: (X, v), their underside at m = g."""
    v, n, _ = lay.axes
    return Frame((0.0, n[1] * lay.plate_under, n[2] * lay.plate_under), (1.0, 0.0, 0.0), v, n)


def near_plate(lay: SawLayout, hand: PartHand, shop: Shop) -> Part:
    """Between the near wall and the board's end. The stop is pressed against the inner wall of its mortises: stop plane
    and near wall are in one part, so their distance has one machine error.
    """
    v0, v1 = lay.plate_span
    corners = [
        *_against_cheek(lay, lay.near_face, 1),
        OutlineCorner((lay.right_end, v0), "stop's end", "free"),
        OutlineCorner((lay.right_end, v1), "rear edge", "free"),
    ]
    openings: list[PartOpening] = []
    for where, span in zip(("front", "rear"), lay.plate_mortises, strict=True):
        openings.append(_under(lay, f"near bearer, {where}", lay.near_bearer, span))
        openings.append((f"mortise, end stop, {where}", (0.0, span[0]), (lay.sheet + lay.joint, span[1])))
    part, in_part = _handed(lay, "saw guide near plate", hand, _plate_plane(lay), corners, openings, shop)
    lengths = _tenon_lengths(lay, part.features, lay.cheek_tenons)
    return replace(part, features=(*part.features, *lengths), marks=_near_marks(lay, hand, in_part, shop))


def _near_marks(lay: SawLayout, hand: PartHand, in_part: InPart, shop: Shop) -> tuple[Mark, ...]:
    """The hand as large as it goes, beside it what the plate is; between the stop's mortises which end goes out."""
    (v0, v1), (front, rear) = lay.plate_span, lay.plate_mortises
    cheek = lay.cheek_point(lay.near_face, v1 / lay.rise, lay.sheet)[0] + AWAY_MM
    clear = lay.near_bearer - lay.joint - lay.bites.aside - AWAY_MM
    beside = in_part(Box(cheek, v0 + AWAY_MM, clear, v1 - AWAY_MM))
    air = AWAY_MM + lay.bites.endwise
    between = in_part(Box(lay.near_bearer, front[1] + air, lay.right_end - AWAY_MM, rear[0] - air))
    words = words_of("saw-guide-near-plate", ["end", "name"], shop)
    if beside.width < 16:
        height = min(LETTER_MM, between.height)
        letter = text_mark(Said(hand, "hand"), (between.x_low, between.y_low), height)
        rest = replace(between, x_low=between.x_low + height)
        return (letter, *fill_box(words, rest, 5.0))
    height = min(LETTER_MM, beside.width)
    letter = text_mark(Said(hand, "hand"), (beside.x_low, beside.y_high - height), height)
    below = replace(beside, y_high=beside.y_high - height - AWAY_MM)
    # Which end goes out must be said, there where it is: on a thin board letters come nearer to the mortises.
    closer = Box(between.x_low, between.y_low - AWAY_MM + CLEAR_MM, between.x_high, between.y_high + AWAY_MM - CLEAR_MM)
    end = fill_box(words[:1], between, 5.0) or fill_box(words[:1], closer, 5.0)
    return (letter, *fill_box(words[1:], below, 5.0), *end)


def far_plate(lay: SawLayout, hand: PartHand, shop: Shop) -> Part:
    """Beyond the far wall, toward the board's middle."""
    v0, v1 = lay.plate_span
    far_end = OutlineCorner((lay.left_end, v1), "far end", "free")
    cheek_side = back_to_front(_against_cheek(lay, lay.far_face, -1), "rear edge", "free")
    corners = [far_end, OutlineCorner((lay.left_end, v0), "front edge", "free"), *cheek_side]
    spans = zip(("front", "rear"), lay.plate_mortises, strict=True)
    openings = [_under(lay, f"far bearer, {where}", lay.far_bearer, span) for where, span in spans]
    part, in_part = _handed(lay, "saw guide far plate", hand, _plate_plane(lay), corners, openings, shop)
    (front, rear) = lay.plate_mortises
    clear = lay.far_bearer + lay.sheet + lay.joint + lay.bites.aside + AWAY_MM
    cheek = lay.cheek_point(lay.far_face, v0 / lay.rise, -lay.sheet)[0] - AWAY_MM
    # Beside the mortises, else between them, where little room may be left: letters must not run into a cut.
    airs = [air + lay.bites.endwise for air in (AWAY_MM, 0.5, 0.1)]
    between = [Box(lay.left_end + AWAY_MM, front[1] + air, cheek, rear[0] - air) for air in airs]
    boxes = (Box(clear, v0 + AWAY_MM, cheek, v1 - AWAY_MM), *between)
    words = words_of("saw-guide-far-plate", ["name"], shop, hand=hand)
    marks = next((made for box in boxes if (made := fill_box(words, in_part(box), 5.0))), ())
    lengths = _tenon_lengths(lay, part.features, lay.cheek_tenons)
    return replace(part, features=(*part.features, *lengths), marks=marks)


def cheek(lay: SawLayout, which: str, shop: Shop) -> Part:
    """One wall's guide: it stands on the board's edge by the arris of its lower edge that touches first. Plane: s, m.

    On the edge m = -v cot b; a point of the cheek lies at v = s sin phi - e cos phi. The near cheek touches by its
    outer arris, at e = p, the far one by its inner one, at e = 0: so their lower edges differ by p cos phi cot b.
    """
    rise = lay.sheet * lay.lie * lay.cot_splay if which == "near" else 0.0
    low, high = (v / lay.rise for v in lay.cheek_span)

    def edge(s: float) -> Point:
        return (s, rise - s * lay.rise * lay.cot_splay)

    corners = [
        OutlineCorner(edge(low), "foot on the board's edge"),
        OutlineCorner(edge(high), "rear end", "free"),
        OutlineCorner((high, lay.cheek_top), "top: the saw's back lands here"),
        OutlineCorner((low, lay.cheek_top), "front end", "free"),
    ]
    under, over = lay.plate_under - lay.joint / 2, lay.plate_under + lay.sheet + lay.joint / 2
    spans = zip(("front", "rear"), lay.cheek_tenons, strict=True)
    openings: list[PartOpening] = [(f"mortise, plate, {where}", (a, under), (b, over)) for where, (a, b) in spans]
    part, at = drawn_part(f"saw guide {which} cheek", SAW_GUIDE, corners, shop, openings)
    _, n, along = lay.axes
    # e = along x n: out of the near cheek's outer face, into the far one's waste.
    out = (lay.rise, -lay.lie * lay.axes[0][1], -lay.lie * lay.axes[0][2])
    face_x, shift = (lay.near_face, 0.0) if which == "near" else (lay.far_face, -lay.sheet)
    plane = Frame((face_x + shift * out[0], shift * out[1], shift * out[2]), along, n, out)
    box = Box(low + AWAY_MM, over + lay.bites.aside + AWAY_MM, high - AWAY_MM, lay.cheek_top - AWAY_MM)
    marks = fill_box(words_of(f"saw-guide-{which}-cheek", ["name"], shop), box.moved(-at[0], -at[1]), 8.0)
    return replace(_for_both(part, (f"{which} cheek", plane @ Frame((*at, 0.0)))), marks=marks)


def _seat(lay: SawLayout, front: float) -> list[OutlineCorner]:
    """From the rear end of a plate's underside to v = front, with both tenons into the plate. Bearer plane."""
    g = lay.plate_under
    high = g + lay.sheet - TENON_SHORT_MM
    ends = (lay.plate_span[1] - ARM_IN_MM, "rear end, upper"), (front, "front end, lower")
    # Where a bite leaves little of a seat's end, the arm goes straight down there: no edge that slants comes near it.
    down = g - lay.bites.behind - LEAST_WEB_MM if lay.bites.radius > SMALL_BITE_MM else g
    rear, foot = ([OutlineCorner(lay.bearer_point(v, down), piece, "free")] if down < g else [] for v, piece in ends)
    run = [*rear, OutlineCorner(lay.bearer_point(ends[0][0], g), "seat of the plate, rear")]
    spans = dict(zip(("front", "rear"), lay.plate_mortises, strict=True))
    for where, after in (("rear", "middle"), ("front", "front")):
        a, b = spans[where][1] - ALONG_MM / 2, spans[where][0] + ALONG_MM / 2
        run += [
            OutlineCorner(lay.bearer_point(a, g), f"tenon {where}, rear side", "tenon", True),
            OutlineCorner(lay.bearer_point(a, high), f"tenon {where}, end", "tenon"),
            OutlineCorner(lay.bearer_point(b, high), f"tenon {where}, front side", "tenon"),
            OutlineCorner(lay.bearer_point(b, g), f"seat of the plate, {after}", "edge", True),
        ]
    return [*run, OutlineCorner(lay.bearer_point(front, g), "front end", "free"), *foot]


def upright(x_left: float) -> Frame:
    """jig_from_plane of the bearer plane: (q, y), thickness along +X from x_left."""
    return Frame((x_left, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0))


def bearer(lay: SawLayout, shop: Shop) -> Part:
    """Carries a plate on the board's edge and hangs on the fence; no lug behind: no strip is wanted there."""
    p, lug = lay.sheet, lay.lug_depth
    low, high = -lug + lay.under_tenon, -lay.over_tenon
    corners = [
        *_seat(lay, lay.plate_span[0] + ARM_IN_MM),
        OutlineCorner((-p - LUG_MM, -lug), "front lug, foot", "free"),
        OutlineCorner((-p, -lug), "fence tenon shoulder, lower"),
        OutlineCorner((-p, low), "fence tenon, lower side", "tenon", True),
        OutlineCorner((-TENON_SHORT_MM, low), "fence tenon, end", "tenon"),
        OutlineCorner((-TENON_SHORT_MM, high), "fence tenon, upper side", "tenon"),
        OutlineCorner((-p, high), "fence tenon shoulder, upper", "edge", True),
        OutlineCorner((-p, 0.0), "foot on the board's edge", "edge", True),
        OutlineCorner((lay.top_thickness, 0.0), "rear end", "free"),
    ]
    part, at = drawn_part("saw guide bearer", SAW_GUIDE, corners, shop)
    lengths = _tenon_lengths(lay, part.features, lay.plate_mortises)
    height = across(
        part.features, "fence tenon, lower side", "fence tenon, upper side", "fence tenon, height", "tenon", high - low
    )
    box = Box(-p - LUG_MM + AWAY_MM, -lug + AWAY_MM, -p - AWAY_MM - lay.bites.behind, -AWAY_MM)
    inside = box.moved(-at[0], -at[1])
    places = [("near bearer", lay.near_bearer), ("far bearer", lay.far_bearer)]
    made = _for_both(part, *((name, upright(x) @ Frame((*at, 0.0))) for name, x in places))
    return replace(
        made, features=(*part.features, *lengths, height), marks=named_inside(part, "saw-guide-bearer", inside, shop)
    )


def stop(lay: SawLayout, shop: Shop) -> Part:
    """Under the near plate, at the board's end; glued pressed toward the board."""
    p = lay.sheet
    corners = [
        *_seat(lay, lay.plate_span[0] + 6.0),
        OutlineCorner((-p, -25.0), "foot", "free"),
        OutlineCorner((lay.top_thickness - 4, -25.0), "rear end", "free"),
    ]
    part, at = drawn_part("saw guide stop", SAW_GUIDE, corners, shop)
    made = _for_both(part, ("stop", upright(0.0) @ Frame((*at, 0.0))))
    inside = Box(-p + AWAY_MM, -25.0 + AWAY_MM, lay.top_thickness - 4 - AWAY_MM, -AWAY_MM).moved(-at[0], -at[1])
    lengths = _tenon_lengths(lay, part.features, lay.plate_mortises)
    return replace(made, features=(*part.features, *lengths), marks=named_inside(part, "saw-guide-stop", inside, shop))


def named_inside(part: Part, family: str, box: Box, shop: Shop) -> tuple[Mark, ...]:
    """The part's name clear of slanted edges, or its two letters where that does not fit. box: part frame."""
    return fill_inside(part, (words_of(family, ["name"], shop), [Said(short_name(family), "name")]), box, 5.0)


def spacer(lay: SawLayout, job: Job, shop: Shop) -> Part:
    """Between the cheeks while the glue sets: it makes their distance, which runs through seven parts; later the gauge
    of their wear. As high as stands between the cheeks at their front end.
    """
    low = lay.cheek_span[0]
    height = float(int(lay.cheek_top + low * lay.cot_splay - lay.sheet * lay.lie * lay.cot_splay - AWAY_MM))
    width = lay.spacer_width
    corners = [
        OutlineCorner((0.0, 0.0), "lower edge", "free"),
        OutlineCorner((width, 0.0), "far side"),
        OutlineCorner((width, height), "upper edge", "free"),
        OutlineCorner((0.0, height), "near side"),
    ]
    part, _ = drawn_part("saw guide spacer", SAW_GUIDE, corners, shop)
    wide = across(part.features, "near side", "far side", "width", "edge", width)
    words = words_of("saw-guide-spacer", ["name"], shop, width=caliper_text(width, job.unit))
    setting = Setting("spacer", width, "mm", "housing's width less the set of the saw's teeth", "between the cheeks")
    return replace(
        part,
        needed=2,
        features=(*part.features, wide),
        settings=(setting,),
        marks=fill_box(words, Box(AWAY_MM, AWAY_MM, width - AWAY_MM, height - AWAY_MM), 6.0),
    )
