"""Measuring pens against what the shapes say of themselves."""

from math import pi

from pytest import approx
from sample_pictures import BOW, FOOT, LAYERS, PIN, SLOT, sample_picture

from jigmaker.drawing.measure import BoundsPen, CutLength, Tee
from jigmaker.drawing.picture import DrawnShape, Picture
from jigmaker.geometry.outline import Outline


def test_length_by_layer() -> None:
    """By hand: the foot's straight lengths, its quarter and half circle; the hole's circumference; layers in order."""
    measured = CutLength()
    sample_picture().draw(measured)
    sides = 99.9 + 20.123456 + (50**2 + 39.876544**2) ** 0.5 + 30 + 9.9 + 70
    assert measured.length_mm["OUTSIDE"] == approx(sides + 10 * pi / 2 + 10 * pi)
    assert measured.length_mm["INSIDE"] == approx(SLOT.length + 2 * pi * PIN.radius)
    assert list(measured.length_mm) == ["SCORED", "INSIDE", "OUTSIDE"]


def test_closing_piece_counts() -> None:
    """The straight piece home is part of the length and the box, whether drawn or left to close."""
    square = Outline.from_points([(1, 2), (5, 2), (5, 6), (1, 6)])
    length, bounds = CutLength(), BoundsPen()
    pen = Tee(length, bounds)
    for last in (0, 1):
        pen.use_layer(f"OUTSIDE {last}")
        pen.move_to((1, 2))
        for corner in [*square.corners[1:], square.corners[0]][: 3 + last]:
            pen.line_to(corner)
        pen.close()
    assert length.length_mm == approx({"OUTSIDE 0": 16, "OUTSIDE 1": 16})
    assert bounds.box == (1, 2, 5, 6)


def test_box_of_the_picture() -> None:
    """Arcs count to their furthest point: by definition the bow rises over its chord by bulge times half the chord."""
    bounds = BoundsPen()
    Picture("", 1, 1, LAYERS, (DrawnShape("SCORED", BOW),)).draw(bounds)
    assert bounds.box == approx((80, 40, 90, 41.5))


def test_box_grows_over_everything() -> None:
    """The whole picture's box is the foot's, and a tee gives each pen the same strokes."""
    one, other = BoundsPen(), BoundsPen()
    sample_picture().draw(Tee(one, other))
    assert one.box == other.box == approx((10.1, 5, 120, 75))
    assert FOOT.bounds == approx(one.box)


def test_nothing_drawn() -> None:
    """No box and no length."""
    bounds, length = BoundsPen(), CutLength()
    Picture("", 10, 10, LAYERS, ()).draw(Tee(bounds, length))
    assert bounds.box is None and length.length_mm == {}


def test_circle_box() -> None:
    """A circle's box is its centre plus and minus the radius."""
    bounds = BoundsPen()
    Picture("", 1, 1, LAYERS, (DrawnShape("INSIDE", PIN),)).draw(bounds)
    assert bounds.box == approx((96.95, 16.95, 103.05, 23.05))
