"""What a machine leaves of a part: the path of its file, a disc as wide as the cut swept along it. Part frame; mm."""

import shapely
from shapely.affinity import translate

from jigmaker.cutting.compensate import compensate
from jigmaker.sheets.place import single_part_sheet


def left_after_cutting(part, machine, compensation):
    """The part's material once the outline has been followed as written. Part frame; for parts without holes."""
    assert not part.holes
    sheet = single_part_sheet(part, machine.tool_mm)
    (path,) = [c.shape for c in compensate(sheet, machine, compensation).contours if c.operation == "outer"]
    inside = shapely.Polygon(path.points(64))
    swept = inside.exterior.buffer(machine.tool_mm / 2, quad_segs=64)
    frame = sheet.placed[0].sheet_from_part
    return translate(inside.difference(swept), -frame.x, -frame.y)


def extent_on(material, start, end):
    """(low, high) along the line from start to end, 0 at its start, of the first stretch that is material."""
    line = shapely.LineString([start, end])
    met = shapely.get_parts(material.intersection(line))
    spans = [sorted(line.project(shapely.Point(p)) for p in piece.coords) for piece in met if piece.length > 1e-6]
    return min((span[0], span[-1]) for span in spans)
