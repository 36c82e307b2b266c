"""A cut that is not as wide along x as along y: contour and both widths in, the moved contour out. Sheet frame; mm.

What the tool takes away is an ellipse with its axes along the machine's x and y. Stretched until the ellipse is a disc,
the contour is moved as for any round tool, then everything is stretched back: straight pieces stay straight, and where
they meet stays where they meet.
"""

from collections.abc import Sequence
from itertools import groupby
from math import acos, ceil, hypot, pi, sqrt

from jigmaker.cutting.arcs import arcs_along
from jigmaker.cutting.offset import offset, traced_offset
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Contour, Outline, Segment
from jigmaker.record import dataclass

_CHORD_MM = 1.5e-4  # how far a chord may leave its arc while it is moved
_ARC_MM = 4e-4  # and an arc the moved chords, at their ends and their middles


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

    Arcs stay arcs for a round beam; what another one makes of them is drawn with arcs within 0.0006 mm, as many as that
    takes. Raises TooNarrow as `offset` does.
    """
    sign = 1 if grows else -1
    if beam.is_round:
        return offset(contour, sign * beam.x_mm / 2, name)
    #      ellipse            stretched by middle / x and middle / y      a disc of the same area, `middle` wide:
    #      x wide, y high    ---------------------------------------->    what is moved by half of it and stretched back
    #                                                                     is moved by the ellipse
    #
    # Arcs are no arcs any more once they are stretched, so they go as chords; each chord knows its arc, and what comes
    # back of one arc is drawn anew with as few arcs as follow it.
    middle = sqrt(beam.x_mm * beam.y_mm)
    round_x, round_y = middle / beam.x_mm, middle / beam.y_mm
    chords, arcs = _in_chords(contour, is_left=grows)
    stretched = _stretched(chords, round_x, round_y)
    of_arc = {id(chord): arc for chord, arc in zip(stretched.segments, arcs, strict=True)}
    moved, before = traced_offset(stretched, sign * middle / 2, name)
    back = _stretched(moved, 1 / round_x, 1 / round_y).segments
    owners = [None if chord is None else of_arc[id(chord)] for chord in before]
    pieces: list[Segment] = []
    for arc, group in groupby(zip(owners, back, strict=True), key=lambda pair: pair[0]):
        run = [chord for _, chord in group]
        if arc is None:
            pieces += run
            continue
        # Start and middle of each chord: where others between two have vanished, an arc over their ends leaves them.
        points = [run[0].start]
        for chord in run:
            (x, y), (u, v) = chord.start, chord.end
            points += [chord.start, ((x + u) / 2, (y + v) / 2)]
        pieces += arcs_along([*points[1:], run[-1].end], _ARC_MM)
    return Outline(tuple(pieces))


def _in_chords(contour: Contour, is_left: bool) -> tuple[Outline, Sequence[int | None]]:
    """The contour with every arc as chords, and the number of the arc that each piece is of; None for a line.

    A circle is two arcs, anticlockwise if `is_left`: outlines run anticlockwise and holes clockwise.
    """
    if isinstance(contour, Circle):
        ring = Outline.from_points(contour.points(_chords_a_quarter(contour.radius)))
        half = len(ring.segments) // 2  # so that both halves become the same arcs
        return (ring if is_left else ring.reversed()), [0] * half + [1] * half
    points: list[Point] = []
    numbers = list[int | None]()
    for number, segment in enumerate(contour.segments):
        points += segment.points(_chords_a_quarter(segment.radius)) if isinstance(segment, Arc) else [segment.start]
        numbers += [number if segment.bulge else None] * (len(points) - len(numbers))
    return Outline.from_points(points), numbers


def _chords_a_quarter(radius: float) -> int:
    """Chords a quarter turn, at least 4, whose middles stay near the circle: r (1 - cos(turn / 2)) off."""
    return max(4, ceil(pi / 4 / acos(max(0.0, 1 - _CHORD_MM / radius))))


def _stretched(outline: Outline, by_x: float, by_y: float) -> Outline:
    """A polygon stretched along x and y."""
    return Outline.from_points([(x * by_x, y * by_y) for x, y in outline.corners])
