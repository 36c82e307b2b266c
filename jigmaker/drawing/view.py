"""Ways to look at a body: a parallel view as three unit axes, given in the body's own frame; degrees.

The picture's frame is right-handed: x to the right, y up, and the third axis toward the viewer, so nothing is mirrored.
"""

from math import cos, radians, sin

from jigmaker.geometry.frames import Frame, Point
from jigmaker.geometry.vectors import Vector, cross, dot, scale, subtract, unit
from jigmaker.record import dataclass

X: Vector = (1.0, 0.0, 0.0)
Y: Vector = (0.0, 1.0, 0.0)
Z: Vector = (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class View:
    """A parallel view: the picture's right, its up and the direction toward the viewer, unit vectors.

    Raises FrameError when they are not unit, square to each other and right-handed.
    """

    right: Vector
    up: Vector
    toward: Vector

    def __post_init__(self) -> None:
        Frame((0.0, 0.0, 0.0), self.right, self.up, self.toward)

    @staticmethod
    def from_viewer(toward: Vector, up: Vector = Z) -> "View":
        """Seen from the side that `toward` points to; `up` shows upward. Raises ZeroDivisionError when both agree."""
        # `up` less its part along the way of looking (Gram-Schmidt) is square to it; right = up x toward.
        ahead = unit(toward)
        upward = unit(subtract(up, scale(ahead, dot(up, ahead))))
        return View(cross(upward, ahead), upward, ahead)

    @staticmethod
    def from_angles(azimuth_deg: float, elevation_deg: float) -> "View":
        """z upward; the viewer stands azimuth_deg from +x toward +y and looks down by elevation_deg (under 90)."""
        level = cos(radians(elevation_deg))
        x, y = level * cos(radians(azimuth_deg)), level * sin(radians(azimuth_deg))
        return View.from_viewer((x, y, sin(radians(elevation_deg))))

    def point(self, p: Vector) -> Point:
        """Where a point of the body's frame appears, picture plane, mm."""
        return (dot(p, self.right), dot(p, self.up))


FRONT = View(X, Z, (0.0, -1.0, 0.0))
"""From -y: x to the right, z up."""
BACK = View((-1.0, 0.0, 0.0), Z, Y)
"""From +y."""
RIGHT = View(Y, Z, X)
"""From +x: y to the right, z up."""
LEFT = View((0.0, -1.0, 0.0), Z, (-1.0, 0.0, 0.0))
"""From -x."""
TOP = View(X, Y, Z)
"""From +z: x to the right, y up."""
BOTTOM = View(X, (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
"""From -z: x to the right, y down."""

ISOMETRIC = View.from_viewer((1.0, 1.0, 1.0))
"""All three axes equally short: the true isometric view, from +x, +y and above."""
