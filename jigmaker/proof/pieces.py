"""Contours as a table of their pieces for quick comparison: shapes in, arrays out, pieces of two tables matched. mm.

A row is x0, y0, x1, y1, bulge, radius of a circle (0 for a line or an arc; a circle's two points are its centre). Two
tables are the same when each piece of one lies on a piece of the other, whichever way it runs and in whatever order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.proof.contours import ReadContour, contours_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]
    Indices = NDArray[np.int64]
    Truths = NDArray[np.bool_]

Shape = Outline | Circle | Stroke

_SEARCH_MM = 3e-3  # middles farther apart than this are never the same piece


@dataclass(frozen=True, slots=True)
class Pieces:
    """A table of pieces; `owner` is the number of the contour that each belongs to, `kind` its operation's number."""

    table: Numbers
    owner: Indices
    kind: Indices

    def __len__(self) -> int:
        return len(self.table)

    @property
    def middles(self) -> Numbers:
        """The middle of each piece, on the arc; a circle's centre."""
        t = self.table
        across = (t[:, 3] - t[:, 1]) / 2 * t[:, 4], (t[:, 0] - t[:, 2]) / 2 * t[:, 4]
        middle: Numbers = _stacked((t[:, 0] + t[:, 2]) / 2 + across[0], (t[:, 1] + t[:, 3]) / 2 + across[1])
        return middle

    @property
    def radii(self) -> Numbers:
        """The radius of each arc and circle; infinite for a line."""
        import numpy as np

        t = self.table
        chord, bulge = np.hypot(t[:, 2] - t[:, 0], t[:, 3] - t[:, 1]), np.abs(t[:, 4])
        with np.errstate(divide="ignore", invalid="ignore"):
            arcs = np.where(bulge > 0, chord * (1 + bulge**2) / (4 * bulge), np.inf)
        found: Numbers = np.where(t[:, 5] > 0, t[:, 5], arcs)
        return found

    def only(self, kinds: Sequence[int]) -> Pieces:
        """The pieces of some operations."""
        import numpy as np

        chosen = np.isin(self.kind, kinds)
        return Pieces(self.table[chosen], self.owner[chosen], self.kind[chosen])

    def count(self, kind: int) -> int:
        """How many contours of an operation the table holds."""
        return len({int(owner) for owner in self.owner[self.kind == kind]})

    def moved(self, x: float, y: float, turn_deg: float = 0.0) -> Pieces:
        """All pieces turned anticlockwise about the origin, then shifted."""
        import numpy as np

        turn = np.radians(turn_deg)
        c, s = (round(float(v), 15) if turn_deg % 90 == 0 else float(v) for v in (np.cos(turn), np.sin(turn)))
        table = self.table.copy()
        for at in (0, 2):
            table[:, at] = x + c * self.table[:, at] - s * self.table[:, at + 1]
            table[:, at + 1] = y + s * self.table[:, at] + c * self.table[:, at + 1]
        return Pieces(table, self.owner, self.kind)

    def mirrored(self, about_x: float) -> Pieces:
        """The mirror image in an upright line."""
        table = self.table.copy()
        table[:, (0, 2)] = 2 * about_x - table[:, (0, 2)]
        table[:, 4] *= -1
        return Pieces(table, self.owner, self.kind)

    def bounds(self) -> Numbers:
        """Each piece's box: low x, low y, high x, high y; arcs counted whole."""
        import numpy as np

        t = self.table
        low, high = np.minimum(t[:, :2], t[:, 2:4]), np.maximum(t[:, :2], t[:, 2:4])
        box = np.hstack([low - t[:, 5:], high + t[:, 5:]])
        arcs = np.flatnonzero(t[:, 4])
        if len(arcs):
            _reach(box, t[arcs], arcs)
        return box


def pieces_of(shapes: Sequence[tuple[int, Shape]]) -> Pieces:
    """The table of some contours, each with its operation's number."""
    import numpy as np

    lines = contours_of([ReadContour("", shape, "") for _, shape in shapes])
    kinds = np.array([kind for kind, _ in shapes], dtype=np.int64)
    return Pieces(lines.table, lines.owner, kinds[lines.owner])


def joined_tables(tables: Sequence[Pieces]) -> Pieces:
    """Several tables as one; contours are numbered on."""
    import numpy as np

    starts = np.cumsum([0, *(int(table.owner.max()) + 1 if len(table) else 0 for table in tables)])
    if not tables:
        return pieces_of([])
    owner = np.concatenate([table.owner + start for table, start in zip(tables, starts, strict=False)])
    return Pieces(np.vstack([t.table for t in tables]), owner, np.concatenate([t.kind for t in tables]))


def unmatched(one: Pieces, two: Pieces, tolerance_mm: float) -> tuple[Indices, Indices]:
    """The rows of each table that no row of the other lies on; pieces of different operations never match."""
    import numpy as np

    if len(one) == len(two) and np.array_equal(one.kind, two.kind):
        same = _same(one, two, tolerance_mm)
        if same.all():
            return np.array([], dtype=np.int64), np.array([], dtype=np.int64)
    first, second = _pairs(one, two)
    is_same = _same(_rows(one, first), _rows(two, second), tolerance_mm)
    is_same &= one.kind[first] == two.kind[second]
    ones, twos = np.setdiff1d(np.arange(len(one)), first[is_same]), np.setdiff1d(np.arange(len(two)), second[is_same])
    return ones.astype(np.int64), twos.astype(np.int64)


def _rows(pieces: Pieces, rows: Indices) -> Pieces:
    return Pieces(pieces.table[rows], pieces.owner[rows], pieces.kind[rows])


def _pairs(one: Pieces, two: Pieces) -> tuple[Indices, Indices]:
    """Rows whose middles lie near each other."""
    import shapely

    tree = shapely.STRtree(shapely.points(two.middles))
    first, second = tree.query(shapely.points(one.middles), predicate="dwithin", distance=_SEARCH_MM)
    return first, second


def _same(one: Pieces, two: Pieces, tolerance_mm: float) -> Truths:
    """Row by row: ends where the other's are, either way round, and the same arc between them.

    Of an arc of nearly half a turn a radius rounded in the file moves the middle much; of a flat one a rounded bulge
    moves the radius much: either of the two may prove it the same.
    """
    import numpy as np

    a, b = one.table, two.table
    forward = (np.abs(a[:, :4] - b[:, :4]) <= tolerance_mm).all(axis=1)
    backward = (np.abs(a[:, :4] - b[:, (2, 3, 0, 1)]) <= tolerance_mm).all(axis=1)
    near = (np.abs(one.middles - two.middles) <= tolerance_mm).all(axis=1)
    with np.errstate(invalid="ignore"):
        round_alike = np.abs(one.radii - two.radii) <= 2 * tolerance_mm
    sense = np.where(forward, 1, -1)
    alike = near | (round_alike & (a[:, 4] * b[:, 4] * sense > 0))
    circles = np.abs(a[:, 5] - b[:, 5]) <= tolerance_mm
    found: Truths = (forward | backward) & alike & circles
    return found


def _reach(box: Numbers, arcs: Numbers, rows: Indices) -> None:
    """Widen the boxes of arcs by where they reach furthest left, right, down and up."""
    import numpy as np

    bulge = arcs[:, 4]
    dx, dy = arcs[:, 2] - arcs[:, 0], arcs[:, 3] - arcs[:, 1]
    offset = (1 - bulge**2) / (4 * bulge)
    cx, cy = (arcs[:, 0] + arcs[:, 2]) / 2 - dy * offset, (arcs[:, 1] + arcs[:, 3]) / 2 + dx * offset
    radius = np.hypot(arcs[:, 0] - cx, arcs[:, 1] - cy)
    first = np.arctan2(arcs[:, 1] - cy, arcs[:, 0] - cx)
    turn, sense = np.abs(4 * np.arctan(bulge)), np.sign(bulge)
    for quarter, (column, side) in enumerate(((2, 1), (3, 1), (0, -1), (1, -1))):
        reached = np.mod(sense * (quarter * np.pi / 2 - first), 2 * np.pi) <= turn
        centre = cx if column % 2 == 0 else cy
        hit = rows[reached]
        furthest = np.maximum if side > 0 else np.minimum
        box[hit, column] = furthest(box[hit, column], (centre + side * radius)[reached])


def _stacked(x: Numbers, y: Numbers) -> Numbers:
    import numpy as np

    return np.stack([x, y], axis=1)
