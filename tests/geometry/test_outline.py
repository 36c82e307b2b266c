"""Outlines against closed forms, published bulge facts and dense sampling."""

from itertools import pairwise
from math import atan2, degrees, hypot, pi, radians, tan

import pytest
from pytest import approx
from shapely.geometry import Polygon

from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Stroke, bounds_of

# An anticlockwise outline with a concave arc, a convex one and no symmetry.
KEY = Outline(
    (
        Line((0, 0), (60, 0)),
        Arc((60, 0), (70, 10), tan(radians(90) / 4)),
        Line((70, 10), (70, 40)),
        Line((70, 40), (50, 40)),
        Arc((50, 40), (30, 40), -1.0),
        Line((30, 40), (0, 40)),
        Line((0, 40), (0, 0)),
    )
)


# Published: CAD programming reference on GetBulge, bulge = tan(included angle / 4), negative when clockwise.
@pytest.mark.parametrize(
    ("included_deg", "bulge"),
    [(30, 0.131652498), (45, 0.198912367), (60, 0.267949192), (90, 0.414213562), (120, 0.577350269), (180, 1.0)],
)
def test_bulge_of_published_angles(included_deg: float, bulge: float) -> None:
    """An arc of the printed bulge turns by the printed angle, and so does its mirror image the other way."""
    assert degrees(Arc((0, 0), (2, 0), bulge).included) == approx(included_deg, abs=1e-6)
    assert degrees(Arc((0, 0), (2, 0), -bulge).included) == approx(-included_deg, abs=1e-6)


def test_positive_bulge_runs_anticlockwise() -> None:
    """From (0,0) to (2,0) bulge +1 goes round (1,0) through (1,-1): measured with an independent DXF library."""
    arc = Arc((0, 0), (2, 0), 1.0)
    assert arc.centre == approx((1, 0)) and arc.radius == approx(1)
    assert arc.points(1)[1] == approx((1, -1), abs=1e-12)
    assert arc.start_direction == approx((0, -1), abs=1e-12) and arc.end_direction == approx((0, 1), abs=1e-12)


@pytest.mark.parametrize(("side", "radius"), [(40, 3), (40, 8.5), (10, 4.9), (125.5, 0.1)])
def test_square_with_rounded_corners(side: float, radius: float) -> None:
    """Closed forms: area a^2 - (4 - pi) r^2, length 4a - (8 - 2 pi) r; all four corners are quarter turns."""
    outline = Outline.from_rounded([(0, 0), (side, 0), (side, side), (0, side)], radius)
    assert outline.area == approx(side**2 - (4 - pi) * radius**2, rel=1e-12)
    assert outline.length == approx(4 * side - (8 - 2 * pi) * radius, rel=1e-12)
    assert [s.bulge for s in outline.segments if s.bulge] == approx([0.414213562] * 4, abs=1e-9)
    assert outline.bounds == approx((0, 0, side, side), abs=1e-9)


def test_rounded_corner_of_a_clockwise_outline_turns_right() -> None:
    """Run the other way round, the corners bend the other way and the area changes its sign only."""
    outline = Outline.from_rounded([(0, 40), (40, 40), (40, 0), (0, 0)], 3)
    assert outline.area == approx(-(40**2 - (4 - pi) * 9))
    assert all(s.bulge < 0 for s in outline.segments if s.bulge)


def test_area_of_half_discs_is_exact() -> None:
    """KEY by hand: 70 x 40, a corner of radius 10 lost, a half disc of radius 10 lost."""
    assert KEY.area == approx(2800 - (1 - pi / 4) * 100 - pi * 50, rel=1e-12)


def test_area_against_polygons() -> None:
    """An independent kernel gives the same area for the flattened outline, up to its chords."""
    assert Polygon(KEY.points(512)).area == approx(KEY.area, abs=2e-3)
    assert Polygon(KEY.points(64)).is_valid


@pytest.mark.parametrize("bulge", [0.05, 0.41, 0.9, 1.0, -0.2, -0.7, -1.0])
@pytest.mark.parametrize("turn_deg", range(0, 360, 35))
def test_arc_extremes_against_dense_sampling(bulge: float, turn_deg: int) -> None:
    """The box of an arc is the box of 40 000 points on it."""
    frame = PlaneFrame(3, -7, turn_deg)
    stroke = Stroke((Arc(frame.point((0, 0)), frame.point((12, 0)), bulge),))
    (x_low, y_low, x_high, y_high), dense = stroke.bounds, stroke.points(10_000)
    assert (x_low, x_high) == approx((min(p[0] for p in dense), max(p[0] for p in dense)), abs=1e-6)
    assert (y_low, y_high) == approx((min(p[1] for p in dense), max(p[1] for p in dense)), abs=1e-6)


def test_points_lie_on_the_arc() -> None:
    """Every point is a radius from the centre, the steps are equal, 64 a quarter."""
    arc = Arc((10, 0), (0, 10), tan(radians(90) / 4))
    points = [*arc.points(64), arc.end]
    assert len(points) == 65
    assert all(hypot(*p) == approx(10) for p in points)
    turns = [degrees(atan2(p[1], p[0])) for p in points]
    assert [b - a for a, b in pairwise(turns)] == approx([90 / 64] * 64)


def test_mirrored_keeps_its_sense() -> None:
    """The mirror image runs anticlockwise as well; x becomes -x for every corner; twice mirrored is the original."""
    image = KEY.mirrored()
    assert image.area == approx(KEY.area)
    assert {(-x, y) for x, y in KEY.corners} == set(image.corners)
    assert image.bounds == approx((-70, 0, 0, 40))
    assert set(image.mirrored().segments) == set(KEY.segments)


def test_reversed_changes_the_sign_of_the_area_only() -> None:
    """The same pieces, run backwards."""
    assert KEY.reversed().area == approx(-KEY.area)
    assert KEY.reversed().length == approx(KEY.length)
    assert KEY.reversed().reversed() == KEY


@pytest.mark.parametrize("turn_deg", [0, 37, 90, 180, 271.5])
def test_placing_keeps_size(turn_deg: float) -> None:
    """Turned and shifted, area and length stay; turned back, so do the corners."""
    placed = KEY.placed(PlaneFrame(100, 50, turn_deg))
    assert (placed.area, placed.length) == approx((KEY.area, KEY.length))
    back = placed.placed(PlaneFrame(-100, -50)).placed(PlaneFrame(turn_deg=-turn_deg))
    assert [c for corner in back.corners for c in corner] == approx([c for p in KEY.corners for c in p], abs=1e-9)


def test_circle() -> None:
    """A circle's closed forms, its mirror image and the polygon through its points."""
    circle = Circle((5, 2), 3)
    assert (circle.area, circle.length) == approx((9 * pi, 6 * pi))
    assert circle.bounds == (2, -1, 8, 5) and circle.mirrored().centre == (-5, 2)
    assert Polygon(circle.points()).area == approx(circle.area, rel=2e-4)
    assert circle.placed(PlaneFrame(1, 1, 90)).centre == approx((-1, 6))


def test_bounds_of_several() -> None:
    """The box round a disc, an outline and a stroke."""
    shapes = [Circle((0, 0), 2), KEY, Stroke.from_points([(5, 5), (90, -9)])]
    assert bounds_of(shapes) == approx((-2, -9, 90, 40))


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: Outline((Line((0, 0), (1, 0)), Line((1, 0), (1, 1)))), r"outline is open: ends at \(1, 1\)"),
        (lambda: Outline((Line((0, 0), (1, 0)), Line((2, 0), (0, 0)))), r"gap from \(1, 0\) to \(2, 0\)"),
        (lambda: Outline.from_points([(0, 0), (1, 0), (1, 0)]), r"no length, at \(1, 0\)"),
        (lambda: Stroke(()), "no pieces"),
        (lambda: Arc((0, 0), (1, 0), 0.0), "bulge is 0.0, must be above 0"),
        (lambda: Arc((0, 0), (1, 0), 1.01), "at most 1 .half a turn."),
        (lambda: Circle((0, 0), 0), "radius is 0 mm, must be above 0"),
        (lambda: Circle((0, 0), -5), "radius is -5 mm"),
    ],
)
def test_what_is_no_contour_is_refused(make: object, words: str) -> None:
    """Open, gaping and degenerate contours cannot be made."""
    with pytest.raises(OutlineError, match=words):
        make()  # type: ignore[operator]
