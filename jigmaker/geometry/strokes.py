"""Many open strokes as one table, for letters and scored lines, of which a kit has thousands. Any plane frame, mm.

What is cut stays an Outline or a Circle; what is only scored is a table from the alphabet to the written file. All
arithmetic is element by element in a fixed order, never a matrix product of the linear algebra library: that one rounds
differently from machine to machine, and the same input must give the same bytes on all of them.
"""

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import PlaneFrame, cos_sin
from jigmaker.geometry.outline import Bounds, Stroke, piece
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.record import dataclass

if TYPE_CHECKING:
    import numpy as np
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]
    Ints = npt.NDArray[np.intp]

Matrix = tuple[tuple[float, float, float], tuple[float, float, float]]
"""((a, b, x), (c, d, y)): takes (u, v) to (a u + b v + x, c u + d v + y)."""


@dataclass(frozen=True, slots=True, eq=False)
class Strokes:
    """Strokes in drawing order, a row a piece.

    pieces: (n, 5), columns x0, y0, x1, y1, bulge; start and end in mm, bulge = tan(included angle / 4), positive when
    the arc runs anticlockwise from start to end, 0 for a straight piece, as in outline.py.
    contour: (n,), which stroke a piece belongs to: 0, 1, 2 ... without a gap, never falling. Pieces of one stroke stand
    in a row, each starting where the one before ended.

    Neither array can be written to. Raises OutlineError when the table is not so.
    """

    pieces: "Floats"
    contour: "Ints"

    def __post_init__(self) -> None:
        import numpy as np

        pieces, contour = np.array(self.pieces, dtype=np.float64), np.array(self.contour, dtype=np.intp)
        pieces.flags.writeable = contour.flags.writeable = False
        object.__setattr__(self, "pieces", pieces.reshape(-1, 5))
        object.__setattr__(self, "contour", contour)
        if len(contour) != len(self.pieces) or not np.isfinite(self.pieces).all():
            raise OutlineError(f"a table of strokes has {len(self.pieces)} pieces, {len(contour)} numbers of strokes")
        if not len(contour):
            return
        steps = contour[1:] - contour[:-1]
        if contour[0] != 0 or (steps >> 1).any():  # neither 0 nor 1
            raise OutlineError("the strokes of a table are not numbered 0, 1, 2 ... in order")
        gaps = self.pieces[1:, :2] - self.pieces[:-1, 2:4]
        if (np.abs(gaps[steps == 0]) > TOUCH_MM).any():
            raise OutlineError("a piece of a stroke does not start where the one before ended")

    def __eq__(self, other: object) -> bool:
        import numpy as np

        if not isinstance(other, Strokes):
            return NotImplemented
        return np.array_equal(self.pieces, other.pieces) and np.array_equal(self.contour, other.contour)

    def __hash__(self) -> int:
        return hash((self.pieces.tobytes(), self.contour.tobytes()))

    @staticmethod
    def of(strokes: Iterable[Stroke]) -> "Strokes":
        """The table of these strokes."""
        rows = [(*each.start, *each.end, each.bulge, i) for i, stroke in enumerate(strokes) for each in stroke.segments]
        return Strokes([row[:5] for row in rows], [row[5] for row in rows])  # type: ignore[arg-type]

    @staticmethod
    def joined(tables: Sequence["Strokes"]) -> "Strokes":
        """The strokes of all tables, one table after the other."""
        import numpy as np

        if not tables:
            return Strokes.of(())
        firsts = np.cumsum([0, *(len(table) for table in tables[:-1])])
        contour = np.concatenate([table.contour + first for table, first in zip(tables, firsts, strict=True)])
        return Strokes._sound(np.concatenate([table.pieces for table in tables]), contour)

    def __len__(self) -> int:
        """How many strokes: pen lifts of whoever draws them."""
        return int(self.contour[-1]) + 1 if len(self.contour) else 0

    def with_pieces(self, pieces: "Floats") -> "Strokes":
        """As many strokes of as many pieces, in an array that nobody else holds.

        The pieces are these after one map of the plane, which keeps together what meets: only that they are numbers is
        looked at, for tables are moved by the thousand. Raises OutlineError where they are not.
        """
        import numpy as np

        if not np.isfinite(pieces).all():
            raise OutlineError("strokes are moved to where no number tells")
        return Strokes._sound(pieces, self.contour)

    @staticmethod
    def _sound(pieces: "Floats", contour: "Ints") -> "Strokes":
        """A table of arrays that nobody else holds, made of what sound tables hold: it is not looked at again."""
        made = object.__new__(Strokes)
        pieces.flags.writeable = contour.flags.writeable = False
        object.__setattr__(made, "pieces", pieces)
        object.__setattr__(made, "contour", contour)
        return made

    def mapped(self, matrix: Matrix) -> "Strokes":
        """The strokes where the matrix takes their ends; bulges keep their size, so that arcs stay arcs.

        That is exact where circles stay circles (scale alike, turn, shift, mirror).
        """
        import numpy as np

        (a, b, x), (c, d, y) = matrix
        u, v = self.pieces[:, 0:4:2], self.pieces[:, 1:4:2]
        moved = np.empty_like(self.pieces)
        moved[:, 0:4:2] = x + a * u + b * v
        moved[:, 1:4:2] = y + c * u + d * v
        moved[:, 4] = self.pieces[:, 4] * (1.0 if a * d - b * c > 0 else -1.0)
        return self.with_pieces(moved)

    def parted(self, rise_mm: float) -> "Strokes":
        """The same lines, each arc in as few equal pieces as rise no more than so far above their chords, mm."""
        import numpy as np

        # An arc of bulge b over a chord c has the radius c (1 + b b) / 4 b and turns by 4 atan b. The row of an arc is
        # repeated for each of its pieces; each gets two ends on the arc, and the outermost keep the exact ones.
        x0, y0, x1, y1, bulge = self.pieces.T
        is_arc = bulge != 0
        radius, included = np.full(len(bulge), np.inf), 4 * np.arctan(bulge)
        radius[is_arc] = (np.hypot(x1 - x0, y1 - y0) * (1 + bulge**2))[is_arc] / (4 * np.abs(bulge[is_arc]))
        # A chord over the half turn h lies r (1 - cos h) below its arc: that is the rise for cos h = 1 - rise / r.
        half = np.arccos(1 - np.minimum(1.0, rise_mm / radius))
        count = np.ones(len(bulge), dtype=np.intp)
        count[is_arc] = np.ceil(np.abs(included[is_arc]) / 2 / half[is_arc]).astype(np.intp)
        if (count == 1).all():
            return self
        rows = np.repeat(np.arange(len(count)), count)
        steps = np.arange(len(rows)) - np.repeat(np.cumsum(count) - count, count)
        pieces = self.pieces[rows]
        ends = np.stack([_on_arc(self.pieces, rows, (steps + i) / count[rows]) for i in (0, 1)])
        cut = count[rows] > 1
        first, last = cut & (steps > 0), cut & (steps < count[rows] - 1)
        pieces[first, :2], pieces[last, 2:4] = ends[0][first], ends[1][last]
        pieces[cut, 4] = np.tan(included[rows] / count[rows] / 4)[cut]
        return Strokes(pieces, self.contour[rows])

    def placed(self, frame: PlaneFrame) -> "Strokes":
        """The same strokes in the frame's parent."""
        cosine, sine = cos_sin(frame.turn_deg)
        return self.mapped(((cosine, -sine, frame.x), (sine, cosine, frame.y)))

    def __iter__(self) -> Iterator[Stroke]:
        """The strokes as objects, for whoever looks at one at a time."""
        return iter(self.strokes())

    def __getitem__(self, number: int) -> Stroke:
        """One of them as an object."""
        return self.strokes()[number]

    def strokes(self) -> tuple[Stroke, ...]:
        """The strokes as objects."""
        chains: list[list[tuple[float, ...]]] = [[] for _ in range(len(self))]
        for number, row in zip(self.contour.tolist(), self.pieces.tolist(), strict=True):
            chains[number].append(row)
        return tuple(Stroke(tuple(piece((r[0], r[1]), (r[2], r[3]), r[4]) for r in chain)) for chain in chains)

    @property
    def bounds(self) -> Bounds:
        """(x low, y low, x high, y high), arcs included. Raises ValueError for none."""
        import numpy as np

        ends = self.pieces[:, :4].reshape(-1, 2)
        arcs = self.pieces[self.pieces[:, 4] != 0]
        if len(arcs):
            ends = np.concatenate([ends, _extremes(arcs)])
        (low_x, low_y), (high_x, high_y) = ends.min(axis=0).tolist(), ends.max(axis=0).tolist()
        return (low_x, low_y, high_x, high_y)

    @property
    def lengths(self) -> "Floats":
        """Length of every piece along it, mm: (n,)."""
        import numpy as np

        chords = np.hypot(self.pieces[:, 2] - self.pieces[:, 0], self.pieces[:, 3] - self.pieces[:, 1])
        bulge = np.abs(self.pieces[:, 4])
        # Radius c (1 + b b) / 4 b times the included angle 4 atan b.
        arcs = chords * (1 + bulge**2) * np.arctan(bulge) / np.where(bulge > 0, bulge, 1.0)
        lengths: Floats = np.where(bulge > 0, arcs, chords)
        return lengths


def _on_arc(pieces: "Floats", rows: "Ints", share: "Floats") -> "Floats":
    """Points at a share of the way along arcs: (m, 2); what it gives for straight pieces is of no use."""
    import numpy as np

    x0, y0, x1, y1, bulge = pieces[rows].T
    # With the bulge b = tan(turn / 4) the centre lies off the chord's middle, to its left, by chord (1 - b^2) / (4 b):
    # with t = turn / 2 that is chord / 2 cot t, and tan t = 2 b / (1 - b^2). The arc then is the start turned about the
    # centre.
    #
    #            __---__
    #          /   rise  \        rise = b chord / 2
    #     end ------+---- start
    #            \  |  /
    #              \|/            centre
    bulge = np.where(bulge == 0, 1.0, bulge)
    offset = (1 - bulge**2) / (4 * bulge)
    x, y = (x0 + x1) / 2 - (y1 - y0) * offset, (y0 + y1) / 2 + (x1 - x0) * offset
    turn = 4 * np.arctan(bulge) * share
    c, s = np.cos(turn), np.sin(turn)
    found: Floats = np.stack([x + c * (x0 - x) - s * (y0 - y), y + s * (x0 - x) + c * (y0 - y)], axis=1)
    return found


def _extremes(arcs: "Floats") -> "Floats":
    """Where arcs reach furthest left, right, down and up between their ends: (m, 2), any order."""
    import numpy as np

    x0, y0, x1, y1, bulge = arcs.T
    offset = (1 - bulge**2) / (4 * bulge)
    x, y = (x0 + x1) / 2 - (y1 - y0) * offset, (y0 + y1) / 2 + (x1 - x0) * offset
    radius = np.hypot(x1 - x0, y1 - y0) * (1 + bulge**2) / (4 * np.abs(bulge))
    included = 4 * np.arctan(bulge)
    first = np.arctan2(y0 - y, x0 - x)
    low = np.where(included > 0, first, first + included)[:, None]
    # Each of the four directions, turned to the first place after the arc's lower end.
    directions = np.arange(4) * np.pi / 2
    after = (directions - low) % (2 * np.pi)
    rows, which = np.nonzero((after > 0) & (after < np.abs(included)[:, None]))
    compass = np.array([(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)])
    found: Floats = np.stack([x[rows], y[rows]], axis=1) + radius[rows, None] * compass[which]
    return found
