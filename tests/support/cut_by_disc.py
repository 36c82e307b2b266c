"""A part cut out of a sheet by a disc: its written lines, bent by a machine's error, widened by shapely, pieces found.

Frame of the part's own sheet as the machine makes it, unless said otherwise; mm.
"""

from dataclasses import dataclass

import shapely
from shapely.affinity import affine_transform, translate

from jigmaker.cutting.compensate import compensate
from jigmaker.sheets.place import single_part_sheet

TRUE = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
"""The machine without error: x' = a x + b y, y' = d x + e y, given as (a, b, d, e, 0, 0)."""


@dataclass(frozen=True)
class Pieces:
    """What lies on the bed after the cut: the part, and by each hole's name what dropped out of it."""

    body: shapely.Polygon
    out_of: dict[str, shapely.Polygon]


def cut(part, assumed, true_kerf, compensation="included", error=TRUE):
    """The pieces when the file is made for one machine and cut with a beam or cutter of another width."""
    sheet = compensate(single_part_sheet(part, assumed.tool_mm), assumed, compensation)
    rings = {
        contour.name: affine_transform(shapely.Polygon(contour.shape.points(256)), error)
        for contour in sheet.contours
        if contour.operation != "mark"
    }
    gone = {name: ring.exterior.buffer(true_kerf / 2, quad_segs=64) for name, ring in rings.items()}
    inside = {name: ring.difference(gone[name]) for name, ring in rings.items()}
    holes = shapely.union_all([ring.union(gone[name]) for name, ring in rings.items() if name != "outer"])
    return Pieces(inside.pop("outer").difference(holes), inside)


def left_after_cutting(part, machine, compensation):
    """The part cut by its own file on the machine it is made for, in its own frame."""
    frame = single_part_sheet(part, machine.tool_mm).placed[0].sheet_from_part
    return translate(cut(part, machine, machine.tool_mm, compensation).body, -frame.x, -frame.y)


def extent_on(material, start, end):
    """(low, high) along the line from start to end, 0 at its start, of the first stretch that is material."""
    line = shapely.LineString([start, end])
    met = shapely.get_parts(material.intersection(line))
    spans = [sorted(line.project(shapely.Point(p)) for p in piece.coords) for piece in met if piece.length > 1e-6]
    return min((span[0], span[-1]) for span in spans)
