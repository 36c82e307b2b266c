"""A lot's mean, spread, odd legs and next leg, against printed tables of Student's t and lots drawn at random."""

import random
from statistics import mean, stdev

import pytest

from jigmaker.timber.lot import lot_of, student_t
from jigmaker.timber.readings import LegReading

# Student's t, both tails together 5 %, as every table of it prints it.
TABLE = {1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 7: 2.365, 10: 2.228, 23: 2.069, 30: 2.042, 120: 1.980}


@pytest.mark.parametrize("free", TABLE)
def test_student_t_is_the_tables(free: int) -> None:
    """To a part in a thousand at three degrees of freedom, and closer at more."""
    assert student_t(0.95, free) == pytest.approx(TABLE[free], rel=1.2e-3 if free == 3 else 4e-4)


def a_lot(seed: int, legs: int, spread: float = 0.1, caliper: float = 0.02) -> list[LegReading]:
    """Legs about 70, read with a caliper that strays."""
    draw = random.Random(seed)
    made = []
    for number in range(1, legs + 1):
        wide = draw.gauss(70, spread)
        made.append(LegReading(number, *(wide + draw.gauss(0, caliper) for _ in range(2)), 32.0))
    return made


@pytest.mark.parametrize("legs", [8, 24])
def test_the_next_leg_lies_where_it_is_told_19_times_of_20(legs: int) -> None:
    """Lots of fresh legs, and one more leg out of each; the normal 1.96 s would hold 90 % with eight."""
    held = narrow = 0
    lots = 2000
    for seed in range(lots):
        *known, one_more = a_lot(seed, legs + 1)
        lot = lot_of(known, 0.03)
        assert lot.next_mm and lot.spread_mm is not None
        held += lot.next_mm[0] <= one_more.width_mm <= lot.next_mm[1]
        narrow += abs(one_more.width_mm - lot.mean_mm) <= 1.96 * lot.spread_mm
    # Two thousand lots scatter by 0.5 % about 95.
    assert held / lots == pytest.approx(0.95, abs=0.011)
    assert narrow / lots < 0.945 if legs == 24 else narrow / lots < 0.915


def test_mean_spread_and_ends_by_the_standard_library() -> None:
    """Of the legs' mean widths; least and most of single readings."""
    legs = a_lot(1, 24)
    lot = lot_of(legs, 0.03)
    widths = [(leg.end_a_mm + leg.end_b_mm) / 2 for leg in legs]
    assert (lot.mean_mm, lot.spread_mm) == pytest.approx((mean(widths), stdev(widths)))
    assert lot.ends_mm == pytest.approx(stdev([leg.end_a_mm - leg.end_b_mm for leg in legs]))
    assert lot.least_mm == min(mm for leg in legs for mm in (leg.end_a_mm, leg.end_b_mm))
    assert lot_of(legs[:1], 0.03).next_mm is None


def test_odd_legs_are_named_and_none_else() -> None:
    """One too wide, one that tapers; neither spoils the spread by which they are found, and all count in the mean."""
    legs = a_lot(5, 24)
    legs[16] = LegReading(17, 71.4, 71.4, 32.0)
    legs[3] = LegReading(4, 70.6, 69.4, 32.0)
    assert lot_of(legs, 0.03).odd == (4, 17)
    assert lot_of(a_lot(5, 24), 0.03).odd == ()
    alike = [LegReading(number, 70.0, 70.0, 32.0) for number in range(1, 9)]
    assert lot_of([*alike, LegReading(9, 70.02, 70.02, 32.0)], 0.03).odd == ()
