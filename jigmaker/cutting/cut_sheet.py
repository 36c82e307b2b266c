"""What the tool must follow on one sheet: contours with their operation, in cutting order. Sheet frame; mm."""

from dataclasses import dataclass
from typing import Literal

from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.job.shop import Operation

Compensation = Literal["included", "left out"]


@dataclass(frozen=True, slots=True)
class CutContour:
    """One contour to follow. `part` is the part's slug, `name` "outer", the hole's name, or the mark's text."""

    operation: Operation
    shape: Outline | Circle | Stroke
    part: str
    name: str


@dataclass(frozen=True, slots=True)
class CutSheet:
    """A sheet ready for the machine. `offset_mm`: how far lines were moved (half the kerf or tool), 0 when left out.

    Contours are in cutting order: marks, then inner contours (contained before containing), then outer.
    """

    name: str
    length_mm: float
    width_mm: float
    compensation: Compensation
    tool_mm: float
    offset_mm: float
    contours: tuple[CutContour, ...]
