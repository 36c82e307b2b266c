"""How a leg will go into its housing as cut, before any correction: Job and Shop in, the play in mm out."""

from jigmaker.job.job import Job
from jigmaker.job.practice import BUSH_MM, CUTTER_MM, OFF_CENTRE_MM
from jigmaker.job.shop import Shop
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class Play:
    """Housing less leg, mm: as asked, and the least and the most that machine, cutter and bush may make of it."""

    asked_mm: float
    least_mm: float
    most_mm: float


def play(job: Job, shop: Shop) -> Play:
    """Each wall of the slot may be off by the machine's accuracy. A bush off the cutter's axis moves both walls alike
    while the same side of the router faces the user; a router turned about on the way widens the cut by twice that.
    """
    # Limits, not spreads: a slot has two walls, each out by the machine's accuracy, and cutter and bush come on top.
    off_mm = 2 * shop.machine.accuracy_mm + CUTTER_MM + (0.0 if shop.router.is_bearing_guided else BUSH_MM)
    turned_mm = 0.0 if shop.router.is_bearing_guided else 2 * OFF_CENTRE_MM
    asked_mm = job.housing.clearance_mm
    return Play(asked_mm, asked_mm - off_mm, asked_mm + off_mm + turned_mm)
