"""The pen: the few verbs through which everything is drawn, written and measured. y up; mm.

A pen must know move_to, line_to, arc_to, close, end, circle and use_layer. A contour is move_to, then pieces, then
close (closed; the pen draws the straight piece home if the last point is not the first) or end (open).
"""

from typing import Protocol

from jigmaker.geometry.frames import Point


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
