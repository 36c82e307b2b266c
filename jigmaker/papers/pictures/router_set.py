"""The router on plate and scrap, and the gauge that sets it: Kit in, Picture out; two sections, paper mm.

Left a section square to the housing's walls where it meets the top arris: t across the housing from its middle, m out
of the wood as in the jig's layout. There sheet, standoff and depth add up to the projection. Right the router upside
down.
"""

from math import cos, radians

from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.papers.pictures.canvas import OUTLINE, THIN, Canvas, Spot
from jigmaker.papers.pictures.hatching import hatch
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.parts.housing_jig.layout import JigLayout
from jigmaker.parts.kit import Kit
from jigmaker.parts.projection_gauge import projection_gauge
from jigmaker.trestle.angles import cotangent
from jigmaker.units import Unit, caliper_text

_LEFT_MM, _RIGHT_MM, _HIGH_MM, _GAP_MM, _COLUMN_MM = 50.0, 42.0, 27.0, 7.0, 33.0
_BESIDE_MM, _UNDER_MM, _BASE_MM = 26.0, 14.0, 9.0  # wood drawn beside and below the housing; the router's base
_HATCH_MM = 1.8
_STACK, _WHOLE = 0.34, 0.16  # where the dimensions stand, as shares of the housing's width from its left wall

Ring = list[Point]


def router_set_picture(kit: Kit) -> Picture:
    """What adds up to the projection, and the router upside down, the gauge on its base unless it is left out."""
    layout, canvas = kit.layout, Canvas()
    spot = _section(kit, layout, canvas)
    right = canvas.bounds[2] + _GAP_MM
    over = _gauge(kit, layout, canvas, right)
    unit = kit.trestle.job.unit
    name_beside(canvas, [*_names(kit, layout, spot, unit), *over], _COLUMN_MM)
    return canvas.picture("How the router is set")


def _section(kit: Kit, layout: JigLayout, canvas: Canvas) -> Spot:
    """Board, plate, base, guide and cutter as they are cut, the heights between them; where they lie on the paper."""
    wood, plates, router = _board(layout), _plates(layout), _router(kit, layout)
    low, high = min(p[1] for p in wood), max(p[1] for ring in router for p in ring)
    side = layout.housing_width / 2 + _BESIDE_MM
    size = min(_LEFT_MM / (2 * side), _HIGH_MM / (high - low))
    spot = Spot(size, size * side, -size * low)
    for ring, slant in ((wood, 45.0), *((plate, -45.0) for plate in plates)):
        _cut(canvas, [spot.point(p) for p in ring], slant)
    for ring in router:
        canvas.line([spot.point(p) for p in (*ring, ring[0])], OUTLINE)
    for a, b in (*_stack(layout).values(), _whole(layout)):
        canvas.span(spot.point(a), spot.point(b))
    return spot


def _cut(canvas: Canvas, ring: Ring, slant_deg: float) -> None:
    canvas.line([*ring, ring[0]], OUTLINE)
    for a, b in hatch(ring, _HATCH_MM, slant_deg):
        canvas.line([a, b], THIN)


def _board(layout: JigLayout) -> Ring:
    """The scrap with its housing; its edge falls away with v, which the section crosses at the face angle."""
    wall, side = layout.housing_width / 2, layout.housing_width / 2 + _BESIDE_MM
    fall = cos(radians(layout.face_deg)) * cotangent(layout.splay_deg)
    floor = -layout.depth_square
    edge = {t: -fall * t for t in (-side, -wall, wall, side)}
    under = min(floor, *edge.values()) - _UNDER_MM
    return [
        (-side, under),
        (side, under),
        (side, edge[side]),
        (wall, edge[wall]),
        (wall, floor),
        (-wall, floor),
        (-wall, edge[-wall]),
        (-side, edge[-side]),
    ]


def _plates(layout: JigLayout) -> list[Ring]:
    """The plate on both sides of its slot."""
    low, high = layout.standoff, layout.standoff + layout.sheet
    slot, side = layout.slot_width / 2, layout.housing_width / 2 + _BESIDE_MM
    return [[(a, low), (b, low), (b, high), (a, high)] for a, b in ((-side, -slot), (slot, side))]


def _router(kit: Kit, layout: JigLayout) -> list[Ring]:
    """Base, bush or bearing, cutter: the guide at the right wall, the tip on the floor."""
    router, top = kit.shop.hand_router, layout.standoff + layout.sheet
    axis, side = layout.housing_width / 2 - layout.cutter_radius, layout.housing_width / 2 + _BESIDE_MM
    left, right = max(-side, axis - layout.base_radius), min(side, axis + layout.base_radius)
    deep = min(router.bush_length_mm or layout.sheet - 1.0, layout.projection)
    rings = [
        [(left, top), (right, top), (right, top + _BASE_MM), (left, top + _BASE_MM)],
        _upright(axis, layout.bush_radius, top - deep, top),
    ]
    return [*rings, _upright(axis, layout.cutter_radius, -layout.depth_square, top - deep)]


def _upright(axis: float, half: float, low: float, high: float) -> Ring:
    return [(axis - half, low), (axis + half, low), (axis + half, high), (axis - half, high)]


def _stack(layout: JigLayout) -> dict[str, tuple[Point, Point]]:
    """Sheet, standoff and depth, one on another."""
    t = layout.housing_width * (_STACK - 0.5)
    heights = (layout.standoff + layout.sheet, layout.standoff, 0.0, -layout.depth_square)
    names = ("sheet", "standoff", "housing")
    return {name: ((t, heights[i]), (t, heights[i + 1])) for i, name in enumerate(names)}


def _whole(layout: JigLayout) -> tuple[Point, Point]:
    t = layout.housing_width * (_WHOLE - 0.5)
    return (t, layout.standoff + layout.sheet), (t, -layout.depth_square)


def _names(kit: Kit, layout: JigLayout, spot: Spot, unit: Unit) -> list[NameLabel]:
    """The figures of the section; all stand at its left."""
    figures = {"sheet": layout.sheet, "standoff": layout.standoff, "housing": layout.depth_square}
    names = [
        NameLabel(f"{name} {caliper_text(figures[name], unit)}", spot.point(_middle(*ends)), "left")
        for name, ends in _stack(layout).items()
    ]
    (t, high), (_, low) = _whole(layout)
    whole = (t, low + 0.3 * (high - low))
    side, corner = layout.housing_width / 2 + _BESIDE_MM, _router(kit, layout)[0][0]
    base = (corner[0] + 6.0, corner[1] + _BASE_MM / 2)
    return [
        *names,
        NameLabel(f"projection {caliper_text(layout.projection, unit)}", spot.point(whole), "left"),
        NameLabel("router's base", spot.point(base), "left"),
        NameLabel("scrap of the board", spot.point((-side + 8.0, -layout.depth_square - 0.5 * _UNDER_MM)), "left"),
    ]


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _gauge(kit: Kit, layout: JigLayout, canvas: Canvas, left: float) -> list[NameLabel]:
    """The router upside down, on its base the kit's own gauge where it is made; and their names."""
    part = projection_gauge(kit.trestle, kit.shop)
    _, _, long, high = part.outline.bounds
    base = max(layout.base_radius, long / 2)
    size = min(_RIGHT_MM / (2 * base), _HIGH_MM / (high + _BASE_MM))
    spot = Spot(size, left + size * base, size * _BASE_MM)
    router, unit = kit.shop.hand_router, kit.trestle.job.unit
    deep = min(router.bush_length_mm or layout.sheet - 1.0, layout.projection)
    is_made = part.slug not in kit.shop.kit.leave_out
    if is_made:
        _cut(canvas, [spot.point((x - long / 2, y)) for x, y in part.outline.points(6)], 45.0)
    cutter = _upright(0.0, layout.cutter_radius, deep, layout.projection)
    guide = _upright(0.0, layout.bush_radius, 0.0, deep)
    for ring in (_upright(0.0, layout.base_radius, -_BASE_MM, 0.0), guide, cutter):
        canvas.line([spot.point(p) for p in (*ring, ring[0])], OUTLINE)
    word = "bearing" if router.is_bearing_guided else "bush"
    gauge = {"gauge, feet on the base": (0.45 * long, high - 8.0), "tip just touches": (0.0, layout.projection)}
    at = {
        **(gauge if is_made else {"tip": (0.0, layout.projection)}),
        f"cutter {caliper_text(router.cutter_mm, unit)}": (0.0, 0.5 * (deep + layout.projection)),
        f"{word} {caliper_text(router.bush_mm, unit)}": (0.0, 0.5 * deep),
        "base, router upside down": (0.8 * layout.base_radius, -_BASE_MM / 2),
    }
    return [NameLabel(words, spot.point(p), "right") for words, p in at.items()]
