"""The contours that a DXF's ENTITIES section draws, mm; what draws no line or arc becomes a fault.

All records are read at once, code by code, into arrays; only those with something odd about them are looked at singly.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.proof.contours import Contours
from jigmaker.proof.faults import MOST_SHAPES, Faults, TooMuch
from jigmaker.proof.readers.chain import Vertices, drawn_through, figures
from jigmaker.proof.readers.dxf_groups import Groups, bits_of, plain_text

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Numbers, Truths

_KINDS = ("LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "VERTEX", "SEQEND")
_LINE, _ARC, _CIRCLE, _LWPOLYLINE, _POLYLINE, _VERTEX, _SEQEND = range(len(_KINDS))

_CLOSED = 1  # group 70, bit 1; tested as a bit, for 129 is closed as well
_NOT_FLAT = 8 | 16 | 64  # a polyline in space, or a mesh
_CURVED = 2 | 4  # curve-fit and spline-fit polylines
_UP = {210: 0.0, 220: 0.0, 230: 1.0}
_HEIGHTS = (30, 31, 38)
_FLAT_MM = 1e-6
_AGAIN = "write the files again"
_REDRAW = "draw it as lines, arcs or polylines, or write the files again"

_LARGEST_RADIUS = 1e9
_LARGEST_TURN_DEG = 1e6
_HALF_TURN_DEG = 180 + 1e-7


def read_entities(groups: Groups, names: dict[str, str], unit_mm: float, faults: Faults) -> Contours:
    """The contours in file order; `names` gives a layer's declared spelling by its lower-case name. Raises TooMuch."""
    import numpy as np

    section = _Section(groups, groups.sections.get("ENTITIES", []), faults)
    found = [section.lines(), section.arcs(), section.circles(), section.lwpolylines(), section.polylines()]
    table: Numbers = np.concatenate([rows for rows, _ in found])
    if len(table) > 2 * MOST_SHAPES:
        raise TooMuch(f"the file holds more than {MOST_SHAPES} lines")
    record = np.concatenate([of for _, of in found])
    order = np.argsort(record, kind="stable")
    table, record = table[order] * (unit_mm, unit_mm, 1.0, unit_mm), record[order]
    drawn, owner = np.unique(np.concatenate([record, section.empty()]), return_inverse=True)
    layers, layer = section.layers(drawn, names)
    places = [f"{section.kinds[n]} at line {section.line(n)}" for n in drawn.tolist()]
    vertices = Vertices(table, owner[: len(table)], section.closed[drawn], layers, layer, places)
    read = drawn_through(vertices, faults)
    if len(read.table) > MOST_SHAPES:
        raise TooMuch(f"the file holds more than {MOST_SHAPES} lines")
    return read


class _Section:
    """The records of a section and their groups, code by code."""

    def __init__(self, groups: Groups, records: list[int], faults: Faults) -> None:
        import numpy as np

        self._groups, self._faults = groups, faults
        self._records = np.array([number for number in records if groups.kinds[number] != "SECTION"], dtype=np.int64)
        self.kinds = [groups.kinds[number] for number in self._records.tolist()]
        known = {name: number for number, name in enumerate(_KINDS)}
        self._kind = np.array([known.get(kind, len(_KINDS)) for kind in self.kinds], dtype=np.int64)
        # Everything below is by array: `_codes` and `_at` run over all groups of the section, `_of` says whose each is.
        # Groups of these records, and of each the record it belongs to.
        starts = np.array(groups.starts, dtype=np.int64)
        counts = starts[self._records + 1] - starts[self._records]
        self._of = np.repeat(np.arange(len(self._records)), counts)
        self._at = np.arange(len(self._of)) + np.repeat(starts[self._records] - np.cumsum(counts) + counts, counts)
        self._codes = groups.codes[self._at]
        # A VERTEX belongs to the POLYLINE that it follows, with nothing but others between.
        others = np.where(self._kind == _VERTEX, -1, np.arange(len(self.kinds)))
        self._host = np.maximum.accumulate(others) if len(others) else others
        self._is_corner = (self._kind == _VERTEX) & (np.append(self._kind, _SEQEND)[self._host] == _POLYLINE)
        flags = self._flags()
        self.closed = flags & _CLOSED > 0
        self._is_read = self._readable(flags)

    def line(self, record: int) -> int:
        """The file's line on which a record starts."""
        return 2 * self._groups.starts[int(self._records[record])] + 1

    def lines(self) -> tuple[Numbers, Indices]:
        """Two vertices each."""
        import numpy as np

        rows = self._rows(_LINE)
        ends: Numbers = np.stack([self._first(code, rows) for code in (10, 20, 11, 21)], axis=1).reshape(-1, 2)
        return np.hstack([ends, np.zeros_like(ends)]), np.repeat(rows, 2)

    def circles(self) -> tuple[Numbers, Indices]:
        """A row each; a circle whose radius is 0 or none has the radius nan."""
        import numpy as np

        rows = self._rows(_CIRCLE)
        x, y, radius = (self._first(code, rows) for code in (10, 20, 40))
        self.closed[rows] = True
        return np.stack([x, y, np.zeros_like(x), np.where(radius == 0, np.nan, radius)], axis=1), rows

    def arcs(self) -> tuple[Numbers, Indices]:
        """Vertices from the first direction anticlockwise to the last, one in between where it is over half a turn.

        One that ends where it starts is a full turn.
        """
        import numpy as np

        rows = self._rows(_ARC)
        x, y, radius, first, last = (self._first(code, rows) for code in (10, 20, 40, 50, 51))
        can_be = (radius > 0) & (radius < _LARGEST_RADIUS) & (np.abs(first) + np.abs(last) < _LARGEST_TURN_DEG)
        # A DXF arc always runs anticlockwise; the turn is what leads from the first direction to the last that way.
        turn = np.where(can_be, np.mod(np.where(can_be, last - first, 0.0), 360), np.nan)
        full = turn == 0
        self.closed[rows] = full
        count = np.where(full | (turn > _HALF_TURN_DEG), 2, 1)
        step = np.where(full, 360, turn) / count
        times = count + ~full
        owner = np.repeat(np.arange(len(rows)), times)
        number = np.arange(len(owner)) - np.repeat(np.cumsum(times) - times, times)
        at = np.radians(first[owner] + number * step[owner])
        bulge = np.tan(np.radians(step) / 4)[owner]
        places = [x[owner] + radius[owner] * np.cos(at), y[owner] + radius[owner] * np.sin(at)]
        return np.stack([*places, bulge, np.zeros_like(bulge)], axis=1), rows[owner]

    def lwpolylines(self) -> tuple[Numbers, Indices]:
        """A vertex for each group 10; what follows up to the next one is its own."""
        import numpy as np

        codes, of = self._codes, self._of
        is_own = (self._kind == _LWPOLYLINE)[of] & self._is_read[of]
        starts = np.flatnonzero(is_own & (codes == 10))
        if len(starts) > 2 * MOST_SHAPES:
            raise TooMuch(f"the file holds more than {MOST_SHAPES} lines")
        table = np.zeros((len(starts), 4))
        table[:, 0] = figures(self._texts(starts))
        table[:, 1] = np.nan
        for column, code in ((1, 20), (2, 42)):
            groups = np.flatnonzero(is_own & (codes == code))
            # The vertex that a y or a bulge belongs to is the last one that began before it.
            vertex = np.searchsorted(starts, groups) - 1
            known = (vertex >= 0) & (of[starts[vertex]] == of[groups]) if len(starts) else np.zeros(len(groups), bool)
            table[vertex[known], column] = figures(self._texts(groups[known]))
        return table, of[starts]

    def polylines(self) -> tuple[Numbers, Indices]:
        """A vertex for each VERTEX that follows a POLYLINE."""
        import numpy as np

        rows = np.flatnonzero(self._is_corner & self._is_read[self._host])
        x, y = (self._first(code, rows) for code in (10, 20))
        bulge = self._first(42, rows, 0.0)
        return np.stack([x, y, bulge, np.zeros_like(x)], axis=1), self._host[rows]

    def empty(self) -> Indices:
        """Polylines without vertices."""
        import numpy as np

        is_poly = (self._kind == _LWPOLYLINE) | (self._kind == _POLYLINE)
        return np.flatnonzero(is_poly & self._is_read)

    def layers(self, records: Indices, names: dict[str, str]) -> tuple[tuple[str, ...], Indices]:
        """The layers' names, and of each record which it lies on."""
        import numpy as np

        at = self._firsts(8)[records].tolist()
        said = [
            text if group >= 0 else "0"
            for group, text in zip(at, self._texts(np.array(at, dtype=np.int64)), strict=True)
        ]
        found: dict[str, str] = {}
        for text in dict.fromkeys(said):
            plain = plain_text(text)
            found[text] = names.get(plain.lower(), plain)
        numbers = {name: number for number, name in enumerate(dict.fromkeys(found.values()))}
        return tuple(numbers), np.array([numbers[found[text]] for text in said], dtype=np.int64)

    def _rows(self, kind: int) -> Indices:
        import numpy as np

        return np.flatnonzero((self._kind == kind) & self._is_read)

    def _texts(self, groups: Indices) -> list[str]:
        values = self._groups.values
        return [values[at] for at in self._at[groups].tolist()]

    def _firsts(self, code: int) -> Indices:
        """Of each record the first group of that code, -1 where it has none."""
        import numpy as np

        # Written from the last to the first, so that the first group of each record stays.
        groups = np.flatnonzero(self._codes == code)[::-1]
        found = np.full(len(self.kinds), -1, dtype=np.int64)
        found[self._of[groups]] = groups
        return found

    def _first(self, code: int, records: Indices, otherwise: float = float("nan")) -> Numbers:
        """The figure that each of these records has there."""
        import numpy as np

        groups = self._firsts(code)[records]
        found = np.full(len(records), otherwise)
        found[groups >= 0] = figures(self._texts(groups[groups >= 0]))
        return found

    def _flags(self) -> Indices:
        """Group 70 of each record, 0 without one, -1 for what is none of 16 bits."""
        import numpy as np

        # Files write few different flags: each text is made a number once.
        groups = np.flatnonzero(self._codes == 70)
        texts = self._texts(groups)
        known = {text: bits_of(text) for text in set(texts)}
        found = np.zeros(len(self.kinds), dtype=np.int64)
        found[self._of[groups]] = [known[text] for text in texts]
        return found

    def _readable(self, flags: Indices) -> Truths:
        """False for records to be left out; a fault says why, but for windows onto paper, which draw nothing."""
        import numpy as np

        # By arrays, which records may be odd at all: those that carry a code which a plain line or arc is without, or a
        # height, or a polyline's flags. Of some thousands these are few, and are then looked at one by one.
        is_shape = self._kind < _VERTEX
        of_odd = self._of[np.isin(self._codes, (60, 67, *_UP))]
        heights = np.flatnonzero(np.isin(self._codes, _HEIGHTS))
        texts = self._texts(heights)
        raised = {text for text in set(texts) if not abs(float(figures([text])[0])) <= _FLAT_MM}  # nan is raised too
        of_raised = self._of[heights[[text in raised for text in texts]]] if raised else of_odd[:0]
        is_odd = ~is_shape & (self._kind != _SEQEND) & ~self._is_corner
        is_odd[of_odd] = True
        is_odd[of_raised] = True
        is_odd[self._host[of_raised]] = True
        is_odd |= (self._kind == _POLYLINE) & (flags & (_NOT_FLAT | _CURVED) != 0)
        is_odd |= ((self._kind == _POLYLINE) | (self._kind == _LWPOLYLINE)) & (flags < 0)
        raised_too = set(self._host[of_raised].tolist())
        for number in np.flatnonzero(is_odd & ~self._is_corner & (self._kind != _SEQEND)).tolist():
            says, do = self._oddness(number, int(flags[number]), number in raised_too)
            if says:
                code = 103 if do == _AGAIN else 102
                self._faults.add(code, says, do, f"{self.kinds[number]} at line {self.line(number)}")
            is_shape[number] &= not says
        return is_shape

    def _oddness(self, number: int, flags: int, is_raised: bool) -> tuple[str, str]:
        """Why one record is not read, and what to do; empty when it is, or draws nothing."""
        import numpy as np

        record = self._groups.record(int(self._records[number]))
        kind = record.kind
        on_paper = record.first(67, "0").strip() == "1"
        if self._kind[number] >= _VERTEX:
            return ("", "") if kind == "VIEWPORT" and on_paper else (f"{kind} is not understood", _REDRAW)
        if on_paper:
            return f"a {kind} lies in paper space", "move it to model space, or remove it"
        if record.first(60, "0").strip() == "1":
            return f"a {kind} is invisible", "show it, or remove it"
        if flags < 0:
            return f"a figure of a {kind} is no number", _AGAIN
        if kind == "POLYLINE" and flags & (_NOT_FLAT | _CURVED):
            return "a POLYLINE in space, a mesh or a fitted curve is not understood", _REDRAW
        up = {code: record.first(code, str(straight)) for code, straight in _UP.items()}
        if not np.allclose(figures(list(up.values())), list(_UP.values()), rtol=0, atol=1e-9):
            how = "is turned over or tilted (extrusion other than 0, 0, 1)"
        elif is_raised:
            how = "lies above or below the plane"
        else:
            return "", ""
        return f"a {kind} {how}, so that programs differ about its place", _REDRAW
