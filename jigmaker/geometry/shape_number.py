"""A short number for shapes and figures: the same shapes give the same number, on every machine; mm, degrees.

Every figure is taken as it stands in a file, with six decimals, and then cut to three: what a platform's own sine
leaves at the fifteenth digit cannot tip it, for that would have to tip the sixth decimal and stand at a thousandth's
middle as well. A contour counts by its corners, with neither the roundness nor the bites that a tool leaves in them, so
that one shape has one number whatever cuts it.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from math import dist

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Circle, Line, Outline
from jigmaker.units import fixed

LETTERS = "ACFHJKR37"
"""Of letters that are taken for one another one at most: 0 O Q D, 1 I L 7, 5 S, 8 B, 2 Z, U V, C G, E F, P R, J T; of
those that turned about are another one too: 6 9, M W, E 3, A V Y, H 4. Of N, O, S, X, Z and H, which turned about are
themselves, H alone may stay: a row of H is the same number either way."""

_GROUP = 3
# A corner that is worked out lies on the corner that was drawn when it is so near.
_TRUE_MM = 0.001


def number_of(lines: Iterable[str]) -> str:
    """The number of some lines of text: two groups of three letters, one of half a million. The lines' order counts."""
    from hashlib import sha256  # loads slowly, and most commands need none

    # The hash as a number, written in base len(LETTERS): its last six digits.
    left, letters = int.from_bytes(sha256("\n".join(lines).encode()).digest()), ""
    for _ in range(2 * _GROUP):
        left, letter = divmod(left, len(LETTERS))
        letters += LETTERS[letter]
    return f"{letters[:_GROUP]}-{letters[_GROUP:]}"


WIDEST = "AAA-AAA"
"""As wide as a number can be written: no other letter of them is wider than an A."""


def figure(value: float) -> str:
    """A figure with three decimals, rounded from the six that a file has."""
    return fixed(float(Decimal(fixed(value, 6)).quantize(Decimal("0.001"))), 3)


def contour_line(contour: Outline | Circle) -> str:
    """A contour in a line of text: a circle's middle, an outline's corners in their order from the least of them on.

    A circle's diameter is left out: where a cutter is wider than the hole, it follows from the cutter.
    """
    if isinstance(contour, Circle):
        return f"hole {_place(contour.centre)}"
    places = [_place(corner) for corner in _corners(contour)]
    first = places.index(min(places))
    return " ".join([*places[first:], *places[:first]])


def _place(at: Point) -> str:
    return f"{figure(at[0])},{figure(at[1])}"


def _as_written(at: Point) -> Point:
    return (float(fixed(at[0], 6)), float(fixed(at[1], 6)))


def _corners(outline: Outline) -> Iterator[Point]:
    """Where each straight piece meets the next; with arcs between them, where their lines would meet.

    A bite runs through the true corner or starts in it: then that point, as it was drawn, is the corner, since what
    is worked out from pieces that a cutter shortened would differ in its last decimals.
    """
    # From one straight piece to the next, over the arcs between: the ends of all of them are candidates for the corner
    # as it was drawn, and the nearest to where the two lines would meet is it, where it is near at all.
    segments = outline.segments
    lines = {i: segment for i, segment in enumerate(segments) if isinstance(segment, Line)}
    if len(lines) < 2:
        yield from (_as_written(segment.start) for segment in segments)
        return
    first, *others = lines
    for i, following in zip(lines, [*others, first + len(segments)], strict=True):
        ends = [_as_written(segments[k % len(segments)].end) for k in range(i, following)]
        met = _meeting(lines[i], lines[following % len(segments)])
        if len(ends) == 1 or met is None:
            yield ends[0]
        else:
            near = min(ends, key=lambda end: dist(end, met))
            yield near if dist(near, met) < _TRUE_MM else met


def _meeting(one: Line, other: Line) -> Point | None:
    """Where the lines through two pieces cross; None for parallel ones."""
    (ax, ay), (bx, by) = _as_written(one.start), _as_written(one.end)
    (cx, cy), (dx, dy) = _as_written(other.start), _as_written(other.end)
    # a + s (b - a) on the line through c along d - c: their cross product with d - c is 0, which gives s.
    turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if abs(turn) < 1e-6 * dist((ax, ay), (bx, by)) * dist((cx, cy), (dx, dy)):
        return None
    share = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / turn
    return (ax + share * (bx - ax), ay + share * (by - ay))
