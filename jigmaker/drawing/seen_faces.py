"""Where a leader may point at each body of a drawing: well inside what is seen of it. Picture plane; mm.

The picture plane is looked at through a grid of small cells; in each the triangle nearest to the viewer says which face
is seen there. A body's place is the cell farthest from the border of its face.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from jigmaker.drawing.mesh_edges import triangles_of
from jigmaker.drawing.projection import Body
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Point

if TYPE_CHECKING:
    from jigmaker.geometry.strokes import Floats

CELLS = 160
"""Cells along the picture's longer side."""

_EDGE_ON = 1e-9
_FACES = 10_000  # more than a body has directions of faces


def seen_places(bodies: Sequence[Body], view: View) -> dict[str, Point]:
    """For each body of which anything is seen in at least one cell: its name, and the place, picture plane."""
    import numpy as np

    shown = [body for body in bodies if not body.solid.is_empty]
    triangles = [triangles_of(body.solid, view) for body in shown]
    every = np.concatenate([one.corners.reshape(-1, 3) for one in triangles])
    low, high = every[:, :2].min(axis=0), every[:, :2].max(axis=0)
    cell = float((high - low).max()) / CELLS
    corners, numbers = list[Any](), list[Any]()
    for i, one in enumerate(triangles):
        facing = one.normals[:, 2] > _EDGE_ON
        corners.append(one.corners[facing] - np.array([*low, 0.0]))
        corners[-1][:, :, :2] = corners[-1][:, :, :2] / cell + 1
        ways = np.unique(np.round(one.normals[facing], 2), axis=0, return_inverse=True)[1].reshape(-1)
        numbers.append(i * _FACES + ways)
    wide, tall = (int(n) + 3 for n in (high - low) / cell)
    found = _deepest(_nearest(np.concatenate(corners), np.concatenate(numbers), (wide, tall)), len(shown))
    return {
        body.name: (float(low[0]) + (at[0] - 1) * cell, float(low[1]) + (at[1] - 1) * cell)
        for body, at in zip(shown, found, strict=True)
        if at is not None
    }


def _nearest(corners: Floats, numbers: Any, shape: tuple[int, int]) -> Any:
    """For each cell the number of the triangle nearest to the viewer, the first among equals; -1 where there is none.

    corners: (n, 3, 3), in cells. All triangles at once: first the columns that each has, then the cells of a column
    between its sides and one more at either end, then of these the cells inside.
    """
    import numpy as np

    # A column x crosses a triangle's side from (x0, y0) by (dx, dy) at the share (x - x0) / dx of its length, if that
    # is from 0 to 1; of two crossings the lower and the upper one bound the cells of that column.
    x0, x1 = np.ceil(corners[:, :, 0].min(axis=1)), np.floor(corners[:, :, 0].max(axis=1))
    own, at_x = _counted(x0, x1)
    start = corners[own]
    side = np.roll(start, -1, axis=1) - start
    with np.errstate(divide="ignore", invalid="ignore"):
        share = (at_x[:, None] - start[:, :, 0]) / side[:, :, 0]
        y = start[:, :, 1] + share * side[:, :, 1]
    crossed = (share >= 0) & (share <= 1)
    low, high = np.where(crossed, y, np.inf).min(axis=1), np.where(crossed, y, -np.inf).max(axis=1)
    column, at_y = _counted(np.maximum(np.ceil(low) - 1, 0), np.minimum(np.floor(high) + 1, shape[1] - 1))
    own, at_x = own[column], at_x[column]
    # Barycentric coordinates: a point p in the triangle a b c is of_a a + of_b b + of_c c, where of_a is the area of
    # p b c over that of a b c and all three add up to 1. They are all 0 or more inside, and give the depth z as well.
    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = corners[own].transpose(1, 2, 0)
    twice = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    of_a = ((bx - at_x) * (cy - at_y) - (by - at_y) * (cx - at_x)) / twice
    of_b = ((cx - at_x) * (ay - at_y) - (cy - at_y) * (ax - at_x)) / twice
    of_c = 1 - of_a - of_b
    inside = (of_a >= 0) & (of_b >= 0) & (of_c >= 0)
    cells, z = (at_x * shape[1] + at_y)[inside], (of_a * az + of_b * bz + of_c * cz)[inside]
    order = np.lexsort((-np.arange(len(z)), z, cells))  # the last of a cell's is its nearest, and the first of those
    face = np.full(shape[0] * shape[1], -1)
    face[cells[order]] = numbers[own[inside]][order]
    return face.reshape(shape)


def _counted(first: Floats, last: Floats) -> tuple[Any, Any]:
    """Every whole number from first to last, both included, of every row: (numbers of rows, the numbers)."""
    import numpy as np

    # Rows (3..5) and (8..9): count 3 2, own 0 0 0 1 1; the running number less the sum of counts before its row is the
    # place in the row, 0 1 2 0 1; added to first 3 4 5 8 9.
    count = np.maximum(last - first + 1, 0).astype(np.intp)
    own = np.repeat(np.arange(len(count)), count)
    return own, first.astype(np.intp)[own] + np.arange(len(own)) - np.repeat(np.cumsum(count) - count, count)


def _deepest(face: Any, bodies: int) -> list[tuple[int, int] | None]:
    """For each body the cell that is left longest when cells on the border of their face go again and again."""
    import numpy as np

    # A cell is on the border where a neighbour above, below, left or right shows another face. Each round takes the
    # border off; a cell's count of rounds is how deep it lies, in cells.
    alive = face >= 0
    for axis in (0, 1):
        for step in (1, -1):
            alive &= np.roll(face, step, axis) == face
    kept = np.where(face >= 0, 1, 0)
    while alive.any():
        kept[alive] += 1
        inner = alive.copy()
        for axis in (0, 1):
            for step in (1, -1):
                inner &= np.roll(alive, step, axis)
        alive = inner
    found: list[tuple[int, int] | None] = []
    for i in range(bodies):
        deep = np.where(face // _FACES == i, kept, 0)
        # Of the cells kept longest the one nearest to their middle.
        cells = np.argwhere(deep == deep.max())
        x, y = cells[int(np.argmin(((cells - cells.mean(axis=0)) ** 2).sum(axis=1)))]
        found.append((int(x), int(y)) if deep.any() else None)
    return found
