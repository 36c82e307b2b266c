"""Straight edges as they are found on a part as cut, by coordinates that are written down here."""

from math import cos, pi, sin

import pytest
import shapely

from jigmaker.geometry.outline import Outline
from jigmaker.proof.checks.measured import MeasuredPart
from jigmaker.proof.records import CutPart, DeclaredFeature, DeclaredPart

NOTCHED = Outline.from_points([(0, 0), (40, 0), (40, 30), (20, 30), (20, 10), (10, 10), (10, 30), (0, 30)])
"""A plate with a notch 10 mm wide from above; its bottom is the fifth piece."""

BOTTOM = DeclaredFeature("notch, bottom", "edge", "outer", (4,), "angle_deg", 0.0)
PLATE = DeclaredPart("plate", "plate", "jig", "", 1, 0, 9.1, NOTCHED, (), (BOTTOM,), (), (), ())


def _fillet(centre, first):
    """A quarter turn of a cutter of 8 mm, as chords; first and last point included."""
    turns = [first + pi / 2 * i / 64 for i in range(65)]
    return [(centre[0] + 4 * cos(t), centre[1] + 4 * sin(t)) for t in turns]


@pytest.mark.parametrize("apart", [0.0, 1.2e-6, 7e-6])
def test_two_points_at_one_place_hide_no_corner(apart):
    """The bottom as cut is level and 2 mm long, though one of the fillets starts in two points so far apart."""
    left, right = _fillet((14, 14), pi)[::-1], _fillet((16, 14), -pi / 2)[::-1]
    twice = [(16 - apart, 10.0)] if apart else []
    ring = [(0, 0), (40, 0), (40, 30), (20, 30), *right, *twice, *left, (10, 30), (0, 30)]
    edge = MeasuredPart(CutPart(PLATE, "plate.dxf", shapely.Polygon(ring))).edge("notch, bottom")
    assert edge.direction_deg == pytest.approx(0, abs=1e-4)
    assert edge.length == pytest.approx(2, abs=1e-4)
