"""Loose lines of one layer that meet end to end, joined to contours; mm.

Programs that save a file again often take contours apart into lines and arcs; a machine cuts the same.
"""

from __future__ import annotations

from collections.abc import Container
from math import dist, floor
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import Point
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.proof.contours import Contours, reversed_rows, with_circles

if TYPE_CHECKING:
    from jigmaker.proof.contours import Numbers

JOIN_MM = 1e-3
"""Ends this near meet: an arc written as centre, radius and angles ends up to that far from where its line starts."""

_CELL_MM = 0.01
_REACH = JOIN_MM / _CELL_MM
_SHIFT_MM = 0.00337  # so that round figures seldom lie on a border between cells

Chaining = list[tuple[int, bool]]
"""Contours by number, and whether each is run the other way."""


class _Nodes:
    """Gives places that lie within JOIN_MM of each other, on one layer, one number."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int, int], list[tuple[Point, int]]] = {}
        self._count = 0

    def of(self, layer: int, at: Point) -> int:
        """The number of the node at this place; a new one when nothing was there."""
        x, y = (at[0] + _SHIFT_MM) / _CELL_MM, (at[1] + _SHIFT_MM) / _CELL_MM
        own = (layer, floor(x), floor(y))
        is_inside = _REACH < x - own[1] < 1 - _REACH and _REACH < y - own[2] < 1 - _REACH
        # A plane cut into cells far larger than JOIN_MM: two places that meet lie in one cell, but for those near its
        # border.
        columns, rows = ({floor(v - _REACH), floor(v + _REACH)} for v in (x, y))  # one each, but near a border
        for cell in (own,) if is_inside else [(layer, column, row) for column in columns for row in rows]:
            for place, number in self._cells.get(cell, ()):
                if dist(place, at) <= JOIN_MM:
                    return number
        self._cells.setdefault(own, []).append((at, self._count))
        self._count += 1
        return self._count - 1


def joined(read: Contours, uncut: Container[str] = ()) -> Contours:
    """The contours in file order, chains of open ones standing where the first of their pieces stood.

    Ends are joined where exactly two meet; at a place where three lines meet nobody can say which go together. Layers
    in `uncut` (small letters) are left as they are.
    """
    import numpy as np

    left = np.array([name.lower() in uncut for name in read.names], dtype=bool)
    loose = np.flatnonzero(~read.closed & ~left[read.layer]) if len(read) else np.array([], dtype=np.int64)
    if not len(loose):
        return read
    nodes, ends = _Nodes(), dict[int, tuple[int, int]]()
    for number in loose.tolist():
        rows, layer = read.rows(number), int(read.layer[number])
        (x0, y0), (x1, y1) = rows[0, :2].tolist(), rows[-1, 2:4].tolist()
        ends[number] = (nodes.of(layer, (x0, y0)), nodes.of(layer, (x1, y1)))
    at_node: dict[int, list[int]] = {}
    for number, pair in ends.items():
        for node in pair:
            at_node.setdefault(node, []).append(number)
    # Every chain of two contours or more, and every single one whose own ends meet, by the first number in it.
    seen: set[int] = set()
    chains: dict[int, tuple[Chaining, bool]] = {}
    for i, (start, end) in ends.items():
        if i in seen or (len(at_node[start]) != 2 and len(at_node[end]) != 2):
            continue
        # From the end forward and from the start backward; what was found backward is run the other way.
        ahead, closed = _followed(i, end, ends, at_node)
        behind = [] if closed else _followed(i, start, ends, at_node)[0]
        chain = [(j, not turned) for j, turned in reversed(behind)] + [(i, False)] + ahead
        seen.update(j for j, _ in chain)
        if len(chain) > 1 or closed:
            chains[min(number for number, _ in chain)] = (chain, closed)
    return _with_chains(read, chains) if chains else read


def _followed(
    first: int, node: int, ends: dict[int, tuple[int, int]], at_node: dict[int, list[int]]
) -> tuple[Chaining, bool]:
    """What follows contour `first` from the node on; True when the way leads back to it."""
    chain: Chaining = []
    here = first
    while len(here_at := at_node[node]) == 2:
        following = here_at[1] if here_at[0] == here else here_at[0]
        if following == first:
            return chain, True
        start, end = ends[following]
        turned = end == node
        chain.append((following, turned))
        here, node = following, start if turned else end
    return chain, False


def _with_chains(read: Contours, chains: dict[int, tuple[Chaining, bool]]) -> Contours:
    """The contours with each chain in the place of the first of its pieces."""
    import numpy as np

    taken = {number for chain, _ in chains.values() for number, _ in chain}
    kept = [number for number in range(len(read)) if number in chains or number not in taken]
    rows: list[Numbers] = []
    closed, whole, pieces = read.closed.copy(), read.whole.copy(), read.pieces.copy()
    places = list(read.places)
    for number in kept:
        if number not in chains:
            rows.append(read.rows(number))
            continue
        chain, closes = chains[number]
        # Each piece starts where the one before ended: ends are moved together.
        run = np.concatenate([reversed_rows(read.rows(i)) if turned else read.rows(i) for i, turned in chain])
        run[1:, :2] = run[:-1, 2:4]
        if closes:
            run[-1, 2:4] = run[0, :2]
        short = np.hypot(*(run[:, 2:4] - run[:, :2]).T) <= TOUCH_MM
        rows.append(run[~short] if short.any() and not short.all() else run)
        closed[number], whole[number], pieces[number] = closes, False, len(chain)
        places[number] += f" and {len(chain) - 1} more" if len(chain) > 1 else ""
    owner = np.repeat(np.arange(len(kept)), [len(each) for each in rows])
    found = Contours(
        np.concatenate(rows),
        owner,
        read.names,
        read.layer[kept],
        closed[kept],
        whole[kept],
        pieces[kept],
        [places[number] for number in kept],
    )
    return with_circles(found)
