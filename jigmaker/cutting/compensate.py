"""Placed parts moved by half the tool's width: Sheet and Machine in, CutSheet out. Sheet frame; mm.

Contours are placed first and compensated afterwards: what a machine does wrong depends on how a part lies on its bed.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import radians, tan

from jigmaker.cutting.beam import Beam, offset_for
from jigmaker.cutting.bridge_places import bridge_places
from jigmaker.cutting.bridges import opened
from jigmaker.cutting.clearance import APART, narrow_faults, narrow_name, neighbour_faults, web_faults
from jigmaker.cutting.correction import corrected
from jigmaker.cutting.cut_sheet import Compensation, CutContour, CutSheet
from jigmaker.cutting.offset import WIDEN
from jigmaker.cutting.order import in_cutting_order
from jigmaker.errors import TooNarrow
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Outline, Stroke, bounds_of
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import Machine
from jigmaker.sheets.sheet import PlacedPart, Sheet
from jigmaker.sheets.waste import free_square
from jigmaker.units import MM_PER_INCH, Unit

SQUARE_MM: dict[Unit, float] = {"mm": 50.0, "in": 2 * MM_PER_INCH}
"""Side of the reference square by the files' unit."""

SQUARE_CLEAR_MM = 2.0


def compensate(sheet: Sheet, machine: Machine, compensation: Compensation, unit: Unit = "mm") -> CutSheet:
    """What the tool must follow to cut the sheet's parts to their nominal size, in cutting order. Sheet frame; mm.

    "included": outlines are moved out by half the tool's width, holes in; marks stay, and are left out when the machine
    cannot mark; outlines are left open where the machine's bridges hold the part. Where a laser's kerf in x and y
    differ, each piece is moved by half the cut's width across it. Then all lines are bent for a crooked machine.

    "left out": nominal contours, closed and not bent, for a user whose own program moves them.

    Raises TooNarrow, naming part and contour, in both cases alike: for a hole or gap narrower than the tool (plus 0.2
    mm for a cutter), for too little wood between two cuts, for pieces too close to each other. Its message has a line
    for every fault, with widths in `unit`.
    """
    beam = Beam(*machine.cut_width_mm) if compensation == "included" else None
    placed = [_placed_contours(piece, machine) for piece in sheet.placed]
    _check(placed, machine, unit)
    pieces = [
        _moved_piece(piece, contours, machine, beam) for piece, contours in zip(sheet.placed, placed, strict=True)
    ]
    cut = CutSheet(
        name=sheet.name,
        length_mm=sheet.length_mm,
        width_mm=sheet.width_mm,
        compensation=compensation,
        tool_mm=machine.tool_mm,
        offset_mm=machine.tool_mm / 2 if beam else 0.0,
        contours=in_cutting_order(pieces),
        cut_width_mm=machine.cut_width_mm if beam and machine.is_directed else None,
    )
    made = corrected(cut, machine) if beam else cut
    return replace(made, square_at=_square_at(sheet, machine, unit), over_lines=_over_lines(sheet, pieces, cut, made))


def _square_at(sheet: Sheet, machine: Machine, unit: Unit) -> Point | None:
    """Clear of the parts' lines, also where the correction for a crooked machine moves them."""
    length, width, lean = sheet.length_mm, sheet.width_mm, abs(tan(radians(machine.skew_deg)))
    moved = abs(1 / machine.scale_x - 1) * length + abs(1 / machine.scale_y - 1) * width + lean * width
    outlines = [piece.part.outline.placed(piece.sheet_from_part) for piece in sheet.placed]
    clear = SQUARE_CLEAR_MM + 2.5 * machine.widest_cut_mm + 2 * moved
    return free_square((length, width), outlines, SQUARE_MM[unit], clear)


def _over_lines(
    sheet: Sheet, pieces: Sequence[Sequence[CutContour]], cut: CutSheet, made: CutSheet
) -> tuple[str, float]:
    """The largest part's slug and the width of its lines as they are drawn."""
    largest = max(range(len(pieces)), key=lambda i: sheet.placed[i].part.outline.area)
    own = {id(contour) for contour in pieces[largest] if contour.operation == "outer"}
    drawn = [after.shape for before, after in zip(cut.contours, made.contours, strict=True) if id(before) in own]
    low_x, _, high_x, _ = bounds_of(drawn)
    return sheet.placed[largest].part.slug, high_x - low_x


def _check(placed: list[list[CutContour]], machine: Machine, unit: Unit) -> None:
    """Raises TooNarrow with every fault; pieces of the same part have the same faults, told once."""
    faults: list[str] = []
    machine = replace(machine, tool_mm=machine.widest_cut_mm)
    for piece in placed:
        faults += [f"{fault}: {WIDEN}" for fault in narrow_faults(piece, machine, unit)]
        faults += [f"{fault}: {APART}" for fault in web_faults(piece, machine, unit)]
    outlines = [contour for piece in placed for contour in piece if contour.operation == "outer"]
    faults += [f"{fault}: {APART}" for fault in neighbour_faults(outlines, machine, unit)]
    if faults:
        raise TooNarrow("\n".join(dict.fromkeys(faults)))


def _placed_contours(placed: PlacedPart, machine: Machine) -> list[CutContour]:
    """The nominal contours of one piece in the sheet frame: marks, holes, outline."""
    part, frame = placed.part, placed.sheet_from_part
    contours = list[CutContour]()
    if part.marks and machine.marking != "none":
        marks = Strokes.joined([mark.strokes for mark in part.marks])
        contours.append(CutContour("mark", marks.placed(frame), part.slug, "marks"))
    contours += [CutContour("inner", hole.contour.placed(frame), part.slug, hole.name) for hole in part.holes]
    return contours + [CutContour("outer", part.outline.placed(frame), part.slug, "outer")]


def _moved_piece(
    piece: PlacedPart, contours: list[CutContour], machine: Machine, beam: Beam | None
) -> list[CutContour]:
    """The piece's contours where the tool runs; its outline, always the last, as strokes where bridges hold it."""
    *inside, outer = (_moved(contour, beam) for contour in contours)
    places = bridge_places(piece.part, machine) if beam else ()
    if not places or not beam:
        return [*inside, outer]
    nominal = contours[-1].shape
    assert isinstance(outer.shape, Outline)
    assert isinstance(nominal, Outline)
    strokes = opened(outer.shape, nominal, places, machine.bridge_width_mm, beam.half_width)
    return [*inside, *(replace(outer, shape=stroke) for stroke in strokes)]


def _moved(contour: CutContour, beam: Beam | None) -> CutContour:
    """Outlines grow, holes shrink, marks stay."""
    if isinstance(contour.shape, Stroke | Strokes) or beam is None:
        return contour
    moved = offset_for(contour.shape, beam, contour.operation == "outer", narrow_name(contour))
    return replace(contour, shape=moved)
