"""Random closed profiles of lines and arcs, by seed: re-entrant corners, arcs both ways, smooth and sharp joins."""

from functools import lru_cache
from itertools import pairwise
from math import cos, dist, pi, sin, tan
from random import Random

import shapely

from jigmaker.cutting.track import turn_between
from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Line, Outline, Segment, piece

Corner = tuple[Point, Point, float]


@lru_cache(maxsize=256)
def random_profile(seed: int) -> Outline:
    """A profile about 80 mm across with 3 to 9 corners, half of them rounded, run either way."""
    rng = Random(seed)
    while True:
        try:
            outline = Outline(tuple(_pieces(_star(rng), rng)))
        except OutlineError:
            continue
        ring = shapely.LinearRing(outline.points(64))
        if ring.is_simple and shapely.Polygon(ring).area > 100:
            return outline if rng.random() < 0.5 else outline.reversed()


def _star(rng: Random) -> list[Point]:
    turns = sorted(rng.uniform(0, 2 * pi) for _ in range(rng.randint(3, 9)))
    reaches = [rng.uniform(8, 50) for _ in turns]
    return [(60 + reach * cos(turn), 60 + reach * sin(turn)) for turn, reach in zip(turns, reaches, strict=True)]


def _pieces(points: list[Point], rng: Random) -> list[Segment]:
    corners = [_corner(points[i - 1], points[i], points[(i + 1) % len(points)], rng) for i in range(len(points))]
    pieces: list[Segment] = []
    for (start, end, bulge), (following, _, _) in pairwise([*corners, corners[0]]):
        pieces += [Arc(start, end, bulge)] if bulge else []
        sharp = rng.choice([-1, 1]) * rng.uniform(0.05, 0.5) if rng.random() < 0.3 else 0.0
        pieces.append(piece(end, following, sharp))
    return pieces


def _corner(before: Point, at: Point, after: Point, rng: Random) -> Corner:
    """Sharp, or rounded by a tangent arc that takes part of the shorter side."""
    inward, outward = Line(before, at).start_direction, Line(at, after).start_direction
    if rng.random() < 0.5:
        return (at, at, 0.0)
    back = rng.uniform(0.02, 0.45) * min(dist(before, at), dist(at, after))
    start = (at[0] - inward[0] * back, at[1] - inward[1] * back)
    end = (at[0] + outward[0] * back, at[1] + outward[1] * back)
    return (start, end, tan(turn_between(inward, outward) / 4))
