"""Hatching of sections. Any plane; mm, degrees."""

from collections.abc import Sequence
from math import ceil, cos, floor, radians, sin

from jigmaker.geometry.frames import Point


def hatch(ring: Sequence[Point], step: float, slant_deg: float) -> list[tuple[Point, Point]]:
    """Lines `step` apart at that slant, as far as they lie inside the ring; in order, the same for the same ring."""
    c, s = cos(radians(slant_deg)), sin(radians(slant_deg))
    turned = [(c * x + s * y, c * y - s * x) for x, y in ring]
    low, high = min(y for _, y in turned), max(y for _, y in turned)
    pieces: list[tuple[Point, Point]] = []
    # The ring is turned by the slant so that its hatching lines are level; even-odd: between the first and the second
    # crossing a line is inside, between the second and the third outside, and so on.
    # Half a step off whole ones, so that no line runs along an edge of a ring that begins at 0.
    for i in range(ceil(low / step - 0.5), floor(high / step - 0.5) + 1):
        y = (i + 0.5) * step
        # Where a level line meets the ring, from left to right; an even number of times.
        found = []
        for (ax, ay), (bx, by) in zip(turned, (*turned[1:], turned[0]), strict=True):
            if (ay > y) != (by > y):
                found.append(ax + (bx - ax) * (y - ay) / (by - ay))
        xs = sorted(found)
        ends = [(c * x - s * y, s * x + c * y) for x in xs]
        pieces += list(zip(ends[::2], ends[1::2], strict=True))
    return pieces
