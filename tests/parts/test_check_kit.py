"""What cannot be made or used is refused in words that say why and what to change; the demo itself passes."""

import re
from dataclasses import replace
from fractions import Fraction
from math import floor

import pytest
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.findings import cautions_in, errors_in
from jigmaker.job.shop import Machine
from jigmaker.parts.check import check_kit
from jigmaker.parts.relief import goes_text
from jigmaker.trestle.solve import solve
from jigmaker.units import length_mm


def shop(**changes):
    """The demo's shop with single values changed: sheet__width_mm=300 and so on."""
    return changed(DEMO_SHOP, changes)


def job(base=DEMO, **changes):
    """A job with single values changed: inset_mm=40, top__length_mm=300 and so on."""
    return changed(base, changes)


def changed(record, changes):
    """A record with single values changed, one level down where a name has two underscores."""
    for path, value in changes.items():
        section, _, key = path.partition("__")
        record = replace(record, **{section: replace(getattr(record, section), **{key: value}) if key else value})
    return record


REFUSED = [
    (job(), shop(hand_router__cutter_reach_mm=44), 201, "shop hand_router.cutter_reach", "the jig needs 44.95 mm"),
    (job(), shop(hand_router__bush_length_mm=8.5), 202, "shop hand_router.bush_length", "it would ride on the work"),
    (job(), shop(hand_router__bush_length_mm=2), 202, "shop hand_router.bush_length", "has no hold on the plate"),
    (job(), shop(hand_router__bush_mm=10), 203, "shop hand_router.bush", "does not pass a bush of 10 mm"),
    (job(), shop(hand_router__bush_bore_mm=11), 203, "shop hand_router.bush_bore", "bore of 11 mm"),
    (
        job(leg__width_mm=24.0),
        shop(hand_router__cutter_mm=25, hand_router__bush_mm=30),
        203,
        "shop hand_router.cutter",
        "is not smaller than the housing",
    ),
    (
        job(),
        shop(machine=Machine("cnc", 9.05)),
        204,
        "shop machine.cutter",
        "mortises are 9.2 mm wide and must be 0.2 mm wider",
    ),
    (
        job(leg__thickness_mm=12.0, top__thickness_mm=30.0),
        shop(machine=Machine("cnc", 12), sheet__thickness_mm=15, hand_router__bush_length_mm=8),
        204,
        "shop machine.cutter",
        "too wide for the leg gauge's narrowest notch, 11.7 mm, which must be 0.2 mm wider",
    ),
    (
        job(),
        shop(machine=Machine("cnc", 10), sheet__thickness_mm=18, hand_router__cutter_mm=8, hand_router__bush_mm=10),
        205,
        "shop machine.cutter",
        "rounder than the bush",
    ),
    (job(), shop(hand_router__base_mm=96), 206, "shop hand_router.base", "no room beside the slot"),
    (job(inset_mm=50), shop(), 311, "job trestle.inset", "no room for the jig's end bearer"),
    (job(inset_mm=440), shop(), 312, "shop sheet.length", "even a plate for one hand is"),
    (job(), shop(sheet__width_mm=225), 313, "shop sheet.width", "the sheet less its margins is 215 mm"),
    (job(top__length_mm=215), shop(), 314, "job top.length", "is shorter than the jig"),
    (job(top__width_mm=60), shop(), 315, "job top.width", "too narrow to be held below the jig's lugs"),
    (job(JOB_A), shop(hand_router__bush_mm=30), 317, "shop hand_router.base", "too large for a base of 150 mm"),
]


@pytest.mark.parametrize(("a_job", "a_shop", "code", "key", "words"), REFUSED)
def test_what_cannot_be_is_refused_with_its_reason(a_job, a_shop, code, key, words):
    """One change to a job that works: its code, the key to change and the rule in words, and something to do."""
    found = [f for f in errors_in(check_kit(solve(a_job), a_shop)) if f.code == code]
    assert [f.key for f in found] == [key]
    assert words in found[0].says
    assert found[0].do.split()[0] in {"use", "make", "shorten", "cut"} or "use" in found[0].do


CAUTIONS = [
    (job(inset_mm=200), shop(), 312, "does not fit the sheet", "keep the R and the L jig apart"),
    (job(top__length_mm=400), shop(), 314, "the far end bearer hangs free", "stop end"),
    (
        job(top__length_mm=320),
        shop(),
        312,
        "the top, 320 mm long, is too short for a plate with both slots",
        "keep the R and the L jig apart",
    ),
    # A band from 47 mm below the edge, where the lugs end, to 65 mm from the far edge: its middle is 139 mm off that.
    (job(top__width_mm=260), shop(), 316, "need a throat of 139 mm", "vice"),
    (job(), shop(hand_router__blade_mm=25), 208, "is under the housing's depth", "shank"),
]


THICK = {"sheet__thickness_mm": (18, 18), "hand_router__cutter_mm": (8, 8), "hand_router__bush_mm": (10, 10)}
LIMITS = [
    # What goes and what does not: a bush a millimetre shorter than the sheet of 9.1 and 3 mm long (common practice, no
    # source), a clamp's throat of 120 mm = (width + 65 - 47) / 2; else the figure that the finding tells.
    (202, {}, {"hand_router__bush_length_mm": (8.1, 8.11)}),
    (202, {}, {"hand_router__bush_length_mm": (3, 2.99)}),
    (316, {"top__width_mm": (222, 223)}, {}),
    (201, {}, {"hand_router__cutter_reach_mm": (44.95, 44.94)}),
    # A bush of 10 goes into corners of radius 4.5, half a millimetre tighter than itself, which a cutter of 9 makes.
    (205, {}, THICK | {"machine": (Machine("cnc", 9.0), Machine("cnc", 9.01))}),
    (313, {}, {"sheet__width_mm": (230.36, 230.34)}),
    (314, {"top__length_mm": (428, 427.99)}, {}),
]


@pytest.mark.parametrize(("code", "of_job", "of_shop"), LIMITS)
def test_the_figure_told_is_the_limit(code, of_job, of_shop):
    """Whoever keeps to it is rid of the finding, and a hundredth of a millimetre less is not enough."""
    for at, is_told in ((0, False), (1, True)):
        a_job, a_shop = (
            make(**{key: value[at] for key, value in of.items()}) for make, of in ((job, of_job), (shop, of_shop))
        )
        assert (code in {f.code for f in check_kit(solve(a_job), a_shop, is_quick=True)}) == is_told


BEARING = {"hand_router": BEARING_SHOP.hand_router}
ADVICE = [
    # The code, what brings it out, what the advice says, the key that it means, and whether it says "or less".
    (202, {}, {"hand_router__bush_length_mm": 8.5}, "bush to (.+?) or less", "hand_router__bush_length_mm", True),
    (202, {}, {"hand_router__bush_length_mm": 2}, "bush of (.+?) or more", "hand_router__bush_length_mm", False),
    (204, {}, {"machine": Machine("cnc", 9.05)}, "kit with (.+?) or less", "machine__tool_mm", True),
    (206, {}, {"hand_router__base_mm": 96}, "plate of (.+?) or more", "hand_router__base_mm", False),
    (207, {}, BEARING | {"hand_router__blade_mm": 46.5}, "to (.+)", "hand_router__blade_mm", True),
    (207, {}, BEARING | {"hand_router__blade_mm": 34}, "length from (.+?) to", "hand_router__blade_mm", False),
    (311, {"inset_mm": 50}, {}, "inset (.+?) or more", "inset_mm", False),
    (315, {"top__width_mm": 60}, {}, "top (.+?) wide or more", "top__width_mm", False),
]


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize(("code", "of_job", "of_shop", "words", "key", "is_most"), ADVICE)
def test_the_advice_is_enough_and_not_too_much(code, of_job, of_shop, words, key, is_most, unit):
    """The length that it prints, in the job's unit, clears the finding; a tenth or a 64th short of it does not."""

    def found(changes):
        of_job_now = {name: value for name, value in changes.items() if name in of_job}
        a_shop = changed(DEMO_SHOP, {name: value for name, value in changes.items() if name not in of_job})
        return {f.code: f for f in check_kit(solve(job(unit=unit, **of_job_now)), a_shop, is_quick=True)}

    given = of_job | of_shop
    step = (0.1 if unit == "mm" else 25.4 / 64) * (1 if is_most else -1)
    told = length_mm(re.search(words, found(given)[code].do)[1], unit)
    assert code not in found(given | {key: told})
    assert code in found(given | {key: told + step})


@pytest.mark.parametrize(
    ("base", "bush", "code"), [(90, 17, 206), (90, 30, 206), (101, 17, 317)], ids=["trim router", "wide bush", "tips"]
)
def test_the_base_that_is_advised_is_one_that_stands(base, bush, code):
    """Followed to the letter the advice is enough: a base with room for the tenons that tips would be no advice. One of
    a millimetre less is refused."""
    first = {f.code: f for f in check_kit(solve(job()), shop(hand_router__base_mm=base, hand_router__bush_mm=bush))}
    told = length_mm(re.search("base plate of (.+?) or more", first[code].do)[1], "mm")
    for base_mm, is_refused in ((told, False), (told - 1, True)):
        a_shop = shop(hand_router__base_mm=base_mm, hand_router__bush_mm=bush)
        assert bool(errors_in(check_kit(solve(job()), a_shop))) == is_refused


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_no_bush_is_advised_that_has_no_hold(unit):
    """In a sheet of 3 mm a bush would have to be shorter than 2 mm, which is refused: a sheet for one is told."""
    thin = {"sheet__thickness_mm": 3.0, "hand_router__bush_length_mm": 6.0}
    (found,) = [f for f in check_kit(solve(job(unit=unit)), shop(**thin), is_quick=True) if f.code == 202]
    told = length_mm(re.search("sheet of (.+?) or more", found.do)[1], unit)
    in_it = shop(sheet__thickness_mm=told, hand_router__bush_length_mm=told - 1)
    assert not [f for f in check_kit(solve(job()), in_it, is_quick=True) if f.code == 202]


@pytest.mark.parametrize(("a_job", "a_shop", "code", "says", "do"), CAUTIONS)
def test_cautions_say_what_to_mind(a_job, a_shop, code, says, do):
    """The job goes on; the caution says what to mind."""
    findings = check_kit(solve(a_job), a_shop)
    assert errors_in(findings) == []
    (found,) = [f for f in cautions_in(findings) if f.code == code]
    assert says in found.says
    assert do in found.do


def test_a_quick_check_leaves_out_the_tipping_alone():
    """It takes nearly all the time; with a bush of 30 mm the router tips, one of 8 mm the cutter does not pass."""
    told = [
        [f.code for f in errors_in(check_kit(solve(job(JOB_A)), shop(hand_router__bush_mm=bush), is_quick))]
        for bush in (30, 8)
        for is_quick in (False, True)
    ]
    assert told[0] == [317] and told[1] == []
    assert told[2] == told[3] != []


@pytest.mark.parametrize("a_job", [DEMO, JOB_A, JOB_B])
def test_jobs_that_work_give_no_error(a_job):
    """The demo and two others of different proportions pass."""
    assert check_kit(solve(a_job), DEMO_SHOP) == []


def test_a_bearing_guided_cutter_that_suits_passes():
    """Cutting length 38.1, bearing 6 high: within 36 to 45.1 mm."""
    assert errors_in(check_kit(solve(DEMO), BEARING_SHOP)) == []


FIRST_PASSES = [
    # Blade and 3 mm of the bearing below the base, less a sheet of 9.1 and a standoff of 7.0.
    (38.1, 6.0, "25 mm deep", "6.35 mm"),
    (45.1, 6.0, "32 mm deep", "6.35 mm"),
    (19.4, 25.0, "", ""),
    (19.5, 25.0, "6.4 mm deep", "6.35 mm"),
]


@pytest.mark.parametrize(("blade", "bearing", "depth", "limit"), FIRST_PASSES)
def test_a_deep_first_pass_orders_the_waste_out(blade, bearing, depth, limit):
    """The least depth at which the bearing has hold, told when it is more than half the cutter of 12.7 mm. A shorter
    blade is advised only where one would do: a bearing of 6 mm would run under the plate at full depth."""
    router = replace(BEARING_SHOP.hand_router, blade_mm=blade, bearing_height_mm=bearing)
    findings = check_kit(solve(DEMO), replace(BEARING_SHOP, hand_router=router))
    assert errors_in(findings) == []
    said = [f for f in cautions_in(findings) if f.code == 209]
    assert len(said) == (1 if depth else 0)
    assert all(depth in f.says and limit in f.says and "saw the waste out first" in f.do for f in said)
    assert all(("shorter blade" in f.do) == (bearing == 25.0) for f in said)


BEARINGS = [
    ({"blade_mm": None}, 1, "blade is not given"),
    ({"blade_mm": None, "bearing_height_mm": None}, 2, "bearing_height is not given"),
    ({"blade_mm": 46.0}, 1, "would run above the plate's edge"),
    ({"blade_mm": 34.0}, 1, "would run below the plate's edge"),
]


@pytest.mark.parametrize(("changes", "count", "words"), BEARINGS)
def test_a_bearing_must_run_on_the_plates_edge(changes, count, words):
    """Cutting length from g + d - bearing height + 3 to projection - 3: 36 to 45.1 mm in the demo."""
    a_shop = replace(BEARING_SHOP, hand_router=replace(BEARING_SHOP.hand_router, **changes))
    found = [f for f in errors_in(check_kit(solve(DEMO), a_shop)) if f.code == 207]
    assert len(found) == count
    assert words in found[-1].says


def test_an_inch_job_is_told_in_inches():
    """Figures in messages follow the job's unit."""
    findings = errors_in(check_kit(solve(job(unit="in")), shop(hand_router__bush_length_mm=2)))
    assert '5/64"' in findings[0].says
    assert " mm" not in findings[0].says + findings[0].do


@pytest.mark.parametrize("limit", [1.0, 3.14, 5.999, 6.35, 8.97, 11.9, 12.04])
@pytest.mark.parametrize(("key", "unit", "steps"), [("cutter", "mm", 20), ("kerf", "mm", 100), ("cutter", "in", None)])
def test_the_widest_tool_told_goes_and_the_next_one_sold_does_not(limit, key, unit, steps):
    """Down to the next twentieth of a millimetre, a kerf to the next hundredth, to the next 64th of an inch."""
    told = goes_text(limit, unit, key)
    if steps:
        (value,) = re.findall(r"^([\d.]+) mm$", told)
        assert Fraction(value) * steps == floor(Fraction(str(limit)) * steps)
    else:
        whole, _, rest = told.removesuffix('"').rpartition(" ") if " " in told else ("0", "", told.removesuffix('"'))
        assert (Fraction(whole) + Fraction(rest)) * 64 == floor(Fraction(str(limit)) / Fraction("25.4") * 64)
