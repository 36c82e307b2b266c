"""Every contour of a cut file as one table of pieces, with what is known of each contour; mm, y up.

Nearly all that a file holds is lettering, which is only compared: only what is cut is ever made into a shape. mm, y up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from jigmaker.errors import OutlineError
from jigmaker.geometry.outline import Circle, Outline, Segment, Stroke, piece
from jigmaker.record import dataclass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Numbers = NDArray[np.float64]
    Indices = NDArray[np.int64]
    Truths = NDArray[np.bool_]

ReadShape = Outline | Circle | Stroke
"""What one contour of a file can be."""

SAME_CIRCLE_MM = 1e-4
"""Arcs whose centres and radii agree this well are one circle: bulges are written to six decimals."""


@dataclass(frozen=True, slots=True)
class ReadContour:
    """One contour of a file: its layer, its shape in mm with y up, and where it stands in the file, for people.

    `is_whole` is False when it is closed only because its ends meet, or was pieced together from loose lines, so many
    `pieces`.
    """

    layer: str
    shape: ReadShape
    place: str
    is_whole: bool = True
    pieces: int = 1


@dataclass(frozen=True, eq=False)
class Contours:
    """Contours in file order. A row of `table` is x0, y0, x1, y1, bulge, radius of a circle (0 for a line or an arc; a
    circle's two points are its centre); `owner` is its contour's number, rows of one contour standing together.

    By contour: `layer` counts through `names`, `closed` says whether its ends meet, `whole`, `pieces` and
    `places` what ReadContour says.
    """

    table: Numbers
    owner: Indices
    names: tuple[str, ...]
    layer: Indices
    closed: Truths
    whole: Truths
    pieces: Indices
    places: Sequence[str]
    _shapes: dict[int, ReadShape] = field(default_factory=dict, repr=False)

    def __len__(self) -> int:
        return len(self.layer)

    @cached_property
    def starts(self) -> Indices:
        """The first row of each contour, and the number of rows."""
        import numpy as np

        return np.searchsorted(self.owner, np.arange(len(self) + 1)).astype(np.int64)

    @cached_property
    def box(self) -> tuple[Numbers, Numbers]:
        """The lowest and the highest corner of all that is drawn, arcs included."""
        boxes = bounds_of_rows(self.table)
        return boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)

    def rows(self, number: int) -> Numbers:
        """The rows of one contour, (n, 6)."""
        return self.table[self.starts[number] : self.starts[number + 1]]

    def shape(self, number: int) -> ReadShape:
        """One contour as a shape, made when it is first asked for. Raises OutlineError."""
        if number not in self._shapes:
            self._shapes[number] = shape_of(self.rows(number).tolist(), bool(self.closed[number]))
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
        # The rows of each chosen contour, from its first on, written one contour after another.
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
        """The same contours by other rows: (n, 6), and of each its contour, rising."""
        return replace(self, table=table, owner=owner, _shapes={})


def shape_of(rows: list[list[float]], closed: bool) -> ReadShape:
    """The shape that the rows of one contour draw: an outline or a circle where it is closed, else a stroke. Raises
    OutlineError.
    """
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
    """The table of some shapes: contours numbered in their order, layers by the names that occur."""
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


def rows_of(shape: ReadShape) -> list[tuple[float, ...]]:
    """The rows of one shape, as a table of Contours has them."""
    if isinstance(shape, Circle):
        return [(*shape.centre, *shape.centre, 0.0, shape.radius)]
    return [(*each.start, *each.end, each.bulge, 0.0) for each in shape.segments]


def reversed_rows(rows: Numbers) -> Numbers:
    """The rows of a contour run the other way: ends change places, bulges their sign."""
    turned = rows[::-1, [2, 3, 0, 1, 4, 5]]
    turned[:, 4] *= -1
    return turned


def bounds_of_rows(t: Numbers) -> Numbers:
    """Each row's box: low x, low y, high x, high y; arcs counted whole."""
    import numpy as np

    low, high = np.minimum(t[:, :2], t[:, 2:4]), np.maximum(t[:, :2], t[:, 2:4])
    box = np.hstack([low - t[:, 5:], high + t[:, 5:]])
    arcs = np.flatnonzero(t[:, 4])
    if not len(arcs):
        return box
    # An arc reaches beyond its ends only where it passes the rightmost, uppermost, leftmost or lowest point of its
    # circle, which lie at 0, 1, 2 and 3 quarter turns.
    centre, radius, first, turn = circles_of(t[arcs])
    for quarter, (column, side) in enumerate(((2, 1), (3, 1), (0, -1), (1, -1))):
        passed = np.mod(np.sign(turn) * (quarter * np.pi / 2 - first), 2 * np.pi) <= np.abs(turn)
        hit = arcs[passed]
        furthest = np.maximum if side > 0 else np.minimum
        box[hit, column] = furthest(box[hit, column], (centre[:, column % 2] + side * radius)[passed])
    return box


def circles_of(rows: Numbers) -> tuple[Numbers, Numbers, Numbers, Numbers]:
    """Centre, radius, direction of the start and signed turn (both in radians) of rows that are arcs or circles."""
    import numpy as np

    # By Pythagoras on MOB, with OB = r, OM = r - MC and MC = b h / 2:
    #
    #        _.-C-._        AB is the chord h, MC over MB the bulge b = tan(turn / 4)
    #     B *---M---* A     radius r:                           h (1 + b²) / 4b
    #        \  |  /        from M to the centre O, left of AB: h (1 - b²) / 4b
    #       r \ | / r
    #           O
    bulge = np.where(rows[:, 5] > 0, 1.0, rows[:, 4])
    offset = (1 - bulge**2) / (4 * bulge)
    dx, dy = (rows[:, 2:4] - rows[:, :2]).T
    centre = (rows[:, :2] + rows[:, 2:4]) / 2 + np.stack([-dy * offset, dx * offset], axis=1)
    radius = np.where(rows[:, 5] > 0, rows[:, 5], np.hypot(dx, dy) * (1 + bulge**2) / (4 * np.abs(bulge)))
    start = rows[:, :2] - centre
    turn = np.where(rows[:, 5] > 0, 2 * np.pi, 4 * np.arctan(bulge))
    return centre, radius, np.where(rows[:, 5] > 0, 0.0, np.arctan2(start[:, 1], start[:, 0])), turn


def cut_up(centre: Numbers, radius: Numbers, first: Numbers, turn: Numbers, count: Indices) -> tuple[Indices, Numbers]:
    """Arcs, as `circles_of` gives them, each cut into so many alike: of each piece its arc's number and both ends."""
    import numpy as np

    of = np.repeat(np.arange(len(count)), count)
    # Pieces are numbered through from 0 in each arc: all that came before are taken off.
    number = np.arange(len(of)) - np.repeat(np.cumsum(count) - count, count)
    at = first[of, None] + turn[of, None] * (number[:, None] + (0, 1)) / count[of, None]
    return of, centre[of, None] + radius[of, None, None] * np.stack([np.cos(at), np.sin(at)], axis=2)


def with_circles(read: Contours) -> Contours:
    """Closed contours of arcs that all lie on one circle, once round it, as that circle; two straight pieces there and
    back, which enclose nothing, as an open line."""
    import numpy as np

    count = read.starts[1:] - read.starts[:-1]
    is_bent = np.zeros(len(read), dtype=bool)
    is_bent[read.owner[(read.table[:, 4] != 0) | (read.table[:, 5] > 0)]] = True
    read = replace(read, closed=read.closed & ((count > 2) | is_bent))
    # All turns of a closed contour of arcs add up to once round, 2 pi, whatever its circles; whether it is one circle,
    # their centres and radii say.
    turned = np.zeros(len(read))
    np.add.at(turned, read.owner, 4 * np.arctan(read.table[:, 4]))
    straight = np.zeros(len(read), dtype=bool)
    straight[read.owner[read.table[:, 4] == 0]] = True
    once = read.closed & ~straight & (np.abs(np.abs(turned) - 2 * np.pi) <= SAME_CIRCLE_MM)
    circles: dict[int, tuple[float, ...]] = {}
    for number in np.flatnonzero(once).tolist():
        centre, radius, _, _ = circles_of(read.rows(number))
        apart = max(np.hypot(*(centre - centre[0]).T).max(), radius.max() - radius.min())
        if apart <= SAME_CIRCLE_MM:
            x, y = centre.mean(axis=0).tolist()
            circles[number] = (x, y, x, y, 0.0, float(radius.mean()))
    if not circles:
        return read
    first = read.starts[list(circles)]
    kept = np.ones(len(read.table), dtype=bool)
    table = read.table.copy()
    for number in circles:
        kept[read.starts[number] + 1 : read.starts[number + 1]] = False
    table[first] = list(circles.values())
    return read.with_rows(table[kept], read.owner[kept])


def as_circle(outline: Outline) -> Circle | None:
    """The circle that an outline of arcs is; None when it is none."""
    try:
        shape = with_circles(contours_of([ReadContour("", outline, "")])).shape(0)
    except OutlineError:
        return None
    return shape if isinstance(shape, Circle) else None
