"""A lot of legs as measured: readings in; mean, spread, odd ones, and the next leg's likely width out; mm."""

from collections.abc import Sequence
from math import pi, sqrt, tan
from statistics import NormalDist, fmean, median, stdev

from jigmaker.record import dataclass
from jigmaker.timber.readings import LegReading

ODD, LEAST_ODD_MM = 3.5, 0.2
"""A leg is odd that lies so many spreads off the median, and this at least; the spread is taken from the median of all
distances (common practice, no source)."""

HELD = 0.95
"""The share of next legs that `next_mm` holds."""


@dataclass(frozen=True, slots=True)
class Lot:
    """Legs of one delivery by their mean widths, mm. spread: one standard deviation, the caliper's share in it; None
    for one leg. next: between which widths the next leg out of this lot lies, 95 of 100. ends: the spread of end A less
    end B. odd: numbers of the legs that stand off the others, the farthest first.
    """

    mean_mm: float
    spread_mm: float | None
    least_mm: float
    most_mm: float
    next_mm: tuple[float, float] | None
    ends_mm: float | None
    odd: tuple[int, ...]


def lot_of(legs: Sequence[LegReading], caliper_mm: float) -> Lot:
    """What the readings say of the lot; nothing is dropped, odd legs count like all others.

    Few readings know their own spread badly: mean +- t s sqrt(1 + 1/n) holds the next one, mean +- 1.96 s would not.
    """
    widths = [leg.width_mm for leg in legs]
    mean, n = fmean(widths), len(legs)
    spread = stdev(widths) if n > 1 else None
    reach = student_t(HELD, n - 1) * spread * sqrt(1 + 1 / n) if spread is not None else None
    # Odd are legs far off the middle one in mean width or in how their ends differ, in so many of the others' spreads.
    # 1.4826 times the median distance estimates a standard deviation that odd ones do not spoil; it is never taken for
    # less than what the caliper strays by itself.
    off: dict[int, float] = {}
    for figures in (widths, [leg.end_a_mm - leg.end_b_mm for leg in legs]):
        middle = median(figures)
        usual = max(1.4826 * median(abs(each - middle) for each in figures), caliper_mm / 1.96)
        for leg, each in zip(legs, figures, strict=True):
            spreads_off = abs(each - middle) / usual if abs(each - middle) > LEAST_ODD_MM else 0.0
            off[leg.number] = max(off.get(leg.number, 0.0), spreads_off)
    return Lot(
        mean,
        spread,
        min(min(leg.end_a_mm, leg.end_b_mm) for leg in legs),
        max(max(leg.end_a_mm, leg.end_b_mm) for leg in legs),
        (mean - reach, mean + reach) if reach is not None else None,
        stdev(leg.end_a_mm - leg.end_b_mm for leg in legs) if n > 1 else None,
        tuple(sorted((number for number in off if off[number] > ODD), key=lambda number: -off[number])),
    )


def student_t(held: float, free: int) -> float:
    """How many spreads hold that share of Student's t with so many degrees of freedom, both tails together.

    One and two degrees in closed form; from three on the normal quantile's expansion in 1/free (Abramowitz and Stegun,
    26.7.5), true to 1 % at three and to 0.01 % from ten on.
    """
    z = NormalDist().inv_cdf((1 + held) / 2)
    if free == 1:
        return tan(pi * held / 2)
    if free == 2:
        return held * sqrt(2) / sqrt(1 - held**2)
    terms = (
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92160,
    )
    return z + float(sum(term / free**power for power, term in enumerate(terms, 1)))
