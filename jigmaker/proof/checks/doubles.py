"""Lines drawn twice: pairs of pieces that run along each other. mm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from jigmaker.proof.checks.pieces import Pieces
from jigmaker.proof.contours import circles_of
from jigmaker.proof.faults import TooMuch

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Numbers

APART_MM = 0.01
"""Lines nearer than this are cut into the same place."""

ALONG_MM = 0.1
"""For less than this they may run together, as lines that cross or touch do."""

_AT_ONCE = 100  # rows; of the most lines that a file may have, these can meet five million others
_PAIRS_AT_ONCE = 50_000  # of which each takes some 300 bytes while it is compared
_MOST_PAIRS = 1_000_000


def doubled_rows(pieces: Pieces) -> Iterator[tuple[int, int, float]]:
    """Rows of the table that lie on each other, and for how many mm.

    Raises TooMuch when more lines lie over each other than anyone would draw.
    """
    import numpy as np

    is_round = (pieces.table[:, 4] != 0) | (pieces.table[:, 5] > 0)
    centre, radius, first, turn = circles_of(pieces.table[is_round])
    first, turn = np.where(turn < 0, first + turn, first), np.abs(turn)  # all run anticlockwise
    number = np.cumsum(is_round) - 1  # of a round row among the round ones
    for one, two in _neighbours(pieces):
        both = ~is_round[one] & ~is_round[two]
        yield from _straight(pieces.table, one[both], two[both])
        # Arcs and circles on one circle, and the turn that both of them cover.
        both = is_round[one] & is_round[two]
        ones, twos = number[one[both]], number[two[both]]
        # Two arcs lie on one circle when their centres and radii together differ by no more than the distance allowed.
        apart = np.hypot(*(centre[ones] - centre[twos]).T) + np.abs(radius[ones] - radius[twos])
        for i in np.flatnonzero(apart <= APART_MM):
            a, b = int(ones[i]), int(twos[i])
            shift = float(np.mod(first[b] - first[a], 2 * np.pi))
            # The second arc from `shift` on, and once more a whole turn earlier.
            shared = max(0.0, min(turn[a], shift + turn[b]) - shift)
            shared += max(0.0, min(turn[a], shift - 2 * np.pi + turn[b]))
            if shared * radius[a] > ALONG_MM:
                yield int(one[both][i]), int(two[both][i]), float(shared * radius[a])


def _neighbours(pieces: Pieces) -> Iterator[tuple[Indices, Indices]]:
    """Pairs of rows whose boxes come within APART_MM of each other, each pair once; some rows at a time."""
    import numpy as np
    import shapely

    boxes, half, total = pieces.bounds(), APART_MM / 2, 0
    found = shapely.box(boxes[:, 0] - half, boxes[:, 1] - half, boxes[:, 2] + half, boxes[:, 3] + half)
    # Boxes grown by half the distance meet wherever the lines may come that near; some rows are asked at a time, so
    # that a file in which everything lies over everything is refused before its pairs fill the memory.
    tree = shapely.STRtree(found)
    for start in range(0, len(found), _AT_ONCE):
        one, two = tree.query(found[start : start + _AT_ONCE])
        total += len(one)
        if total > _MOST_PAIRS:
            raise TooMuch("more lines lie over each other than can be judged")
        pairs = np.stack([one + start, two])[:, one + start < two]
        for first in range(0, pairs.shape[1], _PAIRS_AT_ONCE):
            part = pairs[:, first : first + _PAIRS_AT_ONCE]
            yield part[0], part[1]


def _straight(table: Numbers, one: Indices, two: Indices) -> Iterator[tuple[int, int, float]]:
    """The second line seen from the first: along it from t0 to t1, beside it by d0 at one end and d1 at the other."""
    import numpy as np

    #               d0 |--------.____      d1      b, seen from a: t0 and t1 along it, d0 and d1 beside it.
    #      a *-----+----|----+------'----|---+---*
    #              0    t0   |           t1  |
    #                        within APART_MM of each other: from where d(t) = ±APART_MM to the nearer end
    a, b = table[one], table[two]
    direction = a[:, 2:4] - a[:, :2]
    length = np.hypot(direction[:, 0], direction[:, 1])
    unit = direction / length[:, None]
    from_a = [b[:, k : k + 2] - a[:, :2] for k in (0, 2)]
    t0, t1 = (v[:, 0] * unit[:, 0] + v[:, 1] * unit[:, 1] for v in from_a)
    d0, d1 = (v[:, 1] * unit[:, 0] - v[:, 0] * unit[:, 1] for v in from_a)
    span = t1 - t0
    with np.errstate(divide="ignore", invalid="ignore"):
        slope = np.where(np.abs(span) > 1e-12, (d1 - d0) / span, np.inf)
        # Where the second line comes within APART_MM of the first: t between the two roots of d(t) = +-APART_MM.
        ends = np.stack([t0 + (side * APART_MM - d0) / slope for side in (-1, 1)])
    parallel = np.abs(slope) < 1e-9
    near_low = np.where(parallel, np.where(np.abs(d0) <= APART_MM, -np.inf, np.inf), ends.min(axis=0))
    near_high = np.where(parallel, np.inf, ends.max(axis=0))
    low = np.maximum.reduce([np.minimum(t0, t1), np.zeros_like(length), near_low])
    high = np.minimum.reduce([np.maximum(t0, t1), length, near_high])
    together = np.where(np.isfinite(slope), high - low, 0.0)
    for i in np.flatnonzero(together > ALONG_MM):
        yield int(one[i]), int(two[i]), float(together[i])
