"""The pen: the few verbs through which everything is drawn, written and measured. y up; mm.

A pen must know move_to, line_to, arc_to, close, end, circle and use_layer. A contour is move_to, then pieces, then
close (closed; the pen draws the straight piece home if the last point is not the first) or end (open).
"""

from typing import Protocol, runtime_checkable

from jigmaker.geometry.frames import Point
from jigmaker.geometry.strokes import Strokes


class Pen(Protocol):
    """What a picture is drawn with: a writer, a measurer or a recorder."""

    def use_layer(self, name: str) -> None:
        """What follows belongs to this layer."""

    def move_to(self, at: Point) -> None:
        """Start a contour."""

    def line_to(self, to: Point) -> None:
        """A straight piece from where the pen is."""

    def arc_to(self, to: Point, bulge: float) -> None:
        """A circular piece; bulge = tan(included angle / 4), positive when it runs anticlockwise."""

    def close(self) -> None:
        """The contour is closed."""

    def end(self) -> None:
        """The contour stays open."""

    def circle(self, centre: Point, radius: float) -> None:
        """A full circle."""


@runtime_checkable
class TablePen(Protocol):
    """A pen that takes many open strokes at once, on the layer in use."""

    def strokes(self, strokes: Strokes) -> None:
        """Every stroke of the table, in order."""


def draw_strokes(strokes: Strokes, pen: Pen) -> None:
    """A table through the pen: at once where it can take it so, else stroke by stroke."""
    if isinstance(pen, TablePen):
        pen.strokes(strokes)
        return
    before = -1
    for (x0, y0, x1, y1, bulge), number in zip(strokes.pieces.tolist(), strokes.contour.tolist(), strict=True):
        if number != before:
            if before >= 0:
                pen.end()
            pen.move_to((x0, y0))
            before = number
        if bulge:
            pen.arc_to((x1, y1), bulge)
        else:
            pen.line_to((x1, y1))
    if before >= 0:
        pen.end()
