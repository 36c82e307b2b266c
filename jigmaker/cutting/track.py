"""The line or circle a tool's centre runs along: a piece of a contour in, its track out. Any plane frame; mm.

Words: a *track* is a piece moved aside, to the left of its direction of travel when `aside` > 0; it has no ends of its
own until it is met with its neighbours.
"""

from math import atan2, dist, hypot, pi, remainder, sqrt, tan

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Line, Segment
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.record import dataclass

_HALF_TURN_SLACK = 1e-9  # rounding must not cut a half turn in two


@dataclass(frozen=True, slots=True)
class Track:
    """A piece moved aside by `aside` mm (> 0: to the left of its travel). Same frame as the piece.

    Every track carries its own distance: a cut that is wider along x than along y moves each piece its own way.
    """

    piece: Segment
    aside: float

    @property
    def radius(self) -> float:
        """Radius of an arc's track in mm; 0 or less when the arc has shrunk to nothing. Infinite for a line."""
        if isinstance(self.piece, Line):
            return float("inf")
        return self.piece.radius - _sense(self.piece) * self.aside

    @property
    def is_gone(self) -> bool:
        """True when an arc has shrunk to nothing."""
        return self.radius <= TOUCH_MM

    @property
    def start(self) -> Point:
        """The piece's start, moved aside square to the piece."""
        return moved_left(self.piece.start, self.piece.start_direction, self.aside)

    @property
    def end(self) -> Point:
        """The piece's end, moved aside square to the piece."""
        return moved_left(self.piece.end, self.piece.end_direction, self.aside)

    def direction_at(self, at: Point) -> Point:
        """Unit direction of travel at a point of the track."""
        if isinstance(self.piece, Line):
            return self.piece.start_direction
        # Square to the radius there: turned a quarter to the left where the arc runs anticlockwise.
        (cx, cy), sense = self.piece.centre, _sense(self.piece)
        out = hypot(at[0] - cx, at[1] - cy)
        return (-sense * (at[1] - cy) / out, sense * (at[0] - cx) / out)

    def span(self, start: Point, end: Point) -> float:
        """Length in mm from start to end along the track; negative when end has come to lie before start."""
        if isinstance(self.piece, Line):
            ux, uy = self.piece.start_direction
            return (end[0] - start[0]) * ux + (end[1] - start[1]) * uy
        return self.radius * self._turned(self.piece, start, end) if dist(start, end) > TOUCH_MM else 0.0

    def between(self, start: Point, end: Point) -> list[Segment]:
        """The track from start to end as pieces with the track's true radius: one, or two when over half a turn."""
        if isinstance(self.piece, Line):
            return [Line(start, end)]
        # A bulge is tan(turn / 4) and at most 1, half a turn: what turns farther is two arcs of half the turn each.
        sense, turned = _sense(self.piece), self._turned(self.piece, start, end)
        if turned <= pi + _HALF_TURN_SLACK:
            return [Arc(start, end, sense * tan(turned / 4))]
        middle = self._halfway(self.piece, start, end)
        return [Arc(start, middle, sense * tan(turned / 8)), Arc(middle, end, sense * tan(turned / 8))]

    def _turned(self, arc: Arc, start: Point, end: Point) -> float:
        """Turn from start to end in the direction of travel, continuous with the piece's own."""
        sense = _sense(arc)
        # The joints cut the moved arc short or lead it on at either end, by angles about the same centre.
        lost = sense * _angle_between(arc.centre, arc.start, start)
        won = sense * _angle_between(arc.centre, arc.end, end)
        return abs(arc.included) - lost + won

    def _halfway(self, arc: Arc, start: Point, end: Point) -> Point:
        """The point of the track half way round from start to end, for arcs of more than half a turn."""
        (cx, cy), (dx, dy) = arc.centre, (start[0] - end[0], start[1] - end[1])
        out, sense = hypot(dx, dy), _sense(arc)
        return (cx - sense * self.radius * dy / out, cy + sense * self.radius * dx / out)


def moved_left(at: Point, direction: Point, distance: float) -> Point:
    """The point moved square to a unit direction, to its left when distance > 0."""
    return (at[0] - direction[1] * distance, at[1] + direction[0] * distance)


def turn_between(first: Point, second: Point) -> float:
    """Turn from one unit direction to the next, anticlockwise > 0, in (-pi, pi]."""
    return atan2(first[0] * second[1] - first[1] * second[0], first[0] * second[0] + first[1] * second[1])


def meetings(one: Track, two: Track) -> list[Point]:
    """Every point in which the two tracks, run on beyond their ends, meet: none, one or two."""
    if one.is_gone or two.is_gone:
        return []
    if isinstance(one.piece, Line) and isinstance(two.piece, Line):
        (px, py), (ux, uy) = one.start, one.piece.start_direction
        (qx, qy), (vx, vy) = two.start, two.piece.start_direction
        slant = ux * vy - uy * vx
        if abs(slant) < 1e-12:  # parallel to the last digit: they never meet
            return []
        along = ((qx - px) * vy - (qy - py) * vx) / slant
        return [(px + along * ux, py + along * uy)]
    if isinstance(one.piece, Line) and isinstance(two.piece, Arc):
        return _line_circle(one.start, one.piece.start_direction, two.piece.centre, two.radius)
    if isinstance(one.piece, Arc) and isinstance(two.piece, Line):
        return _line_circle(two.start, two.piece.start_direction, one.piece.centre, one.radius)
    assert isinstance(one.piece, Arc)
    assert isinstance(two.piece, Arc)
    # Two circles meet in the chord square to the line of their centres a and b:
    #
    #          x                 r1^2 - along^2 = r2^2 - (apart - along)^2, both being the square of half the chord;
    #    r1  / | \   r2          so along = (apart^2 + r1^2 - r2^2) / (2 apart)
    #      a---+---b
    #    along | /
    #          x
    (ax, ay), (bx, by) = one.piece.centre, two.piece.centre
    apart = hypot(bx - ax, by - ay)
    if apart < TOUCH_MM:
        return []
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    along = (apart**2 + one.radius**2 - two.radius**2) / (2 * apart)
    return _either_side((ax + along * ux, ay + along * uy), (-uy, ux), one.radius**2 - along**2)


def _sense(arc: Arc) -> int:
    return 1 if arc.bulge > 0 else -1


def _angle_between(centre: Point, first: Point, second: Point) -> float:
    """Turn seen from the centre, anticlockwise > 0, within half a turn either way."""
    a = atan2(first[1] - centre[1], first[0] - centre[0])
    b = atan2(second[1] - centre[1], second[0] - centre[0])
    return remainder(b - a, 2 * pi)


def _line_circle(at: Point, direction: Point, centre: Point, radius: float) -> list[Point]:
    # The foot of the centre on the line; from it both points lie half a chord away, by Pythagoras.
    along = (centre[0] - at[0]) * direction[0] + (centre[1] - at[1]) * direction[1]
    foot = (at[0] + along * direction[0], at[1] + along * direction[1])
    return _either_side(foot, direction, radius**2 - (foot[0] - centre[0]) ** 2 - (foot[1] - centre[1]) ** 2)


def _either_side(foot: Point, direction: Point, square: float) -> list[Point]:
    """foot plus and minus the root of square along direction; none when square is below 0."""
    if square < 0:
        return []
    out = sqrt(square)
    return [(foot[0] + side * out * direction[0], foot[1] + side * out * direction[1]) for side in (-1, 1)]
