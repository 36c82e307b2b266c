"""Which edges of a triangulated solid a drawing shows: those between faces, none within a face. View frame; mm.

Triangles that lie in one plane or bend only a little (chords of a round face) have no edge between them, except where
the round face turns away from the viewer. Runs of edges in one straight line come out as one.
"""

from __future__ import annotations

from collections import defaultdict
from functools import lru_cache
from math import cos, radians
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.solid import Solid
from jigmaker.record import dataclass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from jigmaker.drawing.view import View
    from jigmaker.geometry.strokes import Floats

SMOOTH_DEG = 20.0
"""Faces that bend less than this are one round face, made of chords."""

_EDGE_ON = 1e-9  # a face whose normal has no more than this toward the viewer is seen edge on
_IN_LINE = 1e-9  # how far two unit directions in one straight line may differ
_WELD_PLACES = 7


@dataclass(frozen=True, slots=True)
class Triangles:
    """A solid's triangles in the view's frame: corners (n, 3, 3), unit normals (n, 3).

    points: (p, 3), every vertex once; faces: (n, 3), which of them are the corners.
    """

    points: Floats
    faces: NDArray[np.intp]
    corners: Floats
    normals: Floats


@lru_cache(maxsize=64)  # a picture's lines, and the places to point at in it
def triangles_of(solid: Solid, view: View) -> Triangles:
    """The solid's triangles as the view has them; those of no size are left out."""
    import numpy as np

    points, faces = _welded(solid)
    points = points @ np.array([view.right, view.up, view.toward]).T
    corners = points[faces]
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    size = np.linalg.norm(normals, axis=1)
    real = size > 0
    return Triangles(points, faces[real], corners[real], normals[real] / size[real, None])


@lru_cache(maxsize=64)  # three views of a piece
def _welded(solid: Solid) -> tuple[Floats, NDArray[np.intp]]:
    """The solid's vertices in order, each once, (p, 3), and which of them are the corners of its triangles, (n, 3)."""
    import numpy as np

    mesh = solid.mesh()
    corners = np.round(mesh.vert_properties[:, :3], _WELD_PLACES)
    order = np.lexsort((corners[:, 2], corners[:, 1], corners[:, 0]))
    is_new = np.ones(len(order), dtype=bool)
    is_new[1:] = (corners[order[1:]] != corners[order[:-1]]).any(axis=1)
    index = np.empty(len(order), dtype=np.intp)
    index[order] = np.cumsum(is_new) - 1
    return corners[order[is_new]], index[np.asarray(mesh.tri_verts, dtype=np.int64)]


def edges_of(triangles: Triangles, keep_hidden: bool) -> tuple[Floats, NDArray[np.bool_]]:
    """The ends of every edge to draw, (m, 2, 3), and where a face that is seen ends, (m,).

    Edges that only the far side has are among them when keep_hidden.
    """
    import numpy as np

    points = triangles.points
    pairs, outline = _shown_edges(triangles.faces, triangles.normals, keep_hidden)
    runs = _straight_runs(pairs, outline, points)
    edges = np.array([points[[a, b]] for a, b, _ in runs]).reshape(-1, 2, 3)
    return edges, np.array([seen for _, _, seen in runs], dtype=bool)


def _shown_edges(faces: Any, normals: Floats, keep_hidden: bool) -> tuple[Any, Any]:
    """(pairs of vertices, is it an outline) of every edge that is drawn, each once."""
    import numpy as np

    starts, ends = faces.ravel(), np.roll(faces, -1, axis=1).ravel()
    owner = np.repeat(np.arange(len(faces)), 3)
    # One whole number an edge, the same from both its sides.
    key = np.minimum(starts, ends) * (int(faces.max()) + 1) + np.maximum(starts, ends)
    order = np.argsort(key, kind="stable")
    # A closed body has two faces at every edge; sorted by edge they are neighbours.
    first, second = order[0::2], order[1::2]
    one, other = normals[owner[first]], normals[owner[second]]
    # The cosine of the angle between two faces is the product of their normals: 1 in one plane. A face is seen where
    # its normal has a part toward the viewer, along z; an edge between a face that is seen and one that is not is
    # outline.
    bend = np.einsum("ij,ij->i", one, other)
    seen, turned = one[:, 2] > _EDGE_ON, other[:, 2] > _EDGE_ON
    outline = seen != turned
    sharp = bend < cos(radians(SMOOTH_DEG))
    away = (one[:, 2] < -_EDGE_ON) & (other[:, 2] < -_EDGE_ON)
    drawn = (sharp | (outline & (bend < 1 - 1e-9))) & (keep_hidden | ~away)
    return np.column_stack([starts[first], ends[first]])[drawn], outline[drawn]


def _straight_runs(pairs: Any, outline: Any, points: Floats) -> list[tuple[int, int, bool]]:
    """Edges that go on in a straight line made one: (vertex, vertex, is it an outline)."""
    import numpy as np

    way = points[pairs[:, 1]] - points[pairs[:, 0]]
    way = (way / np.linalg.norm(way, axis=1)[:, None]).tolist()
    ends, kinds = pairs.tolist(), outline.tolist()
    at: dict[int, list[int]] = defaultdict(list)
    for i, pair in enumerate(ends):
        for vertex in pair:
            at[vertex].append(i)

    def onward(i: int, vertex: int) -> int | None:
        """The other edge at the vertex that continues edge i."""
        (x, y, z), kind = way[i], kinds[i]
        sign = 1 if ends[i][1] == vertex else -1
        for j in at[vertex]:
            if j != i and kinds[j] == kind:
                turn = sign if ends[j][0] == vertex else -sign
                u, v, w = way[j]
                if abs(x - turn * u) < _IN_LINE and abs(y - turn * v) < _IN_LINE and abs(z - turn * w) < _IN_LINE:
                    return j
        return None

    runs, done = list[tuple[int, int, bool]](), set[int]()
    for i in range(len(ends)):
        if i not in done:
            # The vertex at which the straight run through edge i ends on either side; edges passed are done.
            done.add(i)
            reach = []
            for vertex in ends[i]:
                here, following = vertex, onward(i, vertex)
                while following is not None:
                    done.add(following)
                    a, b = ends[following]
                    here = b if a == here else a
                    following = onward(following, here)
                reach.append(here)
            runs.append((min(reach), max(reach), kinds[i]))
    return runs
