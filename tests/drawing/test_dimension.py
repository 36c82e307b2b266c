"""Dimensions as data: what they measure, what they say, and where ISO 129-1 wants their lines; paper mm."""

import math
from dataclasses import replace

import pytest
import shapely

from jigmaker.drawing.angular_dimension import AngularDimension
from jigmaker.drawing.dimension import LinearDimension
from jigmaker.drawing.measure import BoundsPen
from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.outline import Outline

LEVEL = LinearDimension("SIZES", "NUMBERS", (10, 20), (90, 20), (0, 5))


@pytest.mark.parametrize(
    ("end", "turn_deg", "scale", "unit", "shown"),
    [
        ((90, 20), 0, 1, "mm", "80"),
        ((90, 20), 0, 0.2, "mm", "400"),
        ((90, 20), 0, 2, "mm", "40"),
        ((90, 80), 90, 1, "mm", "60"),
        ((90, 80), 0, 1, "mm", "80"),
        ((90, 80), math.degrees(math.atan2(60, 80)), 1, "mm", "100"),
        ((10 + 32.7149, 20), 0, 1, "mm", "32.7"),
        ((10 + 25.4, 20), 0, 1, "in", "1"),
        ((10 + 25.4 * 2.75 / 5, 20), 0, 0.2, "in", "2 3/4"),
        ((10 + 25.4 * 46.6 / 64, 20), 0, 1, "in", "47/64"),
        ((-70, 20), 0, 1, "mm", "80"),
    ],
)
def test_a_length_is_what_lies_between_its_points(end, turn_deg, scale, unit, shown):
    """Along the dimension's direction, at the scale; rounded to tenths of a mm or to 64ths of an inch."""
    assert replace(LEVEL, end=end, turn_deg=turn_deg, scale=scale, unit=unit).text == shown


@pytest.mark.parametrize(
    ("first", "second", "shown"), [(0, 78.504, "78.50°"), (170, -100, "90.00°"), (300, 30, "90.00°"), (90, 90, "0.00°")]
)
def test_an_angle_is_told_to_hundredths(first, second, shown):
    """From the first ray anticlockwise to the second, whatever turns they are given in."""
    assert AngularDimension("SIZES", "NUMBERS", (0, 0), first, second, 20).text == shown


def test_extension_lines_leave_the_work_free_and_end_beyond():
    """ISO 129-1: gap and overrun about eight widths of a line of 0.25: 2 mm."""
    one, other, line, *heads = LEVEL.lines
    assert (one.points(), other.points()) == ([(10, 18), (10, 3)], [(90, 18), (90, 3)])
    assert line.points() == [(10, 5), (90, 5)]
    assert [head.points()[1] for head in heads] == [(10, 5), (90, 5)]


@pytest.mark.parametrize("turn_deg", [0, 90, 180, 270, 37, 143, 233])
def test_numbers_are_read_from_below_or_from_the_right(turn_deg):
    """ISO 129-1: over the line, upright for whoever looks from the lower edge or from the right one."""
    ux, uy = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    dimension = replace(LEVEL, start=(0, 0), end=(80 * ux, 80 * uy), line_at=(-15 * uy, 15 * ux), turn_deg=turn_deg)
    assert -90 < dimension.text_turn_deg <= 90
    (ax, ay), (bx, by) = dimension.feet
    off = math.dist(dimension.text_at, ((ax + bx) / 2, (ay + by) / 2))
    assert off == pytest.approx(1.25)
    above = (-math.sin(math.radians(dimension.text_turn_deg)), math.cos(math.radians(dimension.text_turn_deg)))
    assert (dimension.text_at[0] - (ax + bx) / 2) * above[0] + (dimension.text_at[1] - (ay + by) / 2) * above[1] > 0


@pytest.mark.parametrize(("beyond", "side"), [("start", -1), ("end", 1)])
@pytest.mark.parametrize("length", [2.0, 5.0, 8.0])
def test_a_number_without_room_stands_outside(beyond, side, length):
    """Its letters lie clear beyond the chosen extension line; heads point inward where they have no room between."""
    dimension = replace(LEVEL, end=(10 + length, 20), scale=length / 1234.5, beyond=beyond)
    xs = [point[0] for stroke in dimension.strokes for point in stroke.points()]
    assert min(xs) > 10 + length if side > 0 else max(xs) < 10
    tips = [(head.points()[0][0] - head.points()[1][0]) for head in dimension.lines[-2:]]
    inside = length > 7
    assert [tip > 0 for tip in tips] == [inside, not inside]


def test_a_dimension_of_no_length_has_no_line():
    """Nor does it fall over it."""
    assert replace(LEVEL, end=(10, 20)).text == "0"
    assert len(replace(LEVEL, end=(10, 20)).lines) == 2


def test_arc_heads_and_extensions_of_an_angle():
    """The arc keeps its radius, ends on both rays; the ray whose edge is drawn far enough gets no extension."""
    angle = AngularDimension("SIZES", "NUMBERS", (5, 5), 0, 78.5, 20, (0.0, 50.0))
    extension, arc, *heads = angle.lines
    assert extension.points() == [(7, 5), (27, 5)]
    assert [math.dist(point, (5, 5)) for point in arc.points(8)] == pytest.approx([20] * len(arc.points(8)))
    ends = [arc.segments[0].start, arc.segments[-1].end]
    assert [math.degrees(math.atan2(y - 5, x - 5)) for x, y in ends] == pytest.approx([0, 78.5])
    assert [head.points()[1] for head in heads] == [pytest.approx(end) for end in ends]


def test_a_picture_draws_its_dimensions_with_any_pen():
    """Measuring pens see them, and so do bounds; layers are those that the dimension names."""
    box = DrawnShape("EDGES", Outline.from_points([(10, 20), (90, 20), (90, 40), (10, 40)]))
    layers = tuple(PictureLayer(name, "#000000", 0.25) for name in ("EDGES", "SIZES", "NUMBERS"))
    picture = Picture("Box", 100, 50, layers, (box,), dimensions=(LEVEL,), scale=0.5)
    seen = BoundsPen()
    picture.draw(seen)
    assert seen.box == picture.bounds == (10, 3, 90, 40)


@pytest.mark.parametrize("middle_deg", range(0, 360, 15))
def test_the_number_of_an_angle_is_clear_of_its_arc(middle_deg):
    """ISO 129-1: numbers stand clear of dimension lines; here by a quarter of a letter's height at least."""
    angle = AngularDimension("SIZES", "NUMBERS", (0, 0), middle_deg - 39, middle_deg + 39, 20)
    (x, y), half = angle.text_at, text_width(angle.text, angle.height_mm) / 2
    number = shapely.box(x - half, y, x + half, y + angle.height_mm)
    arc = shapely.Point(0, 0).buffer(20, 256)
    assert angle.height_mm / 4 < arc.distance(number) < 2 * angle.height_mm
