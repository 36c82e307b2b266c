"""Which height: bands and sums, the saw's toe, feet that trip, the door, slips; both sides of limits."""

import cmath
from dataclasses import replace
from itertools import permutations
from math import radians

import pytest
from sample_jobs import DEMO, a_job
from trestle_on_solids import measured_foot

from jigmaker.errors import OutOfRange, UsageError
from jigmaker.suggest.height import (
    DOOR_HEIGHT_MM,
    HeightWish,
    choose_height,
    door_finding,
    height_findings,
    saw_finding,
    saw_reach_mm,
    trip_findings,
)
from jigmaker.suggest.uses import BODY_MEASURES, USES, measure_named, use_named
from jigmaker.trestle.solve import solve

# Heights in inches that plans, school books and makers' notes give; common practice, no source.
KNOWN = [
    ("sawing", (17.5, 18, 19.25, 20)),
    ("assembly", (24,)),
    ("general", (24, 30, 32, 34)),
    ("table", (28, 29, 30)),
    ("standing", (36, 42)),
    ("planting", (30, 34, 39)),
    ("planing", (28.75, 29.5)),  # 730 to 750 mm
]


@pytest.mark.parametrize(("key", "inches"), KNOWN)
def test_known_heights_lie_in_their_bands(key: str, inches: tuple[float, ...]) -> None:
    """To half an inch."""
    use = use_named(key)
    assert all(use.low_mm - 12.7 / 2 <= size * 25.4 <= use.high_mm + 12.7 / 2 for size in inches)


def test_every_use_is_known_above() -> None:
    """None is without figures."""
    assert {key for key, _ in KNOWN} == {use.key for use in USES}


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize("use", USES, ids=lambda use: use.key)
def test_the_height_to_start_from_lies_in_its_band(use, unit) -> None:
    """Round in either unit; the trestle is lower by what is laid on it; no caution comes of it."""
    height = choose_height(HeightWish(use), unit)
    assert use.low_mm <= height.working_mm <= use.high_mm
    assert height.working_mm - height.finished_mm == pytest.approx(use.laid_on_mm(unit), abs=1e-9)
    assert (height.finished_mm / (1 if unit == "mm" else 25.4 / 16)) % 1 == pytest.approx(0, abs=1e-9)
    assert "common practice, no source" in height.reason
    assert height_findings(height, use, unit) == []


SUMS = [
    # (what is told, height of the trestle, of the work)
    (HeightWish(use_named("table"), laid_on_mm=40), 700, 740),
    (HeightWish(use_named("table"), height_mm=700), 700, 718),
    (HeightWish(use_named("sawing"), laid_on_mm=0), 480, 480),
    (HeightWish(body=measure_named("kneecap"), body_mm=487.5), 487.5, 487.5),
    (HeightWish(use_named("standing"), measure_named("elbow"), 1050, laid_on_mm=18), 1032, 1050),
    (HeightWish(height_mm=655.3), 655.3, 655.3),
    # A saw of 540 reaches 460.4, one of 590 needs 507.4, which the band allows; one of 660 would need 573.2.
    (HeightWish(use_named("sawing"), saw_mm=540), 480, 480),
    (HeightWish(use_named("sawing"), saw_mm=590), 508, 508),
    (HeightWish(use_named("sawing"), saw_mm=660), 480, 480),
]


@pytest.mark.parametrize(("wish", "finished", "working"), SUMS)
def test_working_height_less_what_is_laid_on(wish: HeightWish, finished: float, working: float) -> None:
    """By hand. What the user measured is not rounded; a saw raises the trestle as far as the band goes."""
    height = choose_height(wish, "mm")
    assert (height.finished_mm, height.working_mm) == pytest.approx((finished, working), abs=1e-9)


@pytest.mark.parametrize("measure", BODY_MEASURES, ids=lambda measure: measure.key)
def test_no_body_measures_that(measure) -> None:
    """Just outside of what people measure; the use that a measure goes with is there."""
    assert use_named(measure.use_key)
    for size in (measure.low_mm - 1, measure.high_mm + 1):
        with pytest.raises(OutOfRange, match=r"cannot be: people measure .* from the floor; measure again"):
            choose_height(HeightWish(body=measure, body_mm=size), "mm")


@pytest.mark.parametrize(
    ("key", "match"),
    [("saw", '"saw" is no use that is known; "sawing" may be meant; there are sawing, '), ("xyz", "known; there are ")],
)
def test_an_unknown_use_is_refused_with_the_nearest(key: str, match: str) -> None:
    """And with all there are; capitals and blanks do not matter."""
    assert use_named(" Sawing ") is use_named("sawing")
    with pytest.raises(UsageError, match=match):
        use_named(key)
    with pytest.raises(UsageError, match='"kneecap" may be meant'):
        measure_named("knee")


@pytest.mark.parametrize("stroke_deg", [45, 60, 70, 90])
def test_the_saws_toe_by_a_drawing(stroke_deg: float) -> None:
    """The blade as an arrow in the complex plane, 50 mm of it above the timber, turned down by the stroke."""
    handle = cmath.rect(50, radians(180 - stroke_deg))
    toe = handle + cmath.rect(660, radians(-stroke_deg))
    assert saw_reach_mm(660, stroke_deg) == pytest.approx(-toe.imag, abs=1e-9)


OBSERVED = [
    # Makers' notes, common practice: a 28 in saw hits the floor on a 20 in stool, and its maker goes to 24 in.
    (20, 28, 50),
    # On 24 in it goes in at 60 degrees but not at 70.
    (24, 28, 67),
    (24, 26, None),
    (19, 22, None),
]


@pytest.mark.parametrize(("height", "saw", "touches"), OBSERVED)
def test_a_saw_that_hits_the_floor(height: float, saw: float, touches: int | None) -> None:
    """Inches; the stroke at which it does to whole degrees, asin(height / (saw - 50 mm)) by a table of sines."""
    finding = saw_finding(height * 25.4, saw * 25.4, "in")
    assert (finding is None) == (touches is None)
    if finding is not None:
        assert f"steeper than {touches} degrees" in finding.says
        assert (finding.code, finding.severity) == (321, "caution")


def test_what_the_saws_caution_advises_is_enough() -> None:
    """The height it names, and the shorter saw, bring no caution; a tenth of a mm less does."""
    finding = saw_finding(480, 660, "mm")
    assert finding is not None
    assert "make the trestle 573.3 mm high or more" in finding.do and "at most 560.8 mm" in finding.do
    assert saw_finding(573.3, 660, "mm") is None and saw_finding(480, 560.8, "mm") is None
    assert saw_finding(573.1, 660, "mm") and saw_finding(480, 561.0, "mm")


HEIGHTS = [(299, None, [324]), (300, None, []), (1200, None, []), (1201, None, [324]), (700, "sawing", [325])]


@pytest.mark.parametrize(("height", "key", "codes"), HEIGHTS)
def test_a_height_that_may_be_a_slip(height: float, key: str | None, codes: list[int]) -> None:
    """Unlikely for any trestle, or unusual for this use."""
    use = use_named(key) if key else None
    chosen = choose_height(HeightWish(use, height_mm=height), "mm")
    assert [finding.code for finding in height_findings(chosen, use, "mm")] == codes


TRIPS = [
    # 720 high at 78 both ways: 153 to the side, 33 beyond an end that is 120 from the housing.
    ((720, 78, 78, 120), []),
    ((720, 72, 78, 120), [113.9]),
    ((720, 72, 78, 140), []),
    ((720, 78, 72, 120), []),  # 234 to the side: the check of the stance says so (306)
]


@pytest.mark.parametrize(("figures", "told"), TRIPS)
def test_feet_that_stick_out(figures: tuple[float, float, float, float], told: list[float]) -> None:
    """Measured on solids, beyond the board's end."""
    height, rake, splay, inset = figures
    job = a_job(height, (rake, splay), inset, (900, 120, 45), (70, 32))
    found = trip_findings(solve(job))
    assert len(found) == len(told)
    for finding, beyond in zip(found, told, strict=True):
        assert "beyond the board's end" in finding.says
        assert float(finding.value.removesuffix(" mm")) == pytest.approx(beyond, abs=0.06)
        assert (measured_foot(job)["spread_along_mm"] - 900) / 2 == pytest.approx(beyond, abs=0.06)


def goes_through(box, door_mm) -> bool:
    """The box turned every way: width and height through the opening, 15 mm of air on either side of the width."""
    return any(width + 30 <= door_mm and height <= DOOR_HEIGHT_MM for width, height, _ in permutations(box))


@pytest.mark.parametrize("door", [300, 455, 457, 600, 749, 751, 760, 1000])
@pytest.mark.parametrize("size", [(720, 900, 120), (720, 700, 120), (1900, 2500, 500), (2200, 2300, 120)])
def test_the_doors_rule_is_that_of_its_box(size: tuple[float, float, float], door: float) -> None:
    """Every one of the six ways to hold it, tried."""
    height, length, width = size
    trestle = solve(replace(a_job(height, (78, 78), 120, (length, width, 45), (70, 32))))
    box = (trestle.foot.spread_along_mm, trestle.foot.spread_across_mm, height)
    finding = door_finding(trestle, door)
    assert (finding is None) == goes_through(box, door)
    assert finding is None or f"passes no door of {door} mm by 1980 mm" in finding.says


def test_the_demo_passes_a_usual_door() -> None:
    """And its feet are none to trip over."""
    assert door_finding(solve(DEMO)) is None
    assert trip_findings(solve(DEMO)) == []
