"""The form of the timber's readings: blank, filled in, and filled in wrong as a woodworker may."""

import re
from dataclasses import replace

import pytest
from sample_jobs import DEMO

from jigmaker.errors import JobError
from jigmaker.timber.form import timber_form_text
from jigmaker.timber.readings import BoardReading, LegReading, TimberReadings, read_timber

ONE = replace(DEMO, trestles=1)
GOOD = """[timber]
units = "mm"
caliper = 0.02
[legs]
1 = [70.02, 69.95, 32.1]
2 = [70, "6.98 cm", 32]
3 = ["2 3/4 in", 69.9, 31.9]
4 = [70.1, 70.0, 32]
[boards]
1 = [45.3, 120, -0.1, "+0.2", 0]
"""


def test_a_blank_form_says_that_nothing_was_measured() -> None:
    """Every leg and board of the batch has its line, and it reads as it is; in inches too."""
    for unit in ("mm", "in"):
        form = timber_form_text(replace(DEMO, unit=unit))
        assert re.findall(r"(?m)^(\d+) = \[\]$", form) == [*map(str, range(1, 25)), *map(str, range(1, 7))]
        read = read_timber(form.encode(), DEMO)
        assert (read.legs, read.boards) == ((), ())
    assert read.caliper_mm == pytest.approx(0.0254)
    assert read_timber(timber_form_text(DEMO).encode(), DEMO) == TimberReadings()


def test_a_form_is_read_in_millimetres() -> None:
    """Each figure by hand; a figure may carry its own unit, and an edge may fall back."""
    read = read_timber(GOOD.encode(), ONE)
    assert read.legs == (
        LegReading(1, 70.02, 69.95, 32.1),
        LegReading(2, 70.0, 69.8, 32.0),
        LegReading(3, 69.85, 69.9, 31.9),
        LegReading(4, 70.1, 70.0, 32.0),
    )
    assert read.boards == (BoardReading(1, 45.3, 120.0, (-0.1, 0.2), 0.0),)
    assert (read.caliper_mm, read.tape_mm, read.is_pressed) == (0.02, 0.13, False)


WRONG = {
    "in cm": ("70.02,", "7.002,", 'line 5: leg 1, width at end A is 7.002 mm, must be 65 .* write "7.002 cm" if that'),
    "in inches": ("70.02,", "2.757,", 'is 2.757 mm, must be 65 mm to 75 mm in this job; write "2.757 in" if that'),
    "a digit missing": ("70.02,", "7.02,", r"line 5: leg 1, width at end A is 7.02 mm"),
    "a point missing": ("70.02,", "7002,", "line 5: leg 1, width at end A is 7002 mm, .* measure it again"),
    "another job's": ("32.1]", "45]", "leg 1, thickness is 45 mm, must be 27 mm to 37 mm"),
    "decimal commas": ("70.02, 69.95, 32.1", "70,12, 69,95, 32,1", "leg 1 has 6 figures, .* a decimal comma parts"),
    "a decimal comma": ("70.02", "70,02", r"line 5: has a decimal comma; write 70.02"),
    "a figure missing": ("69.95, ", "", "line 5: leg 1 has 2 figures, must have 3: width at end A, width at end B"),
    "a leg left out": ("3 = [", "# [", "line 4: leg 3 is missing, though others have; measure all 4, or give none"),
    "a leg left blank": ('["2 3/4 in", 69.9, 31.9]', "[]", "line 7: leg 3 has no figures, though others have"),
    "twice the same": ("4 = [", "3 = [", "line 8: gives a key or a section that was given before"),
    "the same, spelled anew": ("4 = [", "03 = [", 'line 8: "03" is no number of a leg'),
    "a fifth": ("4 = [", "5 = [", r"line 8: leg 5: the batch has 4 legs; take spare ones out"),
    "no brackets": ("[70.1, 70.0, 32]", "70.1", "line 8: leg 4 is 70.1, must be figures in brackets"),
    "words": ("70.1,", '"wide",', 'leg 4, width at end A is not a clear length: "wide" is not a length'),
    "no unit": ('units = "mm"', "", 'line 1: units is missing; write units = "mm" or "in"'),
    "metres": ('"mm"', '"m"', 'line 2: units is "m", must be "mm" or "in"'),
    "caliper of a rule": ("0.02", "2", "line 3: caliper is 2 mm, must be 0.005 to 0.5 mm"),
    "a section misspelt": ("[boards]", "[board]", "line 9: board is an unknown section; did you mean boards"),
    "a key misspelt": ("caliper", "calliper", "line 3: calliper is an unknown key; did you mean caliper"),
    "an edge of another kind": ("-0.1", "-45", "board 1, marked edge out of square is -45 mm, must be -3 mm to 3 mm"),
    "winding with a sign": ("0.2", "0.2 mm", "no fault"),
    "not TOML": ("[legs]", "[legs", "line 4"),
}


@pytest.mark.parametrize("case", WRONG)
def test_what_cannot_be_is_named_with_its_line(case: str) -> None:
    """And nothing is guessed: one form, one slip, one sentence."""
    old, new, says = WRONG[case]
    assert old in GOOD
    form = GOOD.replace(old, new, 1).encode()
    if says == "no fault":
        assert read_timber(form, ONE)
        return
    with pytest.raises(JobError, match=says) as caught:
        read_timber(form, ONE)
    # Two legs of one number leave another without any; all else is one fault.
    assert len(caught.value.faults) == (2 if case in ("the same, spelled anew", "a fifth") else 1)


def test_all_faults_at_once_in_their_order() -> None:
    """Three legs, three lines."""
    form = GOOD.replace("70.02", "7.02").replace("[70.1, ", "[701, ").replace('"6.98 cm"', '"6,98 cm"')
    with pytest.raises(JobError) as caught:
        read_timber(form.encode(), ONE, "bench/timber.toml")
    assert [fault.partition(",")[0] for fault in caught.value.faults] == [
        "bench/timber.toml line 5: leg 1",
        "bench/timber.toml line 6: leg 2",
        "bench/timber.toml line 8: leg 4",
    ]


def test_nothing_measured_at_all_is_fine() -> None:
    """[legs] and [boards] may be left out, and so may what the tools do."""
    assert read_timber(b'[timber]\nunits = "mm"\ndressed = "planed"\npressed = true\n', ONE) == TimberReadings(
        dressed="planed", is_pressed=True
    )
