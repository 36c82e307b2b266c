"""Shapes cut at the border of a rectangle: lines, arcs and circles in, what lies inside out; any plane frame, mm.

Arcs stay arcs of the same circle. What lies on the border counts as inside.
"""

from collections.abc import Iterator
from itertools import pairwise
from math import acos, asin, atan2, cos, hypot, pi, sin, tan

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Bounds, Circle, Line, Outline, Segment, Stroke
from jigmaker.geometry.strokes import Strokes
from jigmaker.geometry.tolerance import TOUCH_MM

ClippedShape = Outline | Circle | Stroke


def clip(shape: ClippedShape | Strokes, box: Bounds) -> tuple[ClippedShape, ...]:
    """The parts of a shape inside the box (x low, y low, x high, y high); the shape itself when all of it is inside."""
    if isinstance(shape, Strokes):
        return tuple(piece for stroke in shape for piece in clip(stroke, box))
    low_x, low_y, high_x, high_y = shape.bounds
    if _is_in((low_x, low_y), box) and _is_in((high_x, high_y), box):
        return (shape,)
    if low_x > box[2] or high_x < box[0] or low_y > box[3] or high_y < box[1]:
        return ()
    if isinstance(shape, Circle):
        (x, y), r = shape.centre, shape.radius
        right, left = (x + r, y), (x - r, y)
        shape = Outline((Arc(right, left, 1.0), Arc(left, right, 1.0)))
    # What is left of neighbours that meet inside belongs together; a closed shape has no first piece, so its last chain
    # may go on into the first.
    kept = [each for segment in shape.segments for each in _inside(segment, box)]
    chains: list[list[Segment]] = []
    for piece in kept:
        if chains and _touch(chains[-1][-1].end, piece.start):
            chains[-1].append(piece)
        else:
            chains.append([piece])
    if isinstance(shape, Outline) and len(chains) > 1 and _touch(chains[-1][-1].end, chains[0][0].start):
        chains[0] = chains.pop() + chains[0]
    return tuple(Stroke(tuple(chain)) for chain in chains)


def _is_in(p: Point, box: Bounds) -> bool:
    return box[0] - TOUCH_MM <= p[0] <= box[2] + TOUCH_MM and box[1] - TOUCH_MM <= p[1] <= box[3] + TOUCH_MM


def _touch(a: Point, b: Point) -> bool:
    return hypot(a[0] - b[0], a[1] - b[1]) <= TOUCH_MM


def _inside(segment: Segment, box: Bounds) -> Iterator[Segment]:
    """The pieces between one crossing of the box's four lines and the next whose middle is inside."""
    shares = sorted({0.0, 1.0, *(share for share in _crossings(segment, box) if 0 < share < 1)})
    for first, last in pairwise(shares):
        if (last - first) * segment.length > TOUCH_MM and _is_in(_at(segment, (first + last) / 2), box):
            start, end = _at(segment, first), _at(segment, last)
            if (first, last) == (0.0, 1.0):
                yield segment
            elif isinstance(segment, Line):
                yield Line(start, end)
            else:
                yield Arc(start, end, tan(segment.included * (last - first) / 4))


def _crossings(segment: Segment, box: Bounds) -> Iterator[float]:
    """Where a segment crosses the lines along the box's sides, as shares of its length from its start."""
    for axis in (0, 1):
        for level in (box[axis], box[axis + 2]):
            if isinstance(segment, Arc):
                # Where the circle meets the line: cos t = off on an upright one, sin t = off on a level one.
                off = (level - segment.centre[axis]) / segment.radius
                if abs(off) <= 1:
                    turns = (acos(off), -acos(off)) if axis == 0 else (asin(off), pi - asin(off))
                    first, sense = _first(segment), 1 if segment.bulge > 0 else -1
                    for turn in turns:
                        yield (sense * (turn - first)) % (2 * pi) / abs(segment.included)
            elif rise := segment.end[axis] - segment.start[axis]:
                yield (level - segment.start[axis]) / rise


def _first(arc: Arc) -> float:
    return atan2(arc.start[1] - arc.centre[1], arc.start[0] - arc.centre[0])


def _at(segment: Segment, share: float) -> Point:
    """The point at a share of the segment's length; its ends exactly."""
    if share in (0.0, 1.0):
        return segment.end if share else segment.start
    if isinstance(segment, Line):
        (ax, ay), (bx, by) = segment.start, segment.end
        return (ax + (bx - ax) * share, ay + (by - ay) * share)
    turn = _first(segment) + segment.included * share
    return (segment.centre[0] + segment.radius * cos(turn), segment.centre[1] + segment.radius * sin(turn))
