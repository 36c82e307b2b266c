"""Four legs of any lengths cut from solids, stood on a floor or on shims, and scribed: the judge of the levelling.

The trestle stays in its timber frame and the floor moves: a Floor is the plane on which a point's height is counted.
Each foot is looked at in the frame of the +x +y leg, its floor mirrored with it. Nothing of jigmaker.levelling is used
"""

from dataclasses import dataclass
from math import cos, hypot, radians, sin, sqrt

from trestle_on_solids import DOWN, UP, cut, directions, everything, leg_sides, named_corners

from jigmaker.geometry.vectors import add, dot, length, scale, subtract

SIGNS = ((1, 1), (1, -1), (-1, -1), (-1, 1))  # near R, near L, far R, far L
ARRISES = (("outer", "near"), ("outer", "far"), ("inner", "far"), ("inner", "near"))  # near: to the board's end


@dataclass(frozen=True)
class Floor:
    """up: unit vector out of the floor; a point's height over it is its share along up, more by `lift`."""

    up: tuple[float, float, float]
    lift: float

    def height(self, point):
        return dot(point, self.up) + self.lift

    def for_leg(self, signs):
        return Floor((self.up[0] * signs[0], self.up[1] * signs[1], self.up[2]), self.lift)


def tilted_floor(tilt_deg, toward_deg, lift):
    lean = sin(radians(tilt_deg))
    return Floor((lean * cos(radians(toward_deg)), lean * sin(radians(toward_deg)), cos(radians(tilt_deg))), lift)


def leg_with_sole(job, reach, soles):
    """The leg whose lowest point lies `reach` below the top, its sole level or square across the leg."""
    down = directions(job)[0]
    if soles == "angled":
        return cut(everything(), *leg_sides(job), ((0, 0, 0), UP), ((0, 0, -reach), DOWN))
    start = scale(down, job.height_mm)
    lowest = min(p[2] for p in cut(everything(), *leg_sides(job), ((0, 0, 0), UP), (start, down)).corners)
    return cut(
        everything(), *leg_sides(job), ((0, 0, 0), UP), (add(start, scale(down, (lowest + reach) / -down[2])), down)
    )


def mirrored(point, signs):
    return (point[0] * signs[0], point[1] * signs[1], point[2])


def touching(legs, floor, signs=SIGNS):
    """Of each foot the corner that is lowest over the floor, in the timber frame."""
    return [
        mirrored(min(leg.corners, key=floor.for_leg(own).height), own) for leg, own in zip(legs, signs, strict=True)
    ]


def floor_under(legs, shims, signs=SIGNS):
    """The floor of a trestle that rests on the first three of these shims; found by turning until all three touch."""
    floor = Floor(UP, 0.0)
    for _ in range(60):
        a, b, c = touching(legs, floor, signs)[:3]
        floor = _plane(floor, (a, b, c), shims)
    return floor


def _plane(floor, points, heights):
    """up and lift that give three points their heights, the upright share of up taken from the last floor."""
    (x1, y1, h1), (x2, y2, h2) = (
        (*subtract(points[i], points[0])[:2], heights[i] - heights[0] - floor.up[2] * (points[i][2] - points[0][2]))
        for i in (1, 2)
    )
    by = x1 * y2 - x2 * y1
    x, y = (h1 * y2 - h2 * y1) / by, (x1 * h2 - x2 * h1) / by
    up = (x, y, sqrt(1 - x * x - y * y))
    return Floor(up, heights[0] - dot(points[0], up))


def board_heights(job, floor):
    half_length, half_width = job.top.length_mm / 2, job.top.width_mm / 2
    return [floor.height((x * half_length, y * half_width, 0.0)) for x, y in SIGNS]


def top_over(point, floor):
    """Height of the top face's plane straight over a point: upright to the floor."""
    upward = -point[2] / floor.up[2]
    return floor.height(point) + upward


def scribed(leg, signs, floor, scribing):
    """The leg less all that lies under the scribed plane."""
    own = floor.for_leg(signs)
    return leg.kept_below(scale(own.up, scribing - own.lift), scale(own.up, -1))


def arris_losses(job, before, after):
    """How much shorter each arris is, as measured between the soles' corners."""
    old, new = named_corners(before, job), named_corners(after, job)
    return [length(subtract(old[side, way, "foot"], new[side, way, "foot"])) for side, way in ARRISES]


def out_of_plane(points):
    """How far the fourth point lies off the plane of the other three, at right angles to it, for all four choices."""
    most = 0.0
    for i in range(4):
        a, b, c = (points[k] for k in range(4) if k != i)
        u, v = subtract(b, a), subtract(c, a)
        normal = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
        most = max(most, abs(dot(subtract(points[i], a), normal)) / length(normal))
    return most


def tilt_mm(floor, job):
    """How much higher one end or edge of the board's top stands than the other."""
    return hypot(floor.up[0] * job.top.length_mm, floor.up[1] * job.top.width_mm)
