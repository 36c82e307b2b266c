"""A trestle's legs with everything wrong that a forecast knows of, on solids: turned, seated, sawn and measured.

Nothing of jigmaker.timber or jigmaker.trestle is used. A leg is the hull of its corners, turned by exact rotations. How
far it turns in its housing is searched for: the piece of it that lies in the board must go between the walls.
Each leg in the timber frame of the +x +y seat; mm, radians.
"""

from dataclasses import dataclass
from math import cos, hypot, sin

from trestle_on_solids import arris_point, directions

from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, dot, scale, subtract

LONG, STEPS = 400.0, 22


@dataclass(frozen=True)
class Wrong:
    """One leg's errors, as the forecast names them."""

    opened: float = 0.0
    wide: float = 0.0
    follow: float = 0.0
    skew: float = 0.0
    slot: float = 0.0
    fence: float = 0.0
    twisted: float = 0.0
    mitre: float = 0.0
    tilt: float = 0.0
    longer: float = 0.0
    head: float = 0.0
    place: float = 0.0


def turned(point, axis, angle, pivot=(0.0, 0.0, 0.0)):
    """A point turned about a unit axis through the pivot, by the right-hand rule."""
    arm, c, s = subtract(point, pivot), cos(angle), sin(angle)
    along = scale(axis, dot(axis, arm) * (1 - c))
    return add(pivot, add(add(scale(arm, c), scale(cross(axis, arm), s)), along))


def section(job, wrong):
    """The leg's four arrises where they pass the top face's plane, its inner face on the housing's floor: outer near,
    outer far, inner far, inner near. Skew leans both narrow faces alike.
    """
    _, wide, edge, _ = directions(job)
    middle = subtract(arris_point(job), scale(edge, job.leg.width_mm / 2))
    half, lean, thick = (job.leg.width_mm + wrong.wide) / 2, wrong.skew / 2, job.leg.thickness_mm
    return [
        add(add(middle, scale(edge, side * half + sign * lean)), scale(wide, -deep))
        for side, sign, deep in ((1, 1, 0.0), (-1, 1, 0.0), (-1, -1, thick), (1, -1, thick))
    ]


def play_at(job, wrong, turn):
    """Housing less leg across the walls when the leg is turned in its housing so far, foot out; below 0: it jams."""
    down, wide, edge, _ = directions(job)
    pivot = arris_point(job)
    ends = [add(p, scale(down, way)) for p in section(job, wrong) for way in (-LONG, LONG)]
    leg = Solid.hull([turned(p, wide, -turn, pivot) for p in ends])
    board = Solid.block((0.0, -LONG, -job.top.thickness_mm), (job.top.length_mm, job.top.width_mm / 2, 0.0))
    along = [dot(p, edge) for p in leg.common(board).corners]
    housing = job.leg.width_mm + job.housing.clearance_mm + wrong.opened - wrong.follow
    return housing - (max(along) - min(along))


def most_turn(job, wrong, way):
    """How far the leg can be turned one way, by halving."""
    low, high = 0.0, 0.05
    if play_at(job, wrong, 0.0) <= 0:
        return 0.0
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if play_at(job, wrong, way * middle) > 0 else (low, middle)
    return low


def leg_at_rest(job, wrong, is_pressed):
    """(gap, middle of the sole, lowest corner): how much farther below the top face than asked these two are."""
    down, wide, _, _ = directions(job)
    turn = wrong.slot
    if not is_pressed:
        out, back = most_turn(job, wrong, 1), most_turn(job, wrong, -1)
        turn += (wrong.place * (out + back) + out - back) / 2
    # Head and sole are one saw setting: planes alike, turned by what the saw is off, about the wide face's normal and
    # about its level line.
    end = turned(turned((0.0, 0.0, 1.0), wide, wrong.mitre), (1.0, 0.0, 0.0), wrong.tilt)
    arrises, pivot = section(job, wrong), arris_point(job)
    heads = [add(p, scale(down, dot(subtract(pivot, p), end) / dot(down, end))) for p in arrises]
    long = job.height_mm * hypot(1, hypot(down[0], down[1]) / down[2]) + wrong.longer
    soles = [add(p, scale(down, long)) for p in heads]

    def seated(p):
        return turned(turned(p, wide, -turn, pivot), (1.0, 0.0, 0.0), wrong.fence, pivot)

    axis = subtract(seated(add(pivot, down)), seated(pivot))
    heads, soles = [seated(p) for p in heads], [seated(p) for p in soles]
    slide = (wrong.head - sum(p[2] for p in heads) / 4) / axis[2]
    at = [turned(add(p, scale(axis, slide)), (1.0, 0.0, 0.0), wrong.twisted) for p in Solid.hull(heads + soles).corners]
    feet = sorted(p[2] for p in at)[:4]
    return play_at(job, wrong, 0.0), -sum(feet) / 4 - job.height_mm, -feet[0] - job.height_mm
