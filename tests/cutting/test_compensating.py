"""Compensated sheets: which way each contour moves, what is refused and how it is named, in which order it is cut."""

from itertools import pairwise

import pytest
from plain_parts import CNC, LASER, box, hole_box, plain_part

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_sheet import CutContour, CutSheet
from jigmaker.cutting.order import in_cutting_order
from jigmaker.errors import TooNarrow
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Circle, Outline, bounds_of
from jigmaker.job.shop import Machine
from jigmaker.parts.marks import text_mark
from jigmaker.parts.part import Hole, Part
from jigmaker.sheets.place import single_part_sheet
from jigmaker.sheets.sheet import PlacedPart, Sheet

PLATE = plain_part(
    "plate",
    box(100, 50),
    (hole_box("slot", 40, 10, (30, 20)), Hole("peg", Circle((85, 25), 3))),
    (text_mark("R", (5, 5)), text_mark("TOP", (20, 5))),
)


def _named(cut: CutSheet, name: str) -> CutContour:
    return next(contour for contour in cut.contours if contour.name == name)


def _size(contour: CutContour) -> tuple[float, float]:
    low_x, low_y, high_x, high_y = contour.shape.bounds
    return (high_x - low_x, high_y - low_y)


def test_outline_grows_and_holes_shrink_by_the_whole_kerf() -> None:
    """Part 100 x 50 with a 10 mm slot, kerf 0.2: drawn 100.2 x 50.2, slot 9.8 wide, 6 mm hole 5.8 (arithmetic)."""
    cut = compensate(single_part_sheet(PLATE), LASER, "included")
    assert _size(_named(cut, "outer")) == pytest.approx((100.2, 50.2), abs=1e-9)
    assert _size(_named(cut, "slot")) == pytest.approx((39.8, 9.8), abs=1e-9)
    assert _named(cut, "peg").shape == Circle((95.0, 35.0), 2.9)
    assert (cut.compensation, cut.tool_mm, cut.offset_mm) == ("included", 0.2, 0.1)


def test_left_out_gives_the_nominal_contours() -> None:
    """Nothing has moved, and the record says so."""
    sheet = single_part_sheet(PLATE)
    cut = compensate(sheet, LASER, "left out")
    assert _named(cut, "outer").shape == PLATE.outline.placed(sheet.placed[0].sheet_from_part)
    assert (cut.compensation, cut.offset_mm) == ("left out", 0.0)


def test_marks_stay_where_they_are_and_are_left_out_when_the_machine_cannot_mark() -> None:
    """A scored line has no width to allow for."""
    marked = [compensate(single_part_sheet(PLATE), LASER, how).contours for how in ("included", "left out")]
    marks = [[contour for contour in contours if contour.operation == "mark"] for contours in marked]
    assert marks[0] == marks[1] != []
    bare = compensate(single_part_sheet(PLATE), Machine("laser", 0.2, marking="none"), "included")
    assert {contour.operation for contour in bare.contours} == {"inner", "outer"}


@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 180.0, 270.0])
def test_part_is_placed_first_and_compensated_on_the_sheet(turn_deg: float) -> None:
    """With one kerf all round, a turned part's path is the path turned."""
    frame = PlaneFrame(200.0, 150.0, turn_deg)
    turned = compensate(Sheet("s", 400, 300, (PlacedPart(PLATE, frame),)), LASER, "included")
    plain = compensate(Sheet("s", 400, 300, (PlacedPart(PLATE, PlaneFrame()),)), LASER, "included")
    for name in ("outer", "slot", "peg"):
        wanted = _named(plain, name).shape.placed(frame).bounds
        assert _named(turned, name).shape.bounds == pytest.approx(wanted, abs=1e-9)


def _with_holes(*holes: Hole, outline: Outline | None = None) -> Part:
    return plain_part("plate", outline or box(100, 50), holes)


NOTCHED = Outline.from_points([(0, 0), (100, 0), (100, 50), (53, 50), (53, 20), (47, 20), (47, 50), (0, 50)])
REFUSED = [
    (_with_holes(hole_box("vent", 20, 0.15, (10, 10))), LASER, r'plate: hole "vent" is 0.15 mm wide .* needs 0.20'),
    (_with_holes(Hole("peg", Circle((50, 25), 3.09))), CNC, r'plate: hole "peg" is 6.18 mm wide .* needs 6.20'),
    (_with_holes(outline=NOTCHED), CNC, "plate: a gap in the outline is 6.00 mm wide .* needs 6.20"),
    (
        _with_holes(Hole("a", Circle((30, 25), 5)), Hole("b", Circle((40.15, 25), 5))),
        LASER,
        'plate: hole "a" and plate: hole "b": 0.15 mm of wood .* at least 0.20 mm',
    ),
    (_with_holes(hole_box("a", 9, 9, (91.9, 5))), LASER, 'plate: hole "a" and plate: outline: 0.00 mm of wood'),
    (_with_holes(hole_box("a", 9, 9, (90.9, 5))), LASER, 'plate: hole "a" and plate: outline: 0.10 mm of wood'),
    (
        _with_holes(hole_box("a", 40, 30, (10, 10)), Hole("b", Circle((30, 25), 4))),
        LASER,
        'plate: hole "a" and plate: hole "b": 0.00 mm of wood',
    ),
    (
        _with_holes(hole_box("a", 9, 9, (30, 5)), hole_box("b", 9, 9, (39.9, 5))),
        CNC,
        'hole "a" and plate: hole "b": 0.90 mm of wood .* at least 1.00 mm',
    ),
]


@pytest.mark.parametrize("compensation", ["included", "left out"])
@pytest.mark.parametrize(("part", "machine", "words"), REFUSED)
def test_what_cannot_be_cut_is_named(part: Part, machine: Machine, words: str, compensation: str) -> None:
    """The same sentence for both kinds of file: leaving the kerf out makes no hole wider."""
    with pytest.raises(TooNarrow, match=words):
        compensate(single_part_sheet(part), machine, "included" if compensation == "included" else "left out")


ALLOWED = [
    (_with_holes(hole_box("vent", 20, 0.21, (10, 10))), LASER),
    (_with_holes(Hole("peg", Circle((50, 25), 3.1))), CNC),
    (_with_holes(Hole("a", Circle((30, 25), 5)), Hole("b", Circle((40.25, 25), 5))), LASER),
    (_with_holes(hole_box("a", 9, 9, (30, 5)), hole_box("b", 9, 9, (40.1, 5))), CNC),
]


@pytest.mark.parametrize(("part", "machine"), ALLOWED)
def test_what_is_just_wide_enough_is_cut(part: Part, machine: Machine) -> None:
    """The failing rows' twins, a hair wider: as many contours come out as went in."""
    cut = compensate(single_part_sheet(part), machine, "included")
    assert len(cut.contours) == 1 + len(part.holes)


@pytest.mark.parametrize("gap", range(1, 21))
def test_holes_closer_than_the_kerf_are_both_named(gap: int) -> None:
    """Round holes 0.02 to 0.40 mm apart with a kerf of 0.2."""
    apart = gap * 0.02 + 0.005
    part = _with_holes(Hole("left", Circle((30, 25), 5)), Hole("right", Circle((40 + apart, 25), 5)))
    if apart >= 0.2:
        assert len(compensate(single_part_sheet(part), LASER, "included").contours) == 3
    else:
        with pytest.raises(TooNarrow, match=r'hole "left" and plate: hole "right"'):
            compensate(single_part_sheet(part), LASER, "included")


def test_widths_are_told_in_inches_to_who_works_in_inches() -> None:
    """0.15 mm are 0.0059 in, the kerf of 0.2 mm 0.0079 in (25.4 mm to the inch by definition)."""
    part = _with_holes(hole_box("vent", 20, 0.15, (10, 10)))
    with pytest.raises(TooNarrow, match=r"is 0.0059 in wide at its narrowest, the tool needs 0.0079 in"):
        compensate(single_part_sheet(part), LASER, "included", "in")


def test_every_fault_is_told_at_once() -> None:
    """Two bad holes give two lines."""
    part = _with_holes(hole_box("one", 20, 0.1, (10, 10)), hole_box("two", 20, 0.15, (10, 30)))
    with pytest.raises(TooNarrow, match=r'hole "one" .*\n.*hole "two"'):
        compensate(single_part_sheet(part), LASER, "included")


def test_pieces_too_close_on_a_sheet_are_both_named() -> None:
    """Two plates 5.9 mm apart, a 6 mm cutter."""
    there = plain_part("strip", box(100, 20))
    placed = (PlacedPart(PLATE, PlaneFrame(10, 10)), PlacedPart(there, PlaneFrame(10, 65.9)))
    sheet = Sheet("s", 400, 300, placed)
    with pytest.raises(TooNarrow, match=r"plate: outline and strip: outline: 5.90 mm of wood"):
        compensate(sheet, CNC, "included")
    assert len(compensate(sheet, LASER, "included").contours) == 4 + 1  # all marks of the plate are one


def test_marks_come_first_then_holes_then_outlines() -> None:
    """A piece cut loose no longer lies still."""
    placed = tuple(PlacedPart(PLATE, PlaneFrame(x, 10)) for x in (10, 130, 250))
    operations = [contour.operation for contour in compensate(Sheet("s", 400, 99, placed), LASER, "included").contours]
    assert operations == sorted(operations, key=["mark", "inner", "outer"].index)
    assert operations.count("outer") == 3


def test_contained_contours_come_before_those_that_contain_them() -> None:
    """For any two closed contours of which one contains the other, the contained one is cut first."""
    rings = [CutContour("inner", box(80 - 20 * i, 40 - 8 * i, (10 + 10 * i, 5 + 4 * i)), "p", f"{i}") for i in range(4)]
    outline = CutContour("outer", box(100, 50), "p", "outer")
    ordered = in_cutting_order([[rings[1], rings[3], rings[0], rings[2], outline]])
    assert [contour.name for contour in ordered] == ["3", "2", "1", "0", "outer"]


def test_the_machine_goes_from_each_piece_to_the_nearest_left() -> None:
    """Pieces listed at random are cut along the row in which they lie, the same way every time."""
    outlines = [CutContour("outer", box(10, 10, (x, 10)), f"at {x}", "outer") for x in (90, 10, 50, 30, 70)]
    ordered = in_cutting_order([[outline] for outline in outlines])
    lefts = [bounds_of([contour.shape])[0] for contour in ordered]
    assert all(a < b for a, b in pairwise(lefts))


def test_nearest_is_meant_both_ways() -> None:
    """From the lower left to the one that lies 30 mm to the right, then to the one 50 above; and so on its side."""
    for places in ([(10, 60), (40, 10), (10, 10)], [(60, 10), (10, 40), (10, 10)]):
        ordered = in_cutting_order([[CutContour("outer", box(8, 8, at), "board", "outer")] for at in places])
        assert [bounds_of([contour.shape])[:2] for contour in ordered] == places[::-1]
