"""Frames: right-handed or refused, exact at quarter turns, and composed by neighbouring names."""

from math import sqrt

import pytest
from pytest import approx

from jigmaker.errors import FrameError
from jigmaker.geometry.frames import Frame, PlaneFrame

HALF, ROOT = 0.5, sqrt(3) / 2  # cos 60, sin 60

TURNED_60_ABOUT_Z = Frame((10, 20, 30), (HALF, ROOT, 0), (-ROOT, HALF, 0), (0, 0, 1))
TURNED_90_ABOUT_X = Frame((0, 5, 0), (1, 0, 0), (0, 0, 1), (0, -1, 0))


def test_point_there_and_back() -> None:
    """A point taken out of a frame and into it again is the same point."""
    assert TURNED_60_ABOUT_Z.point((2, 0, 1)) == approx((11, 20 + 2 * ROOT, 31))
    assert TURNED_60_ABOUT_Z.inside(TURNED_60_ABOUT_Z.point((2, -3, 1))) == approx((2, -3, 1))


def test_an_inverse_takes_back() -> None:
    """Through a frame and its inverse a point comes back, from either side."""
    both = TURNED_60_ABOUT_Z @ TURNED_90_ABOUT_X
    assert both.inverse.point(both.point((5, -2, 9))) == approx((5, -2, 9))
    assert both.point(both.inverse.point((5, -2, 9))) == approx((5, -2, 9))


def test_neighbouring_names_compose() -> None:
    """a_from_b @ b_from_c takes a point of c as the two do one after the other."""
    both = TURNED_60_ABOUT_Z @ TURNED_90_ABOUT_X
    assert both.point((1, 2, 3)) == approx(TURNED_60_ABOUT_Z.point(TURNED_90_ABOUT_X.point((1, 2, 3))))
    assert both.direction((0, 0, 1)) == approx((ROOT, -HALF, 0))


def test_moved_shifts_the_origin_only() -> None:
    """Directions stay."""
    moved = TURNED_60_ABOUT_Z.moved((1, 1, 1))
    assert moved.origin == (11, 21, 31) and moved.x_axis == TURNED_60_ABOUT_Z.x_axis


@pytest.mark.parametrize(
    "axes",
    [
        ((1, 0, 0), (0, 1, 0), (0, 0, -1)),  # left-handed: a mirror
        ((2, 0, 0), (0, 0.5, 0), (0, 0, 1)),  # not unit
        ((1, 0, 0), (0, 2, 0), (0, 0, 2)),  # nor these, though their products are right
        ((1, 0, 0), (0.6, 0.8, 0), (0, 0, 1)),  # not square
    ],
)
def test_other_axes_are_refused(axes: tuple[tuple[float, float, float], ...]) -> None:
    """Mirrors and skewed axes are no frames."""
    with pytest.raises(FrameError, match="not a right-handed orthonormal frame"):
        Frame((0, 0, 0), *axes)


@pytest.mark.parametrize(
    ("turn_deg", "expected"),
    [(0, (3, 1)), (90, (-1, 3)), (180, (-3, -1)), (270, (1, -3)), (-90, (1, -3)), (360, (3, 1)), (810, (-1, 3))],
)
def test_quarter_turns_are_exact(turn_deg: float, expected: tuple[float, float]) -> None:
    """No rounding at all: corners that were square stay square in the file."""
    assert PlaneFrame(0, 0, turn_deg).point((3, 1)) == expected


def test_turning_is_anticlockwise() -> None:
    """(2, 0) turned by 60 degrees and shifted."""
    assert PlaneFrame(10, 20, 60).point((2, 0)) == approx((11, 20 + 2 * ROOT))
