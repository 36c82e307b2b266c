"""The reading form as a file: what it starts with, how it is read back, and what is wrong with a bad one."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from measured_coupon import SHOPS, form_of
from sample_jobs import DEMO_SHOP

from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.form_text import form_text
from jigmaker.coupon.lines import Allowance
from jigmaker.coupon.readings import read_form
from jigmaker.errors import JobError
from jigmaker.job.shop import Machine
from jigmaker.parts.coupon_size import coupon_size

IDEAL = forecast(coupon_size(DEMO_SHOP, "mm"), Allowance(0.2, 0.2), Guess(0.22, 0.22, 1.0, 1.0, 0.0))
GOOD = form_of(DEMO_SHOP, "mm", IDEAL).decode()


def line_of(text, start):
    return next(n for n, line in enumerate(text.splitlines(), 1) if line.startswith(start))


def test_an_empty_form_asks_for_what_it_needs():
    """Which file was cut and the six places that give kerf and scale; all at once, each with its line."""
    text = form_text(DEMO_SHOP, "mm")
    with pytest.raises(JobError, match="has no readings, must have 3") as refused:
        read_form(text.encode(), "form.toml", DEMO_SHOP)
    keys = ["coupon.compensation", *(f"readings.{key}" for key in IDEAL if key[0] in "ABD")]
    wanted = [f"form.toml line {line_of(text, key.split('.')[1] + ' ')}: {key} " for key in keys]
    assert [fault.startswith(start) for fault, start in zip(refused.value.faults, wanted, strict=True)] == [True] * 7


def test_where_the_shop_says_which_files_there_are_the_form_knows_which_was_cut():
    """Only one kind of file is written: nothing to ask."""
    shop = replace(DEMO_SHOP, machine=replace(DEMO_SHOP.machine, compensation="left out"))
    assert 'compensation = "left out"' in form_text(shop, "mm")


def test_a_good_form_reads_back():
    """Three readings of every place, to the digits that were written."""
    readings = read_form(GOOD.encode(), "form.toml", DEMO_SHOP)
    assert readings.taken == {key: pytest.approx((value,) * 3, abs=1e-11) for key, value in IDEAL.items()}
    assert (readings.lines, readings.caliper_mm) == (Allowance(0.2, 0.2), 0.02)
    assert readings.turn_over is None


@pytest.mark.parametrize(
    ("compensation", "added", "in_lines"),
    [("included", "0", 0.2), ("left out", "0", 0.0), ("left out", '"0.25 mm"', 0.25), ("included", "0.2", 0.4)],
)
def test_what_was_in_the_lines(compensation, added, in_lines):
    """The file's own allowance and that of the machine's program, both told by the form, add up."""
    form = form_of(DEMO_SHOP, "mm", {}, coupon__compensation=f'"{compensation}"', coupon__added=added)
    taken = forecast(coupon_size(DEMO_SHOP, "mm"), Allowance(in_lines, in_lines), Guess(0.2, 0.2, 1, 1, 0))
    for key, value in taken.items():
        form = form.replace(f"\n{key} = []".encode(), f"\n{key} = [{value}, {value}, {value}]".encode())
    assert read_form(form, "form.toml", DEMO_SHOP).lines == Allowance(in_lines, in_lines)


def test_the_form_keeps_what_its_coupon_was_drawn_for():
    """The shop has another kerf and another sheet by now: sizes and lines are still those of the coupon."""
    now = replace(DEMO_SHOP, machine=Machine("laser", 0.6), sheet=replace(DEMO_SHOP.sheet, thickness_mm=12.2))
    readings = read_form(GOOD.encode(), "form.toml", now)
    assert readings.size == coupon_size(DEMO_SHOP, "mm") != coupon_size(now, "mm")
    assert readings.lines == Allowance(0.2, 0.2)
    assert readings.thickness_mm == 9.1


def test_an_inch_coupon_may_be_measured_in_millimetres_and_back():
    """`units` is of the readings; sizes stay those of the coupon."""
    shop, _ = SHOPS["laser inch"]
    size = coupon_size(shop, "in")
    ideal = forecast(size, Allowance(0.2, 0.2), Guess(0.22, 0.22, 1.0, 1.0, 0.0))
    text = form_text(shop, "in", {"coupon.compensation": '"included"', "gap.marked_face": "['1 in', '1 in', '1 in']"})
    assert 'units = "in"' in text and "5.750 in" in text
    for unit, per in (("in", 25.4), ("mm", 1.0)):
        filled = text.replace('\nunits = "in"', f'\nunits = "{unit}"')
        for key, value in ideal.items():
            filled = filled.replace(f"\n{key} = []", f"\n{key} = [{value / per}, {value / per}, {value / per}]")
        readings = read_form(filled.encode(), "form.toml", shop)
        assert (readings.size.tool, *readings.size.slot, *readings.size.gap) == pytest.approx(
            (size.tool, *size.slot, *size.gap), abs=1e-4
        )
        assert (readings.size.x_lengths, readings.size.square) == (size.x_lengths, size.square)
        assert readings.taken["D_long_x"] == pytest.approx((ideal["D_long_x"],) * 3)
        assert readings.joints["marked_face"] == pytest.approx((25.4,) * 3)


BAD = [
    (r"\nA_wedge = \[.*?\]", "\nA_wedge = [12.6, 12.5]", "readings.A_wedge has 2 readings, must have 3"),
    (r"\nA_wedge = \[.*?\]", "\nA_wedge = 12.6", r"readings.A_wedge is 12.6, must be 3 readings in brackets"),
    (r"\nA_wedge = \[.*?\]", "\nA_wedge = [12.6, 12.5, 32.5]", r"A_wedge is 32.5 mm, must be 0.5 to 25.5 mm"),
    (r"\nD_short_x = \[.*?\]", "\nD_short_x = [1.77, 1.77, 1.77]", r'is 1.77 mm, .*write "1.77 in" if that is meant'),
    (r"\nA_wedge = \[.*?\]", "\nA_wedge = ['12,6', 12.6, 12.6]", "A_wedge is not a clear length: .* decimal comma"),
    (r"form = 2", "form = 3", "coupon.form is 3, must be a whole number from 1 to 2"),
    (r"form = 2", "", r"readings.A_wedge is an unknown key"),
    (r"\nD_long_x = ", "\nD_longx = ", r"readings.D_longx is an unknown key; did you mean D_long_x\?"),
    (r"\[readings\]", "[reading]", r"reading is an unknown section; did you mean readings\?"),
    (r"\nE_falling = \[.*?\]", "\nE_falling = []", "readings.E_rising and E_falling go together"),
    (r'compensation = "included"', 'compensation = ""', 'is "", must be "included" or "left out"'),
    (r'machine = "laser"', 'machine = "cnc"', 'coupon.machine is "cnc", but the shop has a laser'),
    (r'made_for = "0.2 mm"', 'made_for = "3 mm"', "coupon.made_for must be 1 mm or less for a laser"),
    (r'thickness = "9.1 mm"', 'thickness = "91 mm"', "coupon.thickness is 91 mm, must be 2 to 30 mm"),
    (r"\[lines\]|\[gap\]", "[lines]\nscale_x = 2\n[gap]", "lines.scale_x is 2, must be 0.98 to 1.02"),
    (r"marked_face = \[\]", "marked_face = [61, 61, 61]", "gap.marked_face is 61 mm, must be 0.5 to 55 mm"),
    (r"marked_face = \[\]", "marked_face = [20, 21, 35]", "gap.marked_face holds readings too far apart"),
    (r"opening = \[\]", "opening = [1, 1, 1]", 'turn_over.leans is "", must be "right" or "left"'),
    (r"\[coupon\]", "[coupon", "is not TOML"),
]


@pytest.mark.parametrize(("pattern", "new", "says"), BAD)
def test_a_bad_form_is_refused_with_line_key_and_rule(pattern, new, says):
    """One sentence a fault, at its line."""
    text, count = re.subn(pattern, lambda _: new, GOOD, count=1)
    assert count == 1
    with pytest.raises(JobError, match=says) as refused:
        read_form(text.encode(), "my form.toml", DEMO_SHOP)
    assert re.match(r"my form\.toml line \d+: ", str(refused.value))


def test_the_turn_over_test_is_read():
    """Opening, length, sign: a plate that lay with a quarter turn shows the other one."""
    answers = {"turn_over__opening": "[0.8, 0.84, 0.82]", "turn_over__leans": '"left"'}
    for lay, sign in (("unturned", -1), ("quarter turn", 1)):
        form = form_of(DEMO_SHOP, "mm", IDEAL, **answers, turn_over__lay=f'"{lay}"')
        test = read_form(form, "form.toml", DEMO_SHOP).turn_over
        assert (test.openings, test.length_mm, test.sign) == ((0.8, 0.84, 0.82), 80.0, sign)


def test_a_sheet_thinner_than_the_cutter_has_no_gap():
    """None could be cut: the form does not ask for one."""
    shop = replace(DEMO_SHOP, machine=Machine("cnc", 3.175), sheet=replace(DEMO_SHOP.sheet, thickness_mm=3.0))
    assert "[gap]" not in form_text(shop, "mm")


FIRST = (Path(__file__).parent.parent / "old_files" / "coupon_form_1.toml").read_text("utf-8")
FIRST_BAD = [
    (r"\nA = \[.*?\]", "\nA = [51.48, 51.5, 81.5]", r"readings.A is 81.5 mm, must be 45.6 to 57.6 mm"),
    (r"\nA = ", "\nA_wedge = ", r"readings.A_wedge is an unknown key"),
    (
        r"marked_face = \[.*?\]",
        "marked_face = [8.5, 8.5, 8.5]",
        "comb.marked_face is 8.5 mm, must be 8.925 to 9.375 mm",
    ),
    (r"marked_face = \[.*?\]", "marked_face = [9.0, 9.0, 9.3]", "9.30, which is more than two slots apart"),
]


@pytest.mark.parametrize(("pattern", "new", "says"), FIRST_BAD)
def test_a_form_of_the_first_coupon_has_its_own_rules(pattern, new, says):
    """Stacks in [readings], figures of slots in [comb]."""
    text, count = re.subn(pattern, lambda _: new, FIRST, count=1)
    assert count == 1
    with pytest.raises(JobError, match=says):
        read_form(text.encode(), "form.toml", DEMO_SHOP)


def test_the_first_coupon_is_known_as_it_was_drawn():
    """Six strips of 9 and nine slots about the sheet's thickness, as its form says."""
    size = read_form(FIRST.encode(), "form.toml", DEMO_SHOP).size
    assert (size.stack, size.square, len(size.slots)) == (54.0, 70.0, 9)
    assert (size.slots[0], size.slots[-1]) == pytest.approx((8.95, 9.35))
