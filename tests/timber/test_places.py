"""Settings, strokes, hands and trestles of measured legs against trying everything out, one stroke at a time."""

import random
from dataclasses import replace
from itertools import combinations
from math import inf

import pytest
from sample_jobs import DEMO

from jigmaker.job.job import HousingFit
from jigmaker.timber.boards import board_effect
from jigmaker.timber.places import THICKEST_TAPE_MM, place_legs
from jigmaker.timber.readings import BoardReading, LegReading, TimberReadings
from jigmaker.trestle.solve import solve

LEAST, MOST = 30, 300  # micrometres of play: under the first a leg jams, over the second it rattles (common practice)


def lot(seed: int, trestles: int, spread: float = 0.12, **tools: float) -> TimberReadings:
    """Legs about 70 with ends that differ a little."""
    draw, legs = random.Random(seed), []
    for number in range(1, 4 * trestles + 1):
        wide = draw.gauss(70.0, spread)
        ends = (round(wide + draw.gauss(0, 0.05), 2) for _ in range(2))
        legs.append(LegReading(number, *ends, round(32 + draw.gauss(0, 0.2), 2)))
    return TimberReadings(legs=tuple(legs), **tools)


def strokes_of(readings: TimberReadings, width_mm: float, housing: int) -> float:
    """One stroke after another until the leg reads as it must; inf when it never does."""
    caliper, stroke = round(1000 * readings.caliper_mm), round(1000 * readings.stroke_mm)
    width, count = round(1000 * width_mm), 0
    while housing - width < LEAST + caliper:
        width, count = width - stroke, count + 1
    return count if housing - width <= MOST - caliper else inf


def fewest_by_trial(readings: TimberReadings, number: int) -> float:
    """Every set of so many settings, every way to share the legs out to both hands."""
    tape, legs = round(1000 * readings.tape_mm), readings.legs
    housings = [70_150 - k * tape for k in range(2 * int(THICKEST_TAPE_MM * 1000 / tape) + 1)]
    best = inf
    for chosen in combinations(housings, number):
        costs = [
            [min(strokes_of(readings, end, housing) for housing in chosen) for end in (leg.end_a_mm, leg.end_b_mm)]
            for leg in legs
        ]
        for in_r in combinations(range(len(legs)), len(legs) // 2):
            best = min(best, sum(costs[i][0 if i in in_r else 1] for i in range(len(legs))))
    return best


@pytest.mark.parametrize("seed", range(12))
def test_no_trial_finds_fewer_strokes_or_settings(seed: int) -> None:
    """One and two trestles, tight and wide lots: as few strokes for each number of settings as trying all gives."""
    trestles = 1 + seed % 2
    readings = lot(seed, trestles, (0.08, 0.12, 0.2)[seed % 3], stroke_mm=(0.1, 0.05)[seed % 2])
    places = place_legs(solve(replace(DEMO, trestles=trestles)), readings)
    if places.aside:
        assert fewest_by_trial(readings, len(places.choices)) == inf
        return
    assert [strokes for _, strokes in places.choices] == [fewest_by_trial(readings, n) for n, _ in places.choices]
    assert fewest_by_trial(readings, len(places.choices) + 1) == places.choices[-1][1]
    assert sum(leg.strokes for leg in places.legs) == places.choices[-1][1]


@pytest.mark.parametrize("settings", [0, 1, 2])
def test_every_leg_fits_where_it_is_put(settings: int) -> None:
    """Half of them to each hand, end A up in R and B up in L; with its strokes and its tape the play is in the window.
    Each foot of each trestle has one leg.
    """
    readings = lot(21, 6)
    places = place_legs(solve(DEMO), readings, settings)
    legs = {leg.number: leg for leg in readings.legs}
    for leg in places.legs:
        head = legs[leg.number].end_a_mm if leg.hand == "R" else legs[leg.number].end_b_mm
        play = 70.15 - leg.layers * readings.tape_mm - (head - leg.strokes * readings.stroke_mm)
        assert play == pytest.approx(leg.play_mm, abs=0.0006)
        assert 0.06 - 1e-9 <= leg.play_mm <= 0.27 + 1e-9
        assert (leg.hand, leg.end) in (("R", "A"), ("L", "B"))
        assert leg.layers in places.layers
    assert not settings or len(places.layers) <= settings
    seats = [(leg.trestle, leg.foot, leg.hand) for leg in places.legs]
    assert sorted(seats) == sorted((t, foot, hand) for t in range(1, 7) for foot in ("near", "far") for hand in "RL")


def test_the_four_of_a_trestle_are_about_as_thick() -> None:
    """Alike legs in width, so that thickness alone decides: sorted and cut into fours no other way has a smaller sum of
    differences, for a value with j legs below it parts a four unless 4 divides j.
    """
    draw = random.Random(4)
    legs = tuple(LegReading(n, 69.98, 69.98, round(draw.uniform(31, 33), 2)) for n in range(1, 25))
    places = place_legs(solve(DEMO), TimberReadings(legs=legs))
    thick = {leg.number: leg.thickness_mm for leg in legs}
    fours = [[thick[leg.number] for leg in places.legs if leg.trestle == t] for t in range(1, 7)]
    best = sorted(thick.values())
    fewest = sum(best[i + 3] - best[i] for i in range(0, 24, 4))
    assert sum(max(four) - min(four) for four in fours) == pytest.approx(fewest)


def test_a_leg_that_fits_nowhere_is_laid_aside() -> None:
    """Half a millimetre narrower than all the tape makes up for; planing only narrows it."""
    readings = lot(5, 6)
    thin = replace(readings, legs=(LegReading(1, 68.4, 68.4, 32.0), *readings.legs[1:]))
    places = place_legs(solve(DEMO), thin)
    assert places.aside == (1,)
    assert {leg.number for leg in places.legs} == set(range(2, 25))


def test_the_width_to_enter_needs_no_more_settings_and_no_more_strokes() -> None:
    """A lot half a millimetre over the job's width: all legs want the plane, until the jig is made for them."""
    readings = lot(9, 6, 0.05)
    wide = tuple(replace(leg, end_a_mm=leg.end_a_mm + 0.5, end_b_mm=leg.end_b_mm + 0.5) for leg in readings.legs)
    trestle = solve(DEMO)
    before = place_legs(trestle, replace(readings, legs=wide))
    assert before.choices[-1][1] >= 24
    job = replace(DEMO, leg=replace(DEMO.leg, width_mm=before.enter_mm))
    after = place_legs(solve(job), replace(readings, legs=wide))
    assert (len(after.choices), after.choices[-1][1]) == (before.enter_settings, before.enter_strokes)
    assert (before.enter_settings, before.enter_strokes) == (1, 0)
    assert before.enter_mm == pytest.approx(70.5, abs=0.11)


def test_a_dry_joint_has_its_own_window() -> None:
    """0.3 to 1.0 mm of play, less what the caliper strays at both ends."""
    job = replace(DEMO, housing=HousingFit(0.65, joint="dry"))
    places = place_legs(solve(job), lot(3, 6))
    assert places.choices == ((1, 0),)
    assert all(0.33 - 1e-9 <= leg.play_mm <= 0.97 + 1e-9 for leg in places.legs)


def test_boards_move_the_depths_by_what_solids_show() -> None:
    """Board cut, housing swept and measured on solids, demo: an edge out by 0.1 at the bottom takes 0.1 off the depth
    in the top face and lets the leg stand 0.098 proud; one that falls back takes it off the bottom face; a board 1 mm
    thicker has 0.213 less there; winding of 0.1 rocks by 0.328.
    """
    effect = board_effect(solve(DEMO), BoardReading(1, 45, 120, (0.1, -0.1), 0.1))
    assert effect.depth_top_mm == pytest.approx((-0.1, 0.0), abs=1e-6)
    assert effect.depth_bottom_mm == pytest.approx((0.0, -0.1), abs=1e-6)
    assert effect.proud_mm == pytest.approx((0.0978, 0.0), abs=1e-4)
    assert effect.rock_mm == pytest.approx(0.328, abs=0.001) and effect.rocks
    assert not effect.is_uneven
    thick = board_effect(solve(DEMO), BoardReading(2, 46, 120, (0.0, 0.0), 0.0))
    assert thick.depth_bottom_mm == pytest.approx((-0.2126, -0.2126), abs=1e-4) and thick.is_uneven
    assert not thick.rocks
