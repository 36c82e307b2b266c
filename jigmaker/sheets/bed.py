"""One sheet being filled: finds the lowest place that is free for a piece. Sheet frame; mm."""

from collections.abc import Collection, Sequence
from dataclasses import field
from heapq import heappop, heappush
from itertools import islice
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.sheets.footprint import Footprint

if TYPE_CHECKING:
    from shapely import Polygon

_TOUCH = 1e-3  # pieces may lie at exactly the wanted distance: what is free is judged this much more kindly
_MOST_BOXES = 60  # beyond, the tree of outlines is quicker: comparing boxes grows with the square of the pieces
_BATCH = 128  # places judged in one go; the search mostly ends in the first few

BedPlace = tuple[Footprint, Point]


@dataclass
class Bed:
    """A sheet's usable rectangle and what lies on it. `apart`: least distance between two footprints.

    `wide`: kinds that keep `wide_apart` from all others, and others from them, because bridges end in the wood between.
    `upward` True fills rows from the lower edge up, False columns from the left edge to the right.
    """

    low: Point
    high: Point
    apart: float
    upward: bool
    wide: Collection[int] = ()
    wide_apart: float = 0.0
    placed: list[tuple[int, BedPlace]] = field(default_factory=list)
    _taken: dict[bool, list["Polygon"]] = field(default_factory=dict)
    _inside: dict[bool, list[Any]] = field(default_factory=dict)
    _trees: dict[bool, Any] = field(default_factory=dict)
    _ats: dict[Point, None] = field(default_factory=dict)
    _waiting: dict[int, "_Waiting"] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._ats[self.low] = None
        self._taken |= {is_wide: [] for is_wide in {False, bool(self.wide)}}
        self._inside |= {is_wide: [] for is_wide in self._taken}

    def find(self, kind: int, shapes: Sequence[Footprint]) -> BedPlace | None:
        """The lowest free place (leftmost among equals; the other way round when not `upward`), None when none is left.

        Places are tried at the corners of what already lies there, and those corners pushed to the lower and left edge.
        `kind` is the same for like pieces: a place once refused to one of them stays refused, and when there
        was none for one there is none for the next. So every place is judged once a kind, and the work grows with the
        pieces and not with their square.
        """
        waiting = self._waiting.setdefault(kind, _Waiting())
        if waiting.is_over:
            return None
        self._add_new(waiting, shapes, kind)
        while waiting.places:
            batch = [heappop(waiting.places) for _ in range(min(_BATCH, len(waiting.places)))]
            free = [entry for entry, is_free in zip(batch, self._free(batch, shapes, kind), strict=True) if is_free]
            for entry in free[1:]:
                heappush(waiting.places, entry)
            if free:
                return shapes[free[0][3]], free[0][4]
        waiting.is_over = True
        return None

    def put(self, index: int, place: BedPlace) -> None:
        """Lay piece number `index` there."""
        import shapely

        self.placed.append((index, place))
        shape, at = place
        wide = self.wide_apart if self.wide else self.apart
        # What keeps others off, plain ones and wide ones.
        for is_wide, taken in self._taken.items():
            apart = wide if is_wide or index in self.wide else self.apart
            taken.append(shapely.transform(shape.grown(apart - _TOUCH), lambda corners: corners + at))
            self._inside[is_wide].extend(shape.inside + (*at, *at))
        self._trees.clear()
        # New places for the lower left of a piece: the corners of what is round this one, and those corners pushed down
        # to the lower edge and to the left one, where the sheet itself holds a piece.
        #
        #     x------x
        #     |piece |     corners x, and on the edges o
        #     x------x
        #     o______o___
        #
        for apart in (wide,) if index in self.wide else sorted({self.apart, wide}):
            # Wide of a narrow notch the library may leave a crumb of the notch inside what is round the piece.
            whole = shapely.get_parts(shapely.transform(shape.grown(apart), lambda corners: corners + at))
            around = max(whole, key=lambda piece: piece.area)
            low_x, low_y, high_x, high_y = (round(bound, 6) for bound in around.bounds)
            corners = [(round(x, 6), round(y, 6)) for x, y in around.simplify(0.5).exterior.coords[:-1]]
            for x, y in [(high_x, low_y + apart), (low_x + apart, high_y), *corners]:
                self._ats |= dict.fromkeys([(x, self.low[1]), (self.low[0], y), (x, y)])

    def _add_new(self, waiting: "_Waiting", shapes: Sequence[Footprint], kind: int) -> None:
        """What has come up since this kind was last asked for, where the shape is on the sheet and strikes nothing."""
        import numpy as np

        new = list(islice(self._ats, waiting.seen, None))
        waiting.seen = len(self._ats)
        ats = np.array(new).reshape(-1, 2)
        for number, shape in enumerate(shapes):
            last = np.subtract(self.high, (shape.length, shape.width)) + 1e-9
            is_open = ((self.low <= ats) & (ats <= last)).all(axis=1)
            is_open &= ~self._strikes(shape.inside + np.tile(ats, 2)[:, None], kind)
            for i in np.flatnonzero(is_open).tolist():
                first, second = (new[i][1], new[i][0]) if self.upward else new[i]
                heappush(waiting.places, (first, second, shape.turn_deg, number, new[i]))

    def _strikes(self, inside: Any, kind: int) -> Any:
        """Of each place, (n, boxes, 4), whether a box inside the piece there meets a box inside one that lies.

        Then the pieces strike each other for certain. Boxes are quickly compared, and most places end with that.

            +-------------+
            | +-------+   |        the piece that lies, and a box in it;
            | |  +----+---+---+    the one that is tried, and a box in it
            | |  | +--+---+-+ |
            +-+--+-+--+---+ | |
        """
        import numpy as np

        if len(taken := self._inside[kind in self.wide]) > _MOST_BOXES:
            return np.zeros(len(inside), dtype=bool)
        low_x, low_y, high_x, high_y = np.array(taken).reshape(-1, 4).T
        left, low, right, high = (inside[:, :, i, None] for i in range(4))
        meet = (left < high_x) & (low_x < right) & (low < high_y) & (low_y < high)
        return meet.any(axis=(1, 2))

    def _free(self, batch: Sequence["_Entry"], shapes: Sequence[Footprint], kind: int) -> list[bool]:
        import numpy as np
        import shapely

        is_wide = kind in self.wide
        if not self._taken[is_wide]:
            return [True] * len(batch)
        if is_wide not in self._trees:
            self._trees[is_wide] = shapely.STRtree(self._taken[is_wide])
        tree, which = self._trees[is_wide], [entry[3] for entry in batch]
        ats = np.array([entry[4] for entry in batch])[:, None]
        free = ~self._strikes(np.stack([shape.inside for shape in shapes])[which] + np.tile(ats, 2), kind)
        left = np.flatnonzero(free)
        if len(left):
            # All turns of a part have as many corners, so that a batch is one array; three of them first, as points.
            there = np.stack([shapes[which[i]].corners for i in left.tolist()]) + ats[left]
            few = there[:, :: max(1, there.shape[1] // 3)]
            struck: Any = tree.query(shapely.points(few.reshape(-1, 2)), predicate="intersects")[0]
            free[left[struck // few.shape[1]]] = False
            still = free[left]
            left, there = left[still], there[still]
            free[left[tree.query(shapely.polygons(there), predicate="intersects")[0]]] = False
        told: list[bool] = free.tolist()
        return told


_Entry = tuple[float, float, float, int, Point]


@dataclass
class _Waiting:
    """Places that have not been judged for one kind, as a heap; how many were seen; whether there are none any more."""

    places: list[_Entry] = field(default_factory=list)
    seen: int = 0
    is_over: bool = False
