"""Contours as read in, the same with loose lines of one layer that meet end to end joined to one contour. mm.

Programs that save a file again often take contours apart into lines and arcs; a machine cuts the same.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import dist, floor

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Stroke
from jigmaker.proof.chain import joined_shape
from jigmaker.proof.records import ReadContour

JOIN_MM = 1e-3
"""Ends this near meet: an arc written as centre, radius and angles ends up to that far from where its line starts."""

_CELL_MM = 0.01
_REACH = JOIN_MM / _CELL_MM
_SHIFT_MM = 0.00337  # so that round figures seldom lie on a border between cells


class _Nodes:
    """Gives places that lie within JOIN_MM of each other, on one layer, one number."""

    def __init__(self) -> None:
        self._cells: dict[tuple[str, int, int], list[tuple[Point, int]]] = {}
        self._count = 0

    def of(self, layer: str, at: Point) -> int:
        """The number of the node at this place; a new one when nothing was there."""
        x, y = (at[0] + _SHIFT_MM) / _CELL_MM, (at[1] + _SHIFT_MM) / _CELL_MM
        column, row = floor(x), floor(y)
        own = (layer, column, row)
        is_inside = _REACH < x - column < 1 - _REACH and _REACH < y - row < 1 - _REACH
        for cell in (own,) if is_inside else _cells_near(layer, x, y):
            for place, number in self._cells.get(cell, ()):
                if dist(place, at) <= JOIN_MM:
                    return number
        self._cells.setdefault(own, []).append((at, self._count))
        self._count += 1
        return self._count - 1


def _cells_near(layer: str, x: float, y: float) -> list[tuple[str, int, int]]:
    """The cells that reach within JOIN_MM of a place near a border; x and y in cells."""
    columns, rows = ({floor(v - _REACH), floor(v + _REACH)} for v in (x, y))
    return [(layer, column, row) for column in columns for row in rows]


def joined(contours: Sequence[ReadContour]) -> tuple[ReadContour, ...]:
    """The contours in file order, chains of open ones standing where the first of their pieces stood.

    Ends are joined where exactly two meet; at a place where three lines meet nobody can say which go together.
    """
    nodes = _Nodes()
    ends: dict[int, tuple[int, int]] = {}
    at_node: dict[int, list[int]] = {}
    for i, contour in enumerate(contours):
        if isinstance(contour.shape, Stroke):
            segments = contour.shape.segments
            pair = (nodes.of(contour.layer, segments[0].start), nodes.of(contour.layer, segments[-1].end))
            ends[i] = pair
            for node in pair:
                at_node.setdefault(node, []).append(i)
    chains = _chains(ends, at_node)
    taken = {i for chain, _ in chains for i, _ in chain}
    first = {min(i for i, _ in chain): (chain, closed) for chain, closed in chains}
    found: list[ReadContour] = []
    for i, contour in enumerate(contours):
        if i in first:
            found.append(_joined(contours, *first[i]))
        elif i not in taken:
            found.append(contour)
    return tuple(found)


Chain = list[tuple[int, bool]]
"""Contours by number, and whether each is run the other way."""


def _chains(ends: dict[int, tuple[int, int]], at_node: dict[int, list[int]]) -> list[tuple[Chain, bool]]:
    """Every chain of two contours or more, and every single one whose own ends meet; with True when it is closed."""
    seen: set[int] = set()
    chains: list[tuple[Chain, bool]] = []
    for i, (start, end) in ends.items():
        if i in seen or (len(at_node[start]) != 2 and len(at_node[end]) != 2):
            continue
        ahead, closed = _followed(i, end, ends, at_node)
        behind = [] if closed else _followed(i, start, ends, at_node)[0]
        chain = [(j, not turned) for j, turned in reversed(behind)] + [(i, False)] + ahead
        seen.update(j for j, _ in chain)
        if len(chain) > 1 or closed:
            chains.append((chain, closed))
    return chains


def _followed(
    first: int, node: int, ends: dict[int, tuple[int, int]], at_node: dict[int, list[int]]
) -> tuple[Chain, bool]:
    """What follows contour `first` from the node on; True when the way leads back to it."""
    chain: Chain = []
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


def _joined(contours: Sequence[ReadContour], chain: Chain, closed: bool) -> ReadContour:
    runs = []
    for i, turned in chain:
        shape = contours[i].shape
        assert isinstance(shape, Stroke)
        runs.append([each.reversed() for each in reversed(shape.segments)] if turned else list(shape.segments))
    first = contours[min(i for i, _ in chain)]
    place = f"{first.place} and {len(chain) - 1} more" if len(chain) > 1 else first.place
    return replace(first, shape=joined_shape(runs, closed), place=place, is_whole=False, pieces=len(chain))
