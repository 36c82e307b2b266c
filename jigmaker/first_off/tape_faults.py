"""A solved trestle and one thing wrong with one leg in, where that leg's foot then is out; timber frame, mm, degrees.

The board keeps its place: what a tape finds between feet and board does not depend on how the floor lies.
"""

from math import cos, degrees, radians, sin
from typing import Literal

from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract
from jigmaker.job.practice import LEG_LENGTH_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.housing_saw.layout import guided_mm
from jigmaker.record import dataclass
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle

Fault = Literal["turned", "leaning", "deep", "start", "long"]
FAULTS: tuple[Fault, ...] = ("turned", "leaning", "deep", "start", "long")
"""What can be wrong with one leg.

turned: in its housing, the foot toward the board's end (degrees). leaning: its housing's floor too flat, the foot
outward (degrees). deep: the housing, the leg farther in (mm). start: the housing too far from the end (mm). long: the
leg, or the leg not home in its housing (mm).
"""

FootName = Literal["near R", "far L", "far R", "near L"]
SEAT_OF_FOOT: dict[FootName, tuple[int, int]] = {
    "near R": (1, 1),
    "far L": (-1, 1),
    "far R": (-1, -1),
    "near L": (1, -1),
}
"""Signs of x and y: letters go round the trestle. A and C stand in R housings, B and D in L housings."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """One fault of the leg over one foot, in mm or degrees as FAULTS says."""

    foot: FootName
    fault: Fault
    amount: float


def feet_of(trestle: Trestle, wrongs: tuple[Wrong, ...] = ()) -> dict[FootName, Vector]:
    """The outer corner, toward the board's end, of every foot at the floor, with what is wrong with the legs."""
    feet: dict[FootName, Vector] = {}
    for foot, (x, y) in SEAT_OF_FOOT.items():
        point = leg_corners(trestle)[4]
        for wrong in [wrong for wrong in wrongs if wrong.foot == foot]:
            point = _moved(trestle, point, wrong)
        feet[foot] = point[0] * x, point[1] * y, point[2]
    return feet


def _moved(trestle: Trestle, point: Vector, wrong: Wrong) -> Vector:
    """A point of the +x +y leg after the fault."""
    down, wide, _ = leg_directions(trestle)
    match wrong.fault:
        case "turned":
            # About the middle of the leg's outer face between the board's two faces: there it is held in its housing.
            near, far = leg_corners(trestle)[:2]
            middle = add(scale(add(near, far), 0.5), scale(down, trestle.job.top.thickness_mm / 2 / -down[2]))
            return _about(point, middle, wide, -wrong.amount)
        case "leaning":
            return _about(point, (0.0, trestle.job.top.width_mm / 2, 0.0), (1.0, 0.0, 0.0), wrong.amount)
        case "deep":
            return add(point, scale(wide, -wrong.amount))
        case "start":
            return add(point, (-wrong.amount, 0.0, 0.0))
        case "long":
            return add(point, scale(down, wrong.amount))


def _about(point: Vector, pivot: Vector, axis: Vector, angle_deg: float) -> Vector:
    """A point turned about a unit axis through a pivot, by the right-hand rule."""
    # Rodrigues' formula, k the axis and r the arm: r cos + (k x r) sin + k (k . r) (1 - cos).
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    arm = subtract(point, pivot)
    along = scale(axis, dot(axis, arm) * (1 - c))
    return add(pivot, add(add(scale(arm, c), scale(cross(axis, arm), s)), along))


def usual_errors(trestle: Trestle, shop: Shop) -> dict[Fault, float]:
    """How far off each is to be expected from a kit cut by this shop's machine, in the fault's own unit.

    Each point of a part may be off by the machine's accuracy: a slot's wall by twice that over its length, the fence's
    seat on the bearers by twice that over its depth. Projection and stop are set as finely as the machine cuts.
    """
    (wall_mm, lug_mm), error = guided_mm(trestle, shop), shop.machine.accuracy_mm
    return {
        "turned": degrees(2 * error / wall_mm),
        "leaning": degrees(2 * error / lug_mm),
        "deep": error,
        "start": error,
        "long": LEG_LENGTH_MM,
    }
