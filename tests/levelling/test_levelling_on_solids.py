"""Levelling against solids: legs of random lengths, shims and tilts; scribed as told the trestle stands as told."""

import random
from dataclasses import replace

import pytest
from levelled_on_solids import (
    SIGNS,
    arris_losses,
    board_heights,
    floor_under,
    leg_with_sole,
    out_of_plane,
    scribed,
    tilt_mm,
    tilted_floor,
    top_over,
    touching,
)
from sample_jobs import DEMO, JOB_A, JOB_B
from trestle_on_solids import random_valid_jobs

from jigmaker.levelling.batch import level_batch
from jigmaker.levelling.feet import FEET
from jigmaker.levelling.levelling import level, scribing_heights
from jigmaker.levelling.pads import level_on_pads
from jigmaker.levelling.readings import ByBattens, LevelledFirst, RockOnly, Wanted
from jigmaker.trestle.angles import stretch
from jigmaker.trestle.solve import solve

STEPS = {"angled": scribing_heights(9.1), "square": scribing_heights(18.0)}
LEFT_MM, BELOW_MM = 25.0, {"angled": 0.0, "square": 40.0}
NEAR_MM, PLANE_MM, HEIGHT_MM = 1e-6, 0.002, 0.15
PLUMB = replace(DEMO, rake_deg=90.0, splay_deg=90.0)
JOBS = [DEMO, JOB_A, JOB_B, PLUMB, *random_valid_jobs(seed=8, count=16)]


def uneven(job, seed, soles):
    """Reaches up to 6 mm to either side of LEFT_MM beyond the job's height, and the legs that have them."""
    draw = random.Random(seed)
    reaches = [job.height_mm + LEFT_MM + draw.uniform(-6, 6) for _ in range(4)]
    return draw, reaches, [leg_with_sole(job, reach, soles) for reach in reaches]


def levelled_first(draw, reaches):
    """Shims until the top is level; nothing is under the longest leg, or a board under all four."""
    top = max(reaches) + draw.choice((0.0, draw.uniform(0, 10)))
    return LevelledFirst(top, tuple(top - reach for reach in reaches))


def by_battens(draw, legs):
    """The trestle tilted up to a degree; battens read straight over the corner of each foot that touches."""
    floor = tilted_floor(draw.uniform(0, 1), draw.uniform(0, 360), 0.0)
    corners = touching(legs, floor)
    lowest = min(floor.height(corner) for corner in corners)
    under = tuple(floor.height(corner) - lowest for corner in corners)
    return ByBattens(tuple(top_over(corner, floor) - lowest for corner in corners), under)


def spread(legs):
    """The lesser of the feet's spreads along and across, over the points that touch."""
    points = touching(legs, tilted_floor(0, 0, 0.0))
    return min(abs(points[0][0] - points[3][0]), abs(points[0][1] - points[1][1]))


def stands_as_told(job, legs, told, height_within, shims_within):
    """Put on the shims, scribed at the block's height, sawn, and stood on the floor: every figure measured."""
    floor = floor_under(legs, told.shims_mm)
    assert [floor.height(p) for p in touching(legs, floor)] == pytest.approx(told.shims_mm, abs=shims_within)
    assert tilt_mm(floor, job) < 2 * shims_within * max(job.top.length_mm, job.top.width_mm) / spread(legs)
    sawn = [scribed(leg, signs, floor, told.scribing_mm) for leg, signs in zip(legs, SIGNS, strict=True)]
    soles = touching(sawn, floor)
    assert out_of_plane(soles) < PLANE_MM
    stood = floor_under(sawn, (0.0,) * 4)
    for height in board_heights(job, stood):
        assert height == pytest.approx(told.height_mm, abs=height_within)
    return sawn


@pytest.mark.parametrize("soles", ["angled", "square"])
@pytest.mark.parametrize("seed", range(len(JOBS)))
def test_levelled_first_and_scribed_it_stands_as_told(seed, soles):
    """Feet in one plane, top level, height as told, and every arris loses what is told to the last digits."""
    job = JOBS[seed]
    draw, reaches, legs = uneven(job, seed, soles)
    told = level(
        solve(job), STEPS[soles], levelled_first(draw, reaches), Wanted(job.height_mm - BELOW_MM[soles], soles=soles)
    )
    assert told.height_mm == job.height_mm - BELOW_MM[soles]
    sawn = stands_as_told(job, legs, told, PLANE_MM, PLANE_MM)
    for before, after, losses in zip(legs, sawn, told.arrises_mm, strict=True):
        assert arris_losses(job, before, after) == pytest.approx(losses, abs=NEAR_MM)
        assert min(losses) >= 2.0  # a saw's least; common practice, no source


@pytest.mark.parametrize("soles", ["angled", "square"])
@pytest.mark.parametrize("seed", range(len(JOBS)))
def test_read_by_battens_and_scribed_it_stands_as_told(seed, soles):
    """The same from a trestle that is up to a degree off level and stands on three feet and a shim."""
    job = JOBS[seed]
    draw, _, legs = uneven(job, 100 + seed, soles)
    told = level(solve(job), STEPS[soles], by_battens(draw, legs), Wanted(job.height_mm - BELOW_MM[soles], soles=soles))
    stands_as_told(job, legs, told, HEIGHT_MM, 0.01)


@pytest.mark.parametrize("seed", range(6))
def test_the_rock_told_is_the_gap_under_the_fourth_foot(seed):
    """Three feet on a flat floor, two of them the longer diagonal; the fourth hangs by it; after sawing none does."""
    job = JOBS[seed]
    draw, reaches, legs = uneven(job, 200 + seed, "angled")
    told = level(solve(job), STEPS["angled"], levelled_first(draw, reaches), Wanted())
    hanging, floor = stood_on_three(reaches, legs)
    assert hanging == pytest.approx(told.rock_before_mm, abs=0.1)
    assert told.rock_after_mm < NEAR_MM
    assert min(floor.height(p) for p in touching(legs, floor)) > -0.1


def stood_on_three(reaches, legs, pad=0.0):
    """The gap under the fourth foot, and the floor; the feet of the longer diagonal and one other carry."""
    start = 0 if reaches[0] + reaches[2] > reaches[1] + reaches[3] else 1
    order = [(start + k) % 4 for k in range(4)]
    floor = floor_under([legs[i] for i in order], (pad,) * 4, [SIGNS[i] for i in order])
    return floor.height(touching(legs, floor)[order[3]]), floor


@pytest.mark.parametrize("seed", range(6))
def test_on_pads_the_foot_that_is_sawn_flush_cures_the_rock(seed):
    """Pads under three feet; the fourth, of the longer diagonal, loses what is told, and then none rocks."""
    job, pad = JOBS[seed], 18.0
    _, reaches, legs = uneven(job, 400 + seed, "angled")
    gap, _ = stood_on_three(reaches, legs)
    start = 0 if reaches[0] + reaches[2] > reaches[1] + reaches[3] else 1
    told = level_on_pads(solve(job), pad, RockOnly(FEET[(start + 3) % 4].key, gap))
    assert {foot.key for foot in told.saw} == {FEET[start].key, FEET[start + 2].key}
    order = [(start + k) % 4 for k in (1, 2, 3, 0)]
    floor = floor_under([legs[i] for i in order], (pad,) * 4, [SIGNS[i] for i in order])
    assert floor.height(touching(legs, floor)[start]) == pytest.approx(told.clear_mm, abs=0.1)
    sawn = list(legs)
    sawn[start] = scribed(legs[start], SIGNS[start], floor, pad)
    assert out_of_plane(touching(sawn, floor)) < PLANE_MM
    # The trestle leans a little on its pads, so a corner of the sole is sawn deeper than its tip.
    assert max(arris_losses(job, legs[start], sawn[start])) == pytest.approx(told.along_mm, abs=1.0)


def test_a_batch_comes_to_one_height():
    """Trestles of different legs, each read in its own way: all stand at the one height that is told."""
    job = DEMO
    readings, legs = {}, {}
    for seed in range(4):
        draw, reaches, legs[f"trestle {seed + 1}"] = uneven(job, 300 + seed, "angled")
        way = levelled_first(draw, reaches) if seed % 2 else by_battens(draw, legs[f"trestle {seed + 1}"])
        readings[f"trestle {seed + 1}"] = way
    batch = level_batch(solve(job), STEPS["angled"], readings, Wanted())
    assert batch.height_mm == job.height_mm  # the legs have 25 mm to lose, less 6
    for name, told in zip(batch.names, batch.levellings, strict=True):
        stands_as_told(job, legs[name], told, HEIGHT_MM, 0.01)


def test_without_wood_to_lose_the_batch_comes_as_high_as_its_shortest_leg_allows():
    """The shortest leg of all less a saw's 2 mm, rounded down to half a millimetre."""
    readings = {}
    for seed, name in enumerate(("one", "two", "three")):
        reaches = [720 + random.Random(seed).uniform(-6, 6) for _ in range(4)]
        readings[name] = LevelledFirst(max(reaches), tuple(max(reaches) - reach for reach in reaches))
    batch = level_batch(solve(DEMO), STEPS["angled"], readings, Wanted())
    shortest = min(length for reading in readings.values() for length in reading.lengths_mm)
    assert 0 <= shortest - 2 - batch.height_mm < 0.5
    assert batch.height_mm % 0.5 == 0
    assert {told.height_mm for told in batch.levellings} == {batch.height_mm}
    assert batch.differ_mm == pytest.approx(max(batch.highest_mm) - min(batch.highest_mm))
    assert [caution.code for caution in batch.levellings[0].cautions] == [349]


def test_a_leg_longer_by_its_trim_loses_its_trim():
    """25 mm left along the leg, as the job's trim says, is what comes off along all four arrises."""
    job = replace(DEMO, leg=replace(DEMO.leg, trim_mm=25.0))
    reach = job.height_mm + 25 / stretch(job.rake_deg, job.splay_deg)
    told = level(solve(job), STEPS["angled"], LevelledFirst(reach, (0.0,) * 4), Wanted())
    assert told.height_mm == job.height_mm
    for losses in told.arrises_mm:
        assert losses == pytest.approx((25.0,) * 4, abs=NEAR_MM)
    assert (told.sheets, told.scribing_mm) == (3, pytest.approx(27.3))
    assert told.shims_mm == pytest.approx((27.3 - 25 / stretch(78, 78),) * 4)
