"""What levelling refuses and minds: each rule at its limit, with the words that say it."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO

from jigmaker.errors import JobError, OutOfRange
from jigmaker.levelling.batch import level_batch
from jigmaker.levelling.feet import FEET
from jigmaker.levelling.levelling import error_growth, level, scribing_heights
from jigmaker.levelling.pads import level_on_pads
from jigmaker.levelling.readings import ByBattens, LevelledFirst, RockOnly, Wanted
from jigmaker.trestle.solve import solve

DEMO_TRESTLE = solve(DEMO)
STEPS = scribing_heights(9.1)
EVEN = (0.0, 0.0, 0.0, 0.0)


def codes(reading, wanted=None):
    """The codes of the cautions of a levelling."""
    return [caution.code for caution in level(DEMO_TRESTLE, STEPS, reading, wanted or Wanted()).cautions]


def test_the_block_scribes_at_whole_sheets():
    """The demo's nose on none to four layers of 9.1 mm."""
    assert scribing_heights(9.1) == pytest.approx((9.1, 18.2, 27.3, 36.4, 45.5))


@pytest.mark.parametrize(
    ("under", "wanted", "words"),
    [
        (
            (0, 9.2, 0, 0),
            Wanted(sheets=1),
            r"9\.1 mm is under the largest gap, 9\.2 mm under near L .* 11\.2 mm or more",
        ),
        (
            (0, 0, 7.2, 0),
            Wanted(sheets=1),
            r"far R would lose only 1\.9 mm, and a saw takes 2 mm at least; .* than 1 sheet$",
        ),
        (
            (0, 0, 0, 5),
            Wanted(728.1),
            r"728\.1 mm is more than .*far L reaches 730 mm .* ask for 728 mm or less; next .* 0\.2 mm on the feet",
        ),
        ((0, 0, 0, 0), Wanted(689.4), r"45\.6 mm to lose .* at 45\.5 mm; saw 0\.1 mm off every .* 689\.5 mm or more"),
        ((0, 0, 0, 0), Wanted(720, 1), r"15 mm to lose .* at 9\.1 mm; put more layers .* ask for 725\.9 mm or more"),
        ((0, 0, 0, 0), Wanted(sheets=6), r"6 sheets cannot be stacked; .* 1 to 5 sheets"),
        ((0, 14.4, 0, 0), Wanted(716, soles="square"), r"near L reaches 700\.\d+ mm below"),
    ],
)
def test_what_cannot_be_is_refused(under, wanted, words):
    """A top 735 high on these shims; the sentence has the figure, the limit and what to do."""
    with pytest.raises(JobError, match=words):
        level(DEMO_TRESTLE, STEPS, LevelledFirst(735.0, under), wanted)


@pytest.mark.parametrize(
    ("under", "wanted", "height", "sheets"),
    [
        ((0, 7.1, 0, 0), Wanted(sheets=1), 725.9, 1),
        ((0, 0, 0, 5), Wanted(728.0), 728.0, 1),
        ((0, 0, 0, 0), Wanted(689.5), 689.5, 5),
        ((0, 0, 0, 0), Wanted(720, 2), 720.0, 2),
        ((0, 0, 0, 0), Wanted(), 720.0, 2),
        ((0, 13.3, 0, 0), Wanted(), 719.5, 2),
    ],
)
def test_at_the_limit_it_is_done(under, wanted, height, sheets):
    """The same a hair inside each rule; without a wanted height the job's, or the highest rounded to half a mm."""
    told = level(DEMO_TRESTLE, STEPS, LevelledFirst(735.0, under), wanted)
    assert told.height_mm == pytest.approx(height)
    assert told.sheets == sheets
    assert min(told.losses_mm) >= 2.0 - 1e-6
    assert told.scribing_mm == pytest.approx(max(told.losses_mm) + told.packing_mm)


def test_the_arithmetic_by_hand():
    """Common practice, no source; worked by hand: a top of 735.4 on 0, 3.5, 0.8 and 1.2, down to 720 on two sheets."""
    told = level(DEMO_TRESTLE, STEPS, LevelledFirst(735.4, (0, 3.5, 0.8, 1.2)), Wanted(720.0))
    assert told.lengths_mm == pytest.approx((735.4, 731.9, 734.6, 734.2))
    assert told.shims_mm == pytest.approx((2.8, 6.3, 3.6, 4.0))
    assert told.losses_mm == pytest.approx((15.4, 11.9, 14.6, 14.2))
    # 1.044 203 is the demo's length along the leg for 1 of height, from a leg 751.826 39 long under 720.
    assert told.arrises_mm[0] == pytest.approx((15.4 * 751.82639 / 720,) * 4, abs=1e-6)
    assert told.rock_before_mm == pytest.approx(3.9)


@pytest.mark.parametrize(
    ("winding", "is_told"), [(0.0, False), (0.49, False), (-0.49, False), (0.51, True), (-0.51, True)]
)
def test_winding_is_told_over_half_a_millimetre(winding, is_told):
    """By the battens, h1 - h2 + h3 - h4, whichever way the board winds."""
    over = tuple(735 + sign * winding / 4 for sign in (1, -1, 1, -1))
    assert (347 in codes(ByBattens(over))) == is_told


def test_a_winding_board_is_levelled_in_the_mean():
    """All four feet meet their shims: the lengths come from a plane, 1 mm off each batten of a board wound by 4."""
    told = level(DEMO_TRESTLE, STEPS, ByBattens((736.0, 734.0, 736.0, 734.0)), Wanted())
    assert told.lengths_mm == pytest.approx((735.0,) * 4)
    assert (told.winding_mm, told.rock_before_mm) == (4.0, 0.0)


@pytest.mark.parametrize(
    ("reading", "code"),
    [
        (LevelledFirst(735.0, EVEN), None),
        (LevelledFirst(746.0, EVEN), 346),
        (ByBattens((739.0, 731.0, 731.0, 739.0)), 348),
        (LevelledFirst(721.0, EVEN), 349),
    ],
)
def test_cautions(reading, code):
    """A length that is not this job's, a top over a degree off level (8 in 426), a height short of the job's."""
    assert codes(reading) == ([] if code is None else [code] if code != 346 else [346] * 4)


def test_an_error_grows_from_the_board_by_spread_over_width():
    """The demo's feet spread 426.081 45 across under a board 120 wide; battens over the feet do not enlarge it."""
    growth = error_growth(DEMO_TRESTLE)
    assert growth.from_board == pytest.approx(426.08145 / 120, abs=1e-6)
    assert growth.from_battens == 1.0


def test_one_low_trestle_is_named():
    """Five millimetres and more that all others give up for one are told."""
    readings = {
        "one": LevelledFirst(735.0, EVEN),
        "two": LevelledFirst(712.0, EVEN),
        "three": LevelledFirst(734.0, EVEN),
    }
    batch = level_batch(DEMO_TRESTLE, STEPS, readings, Wanted())
    assert (batch.height_mm, batch.shortest, batch.differ_mm) == (710.0, "two", 23.0)
    assert [caution.code for caution in batch.cautions] == [354]
    assert "without it they could be 720 mm high" in batch.cautions[0].says
    assert level_batch(DEMO_TRESTLE, STEPS, {"two": readings["two"]}, Wanted()).cautions == ()


def test_a_batch_names_the_trestle_that_cannot_be():
    """The one whose leg is too short for the wanted height, and no other."""
    readings = {"one": LevelledFirst(735.0, EVEN), "two": LevelledFirst(721.0, EVEN)}
    with pytest.raises(JobError, match=r"^two: a height of 720 mm is more than") as caught:
        level_batch(DEMO_TRESTLE, STEPS, readings, Wanted(720.0))
    assert len(caught.value.faults) == 1


@pytest.mark.parametrize("foot", range(4))
def test_pads_leave_out_a_foot_of_the_longer_diagonal(foot):
    """The neighbours of the foot that hangs; the tip hangs free of the floor by what is left of the pad."""
    told = level_on_pads(DEMO_TRESTLE, 9.1, RockOnly(FEET[foot].key, 3.0))
    assert {place.name for place in told.saw} == {FEET[(foot + 1) % 4].name, FEET[(foot - 1) % 4].name}
    assert (told.loss_mm, told.clear_mm) == (3.0, pytest.approx(6.1))
    assert told.along_mm == pytest.approx(3.0 * 751.82639 / 720, abs=1e-6)
    assert told.cautions == ()


@pytest.mark.parametrize(
    ("gap", "words"),
    [(9.1, "9.1 mm is not less than a pad"), (12.0, "level the top on shims"), (0.0, "in one plane already")],
)
def test_a_gap_that_pads_cannot_cure_is_refused(gap, words):
    """As thick as a pad the foot would stand on the floor."""
    with pytest.raises(JobError, match=words):
        level_on_pads(DEMO_TRESTLE, 9.1, RockOnly("far_l", gap))


@pytest.mark.parametrize(
    ("gap", "pad", "expected"), [(1.9, 9.1, [352]), (2.0, 9.1, []), (11.5, 12, []), (11.6, 12, [353])]
)
def test_pads_tell_what_is_too_thin_for_a_saw_and_too_thick_for_the_gauge(gap, pad, expected):
    """A saw's 2 mm, common practice, no source; the taper gauge ends at 11.5 mm."""
    told = level_on_pads(DEMO_TRESTLE, pad, RockOnly("near_r", gap))
    assert [caution.code for caution in told.cautions] == expected


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: LevelledFirst(50.0, EVEN), "top's height is 50 mm, must be 100 to 3300 mm"),
        (lambda: LevelledFirst(700.0, (0, -1, 0, 0)), "shim under near L is -1 mm"),
        (lambda: ByBattens((700, 700, 700, float("nan"))), "over far L is nan mm"),
        (lambda: RockOnly("left", 3), "must be near_r, near_l, far_r or far_l"),
        (lambda: RockOnly("near_r", 101), "gap is 101 mm"),
    ],
)
def test_readings_check_themselves(make, words):
    """A record with a figure that no trestle gives cannot be made."""
    with pytest.raises(OutOfRange, match=words):
        make()


def a_batch(**tops):
    """Eleven trestles that stand about 766 high on small shims, but for the tops given by name."""
    heights = {f"trestle {i}": 765.0 + i % 3 for i in range(1, 12)} | {
        f"trestle {key[1:]}": top for key, top in tops.items()
    }
    return {name: LevelledFirst(top, (0.0, 1.0, 0.5, 1.5)) for name, top in heights.items()}


def test_one_mistyped_reading_is_named_and_no_other():
    """676 for 766: eleven trestles, one of them odd; the others are not told to lose 50 mm."""
    trestle = solve(replace(DEMO, height_mm=762.0))
    with pytest.raises(JobError) as caught:
        level_batch(trestle, STEPS, a_batch(t1=676.0), Wanted())
    assert caught.value.faults == (
        "trestle 1: its far L reaches 674.5 mm below the top, and the feet of all the trestles about 765.25 mm; "
        "measure it again, or look for a slip in its readings; level it by itself if they are right",
    )


def test_an_odd_one_that_does_no_harm_is_a_caution():
    """Twenty millimetres longer: all can be levelled, and it is told; a good batch is told nothing."""
    trestle = solve(replace(DEMO, height_mm=762.0))
    cautions = level_batch(trestle, STEPS, a_batch(t4=786.0), Wanted()).cautions
    assert [(finding.code, finding.value) for finding in cautions if finding.code == 355] == [(355, "786 mm")]
    assert 355 not in [finding.code for finding in level_batch(trestle, STEPS, a_batch(), Wanted()).cautions]
