"""A place to point at on each body of a drawing: bodies and a view in, points well inside what is seen out. Picture
plane; mm.

The picture plane is looked at through a grid of small cells; in each the triangle nearest to the viewer says whose face
is seen there. A body's place is the cell farthest from the border of its own cells.
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


def seen_places(bodies: Sequence[Body], view: View) -> dict[str, Point]:
    """For each body of which anything is seen in at least one cell: its name, and the place, picture plane."""
    import numpy as np

    facets = [facets_of(body.solid, view, False) for body in bodies if not body.solid.is_empty]
    names = [body.name for body in bodies if not body.solid.is_empty]
    every = np.concatenate([one.corners.reshape(-1, 3) for one in facets])
    low, high = every[:, :2].min(axis=0), every[:, :2].max(axis=0)
    cell = float((high - low).max()) / CELLS
    shape = tuple(int(n) + 3 for n in (high - low) / cell)
    owner, depth = np.full(shape, -1), np.full(shape, -np.inf)
    for i, one in enumerate(facets):
        facing = one.normals[:, 2] > _EDGE_ON
        scaled = one.corners[facing] - np.array([*low, 0.0])
        scaled[:, :, :2] = scaled[:, :, :2] / cell + 1
        for corners in scaled:
            _fill(corners, owner, depth, i)
    places = {}
    for i, name in enumerate(names):
        if (deepest := _deepest(owner == i)) is not None:
            x, y = deepest
            places[name] = (float(low[0]) + (x - 1) * cell, float(low[1]) + (y - 1) * cell)
    return places


def _fill(corners: Floats, owner: Any, depth: Floats, i: int) -> None:
    """Give the cells that the triangle covers, in front of what they had, to body i. Corners in cells."""
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
    owner[x0:x1, y0:y1][nearer] = i


def _deepest(mine: Any) -> tuple[int, int] | None:
    """The cell that is left longest when cells on the border are taken away again and again; None without cells."""
    import numpy as np

    left = None
    while mine.any():
        left = mine
        inner = mine.copy()
        inner[1:] &= mine[:-1]
        inner[:-1] &= mine[1:]
        inner[:, 1:] &= mine[:, :-1]
        inner[:, :-1] &= mine[:, 1:]
        mine = inner
    if left is None:
        return None
    cells = np.argwhere(left)
    middle = cells.mean(axis=0)
    x, y = cells[int(np.argmin(((cells - middle) ** 2).sum(axis=1)))]
    return int(x), int(y)
