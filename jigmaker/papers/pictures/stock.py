"""Sections of the timber with the marks of datum face and edge, in true shape. Paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.papers.pictures.canvas import OUTLINE, THIN, Canvas, Spot
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.wording import size
from jigmaker.trestle.records import Trestle

_WIDE_MM, _HIGH_MM, _COLUMN_MM, _GAP_MM = 58.0, 46.0, 48.0, 9.0  # high: all sections together
_LOOP_MM = 5.0  # height of the face mark
_LOOP = ((-3.0, 0.0), (-1.5, 3.0), (1.0, 3.6), (1.6, 2.0), (0.0, 0.0), (-2.0, _LOOP_MM))


def stock_picture(trestle: Trestle) -> Picture:
    """Top board, leg and brace in section, one below the other: a face mark on the face, an edge mark on the edge."""
    job, canvas = trestle.job, Canvas()
    sections = (
        ("top board", job.top.width_mm, job.top.thickness_mm, "datum face: the top face"),
        ("leg", job.leg.width_mm, job.leg.thickness_mm, "datum face: either wide face, legs have no hand"),
        ("brace", job.brace.depth_mm, job.brace.thickness_mm, "datum face: the inside face"),
    )
    scale = min(
        _WIDE_MM / max(wide for _, wide, _, _ in sections), _HIGH_MM / sum(thick for _, _, thick, _ in sections)
    )
    names, y = list[NameLabel](), 0.0
    for name, wide, thick, datum in sections:
        y -= thick * scale
        spot = Spot(scale, 0.0, y)
        ring = [(0.0, 0.0), (wide, 0.0), (wide, thick), (0.0, thick), (0.0, 0.0)]
        canvas.line([spot.point(p) for p in ring], OUTLINE)
        # As joiners mark them: a loop on the face, a V on the edge.
        mark, (edge_x, edge_y) = spot.point((wide / 2, thick)), spot.point((wide, thick / 2))
        canvas.line([(mark[0] + dx, mark[1] + dy) for dx, dy in _LOOP], THIN)
        canvas.line([(edge_x + 3.0, edge_y + 2.0), (edge_x, edge_y), (edge_x + 3.0, edge_y - 2.0)], THIN)
        names += [
            NameLabel(f"{name} {size(wide, thick, unit=job.unit)}", spot.point((0.12 * wide, thick / 2)), "left"),
            NameLabel(datum, (mark[0] - 2.0, mark[1] + _LOOP_MM), "right"),
            NameLabel("datum edge, square to the face", spot.point((wide, thick / 2)), "right"),
        ]
        y -= _GAP_MM
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("The timber and its datum marks")
