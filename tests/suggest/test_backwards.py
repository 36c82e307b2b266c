"""Backwards: what solids or the solver make of a trestle gives angles and height back; published slopes."""

from dataclasses import replace

import pytest
from sample_jobs import a_job
from trestle_on_solids import measured_foot, measured_leg, random_valid_jobs

from jigmaker.errors import LengthError, OutOfRange, UsageError
from jigmaker.suggest.backwards import (
    height_from_piece,
    lean_from_rise_and_run,
    rake_from_spread,
    slope_from_text,
    splay_from_spread,
)
from jigmaker.trestle.solve import solve

UNEQUAL = [job for job in random_valid_jobs(seed=51, count=60) if abs(job.rake_deg - job.splay_deg) > 0.5]


def backwards(job, spread_along, spread_across):
    """(rake, splay) from the two spreads and the rest of the job."""
    reveal = job.housing.reveal_mm
    splay = splay_from_spread(spread_across, job.height_mm, job.top.width_mm, reveal, "mm")
    between = job.top.length_mm - 2 * job.inset_mm
    return rake_from_spread(spread_along, job.height_mm, between, reveal, splay, "mm"), splay


def test_there_are_unequal_jobs() -> None:
    """With and without reveal, and some that stand plumb one way."""
    assert len(UNEQUAL) > 30
    assert {job.housing.reveal_mm > 0 for job in UNEQUAL} == {True, False}
    assert any(90 in (job.rake_deg, job.splay_deg) for job in UNEQUAL)


@pytest.mark.parametrize("job", UNEQUAL, ids=lambda job: f"{job.rake_deg:.1f}/{job.splay_deg:.1f}")
def test_a_foot_spread_gives_the_angles_back(job) -> None:
    """Feet measured on solids within 1e-6 degrees; feet of the solver, forward and back, within 1e-9."""
    measured = measured_foot(job)
    spreads = (measured["spread_along_mm"], measured["spread_across_mm"])
    assert backwards(job, *spreads) == pytest.approx((job.rake_deg, job.splay_deg), abs=1e-6)
    foot = solve(job).foot
    rake, splay = backwards(job, foot.spread_along_mm, foot.spread_across_mm)
    again = solve(replace(job, rake_deg=rake, splay_deg=splay)).foot
    assert again.spread_along_mm == pytest.approx(foot.spread_along_mm, abs=1e-9)
    assert again.spread_across_mm == pytest.approx(foot.spread_across_mm, abs=1e-9)


@pytest.mark.parametrize("job", UNEQUAL[:20], ids=lambda job: f"{job.rake_deg:.1f}/{job.splay_deg:.1f}")
def test_a_legs_piece_gives_the_height_back(job) -> None:
    """The piece measured on the leg as cut from solids, horn and trim on it; and forward again."""
    height = height_from_piece(measured_leg(job)["blank_mm"], job.leg, job.rake_deg, job.splay_deg, "mm")
    assert height == pytest.approx(job.height_mm, abs=1e-6)
    piece = solve(job).leg.blank_mm
    height = height_from_piece(piece, job.leg, job.rake_deg, job.splay_deg, "mm")
    assert solve(replace(job, height_mm=height)).leg.blank_mm == pytest.approx(piece, abs=1e-9)


SLOPES = [
    # (as written, degrees off plumb, source)
    ("1 : 2 3/4", 19.98, "a published sawhorse plan"),
    ("4 in 11", 19.98, "the same as a framing square reads it"),
    ("1:4", 14.04, "the same plan, the other way"),
    ("3 in 12", 14.036, "Fine Homebuilding 1997, a sawhorse"),
    ("7 in 24", 16.26, "a text on the framing square"),
    ("70 mm : 280 mm", 14.036, "1 in 4"),
    ("0:1", 0, "plumb"),
]


@pytest.mark.parametrize(("words", "off_plumb", "source"), SLOPES)
def test_published_slopes(words: str, off_plumb: float, source: str) -> None:
    """How far out for how far up, as plans give it, to the decimals they print."""
    assert 90 - slope_from_text(words).angle_deg == pytest.approx(off_plumb, abs=0.006)


BAD_SLOPES = [
    ("11 in 4", OutOfRange, r"is 20.0 degrees off the level.*swapped: 4 in 11 is 70.02 degrees"),
    ("5:6", OutOfRange, "is 50.2 degrees off the level.*measure again"),
    ("4:0", OutOfRange, "rises 0 and runs 4 stands nowhere"),
    ("70 mm in 280", UsageError, '"70 mm in 280" is no slope; write how far out'),
    ("14", UsageError, "is no slope"),
    ("1:2:3", UsageError, "is no slope"),
    ("nan:4", UsageError, "is no slope"),
    ("11/4 in 12", LengthError, 'write "2 3/4 in" or "1 1/4 in"'),
    ("-1:4", LengthError, "-1 is negative"),
]


@pytest.mark.parametrize(("words", "error", "match"), BAD_SLOPES)
def test_what_is_no_slope_is_refused(words: str, error: type, match: str) -> None:
    """Rise and run swapped above all: no leg leans more than 30 degrees off plumb."""
    with pytest.raises(error, match=match):
        slope_from_text(words)


def test_the_flattest_leg_is_still_taken() -> None:
    """60 degrees, out 1 in up the root of 3, with the crumb that rounding leaves."""
    assert lean_from_rise_and_run(3**0.5, 1) == 60
    with pytest.raises(OutOfRange, match=r"59\.0 degrees"):
        lean_from_rise_and_run(1.6643, 1)


SPREADS = [
    (60, 900, "60 mm across the board would make the legs lean inward; .* it can be 120 mm to 951.38 mm"),
    (1000, 900, "1000 mm across the board .* flatter than 60"),
    (400, 600, "600 mm along the board would make the legs lean inward; .* 660 mm to 1491.38 mm"),
]


@pytest.mark.parametrize(("across", "along", "match"), SPREADS)
def test_a_spread_that_no_leg_has_is_refused_with_what_can_be(across: float, along: float, match: str) -> None:
    """Limits by hand for 720 mm high: 720 x cot 60 = 415.69 a side more than a board 120 wide, 660 between insets."""
    job = a_job(720, (78, 78), 120, (900, 120, 45), (70, 32))
    with pytest.raises(OutOfRange, match=match):
        backwards(job, along, across)


def test_a_piece_that_its_own_ends_use_up_is_refused() -> None:
    """The slanted ends of the check job's leg take 21.5 mm."""
    job = a_job(720, (78, 78), 120, (900, 120, 45), (70, 32))
    with pytest.raises(OutOfRange, match=r"a piece of 20 mm has no height left: its slanted ends take 21\.5 mm"):
        height_from_piece(20, job.leg, 78, 78, "mm")
