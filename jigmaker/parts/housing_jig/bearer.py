"""The ribs that carry the plate on the board's edge: layout in; bearer, end bearer and stop out. Part frames; mm.

All are drawn in the bearer plane (q rearward, y up out of the worked edge) and then moved so that their box starts at
(0, 0). They are seen from the board's right end, and are placed upright: x along -Z, y along Y, thickness along +X.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import cos, dist, radians, sin, sqrt

from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.outline import Outline
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline, round_hole, shifted
from jigmaker.parts.housing_jig.layout import (
    ALONG_MM,
    ARM_IN_MM,
    BEARER_DEPTH_MM,
    BOLT_HOLE_MM,
    BOLT_UP_MM,
    LUG_MM,
    PLATE_WEB_MM,
    STRIP_PLAY_MM,
    TENON_SHORT_MM,
    JigLayout,
)
from jigmaker.parts.housing_jig.rib_marks import bearer_marks, end_bearer_marks, stop_marks
from jigmaker.parts.part import Feature, Held, Hole, Part, Placement, State, WoodKind
from jigmaker.parts.relief import hole_diameter, relief_radius

Span = tuple[float, float]

INSIDE_MM = 0.5  # an end bearer's front lug stands clear of the board's top face
NECK_MM = 8.0  # a bearer's arm and its tenons are wider than this, whatever is over its lugs
END_SEAT_MM = 5.0  # the least seat of an end bearer before its front tenon and behind its rear one
STOP_NOTCH_MM = 10.0  # window in the stop over the board's arris

# A plain bearer in the bearer plane. The end bearer has no tenons on its lugs, a foot clear of the board's faces, and a
# bolt's hole in each lug for the stop.
#
#                                                 rear plate tenon
#                                               ___----|___---|  seat of the plate: m = standoff
#        front plate tenon         ____-----|__|              |  rear end
#           ___-----|____-----                               /
#     __|--'                                                /
#    |      front arm    ___________________               /  rear arm
#     ''--_             |      foot        |              /
#          ''--_        |_               __|             /      y = 0: on the board's edge
#               ''--_   fence |        |  back          /
#                    |   _____|        |___ strip      /        tenons, inside the two strips
#                    |__|                  |__________|         y = -lug_depth
#                     q = -sheet            q = t + sheet + 2 STRIP_PLAY_MM


def plain_mortises(layout: JigLayout) -> tuple[Span, Span]:
    """v of both ends of the two mortises over a plain bearer. They lie beyond the slots' ends: the web stays whole."""
    return (
        (layout.plate_front + layout.lead, layout.slot_front - 10),
        (layout.slot_rear + 10, layout.plate_rear - 20),
    )


def end_mortises(layout: JigLayout) -> tuple[Span, Span]:
    """v of both ends of the two mortises over an end bearer: long enough for their bites, and so far apart that the
    bearer has a seat between them and the plate its web.
    """
    bites = layout.bites
    seat = bites.between(0.0) - ALONG_MM if bites.radius else 0.0
    apart = max(seat, PLATE_WEB_MM + 2 * bites.endwise)
    out = max(0.0, (apart - (layout.slot_rear - 22 - layout.slot_front - 14)) / 2)
    front, rear = layout.slot_front + 14 - out, layout.slot_rear - 22 + out
    return (front - max(36.0, bites.least_length), front), (rear, rear + max(28.0, bites.least_length))


def _top_edge(layout: JigLayout, front: float, rear: float, mortises: tuple[Span, Span]) -> list[OutlineCorner]:
    """From the rear end of the plate's underside to its front end, with both plate tenons. v from rear to front."""
    g, high = layout.standoff, layout.standoff + layout.sheet - TENON_SHORT_MM
    corners = [OutlineCorner(layout.bearer_point(rear, g), "seat of the plate, rear")]
    for where, (low_v, high_v) in (("rear", mortises[1]), ("front", mortises[0])):
        a, b = high_v - ALONG_MM / 2, low_v + ALONG_MM / 2
        tenon = f"plate tenon {where}"
        after = "seat of the plate, middle" if where == "rear" else "seat of the plate, front"
        corners += [
            OutlineCorner(layout.bearer_point(a, g), f"{tenon}, rear side", "tenon", True),
            OutlineCorner(layout.bearer_point(a, high), f"{tenon}, end", "tenon"),
            OutlineCorner(layout.bearer_point(b, high), f"{tenon}, front side", "tenon"),
            OutlineCorner(layout.bearer_point(b, g), after, "edge", True),
        ]
    return [*corners, OutlineCorner(layout.bearer_point(front, g), "front end", "free")]


def _lug_tenon(name: str, root: float, tip: float, layout: JigLayout, upward: bool) -> list[OutlineCorner]:
    """The tenon of a lug into a strip: between the lug's foot and the board's edge, from q = root to q = tip."""
    # Anticlockwise round the bearer the way leads up along the fence and down along the back strip.
    low, high = -layout.lug_depth + layout.under_tenon, -layout.over_tenon
    first, second = (low, high) if upward else (high, low)
    sides = ("lower side", "upper side") if upward else ("upper side", "lower side")
    shoulder = f"{name} shoulder, {'upper' if upward else 'lower'}"
    return [
        OutlineCorner((root, first), f"{name}, {sides[0]}", "tenon", True),
        OutlineCorner((tip, first), f"{name}, end", "tenon"),
        OutlineCorner((tip, second), f"{name}, {sides[1]}", "tenon"),
        OutlineCorner((root, second), shoulder, "edge", True),
    ]


def _foot(layout: JigLayout) -> Span:
    """q of both ends of a plain bearer's foot: at the fence's and behind the back strip's outer face."""
    return -layout.sheet, layout.top_thickness + layout.sheet + STRIP_PLAY_MM * 2


def _end_foot(layout: JigLayout) -> Span:
    """q of both ends of an end bearer's foot: clear of the board's faces."""
    return -INSIDE_MM, layout.top_thickness + STRIP_PLAY_MM * 2


def _bearer_corners(layout: JigLayout) -> list[OutlineCorner]:
    """The plain bearer's outline in the bearer plane, anticlockwise from its front end."""
    p, lug, behind = layout.sheet, layout.lug_depth, _foot(layout)[1]
    front, rear = layout.plate_front + ARM_IN_MM, layout.plate_rear - ARM_IN_MM
    below = layout.standoff - BEARER_DEPTH_MM
    # The back strip lies anywhere within its play, on a thinner board or a thicker one: the tenon goes through all of
    # that, and its tip stays TENON_SHORT_MM and half a millimetre off a board as thick as asked.
    back_tip = behind - (p + 2 * STRIP_PLAY_MM - TENON_SHORT_MM - 0.5)
    return [
        OutlineCorner(layout.bearer_point(front, below), "front arm", "free"),
        OutlineCorner((-p - LUG_MM, -lug), "front lug, foot", "free"),
        OutlineCorner((-p, -lug), "fence tenon shoulder, lower"),
        *_lug_tenon("fence tenon", -p, -TENON_SHORT_MM, layout, True),
        OutlineCorner((-p, 0.0), "foot on the board's edge", "edge", True),
        OutlineCorner((behind, 0.0), "back strip tenon shoulder, upper", "edge", True),
        *_lug_tenon("back strip tenon", behind, back_tip, layout, False),
        OutlineCorner((behind, -lug), "rear lug, foot", "free"),
        OutlineCorner((behind + LUG_MM, -lug), "rear arm", "free"),
        OutlineCorner(layout.bearer_point(rear, below), "rear end", "free"),
        *_top_edge(layout, front, rear, plain_mortises(layout)),
    ]


def _window(layout: JigLayout) -> float:
    """Width of the stop's window, with some of its sill left straight between the corners that a cutter rounds."""
    return max(STOP_NOTCH_MM, 2 * layout.bites.radius + 1.8)


def _under_plate(layout: JigLayout, q: float) -> float:
    """y of the line 0.5 mm under the plate's underside at q: q = v sin b - m cos b, y = v cos b + m sin b."""
    at_arris = layout.bearer_point(0.0, layout.standoff - 0.5)
    far = layout.bearer_point(100.0, layout.standoff - 0.5)
    return at_arris[1] + (q - at_arris[0]) * (far[1] - at_arris[1]) / (far[0] - at_arris[0])


def _tenon_widths(features: tuple[Feature, ...], layout: JigLayout, mortises: tuple[Span, Span]) -> list[Feature]:
    sizes = {"front": mortises[0], "rear": mortises[1]}
    return [
        across(
            features,
            f"plate tenon {where}, front side",
            f"plate tenon {where}, rear side",
            f"plate tenon {where}, length",
            "tenon",
            high - low - ALONG_MM,
        )
        for where, (low, high) in sizes.items()
    ]


def upright(x_left: float, origin: Point, state: State, name: str, held: Held = "middle") -> Placement:
    """Where an upright part stands in the jig frame: its left face at X = x_left."""
    frame = Frame((x_left, origin[1], -origin[0]), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0), (1.0, 0.0, 0.0))
    return Placement(name, state, frame, held)


def _bolt_holes(layout: JigLayout, shop: Shop, origin: Point) -> tuple[tuple[Hole, ...], tuple[Feature, ...]]:
    y = -layout.lug_depth + BOLT_UP_MM - origin[1]
    made = [
        round_hole(f"{where} bolt", (q - origin[0], y), hole_diameter(shop, BOLT_HOLE_MM))
        for where, q in (("front", layout.front_bolt), ("rear", layout.rear_bolt))
    ]
    return tuple(hole for hole, _ in made), tuple(feature for _, features in made for feature in features)


def rib(name: str, layout: JigLayout, outline: Outline, placements: Sequence[Placement]) -> Part:
    """An upright part without a hand, still bare: one piece for every place."""
    return Part(
        name=name,
        slug=name.replace(" ", "-"),
        assembly="housing jig",
        hand="",
        needed=len(placements),
        spares=0,
        thickness_mm=layout.sheet,
        outline=outline,
        placements=tuple(placements),
    )


def _moved(corners: list[OutlineCorner]) -> tuple[list[OutlineCorner], Point]:
    # (q, y) of the lower left corner of the corners' box.
    origin = min(c.at[0] for c in corners), min(c.at[1] for c in corners)
    return shifted(corners, (-origin[0], -origin[1])), origin


def bearer(layouts: tuple[JigLayout, ...], shop: Shop) -> Part:
    """The plain bearer; the same piece at every place, no hand."""
    layout = layouts[0]
    corners, origin = _moved(_bearer_corners(layout))
    outline, features = draw_outline(corners, relief_mm=relief_radius(shop))
    widths = _tenon_widths(features, layout, plain_mortises(layout)) + (
        [
            across(
                features,
                f"{name}, lower side",
                f"{name}, upper side",
                f"{name}, height",
                "tenon",
                layout.tenon_height,
            )
            for name in ("fence tenon", "back strip tenon")
        ]
    )
    placements = [
        upright(x, origin, state, f"bearer, {name}") for lay in layouts for name, x, state in bearer_places(lay)
    ]
    bare = rib("bearer", layout, outline, placements)
    return replace(
        bare,
        features=(*features, *widths),
        marks=bearer_marks(layout, shop, origin),
        least_wood_mm=_neck(layout, *_foot(layout), plain_mortises(layout)),
    )


def _neck(
    layout: JigLayout, front: float, rear: float, tenons: tuple[Span, Span]
) -> tuple[tuple[WoodKind, float], ...]:
    """A bearer's least neck: between what is bitten out over its lugs, at (front, 0) and (rear, 0), and its seats or
    the bites in them.

    A bite's centre lies r / sqrt(2) from its corner along either wall, on the side of the waste. A point of the bearer
    plane lies y sin b - q cos b over the plane through the arris, the seats lie a standoff over it.
    """
    r, at = layout.bites.radius, layout.bites.radius / sqrt(2)
    s, c = sin(radians(layout.splay_deg)), cos(radians(layout.splay_deg))
    low = [(front + at, -at), (rear - at, -at)]
    spans = [(low_v + ALONG_MM / 2, high_v - ALONG_MM / 2) for low_v, high_v in tenons]
    sides = [v for front_v, rear_v in spans for v in (front_v - at, rear_v + at)]
    high = [layout.bearer_point(v, layout.standoff + at) for v in sides]
    seats = min(layout.standoff - (y * s - q * c) for q, y in low)
    return (("neck", min(NECK_MM, seats - r, min(dist(one, two) for one in low for two in high) - 2 * r)),)


def bearer_places(layout: JigLayout) -> list[tuple[str, float, State]]:
    """Name, X of the left face and state of every plain bearer of one jig, in its own jig frame."""
    if layout.hands == "both":
        return [(name, x, "both") for name, x in layout.bearer_faces]
    if layout.hands == "R":
        return [(f"{name} R", x, "R") for name, x in layout.bearer_faces]
    return [(f"{name} L", -x - layout.sheet, "L") for name, x in layout.bearer_faces]


def end_bearer_places(layout: JigLayout) -> list[tuple[str, float, State]]:
    """Name, X of the left face and state of every end bearer: its outer face is the stop plane."""
    if layout.hands == "both":
        return [("right", layout.half - layout.sheet, "both"), ("left", -layout.half, "both")]
    return [("right", -layout.sheet, "R")] if layout.hands == "R" else [("left", 0.0, "L")]


def end_bearer(layouts: tuple[JigLayout, ...], shop: Shop) -> Part:
    """The end bearer: outer face on the stop plane, two bolt holes for the stop; no hand."""
    layout = layouts[0]
    # The end bearer's outline in the bearer plane, anticlockwise from its front end.
    lug, (inside, behind), tenons = layout.lug_depth, _end_foot(layout), end_mortises(layout)
    # Well inside the plate, but under a small base's plate still so far out that both tenons have a seat beside them.
    seat = layout.bites.seat(END_SEAT_MM)
    front = min(layout.plate_front + 34, tenons[0][0] - seat)
    rear = max(layout.plate_rear - 34, tenons[1][1] + seat)
    below = layout.standoff - BEARER_DEPTH_MM
    corners, origin = _moved(
        [
            OutlineCorner(layout.bearer_point(front, below), "front arm", "free"),
            OutlineCorner((layout.front_bolt - 12, -lug), "front lug, foot", "free"),
            OutlineCorner((inside, -lug), "front lug, inner side"),
            OutlineCorner((inside, 0.0), "foot on the board's edge", "edge", True),
            OutlineCorner((behind, 0.0), "rear lug, inner side", "edge", True),
            OutlineCorner((behind, -lug), "rear lug, foot", "free"),
            OutlineCorner((layout.rear_bolt + 12, -lug), "rear arm", "free"),
            OutlineCorner(layout.bearer_point(rear, below), "rear end", "free"),
            *_top_edge(layout, front, rear, tenons),
        ]
    )
    outline, features = draw_outline(corners, relief_mm=relief_radius(shop))
    holes, hole_features = _bolt_holes(layout, shop, origin)
    placements = []
    for lay in layouts:
        for name, x, state in end_bearer_places(lay):
            # The face that lies in the stop plane.
            held: Held = "over" if abs(x + lay.sheet - lay.half) < abs(x + lay.half) else "under"
            placements.append(upright(x, origin, state, f"end bearer, {name}", held))
    return replace(
        rib("end bearer", layout, outline, placements),
        holes=holes,
        features=(*features, *hole_features, *_tenon_widths(features, layout, end_mortises(layout))),
        marks=end_bearer_marks(layout, shop, origin),
        least_wood_mm=_neck(layout, *_end_foot(layout), end_mortises(layout)),
    )


def stop(layouts: tuple[JigLayout, ...], shop: Shop) -> Part:
    """The stop: bolted face to face on an end bearer's outer face; moved, not turned over, from R to L; no hand."""
    layout = layouts[0]
    # The stop's outline: flat below, its top 0.5 mm short of the plate's underside, a window over the arris.
    low, high = layout.front_bolt - 12, layout.rear_bolt + 12
    half = _window(layout) / 2
    corners, origin = _moved(
        [
            OutlineCorner((low, -layout.lug_depth), "foot", "free"),
            OutlineCorner((high, -layout.lug_depth), "rear side", "free"),
            OutlineCorner((high, _under_plate(layout, high)), "top, rear", "free"),
            OutlineCorner((half, _under_plate(layout, half)), "window, rear side"),
            OutlineCorner((half, -5.0), "window, sill"),
            OutlineCorner((-half, -5.0), "window, front side"),
            OutlineCorner((-half, _under_plate(layout, -half)), "top, front", "free"),
            OutlineCorner((low, _under_plate(layout, low)), "front side", "free"),
        ]
    )
    outline, features = draw_outline(corners)
    holes, hole_features = _bolt_holes(layout, shop, origin)
    window = across(features, "window, front side", "window, rear side", "window, width", "recess", _window(layout))
    right = upright(layout.half, origin, "R", "stop, right: R", "under")
    left = upright(-layout.half - layout.sheet, origin, "L", "stop, left: L", "over")
    return replace(
        rib("stop", layout, outline, (right, left)),
        needed=len(layouts),
        holes=holes,
        features=(*features, *hole_features, window),
        marks=stop_marks(layout, shop, origin),
    )
