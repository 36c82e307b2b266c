"""Flat contours whose arcs stay arcs: Line, Arc, Circle, Stroke (open) and Outline (closed). Any plane frame, mm.

Outer outlines run anticlockwise (area > 0), holes clockwise. An arc carries its bulge, as in a DXF polyline:
bulge = tan(included angle / 4), positive when it runs anticlockwise from start to end; at most half a turn.
"""

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from math import atan, atan2, ceil, cos, floor, hypot, pi, sin, tan
from typing import Protocol

from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.record import dataclass

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight piece from start to end."""

    start: Point
    end: Point

    @property
    def bulge(self) -> float:
        """0: a straight piece has none."""
        return 0.0

    @property
    def length(self) -> float:
        """Length in mm."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def start_direction(self) -> Point:
        """Unit direction in which the piece leaves its start."""
        length = self.length
        return ((self.end[0] - self.start[0]) / length, (self.end[1] - self.start[1]) / length)

    @property
    def end_direction(self) -> Point:
        """Unit direction in which the piece arrives at its end."""
        return self.start_direction

    def points(self, per_quarter: int) -> list[Point]:
        """The piece as points from start up to, not including, end."""
        return [self.start]

    def reversed(self) -> "Line":
        """The same piece run the other way."""
        return Line(self.end, self.start)


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular piece from start to end, |bulge| <= 1 and not 0; longer arcs are two pieces."""

    #               centre
    #               /    \        a    the angle that the arc turns by, start to end
    #            r /  a   \ r     b    the bulge, tan(a / 4): b chord / 2 is how far the arc stands off the chord
    #             /        \      >0   the arc lies to the right of the chord, as drawn, and its centre to the left
    #        start -------- end
    #              ` .__. '
    #
    # Neither centre nor radius is kept: ends that are shared by two pieces stay shared to the last digit, whatever
    # is done to the chain.
    start: Point
    end: Point
    bulge: float

    def __post_init__(self) -> None:
        if not 0 < abs(self.bulge) <= 1 + TOUCH_MM:
            raise OutlineError(f"an arc's bulge is {self.bulge}, must be above 0 and at most 1 (half a turn)")

    @property
    def chord(self) -> float:
        """Straight distance from start to end, mm."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def included(self) -> float:
        """Turn from start to end as a signed number of turns of 2 pi (anticlockwise > 0)."""
        return 4 * atan(self.bulge)

    @property
    def radius(self) -> float:
        """Radius in mm, always > 0."""
        return self.chord * (1 + self.bulge**2) / (4 * abs(self.bulge))

    @property
    def centre(self) -> Point:
        """Centre of the circle the arc lies on."""
        # Half the chord times cot(included / 2), to the left of the chord: with b = tan(included / 4) that is (1 - b^2)
        # / (4 b) of the whole chord.
        offset = (1 - self.bulge**2) / (4 * self.bulge)
        dx, dy = self.end[0] - self.start[0], self.end[1] - self.start[1]
        return (
            (self.start[0] + self.end[0]) / 2 - dy * offset,
            (self.start[1] + self.end[1]) / 2 + dx * offset,
        )

    @property
    def length(self) -> float:
        """Length along the arc, mm."""
        return self.radius * abs(self.included)

    @property
    def start_direction(self) -> Point:
        """Unit direction in which the piece leaves its start."""
        return self._tangent(self.start)

    @property
    def end_direction(self) -> Point:
        """Unit direction in which the piece arrives at its end."""
        return self._tangent(self.end)

    def _tangent(self, at: Point) -> Point:
        cx, cy = self.centre
        radius, sign = self.radius, 1 if self.bulge > 0 else -1
        return (-sign * (at[1] - cy) / radius, sign * (at[0] - cx) / radius)

    def points(self, per_quarter: int) -> list[Point]:
        """Points on the arc from start up to, not including, end: per_quarter chords a quarter turn, rounded up."""
        # The start is given as it stands and not worked out again from the circle: its neighbour's end is the same to
        # the last digit. TOUCH_MM is no length here: an arc of exactly a quarter is to get no chord more by rounding.
        (cx, cy), radius, included = self.centre, self.radius, self.included
        n = max(1, ceil(abs(included) / (pi / 2) * per_quarter - TOUCH_MM))
        first = atan2(self.start[1] - cy, self.start[0] - cx)
        turned = [first + included * i / n for i in range(1, n)]
        return [self.start] + [(cx + radius * cos(a), cy + radius * sin(a)) for a in turned]

    def extremes(self) -> list[Point]:
        """The arc's ends and the points where it reaches furthest left, right, down and up."""
        # A circle reaches furthest at whole quarter turns; the arc has those that lie between its two ends. An angle
        # may run over pi here, so the quarters are counted, not looked up.
        (cx, cy), r = self.centre, self.radius
        first = atan2(self.start[1] - cy, self.start[0] - cx)
        low, high = sorted((first, first + self.included))
        quarters = range(floor(low / (pi / 2)), ceil(high / (pi / 2)) + 1)
        turns = [k * pi / 2 for k in quarters if low < k * pi / 2 < high]
        return [self.start, self.end] + [(cx + r * cos(a), cy + r * sin(a)) for a in turns]

    def reversed(self) -> "Arc":
        """The same piece run the other way."""
        return Arc(self.end, self.start, -self.bulge)


Segment = Line | Arc


@dataclass(frozen=True, slots=True)
class Circle:
    """A full circle; as a hole or as a disc, which of the two its owner says."""

    centre: Point
    radius: float

    def __post_init__(self) -> None:
        if self.radius <= TOUCH_MM:
            raise OutlineError(f"a circle's radius is {self.radius} mm, must be above 0")

    @property
    def area(self) -> float:
        """Area in mm2, > 0."""
        return pi * self.radius**2

    @property
    def length(self) -> float:
        """Circumference in mm."""
        return 2 * pi * self.radius

    @property
    def bounds(self) -> Bounds:
        """(x low, y low, x high, y high)."""
        (x, y), r = self.centre, self.radius
        return (x - r, y - r, x + r, y + r)

    def points(self, per_quarter: int = 64) -> list[Point]:
        """Points on the circle, anticlockwise, 4 x per_quarter of them."""
        n = 4 * per_quarter
        (x, y), r = self.centre, self.radius
        return [(x + r * cos(2 * pi * i / n), y + r * sin(2 * pi * i / n)) for i in range(n)]

    def placed(self, frame: PlaneFrame) -> "Circle":
        """The same circle in the frame's parent."""
        return Circle(frame.point(self.centre), self.radius)

    def mirrored(self) -> "Circle":
        """The circle's mirror image in the y axis (x becomes -x)."""
        return Circle((-self.centre[0], self.centre[1]), self.radius)


class _Chain:
    """What open strokes and closed outlines have in common: a tuple of segments, each starting where the last ended."""

    __slots__ = ()
    segments: tuple[Segment, ...]

    @property
    def length(self) -> float:
        """Length along all pieces, mm."""
        return sum(segment.length for segment in self.segments)

    @property
    def bounds(self) -> Bounds:
        """(x low, y low, x high, y high), arcs included."""
        found = [p for s in self.segments for p in (s.extremes() if isinstance(s, Arc) else (s.start, s.end))]
        xs, ys = [p[0] for p in found], [p[1] for p in found]
        return (min(xs), min(ys), max(xs), max(ys))

    def mapped(self, move: Callable[[Point], Point], bulge_sign: int = 1) -> tuple[Segment, ...]:
        """The pieces with every end where `move` takes it; bulge_sign -1 for a move that mirrors."""
        pieces: list[Segment] = []
        there, moved = self.segments[0].start, move(self.segments[0].start)
        for s in self.segments:
            start = moved if s.start == there else move(s.start)  # nearly always the end that was moved just now
            there, moved = s.end, move(s.end)
            pieces.append(piece(start, moved, bulge_sign * s.bulge))
        return tuple(pieces)


@dataclass(frozen=True, slots=True)
class Stroke(_Chain):
    """An open chain of pieces, such as a scored line or one stroke of a letter."""

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        _check_chain(self.segments)

    @staticmethod
    def from_points(points: Sequence[Point]) -> "Stroke":
        """Straight pieces through the points, in order."""
        return Stroke(tuple(Line(a, b) for a, b in pairwise(points)))

    def placed(self, frame: PlaneFrame) -> "Stroke":
        """The same stroke in the frame's parent."""
        return Stroke(self.mapped(frame.point))

    def points(self, per_quarter: int = 64) -> list[Point]:
        """The stroke as points, both ends included."""
        return [p for s in self.segments for p in s.points(per_quarter)] + [self.segments[-1].end]


@dataclass(frozen=True, slots=True)
class Outline(_Chain):
    """A closed chain of pieces: each starts where the one before ended, the last ends where the first starts.

    Raises OutlineError when it is open or a piece has no length.
    """

    segments: tuple[Segment, ...]

    def __post_init__(self) -> None:
        _check_chain(self.segments)
        if not _same(self.segments[-1].end, self.segments[0].start):
            raise OutlineError(f"outline is open: ends at {self.segments[-1].end}, started at {self.segments[0].start}")

    @staticmethod
    def from_points(points: Sequence[Point]) -> "Outline":
        """A polygon through the points; the first point is not repeated at the end."""
        return Outline(tuple(Line(a, b) for a, b in pairwise([*points, points[0]])))

    @staticmethod
    def from_rounded(points: Sequence[Point], radius: float) -> "Outline":
        """A polygon with every corner rounded to the radius by a tangent arc."""
        #            at
        #   ---+. . . x     Turn t at the corner: the arc touches both sides r tan(t/2) from it,
        #        `    .     and its bulge is tan(t/4), as it turns by t itself.
        #          \  .
        #            \.
        #             +
        corners = []
        for i in range(len(points)):
            before, at, after = points[i - 1], points[i], points[(i + 1) % len(points)]
            ux, uy = Line(before, at).start_direction
            vx, vy = Line(at, after).start_direction
            turn = atan2(ux * vy - uy * vx, ux * vx + uy * vy)
            back = radius * tan(abs(turn) / 2)
            start, end = (at[0] - ux * back, at[1] - uy * back), (at[0] + vx * back, at[1] + vy * back)
            corners.append(Arc(start, end, tan(turn / 4)))
        pieces: list[Segment] = []
        for corner, following in pairwise([*corners, corners[0]]):
            pieces += [corner, Line(corner.end, following.start)]
        return Outline(tuple(pieces))

    @property
    def area(self) -> float:
        """Signed area in mm2: > 0 when the outline runs anticlockwise. Arcs counted exactly."""
        # By the trapezoid formula over the chords, each with the slice between it and its arc: r2 (a - sin a) / 2.
        areas = []
        for s in self.segments:
            chord = (s.start[0] * s.end[1] - s.end[0] * s.start[1]) / 2
            areas.append(chord + s.radius**2 * (s.included - sin(s.included)) / 2 if isinstance(s, Arc) else chord)
        return sum(areas)

    @property
    def corners(self) -> list[Point]:
        """The start of every piece, in order."""
        return [segment.start for segment in self.segments]

    def points(self, per_quarter: int = 64) -> list[Point]:
        """The outline as points, the first not repeated."""
        return [p for s in self.segments for p in s.points(per_quarter)]

    def placed(self, frame: PlaneFrame) -> "Outline":
        """The same outline in the frame's parent."""
        return Outline(self.mapped(frame.point))

    def reversed(self) -> "Outline":
        """The same outline run the other way round."""
        return Outline(tuple(s.reversed() for s in reversed(self.segments)))

    def mirrored(self) -> "Outline":
        """The mirror image in the y axis (x becomes -x), running in the same sense as the original."""
        # A mirror turns the sense of running over, of the whole and of each arc: reversed, an outer outline is
        # anticlockwise again, and a hole clockwise.
        return Outline(self.mapped(lambda p: (-p[0], p[1]), -1)).reversed()


Contour = Outline | Circle


def piece(start: Point, end: Point, bulge: float = 0.0) -> Segment:
    """A Line when bulge is 0, an Arc otherwise."""
    return Arc(start, end, bulge) if bulge else Line(start, end)


class Bounded(Protocol):
    """Anything that has a box around it."""

    @property
    def bounds(self) -> Bounds:
        """(x low, y low, x high, y high)."""


def bounds_of(shapes: Iterable[Bounded]) -> Bounds:
    """The box around all the shapes: (x low, y low, x high, y high). Raises ValueError for none."""
    return box_of([shape.bounds for shape in shapes])


def box_of(boxes: Sequence[Bounds]) -> Bounds:
    """The box around all the boxes. Raises ValueError for none."""
    low_x, low_y, high_x, high_y = zip(*boxes, strict=True)
    return (min(low_x), min(low_y), max(high_x), max(high_y))


def _same(a: Point, b: Point) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) <= TOUCH_MM


def _check_chain(segments: tuple[Segment, ...]) -> None:
    if not segments:
        raise OutlineError("a contour has no pieces")
    # Every chain that is made or moved comes through here: most ends are equal to the last digit, and comparing them
    # spares the distance.
    before = segments[0].start
    for segment in segments:
        start, end = segment.start, segment.end
        if start != before and not _same(start, before):
            raise OutlineError(f"a contour has a gap from {before} to {start}")
        if hypot(start[0] - end[0], start[1] - end[1]) <= TOUCH_MM:
            raise OutlineError(f"a piece of a contour has no length, at {start}")
        before = end
