"""Room for a number on every piece of a crowded drawing. Paper frame; mm.

A number goes inside its piece; where the piece is too small, to the nearest free place outside every piece, with a
leader. The drawing is looked at through a grid of small cells; those that a line runs through are taken.

Names on a sheet itself (papers/labels.py) have room for leaders that cross no piece, and letters of any size. Tried on
these small drawings that way wrote numbers across pieces, because here a leader has to cross some.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, product
from math import hypot
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import text_width
from jigmaker.record import dataclass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Cells = NDArray[np.bool_]

CELL_MM = 0.3
AIR_MM = 0.4
"""Free paper round a number, at least."""

_TRIED, _STEP = 60, 5  # free places tried beside a piece: of the nearest every fifth, and as many of all
_ENDS = 20  # of a leader in a piece
_LOOKS, _AT_ONCE = 24, 256  # places along a way that are looked at first; free places whose ways are looked at at once
_FREE, _HOLE = 0, -1
_INWARD = 0.3  # a leader's end: share of the way from the border to the piece's middle


@dataclass(frozen=True, slots=True)
class NumberPlace:
    """Where a word has its middle, and its leader from the edge of its box into the piece: () when it stands in it."""

    middle: Point
    leader: tuple[Point, ...] = ()


class NumberGrid:
    """The cells between two corners of a drawing and what takes them. Changes as pieces and numbers come in."""

    def __init__(self, low: Point, high: Point, height_mm: float) -> None:
        import numpy as np

        self._low, self._height = low, height_mm
        shape = tuple(int((h - lo) / CELL_MM) + 1 for lo, h in zip(low, high, strict=True))
        self._taken: Cells = np.zeros(shape, dtype=bool)
        self._words: Cells = np.zeros(shape, dtype=bool)
        self._leaders: Cells = np.zeros(shape, dtype=bool)
        self._owner: NDArray[np.int_] = np.full(shape, _FREE)

    def add_line(self, points: Sequence[Point]) -> None:
        """A line of the drawing: no word may lie on its cells."""
        for a, b in pairwise(points):
            self._taken[self._cells_of(a, b)] = True

    def add_piece(self, piece: int, rings: Sequence[Sequence[Point]]) -> None:
        """A piece by its number from 1, its outline first, then its holes; pieces do not overlap."""
        for i, ring in enumerate(rings):
            self._fill(ring, _HOLE if i else piece)
            self.add_line((*ring, ring[0]))

    def inside(self, piece: int, word: str) -> NumberPlace | None:
        """A place for the word in the piece, as near its heart as there is room; None where there is none."""
        import numpy as np

        half = self._half(word)
        own = self._owner == piece
        cells = np.argwhere(self._free(half) & own)
        if not len(cells):
            return None
        at = cells[_nearest(cells, np.argwhere(own).mean(axis=0))]
        self._settle(at, half)
        return NumberPlace(self._point(at))

    def beside(self, piece: int, word: str) -> NumberPlace | None:
        """A place outside all pieces, near this one; None where there is none.

        Its leader runs over no other word, and over no other leader where that can be without going far.
        """
        import numpy as np

        half, own = self._half(word), np.argwhere(self._owner == piece)
        cells = np.argwhere(self._free(half) & (self._owner == _FREE))
        away = np.maximum(np.maximum(own.min(axis=0) - cells, cells - own.max(axis=0)), 0)
        order = (away**2).sum(axis=1).argsort(kind="stable")
        near, all_over = order[: _TRIED * _STEP : _STEP], order[:: max(len(order) // _TRIED, 1)]
        both = self._words | self._leaders
        tries: list[tuple[Iterable[tuple[Any, Any]], Cells]] = [
            (product(cells[some], [None]), barred) for some, barred in product((near, all_over), (both, self._words))
        ]
        # In a crowd from any free place to any end in the piece.
        ends = own[:: max(len(own) // _ENDS, 1)]
        tries.append((self._in_sight(cells[order[::_STEP]], ends, half), self._words))
        for pairs, barred in tries:
            for at, to in pairs:
                if to is None:
                    # Of the piece's cells one near the place, some way in from the piece's border.
                    near_by = own[_nearest(own, at)]
                    to = own[_nearest(own, near_by + _INWARD * (own.mean(axis=0) - near_by))]
                middle, end = self._point(at), self._point(to)
                # Where the way from the middle of a box to a point outside it leaves the box.
                x, y = end[0] - middle[0], end[1] - middle[1]
                share = min(half[0] / abs(x) if x else 1.0, half[1] / abs(y) if y else 1.0, 1.0)
                start = (middle[0] + share * x, middle[1] + share * y)
                way = self._cells_of(start, end)
                if not barred[way].any():
                    self._settle(at, half)
                    self._taken[way] = self._leaders[way] = True
                    return NumberPlace(middle, (start, end))
        return None

    def _in_sight(self, places: Any, ends: Any, half: Point) -> Iterator[tuple[Any, Any]]:
        """Every place with every end in turn, but for those between which a word is met where the way is looked at.

        On a large sheet there are hundred thousands of pairs: most fall away by few looks at many ways at once.
        """
        import numpy as np

        for first in range(0, len(places), _AT_ONCE):
            some = places[first : first + _AT_ONCE]
            at, to = np.repeat(some, len(ends), axis=0), np.tile(ends, (len(some), 1))
            # As in beside and _cells_of, of whose cells on the way every so many are looked at.
            middle, end = (np.array(self._low) + CELL_MM * cells for cells in (at, to))
            out = end - middle
            with np.errstate(divide="ignore"):
                share = np.minimum((np.array(half) / np.abs(out)).min(axis=1), 1.0)[:, None]
            start = middle + share * out
            last = (2 * np.hypot(*(end - start).T) / CELL_MM).astype(int) + 1
            along = (np.arange(_LOOKS) * last[:, None] // (_LOOKS - 1)) / last[:, None]
            looks = (start[:, None] - self._low + (end - start)[:, None] * along[:, :, None]) / CELL_MM + 0.5
            i, j = np.clip(looks, 0.0, np.array(self._taken.shape) - 1).astype(int).transpose(2, 0, 1)
            for k in np.flatnonzero(~self._words[i, j].any(axis=1)):
                yield at[k], to[k]

    def _half(self, word: str) -> Point:
        return (text_width(word, self._height) / 2 + AIR_MM, self._height / 2 + AIR_MM)

    def _settle(self, at: Any, half: Point) -> None:
        (x, y), (i, j) = (int(k) for k in at), (int(h / CELL_MM) + 1 for h in half)
        for cells in (self._taken, self._words):
            cells[max(x - i, 0) : x + i + 1, max(y - j, 0) : y + j + 1] = True

    def _point(self, at: Any) -> Point:
        return (self._low[0] + CELL_MM * float(at[0]), self._low[1] + CELL_MM * float(at[1]))

    def _free(self, half: Point) -> Cells:
        """Cells round which a box of that half size is on the drawing and has nothing taken."""
        import numpy as np

        i, j = (int(h / CELL_MM) + 1 for h in half)
        free = np.zeros_like(self._taken)
        wide, high = free.shape
        if wide > 2 * i and high > 2 * j:
            # Sums of all cells below and to the left of each (a summed area table) give the number taken in any box
            # from its four corners: S(high, high) - S(low, high) - S(high, low) + S(low, low).
            summed = np.pad(self._taken.astype(int).cumsum(0).cumsum(1), ((1, 0), (1, 0)))
            a, b = 2 * i + 1, 2 * j + 1
            count = summed[a:, b:] - summed[:-a, b:] - summed[a:, :-b] + summed[:-a, :-b]
            free[i : wide - i, j : high - j] = count == 0
        return free

    def _cells_of(self, a: Point, b: Point) -> tuple[Any, Any]:
        """Indices of the cells that a straight piece runs through."""
        import numpy as np

        steps = int(2 * hypot(b[0] - a[0], b[1] - a[1]) / CELL_MM) + 2
        share, found = np.arange(steps) / (steps - 1), []
        for axis in (0, 1):
            at = (a[axis] - self._low[axis] + (b[axis] - a[axis]) * share) / CELL_MM + 0.5
            found.append(np.minimum(np.maximum(at, 0.0), self._taken.shape[axis] - 1).astype(int))
        return found[0], found[1]

    def _fill(self, ring: Sequence[Point], owner: int) -> None:
        """Gives the cells whose middle lies in the ring to their owner."""
        import numpy as np

        low = [max(int((min(p[k] for p in ring) - self._low[k]) / CELL_MM), 0) for k in (0, 1)]
        high = [int((max(p[k] for p in ring) - self._low[k]) / CELL_MM) + 2 for k in (0, 1)]
        part = self._owner[low[0] : high[0], low[1] : high[1]]
        xs = self._low[0] + CELL_MM * (low[0] + np.arange(part.shape[0])[:, None])
        ys = self._low[1] + CELL_MM * (low[1] + np.arange(part.shape[1])[None, :])
        inside = np.zeros(part.shape, dtype=bool)
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if ay != by:
                inside ^= ((ay > ys) != (by > ys)) & (xs < ax + (bx - ax) * (ys - ay) / (by - ay))
        part[inside] = owner


def _nearest(cells: Any, at: Any) -> int:
    return int(((cells - at) ** 2).sum(axis=1).argmin())
