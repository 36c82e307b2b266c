"""Lines that were cut in numbers before, and how to know them again; mm.

A kit's files hold most pieces several times, in DXF and SVG, alone and on sheets; the same lines are cut only once.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Circle, Contour
from jigmaker.proof.records import CutPart, DeclaredPart

SAME_MM = 5e-6
"""Files carry six decimals, each rounded on its own."""

_GRID_MM = 1e-3

CutWay = tuple[float, float, float]
"""The cut's width along x and along y, and how the piece lay to a machine that is not the same both ways."""


class CutBefore:
    """Pieces by the part's slug and the way they were cut, with the lines they were cut along."""

    def __init__(self) -> None:
        self._known: dict[tuple[str, CutWay], list[tuple[Any, CutPart]]] = {}

    def copy(self) -> CutBefore:
        """The same pieces, to go on with by itself."""
        other = CutBefore()
        other._known = {key: list(pieces) for key, pieces in self._known.items()}
        return other

    def find(self, declared: DeclaredPart, way: CutWay, lines: Any) -> CutPart | None:
        """The piece cut along the same lines for the same finished shape; None when there is none."""
        import numpy as np

        # Compared figure by figure within what six decimals may differ, not by a hash: rounding would part equal lines.
        for known, cut in self._known.get((declared.slug, way), ()):
            is_wanted = cut.declared.outline == declared.outline and cut.declared.holes == declared.holes
            if is_wanted and known.shape == lines.shape and bool(np.all(np.abs(known - lines) <= SAME_MM)):
                return cut
        return None

    def keep(self, way: CutWay, lines: Any, cut: CutPart) -> None:
        """Remember the lines that a piece was cut along, so that `find` gives it again."""
        self._known.setdefault((cut.declared.slug, way), []).append((lines, cut))


def line_table(outer: Contour, inner: Sequence[Contour], turn_deg: float = 0.0) -> Any:
    """A row (x, y, x, y, bulge) for each piece of each contour, from the lower left of the outer one's box.

    Turned back by turn_deg, some quarter turns, first. Contours in order of their boxes, each from its lowest left
    point and anticlockwise; a circle from its centre to the right.
    """
    import numpy as np

    tables = []
    for contour in (outer, *inner):
        placed = contour.placed(PlaneFrame(0.0, 0.0, -turn_deg)) if turn_deg % 360 else contour
        if isinstance(placed, Circle):
            (x, y), radius = placed.centre, placed.radius
            tables.append(np.array([(x, y, x + radius, y, 1.0)]))
        else:
            ring = placed if placed.area > 0 else placed.reversed()
            tables.append(np.array([(*s.start, *s.end, s.bulge) for s in ring.segments]))
    low = np.minimum(tables[0][:, :2].min(axis=0), tables[0][:, 2:4].min(axis=0))
    found = []
    for table in tables:
        table[:, :4] -= np.tile(low, 2)
        # From the lowest left point, found on a coarse grid: the last decimals of two files may differ.
        grid = np.round(table[:, :2] / _GRID_MM)
        found.append(np.roll(table, -int(np.lexsort((grid[:, 1], grid[:, 0]))[0]), axis=0))
    return np.concatenate([found[0], *sorted(found[1:], key=lambda t: tuple(np.round(t[0, :2] / _GRID_MM)))])
