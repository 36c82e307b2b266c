"""Placed parts moved by half the tool's width: Sheet and Machine in, CutSheet out. Sheet frame; mm.

Contours are placed first and compensated afterwards: what a machine does wrong depends on how a part lies on its bed.
"""

from dataclasses import replace
from functools import lru_cache
from math import radians, tan

from jigmaker.cutting.beam import Beam, offset_for
from jigmaker.cutting.bridge_places import bridge_places
from jigmaker.cutting.bridges import marked, opened
from jigmaker.cutting.clearance import APART, narrow_faults, narrow_name, neighbour_faults, web_faults
from jigmaker.cutting.correction import corrected
from jigmaker.cutting.cut_sheet import CutContour, CutSheet
from jigmaker.cutting.holding import SCREW_CLEAR_MM
from jigmaker.cutting.offset import WIDEN
from jigmaker.cutting.order import in_cutting_order
from jigmaker.errors import TooNarrow
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Outline, Stroke, bounds_of
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import Compensation, Machine
from jigmaker.sheets.sheet import PlacedPart, Sheet
from jigmaker.sheets.waste import free_places, free_square
from jigmaker.units import MM_PER_INCH, Unit

SQUARE_MM: dict[Unit, float] = {"mm": 50.0, "in": 2 * MM_PER_INCH}
"""Side of the reference square by the files' unit."""

SQUARE_CLEAR_MM = 2.0

SCREW_CROSS_MM = 5.0
"""Length of both lines of the cross at a place for a screw."""


@lru_cache(maxsize=8)  # screen, index and cut sheet ask again for the first sheet, to tell its size
def compensate(sheet: Sheet, machine: Machine, compensation: Compensation, unit: Unit = "mm") -> CutSheet:
    """What the tool must follow to cut the sheet's parts to their nominal size, in cutting order. Sheet frame; mm.

    "included": outlines are moved out by half the tool's width, holes in; marks stay, and are left out when the machine
    cannot mark; outlines are left open where the machine's bridges hold the part. Where a laser's kerf in x and y
    differ, each piece is moved by half the cut's width across it. Then all lines are bent for a crooked machine.

    "left out": nominal contours, closed and not bent, for a user whose own program moves them; bridges are marked.

    Holes of a CNC machine's files run anticlockwise, as outlines do and as a circle of a DXF does, which cannot run
    any other way; a laser's run clockwise.

    Raises TooNarrow, naming part and contour, in both cases alike: for a hole or gap narrower than the tool (plus 0.2
    mm for a cutter), for too little wood between two cuts, for pieces too close to each other. Its message has a line
    for every fault, with widths in `unit`.
    """
    # In this order: placed, judged, moved by half the cut, put into cutting order, bent for a crooked machine. Judged
    # are the nominal contours, so that both kinds of files are refused alike; bent is what the tool follows, for it is
    # the tool's way that the machine bends.
    size = (sheet.length_mm, sheet.width_mm)
    beam = Beam(*machine.cut_width_mm) if compensation == "included" else None
    placed = [_placed_contours(piece, machine) for piece in sheet.placed]
    _check(placed, machine, unit)
    pieces = [
        _moved_piece(piece, contours, machine, beam, size) for piece, contours in zip(sheet.placed, placed, strict=True)
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
        stock=sheet.stock,
    )
    made = corrected(cut, machine) if beam else cut
    square_at, screws_at = _in_waste(sheet, machine, unit)
    # The largest part's slug and the width of its lines as they are drawn.
    largest = max(range(len(pieces)), key=lambda i: sheet.placed[i].part.outline.area)
    own = {id(contour) for contour in pieces[largest] if contour.operation == "outer"}
    drawn = [after.shape for before, after in zip(cut.contours, made.contours, strict=True) if id(before) in own]
    low_x, _, high_x, _ = bounds_of(drawn)
    over_lines, contours = (sheet.placed[largest].part.slug, high_x - low_x), made.contours
    if machine.kind == "cnc":
        contours = tuple(
            replace(contour, shape=contour.shape.reversed())
            if contour.operation == "inner" and isinstance(contour.shape, Outline)
            else contour
            for contour in contours
        )
    return replace(made, contours=contours, square_at=square_at, screws_at=screws_at, over_lines=over_lines)


def _in_waste(sheet: Sheet, machine: Machine, unit: Unit) -> tuple[Point | None, tuple[Point, ...]]:
    """Places for the reference square and for screws, also where the correction for a crooked machine moves lines."""
    # By how much the correction moves any line at most: what scales and skew make of the whole sheet. Both the pieces
    # and the places may move so far, toward each other.
    size, lean = (sheet.length_mm, sheet.width_mm), abs(tan(radians(machine.skew_deg)))
    moved = abs(1 / machine.scale_x - 1) * size[0] + abs(1 / machine.scale_y - 1) * size[1] + lean * size[1]
    outlines = [piece.part.outline.placed(piece.sheet_from_part) for piece in sheet.placed]
    clear, side = SQUARE_CLEAR_MM + 2.5 * machine.widest_cut_mm + 2 * moved, SQUARE_MM[unit]
    square_at = free_square(size, outlines, side, clear)
    if machine.kind != "cnc":
        return square_at, ()
    taken = [] if square_at is None else [(*square_at, square_at[0] + side, square_at[1] + side)]
    clear = machine.tool_mm + SCREW_CLEAR_MM + SCREW_CROSS_MM / 2 + 2 * moved
    return square_at, free_places(size, outlines, machine.tool_mm, taken, clear)


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
    piece: PlacedPart, contours: list[CutContour], machine: Machine, beam: Beam | None, size: Point
) -> list[CutContour]:
    """The piece's contours where the tool runs; its outline, always the last, as strokes where bridges hold it."""
    moved = list[CutContour]()
    for contour in contours:
        shape = contour.shape
        if beam and not isinstance(shape, Stroke | Strokes):  # marks stay, outlines grow, holes shrink
            shape = offset_for(shape, beam, contour.operation == "outer", narrow_name(contour))
        moved.append(replace(contour, shape=shape))
    *inside, outer = moved
    places, nominal = bridge_places(piece.part, machine), contours[-1].shape
    assert isinstance(outer.shape, Outline)
    assert isinstance(nominal, Outline)
    if not beam:
        strokes = marked(nominal, places, machine.bridge_width_mm, size)
        return [*inside, outer, *(CutContour("bridge", stroke, outer.part, "bridge") for stroke in strokes)]
    if not places:
        return [*inside, outer]
    strokes = opened(outer.shape, nominal, places, machine.bridge_width_mm, beam.half_width)
    return [*inside, *(replace(outer, shape=stroke) for stroke in strokes)]
