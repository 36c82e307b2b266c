"""Lines that were cut in numbers before: closed contours of one piece in, an array to compare them by out. mm.

A kit's files tell most pieces several times, in DXF and SVG, alone and on sheets; the same lines are cut only once.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from jigmaker.geometry.outline import Circle, Contour
from jigmaker.proof.records import CutPart, DeclaredPart

SAME_MM = 5e-6
"""Files carry six decimals, each rounded on its own."""

_GRID_MM = 1e-3

Way = tuple[float, float, float]
"""The cut's width along x and along y, and how the piece lay to a machine that is not the same both ways."""


class CutBefore:
    """Pieces by the part's slug and the way they were cut, with the lines they were cut along."""

    def __init__(self) -> None:
        self._known: dict[tuple[str, Way], list[tuple[Any, CutPart]]] = {}

    def copy(self) -> CutBefore:
        """The same pieces, to go on with by itself."""
        other = CutBefore()
        other._known = {key: list(pieces) for key, pieces in self._known.items()}
        return other

    def find(self, told: DeclaredPart, way: Way, lines: Any) -> CutPart | None:
        """The piece cut along the same lines for the same finished shape; None when there is none."""
        import numpy as np

        for known, cut in self._known.get((told.slug, way), ()):
            is_wanted = cut.told.outline == told.outline and cut.told.holes == told.holes
            if is_wanted and known.shape == lines.shape and bool(np.all(np.abs(known - lines) <= SAME_MM)):
                return cut
        return None

    def keep(self, way: Way, lines: Any, cut: CutPart) -> None:
        """Remember a piece."""
        self._known.setdefault((cut.told.slug, way), []).append((lines, cut))


def line_table(outer: Contour, inner: Sequence[Contour], turn_deg: float = 0.0) -> Any:
    """A row (x, y, x, y, bulge) for each piece of each contour, from the lower left of the outer one's box.

    Turned back by turn_deg first. Contours in order of their boxes, each from its lowest left point and anticlockwise.
    """
    import numpy as np

    tables = [np.array(_rows(contour)) for contour in (outer, *inner)]
    turned = [_turned(table, turn_deg) for table in tables]
    low = np.minimum(turned[0][:, :2].min(axis=0), turned[0][:, 2:4].min(axis=0))
    for table in turned:
        table[:, :4] -= np.tile(low, 2)
    turned = [_from_lowest(table) for table in turned]
    rest = sorted(turned[1:], key=lambda table: tuple(np.round(table[0, :2] / _GRID_MM)))
    return np.concatenate([turned[0], *rest])


def _rows(contour: Contour) -> list[tuple[float, float, float, float, float]]:
    if isinstance(contour, Circle):
        x, y = contour.centre
        return [(x, y, x + contour.radius, y, 1.0)]
    ring = contour if contour.area > 0 else contour.reversed()
    return [(*s.start, *s.end, s.bulge) for s in ring.segments]


def _turned(table: Any, turn_deg: float) -> Any:
    import numpy as np

    quarters = round(turn_deg / 90) % 4
    if not quarters or len(table) == 0:
        return table
    c, s = ((1, 0), (0, -1), (-1, 0), (0, 1))[quarters]
    turned = table.copy()
    for i in (0, 2):
        turned[:, i], turned[:, i + 1] = c * table[:, i] - s * table[:, i + 1], s * table[:, i] + c * table[:, i + 1]
    if len(table) == 1:  # a circle: its second point only tells the radius
        radius = np.hypot(*(turned[0, 2:4] - turned[0, :2]))
        turned[0, 2:4] = turned[0, 0] + radius, turned[0, 1]
    return turned


def _from_lowest(table: Any) -> Any:
    import numpy as np

    places = np.round(table[:, :2] / _GRID_MM)
    return np.roll(table, -int(np.lexsort((places[:, 1], places[:, 0]))[0]), axis=0)
