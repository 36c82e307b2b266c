"""Placing: pieces apart, inside the margin, all of them, the same every time; what is too large is named."""

from collections import Counter
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
import shapely
from plain_parts import CNC, LASER, box, plain_part, shop_with

from jigmaker.cutting.compensate import compensate
from jigmaker.errors import DoesNotFit
from jigmaker.geometry.outline import Outline, bounds_of
from jigmaker.job.shop import FileChoices, Shop
from jigmaker.parts.part import Part
from jigmaker.sheets import footprint as footprint_module
from jigmaker.sheets.footprint import footprints
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.sheets.sheet import Sheet

BEARER = [(0, 60), (0, 48), (20, 0), (44, 0), (44, 47), (101, 47), (101, 0), (125, 0), (210, 71), (210, 84), (100, 84)]
PARTS = [
    plain_part("plate", Outline.from_points([(30, 0), (418, 0), (448, 30), (448, 220), (0, 220), (0, 30)])),
    plain_part("bearer", Outline.from_points([(float(x), float(y)) for x, y in BEARER]), pieces=4),
    plain_part("strip", box(402.8, 76.7), pieces=4),
    plain_part("disc", Outline.from_rounded([(0, 0), (60, 0), (60, 60), (0, 60)], 29.0), pieces=5),
    plain_part("gauge", Outline.from_points([(0, 0), (210, 0), (210, 11.5), (0, 1)]), pieces=2),
    plain_part("layer", box(60, 80), pieces=6),
]
DIRECTED = replace(LASER, kerf_x_mm=LASER.tool_mm - 0.1, kerf_y_mm=LASER.tool_mm + 0.1)
SHOPS = [
    pytest.param(shop_with(LASER), 3.0, id="laser"),
    pytest.param(shop_with(DIRECTED), 3.0, id="laser, kerf in x and y"),
    pytest.param(shop_with(CNC), 8.0, id="cnc"),
]


def _polygons(sheet: Sheet) -> list[shapely.Polygon]:
    return [shapely.Polygon(placed.part.outline.placed(placed.sheet_from_part).points()) for placed in sheet.placed]


@pytest.mark.parametrize(("shop", "gap"), SHOPS)
def test_pieces_keep_their_gap_and_the_path_its_margin(shop: Shop, gap: float) -> None:
    """3 mm between laser-cut pieces, cutter + 2 mm between routed ones; the path lies inside the margin."""
    for sheet in place(PARTS, shop):
        pieces = _polygons(sheet)
        assert all(one.distance(two) >= gap - 2e-3 for one, two in combinations(pieces, 2))
        path = bounds_of(contour.shape for contour in compensate(sheet, shop.machine, "included").contours)
        margin = shop.sheet.margin_mm - 1e-6
        assert min(path[0], path[1], sheet.length_mm - path[2], sheet.width_mm - path[3]) >= margin


NOTCHED = [
    (0.0, 0.0),
    (109.19999999999999, 0.0),
    (109.19999999999999, 64.09242756579577),
    (31.35, 52.31872201987997),
    (31.35, 41.0),
    (21.35, 41.0),
    (21.35, 50.80636421051378),
    (0.0, 47.577480287516956),
]
"""A stop whose offset by 14 mm the geometry library (GEOS 3.14.1) gives in two pieces; rounded, it gives one."""


def test_a_notch_narrower_than_the_gap_round_a_piece() -> None:
    """Its notch, 10 mm wide, closes within the 14 mm that bridges of 10 mm and a cutter of 4 mm keep round it."""
    machine = replace(CNC, tool_mm=4.0, bridges=8, bridge_width_mm=10.0)
    (sheet,) = place([plain_part("notched", Outline.from_points(NOTCHED), pieces=3)], shop_with(machine))
    assert min(one.distance(two) for one, two in combinations(_polygons(sheet), 2)) >= 14 - 2e-3


@pytest.mark.parametrize(("shop", "gap"), SHOPS)
def test_every_piece_is_placed_once_at_a_quarter_turn(shop: Shop, gap: float) -> None:
    """As many as the parts ask for, on sheets numbered from 1 and of the shop's size."""
    sheets = place(PARTS, shop)
    placed = [piece for sheet in sheets for piece in sheet.placed]
    assert Counter(piece.part.slug for piece in placed) == {part.slug: part.pieces for part in PARTS}
    assert all(piece.sheet_from_part.turn_deg in (0.0, 90.0, 180.0, 270.0) for piece in placed)
    assert [sheet.name for sheet in sheets] == [f"sheet-{i + 1}" for i in range(len(sheets))]
    assert {(sheet.length_mm, sheet.width_mm) for sheet in sheets} == {(600.0, 400.0)}


SLANTED = plain_part("slanted", Outline.from_points([(0.0, 0.0), (6.0, 0.0), (206.0, 200.0), (200.0, 200.0)]))


@pytest.mark.parametrize("part", [*PARTS, SLANTED], ids=lambda part: part.slug)
def test_boxes_in_a_piece_lie_in_it_however_it_is_turned(part: Part) -> None:
    """Two pieces strike each other for certain where boxes in them meet: a bar with no room for a box has none."""
    for footprint in footprints(part, 0.2):
        boxes = [shapely.box(*edges) for edges in footprint.inside if edges[0] == edges[0]]
        assert bool(boxes) == (part is not SLANTED)
        assert all(shapely.Polygon(footprint.points).buffer(1e-9).covers(box) for box in boxes)
        assert all(one.intersection(two).area < 1e-9 for one, two in combinations(boxes, 2))
        if part.slug == "layer":
            assert boxes[0].area == pytest.approx(60.2 * 80.2, rel=0.01)


def test_boxes_rule_out_no_place_that_is_free(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without any boxes, every place judged by the whole outlines, pieces lie in the same places."""
    quick = place([*PARTS, SLANTED], SHOPS[0].values[0])
    monkeypatch.setattr(footprint_module, "_boxes_in", lambda path: np.full((1, 4), np.nan))
    assert place([*PARTS, SLANTED], SHOPS[0].values[0]) == quick


def test_placing_twice_gives_the_same_sheets() -> None:
    """No clock, no chance."""
    assert place(PARTS, shop_with(LASER)) == place(PARTS, shop_with(LASER))


def test_sheets_are_filled_before_a_new_one_is_begun() -> None:
    """The kit above, 31 dm2, goes on two sheets of 24 dm2; at most one more is wasted."""
    area = sum(part.outline.area * part.pieces for part in PARTS)
    assert 2 * 600 * 400 > area > 600 * 400
    assert len(place(PARTS, shop_with(LASER))) <= 3


def test_small_pieces_go_into_the_gaps_of_large_ones() -> None:
    """Two frames open at one side leave room for a bar each on a sheet they otherwise fill."""
    frame = Outline.from_points([(0, 0), (186, 0), (186, 60), (150, 60), (150, 20), (36, 20), (36, 60), (0, 60)])
    parts = [plain_part("frame", frame, pieces=2), plain_part("bar", box(100, 30), pieces=2)]
    assert len(place(parts, shop_with(LASER, length_mm=197.0, width_mm=134.0))) == 1


def test_a_piece_as_large_as_the_room_fits_in_either_direction() -> None:
    """600 x 400 less margins of 5 and the kerf: 589.8 x 389.8, given upright."""
    (sheet,) = place([plain_part("board", box(389.8, 589.8))], shop_with(LASER, margin_mm=5.0))
    assert sheet.placed[0].sheet_from_part.turn_deg in (90.0, 270.0)


@pytest.mark.parametrize(
    ("shop", "words"),
    [
        (shop_with(LASER), r"long board: 589.9 mm x 100 mm does not fit the sheet of 600 mm x 400 mm, .* sheet.length"),
        (replace(shop_with(LASER), files=FileChoices(unit="in")), r'long board: 23 7/32" x 3 15/16" does not fit'),
    ],
)
def test_what_is_larger_than_the_sheet_is_named_with_the_key_to_change(shop: Shop, words: str) -> None:
    """A tenth too long for the room; every such part is told."""
    parts: list[Part] = [plain_part("long-board", box(589.9, 100)), plain_part("wide-board", box(400, 395))]
    with pytest.raises(DoesNotFit, match=words) as caught:
        place(parts, replace(shop, sheet=replace(shop.sheet, margin_mm=5.0)))
    assert [fault.partition(":")[0] for fault in caught.value.faults] == ["long board", "wide board"]


def test_no_parts_need_no_sheet() -> None:
    """An empty kit is not an error."""
    assert place([], shop_with(LASER)) == ()


@pytest.mark.parametrize("tool", [0.0, 0.2, 6.0])
def test_a_parts_own_sheet_holds_it_unturned_and_clear_of_both_axes(tool: float) -> None:
    """Ten millimetres are free beyond where a mitred path (2 tool widths) and its tool (a half) can reach."""
    sheet = single_part_sheet(PARTS[1], tool)
    (piece,) = sheet.placed
    assert (sheet.name, piece.sheet_from_part.turn_deg) == ("bearer", 0.0)
    low_x, low_y, high_x, high_y = piece.part.outline.placed(piece.sheet_from_part).bounds
    free = (low_x, low_y, sheet.length_mm - high_x, sheet.width_mm - high_y)
    assert free == pytest.approx([10 + 2.5 * tool] * 4, abs=1e-9)


@pytest.mark.parametrize("shop", [pytest.param(shop_with(LASER), id="laser"), pytest.param(shop_with(CNC), id="cnc")])
def test_what_is_left_whole_is_cut_by_nothing_and_as_large_as_can_be(shop: Shop) -> None:
    """The L beside and above all pieces of a sheet: no path with its tool comes into it, and 1 mm more would meet one
    or be a piece's margin."""
    cut = shop.machine.tool_mm
    for sheet in place(PARTS, shop):
        (right, _), (_, above) = sheet.left_whole(2.5 * cut + 1.0)
        paths = [
            shapely.LinearRing(contour.shape.points()).buffer(cut / 2)
            for contour in compensate(sheet, shop.machine, "included").contours
            if isinstance(contour.shape, Outline)
        ]
        far_x, far_y = (max(path.bounds[i] for path in paths) for i in (2, 3))
        assert far_x <= sheet.length_mm - right < far_x + 2 * cut + 1.001
        assert far_y <= sheet.width_mm - above < far_y + 2 * cut + 1.001
