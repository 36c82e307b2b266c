"""A place to point at on each body of a drawing: bodies and a view in, points well inside what is seen out. Picture
plane; mm.

The picture plane is looked at through a grid of small cells; in each the triangle nearest to the viewer says which face
is seen there. A body's place is the cell farthest from the border of its face.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from jigmaker.drawing.mesh_edges import facets_of
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
    facets = [facets_of(body.solid, view, False) for body in shown]
    every = np.concatenate([one.corners.reshape(-1, 3) for one in facets])
    low, high = every[:, :2].min(axis=0), every[:, :2].max(axis=0)
    cell = float((high - low).max()) / CELLS
    shape = tuple(int(n) + 3 for n in (high - low) / cell)
    face, depth = np.full(shape, -1), np.full(shape, -np.inf)
    for i, one in enumerate(facets):
        facing = one.normals[:, 2] > _EDGE_ON
        corners = one.corners[facing] - np.array([*low, 0.0])
        corners[:, :, :2] = corners[:, :, :2] / cell + 1
        ways = np.unique(np.round(one.normals[facing], 2), axis=0, return_inverse=True)[1].reshape(-1)
        for triangle, way in zip(corners, ways.tolist(), strict=True):
            _fill(triangle, face, depth, i * _FACES + way)
    found = _deepest(face, len(shown))
    return {
        body.name: (float(low[0]) + (at[0] - 1) * cell, float(low[1]) + (at[1] - 1) * cell)
        for body, at in zip(shown, found, strict=True)
        if at is not None
    }


def _fill(corners: Floats, face: Any, depth: Floats, number: int) -> None:
    """Give the cells that the triangle covers, before what they had, to the face of this number. Corners in cells."""
    import numpy as np

    (ax, ay, az), (bx, by, bz), (cx, cy, cz) = corners
    x0, y0 = int(np.ceil(min(ax, bx, cx))), int(np.ceil(min(ay, by, cy)))
    x1, y1 = int(max(ax, bx, cx)) + 1, int(max(ay, by, cy)) + 1
    if x1 <= x0 or y1 <= y0:
        return
    x, y = np.arange(x0, x1)[:, None], np.arange(y0, y1)[None, :]
    twice = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)
    of_a = ((bx - x) * (cy - y) - (by - y) * (cx - x)) / twice
    of_b = ((cx - x) * (ay - y) - (cy - y) * (ax - x)) / twice
    of_c = 1 - of_a - of_b
    z = of_a * az + of_b * bz + of_c * cz
    part = depth[x0:x1, y0:y1]
    nearer = (of_a >= 0) & (of_b >= 0) & (of_c >= 0) & (z > part)
    part[nearer] = z[nearer]
    face[x0:x1, y0:y1][nearer] = number


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
