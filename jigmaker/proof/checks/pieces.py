"""Contours as a table of their pieces, so that two files are compared quickly; mm.

A row is x0, y0, x1, y1, bulge, radius of a circle (0 for a line or an arc; a circle's two points are its centre). Two
tables are the same when each piece of one lies on a piece of the other, whichever way it runs and in whatever order.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigmaker.proof.contours import ReadContour, ReadShape, bounds_of_rows, circles_of, contours_of, cut_up
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Numbers, Truths

_SEARCH_MM = 3e-3  # middles farther apart than this are never the same piece
_SAMPLES = 9  # points of a piece that are looked at
_SAG_MM = 1e-4  # of the chords of arcs that they are held against
_MOST_CHORDS = 1024
_MOST_OF_ALL = 300_000  # chords of one file; the largest of a kit has a fifth of that
_ROWS_AT_ONCE = 2500  # rows made into chords together, which take half a kilobyte each: a file of a kit has fewer
_ONE_CIRCLE_MM = 1e-3  # centres and radii nearer than this are of one circle


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
        import numpy as np

        # It lies bulge x half the chord to the right of the chord's middle.
        t = self.table
        x = (t[:, 0] + t[:, 2]) / 2 + (t[:, 3] - t[:, 1]) / 2 * t[:, 4]
        y = (t[:, 1] + t[:, 3]) / 2 + (t[:, 0] - t[:, 2]) / 2 * t[:, 4]
        middle: Numbers = np.stack([x, y], axis=1)
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
        """The pieces of some operations, by their numbers."""
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

    def with_whole_arcs(self) -> Pieces:
        """Arcs that go on into one another on one circle as one arc, or as few of at most half a turn as it takes."""
        import numpy as np

        t = self.table
        arcs = np.flatnonzero(t[:, 4] != 0)
        centre, radius, first, turn = circles_of(t[arcs])
        # Which arcs begin where the one before ends, on the same circle and the same way round.
        goes_on = np.zeros(len(arcs), dtype=bool)
        goes_on[1:] = (
            (np.diff(arcs) == 1)
            & (self.owner[arcs[1:]] == self.owner[arcs[:-1]])
            & (np.abs(t[arcs[1:], :2] - t[arcs[:-1], 2:4]) < _ONE_CIRCLE_MM).all(axis=1)
            & (np.hypot(*np.diff(centre, axis=0).T) < _ONE_CIRCLE_MM)
            & (np.abs(np.diff(radius)) < _ONE_CIRCLE_MM)
            & (turn[1:] * turn[:-1] > 0)
        )
        heads = np.flatnonzero(~goes_on)
        if len(heads) == len(arcs):
            return self
        whole = np.add.reduceat(turn, heads)
        count = np.ceil(np.abs(whole) / np.pi - _ONE_CIRCLE_MM).astype(np.int64)
        of, ends = cut_up(centre[heads], radius[heads], first[heads], whole, count)
        rows = np.column_stack([ends.reshape(-1, 4), np.tan(whole[of] / count[of] / 4), np.zeros(len(of))])
        rest, head = t[:, 4] == 0, arcs[heads][of]
        table = np.concatenate([t[rest], rows])
        return Pieces(
            table,
            np.concatenate([self.owner[rest], self.owner[head]]),
            np.concatenate([self.kind[rest], self.kind[head]]),
        )

    def mirrored(self, about_x: float) -> Pieces:
        """The mirror image in the upright line at about_x, mm."""
        table = self.table.copy()
        table[:, (0, 2)] = 2 * about_x - table[:, (0, 2)]
        table[:, 4] *= -1
        return Pieces(table, self.owner, self.kind)

    def bounds(self) -> Numbers:
        """Each piece's box: low x, low y, high x, high y; arcs counted whole."""
        return bounds_of_rows(self.table)


def pieces_of(shapes: Sequence[tuple[int, ReadShape]]) -> Pieces:
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
    import shapely

    # Files of one maker have the same pieces in the same order: row against row is enough for nearly all of them, and
    # only the rest is worth a search.
    if len(one) == len(two) and np.array_equal(one.kind, two.kind):
        same = _same(one, two, tolerance_mm)
        if same.all():
            return np.array([], dtype=np.int64), np.array([], dtype=np.int64)
    # Rows whose middles lie near each other.
    tree = shapely.STRtree(shapely.points(two.middles))
    first, second = tree.query(shapely.points(one.middles), predicate="dwithin", distance=_SEARCH_MM)
    first, second = first, second
    is_same = _same(_rows(one, first), _rows(two, second), tolerance_mm)
    is_same &= one.kind[first] == two.kind[second]
    # A piece is lone when nothing lies on it. One that is drawn twice finds its partner as well: doubles are another
    # check.
    lone = [np.ones(len(table), dtype=bool) for table in (one, two)]
    lone[0][first[is_same]] = lone[1][second[is_same]] = False
    return np.flatnonzero(lone[0]), np.flatnonzero(lone[1])


def apart(one: Pieces, two: Pieces, within_mm: float) -> tuple[Indices, Indices, float]:
    """The rows of each table that lie farther than this from all lines of the other's same operation, wherever these
    start, whichever way they run and in however many pieces; and how far the farthest lies, mm."""
    import numpy as np
    import shapely

    found: list[Indices] = []
    farthest = 0.0
    for table, other in ((one, two), (two, one)):
        # Of each row how far the farthest of its points lies from the other table's lines.
        off = np.full(len(table), np.inf)
        for kind in sorted(set(table.kind.tolist())):
            rows, others = np.flatnonzero(table.kind == kind), other.only((kind,))
            if not len(others):
                continue
            # Some points of each row, from end to end.
            each = table.table[rows]

            # From one end to the other in equal steps; of arcs and circles the steps are turns.
            share = np.linspace(0.0, 1.0, _SAMPLES)[:, None]
            points = each[:, None, :2] + share * (each[:, None, 2:4] - each[:, None, :2])
            is_round = (each[:, 4] != 0) | (each[:, 5] > 0)
            centre, radius, first, turn = circles_of(each[is_round])
            at = first[:, None] + turn[:, None] * share[:, 0]
            points[is_round] = centre[:, None] + radius[:, None, None] * np.stack([np.cos(at), np.sin(at)], axis=2)
            flat = shapely.points(points.reshape(-1, 2))
            far = np.full(len(flat), np.inf)
            for start in range(0, len(others), _ROWS_AT_ONCE):
                tree = shapely.STRtree(shapely.linestrings(_chords(others.table[start : start + _ROWS_AT_ONCE])))
                (number, _), distance = tree.query_nearest(flat, return_distance=True, all_matches=False)
                far[number] = np.minimum(far[number], distance)
            # A row is as far off as the worst of its points: a line that leaves another one half way is not on it.
            off[rows] = far.reshape(len(rows), -1).max(axis=1)
        found.append(np.flatnonzero(off > within_mm))
        farthest = max(farthest, float(off.max(initial=0.0)))
    return found[0], found[1], farthest


def are_too_many(pieces: Pieces) -> bool:
    """True when the chords of all arcs and circles are more than can be held against others in time."""
    rows = pieces.table
    _, radius, _, turn = circles_of(rows[(rows[:, 4] != 0) | (rows[:, 5] > 0)])
    return int(_chord_counts(radius, turn).sum()) > _MOST_OF_ALL


def _chord_counts(radius: Numbers, turn: Numbers) -> Indices:
    import numpy as np

    return np.clip(np.ceil(np.abs(turn) / np.sqrt(8 * _SAG_MM / radius)), 1, _MOST_CHORDS).astype(np.int64)


def _chords(rows: Numbers) -> Numbers:
    """Straight rows and the chords of round ones, within _SAG_MM: both ends of each."""
    import numpy as np

    is_round = (rows[:, 4] != 0) | (rows[:, 5] > 0)
    centre, radius, first, turn = circles_of(rows[is_round])
    _, ends = cut_up(centre, radius, first, turn, _chord_counts(radius, turn))
    return np.concatenate([rows[~is_round, :4].reshape(-1, 2, 2), ends])


def _rows(pieces: Pieces, rows: Indices) -> Pieces:
    return Pieces(pieces.table[rows], pieces.owner[rows], pieces.kind[rows])


def _same(one: Pieces, two: Pieces, tolerance_mm: float) -> Truths:
    """Row by row: ends where the other's are, either way round, and the same arc between them.

    Of an arc of nearly half a turn a radius rounded in the file moves the middle much; of a flat one a rounded bulge
    moves the radius much: either of the two may prove it the same.
    """
    import numpy as np

    a, b = one.table, two.table
    # Ends within the tolerance alone do not make two arcs one: they may bend differently, or to the other side.
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
