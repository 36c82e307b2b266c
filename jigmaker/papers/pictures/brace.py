"""The brace with its angles and lengths: Trestle in, Picture out; inside face and section in true shape; paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, Canvas, Spot
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.wording import off_edge, off_upright, rule_text
from jigmaker.trestle.angles import cotangent
from jigmaker.trestle.records import Trestle
from jigmaker.units import length_text

_FACE_MM, _HIGH_MM, _COLUMN_MM, _GAP_MM = 72.0, 42.0, 34.0, 10.0


def brace_picture(trestle: Trestle) -> Picture:
    """Left the inside face, right the section, its inside face at the left, with the bevel of the top edge."""
    brace, canvas = trestle.brace, Canvas()
    size = min(_FACE_MM / brace.bottom_mm, _HIGH_MM / brace.depth_mm)
    face, section = Spot(size), Spot(size, size * brace.bottom_mm / 2 + _GAP_MM, 0.0)
    top, bottom, deep = brace.top_mm / 2, brace.bottom_mm / 2, brace.depth_mm
    ring = [(-bottom, 0.0), (bottom, 0.0), (top, deep), (-top, deep), (-bottom, 0.0)]
    canvas.line([face.point(p) for p in ring], OUTLINE)
    canvas.words("inside face", (0.0, size * deep / 2 - 1.2), "middle")
    for half, y in ((top, 0.86), (bottom, 0.12)):
        canvas.span(face.point((-half, y * deep)), face.point((half, y * deep)))
    corners = _section(trestle)
    canvas.line([section.point(p) for p in [*corners, corners[0]]], OUTLINE)
    square = ((0.0, deep), (corners[2][0], deep))
    canvas.line([section.point(p) for p in square], BROKEN)
    name_beside(canvas, _names(trestle, face, section, corners), _COLUMN_MM)
    return canvas.picture("The brace")


def _section(trestle: Trestle) -> list[Point]:
    """Section across the brace as it lies flat: inside face at x = 0; outer face shorter or longer by the bevel.

    The top edge is level when the brace leans at the rake, so seen from the inside face it falls toward the outer one.
    """
    thick, deep = trestle.brace.thickness_mm, trestle.brace.depth_mm
    fall = thick * cotangent(trestle.angles.brace_edge_deg)
    return [(0.0, 0.0), (0.0, deep), (thick, deep - fall), (thick, 0.0)]


def _names(trestle: Trestle, face: Spot, section: Spot, corners: list[Point]) -> list[NameLabel]:
    """Lengths and the end's angle at the left; what the section shows at the right."""
    brace, angles, unit = trestle.brace, trestle.angles, trestle.job.unit
    top, bottom, deep = brace.top_mm / 2, brace.bottom_mm / 2, brace.depth_mm
    end = (-(top + bottom) / 2, deep / 2)
    outer = corners[2]
    return [
        NameLabel(f"top edge, inside {rule_text(brace.top_mm, unit)}", face.point((-0.9 * top, 0.86 * deep)), "left"),
        NameLabel(f"both ends {off_edge(angles.brace_end_deg, 'the long edges')}", face.point(end), "left"),
        NameLabel(f"blade for the ends {off_upright(angles.brace_end_tilt_deg)}", face.point((-bottom, 0.0)), "left"),
        NameLabel(f"bottom edge {rule_text(brace.bottom_mm, unit)}", face.point((-0.8 * bottom, 0.12 * deep)), "left"),
        NameLabel(
            f"top edge, under the board: {off_edge(angles.brace_edge_deg, 'the face')}",
            section.point((outer[0] / 2, (deep + outer[1]) / 2)),
            "right",
        ),
        NameLabel(
            f"section {length_text(deep, unit)} × {length_text(brace.thickness_mm, unit)}, inside face at the left",
            section.point((outer[0] / 2, deep / 2)),
            "right",
        ),
    ]
