"""Contours that can bound one piece, and such that cannot."""

import pytest

from jigmaker.geometry.outline import Circle, Outline
from jigmaker.geometry.simple import crossings

SQUARE = Outline.from_points([(0, 0), (100, 0), (100, 100), (0, 100)])
BOW = Outline.from_points([(0, 0), (100, 100), (100, 0), (0, 100)])
PINCHED = Outline.from_points([(0, 0), (50, 40), (100, 0), (100, 100), (50, 40), (0, 100)])


def disc(x, y, radius=10.0):
    """A named round opening."""
    return (f"hole at {x}, {y}", Circle((x, y), radius))


CASES = [
    (SQUARE, [], []),
    (SQUARE, [disc(30, 30), disc(70, 30)], []),
    (BOW, [], ["the outline crosses itself"]),
    (PINCHED, [], ["the outline crosses itself"]),
    (SQUARE, [("slot", BOW)], ["slot crosses itself"]),
    (SQUARE, [disc(95, 30)], ["hole at 95, 30 is not inside the outline"]),
    (SQUARE, [disc(90, 30)], ["hole at 90, 30 is not inside the outline"]),
    (SQUARE, [disc(200, 30)], ["hole at 200, 30 is not inside the outline"]),
    (SQUARE, [disc(30, 30), disc(45, 30)], ["hole at 30, 30 and hole at 45, 30 are not apart"]),
    (SQUARE, [disc(30, 30), ("inner", Circle((30, 30), 5))], ["hole at 30, 30 and inner are not apart"]),
]


@pytest.mark.parametrize(("outline", "holes", "faults"), CASES)
def test_what_cannot_bound_one_piece_is_told(outline, holes, faults):
    """Outlines that cross or touch themselves, openings outside or on the edge, openings that meet."""
    assert list(crossings(outline, holes)) == faults
