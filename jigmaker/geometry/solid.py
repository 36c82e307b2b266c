"""Exact solids for proving: blocks, prisms from flat outlines, plane cuts, unions and differences. Any frame, mm.

A thin layer over the solid kernel manifold3d, which is exact to the last digits on solids with flat faces. Round
outlines come in as chords. The kernel is loaded only when a solid is made.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.outline import Circle, Outline
from jigmaker.geometry.vectors import Vector

if TYPE_CHECKING:
    from manifold3d import Manifold


class Solid:
    """A body in space. Never changed in place: every verb gives a new one."""

    def __init__(self, body: Manifold) -> None:
        self._body = body

    @staticmethod
    def block(low: Vector, high: Vector) -> Solid:
        """The box from one corner to the other, axes of the frame."""
        from manifold3d import Manifold

        size = tuple(h - lo for lo, h in zip(low, high, strict=True))
        return Solid(Manifold.cube(size).translate(low))

    @staticmethod
    def prism(
        outline: Outline | Circle, holes: Sequence[Outline | Circle], thickness: float, per_quarter: int = 64
    ) -> Solid:
        """A flat part: the outline less its holes in the x-y plane, thickness up z from 0."""
        # A chord lies inside its circle: round parts come out too small by the height of the chord over them, round
        # holes too. 64 to the quarter leave 0.08 thousandths of the radius.
        rings = [outline.points(per_quarter)] + [hole.points(per_quarter) for hole in holes]
        return Solid.prism_of_points(rings, thickness)

    @staticmethod
    def prism_of_points(rings: Sequence[Sequence[Point]], thickness: float) -> Solid:
        """As prism, from rings of points; what lies inside an odd number of rings is material."""
        from manifold3d import CrossSection, FillRule, Manifold

        flat = CrossSection([list(ring) for ring in rings], FillRule.EvenOdd)
        return Solid(Manifold.extrude(flat, thickness))

    @staticmethod
    def hull(points: Sequence[Vector]) -> Solid:
        """The smallest convex body around the points."""
        import numpy as np
        from manifold3d import Manifold

        return Solid(Manifold.hull_points(np.array(points, dtype=np.float64)))

    @staticmethod
    def union(solids: Iterable[Solid]) -> Solid:
        """All the solids as one."""
        from manifold3d import Manifold, OpType

        return Solid(Manifold.batch_boolean([solid._body for solid in solids], OpType.Add))

    def placed(self, frame: Frame) -> Solid:
        """The solid in the frame's parent."""
        # Three rows of four: the axes side by side as columns, the origin behind them.
        columns = (frame.x_axis, frame.y_axis, frame.z_axis, frame.origin)
        return Solid(self._body.transform([[column[row] for column in columns] for row in range(3)]))

    def moved(self, by: Vector) -> Solid:
        """The solid shifted."""
        return Solid(self._body.translate(by))

    def mirrored(self, normal: Vector) -> Solid:
        """The mirror image in the plane through the origin with this normal."""
        return Solid(self._body.mirror(normal))

    def kept_below(self, point: Vector, normal: Vector) -> Solid:
        """What lies on the side of the plane away from its normal; the plane goes through the point."""
        # The kernel keeps the side that its normal points to, and wants the plane's distance from the origin along it.
        inward = tuple(-c for c in normal)
        distance = sum(i * p for i, p in zip(inward, point, strict=True))
        size = sum(c * c for c in normal) ** 0.5
        return Solid(self._body.trim_by_plane(tuple(c / size for c in inward), distance / size))

    def outlines_at(self, z: float) -> list[list[Point]]:
        """The rings in which the level plane at z cuts the solid, x and y of the frame."""
        return [[(float(x), float(y)) for x, y in ring] for ring in self._body.slice(z).to_polygons()]

    def plus(self, other: Solid) -> Solid:
        """Both together."""
        return Solid(self._body + other._body)

    def minus(self, other: Solid) -> Solid:
        """This one with the other cut away."""
        return Solid(self._body - other._body)

    def common(self, other: Solid) -> Solid:
        """What both hold."""
        return Solid(self._body ^ other._body)

    @property
    def volume(self) -> float:
        """Volume in mm3; 0 for nothing."""
        return float(self._body.volume())

    @property
    def surface(self) -> float:
        """Area of all its faces in mm2."""
        return float(self._body.surface_area())

    @property
    def bounds(self) -> tuple[Vector, Vector]:
        """(low corner, high corner) of the box around the solid."""
        box = self._body.bounding_box()
        return (box[0], box[1], box[2]), (box[3], box[4], box[5])

    @property
    def corners(self) -> list[Vector]:
        """Every vertex, in double precision, in the kernel's own stable order."""
        # to_mesh() would be single precision: 1e-5 mm off.
        return [(float(v[0]), float(v[1]), float(v[2])) for v in self.mesh().vert_properties[:, :3]]

    @property
    def is_empty(self) -> bool:
        """True when nothing is left."""
        return bool(self._body.is_empty())

    def pieces(self) -> list[Solid]:
        """The solid's separate bodies."""
        return [Solid(body) for body in self._body.decompose()]

    def gap(self, other: Solid, search: float) -> float:
        """Smallest distance to the other solid, at most search."""
        return float(self._body.min_gap(other._body, search))

    def mesh(self) -> Any:
        """The kernel's double-precision triangle mesh."""
        return self._body.to_mesh64()
