"""Where the kit's pieces lie on what the machine cuts: parts and shop in, sheets out. Sheet frame; mm."""

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.parts.part import Part
from jigmaker.sheets.sheet import PlacedPart, Sheet

CLEAR_MM = 10.0
"""Free of anything cut all round on a part's own sheet."""


def single_part_sheet(part: Part, tool_mm: float = 0.0) -> Sheet:
    """One piece of the part, unturned, its box 10 mm + 2.5 tool widths clear of both axes; named by the part's slug.

    tool_mm: width of the kerf or cutter. A compensated path reaches at most two tool widths beyond a sharp corner and
    the tool half a width beyond its path, so nothing cut comes nearer than 10 mm to an axis.
    """
    clear = CLEAR_MM + 2.5 * tool_mm
    low_x, low_y, high_x, high_y = part.outline.bounds
    frame = PlaneFrame(clear - low_x, clear - low_y)
    return Sheet(part.slug, high_x - low_x + 2 * clear, high_y - low_y + 2 * clear, (PlacedPart(part, frame),))
