"""Strokes as a table: moved, measured and turned back into objects like the strokes they were made of."""

import itertools
import random
from math import cos, radians, tan

import pytest
from pytest import approx

from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Arc, Line, Stroke, bounds_of
from jigmaker.geometry.strokes import Strokes

HOOK = Stroke((Line((0, 0), (0, 10)), Arc((0, 10), (4, 10), -1.0)))
BOW = Stroke((Arc((3, 1), (9, 4), tan(radians(200) / 8)),))
DASH = Stroke.from_points([(1, 1), (2, 3)])
TABLE = Strokes.of([HOOK, BOW, DASH])


def random_arcs(count: int) -> list[Stroke]:
    """Arcs of any place, size and turn up to half a circle; the same each time."""
    draw = random.Random(7)
    spots = [
        [draw.uniform(-50, 50) for _ in range(4)] + [draw.choice([-1, 1]) * draw.uniform(0.01, 1)] for _ in range(count)
    ]
    return [Stroke((Arc((a, b), (c, d), bulge),)) for a, b, c, d, bulge in spots]


def test_a_table_gives_its_strokes_back() -> None:
    """Three strokes of four pieces, in order, each piece what it was; two tables one after the other."""
    assert (len(TABLE), TABLE.pieces.shape, TABLE.contour.tolist()) == (3, (4, 5), [0, 0, 1, 2])
    assert TABLE.strokes() == (HOOK, BOW, DASH)
    both = Strokes.joined([TABLE, Strokes.of([DASH, HOOK])])
    assert both.strokes() == (HOOK, BOW, DASH, DASH, HOOK)
    assert len(Strokes.joined([])) == len(Strokes.of([])) == 0


@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 180.0, 270.0, 33.3])
def test_placed_to_the_last_bit_like_objects(turn_deg: float) -> None:
    """A mark may be placed either way: the files must not tell."""
    frame = PlaneFrame(12.345, -6.789, turn_deg)
    assert TABLE.placed(frame).strokes() == tuple(stroke.placed(frame) for stroke in (HOOK, BOW, DASH))


def test_mirrored_arcs_run_the_other_way() -> None:
    """The hook's arc bends clockwise; in the mirror anticlockwise."""
    mirrored = TABLE.mapped(((-1.0, 0.0, 0.0), (0.0, 1.0, 0.0)))
    assert mirrored.strokes()[0] == Stroke((Line((0, 0), (0, 10)), Arc((0, 10), (-4, 10), 1.0)))


def test_bounds_and_lengths_against_fine_chords() -> None:
    """Of 200 arcs each: the box holds every point of a fine chain and touches it; the chain is as long."""
    for arc in random_arcs(200):
        table, points = Strokes.of([arc]), arc.points(2000)
        xs, ys = [p[0] for p in points], [p[1] for p in points]
        assert table.bounds == approx((min(xs), min(ys), max(xs), max(ys)), abs=1e-3)
        assert table.bounds == approx(bounds_of([arc]), abs=1e-9)
        chain = sum(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 for (x0, y0), (x1, y1) in itertools.pairwise(points))
        assert table.lengths.sum() == approx(chain, rel=1e-6)


@pytest.mark.parametrize(
    ("pieces", "contour", "says"),
    [
        ([(0, 0, 1, 0, 0), (2, 0, 3, 0, 0)], [0, 0], "does not start where"),
        ([(0, 0, 1, 0, 0)], [1], "not numbered"),
        ([(0, 0, 1, 0, 0), (5, 0, 6, 0, 0)], [0, 2], "not numbered"),
        ([(0, 0, 1, 0, 0)], [0, 1], "1 pieces, 2 numbers"),
        ([(0, 0, float("nan"), 0, 0)], [0], "1 pieces"),
    ],
)
def test_a_wrong_table_is_refused(pieces, contour, says: str) -> None:
    """A gap, a missing number, too many numbers, no number."""
    with pytest.raises(OutlineError, match=says):
        Strokes(pieces, contour)


def test_a_table_goes_nowhere_without_a_number() -> None:
    """Nor can anybody change where one was moved to."""
    with pytest.raises(OutlineError, match="no number"):
        TABLE.mapped(((1.0, 0.0, float("nan")), (0.0, 1.0, 0.0)))
    with pytest.raises(ValueError, match="read-only"):
        TABLE.placed(PlaneFrame(1.0, 2.0)).pieces[0, 0] = 5.0


def test_tables_are_values() -> None:
    """Equal when their figures are, and nobody can change one."""
    assert Strokes.of([HOOK, BOW, DASH]) == TABLE and hash(TABLE) == hash(Strokes.of([HOOK, BOW, DASH]))
    assert Strokes.of([HOOK, DASH, BOW]) != TABLE
    with pytest.raises(ValueError, match="read-only"):
        TABLE.pieces[0, 0] = 5.0


@pytest.mark.parametrize("rise_mm", [0.02, 0.5, 5.0])
def test_parted_arcs_lie_on_their_circle_and_rise_no_more(rise_mm: float) -> None:
    """Of 200 arcs: the same ends, length and box, equal pieces, as few as there may be."""
    for arc in random_arcs(200):
        (whole,) = arc.segments
        (parted,) = Strokes.of([arc]).parted(rise_mm)
        rises = [abs(piece.bulge) * piece.chord / 2 for piece in parted.segments]
        assert max(rises) <= rise_mm + 1e-9
        assert sum(piece.length for piece in parted.segments) == approx(whole.length)
        assert [piece.centre for piece in parted.segments] == [approx(whole.centre, abs=1e-6)] * len(rises)
        assert (parted.segments[0].start, parted.segments[-1].end) == (whole.start, whole.end)
        fewer = len(rises) - 1
        if fewer:
            assert whole.radius * (1 - cos(abs(whole.included) / fewer / 2)) > rise_mm
    assert Strokes.of([DASH]).parted(rise_mm) == Strokes.of([DASH])
