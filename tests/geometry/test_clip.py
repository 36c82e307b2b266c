"""Shapes cut at a rectangle: nothing is lost or added, arcs stay arcs; shapely agrees on fine chords."""

import math

import pytest
import shapely
from sample_pictures import BOW, FOOT, LOOP, PIN, SLOT

from jigmaker.geometry.clip import clip
from jigmaker.geometry.outline import Arc, Circle, Outline, Stroke

SHAPES = {"foot": FOOT, "slot": SLOT, "pin": PIN, "loop": LOOP, "bow": BOW}
GRID = [(5.3 * i, 4.7 * k, 5.3 * (i + 1), 4.7 * (k + 1)) for i in range(25) for k in range(20)]
"""Boxes that cover the sample picture without overlap; no shape's line runs along a border."""


@pytest.mark.parametrize("name", list(SHAPES))
def test_pieces_on_a_grid_make_up_the_whole(name):
    """Lengths of all pieces of all boxes add up to the shape's own."""
    pieces = [piece for box in GRID for piece in clip(SHAPES[name], box)]
    assert len(pieces) > 1
    assert sum(piece.length for piece in pieces) == pytest.approx(SHAPES[name].length, abs=1e-6)


@pytest.mark.parametrize("name", list(SHAPES))
def test_what_is_kept_is_what_lies_inside(name):
    """Length in every box, against shapely's intersection with chords of a quarter of a degree."""
    points = SHAPES[name].points(360)
    closed = [*points, points[0]] if not isinstance(SHAPES[name], Stroke) else points
    chords = shapely.LineString(closed)
    for box in GRID:
        kept = sum(piece.length for piece in clip(SHAPES[name], box))
        assert kept == pytest.approx(chords.intersection(shapely.box(*box)).length, abs=1e-3)


def test_arcs_stay_arcs_of_the_same_circle():
    """Centre and radius to the last digits, ends on the border."""
    (piece,) = clip(Circle((10.0, 10.0), 8.0), (10.0, 0.0, 30.0, 14.0))
    assert all(isinstance(segment, Arc) for segment in piece.segments)
    for arc in piece.segments:
        assert math.dist(arc.centre, (10.0, 10.0)) < 1e-9 and arc.radius == pytest.approx(8.0, abs=1e-9)
    assert piece.segments[0].start == pytest.approx((10.0, 2.0)) and piece.segments[-1].end[1] == pytest.approx(14.0)
    # A quarter turn below, and above it the angle whose sine is 4 of 8: 120 degrees in all.
    assert piece.length == pytest.approx(8 * math.radians(120), abs=1e-9)


def test_a_shape_inside_is_left_alone():
    """The very same one, an outline still closed; one outside is gone."""
    assert clip(FOOT, (0, 0, 200, 200)) == (FOOT,)
    assert clip(FOOT, (300, 0, 400, 200)) == ()


@pytest.mark.parametrize("start", range(4))
def test_an_outline_is_cut_only_at_the_border(start):
    """Wherever a rectangle's corners begin, what lies in the box is one stroke, not broken where the outline starts."""
    corners = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
    square = Outline.from_points(corners[start:] + corners[:start])
    (piece,) = clip(square, (-5.0, -5.0, 4.0, 15.0))
    assert piece.length == pytest.approx(18.0)
    assert {piece.segments[0].start, piece.segments[-1].end} == {(4.0, 0.0), (4.0, 10.0)}


@pytest.mark.parametrize(("level", "kept"), [(10.0, 10.0), (10.0 + 1e-9, 10.0), (10.1, 0.0)])
def test_a_line_on_the_border_is_inside(level, kept):
    """So that neighbours both show it."""
    line = Stroke.from_points([(0.0, level), (10.0, level)])
    assert sum(piece.length for piece in clip(line, (0.0, 0.0, 20.0, 10.0))) == pytest.approx(kept)


def test_a_circle_that_touches_is_not_cut():
    """From inside it is whole; from outside nothing of it is left."""
    disc = Circle((10.0, 10.0), 5.0)
    assert clip(disc, (5.0, 0.0, 30.0, 30.0)) == (disc,)
    assert sum(piece.length for piece in clip(disc, (15.0, 0.0, 30.0, 30.0))) < 1e-3
