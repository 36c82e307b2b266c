"""Frames: where one right-handed frame lies in another, in space (Frame) and in the plane (PlaneFrame); mm, degrees.

A transform is named <to>_from_<from>: `sheet_from_part.point(p)` takes p in the part frame and gives it in the sheet
frame. No frame is ever mirrored; a left-hand outline is an outline of its own.
"""

from functools import lru_cache
from math import cos, radians, sin

from jigmaker.errors import FrameError
from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract
from jigmaker.record import dataclass

Point = tuple[float, float]

_SQUARE = 1e-9  # how far from orthonormal rounding in the last digits may leave three axes


@dataclass(frozen=True, slots=True)
class Frame:
    """A right-handed frame given in its parent's coordinates: origin (mm) and three unit axes.

    Raises FrameError when the axes are not unit, square to each other and right-handed.
    """

    origin: Vector = (0.0, 0.0, 0.0)
    x_axis: Vector = (1.0, 0.0, 0.0)
    y_axis: Vector = (0.0, 1.0, 0.0)
    z_axis: Vector = (0.0, 0.0, 1.0)

    def __post_init__(self) -> None:
        across = cross(self.x_axis, self.y_axis)
        off = max(abs(dot(self.x_axis, self.y_axis)), max(abs(c) for c in subtract(across, self.z_axis)))
        # With x and y unit and square, z is unit as their product.
        if max(off, *(abs(dot(axis, axis) - 1) for axis in (self.x_axis, self.y_axis))) > _SQUARE:
            raise FrameError(
                f"axes {self.x_axis}, {self.y_axis}, {self.z_axis} are not a right-handed orthonormal frame"
            )

    def point(self, p: Vector) -> Vector:
        """A point of this frame, in the parent's coordinates."""
        return add(self.origin, self.direction(p))

    def direction(self, d: Vector) -> Vector:
        """A direction of this frame, in the parent's coordinates."""
        return add(add(scale(self.x_axis, d[0]), scale(self.y_axis, d[1])), scale(self.z_axis, d[2]))

    def inside(self, p: Vector) -> Vector:
        """A point of the parent, in this frame's coordinates."""
        d = subtract(p, self.origin)
        return (dot(d, self.x_axis), dot(d, self.y_axis), dot(d, self.z_axis))

    @property
    def inverse(self) -> "Frame":
        """child_from_parent of this parent_from_child: the axes' rows become its columns, for they are square."""
        x, y, z = ((self.x_axis[i], self.y_axis[i], self.z_axis[i]) for i in range(3))
        return Frame(self.inside((0.0, 0.0, 0.0)), x, y, z)

    def __matmul__(self, inner: "Frame") -> "Frame":
        """a_from_b @ b_from_c = a_from_c."""
        return Frame(
            self.point(inner.origin),
            self.direction(inner.x_axis),
            self.direction(inner.y_axis),
            self.direction(inner.z_axis),
        )

    def moved(self, by: Vector) -> "Frame":
        """The same frame shifted in the parent."""
        return Frame(add(self.origin, by), self.x_axis, self.y_axis, self.z_axis)


@dataclass(frozen=True, slots=True)
class PlaneFrame:
    """A frame in the plane, given in its parent's: turned anticlockwise by turn_deg, then shifted by (x, y) mm."""

    x: float = 0.0
    y: float = 0.0
    turn_deg: float = 0.0

    def point(self, p: Point) -> Point:
        """A point of this frame, in the parent's coordinates. Quarter turns are exact."""
        c, s = cos_sin(self.turn_deg)
        return (self.x + c * p[0] - s * p[1], self.y + s * p[0] + c * p[1])


@lru_cache(maxsize=256)
def cos_sin(turn_deg: float) -> tuple[float, float]:
    """Cosine and sine of an angle; of quarter turns they are exact."""
    # The library's cosine of pi / 2 is 6e-17: a part turned by a quarter would lie off its grid in the last digit.
    quarters = turn_deg / 90
    if quarters == int(quarters):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    return cos(radians(turn_deg)), sin(radians(turn_deg))
