"""A solved trestle and settings that are off in, what a caliper finds on a housing out: exact, by planes; mm, degrees.

Timber frame of the +x +y housing. For every hand the same: its start is read from its own end of the board. The jig
hangs with its fence on the top face and its bearers on the board's edge; its planes are those of the housing, moved by
what is off.
"""

from dataclasses import fields
from math import cos, radians, sin
from typing import Literal

from jigmaker.geometry.vectors import Vector, add, dot, scale
from jigmaker.record import dataclass
from jigmaker.trestle.leg import leg_directions
from jigmaker.trestle.records import Trestle

Plane = tuple[Vector, Vector]
"""A point of the plane and its normal."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What is off, as found less as it should be; 0 is right.

    projection: the cutter stands out too far. guide: the cut is wider than slot less bush plus cutter make it. stop:
    the stop holds the board's end too far out, so that the housing starts too far in. edge: the board's edge stands out
    at its bottom arris, off square to the top face (below 0: it falls back there). All mm.
    tilt: the plate, and with it the floor, is steeper off the level, turned about the top arris. turn: the jig is
    askew on the board, turned about the middle of the housing on the top arris, so that the walls run out more toward
    the end going down. Degrees.
    """

    projection_mm: float = 0.0
    guide_mm: float = 0.0
    stop_mm: float = 0.0
    edge_mm: float = 0.0
    tilt_deg: float = 0.0
    turn_deg: float = 0.0

    def planes(self, trestle: Trestle) -> tuple[Plane, Plane, Plane]:
        """Floor, near wall and far wall as routed."""
        top, housing = trestle.job.top, trestle.housing
        _, wide, out = leg_directions(trestle)
        arris = (top.length_mm / 2 - housing.start_top_mm, top.width_mm / 2, 0.0)
        middle = add(arris, (-housing.width_on_arris_mm / 2, 0.0, 0.0))
        half = (housing.width_mm + self.guide_mm) / 2
        # Where the edge stands out at the bottom arris the jig hangs on that, higher up.
        shift = (-self.stop_mm, max(0.0, self.edge_mm), 0.0)
        deep = housing.depth_square_mm + self.projection_mm
        # Three planes, each a point and its normal, all from the middle of the housing's mouth on the top arris: the
        # floor by the depth inward, the walls by half the width either way; then the jig's own tilt and turn move them
        # as one.
        found = [(scale(wide, -deep), wide), (scale(out, half), out), (scale(out, -half), out)]
        floor, near, far = (
            (add(add(middle, shift), self.turned(point)), self.turned(normal)) for point, normal in found
        )
        return floor, near, far

    def turned(self, vector: Vector) -> Vector:
        """A vector of the jig after tilt about x and turn about y."""
        # About x, the board's length, by the tilt; then about y, out of the edge, by the turn.
        x, y, z = vector
        c, s = cos(radians(self.tilt_deg)), sin(radians(self.tilt_deg))
        y, z = c * y + s * z, c * z - s * y
        c, s = cos(radians(self.turn_deg)), sin(radians(self.turn_deg))
        return c * x - s * z, y, c * z + s * x


@dataclass(frozen=True, slots=True)
class HousingFigures:
    """Five figures of one housing, mm, as they are or as read less wanted; all where `Housing` has them.

    width: square to the walls; depths: from the edge, in the middle of the housing, on the board's top and bottom face;
    starts: from the board's end to the near wall, on the top and the bottom arris.
    """

    width_mm: float
    depth_top_mm: float
    depth_bottom_mm: float
    start_top_mm: float
    start_bottom_mm: float

    def figures(self) -> tuple[float, ...]:
        """The five in their order."""
        return tuple(getattr(self, field.name) for field in fields(self))

    def less(self, other: "HousingFigures") -> "HousingFigures":
        """Figure by figure, this one less the other."""
        return HousingFigures(*(a - b for a, b in zip(self.figures(), other.figures(), strict=True)))


def housing_reading(trestle: Trestle, settings: Settings | None = None) -> HousingFigures:
    """The five figures of a housing routed with these settings; of the housing as wanted when there are none."""
    settings = settings or Settings()
    top = trestle.job.top
    floor, near, far = settings.planes(trestle)
    lines = [(top.width_mm / 2, 0.0), (top.width_mm / 2 + settings.edge_mm, -top.thickness_mm)]
    # Measured as a caliper does it, along the edge on the top arris and on the bottom one: from the board's end to the
    # near wall, and in the middle between both walls from the edge down to the floor.
    starts, depths = [], []
    for y, z in lines:
        walls = [_meets(wall, (0.0, y, z), 0) for wall in (near, far)]
        starts.append(top.length_mm / 2 - walls[0])
        depths.append(y - _meets(floor, (sum(walls) / 2, 0.0, z), 1))
    return HousingFigures(trestle.housing.width_mm + settings.guide_mm, *depths, *starts)


def _meets(plane: Plane, point: Vector, axis: Literal[0, 1]) -> float:
    """The coordinate at which a line through the point, along one axis, meets the plane."""
    at, normal = plane
    # n . (point + t axis) = n . at, so t = n . (at - point) / n[axis].
    off = dot(normal, at) - dot(normal, point)
    return point[axis] + off / normal[axis]
