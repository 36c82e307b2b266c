"""A sheet with parts on it, before any compensation. Sheet frame: lower left of the sheet at (0, 0); mm, degrees."""

from dataclasses import dataclass

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.parts.part import Part


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """One piece of a part on a sheet. sheet_from_part is turned by a multiple of 90 degrees, never mirrored."""

    part: Part
    sheet_from_part: PlaneFrame


@dataclass(frozen=True, slots=True)
class Sheet:
    """What goes on the machine's bed in one go: its name (for files), its size in mm and the parts on it.

    A part's own file is a Sheet with that one part, unturned, clear of both axes.
    """

    name: str
    length_mm: float
    width_mm: float
    placed: tuple[PlacedPart, ...]
