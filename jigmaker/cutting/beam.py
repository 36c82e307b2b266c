"""A cut that is not as wide along x as along y: contour and both widths in, the moved contour out. Sheet frame; mm.

What the tool takes away is an ellipse with its axes along the machine's x and y. Stretched until the ellipse is a disc,
the contour is moved as for any round tool, then everything is stretched back: straight pieces stay straight, and where
they meet stays where they meet.
"""

from dataclasses import dataclass
from itertools import pairwise
from math import acos, ceil, hypot, pi, sqrt

from jigmaker.cutting.offset import offset
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Contour, Line, Outline, Segment

_CHORD_MM = 5e-4
"""How far a chord may leave its arc; small beside the 0.002 mm that a file's lines may be off."""


@dataclass(frozen=True, slots=True)
class Beam:
    """What the tool takes away where it stands: x_mm wide along x, y_mm along y; a disc when both are the same."""

    x_mm: float
    y_mm: float

    @property
    def is_round(self) -> bool:
        """True for a disc."""
        return self.x_mm == self.y_mm

    def half_width(self, way: Point) -> float:
        """How far the ellipse reaches along a unit direction: sqrt((x nx / 2)^2 + (y ny / 2)^2), mm."""
        return self.x_mm / 2 if self.is_round else hypot(self.x_mm / 2 * way[0], self.y_mm / 2 * way[1])


def offset_for(contour: Contour, beam: Beam, grows: bool, name: str) -> Contour:
    """The contour moved by half the beam, out when it `grows`, else in: every piece by the beam's half width across it.

    Arcs stay arcs for a round beam; for another they become chords within 0.0005 mm first. Raises TooNarrow as `offset`
    does.
    """
    sign = 1 if grows else -1
    if beam.is_round:
        return offset(contour, sign * beam.x_mm / 2, name)
    middle = sqrt(beam.x_mm * beam.y_mm)
    round_x, round_y = middle / beam.x_mm, middle / beam.y_mm
    stretched = _stretched(in_chords(contour, _CHORD_MM, is_left=grows), round_x, round_y)
    return _stretched(_as_outline(offset(stretched, sign * middle / 2, name)), 1 / round_x, 1 / round_y)


def in_chords(contour: Contour, within_mm: float, is_left: bool) -> Outline:
    """The contour with every arc as chords that stay within so much of it; a circle anticlockwise if `is_left`."""
    if isinstance(contour, Circle):
        # Outlines run anticlockwise and holes clockwise.
        ring = Outline.from_points(contour.points(chords_a_quarter(contour.radius, within_mm)))
        return ring if is_left else ring.reversed()
    return Outline(tuple(piece for segment in contour.segments for piece in chords(segment, within_mm)))


def chords(segment: Segment, within_mm: float) -> list[Segment]:
    """A straight piece as it is, an arc as chords between points on it."""
    if not isinstance(segment, Arc):
        return [segment]
    points = [*segment.points(chords_a_quarter(segment.radius, within_mm)), segment.end]
    return [Line(a, b) for a, b in pairwise(points)]


def chords_a_quarter(radius: float, within_mm: float) -> int:
    """Chords a quarter turn, at least 4, whose middles stay within so much of the circle: r (1 - cos(turn / 2))."""
    return max(4, ceil(pi / 4 / acos(max(0.0, 1 - within_mm / radius))))


def _as_outline(contour: Contour) -> Outline:
    assert isinstance(contour, Outline)
    return contour


def _stretched(outline: Outline, by_x: float, by_y: float) -> Outline:
    """A polygon stretched along x and y."""
    return Outline.from_points([(x * by_x, y * by_y) for x, y in outline.corners])
