"""Whether the router's base stands safely on the plate: plate and layout in, distances in mm out. Plate plane.

For a bush centre anywhere in the slot, what carries the base is the part of its disc that has plate under it. The
router cannot tip while its axis is inside the hull of that part; the least distance from the axis to the hull's edge is
the margin that hands, cable and hose may use up.
"""

from __future__ import annotations

from collections import defaultdict
from math import ceil, cos, dist, inf, pi, sqrt
from typing import Any

from jigmaker.geometry.frames import Point
from jigmaker.parts.housing_jig.layout import JigLayout
from jigmaker.parts.housing_jig.plate import part_from_plate
from jigmaker.parts.part import Part

GRID = 25  # bush centres tried along and across the slot
CELLS = 4  # in each direction, of bush centres that are judged together for the bound; a divisor of GRID - 1
ROW_MM = 8.0


def bush_centres(layout: JigLayout) -> list[tuple[float, float]]:
    """A grid over every place the bush's centre can be in slot R (for an L plate: mirrored), part frame."""
    low, high = layout.bush_travel
    side = layout.bush_radius / layout.slot_width * (layout.near_wall(0) - layout.far_wall(0))
    move, sign = part_from_plate(layout).point, -1 if layout.hands == "L" else 1
    centres = []
    for i in range(GRID):
        v = low + (high - low) * i / (GRID - 1)
        left, right = layout.far_wall(v) + side, layout.near_wall(v) - side
        centres += [move((sign * (left + (right - left) * j / (GRID - 1)), v)) for j in range(GRID)]
    return centres


def support_bound(part: Part, layout: JigLayout) -> float:
    """A margin that no bush centre falls short of, mm: most often some 20 less than `least_support`, without a library.

    The centres are judged in cells. A point that the base covers from every corner of a cell it covers from all of the
    cell, because the way to a point is longest from a corner; and a centre lies least far inside a hull at a corner.
    Of the plate only rows of points are looked at, of each the first and the last that is covered so.
    """
    rows, centres, step = _rows(part), bush_centres(layout), (GRID - 1) // CELLS
    reach = layout.base_radius * cos(pi / 64)  # inside the disc of 64 corners that least_support takes
    least = inf
    for first in range(0, (GRID - 1) * GRID, step * GRID):
        for at in range(first, first + GRID - 1, step):
            corners = [centres[at + i] for i in (0, step, step * GRID, step * GRID + step)]
            # Of each row the first and the last point of wood that the base covers from every corner.
            found: list[Point] = []
            for y, xs in rows.items():
                halves = [reach**2 - (y - v) ** 2 for _, v in corners]
                if min(halves) <= 0:
                    continue
                low = max(x - sqrt(half) for (x, _), half in zip(corners, halves, strict=True))
                high = min(x + sqrt(half) for (x, _), half in zip(corners, halves, strict=True))
                pieces = [(max(low, a), min(high, b)) for a, b in zip(xs[::2], xs[1::2], strict=True)]
                found += [(x, y) for a, b in pieces if a <= b for x in (a, b)]
            hull = _hull(found)
            least = min(least, *(_margin(hull, corner) for corner in corners))
    return least - 0.01


def _rows(part: Part) -> dict[float, list[float]]:
    """Where rows ROW_MM apart enter and leave the wood, by turns: x by y, part frame."""
    rows: dict[float, list[float]] = defaultdict(list)
    for ring in (part.outline.points(16), *(hole.contour.points(16) for hole in part.holes)):
        for one, other in zip(ring, [*ring[1:], ring[0]], strict=True):
            (x0, y0), (x1, y1) = sorted((one, other), key=lambda point: point[1])
            for row in range(ceil(y0 / ROW_MM), ceil(y1 / ROW_MM)):
                rows[row * ROW_MM].append(x0 + (x1 - x0) * (row * ROW_MM - y0) / (y1 - y0))
    return {y: sorted(xs) for y, xs in rows.items()}


def _hull(points: list[Point]) -> list[Point]:
    """The convex hull, anticlockwise (A. M. Andrew, Another efficient algorithm for convex hulls in two dimensions)."""
    ordered = sorted(points)
    hull: list[Point] = []
    for run in (ordered, ordered[::-1]):
        start = len(hull)
        for point in run:
            while len(hull) - start > 1 and _left_of(hull[-2], hull[-1], point) <= 0:
                hull.pop()
            hull.append(point)
        del hull[-1:]  # the first of the other run
    return hull


def _margin(hull: list[Point], at: Point) -> float:
    """How far inside the hull a point lies; negative outside of it."""
    if len(hull) < 3:
        return -inf
    sides = zip(hull, [*hull[1:], hull[0]], strict=True)
    return min(_left_of(a, b, at) / dist(a, b) for a, b in sides)


def _left_of(a: Point, b: Point, c: Point) -> float:
    """Twice the area of the triangle, positive when c lies left of the way from a to b."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def least_support(part: Part, layout: JigLayout) -> float:
    """The least margin over all bush centres, mm; negative when the axis leaves the hull."""
    import shapely

    plate = shapely.Polygon(part.outline.points(16), [hole.contour.points(16) for hole in part.holes])
    points = shapely.points(bush_centres(layout))
    hulls = shapely.convex_hull(shapely.intersection(shapely.buffer(points, layout.base_radius, quad_segs=16), plate))
    inside: Any = shapely.contains(hulls, points)
    distances = shapely.distance(points, shapely.boundary(hulls))
    return float(min(d if ok else -d for d, ok in zip(distances, inside, strict=True)))
