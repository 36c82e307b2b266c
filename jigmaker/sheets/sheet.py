"""A sheet with parts on it, before any compensation. Sheet frame: lower left of the sheet at (0, 0); mm, degrees."""

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.job.shop import SheetMaterial
from jigmaker.parts.part import Part
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """One piece of a part on a sheet. sheet_from_part is turned by a multiple of 90 degrees, never mirrored."""

    part: Part
    sheet_from_part: PlaneFrame


@dataclass(frozen=True, slots=True)
class Sheet:
    """What goes on the machine's bed in one go: its name (for files), its size in mm and the parts on it.

    A part's own file is a Sheet with that one part, unturned, clear of both axes. stock: what it is a sheet of; None
    for the shop's first.
    """

    name: str
    length_mm: float
    width_mm: float
    placed: tuple[PlacedPart, ...]
    stock: SheetMaterial | None = None

    def left_whole(self, clear_mm: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """What stays whole of the sheet: (length, width) right of all pieces, then above them all; each as long and
        wide as it can be, so both share the sheet's far corner and make an L together.

        clear_mm: from a piece to where the tool no longer cuts.
        """
        around = [placed.part.outline.placed(placed.sheet_from_part).bounds for placed in self.placed]
        right = max(0.0, self.length_mm - max((box[2] for box in around), default=0.0) - clear_mm)
        above = max(0.0, self.width_mm - max((box[3] for box in around), default=0.0) - clear_mm)
        return (right, self.width_mm), (self.length_mm, above)
