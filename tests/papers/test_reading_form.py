"""The printed reading form: every place of the coupon with letter, tool and three boxes; the picture shows the same."""

from dataclasses import replace

import pytest
from marks_on_parts import polygon
from measured_coupon import SHOPS
from sample_jobs import DEMO_SHOP
from shapely.geometry import LineString, Point, Polygon

from jigmaker.coupon.stations import stations
from jigmaker.drawing.page import BOX, Figures, Page, Table, Words
from jigmaker.geometry.lettering import write_text
from jigmaker.geometry.outline import Stroke
from jigmaker.job.shop import Machine
from jigmaker.papers.coupon_pictures import DIMENSION, LETTERS, PIECE, signs_of_skew, where_to_measure
from jigmaker.papers.reading_form import reading_form
from jigmaker.parts.coupon import coupon
from jigmaker.parts.coupon_size import coupon_size

NAMES = [*SHOPS, "wide", "thin"]


def shop_of(name):
    machine = replace(DEMO_SHOP, machine=Machine("cnc", 6.35))
    thin = replace(DEMO_SHOP, machine=Machine("cnc", 3.175), sheet=replace(DEMO_SHOP.sheet, thickness_mm=3.0))
    return {**SHOPS, "wide": (machine, "in"), "thin": (thin, "mm")}[name]


def table_of(page: Page) -> Table:
    return next(block for block in page.blocks if isinstance(block, Table))


@pytest.mark.parametrize("name", NAMES)
def test_every_place_has_tool_figure_and_three_boxes(name):
    """Each station once, then both faces of the gap where there is one, then the turn-over test."""
    shop, unit = shop_of(name)
    size, rows = coupon_size(shop, unit), table_of(reading_form(shop, unit)).rows
    assert [row[0] for row in rows][: len(stations(size))] == [place.name for place in stations(size)]
    assert all(row[3:] == (BOX, BOX, BOX) for row in rows)
    assert all(row[1].split(":")[0] in ("outside jaws", "inside jaws", "caliper") for row in rows)
    assert len(rows) == len(stations(size)) + (3 if size.gap else 1)


def test_it_says_what_to_state_about_the_cut():
    """Which file, what the program added, which way the first line leans and how the plate lay: as in form.toml."""
    said = " ".join(block.text for block in reading_form(DEMO_SHOP, "mm").blocks if isinstance(block, Words))
    for words in (
        "Which file was cut",
        "finished-size",
        "machine's own program",
        "right",
        "left",
        "quarter turn",
        "form.toml",
    ):
        assert words in said


@pytest.mark.parametrize("name", NAMES)
def test_pictures_are_black_and_lie_on_their_page(name):
    """Nothing is cut off at the edge, and nothing needs colour."""
    shop, unit = shop_of(name)
    for picture in (where_to_measure(coupon(shop, unit), coupon_size(shop, unit)), signs_of_skew()):
        low_x, low_y, high_x, high_y = picture.bounds
        assert min(low_x, low_y) > 0
        assert high_x < picture.width_mm
        assert high_y < picture.height_mm
        assert {layer.colour for layer in picture.layers} == {"#000000"}


@pytest.mark.parametrize("name", NAMES)
def test_dimension_lines_outside_the_piece_are_as_long_as_their_lengths(name):
    """The four lengths of D, drawn between their own edges: long and short in x and in y, to scale."""
    shop, unit = shop_of(name)
    size, part = coupon_size(shop, unit), coupon(shop, unit)
    picture = where_to_measure(part, size)
    body = polygon(part).buffer(0.01)
    low_x, low_y = picture.shapes[0].shape.bounds[:2]
    lines = [s.shape for s in picture.shapes if s.layer == DIMENSION and isinstance(s.shape, Stroke)]
    straight = [line.segments[0] for line in lines if len(line.segments) == 1]
    outside = [p.length for p in straight if not body.intersects(_moved(p, -low_x, -low_y))]
    for length in (*size.x_lengths, *size.y_lengths):
        assert any(found == pytest.approx(length, abs=1e-9) for found in outside)


def _moved(piece, dx, dy):
    return LineString([(x + dx, y + dy) for x, y in (piece.start, piece.end)])


@pytest.mark.parametrize("name", NAMES)
def test_each_wedge_is_drawn_where_it_rests_and_has_its_letter_there_and_in_its_window(name):
    """Touching both flanks of its slot, 12 mm from the thick end; the letter twice, in slot and window."""
    shop, unit = shop_of(name)
    part = coupon(shop, unit)
    picture = where_to_measure(part, coupon_size(shop, unit))
    low_x, low_y = picture.shapes[0].shape.bounds[:2]
    heavy = [shape.shape for shape in picture.shapes if shape.layer == LETTERS]
    pieces = [s.shape for s in picture.shapes[1 + len(part.holes) :] if s.layer == PIECE]
    for letter, axis in (("A", 1), ("B", 0)):
        for hole in (hole for hole in part.holes if hole.name.startswith(f"{letter}, ")):
            inside = [s for s in heavy if _polygon_of(hole).contains(_middle(s, -low_x, -low_y))]
            assert len(inside) == len(write_text(letter, (0, 0), 5))
        (slot,) = (_polygon_of(hole) for hole in part.holes if hole.name == f"{letter}, slot")
        shapes = [Polygon([(x - low_x, y - low_y) for x, y in piece.points()]) for piece in pieces]
        (wedge,) = (shape for shape in shapes if slot.buffer(1e-6).contains(shape))
        assert wedge.intersection(slot.boundary.buffer(1e-6)).length > 2 * 20
        assert slot.bounds[axis + 2] - wedge.bounds[axis + 2] == pytest.approx(12)


def _polygon_of(hole):
    return LineString([*hole.contour.points(), hole.contour.points()[0]]).convex_hull


def _middle(stroke, dx, dy):
    low_x, low_y, high_x, high_y = stroke.bounds
    return Point((low_x + high_x) / 2 + dx, (low_y + high_y) / 2 + dy)


def test_the_pictured_signs_are_those_of_the_figures():
    """Of each leaning square the heavy diagonal is the longer one: rising in the upper picture, falling below."""
    picture = signs_of_skew()
    heavy = [s.shape.segments[0] for s in picture.shapes if s.layer == LETTERS and s.shape.length > 20]
    light = [s.shape.segments[0] for s in picture.shapes if s.layer == DIMENSION and 20 < s.shape.length < 41]
    upper, lower = sorted(heavy, key=lambda piece: -piece.start[1])
    assert (upper.end[0] - upper.start[0]) * (upper.end[1] - upper.start[1]) > 0
    assert (lower.end[0] - lower.start[0]) * (lower.end[1] - lower.start[1]) < 0
    assert upper.length > max(piece.length for piece in light) < lower.length
    assert sum(shape.layer == PIECE for shape in picture.shapes) == 2


def test_the_page_is_the_same_every_time():
    """Pictures and words."""
    one, two = reading_form(DEMO_SHOP, "mm"), reading_form(DEMO_SHOP, "mm")
    assert one == two
    assert sum(width for _, width, _ in next(b for b in one.blocks if isinstance(b, Figures)).pictures) < 186
