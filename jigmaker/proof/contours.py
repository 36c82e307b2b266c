"""Every contour of a cut file as one table: vertices with bulges in, rows of pieces and what is known of each contour.

Nearly all that a file holds is lettering, which is only compared: only what is cut is ever made into a shape. mm, y up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from jigmaker.errors import OutlineError
from jigmaker.geometry.outline import Circle, Outline, Segment, Stroke, piece
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.proof.faults import LARGEST_MM, Faults

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]
    Indices = NDArray[np.int64]
    Truths = NDArray[np.bool_]

HALF_TURN = 1 + 1e-9
"""A bulge up to here is half a turn: programs write 1 as 1.000000000000023."""

SAME_CIRCLE_MM = 1e-4
"""Arcs whose centres and radii agree this well are one circle: bulges are written to six decimals."""

_NO_LENGTH = "a piece has no length"
_NO_LENGTH_DO = "remove the point that is there twice, or write the files again"


@dataclass(frozen=True, slots=True)
class ReadContour:
    """One contour of a file: its layer, its shape in mm with y up, and where it stands in the file, for people.

    `is_whole` is False when it is closed only because its ends meet, or was pieced together from loose lines, so many
    `pieces`.
    """

    layer: str
    shape: Outline | Circle | Stroke
    place: str
    is_whole: bool = True
    pieces: int = 1


@dataclass(frozen=True, eq=False)
class Contours:
    """Contours in file order. A row of `table` is x0, y0, x1, y1, bulge, radius of a circle (0 for a line or an arc; a
    circle's two points are its centre); `owner` is its contour's number, rows of one contour standing together.

    By contour: `layer` counts through `names`, `closed` says whether its ends meet, `whole`, `pieces` and
    `places` what ReadContour tells.
    """

    table: Numbers
    owner: Indices
    names: tuple[str, ...]
    layer: Indices
    closed: Truths
    whole: Truths
    pieces: Indices
    places: Sequence[str]
    _shapes: dict[int, Outline | Circle | Stroke] = field(default_factory=dict, repr=False)

    def __len__(self) -> int:
        return len(self.layer)

    @cached_property
    def starts(self) -> Indices:
        """The first row of each contour, and the number of rows."""
        import numpy as np

        return np.searchsorted(self.owner, np.arange(len(self) + 1)).astype(np.int64)

    def rows(self, number: int) -> Numbers:
        """The rows of one contour."""
        return self.table[self.starts[number] : self.starts[number + 1]]

    def shape(self, number: int) -> Outline | Circle | Stroke:
        """One contour as a shape."""
        if number not in self._shapes:
            self._shapes[number] = _shape(self.rows(number).tolist(), bool(self.closed[number]))
        return self._shapes[number]

    def contour(self, number: int) -> ReadContour:
        """One contour with all that is known of it."""
        name, whole, pieces = self.names[int(self.layer[number])], bool(self.whole[number]), int(self.pieces[number])
        return ReadContour(name, self.shape(number), self.places[number], whole, pieces)

    def only(self, chosen: Iterable[int]) -> Contours:
        """Some of the contours, in the order given."""
        import numpy as np

        numbers = np.fromiter(chosen, dtype=np.int64)
        counts = self.starts[numbers + 1] - self.starts[numbers]
        rows = np.repeat(self.starts[numbers] - np.cumsum(counts) + counts, counts) + np.arange(counts.sum())
        owner = np.repeat(np.arange(len(numbers)), counts)
        places = [self.places[number] for number in numbers.tolist()]
        return Contours(
            self.table[rows],
            owner,
            self.names,
            self.layer[numbers],
            self.closed[numbers],
            self.whole[numbers],
            self.pieces[numbers],
            places,
        )

    def with_rows(self, table: Numbers, owner: Indices) -> Contours:
        """The same contours drawn otherwise."""
        return replace(self, table=table, owner=owner, _shapes={})


def _shape(rows: list[list[float]], closed: bool) -> Outline | Circle | Stroke:
    x, y, _, _, _, radius = rows[0]
    if radius:
        return Circle((x, y), radius)
    pieces: list[Segment] = []
    for x0, y0, x1, y1, bulge, _ in rows:
        pieces.append(piece(pieces[-1].end if pieces else (x0, y0), (x1, y1), bulge))
    if not closed:
        return Stroke(tuple(pieces))
    pieces[-1] = piece(pieces[-1].start, pieces[0].start, pieces[-1].bulge)
    return Outline(tuple(pieces))


def contours_of(drawn: Sequence[ReadContour]) -> Contours:
    """The table of some shapes."""
    import numpy as np

    names = tuple(dict.fromkeys(each.layer for each in drawn))
    table: list[tuple[float, ...]] = []
    owner: list[int] = []
    for number, each in enumerate(drawn):
        rows = rows_of(each.shape)
        table += rows
        owner += [number] * len(rows)
    return Contours(
        np.array(table, dtype=float).reshape(-1, 6),
        np.array(owner, dtype=np.int64),
        names,
        np.array([names.index(each.layer) for each in drawn], dtype=np.int64),
        np.array([not isinstance(each.shape, Stroke) for each in drawn], dtype=bool),
        np.array([each.is_whole for each in drawn], dtype=bool),
        np.array([each.pieces for each in drawn], dtype=np.int64),
        [each.place for each in drawn],
    )


def joined_contours(several: Sequence[Contours]) -> Contours:
    """The contours of several files, one after the other."""
    import numpy as np

    if len(several) == 1:
        return several[0]
    starts = np.cumsum([0, *(len(each) for each in several)])
    names = np.cumsum([0, *(len(each.names) for each in several)])
    nothing = contours_of([])
    return Contours(
        np.concatenate([nothing.table, *(each.table for each in several)]),
        np.concatenate([nothing.owner, *(each.owner + start for each, start in zip(several, starts, strict=False))]),
        tuple(name for each in several for name in each.names),
        np.concatenate([nothing.layer, *(each.layer + start for each, start in zip(several, names, strict=False))]),
        np.concatenate([nothing.closed, *(each.closed for each in several)]),
        np.concatenate([nothing.whole, *(each.whole for each in several)]),
        np.concatenate([nothing.pieces, *(each.pieces for each in several)]),
        [place for each in several for place in each.places],
    )


def rows_of(shape: Outline | Circle | Stroke) -> list[tuple[float, ...]]:
    """The rows of one shape."""
    if isinstance(shape, Circle):
        return [(*shape.centre, *shape.centre, 0.0, shape.radius)]
    return [(*each.start, *each.end, each.bulge, 0.0) for each in shape.segments]


@dataclass(frozen=True, slots=True)
class Vertices:
    """What a reader found: rows x, y, bulge of the piece that starts there, radius of a full circle (else 0); the
    number of each vertex's contour, rising; and of each contour whether it is closed, its layer and its place."""

    table: Numbers
    owner: Indices
    closed: Truths
    names: tuple[str, ...]
    layer: Indices
    places: Sequence[str]

    def only(self, chosen: Truths) -> Vertices:
        """Some of the contours."""
        import numpy as np

        kept, rows = np.flatnonzero(chosen), chosen[self.owner]
        return Vertices(
            self.table[rows],
            np.searchsorted(kept, self.owner[rows]).astype(np.int64),
            self.closed[kept],
            self.names,
            self.layer[kept],
            [self.places[number] for number in kept.tolist()],
        )


def drawn_through(found: Vertices, faults: Faults) -> Contours:
    """The contours through the vertices; what cannot be drawn is left out, with a fault (103, 111).

    A chain whose ends meet is closed, and `whole` then says whether the file itself closes it. Arcs all round one
    centre are a circle.
    """
    import numpy as np

    found = _without_wild(found, faults)
    table, owner = _with_halves(*_pieces(found, faults))
    count = len(found.layer)
    starts = np.searchsorted(owner, np.arange(count + 1))
    for number in np.flatnonzero(starts[1:] == starts[:-1]).tolist():
        faults.add(111, "a contour has no length", "remove it", found.places[number])
    is_circle = np.zeros(count, dtype=bool)
    is_circle[owner[table[:, 5] > 0]] = True
    meets = np.zeros(count, dtype=bool)
    several = np.flatnonzero(starts[1:] - starts[:-1] > 1)
    gaps = table[starts[several + 1] - 1, 2:4] - table[starts[several], :2]
    meets[several] = np.hypot(gaps[:, 0], gaps[:, 1]) <= TOUCH_MM
    read = Contours(
        table,
        owner,
        found.names,
        found.layer,
        meets | is_circle,
        found.closed | ~meets,
        np.ones(count, dtype=np.int64),
        found.places,
    )
    return with_circles(read.only(np.flatnonzero(starts[1:] > starts[:-1]).tolist()))


def _without_wild(found: Vertices, faults: Faults) -> Vertices:
    """Without contours that have a figure which is nan, infinite or beyond a kilometre, and circles of no size."""
    import numpy as np

    bad = ~(np.abs(found.table) < LARGEST_MM).all(axis=1)
    radius = found.table[:, 3]
    no_circle = (radius != 0) & ~((radius > TOUCH_MM) & ~bad)
    if not (bad | no_circle).any():
        return found
    for number in dict.fromkeys(found.owner[bad | no_circle].tolist()):
        row = int(np.searchsorted(found.owner, number))
        says, do = "a coordinate is no number, or beyond a kilometre", "draw it again, or write the files again"
        if no_circle[row]:
            says, do = f"a circle's centre or radius ({radius[row]:.6g} mm) cannot be", "draw it again"
        faults.add(103, says, do, found.places[number])
    spoilt = np.zeros(len(found.layer), dtype=bool)
    spoilt[found.owner[bad | no_circle]] = True
    return found.only(~spoilt)


def _pieces(found: Vertices, faults: Faults) -> tuple[Numbers, Indices]:
    """From each vertex to the next of its contour, back to the first where it is closed; pieces of no length are
    faults and left out."""
    import numpy as np

    points, owner, count = found.table, found.owner, len(found.layer)
    starts = np.searchsorted(owner, np.arange(count + 1))
    following = np.arange(1, len(points) + 1)
    has_points = np.flatnonzero(starts[1:] > starts[:-1])
    following[starts[has_points + 1] - 1] = starts[has_points]
    is_last = np.zeros(len(points), dtype=bool)
    is_last[starts[has_points + 1] - 1] = True
    kept = ~is_last | found.closed[owner] | (points[:, 3] > 0)
    table = np.column_stack([points[:, :2], points[following, :2], points[:, 2:]])[kept]
    owner = owner[kept]
    short = (np.abs(table[:, :2] - table[:, 2:4]) <= TOUCH_MM).all(axis=1) & (table[:, 5] == 0)
    if not short.any():
        return table, owner
    for row in np.flatnonzero(short).tolist():
        faults.add(111, _NO_LENGTH, _NO_LENGTH_DO, found.places[int(owner[row])])
    return _moved_together(table[~short], owner[~short])


def _moved_together(table: Numbers, owner: Indices) -> tuple[Numbers, Indices]:
    """Every piece starts where the one before it in its contour ended."""
    table = table.copy()
    goes_on = owner[1:] == owner[:-1]
    table[1:, :2][goes_on] = table[:-1, 2:4][goes_on]
    return table, owner


def _with_halves(table: Numbers, owner: Indices) -> tuple[Numbers, Indices]:
    """Arcs of more than half a turn as two; a bulge that is 1 but for rounding is 1."""
    import numpy as np

    bulge = table[:, 4]
    long = np.abs(bulge) > HALF_TURN
    table[:, 4] = np.where(long, bulge, np.clip(bulge, -1.0, 1.0))
    if not long.any():
        return table, owner
    times = np.where(long, 2, 1)
    halved, rows = np.repeat(table, times, axis=0), np.flatnonzero(long) + np.arange(np.count_nonzero(long))
    x0, y0, x1, y1, whole, _ = table[long].T
    # The middle of an arc lies bulge x half the chord to the right of its chord.
    middle = np.stack([(x0 + x1) / 2 + (y1 - y0) / 2 * whole, (y0 + y1) / 2 - (x1 - x0) / 2 * whole], axis=1)
    halved[rows, 2:4] = halved[rows + 1, :2] = middle
    halved[rows, 4] = halved[rows + 1, 4] = np.tan(np.arctan(whole) / 2)
    return halved, np.repeat(owner, times)


def with_circles(read: Contours) -> Contours:
    """Closed contours of arcs that all lie on one circle, once round it, as that circle."""
    import numpy as np

    turned = np.zeros(len(read))
    np.add.at(turned, read.owner, 4 * np.arctan(read.table[:, 4]))
    straight = np.zeros(len(read), dtype=bool)
    straight[read.owner[read.table[:, 4] == 0]] = True
    once = read.closed & ~straight & (np.abs(np.abs(turned) - 2 * np.pi) <= SAME_CIRCLE_MM)
    circles = {number: rows for number in np.flatnonzero(once).tolist() if (rows := _as_circle(read.rows(number)))}
    if not circles:
        return read
    first = read.starts[list(circles)]
    kept = np.ones(len(read.table), dtype=bool)
    table = read.table.copy()
    for number in circles:
        kept[read.starts[number] + 1 : read.starts[number + 1]] = False
    table[first] = list(circles.values())
    return read.with_rows(table[kept], read.owner[kept])


def _as_circle(rows: Numbers) -> tuple[float, ...] | None:
    """The row of the circle that closed arcs lie on; None when they lie on several."""
    import numpy as np

    bulge, (dx, dy) = rows[:, 4], (rows[:, 2:4] - rows[:, :2]).T
    aside = (1 - bulge**2) / (4 * bulge)
    centre = (rows[:, :2] + rows[:, 2:4]) / 2 + np.stack([-dy * aside, dx * aside], axis=1)
    radius = np.hypot(dx, dy) * (1 + bulge**2) / (4 * np.abs(bulge))
    apart = np.hypot(*(centre - centre[0]).T).max()
    if apart > SAME_CIRCLE_MM or radius.max() - radius.min() > SAME_CIRCLE_MM:
        return None
    x, y = (float(value) for value in centre.mean(axis=0))
    return (x, y, x, y, 0.0, float(radius.mean()))


def as_circle(outline: Outline) -> Circle | None:
    """The circle that an outline of arcs is; None when it is none."""
    try:
        shape = with_circles(contours_of([ReadContour("", outline, "")])).shape(0)
    except OutlineError:
        return None
    return shape if isinstance(shape, Circle) else None


def figures(texts: Sequence[str]) -> Any:
    """Texts as numbers; nan for what is none."""
    import numpy as np

    try:
        return np.array(list(map(float, texts)), dtype=float)
    except ValueError:
        return np.array([_figure(text) for text in texts], dtype=float)


def _figure(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return float("nan")
