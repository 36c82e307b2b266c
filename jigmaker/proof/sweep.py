"""What a round tool takes away along a line: contours and a diameter in, areas out. Any plane frame; mm.

Piece by piece: a straight piece leaves a strip, an arc a bent strip, and where two pieces meet in a corner the tool's
own roundness fills the outside. Made this way because the geometry library's own offset first straightens a contour's
hollows by a hundredth of the distance, which is 0.03 mm with a cutter of 6 mm.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, ceil, cos, hypot, pi, sin
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Segment
from jigmaker.geometry.tolerance import TOUCH_MM

if TYPE_CHECKING:
    from shapely import Polygon

PER_QUARTER = 64
_FLAT = 1e-5  # a turn this small (in radians) is none
_THIN_MM = 1e-9
_HAIR_MM = 1e-6


def swept(shape: Outline | Circle, width: float) -> Polygon:
    """All that a disc of this width covers while its centre runs along the closed contour."""
    import numpy as np
    import shapely

    if isinstance(shape, Circle):
        return shapely.Polygon(*_ring(shape, width / 2))
    rings = [ring for ring in _areas(shape.segments, width / 2) if len(ring) > 2]
    points = np.array([p for ring in rings for p in ring])
    owners = np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    return shapely.union_all(shapely.polygons(shapely.linearrings(points, indices=owners)))


def _ring(circle: Circle, half: float) -> tuple[list[Point], list[list[Point]]]:
    inside = circle.radius - half
    holes = [Circle(circle.centre, inside).points(PER_QUARTER)] if inside > _THIN_MM * 1e4 else []
    return Circle(circle.centre, circle.radius + half).points(PER_QUARTER), holes


def _areas(segments: Sequence[Segment], half: float) -> Iterator[list[Point]]:
    for one, following in pairwise([*segments, segments[0]]):
        if isinstance(one, Arc):
            yield from _bent_strips(one, half)
        else:
            yield _strip(one, half)
        yield _corner(one.end, one.end_direction, following.start_direction, half)


def _strip(line: Segment, half: float) -> list[Point]:
    (ux, uy), (ax, ay), (bx, by) = line.start_direction, line.start, line.end
    nx, ny = -uy * half, ux * half
    return [(ax + nx, ay + ny), (ax - nx, ay - ny), (bx - nx, by - ny), (bx + nx, by + ny)]


def _bent_strips(arc: Arc, half: float) -> Iterator[list[Point]]:
    """Between the arc's circles moved out and in by half the width.

    A disc that reaches over the arc's centre covers a slice on its other side as well, between those at both ends.
    """
    centre, radius = arc.centre, arc.radius
    first = atan2(arc.start[1] - centre[1], arc.start[0] - centre[0])
    outer = _on_circle(centre, radius + half, first, arc.included)
    if radius > half + _THIN_MM:
        yield outer + _on_circle(centre, radius - half, first, arc.included)[::-1]
        return
    yield [*outer, centre]
    yield [*_on_circle(centre, half - radius, first + pi, arc.included), centre]
    yield from (Circle(end, half).points(PER_QUARTER) for end in (arc.start, arc.end))


def _corner(at: Point, coming: Point, going: Point, half: float) -> list[Point]:
    """The slice of the disc outside a turn; where the pieces run on smoothly a hair's breadth, so that no gap stays."""
    turn = atan2(coming[0] * going[1] - coming[1] * going[0], coming[0] * going[0] + coming[1] * going[1])
    if abs(turn) < _FLAT:
        (x, y), (ux, uy) = at, coming
        hair = _HAIR_MM + 2 * _FLAT * half  # a turn too small to count still opens a gap of turn x half at the outside
        return _strip(Line((x - hair * ux, y - hair * uy), (x + hair * ux, y + hair * uy)), half)
    side = -1 if turn > 0 else 1  # the outside of a left turn is at the right
    first = atan2(side * coming[0], -side * coming[1])
    return [at, *_on_circle(at, half, first, turn)]


def _on_circle(centre: Point, radius: float, first: float, turn: float) -> list[Point]:
    count = max(1, ceil(abs(turn) / (pi / 2) * PER_QUARTER - 1e-9))
    angles = [first + turn * i / count for i in range(count + 1)]
    return [(centre[0] + radius * cos(a), centre[1] + radius * sin(a)) for a in angles]


def shrunk(area: Polygon, width: float) -> Polygon:
    """Where the middle of a disc of this width can be without leaving the area; its largest piece, maybe empty."""
    import shapely

    outline = outline_of(area)
    left = shapely.difference(area, swept(outline, width)) if outline else shapely.Polygon()
    return max(shapely.get_parts(left), key=lambda piece: piece.area, default=shapely.Polygon())


def grown(area: Polygon, width: float) -> Polygon:
    """All that a disc of this width covers while its middle is anywhere in the area."""
    import shapely

    outline = outline_of(area)
    return shapely.Polygon(area.union(swept(outline, width)).exterior) if outline else area


def outline_of(area: Polygon) -> Outline | None:
    """The area's outer ring as straight pieces, without points that lie at one place."""
    points: list[Point] = []
    for x, y in area.exterior.coords[:-1] if not area.is_empty else []:
        if not points or hypot(x - points[-1][0], y - points[-1][1]) > 2 * TOUCH_MM:
            points.append((x, y))
    while len(points) > 2 and hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1]) <= 2 * TOUCH_MM:
        points.pop()
    return Outline.from_points(points) if len(points) > 2 else None
