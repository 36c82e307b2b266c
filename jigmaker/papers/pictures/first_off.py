"""Where the five figures of a first routed housing are measured, on an R housing. Paper mm.

Bottom face, edge and top face of the scrap are folded out flat. An L housing is the same from its own end.
"""

from math import cos, radians, sin

from jigmaker.drawing.picture import Picture
from jigmaker.papers.pictures.canvas import OUTLINE, THIN, Canvas, Spot, midpoint
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.pictures.unfolded import unfold
from jigmaker.papers.wording import fine_text, rule_text
from jigmaker.trestle.records import Trestle
from jigmaker.units import caliper_text

_WIDE_MM, _COLUMN_MM = 60.0, 30.0
_BEYOND_MM = 32.0


def first_off_picture(trestle: Trestle) -> Picture:
    """Width, both depths and both starts, each with where it is read and what it should be."""
    shape, canvas = unfold(trestle), Canvas()
    reach = -min(x for pair in shape.rows for x, _ in pair) + _BEYOND_MM
    low = shape.top_floor[0][1] - _BEYOND_MM
    high = shape.bottom_floor[0][1] + _BEYOND_MM
    spot = Spot(_WIDE_MM / reach)
    canvas.line([spot.point(p) for p in ((-reach, high), (0.0, high), (0.0, low), (-reach, low))], OUTLINE)
    for y, (near, far) in ((0.0, shape.top_arris), (shape.thickness, shape.bottom_arris)):
        # An arris is left on both sides of the housing.
        for ends in (((-reach, y), far), (near, (0.0, y))):
            canvas.line([spot.point(p) for p in ends], THIN)
    ring = [*shape.wall(False), *reversed(shape.wall(True))]
    canvas.line([spot.point(p) for p in [*ring, ring[0]]], OUTLINE)
    # From, to and words of each figure.
    housing, unit, t = trestle.housing, trestle.job.unit, shape.thickness
    slant = radians(trestle.angles.edge_line_deg)
    middle = midpoint(shape.wall(True)[1], shape.wall(True)[2])
    # Square to the walls is nearly in the plane of the edge; along the edge it is as long as the arris has it.
    along = housing.width_on_arris_mm * sin(slant)
    across = (middle[0] + along * sin(slant), middle[1] - along * cos(slant))
    top, bottom = midpoint(*shape.top_floor), midpoint(*shape.bottom_floor)
    start_top, start_bottom = shape.top_arris[0], shape.bottom_arris[0]
    marks = [
        (middle, across, f"width, square to the walls: {caliper_text(housing.width_mm, unit)}"),
        ((top[0], 0.0), top, f"depth, top face: {fine_text(housing.depth_top_mm, unit)}"),
        ((bottom[0], t), bottom, f"depth, bottom face: {fine_text(housing.depth_bottom_mm, unit)}"),
        ((0.0, -4.0), (start_top[0], -4.0), f"start, top arris: {rule_text(housing.start_top_mm, unit)}"),
        (
            (0.0, t + 4.0),
            (start_bottom[0], t + 4.0),
            f"start, bottom arris: {rule_text(housing.start_bottom_mm, unit)}",
        ),
    ]
    for a, b, _ in marks:
        canvas.span(spot.point(a), spot.point(b))
    for text, y in (("bottom face", high - 0.3 * _BEYOND_MM), ("top face, toward you", low + 0.3 * _BEYOND_MM)):
        canvas.words(text, (spot.point((-reach, y))[0] + 1.0, spot.point((0.0, y))[1] - 1.2))
    name_beside(canvas, [NameLabel(text, spot.point(midpoint(a, b))) for a, b, text in marks], _COLUMN_MM)
    return canvas.picture("The first-off, and where it is measured")
