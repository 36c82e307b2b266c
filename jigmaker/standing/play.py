"""How a leg will go into its housing as cut, before any correction: Job and Shop in, the play in mm and in words."""

from dataclasses import dataclass

from jigmaker.job.job import Job
from jigmaker.job.shop import Shop

CUTTER_MM, BUSH_MM, OFF_CENTRE_MM = 0.05, 0.05, 0.05
"""How far cutter and bush as measured may be off their size, and the bush off the cutter's axis: what a caliper shows
and a centring cone leaves. Common practice, no source.
"""

MALLET_MM, BY_HAND_MM, LOOSE_MM = -0.1, 0.03, 0.3
"""Play from which on a leg goes in with a mallet, by hand, and slides loosely. Common practice, no source."""


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
    off_mm = 2 * shop.machine.accuracy_mm + CUTTER_MM + (0.0 if shop.hand_router.is_bearing_guided else BUSH_MM)
    turned_mm = 0.0 if shop.hand_router.is_bearing_guided else 2 * OFF_CENTRE_MM
    asked_mm = job.housing.clearance_mm
    return Play(asked_mm, asked_mm - off_mm, asked_mm + off_mm + turned_mm)


def fit_word(play_mm: float) -> str:
    """How a leg with that play goes in."""
    if play_mm < MALLET_MM:
        return "not at all"
    if play_mm < BY_HAND_MM:
        return "tight, with a mallet"
    return "with a push of the hand" if play_mm <= LOOSE_MM else "sliding, loose"
