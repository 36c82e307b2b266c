"""The picture of a cut sheet: what is on which layer, where the note lies, what it says."""

from dataclasses import replace

import pytest
from plain_parts import CNC, LASER, box, hole_box, plain_part, shop_with

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_picture import cut_picture
from jigmaker.cutting.cut_sheet import CutSheet
from jigmaker.drawing.picture import Picture
from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.lettering import write_text
from jigmaker.geometry.outline import Outline, bounds_of
from jigmaker.job.shop import FileChoices, Operation, Shop
from jigmaker.parts.marks import text_mark
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.sheets.sheet import PlacedPart, Sheet

PLATE = plain_part("plate", box(100, 50), (hole_box("slot", 40, 10, (30, 20)),), (text_mark("R", (5, 5)),), pieces=3)
SHOPS = [shop_with(LASER), shop_with(CNC), replace(shop_with(LASER), files=FileChoices(unit="in"))]


def _cuts(shop: Shop) -> list[CutSheet]:
    sheets = (single_part_sheet(PLATE, shop.machine.tool_mm), *place([PLATE], shop))
    return [compensate(sheet, shop.machine, how) for sheet in sheets for how in ("included", "left out")]


def _pictures() -> list[tuple[Shop, CutSheet, Picture]]:
    return [(shop, cut, cut_picture(cut, shop, "Potting bench")) for shop in SHOPS for cut in _cuts(shop)]


@pytest.mark.parametrize(("shop", "cut", "picture"), _pictures())
def test_note_lies_outside_every_outline_and_nothing_touches_the_page(
    shop: Shop, cut: CutSheet, picture: Picture
) -> None:
    """Whatever is on the note layer lies above the sheet; no coordinate is negative or on the page's edge."""
    note = [drawn.shape for drawn in picture.shapes if drawn.layer == shop.layers["note"].name]
    outlines = [contour.shape for contour in cut.contours if contour.operation == "outer"]
    assert bounds_of(note)[1] > max(cut.width_mm, bounds_of(outlines)[3])
    low_x, low_y, high_x, high_y = picture.bounds
    assert min(low_x, low_y) > 0
    assert high_x < picture.width_mm
    assert high_y < picture.height_mm


@pytest.mark.parametrize(("unit", "size"), [("mm", 50.0), ("in", 50.8)])
def test_reference_square_has_the_size_that_stands_in_it(unit: str, size: float) -> None:
    """50 mm, or 2 in, which are 50.8 mm by definition."""
    shop = replace(SHOPS[0], files=FileChoices(unit="in" if unit == "in" else "mm"))
    picture = cut_picture(_cuts(shop)[0], shop, "Potting bench")
    note = [drawn.shape for drawn in picture.shapes if drawn.layer == shop.layers["note"].name]
    (square,) = [shape for shape in note if isinstance(shape, Outline)]
    assert [piece.length for piece in square.segments] == pytest.approx([size] * 4, abs=1e-9)
    low_x, _, high_x, high_y = square.bounds
    inside = [s for s in note if s.bounds[0] > low_x and s.bounds[2] < high_x and s.bounds[3] < high_y]
    words = [
        s for text in ("50 mm" if unit == "mm" else "2 in", "reference", "square") for s in write_text(text, (0, 0), 4)
    ]
    assert len(inside) == len(words)


@pytest.mark.parametrize(
    ("shop", "how", "words"),
    [
        (SHOPS[0], 0, "Kerf 0.20 included: lines moved 0.10"),
        (SHOPS[0], 1, "Nominal size: no kerf in this file"),
        (SHOPS[1], 0, "Cutter 6.00 included: lines moved 3.00"),
        (SHOPS[1], 1, "Nominal size: no cutter in this file"),
        (SHOPS[2], 0, "Kerf 0.0079 included: lines moved 0.0039"),
    ],
)
def test_note_says_whether_the_tools_width_is_in_the_lines(shop: Shop, how: int, words: str) -> None:
    """Width and distance both, since people halve the one or the other; drawn in strokes and kept as words."""
    picture = cut_picture(_cuts(shop)[how], shop, "Potting bench, plate", ("one more",))
    assert words in picture.notes
    assert picture.notes[0] == picture.title == "Potting bench, plate"
    assert picture.notes[-1] == "one more"
    longest = write_text(words, (0, 0), 4.0)
    drawn = [drawn.shape for drawn in picture.shapes if drawn.layer == shop.layers["note"].name]
    assert _starts(longest) <= {start for line in range(6) for start in _starts_at_line(drawn, line)}


def _starts(strokes: object) -> set[tuple[float, float]]:
    return {(round(s.segments[0].start[0], 3), round(s.segments[0].start[1], 3)) for s in strokes}  # type: ignore[attr-defined]


def _starts_at_line(shapes: list[object], line: int) -> set[tuple[float, float]]:
    """The starts of all strokes, seen from the left end of one line of the note."""
    square = next(shape for shape in shapes if isinstance(shape, Outline))
    low_x, _, high_x, high_y = square.bounds
    left, base = high_x + low_x, high_y - 4.0 - 7.0 * line
    strokes = [shape for shape in shapes if not isinstance(shape, Outline)]
    return {(round(x - left, 3), round(y - base, 3)) for x, y in _starts(strokes)}


@pytest.mark.parametrize("hidden", ["mark", "note"])
def test_layer_that_is_not_written_changes_nothing_else(hidden: Operation) -> None:
    """The same shapes in the same places on the same page, less the layer's own."""
    shop = SHOPS[0]
    layers = {**shop.layers, hidden: replace(shop.layers[hidden], write=False)}
    cut = _cuts(shop)[0]
    whole, part = cut_picture(cut, shop, "t"), cut_picture(cut, replace(shop, layers=layers), "t")
    name = shop.layers[hidden].name
    assert part.shapes == tuple(drawn for drawn in whole.shapes if drawn.layer != name)
    assert [layer.name for layer in part.layers] == [layer.name for layer in whole.layers if layer.name != name]
    assert (part.width_mm, part.height_mm) == (whole.width_mm, whole.height_mm)


def test_layers_take_name_colour_and_width_from_the_shop() -> None:
    """A user's own map changes no shape."""
    shop = SHOPS[0]
    through = replace(shop.layers["outer"], name="through", colour="#123456", width_mm=0.3)
    mapped = replace(shop, layers={**shop.layers, "outer": through})
    cut = _cuts(shop)[0]
    plain, own = cut_picture(cut, shop, "t"), cut_picture(cut, mapped, "t")
    assert [drawn.shape for drawn in own.shapes] == [drawn.shape for drawn in plain.shapes]
    assert [(layer.name, layer.colour, layer.width_mm) for layer in own.layers][2] == ("through", "#123456", 0.3)
    assert [drawn.shape for drawn in own.shapes if drawn.layer == "through"] == [cut.contours[-1].shape]


def test_line_below_zero_is_refused() -> None:
    """A sheet put together by hand must keep clear of both axes."""
    sheet = Sheet("by-hand", 200, 100, (PlacedPart(PLATE, PlaneFrame(0.05, 5)),))
    with pytest.raises(OutlineError, match=r"by-hand: a line reaches \(-0.050, 4.900\), must stay above 0"):
        cut_picture(compensate(sheet, LASER, "included"), SHOPS[0], "t")
