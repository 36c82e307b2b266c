"""Where a square fits in a sheet's waste: a Sheet in, a place between its parts out. Sheet frame; mm."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Outline

if TYPE_CHECKING:
    from shapely import Polygon

_CHORDS = 8  # a quarter
_STEP_MM = 10.0


def free_square(
    size: tuple[float, float], outlines: Sequence[Outline], side_mm: float, clear_mm: float
) -> Point | None:
    """Lower left corner of a square in the waste of a sheet of that size, clear of all outlines and of the edge.

    The highest place, of those the one furthest right, where parts seldom are; None when there is none. Holes of parts
    do not count as waste: the square would drop out with theirs.
    """
    import numpy as np
    import shapely

    columns, rows = (int((length - side_mm - 2 * clear_mm) // _STEP_MM) + 1 for length in size)
    if columns < 1 or rows < 1:
        return None
    x = size[0] - clear_mm - side_mm - _STEP_MM * np.arange(columns)
    y = size[1] - clear_mm - side_mm - _STEP_MM * np.arange(rows)
    left, low = (grid.ravel() for grid in np.meshgrid(x, y))
    squares = shapely.box(left - clear_mm, low - clear_mm, left + side_mm + clear_mm, low + side_mm + clear_mm)
    parts: list[Polygon] = [shapely.Polygon(outline.points(_CHORDS)) for outline in outlines]
    taken = np.unique(shapely.STRtree(parts).query(squares, predicate="intersects")[0])
    free = np.setdiff1d(np.arange(len(squares)), taken)
    return (float(left[free[0]]), float(low[free[0]])) if len(free) else None
