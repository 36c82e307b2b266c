"""Contours drawn through vertices with bulges, as the readers find them; faults for what cannot be drawn.

Any plane frame with y up; mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.proof.contours import Contours, with_circles
from jigmaker.proof.faults import LARGEST_MM, Faults
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Numbers, Truths

HALF_TURN = 1 + 1e-9
"""A bulge up to here is half a turn: programs write 1 as 1.000000000000023."""

_NO_LENGTH = "a piece has no length"
_NO_LENGTH_DO = "remove the point that is there twice, or write the files again"


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
        """The contours that are chosen, numbered on from 0."""
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

    def pieces(self, faults: Faults) -> tuple[Numbers, Indices]:
        """From each vertex to the next of its contour, back to the first where it is closed; pieces of no length are
        faults and left out."""
        import numpy as np

        points, owner, count = self.table, self.owner, len(self.layer)
        starts = np.searchsorted(owner, np.arange(count + 1))
        # The next vertex of each, by number; the last of a contour is followed by its first.
        following = np.arange(1, len(points) + 1)
        has_points = np.flatnonzero(starts[1:] > starts[:-1])
        following[starts[has_points + 1] - 1] = starts[has_points]
        is_last = np.zeros(len(points), dtype=bool)
        is_last[starts[has_points + 1] - 1] = True
        kept = ~is_last | self.closed[owner] | (points[:, 3] > 0)
        table = np.column_stack([points[:, :2], points[following, :2], points[:, 2:]])[kept]
        owner = owner[kept]
        short = (np.abs(table[:, :2] - table[:, 2:4]) <= TOUCH_MM).all(axis=1) & (table[:, 5] == 0)
        if not short.any():
            return table, owner
        for row in np.flatnonzero(short).tolist():
            faults.add(111, _NO_LENGTH, _NO_LENGTH_DO, self.places[int(owner[row])])
        table, owner = table[~short], owner[~short]
        goes_on = owner[1:] == owner[:-1]  # where a piece was left out, the next one starts where the last one ended
        table[1:, :2][goes_on] = table[:-1, 2:4][goes_on]
        return table, owner


def drawn_through(found: Vertices, faults: Faults) -> Contours:
    """The contours through the vertices; what cannot be drawn is left out, with a fault (103, 111).

    A chain whose ends meet is closed, and `whole` then says whether the file itself closes it. Arcs all round one
    centre are a circle.
    """
    import numpy as np

    # Without contours that have a figure which is nan, infinite or beyond a kilometre, and circles of no size.
    bad = ~(np.abs(found.table) < LARGEST_MM).all(axis=1)
    radius = found.table[:, 3]
    no_circle = (radius != 0) & ~((radius > TOUCH_MM) & ~bad)
    if (bad | no_circle).any():
        for number in dict.fromkeys(found.owner[bad | no_circle].tolist()):
            row = int(np.searchsorted(found.owner, number))
            says, do = "a coordinate is no number, or beyond a kilometre", "draw it again, or write the files again"
            if no_circle[row]:
                says, do = f"a circle's centre or radius ({radius[row]:.6g} mm) cannot be", "draw it again"
            faults.add(103, says, do, found.places[number])
        spoilt = np.zeros(len(found.layer), dtype=bool)
        spoilt[found.owner[bad | no_circle]] = True
        found = found.only(~spoilt)
    table, owner = _with_halves(*found.pieces(faults))
    count = len(found.layer)
    starts = np.searchsorted(owner, np.arange(count + 1))
    for number in np.flatnonzero(starts[1:] == starts[:-1]).tolist():
        faults.add(111, "a contour has no length", "remove it", found.places[number])
    is_circle = np.zeros(count, dtype=bool)
    is_circle[owner[table[:, 5] > 0]] = True
    meets = np.zeros(count, dtype=bool)
    # Ends that meet close a contour for a machine, whether the file says so or not.
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


def _with_halves(table: Numbers, owner: Indices) -> tuple[Numbers, Indices]:
    """Arcs of more than half a turn as two; a bulge that is 1 but for rounding is 1."""
    import numpy as np

    bulge = table[:, 4]
    long = np.abs(bulge) > HALF_TURN
    table[:, 4] = np.where(long, bulge, np.clip(bulge, -1.0, 1.0))
    if not long.any():
        return table, owner
    times = np.where(long, 2, 1)
    # Half of an arc has half its turn t: tan(t / 8) = tan(atan(tan(t / 4)) / 2).
    halved, rows = np.repeat(table, times, axis=0), np.flatnonzero(long) + np.arange(np.count_nonzero(long))
    x0, y0, x1, y1, whole, _ = table[long].T
    # The middle of an arc lies bulge x half the chord to the right of its chord.
    middle = np.stack([(x0 + x1) / 2 + (y1 - y0) / 2 * whole, (y0 + y1) / 2 - (x1 - x0) / 2 * whole], axis=1)
    halved[rows, 2:4] = halved[rows + 1, :2] = middle
    halved[rows, 4] = halved[rows + 1, 4] = np.tan(np.arctan(whole) / 2)
    return halved, np.repeat(owner, times)


def figures(texts: Sequence[str]) -> Any:
    """Texts as an array of floats; nan for what is no number."""
    import numpy as np

    # All at once where all are numbers, as in nearly every file; else one by one.
    with suppress(ValueError):
        return np.array(list(map(float, texts)), dtype=float)
    found = np.full(len(texts), np.nan)
    for i, text in enumerate(texts):
        with suppress(ValueError):
            found[i] = float(text)
    return found
