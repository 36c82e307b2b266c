"""The brace with its angles and lengths, inside face and section in true shape. Paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, Canvas, Spot, midpoint
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.wording import off_edge, off_upright, rule_text
from jigmaker.trestle.angles import cotangent
from jigmaker.trestle.records import Trestle
from jigmaker.units import length_text

_FACE_MM, _HIGH_MM, _COLUMN_MM, _GAP_MM = 72.0, 42.0, 34.0, 10.0


def brace_picture(trestle: Trestle, is_tilted: bool = True) -> Picture:
    """Left the inside face, right the section, its inside face at the left, with the bevel of the top edge.

    is_tilted: the ends are sawn with a tilted blade, else square through the thickness.
    """
    brace, angles, unit, canvas = trestle.brace, trestle.angles, trestle.job.unit, Canvas()
    size = min(_FACE_MM / brace.bottom_mm, _HIGH_MM / brace.depth_mm)
    face, section = Spot(size), Spot(size, size * brace.bottom_mm / 2 + _GAP_MM, 0.0)
    top, bottom, deep, thick = brace.top_mm / 2, brace.bottom_mm / 2, brace.depth_mm, brace.thickness_mm
    ring = [(-bottom, 0.0), (bottom, 0.0), (top, deep), (-top, deep), (-bottom, 0.0)]
    canvas.line([face.point(p) for p in ring], OUTLINE)
    canvas.words("inside face", (0.0, size * deep / 2 - 1.2), "middle")
    for half, y in ((top, 0.86), (bottom, 0.12)):
        canvas.span(face.point((-half, y * deep)), face.point((half, y * deep)))
    # The section as the brace lies flat, its inside face at x = 0. The top edge is level when the brace leans at the
    # rake, so from the inside face it falls toward the outer one:
    #
    #   inside  |\  fall = thickness × cot(angle of the edge)
    #    face   | \___
    #           |____|
    outer = (thick, deep - thick * cotangent(angles.brace_edge_deg))
    ring = [(0.0, 0.0), (0.0, deep), outer, (thick, 0.0), (0.0, 0.0)]
    canvas.line([section.point(p) for p in ring], OUTLINE)
    canvas.line([section.point(p) for p in ((0.0, deep), (thick, deep))], BROKEN)
    tilt = off_upright(angles.brace_end_tilt_deg)
    at_left = (
        (f"top edge, inside {rule_text(brace.top_mm, unit)}", (-0.9 * top, 0.86 * deep)),
        (f"both ends {off_edge(angles.brace_end_deg, 'the long edges')}", (-(top + bottom) / 2, deep / 2)),
        (f"blade for the ends {tilt}" if is_tilted else "ends square to the inside face", (-bottom, 0.0)),
        (f"bottom edge {rule_text(brace.bottom_mm, unit)}", (-0.8 * bottom, 0.12 * deep)),
    )
    size_words = f"section {length_text(deep, unit)} × {length_text(thick, unit)}, inside face at the left"
    at_right = (
        (f"top edge, under the board: {off_edge(angles.brace_edge_deg, 'the face')}", midpoint((0.0, deep), outer)),
        (size_words, (thick / 2, deep / 2)),
    )
    names = [NameLabel(words, face.point(at), "left") for words, at in at_left]
    names += [NameLabel(words, section.point(at), "right") for words, at in at_right]
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("The brace")
