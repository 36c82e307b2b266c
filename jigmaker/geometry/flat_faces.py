"""The flat faces of a solid: its triangles in, whole faces with their borders and openings out. The solid's frame, mm.

Triangles that share an edge and lie in one plane are one face. A corner is kept only where three faces or more meet, so
that a leg has six faces of four corners each.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, cross, dot, subtract
from jigmaker.record import dataclass

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_ONE_PLANE = 1e-9  # how far two unit normals in one plane may differ

Ring = tuple[Vector, ...]
Loop = list[int]


@dataclass(frozen=True, slots=True)
class FlatFace:
    """A piece of a plane: its border and its openings as corners, first not repeated.

    Seen from outside the solid the border runs anticlockwise, openings clockwise.
    """

    border: Ring
    openings: tuple[Ring, ...] = ()

    @property
    def rings(self) -> tuple[Ring, ...]:
        """The border, then the openings."""
        return (self.border, *self.openings)

    def inside(self, frame: Frame) -> FlatFace:
        """The same face in the coordinates of a frame that is given in this one."""
        first, *others = [tuple(frame.inside(corner) for corner in ring) for ring in self.rings]
        return FlatFace(first, tuple(others))


def flat_faces(solid: Solid) -> tuple[FlatFace, ...]:
    """Every face of a solid, in a stable order. Round faces come as the chords that the solid has for them."""
    import numpy as np

    mesh = solid.mesh()
    points = np.asarray(mesh.vert_properties, dtype=np.float64)[:, :3]
    triangles = np.asarray(mesh.tri_verts, dtype=np.int64)
    first, second, third = (points[triangles[:, corner]] for corner in range(3))
    across = np.cross(second - first, third - first)
    groups = _in_one_plane(triangles, across / np.linalg.norm(across, axis=1)[:, None])
    loops = [_loops(group) for group in groups]
    meeting: dict[int, int] = defaultdict(int)
    for corner in [corner for face in loops for corner in {corner for loop in face for corner in loop}]:
        meeting[corner] += 1
    at = [(float(x), float(y), float(z)) for x, y, z in points]
    return tuple(_face([tuple(at[i] for i in loop if meeting[i] > 2) for loop in face]) for face in loops)


def _in_one_plane(triangles: NDArray[np.int64], normals: NDArray[np.float64]) -> list[list[tuple[int, int, int]]]:
    """The triangles in groups: neighbours whose normals agree. Each directed edge belongs to one triangle."""
    rows: list[tuple[int, int, int]] = [(a, b, c) for a, b, c in triangles.tolist()]
    # The surface is closed, so every edge a -> b of a triangle is an edge b -> a of its neighbour. From a seed the
    # faces grow over edges whose two normals agree; all are held to the seed's, so that no slow bend is walked round.
    owner = {edge: number for number, row in enumerate(rows) for edge in _edges(row)}
    left, groups = dict.fromkeys(range(len(rows))), []
    while left:
        seed = next(iter(left))
        del left[seed]
        group, open_ones = [rows[seed]], [seed]
        while open_ones:
            for a, b in _edges(rows[open_ones.pop()]):
                other = owner[b, a]
                if other in left and float(abs(normals[other] - normals[seed]).max()) < _ONE_PLANE:
                    del left[other]
                    group.append(rows[other])
                    open_ones.append(other)
        groups.append(group)
    return groups


def _edges(row: tuple[int, int, int]) -> tuple[tuple[int, int], ...]:
    return ((row[0], row[1]), (row[1], row[2]), (row[2], row[0]))


def _loops(group: Iterable[tuple[int, int, int]]) -> list[Loop]:
    """The rings of corners around a group of triangles: the edges that no two of them share."""
    # Edges inside the face are there both ways and drop out; what is left, followed from end to start, are its rings:
    # the border anticlockwise, openings clockwise, as the triangles themselves run.
    every = {edge: None for row in group for edge in _edges(row)}
    onward: dict[int, list[int]] = defaultdict(list)
    for a, b in every:
        if (b, a) not in every:
            onward[a].append(b)
    loops: list[Loop] = []
    for start in list(onward):
        while onward[start]:
            loop = [start]
            while (following := onward[loop[-1]].pop()) != start:
                loop.append(following)
            loops.append(loop)
    return loops


def _face(rings: list[Ring]) -> FlatFace:
    """The border is the ring around the largest area; the others lie in it."""
    sizes = []
    for ring in rings:
        # Twice the area as a vector square to the plane: triangles from the first corner, those outside counting less.
        area = (0.0, 0.0, 0.0)
        for one, following in zip(ring, ring[1:] + ring[:1], strict=True):
            part = cross(subtract(one, ring[0]), subtract(following, ring[0]))
            area = (area[0] + part[0], area[1] + part[1], area[2] + part[2])
        sizes.append(dot(area, area))
    largest = sizes.index(max(sizes))
    return FlatFace(rings[largest], tuple(ring for i, ring in enumerate(rings) if i != largest))
