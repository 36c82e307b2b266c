"""How much wood to leave on the feet, so that a levelled trestle has the job's height: Trestle and Shop in, Trim out.

Every error changes the way from the top face down to a foot. The shortest leg of the batch decides the height that all
can be levelled to, and its foot must still lose the thinnest slice that a saw takes. mm.
"""

from functools import lru_cache
from math import erf, exp, radians, sqrt, tau
from typing import Literal

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop
from jigmaker.levelling.level_check import SLIVER_MM
from jigmaker.parts.housing_saw.layout import guided_mm
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cotangent, sine, stretch
from jigmaker.trestle.foot import sole_out_mm
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least, is_under, limit_finding
from jigmaker.units import Unit, round_up

HELD = 0.95
"""The share of batches in which every leg is long enough for the likely trim."""


@dataclass(frozen=True, slots=True)
class ErrorTerm:
    """One error and what it can do to the way from the top face down to a foot, upright, in mm either way.

    most_mm: the limit it is held to. spread_mm: its standard deviation; a limit of which nothing else is known counts
    as evenly spread, limit / sqrt(3) (JCGM 100:2008, 4.3.7). shared_by: the legs that have the same error together.
    """

    name: str
    most_mm: float
    spread_mm: float
    shared_by: Literal["batch", "leg"]
    source: str


@dataclass(frozen=True, slots=True)
class Trim:
    """Wood to leave along the leg, mm: enough in 95 of 100 batches, and enough with every error at its worst."""

    likely_mm: float
    worst_mm: float


SAW_DEG = 0.1
STOP_MM = 0.5
LEG_TO_LEG_MM = 0.3, 0.15
HEAD_MM = 0.5, 0.2
WINDING_MM = 0.4
"""Limits that the set-up sheets ask for, with the spread after them where work in series is known to keep it; all
common practice, no source. Winding: one corner of the board out of the plane of the other three.
"""


def length_errors(trestle: Trestle, shop: Shop) -> tuple[ErrorTerm, ...]:
    """Every error that makes a leg too short, as built with the legs pressed along their near walls.

    Small turns about a seat: a housing's floor off by an angle lifts the foot by H cot b times it, slot walls by
    H cot a sin b. Winding q lifts a foot by q y / (2 W), y being the middle of its sole off the board's middle line.
    A foot sawn off its two angles is highest at one corner, and the slice must go through there too.
    """
    job, (wall_mm, lug_mm) = trestle.job, guided_mm(trestle, shop)
    along, accuracy = stretch(job.rake_deg, job.splay_deg), shop.machine.accuracy_mm
    across_foot = job.leg.width_mm / sine(trestle.angles.leg_face_deg) + job.leg.thickness_mm / sine(job.splay_deg)

    def evenly(name: str, most_mm: float, shared_by: Literal["batch", "leg"], source: str) -> ErrorTerm:
        return ErrorTerm(name, most_mm, most_mm / sqrt(3), shared_by, source)

    by_practice = "common practice, no source"
    return (
        evenly("setting of the length stop", STOP_MM / along, "batch", by_practice),
        evenly(
            "fence of the jig off square to its plate",
            job.height_mm * cotangent(job.splay_deg) * accuracy * sqrt(2) / lug_mm,
            "batch",
            "the machine's accuracy at both ends of a lug",
        ),
        evenly(
            "walls of the slot off their direction",
            job.height_mm * cotangent(job.rake_deg) * sine(job.splay_deg) * accuracy / wall_mm,
            "leg",
            "the machine's accuracy over the slot's length",
        ),
        ErrorTerm("leg to leg at the stop", LEG_TO_LEG_MM[0] / along, LEG_TO_LEG_MM[1] / along, "leg", by_practice),
        ErrorTerm("head off the top face", *HEAD_MM, "leg", by_practice),
        evenly("winding of the board", WINDING_MM * sole_out_mm(trestle) / (2 * job.top.width_mm), "leg", by_practice),
        # Both angles are off together at worst; half of the tilt stands above the middle of the sole.
        ErrorTerm("saw off its two angles", radians(SAW_DEG) * across_foot, 0.0, "batch", "the bevel plate's budget"),
    )


def least_trim(trestle: Trestle, shop: Shop, too_short_mm: float | None = None) -> Trim:
    """The wood to leave on every foot, along the leg: the thinnest slice that a saw takes and the errors of length.

    too_short: by how much the shortest leg of HELD of the batches is at most too short, upright, where a forecast of
    this batch knows it; else by the errors' spreads.
    """
    job, errors = trestle.job, length_errors(trestle, shop)
    along = stretch(job.rake_deg, job.splay_deg)
    if too_short_mm is None:
        shared, own = (
            sqrt(sum(error.spread_mm**2 for error in errors if error.shared_by == kind)) for kind in ("batch", "leg")
        )
        too_short_mm = _held_by_all(shared, own, 4 * job.trestles)
    worst_mm = max(too_short_mm, sum(error.most_mm for error in errors))
    return Trim(likely_mm=along * (SLIVER_MM + too_short_mm), worst_mm=along * (SLIVER_MM + worst_mm))


def trim_to_leave_mm(trim: Trim, unit: Unit) -> float:
    """The likely trim as one sets it, mm: rounded up to whole mm or 1/16 inch."""
    return round_up(trim.likely_mm, unit)


def trim_findings(trestle: Trestle, shop: Shop) -> list[Finding]:
    """A caution when the job leaves less than the likely trim on its feet."""
    job, trim = trestle.job, least_trim(trestle, shop)
    if not is_under(job.leg.trim_mm, trim.likely_mm):
        return []
    lower = trim.likely_mm - job.leg.trim_mm
    says = (
        "{value} is left on the feet: levelled, a trestle may end up to "
        f"{at_least(lower / stretch(job.rake_deg, job.splay_deg), job.unit)} under the job's height"
    )
    do = f"leave {{limit}}, or {at_least(trim.worst_mm, job.unit)} to be safe from every error at its limit"
    return [
        limit_finding(
            326, job.leg.trim_mm, trim_to_leave_mm(trim, job.unit), job.unit, says, do, "job leg.trim", "caution"
        )
    ]


@lru_cache(maxsize=64)
def _held_by_all(shared: float, own: float, legs: int) -> float:
    """How much too short the shortest of so many legs is in no more than 1 - HELD of the batches.

    All legs hold m when own errors x_i + shared error z >= -m: the chance is the integral over z of
    phi(z) Phi((m + shared z) / own)^legs; m is found by halving.
    """
    # The normal distribution is summed from -6 to 6 standard deviations in steps of 0.05, beyond which nothing is left
    # that counts; erf gives Phi. Forty halvings leave a millionth of a millionth of the interval.
    steps = [-6 + 0.05 * i for i in range(241)]
    weights = [0.05 * exp(-z * z / 2) / sqrt(tau) for z in steps]
    low, high = 0.0, 10 * (shared + own)
    for _ in range(40):
        m = (low + high) / 2
        sure = [(1 + erf((m + shared * z) / own / sqrt(2))) / 2 for z in steps]
        chance = sum(weight * each**legs for weight, each in zip(weights, sure, strict=True))
        low, high = (low, m) if chance >= HELD else (m, high)
    return high
