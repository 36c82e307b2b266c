"""The router on plate and scrap, and the gauge that sets it, in two sections. Paper mm.

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
from jigmaker.units import caliper_text

_LEFT_MM, _RIGHT_MM, _HIGH_MM, _GAP_MM, _COLUMN_MM = 50.0, 42.0, 27.0, 7.0, 33.0
_BESIDE_MM, _UNDER_MM, _BASE_MM = 26.0, 14.0, 9.0  # wood drawn beside and below the housing; the router's base
_HATCH_MM = 1.8
_STACK, _WHOLE = 0.34, 0.16  # where the dimensions stand, as shares of the housing's width from its left wall


def router_set_picture(kit: Kit) -> Picture:
    """What adds up to the projection, and the router upside down, the gauge on its base unless it is left out."""
    layout, canvas = kit.layout, Canvas()
    names = _section(kit, layout, canvas)
    names += _gauge(kit, layout, canvas, canvas.bounds[2] + _GAP_MM)
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("How the router is set")


def _section(kit: Kit, layout: JigLayout, canvas: Canvas) -> list[NameLabel]:
    """Board, plate, base, guide and cutter as they are cut, the heights between them; their names at the left."""
    wood, unit = _board(layout), kit.trestle.job.unit
    top, slot, wall = layout.standoff + layout.sheet, layout.slot_width / 2, layout.housing_width / 2
    side = wall + _BESIDE_MM
    # Base, bush or bearing, cutter: the guide at the right wall, the tip on the floor.
    axis, deep = wall - layout.cutter_radius, _guide_mm(kit, layout)
    left, right = max(-side, axis - layout.base_radius), min(side, axis + layout.base_radius)
    router = [
        [(left, top), (right, top), (right, top + _BASE_MM), (left, top + _BASE_MM)],
        _upright(axis, layout.bush_radius, top - deep, top),
        _upright(axis, layout.cutter_radius, -layout.depth_square, top - deep),
    ]
    low, high = min(p[1] for p in wood), max(p[1] for ring in router for p in ring)
    size = min(_LEFT_MM / (2 * side), _HIGH_MM / (high - low))
    spot = Spot(size, size * side, -size * low)
    _cut(canvas, [spot.point(p) for p in wood], 45.0)
    for left, right in ((-side, -slot), (slot, side)):
        plate = [(left, layout.standoff), (right, layout.standoff), (right, top), (left, top)]
        _cut(canvas, [spot.point(p) for p in plate], -45.0)
    for ring in router:
        canvas.line([spot.point(p) for p in (*ring, ring[0])], OUTLINE)
    # One on another: sheet, standoff and depth; beside them what they add up to.
    standoff, floor = layout.standoff, -layout.depth_square
    heights = (("sheet", top, standoff), ("standoff", standoff, 0.0), ("housing", 0.0, floor))
    t, names = layout.housing_width * (_STACK - 0.5), list[tuple[str, Point]]()
    for name, above, below in heights:
        canvas.span(spot.point((t, above)), spot.point((t, below)))
        names.append((f"{name} {caliper_text(above - below, unit)}", (t, (above + below) / 2)))
    t = layout.housing_width * (_WHOLE - 0.5)
    canvas.span(spot.point((t, top)), spot.point((t, floor)))
    whole = floor + 0.3 * (top - floor)
    names += [
        (f"projection {caliper_text(layout.projection, unit)}", (t, whole)),
        ("router's base", (router[0][0][0] + 6.0, router[0][0][1] + _BASE_MM / 2)),
        ("scrap of the board", (-side + 8.0, floor - 0.5 * _UNDER_MM)),
    ]
    return [NameLabel(words, spot.point(at), "left") for words, at in names]


def _cut(canvas: Canvas, ring: list[Point], slant_deg: float) -> None:
    canvas.line([*ring, ring[0]], OUTLINE)
    for a, b in hatch(ring, _HATCH_MM, slant_deg):
        canvas.line([a, b], THIN)


def _board(layout: JigLayout) -> list[Point]:
    """The scrap with its housing; its edge falls away with v, which the section crosses at the face angle."""
    # In the plate's plane the section's axis t has the part cos(face) along v, and the board's edge falls by cot(splay)
    # for each mm of v; so for each mm of t it falls by their product:
    #
    #     _____                      edge
    #          |          _____
    #          |         |
    #          |_________|           floor
    #     _____________________      where the drawing ends
    #
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


def _guide_mm(kit: Kit, layout: JigLayout) -> float:
    """How far a bush stands out below the base; a bearing is drawn almost as high as the plate is thick."""
    return min(kit.shop.router.bush_length_mm or layout.sheet - 1.0, layout.projection)


def _upright(axis: float, half: float, low: float, high: float) -> list[Point]:
    return [(axis - half, low), (axis + half, low), (axis + half, high), (axis - half, high)]


def _gauge(kit: Kit, layout: JigLayout, canvas: Canvas, left: float) -> list[NameLabel]:
    """The router upside down, on its base the kit's own gauge where it is made; and their names."""
    part = projection_gauge(kit.trestle, kit.shop)
    _, _, long, high = part.outline.bounds
    base = max(layout.base_radius, long / 2)
    size = min(_RIGHT_MM / (2 * base), _HIGH_MM / (high + _BASE_MM))
    spot = Spot(size, left + size * base, size * _BASE_MM)
    router, unit, deep = kit.shop.router, kit.trestle.job.unit, _guide_mm(kit, layout)
    is_made = part.slug not in kit.shop.left_out
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
