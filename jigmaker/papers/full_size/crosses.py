"""Registration crosses, by which two tiles are laid on each other. Template's frame; mm.

Two lie in every overlap, as far apart as they can and clear of lines and words where there is room.
"""

from itertools import pairwise
from math import dist

from jigmaker.drawing.picture import Picture, Shape
from jigmaker.geometry.clip import clip
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Bounds, Stroke
from jigmaker.papers.full_size.template import label_box
from jigmaker.papers.full_size.tiling import OVERLAP_MM, TileSpan, Tiling

ARM_MM = 3.0
"""How far a cross reaches each way."""

_CLEAR_MM, _STEP_MM = 5.5, 2.0


def cross_places(picture: Picture, tiling: Tiling) -> list[Point]:
    """Every cross once, seam by seam."""
    # Neighbours overlap by 10 mm: from the next one's low border to this one's high one. A seam's crosses lie in the
    # middle of that, once for each row (or column) that it passes.
    #
    #     |   A1    : x :   B1    |
    #     |         : x :         |
    #     |_________:___:_________|
    #
    seams: list[list[Point]] = []
    for (_, high), (low, _) in pairwise(tiling.columns):
        seams += [[((low + high) / 2, y) for y in _along(row, tiling.rows)] for row in tiling.rows]
    for (low, _), (_, high) in pairwise(tiling.rows):
        seams += [[(x, (low + high) / 2) for x in _along(column, tiling.columns)] for column in tiling.columns]
    words = [label_box(label) for label in picture.labels]
    lines = [(drawn.shape.bounds, drawn.shape) for drawn in picture.shapes]
    return [at for places in seams for at in _pair(places, words, lines)]


def cross_strokes(at: Point) -> tuple[Stroke, Stroke]:
    """The two lines of a cross, each ARM_MM to either side of its middle."""
    x, y = at
    level, upright = [(x - ARM_MM, y), (x + ARM_MM, y)], [(x, y - ARM_MM), (x, y + ARM_MM)]
    return Stroke.from_points(level), Stroke.from_points(upright)


def _along(span: TileSpan, spans: tuple[TileSpan, ...]) -> list[float]:
    """Places along a seam, clear of what the next row or column shares."""
    low, high = span[0] + ARM_MM, span[1] - ARM_MM
    low += OVERLAP_MM if span[0] > min(spans)[0] else 0.0
    high -= OVERLAP_MM if span[1] < max(spans)[1] else 0.0
    count = int((high - low) / _STEP_MM)
    if count < 1:
        return [span[0] + (span[1] - span[0]) * share for share in (0.35, 0.65)]
    return [low + i * _STEP_MM for i in range(count + 1)]


def _pair(places: list[Point], words: list[Bounds], lines: list[tuple[Bounds, Shape]]) -> list[Point]:
    """The first and the last place that are free; free of words only, where they would else be too near each other."""
    # Two crosses fix shift and turn of a tile; the turn the better the farther they are apart.
    clear = [at for at in places if not any(_overlap(_round(at), box) for box in words)]
    for of, least in ((lines, 0.5), ([], 0.0)):
        first, last = (
            next(
                (
                    at
                    for at in there
                    if not any(_overlap(_round(at), box) and clip(shape, _round(at)) for box, shape in of)
                ),
                None,
            )
            for there in (clear, clear[::-1])
        )
        if first and last and first != last and dist(first, last) >= least * dist(places[0], places[-1]):
            return [first, last]
    return [places[0], places[-1]]


def _round(at: Point) -> Bounds:
    return (at[0] - _CLEAR_MM, at[1] - _CLEAR_MM, at[0] + _CLEAR_MM, at[1] + _CLEAR_MM)


def _overlap(a: Bounds, b: Bounds) -> bool:
    """Whether two boxes have a point in common; a line along x or y is a box too."""
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]
