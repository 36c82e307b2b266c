"""A foot seen from below with its chamfer: Trestle and chamfer in, Picture out; the +x +y leg's foot; paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.view import View
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract, unit
from jigmaker.papers.pictures.look import Canvas, fitted
from jigmaker.papers.pictures.names import Name, Side, name_beside
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.units import length_text

VIEW = View.from_angles(62.0, -32.0)
"""From outside and below, as a foot is seen with the trestle on its side."""

_WIDE_MM, _COLUMN_MM, _HIGH_MM = 74.0, 46.0, 62.0
_LONG = 1.3  # drawn length, in widths of the leg


def chamfer_picture(trestle: Trestle, chamfer_mm: float) -> Picture:
    """The lower end of a leg, its sole flat, the arrises round the sole broken."""
    drawn = project([Body("foot", chamfered_foot(trestle, chamfer_mm))], VIEW)
    spot, canvas = fitted(drawn, _WIDE_MM, _HIGH_MM), Canvas()
    canvas.bodies(drawn, spot)
    shown = length_text(chamfer_mm, trestle.job.unit)
    outer_near, outer_far, inner_far, inner_near = leg_corners(trestle)[4:]
    down, wide, _ = leg_directions(trestle)
    broken = add(_between(outer_near, outer_far, 0.6), scale(add(scale(down, -1.0), scale(wide, -1.0)), chamfer_mm / 2))
    face = subtract(_between(outer_near, outer_far, 0.5), scale(down, 0.7 * trestle.leg.width_mm))
    edge = subtract(_between(outer_near, inner_near, 0.5), scale(down, 0.7 * trestle.leg.width_mm))
    words: tuple[tuple[str, Vector, Side], ...] = (
        ("sole as levelled, not touched again", _between(outer_near, inner_far, 0.5), "left"),
        ("narrow edge, toward the board's end", edge, "left"),
        ("outer wide face: plane from both arrises toward its middle", face, "right"),
        (f"chamfer: {shown} up the face, {shown} into the sole, on all four arrises", broken, "right"),
    )
    name_beside(canvas, [Name(text, spot.point(VIEW.point(at)), side) for text, at, side in words], _COLUMN_MM)
    return canvas.picture("A foot with its chamfer, from below")


def chamfered_foot(trestle: Trestle, chamfer_mm: float) -> Solid:
    """The lower end of the +x +y leg, the arrises of its sole cut back as far up as inward; timber frame."""
    sole, (down, _, _) = leg_corners(trestle)[4:], leg_directions(trestle)
    above = [subtract(corner, scale(down, _LONG * trestle.leg.width_mm)) for corner in sole]
    foot = Solid.hull([*sole, *above])
    middle = _between(sole[0], sole[2], 0.5)
    for a, b in zip(sole, (*sole[1:], sole[0]), strict=True):
        along = unit(subtract(b, a))
        on_sole = add(a, scale(_square_to(along, subtract(middle, a)), chamfer_mm))
        on_face = add(a, scale(_square_to(along, scale(down, -1.0)), chamfer_mm))
        out = cross(along, subtract(on_face, on_sole))
        foot = foot.kept_below(on_sole, out if dot(out, subtract(a, middle)) > 0 else scale(out, -1.0))
    return foot


def _square_to(along: Vector, way: Vector) -> Vector:
    """The unit direction square to `along` in the plane of both."""
    return unit(subtract(way, scale(along, dot(way, along))))


def _between(a: Vector, b: Vector, share: float) -> Vector:
    return add(scale(a, 1 - share), scale(b, share))
