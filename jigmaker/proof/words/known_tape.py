"""The checks with a tape, worked out by the proof: lengths, the points between them, and limits; mm.

For the trestle before its feet are levelled, on its own solids. A limit is the tape's own error, and the root of the
squares of what the usual errors of each leg do to the line (JCGM 100:2008, 5.1.2), up to the next mark of a rule.
"""

from __future__ import annotations

from math import ceil, cos, degrees, dist, hypot, radians, sin

from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract
from jigmaker.job.job import Job
from jigmaker.job.practice import LEG_LENGTH_MM, LONG_TAPE_MM, TAPE_MM
from jigmaker.job.shop import Shop
from jigmaker.proof.expected import X, as_glued, directions, leg
from jigmaker.proof.words.figures import Value
from jigmaker.units import MM_PER_INCH

_UNSURE_MM = 1e-4
_FEET: dict[str, tuple[int, int]] = {"near R": (1, 1), "far L": (-1, 1), "far R": (-1, -1), "near L": (1, -1)}
_LINES: dict[str, tuple[tuple[str, str], ...]] = {
    "diagonals": (("near R", "far R"), ("far L", "near L")),
    "along": (("near R", "far L"), ("near L", "far R")),
    "across": (("near R", "near L"), ("far L", "far R")),
    "height": (("top, near end", "floor under near end"), ("top, far end", "floor under far end")),
    "through": (
        ("near R", "top corner far R"),
        ("far R", "top corner near R"),
        ("far L", "top corner near L"),
        ("near L", "top corner far L"),
    ),
}
"""What the tape is held to, by the check's key."""


def tape_facts(job: Job, slot: float, lug: float, shop: Shop) -> dict[str, Value]:
    """Length, limit and the points of each check, by name. slot: how long a wall is guided; lug: of the fence; mm."""
    glued = as_glued(job)
    # The outer corner, toward the board's end, of the +x +y foot on the floor.
    on_floor = [p for p in leg(glued).corners if p[2] < -glued.height_mm + 1e-6]
    outer = max(p[1] for p in on_floor)
    foot = max((p for p in on_floor if p[1] > outer - 1e-6), key=lambda p: p[0])
    # Where the foot lies after each usual error of its leg: turned in the housing, leaning, too deep, the housing off
    # its start, the leg off its length. Each point of a part may be off by the machine's accuracy.
    d, error, top = directions(glued), shop.machine.accuracy_mm, job.top
    level = [p for p in leg(glued).corners if abs(p[2]) < 1e-6]
    wide = max(dot(p, d.wide) for p in level)
    heads = [p for p in level if dot(p, d.wide) > wide - 1e-6]
    # The leg turns in its housing about the middle of its outer face, half the board's thickness down the leg.
    middle = scale(add(heads[0], heads[1]), 0.5)
    middle = add(middle, scale(d.down, top.thickness_mm / 2 / -d.down[2]))
    # Two points of the slot's wall, each off by the accuracy to its own side, turn the wall by 2 error / length.
    wrong = (
        _about(foot, middle, d.wide, -degrees(2 * error / slot)),
        _about(foot, (0.0, top.width_mm / 2, 0.0), X, degrees(2 * error / lug)),
        add(foot, scale(d.wide, -error)),
        add(foot, (-error, 0.0, 0.0)),
        add(foot, scale(d.down, LEG_LENGTH_MM)),
    )
    right = dict.fromkeys(_FEET, foot)
    found: dict[str, Value] = {}
    for key, pairs in _LINES.items():
        a, b = pairs[0]
        places = _points(glued, right)
        length = dist(places[a], places[b])
        effects = []
        for feet in (right | {name: at} for name in _FEET for at in wrong):
            places = _points(glued, feet)
            effects.append(dist(places[a], places[b]) - length)
        # To the next mark of a rule; to two of them where the parts as cut cannot decide.
        off = (TAPE_MM if length <= 1000 else LONG_TAPE_MM) + hypot(*effects)
        step = 0.5 if job.unit == "mm" else MM_PER_INCH / 32
        found[f"tape.{key}"] = length
        found[f"tape.{key}.limit"] = tuple(ceil((off + way) / step) * step for way in (-_UNSURE_MM, _UNSURE_MM))
        found[f"tape.{key}.between"] = "; ".join(f"{one} to {other}" for one, other in pairs)
    return found


def _points(job: Job, feet: dict[str, Vector]) -> dict[str, Vector]:
    """Every point by name; feet are given as if each were the +x +y one."""
    half = (job.top.length_mm / 2, job.top.width_mm / 2)
    at = {name: (feet[name][0] * x, feet[name][1] * y, feet[name][2]) for name, (x, y) in _FEET.items()}
    at |= {f"top corner {name}": (x * half[0], y * half[1], 0.0) for name, (x, y) in _FEET.items()}
    for end, sign in (("near", 1), ("far", -1)):
        floor = sum(feet[name][2] for name, (x, _) in _FEET.items() if x == sign) / 2
        at[f"top, {end} end"] = (sign * half[0], 0.0, 0.0)
        at[f"floor under {end} end"] = (sign * half[0], 0.0, floor)
    return at


def _about(point: Vector, pivot: Vector, axis: Vector, angle_deg: float) -> Vector:
    """A point turned about a unit axis through a pivot, by the right-hand rule."""
    # Rodrigues: r' = r cos a + (k x r) sin a + k (k . r)(1 - cos a), k the unit axis, r the arm from the pivot.
    c, s, arm = cos(radians(angle_deg)), sin(radians(angle_deg)), subtract(point, pivot)
    turned = add(add(scale(arm, c), scale(cross(axis, arm), s)), scale(axis, dot(axis, arm) * (1 - c)))
    return add(pivot, turned)
