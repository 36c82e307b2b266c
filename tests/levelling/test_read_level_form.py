"""The form with readings: a blank one, filled-in ones, and all that a new user puts into it by mistake."""

import re

import pytest

from jigmaker.errors import JobError
from jigmaker.levelling.level_form import level_form_text
from jigmaker.levelling.read_readings import measured_or_refuse, read_level_form
from jigmaker.levelling.readings import ByBattens, LevelledFirst, RockOnly, Wanted

FOUR = ("near_r", "near_l", "far_r", "far_l")


def filled(unit="mm", trestles=1, **answers):
    """The blank form with figures put between the quotes; a key is that of the first section that has it empty."""
    text = level_form_text(unit, trestles)
    for key, value in answers.items():
        text, count = re.subn(rf'(?m)^{key} = "[^"]*"', f'{key} = "{value}"', text, count=1)
        assert count == 1, key
    return text


def read(text):
    return read_level_form(text.encode(), "readings.toml")


def under(*figures):
    return {f"under_{foot}": figure for foot, figure in zip(FOUR, figures, strict=True)}


def over(*figures):
    return {f"over_{foot}": figure for foot, figure in zip(FOUR, figures, strict=True)}


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        (filled(top="735.4", **under("0", "3.5", "0.8", "1.2")), LevelledFirst(735.4, (0, 3.5, 0.8, 1.2))),
        (filled("in", top="28 3/4", **under("0", "1/8", "0", "1 mm")), LevelledFirst(730.25, (0, 3.175, 0, 1))),
        (filled(**over("735", "734", "736", "735")), ByBattens((735, 734, 736, 735))),
        (
            filled(**over("735", "734", "736", "735"), **under("0", "0", "2", "0")),
            ByBattens((735, 734, 736, 735), (0, 0, 2, 0)),
        ),
        (filled(hangs="far_l", gap="3"), RockOnly("far_l", 3.0)),
        (filled(hangs="far_l", gap="3").replace('gap = "3"', "gap = 3"), RockOnly("far_l", 3.0)),
    ],
)
def test_each_way_is_read(text, reading):
    """With quotes or without, in the form's unit or with one of its own; empty keys count as not there."""
    form = read(text)
    assert form.readings == {"trestle_1": reading}
    assert form.wanted == Wanted(None, None, "angled")


def test_what_is_wanted_is_read():
    """Height, sheets and soles stand in [level]."""
    text = filled(height="71 cm", soles="square", hangs="far_l", gap="3").replace("# sheets = 2", "sheets = 2")
    assert read(text).wanted == Wanted(710.0, 2, "square")


def test_trestles_without_figures_are_left_out_and_the_order_is_kept():
    """The form has a section for each trestle of the job; some are measured another day."""
    text = filled(trestles=6)
    for name in ("trestle_4", "trestle_2"):
        keys = "\n".join(f"{key} = {figure}" for key, figure in over(735, 734, 736, 735).items())
        text = re.sub(rf"\[{name}\]\n(?:\w+ = \"\"\n)*", f"[{name}]\n{keys}\n", text)
    assert list(read(text).readings) == ["trestle_2", "trestle_4"]


TOP = under("0", "3.5", "0.8", "1.2")
BAD = [
    ("blank", filled(), r"line 27: trestle_1 has no readings; give top with the four under_\*"),
    (
        "only a height",
        filled(top="735"),
        r"trestle_1 lacks under_near_r, under_near_l, under_far_r and under_far_l; write 0",
    ),
    ("only shims", filled(**TOP), r"trestle_1 gives under_near_r, .* only; give top with"),
    (
        "one batten lacks",
        filled(over_near_r="735", over_far_r="735", over_far_l="735"),
        r"trestle_1 lacks over_near_l; measure",
    ),
    (
        "half the shims",
        filled(**over(735, 734, 736, 735), under_near_l="1"),
        r"lacks under_near_r, under_far_r and under_far_l",
    ),
    ("two ways", filled(top="735", **over(735, 734, 736, 735)), r"gives top and over_\*: a trestle is read in one way"),
    ("rock and height", filled(top="735", gap="3"), r"gives top and gap: a trestle is read in one way"),
    ("rock and shims", filled(hangs="far_l", gap="3", under_near_l="1"), r"read with nothing under them"),
    ("no foot", filled(gap="3"), r"trestle_1 lacks hangs; measure"),
    ("no such foot", filled(hangs="left", gap="3"), r'line 37: trestle_1.hangs is "left", must be "near_r" or'),
    ("a comma", filled(top="735,4", **TOP), r'line 28: trestle_1.top is not a clear length: "735,4" .* write "735.4"'),
    ("inches", filled(top="28.9", **TOP), r"trestle_1.top is 28.9, must be 100 to 3300 mm"),
    ("metres", filled(top="0.735", **TOP), r"trestle_1.top is 0.735, must be 100 to 3300 mm"),
    ("words", filled(top="about 735", **TOP), r'trestle_1.top is not a clear length: "about 735" is not a length'),
    (
        "negative",
        filled(top="735", **under("0", "-3", "0", "0")),
        r"under_near_l is not a clear length: -3 is negative",
    ),
    ("a misspelt key", filled(top="735", **TOP).replace("under_far_l", "under_far_left"), r"did you mean under_far_l"),
    (
        "sheets in quotes",
        filled(hangs="far_l", gap="3").replace("# sheets = 2", 'sheets = "2"'),
        r"sheets is \"2\", must be a whole",
    ),
    (
        "nine sheets",
        filled(hangs="far_l", gap="3").replace("# sheets = 2", "sheets = 9"),
        r"sheets is 9, must be a whole .* 1 to 5",
    ),
    ("soles", filled(soles="flat", hangs="far_l", gap="3"), r'soles is "flat", must be "angled" or "square"'),
    ("no units", filled(hangs="far_l", gap="3").replace("units", "# units"), r"level lacks units"),
    (
        "no section",
        'top = 735\n[level]\nunits = "mm"\n',
        r"line 1: top is a key without a section; it belongs in \[trestle_1\]",
    ),
    ("nothing", "", r"level is missing; write \[level\] with units"),
    ("no TOML", "a trestle, please", r"line 1: is not TOML"),
    (
        "a trestle by name",
        filled(hangs="far_l", gap="3").replace("[trestle_1]", "[bench]"),
        r"bench is an unknown section",
    ),
    ("a list", filled().replace('top = ""', "top = [1, 2]"), r"trestle_1.top is a list, must be a length"),
    ("a table", filled() + "[[trestle_2]]\ntop = 3\n", r"trestle_2 is a list, must be one section"),
]


@pytest.mark.parametrize(("text", "words"), [row[1:] for row in BAD], ids=[row[0] for row in BAD])
def test_a_bad_form_is_told_with_line_key_and_rule(text, words):
    """Every sentence starts with the file; each of these mistakes is the only one that is told."""
    with pytest.raises(JobError, match=words) as caught:
        read(text)
    assert len(caught.value.faults) == 1, caught.value.faults
    assert caught.value.faults[0].startswith("readings.toml")


def test_a_rocking_gap_has_no_place_in_a_batch():
    """It tells no height; alone it may stand."""
    rock = filled(hangs="far_l", gap="3")
    both = rock + "[trestle_2]\n" + "\n".join(f"{key} = {value}" for key, value in over(735, 734, 736, 735).items())
    measured_or_refuse(read(rock), "readings.toml")
    with pytest.raises(JobError, match=r"readings.toml: trestle 1 gives a rocking gap only, which tells no height"):
        measured_or_refuse(read(both), "readings.toml")


def test_the_blank_form_is_for_all_trestles_of_the_job():
    """A section for each, up to forty; its lines fit a screen."""
    text = level_form_text("in", 100)
    assert text.count("\n[trestle_") == 40
    assert 'units = "in"' in text
    assert max(map(len, text.splitlines())) <= 120
