"""The fewest arcs along a curve: points on it in, arcs between some of them out. Any plane frame; mm.

An arc through two points a and b passes a third one, p, when its bulge is the tangent of half the turn from a-p to p-b.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, dist, hypot, tan

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Line, Segment, piece
from jigmaker.geometry.tolerance import TOUCH_MM

_FLAT = 1e-6  # an arc of a smaller bulge is written as a straight piece
_MOST = 0.9  # nearer to half a turn a radius rounded in a file moves the middle of an arc much
_ROUNDS = 3  # an arc is set between its points: twice is enough, but for very long ones


def arcs_along(points: Sequence[Point], within_mm: float) -> list[Segment]:
    """Arcs of less than half a turn, each as long as it may be, that stay so near to all points of a smooth curve.

    They start and end in points of the curve, which turns one way. Two points give a straight piece.
    """
    found: list[Segment] = []
    here, last = 0, len(points) - 1
    while here < last:
        # The longest arc from here on, by halving: the point where it ends lies from low on and not beyond high.
        low, high = here + 1, last
        best, arc = low, _near(points[here : low + 1], within_mm) or Line(points[here], points[low])
        there = high
        while low <= high:
            if (longer := _near(points[here : there + 1], within_mm)) is not None:
                best, arc, low = there, longer, there + 1
            else:
                high = there - 1
            there = (low + high) // 2
        found.append(arc)
        here = best
    # As many arcs of about one length, if they do as well as the longest ones and a rest.
    ends = [round(i * last / len(found)) for i in range(len(found) + 1)]
    even = [_near(points[a : b + 1], within_mm) for a, b in pairwise(ends) if a < b]
    whole = [each for each in even if each is not None]
    return whole if len(whole) == len(found) else found


def arcs_round(points: Sequence[Point], within_mm: float) -> list[Segment]:
    """The same for a closed curve that is the same from either side; its first point is not repeated.

    The arcs are the same from either side too, so that a piece turned half round has the same lines. They may start in
    another point, to save some.
    """
    # Half of the curve is drawn, from one of four starts, whichever takes the fewest arcs; the other half is its image
    # across the curve's middle, which takes p to m - p with m the sum of two opposite points.
    half = len(points) // 2
    ring = [*points, points[0]]
    halves = (arcs_along(ring[i : i + half + 1], within_mm) for i in range(0, half, max(1, half // 4)))
    best = min(halves, key=len)
    x, y = (best[0].start[i] + best[-1].end[i] for i in (0, 1))
    across = [piece((x - a.start[0], y - a.start[1]), (x - a.end[0], y - a.end[1]), a.bulge) for a in best]
    return [*best, *across]


def circle_through(points: Sequence[Point], within_mm: float) -> Circle | None:
    """The circle that all points of a closed curve, the same from either side, lie near to; None when there is none.

    As near as may be it encloses what the curve does, so that a hole comes out as wide on the whole as it should.
    """
    xs, ys = [x for x, _ in points], [y for _, y in points]
    centre = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    radii = [dist(centre, point) for point in points]
    if max(radii) - min(radii) > 2 * within_mm:
        return None
    # The mean radius keeps the area; but it need not lie halfway between the least and the greatest, as what a tool
    # wider in x than in y leaves is no ellipse.
    mean = sum(radii) / len(radii)
    return Circle(centre, min(max(mean, max(radii) - within_mm), min(radii) + within_mm))


def _near(points: Sequence[Point], within_mm: float) -> Segment | None:
    """The arc from the first point to the last that lies in the middle of all others; None when it is not so near."""
    (ax, ay), (bx, by) = points[0], points[-1]
    if len(points) == 2:
        return Line(points[0], points[-1])
    chord = hypot(bx - ax, by - ay)
    if chord <= TOUCH_MM:
        return None
    # The turn from a-p to p-b at each point p: an arc through p has just that, and its bulge is the tangent of half of
    # it. The first guess lies in the middle of all; then the arc is raised by half of what the points lie outside it on
    # either side together, until it is in their middle.
    turns = [
        atan2((x - ax) * (by - y) - (y - ay) * (bx - x), (x - ax) * (bx - x) + (y - ay) * (by - y))
        for x, y in points[1:-1]
    ]
    bulge = tan((min(turns) + max(turns)) / 4)
    for _ in range(_ROUNDS):
        low, high = _off(points, bulge)
        if -within_mm <= low and high <= within_mm:
            break
        bulge += (low + high) / chord  # a bulge is 2 x rise / chord
    else:
        return None
    return piece(points[0], points[-1], bulge if abs(bulge) > _FLAT else 0.0) if abs(bulge) <= _MOST else None


def _off(points: Sequence[Point], bulge: float) -> tuple[float, float]:
    """How far the points lie outside the arc of that bulge, on the side to which it rises: least and most, mm."""
    if abs(bulge) < _FLAT:
        (ax, ay), (bx, by) = points[0], points[-1]
        chord = hypot(bx - ax, by - ay)
        offs = [((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / chord for x, y in points[1:-1]]
        return min(offs), max(offs)
    arc = Arc(points[0], points[-1], min(1.0, max(-1.0, bulge)))
    centre, radius, side = arc.centre, arc.radius, 1 if bulge > 0 else -1
    offs = [side * (dist(centre, point) - radius) for point in points[1:-1]]
    return min(offs), max(offs)
