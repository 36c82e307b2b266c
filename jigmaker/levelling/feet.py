"""The four feet by name, and what each loses along its arrises: a loss upright in, losses along the leg out; mm.

near end: the end of the board that carries the datum mark. R and L: at the right and at the left of whoever stands at
that end and faces the board along its length; a foot's R or L is the hand of the housing above it. In the timber frame
the near end is at +x. Feet are always named round the corners: near R, near L, far R, far L.
"""

from typing import Literal

from jigmaker.geometry.vectors import dot
from jigmaker.record import dataclass
from jigmaker.trestle.angles import stretch
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle

Four = tuple[float, float, float, float]
"""One figure a foot, round the corners, or one an arris in the order of ARRISES."""

Soles = Literal["angled", "square"]
"""How the feet were sawn before levelling: at the leg's compound setting, so level, or square across the leg."""


@dataclass(frozen=True, slots=True)
class FootPlace:
    """One of the four feet: its key in forms and options, its name, the signs of its x and y in the timber frame."""

    key: str
    name: str
    x: int
    y: int


FEET = (
    FootPlace("near_r", "near R", 1, 1),
    FootPlace("near_l", "near L", 1, -1),
    FootPlace("far_r", "far R", -1, -1),
    FootPlace("far_l", "far L", -1, 1),
)
"""Round the corners, so that feet 0 and 2 are one diagonal (both R), 1 and 3 the other (both L)."""

PICTURE = (
    "   far R              far L        seen from above",
    "       \\______________/",
    "        |            |",
    "        |   board    |",
    "        |____mark____|",
    "       /              \\",
    "  near L              near R       near end: the one with your mark",
)
"""Which foot is which."""

WHICH_IS_WHICH = "R and L are at your right and left when you stand at that end and face the board."

ARRISES = ("outer, end side", "outer, middle side", "inner, middle side", "inner, end side")
"""A leg's four arrises: on its face away from the board or toward it; on its edge toward the board's end or middle."""


def alternating(four: Four) -> float:
    """First less second plus third less fourth, round the corners: 0 when the four lie in one plane."""
    return four[0] - four[1] + four[2] - four[3]


def arris_losses(trestle: Trestle, loss_mm: float, soles: Soles = "angled") -> Four:
    """What a foot loses along its four arrises, in the order of ARRISES, mm; `loss_mm` is upright at its lowest point.

    An angled sole is level and loses the same everywhere. A square sole touches with one corner; the scribed plane is
    compound to it, so that one arris loses most and the opposite one least.
    """
    #      \    \          \    \        A loss upright is D times as much along the leg, D its length for 1 of height.
    #       \____\          \    \       A sole that was sawn to the angles is level, and all four arrises lose alike.
    #      ______________    \  /        A square one stands on one corner: the arris there loses most, each other one
    #      angled        ______\/______  less by how much higher it ends along the leg.
    #                     square
    longest = loss_mm * stretch(trestle.job.rake_deg, trestle.job.splay_deg)
    rises = _rises(trestle) if soles == "square" else (0.0,) * 4
    first, second, third, fourth = (longest - rise for rise in rises)
    return first, second, third, fourth


def sole_rise_mm(trestle: Trestle, soles: Soles) -> float:
    """How much less the shortest arris of a foot loses than the longest when both are measured upright, mm."""
    if soles == "angled":
        return 0.0
    return max(_rises(trestle)) / stretch(trestle.job.rake_deg, trestle.job.splay_deg)


def _rises(trestle: Trestle) -> Four:
    """How much less each arris loses than the longest when a level plane cuts a square sole, along the leg."""
    # The foot's corners as solved lie in a level plane. The farther down the leg one of them lies, the less there is
    # below it down to a sole that is square across the leg: its arris loses less by that much.
    down = leg_directions(trestle)[0]
    along = [dot(corner, down) for corner in leg_corners(trestle)[4:]]
    first, second, third, fourth = (reach - min(along) for reach in along)
    return first, second, third, fourth
