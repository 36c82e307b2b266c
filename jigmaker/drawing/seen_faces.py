"""A place to point at on each body of a drawing: bodies and a view in, points well inside what is seen out. Picture
plane; mm.

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
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

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

    corners: (n, 3, 3), in cells. Of every triangle all cells in its box are asked, all triangles at once.
    """
    import numpy as np

    x, y = corners[:, :, 0], corners[:, :, 1]
    x0, y0 = (np.ceil(v.min(axis=1)).astype(np.intp) for v in (x, y))
    wide, tall = (np.maximum(v.max(axis=1).astype(np.intp) + 1 - v0, 0) for v, v0 in ((x, x0), (y, y0)))
    own = np.repeat(np.arange(len(corners)), wide * tall)
    step = np.arange(len(own)) - np.repeat(np.cumsum(wide * tall) - wide * tall, wide * tall)
    at_x, at_y = x0[own] + step // tall[own], y0[own] + step % tall[own]
    (ax, bx, cx), (ay, by, cy), z = x[own].T, y[own].T, corners[own, :, 2].T
    twice = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    of_a = ((bx - at_x) * (cy - at_y) - (by - at_y) * (cx - at_x)) / twice
    of_b = ((cx - at_x) * (ay - at_y) - (cy - at_y) * (ax - at_x)) / twice
    of_c = 1 - of_a - of_b
    inside = (of_a >= 0) & (of_b >= 0) & (of_c >= 0)
    cells, z = (at_x * shape[1] + at_y)[inside], (of_a * z[0] + of_b * z[1] + of_c * z[2])[inside]
    order = np.lexsort((-np.arange(len(z)), z, cells))  # the last of a cell's is its nearest, and the first of those
    face = np.full(shape[0] * shape[1], -1)
    face[cells[order]] = numbers[own[inside]][order]
    return face.reshape(shape)


def _deepest(face: Any, bodies: int) -> list[tuple[int, int] | None]:
    """For each body the cell that is left longest when cells on the border of their face go again and again."""
    import numpy as np

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
    return [_middle(np.where(face // _FACES == i, kept, 0)) for i in range(bodies)]


def _middle(kept: Any) -> tuple[int, int] | None:
    """Of the cells kept longest the one nearest to their middle."""
    import numpy as np

    if not kept.any():
        return None
    cells = np.argwhere(kept == kept.max())
    x, y = cells[int(np.argmin(((cells - cells.mean(axis=0)) ** 2).sum(axis=1)))]
    return int(x), int(y)
