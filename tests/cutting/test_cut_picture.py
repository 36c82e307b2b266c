"""The picture of a cut sheet: what is on which layer, where the note lies, what the file says."""

from dataclasses import replace

import pytest
import shapely
from plain_parts import CNC, LASER, box, hole_box, plain_part, shop_with

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_picture import cut_picture, has_square, operations_apart, reference_words, shape_counts
from jigmaker.cutting.cut_sheet import CutSheet
from jigmaker.drawing.picture import Picture
from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.outline import Outline, Stroke, bounds_of
from jigmaker.job.shop import FileChoices, Operation, Shop
from jigmaker.parts.marks import text_mark
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.sheets.sheet import PlacedPart, Sheet

PLATE = plain_part("plate", box(100, 50), (hole_box("slot", 40, 10, (30, 20)),), (text_mark("R", (5, 5)),), pieces=3)
SHOPS = [shop_with(LASER), shop_with(CNC), replace(shop_with(LASER), files=FileChoices(unit="in"))]


def _cuts(shop: Shop) -> list[CutSheet]:
    sheets = (single_part_sheet(PLATE, shop.machine.tool_mm), *place([PLATE], shop))
    return [
        compensate(sheet, shop.machine, how, shop.files.unit) for sheet in sheets for how in ("included", "left out")
    ]


def _pictures() -> list[tuple[Shop, CutSheet, Picture]]:
    return [(shop, cut, cut_picture(cut, shop, "Potting bench")) for shop in SHOPS for cut in _cuts(shop)]


AVERAGED = replace(SHOPS[0], machine=replace(SHOPS[0].machine, kerf_x_mm=0.19, kerf_y_mm=0.21))


@pytest.mark.parametrize(("shop", "cut", "picture"), _pictures())
def test_the_page_is_the_sheet_and_the_note_lies_in_its_waste(shop: Shop, cut: CutSheet, picture: Picture) -> None:
    """Nothing beyond the sheet, nothing on its edge; the square and its figure 2 mm or more from every part's line."""
    assert (picture.width_mm, picture.height_mm) == (cut.length_mm, cut.width_mm)
    low_x, low_y, high_x, high_y = picture.bounds
    assert min(low_x, low_y) > 0
    assert high_x < picture.width_mm
    assert high_y < picture.height_mm
    note = [drawn.shape for drawn in picture.shapes if drawn.layer == shop.layers["note"].name]
    outlines = [contour.shape for contour in cut.contours if contour.operation == "outer"]
    assert bool(note) == (cut.name == "sheet-1")
    if note:
        square = shapely.box(*bounds_of(shape for shape in note if not isinstance(shape, Stroke)))
        crosses = [shape for shape in note if isinstance(shape, Stroke)]
        assert bool(crosses) == (shop.machine.kind == "cnc")
        assert min(square.distance(shapely.Polygon(outline.points())) for outline in outlines) >= 2


def test_a_full_sheet_has_no_square_and_tells_a_parts_size_in_its_place() -> None:
    """Where no 50 mm are free. The part's lines are its nominal width and the kerf: 195 + 0.2."""
    full = plain_part("full", box(195, 95), pieces=1)
    sheet = Sheet("sheet-1", 200, 100, (PlacedPart(full, PlaneFrame(2, 2)),))
    cut, shop = compensate(sheet, LASER, "included"), SHOPS[0]
    assert not has_square(cut, shop) and cut.square_at is None
    assert {drawn.layer for drawn in cut_picture(cut, shop, "t").shapes} == {shop.layers["outer"].name}
    assert reference_words((sheet,), shop) == ("full, over its lines, left to right", "195.20 mm")
    assert "full: 195.20 mm over its lines, left to right" in cut_picture(cut, shop, "t").notes


def test_a_shop_without_a_note_measures_a_part() -> None:
    """Its files have no square, so nobody is told to measure one; the page stays the same."""
    shop, (sheet,) = SHOPS[0], place([PLATE], SHOPS[0])
    bare = replace(shop, layers={**shop.layers, "note": replace(shop.layers["note"], write=False)})
    assert reference_words((sheet,), shop) == ("reference square, side to side", "50.00 mm")
    assert reference_words((sheet,), bare) == ("plate, over its lines, left to right", "100.20 mm")
    apart = replace(
        bare, files=replace(bare.files, operations="apart")
    )  # the file of marks, opened first, has no outline
    assert reference_words((sheet,), apart)[0] == "plate, over its lines in -outer, left to right"
    assert not any("square" in words for words in cut_picture(compensate(sheet, LASER, "included"), bare, "t").notes)


@pytest.mark.parametrize(("unit", "size"), [("mm", 50.0), ("in", 50.8)])
def test_reference_square_has_the_size_that_stands_in_it(unit: str, size: float) -> None:
    """50 mm, or 2 in, which are 50.8 mm by definition; one line of letters in the middle and no more."""
    shop = replace(SHOPS[0], files=FileChoices(unit="in" if unit == "in" else "mm"))
    (sheet,) = place([PLATE], shop)
    picture = cut_picture(compensate(sheet, LASER, "included", shop.files.unit), shop, "Potting bench")
    note = [drawn.shape for drawn in picture.shapes if drawn.layer == shop.layers["note"].name]
    (square,) = [shape for shape in note if isinstance(shape, Outline)]
    assert [piece.length for piece in square.segments] == pytest.approx([size] * 4, abs=1e-9)
    words = "50 mm" if unit == "mm" else "2 in"
    low_x, low_y, high_x, high_y = bounds_of(shape for shape in note if shape is not square)
    assert high_x - low_x == pytest.approx(text_width(words, 6.0), abs=0.05) and high_y - low_y < 6.1
    assert (low_x + high_x, low_y + high_y) == pytest.approx(
        (sum(square.bounds[0::2]), sum(square.bounds[1::2])), abs=0.1
    )


@pytest.mark.parametrize(
    ("shop", "how", "words"),
    [
        (SHOPS[0], 0, "Kerf 0.20 included: lines moved 0.10"),
        (AVERAGED, 0, "Kerf 0.20, mean of x 0.19, y 0.21, included: lines moved 0.10"),
        (SHOPS[0], 1, "Finished size: no kerf in this file"),
        (SHOPS[1], 0, "Cutter 6.00 included: lines moved 3.00"),
        (SHOPS[1], 1, "Finished size: no cutter in this file"),
        (SHOPS[2], 0, "Kerf 0.0079 included: lines moved 0.0039"),
    ],
)
def test_a_file_says_whether_the_tools_width_is_in_the_lines(shop: Shop, how: int, words: str) -> None:
    """Width and distance both, since people halve the one or the other; as words beside the lines, none drawn."""
    picture = cut_picture(_cuts(shop)[how], shop, "Potting bench, plate", ("one more",))
    assert words in picture.notes
    thick = "0.3583 in" if shop.files.unit == "in" else "9.10 mm"  # the sheet, 9.1 / 25.4 in
    assert any(f"birch plywood, {thick} thick" in note for note in picture.notes)
    assert picture.notes[0] == picture.title == "Potting bench, plate"
    assert picture.notes[-1] == "one more"


@pytest.mark.parametrize("hidden", ["mark", "note"])
def test_layer_that_is_not_written_changes_nothing_else(hidden: Operation) -> None:
    """The same shapes in the same places on the same page, less the layer's own."""
    shop = SHOPS[0]
    layers = {**shop.layers, hidden: replace(shop.layers[hidden], write=False)}
    cut = _cuts(shop)[2]
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


@pytest.mark.parametrize("shop", SHOPS)
def test_one_picture_an_operation_shows_what_is_on_its_layer(shop: Shop) -> None:
    """Each shape of the whole is in the picture of its own operation and in no other."""
    cut = _cuts(shop)[2]
    whole = cut_picture(cut, shop, "t")
    parted = operations_apart(whole, shape_counts(cut, whole, shop), shop)
    assert list(parted) == [key for key in ("mark", "inner", "outer") if key in {c.operation for c in cut.contours}]
    note = shop.layers["note"].name
    for operation, picture in parted.items():
        own = [drawn for drawn in picture.shapes if drawn.layer != note]
        assert own == [drawn for drawn in whole.shapes if drawn.layer == shop.layers[operation].name] != []
        assert [d for d in picture.shapes if d.layer == note] == [d for d in whole.shapes if d.layer == note]


def test_line_below_zero_is_refused() -> None:
    """A sheet put together by hand must keep clear of both axes."""
    sheet = Sheet("by-hand", 200, 100, (PlacedPart(PLATE, PlaneFrame(0.05, 5)),))
    with pytest.raises(OutlineError, match=r"by-hand: a line reaches \(-0.050, 4.900\), must stay above 0"):
        cut_picture(compensate(sheet, LASER, "included"), SHOPS[0], "t")
