"""What the tool must follow on one sheet: contours with their operation, in cutting order. Sheet frame; mm."""

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import Compensation, Operation, SheetMaterial
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class CutContour:
    """One contour to follow, or all marks of one piece. `part` is its slug, `name` "outer", "marks", or the hole's."""

    operation: Operation
    shape: Outline | Circle | Stroke | Strokes
    part: str
    name: str


@dataclass(frozen=True, slots=True)
class Correction:
    """What was done to all lines against a crooked machine: bent by the inverse of its scales and skew, then moved."""

    scale_x: float
    scale_y: float
    skew_deg: float
    moved_x_mm: float
    moved_y_mm: float


@dataclass(frozen=True, slots=True)
class CutSheet:
    """A sheet ready for the machine. `offset_mm`: how far lines were moved (half the kerf or tool), 0 when left out.

    cut_width_mm: the cut's width along x and along y, where the lines were moved by each piece's own; then tool_mm and
    offset_mm are its mean. correction: how the lines were bent for a crooked machine; they were moved before.

    square_at: lower left corner of a place in the waste for the reference square, None where there is none. screws_at:
    places in the waste for screws that hold the sheet down while a CNC machine cuts it. over_lines: the slug of the
    sheet's largest part and how wide the box of its lines is, along x: another size to measure. stock: what it is a
    sheet of; None for the shop's first.

    Contours are in cutting order: marks, then inner contours (contained before containing), then outer;
    then the marks of bridges, which are never cut.
    """

    name: str
    length_mm: float
    width_mm: float
    compensation: Compensation
    tool_mm: float
    offset_mm: float
    contours: tuple[CutContour, ...]
    cut_width_mm: tuple[float, float] | None = None
    correction: Correction | None = None
    square_at: Point | None = None
    screws_at: tuple[Point, ...] = ()
    over_lines: tuple[str, float] = ("", 0.0)
    stock: SheetMaterial | None = None
