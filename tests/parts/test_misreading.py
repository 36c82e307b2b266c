"""Nothing on any part can be misread: eight faults that were once drawn, found again, and none of them in any kit."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from misread_marks import misread
from plain_parts import box, plain_part
from sample_jobs import DEMO_SHOP, JOB_A, JOB_B

from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.parts.kit import make_kit
from jigmaker.parts.marks import line_mark, text_mark
from jigmaker.parts.part import Setting
from jigmaker.trestle.solve import solve

TESTS = Path(__file__).parent.parent


def lines(words, at, height=3.5):
    """Words under each other, as a block of them is scored."""
    return [text_mark(line, (at[0], at[1] - 1.7 * height * i), height) for i, line in enumerate(words)]


def written_box(x, y):
    return line_mark([(x, y), (x + 19, y), (x + 19, y + 6.5), (x, y + 6.5), (x, y + 0.3)])


SQUARES = tuple(
    Setting(f"true square, {corner}", 90.0, "deg", "left over", "flank")
    for corner in ("lower right", "upper left", "b")
)
FLANK = Setting("worst error, flank lower left", 0.15, "deg", "", "")
ONCE = [
    ("a tick makes 17 of a 7", 1, [line_mark([(120, 1.6), (120, 5.4)]), text_mark("7", (121.2, 1.6))]),
    (
        "a box nearer to the line below",
        2,
        [text_mark("GO 70.00", (5, 60), 4), written_box(5, 51), text_mark("THICKNESS 32.00", (5, 45.5), 4)],
    ),
    ("a unit torn off its figure", 3, lines(["LOW 70.075", "MM", "MUST GO IN"], (5, 60))),
    ("ticks without a figure", 4, [line_mark([(10 + 10 * i, 2), (10 + 10 * i, 6)]) for i in range(10)]),
    ("no mark", 4, []),
    ("many lines in a corner", 5, lines([f"LINE {i} OFF LEVEL" for i in range(9)], (5, 90))),
    ("a word left over", 6, lines(["ENDS 2.48° OFF UPRIGHT AND", "UNDERCUT"], (5, 60))),
    ("an axis's letter runs into a sum", 7, [text_mark("X", (10, 40)), text_mark("- KERF IN THE LINES", (14, 40))]),
    (
        "an arrow like an E",
        8,
        [text_mark("L", (10, 40), 20), line_mark([(20, 32), (10, 32), (10, 22), (20, 22)])],
    ),
]


@pytest.mark.parametrize(("number", "marks"), [row[1:] for row in ONCE], ids=[row[0] for row in ONCE])
def test_a_fault_that_was_drawn_is_found_again(number, marks):
    """By its own row, and by no other."""
    part = plain_part("once", box(240, 100), marks=tuple(marks))
    assert {row for row, _ in misread(part)} == {number}


def test_a_plate_for_one_angle_is_found():
    """Three of its corners are true squares."""
    part = replace(plain_part("plate", box(240, 100), marks=(text_mark("87.53°", (5, 5)),)), settings=(*SQUARES, FLANK))
    assert {row for row, _ in misread(part)} == {5}


@cache
def kit(name, marking):
    job, shop = {
        "demo": (read_job(demo_job_text()), read_shop(demo_shop_text())),
        "pair": (
            read_job((TESTS / "jobs" / "workshop_pair.toml").read_bytes()),
            read_shop((TESTS / "shops" / "workshop_pair.toml").read_bytes()),
        ),
        "a": (JOB_A, DEMO_SHOP),
        "b": (JOB_B, DEMO_SHOP),
    }[name]
    return make_kit(solve(job), replace(shop, machine=replace(shop.machine, marking=marking))).parts


@pytest.mark.parametrize("marking", ["score", "short"])
@pytest.mark.parametrize("name", ["demo", "pair", "a", "b"])
def test_no_kit_has_any_of_them(name, marking):
    """Every part, marked in full and in short."""
    assert {part.slug: found for part in kit(name, marking) if (found := misread(part))} == {}
