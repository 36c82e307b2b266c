"""What the job asks for, cut from solid blocks by planes: board, leg, housing and their corners.

Timber frame; mm. Only directions are reasoned: out of a leg's wide face (it holds the board's direction and stands at
the splay), out of the plane at the rake (it holds the direction across the board), and what follows from the two by
vector products. All else is measured on corners that the solid kernel made. Given for the leg at +x, +y; seats of the
other three are mirror images.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import cos, radians, sin

from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract, unit
from jigmaker.job.job import Job
from jigmaker.record import dataclass

X: Vector = (1.0, 0.0, 0.0)
Y: Vector = (0.0, 1.0, 0.0)
UP: Vector = (0.0, 0.0, 1.0)
DOWN: Vector = (0.0, 0.0, -1.0)

Seat = tuple[int, int]
"""Signs of a leg's x and y."""

SEATS: dict[Seat, tuple[str, int]] = {(1, 1): ("R", 1), (-1, -1): ("R", -1), (-1, 1): ("L", 1), (1, -1): ("L", -1)}
"""Hand of the jig and edge of the board (1: the one at +y is worked) for each leg."""

CornerName = tuple[str, str, str]
"""("near" or "far" wall, "arris" or "floor", "top" or "bottom" face of the board)."""

_FAR_MM = 8000.0
_FACE_MM = 1e-5  # corners this near a face of the board lie on it
_ON_EDGE_MM = 0.5  # a housing's floor is deeper than this everywhere


@dataclass(frozen=True, slots=True)
class Directions:
    """Unit vectors of the +x +y leg: down its axis, out of its wide face, out of its near narrow edge, out of the plane
    at the rake."""

    down: Vector
    wide: Vector
    edge: Vector
    raked: Vector


def directions(job: Job) -> Directions:
    """The leg's directions from rake and splay alone; timber frame."""
    # Seen along the board:                Seen across it:
    #      ____board____                    ____board____
    #          /  -> wide                       /  -> raked
    #         /                                /          the leg runs along both planes,
    #        /  splay off the level           /  rake     so down their line of intersection:
    #       /_____                           /_____       down = wide x raked
    wide = (0.0, _sine(job.splay_deg), _cosine(job.splay_deg))
    raked = (_sine(job.rake_deg), 0.0, _cosine(job.rake_deg))
    down = unit(cross(wide, raked))
    down = down if down[2] < 0 else scale(down, -1)
    edge = unit(cross(down, wide))
    return Directions(down, wide, edge if edge[0] > 0 else scale(edge, -1), raked)


def _cosine(angle_deg: float) -> float:
    return 0.0 if angle_deg == 90 else cos(radians(angle_deg))


def _sine(angle_deg: float) -> float:
    return sin(radians(angle_deg))


def board(job: Job) -> Solid:
    """The top board before its housings: centred on x and y, its top face at z = 0."""
    half_length, half_width = job.top.length_mm / 2, job.top.width_mm / 2
    return Solid.block((-half_length, -half_width, -job.top.thickness_mm), (half_length, half_width, 0.0))


def start_point(job: Job) -> Vector:
    """Where the leg's near wall crosses the board's top arris."""
    return (job.top.length_mm / 2 - job.inset_mm, job.top.width_mm / 2, 0.0)


def cut(body: Solid, *planes: tuple[Vector, Vector]) -> Solid:
    """The body cut by planes, each given by a point and the direction that goes away."""
    for point, away in planes:
        body = body.kept_below(point, away)
    return body


def leg_planes(job: Job) -> tuple[tuple[Vector, Vector], ...]:
    """Outer and inner wide face, near and far narrow edge of the leg."""
    # Each plane by a point on it and the direction out of the leg.
    d, start = directions(job), start_point(job)
    outer = add(start, scale(d.wide, job.housing.reveal_mm))
    inner = subtract(outer, scale(d.wide, job.leg.thickness_mm))
    far = subtract(start, scale(d.edge, job.leg.width_mm))
    return ((outer, d.wide), (inner, scale(d.wide, -1)), (start, d.edge), (far, scale(d.edge, -1)))


def everything() -> Solid:
    """A block larger than any trestle, out of which planes cut bodies; timber frame."""
    return Solid.block((-_FAR_MM,) * 3, (_FAR_MM,) * 3)


def leg(job: Job) -> Solid:
    """The finished leg: from the level of the top face to the floor."""
    return cut(everything(), *leg_planes(job), ((0.0, 0.0, 0.0), UP), ((0.0, 0.0, -job.height_mm), DOWN))


def leg_as_sawn(job: Job) -> Solid:
    """The leg with horn and trim still on it, both measured along it."""
    down = directions(job).down
    head = scale(down, -job.leg.horn_mm)
    foot = add((0.0, 0.0, -job.height_mm), scale(down, job.leg.trim_mm))
    return cut(everything(), *leg_planes(job), (head, UP), (foot, DOWN))


def as_glued(job: Job) -> Job:
    """The job with the trim still on its feet, as high as it stands then."""
    return replace(job, height_mm=job.height_mm - job.leg.trim_mm * directions(job).down[2])


def housing(job: Job) -> Solid:
    """What is to be routed out of the board: walls opened by half the clearance each."""
    # Inside the leg's four planes but for the outer one, which lies out of the board; what is asked as clearance opens
    # both walls by half.
    _, inner, (near, out), (far, away) = leg_planes(job)
    open_by = job.housing.clearance_mm / 2
    return cut(board(job), inner, (add(near, scale(out, open_by)), out), (add(far, scale(away, open_by)), away))


def at_seat(solid: Solid, seat: Seat) -> Solid:
    """A solid given for the +x +y leg, mirrored to another seat; mirrored once more it is back."""
    turned = solid if seat[0] == 1 else solid.mirrored(X)
    return turned if seat[1] == 1 else turned.mirrored(Y)


def housing_corners(solid: Solid, job: Job) -> dict[CornerName, Vector] | None:
    """The eight corners of a housing at +x +y by name; None when it does not reach from face to face of the board."""
    found: dict[CornerName, Vector] = {}
    corners = solid.corners
    #               y = width / 2, the board's edge
    #    arris  far *-----------* near        arris: the corners on the edge; floor: those inside the board.
    #    floor   far *-----------* near       In each face the near one, toward the board's end, has the larger x.
    for face, z in (("top", 0.0), ("bottom", -job.top.thickness_mm)):
        on_face = [p for p in corners if abs(p[2] - z) < _FACE_MM]
        arris = [p for p in on_face if p[1] > job.top.width_mm / 2 - _FACE_MM]
        floor = [p for p in on_face if p[1] < job.top.width_mm / 2 - _ON_EDGE_MM]
        if len(arris) < 2 or len(floor) < 2:
            return None
        for where, points in (("arris", arris), ("floor", floor)):
            found["near", where, face] = max(points, key=lambda p: p[0])
            found["far", where, face] = min(points, key=lambda p: p[0])
    return found


def extent(points: Sequence[Vector], way: Vector) -> float:
    """How far the points reach along a unit direction, mm."""
    along = [dot(p, way) for p in points]
    return max(along) - min(along)
