"""What finds room in a sheet's waste, between the pieces. Sheet frame; mm."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Bounds, Outline
from jigmaker.sheets.footprint import path_round

if TYPE_CHECKING:
    from shapely import Polygon

_CHORDS = 8  # a quarter
_STEP_MM = 10.0
_CHORD_MM = 0.05  # what chords may lack of an arc
_EDGE_MM = 12.0  # from a screw to the sheet's edge
_SCREWS_APART_MM = 150.0
_MOST_SCREWS = 10


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
    parts: list[Polygon] = [shapely.polygons(outline.points(_CHORDS)) for outline in outlines]
    free = np.ones(len(squares), dtype=bool)
    free[shapely.STRtree(parts).query(squares, predicate="intersects")[0]] = False
    first = int(free.argmax())
    return (float(left[first]), float(low[first])) if free[first] else None


def free_places(
    size: tuple[float, float], outlines: Sequence[Outline], tool_mm: float, taken: Sequence[Bounds], clear_mm: float
) -> tuple[Point, ...]:
    """Places for screws in the waste of a sheet of that size, as far apart as they go, clear of the tool's paths
    round all outlines and of boxes.

    The first is the one nearest to the sheet's lower left, each further one the farthest from all before it, while that
    is 150 mm or more, at most ten; none where there is no room.
    """
    import numpy as np
    import shapely

    x, y = (np.arange(_EDGE_MM, length - _EDGE_MM, _STEP_MM) for length in size)
    grid = np.array([(each, low) for low in y for each in x]).reshape(-1, 2)
    parts = [path_round(outline, tool_mm / 2) for outline in outlines]
    around = shapely.union_all([*parts, *(shapely.box(*box) for box in taken)])
    left = grid[shapely.distance(shapely.points(grid), around) >= clear_mm + _CHORD_MM] if len(grid) else grid
    if not len(left):
        return ()
    # Farthest point sampling: `nearest` holds each place's distance to the nearest one chosen; the next is where that
    # is greatest. No choice of as many places has its nearest two more than twice as far apart.
    chosen = [int(np.argmin(left.sum(axis=1)))]
    nearest = np.hypot(*(left - left[chosen[0]]).T)
    while len(chosen) < _MOST_SCREWS and nearest.max() >= _SCREWS_APART_MM:
        chosen.append(int(np.argmax(np.round(nearest, 6))))
        nearest = np.minimum(nearest, np.hypot(*(left - left[chosen[-1]]).T))
    return tuple((float(at[0]), float(at[1])) for at in left[chosen])
