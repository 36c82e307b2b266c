"""The table of angles and lengths as data and as text: sets that agree, parts that add up, words a sawyer needs."""

import re
from dataclasses import fields, replace
from fractions import Fraction
from math import atan, degrees

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B, a_job
from trestle_on_solids import measured_foot, random_valid_jobs

from jigmaker.trestle.angle_table import angle_rows
from jigmaker.trestle.length_table import length_rows, steps_that_add_up
from jigmaker.trestle.records import Angles
from jigmaker.trestle.solve import solve
from jigmaker.trestle.table_text import table_text

PLUMB = a_job(700, (90, 90), 120, (900, 200, 30), (70, 40))
UNEQUAL = replace(JOB_A, leg=replace(JOB_A.leg, horn_mm=5, trim_mm=25))
NARROW_STANCE = a_job(300, (88, 62), 140, (905.3, 163.1, 31.7), (61.9, 33.3), reveal=1.7)
JOBS = [DEMO, JOB_A, JOB_B, PLUMB, UNEQUAL, NARROW_STANCE, *random_valid_jobs(seed=71, count=40)]
UNITS = ("mm", "in")


def every_job(test):
    return pytest.mark.parametrize("job", JOBS, ids=range(len(JOBS)))(test)


def figure_mm(shown):
    """A printed length, read without the product: "12.30 mm", '3 1/64"', '1/2"'."""
    if shown.endswith(" mm"):
        return Fraction(shown.removesuffix(" mm"))
    assert shown.endswith('"')
    return sum(Fraction(word) for word in shown.removesuffix('"').split()) * Fraction("25.4")


@every_job
def test_every_angle_is_told_as_a_set_that_agrees(job):
    """Off square and from the edge make 90, 1 : n and the rise in 100 are that same angle."""
    trestle = solve(job)
    rows = angle_rows(trestle)
    assert sorted(f"{row.key}_deg" for row in rows) == sorted(field.name for field in fields(Angles))
    for row in rows:
        assert Fraction(f"{row.off_square_deg:.2f}") + Fraction(f"{row.from_edge_deg:.2f}") == 90
        solved = getattr(trestle.angles, f"{row.key}_deg")
        assert min(abs(solved - row.off_square_deg), abs(solved - row.from_edge_deg)) <= 0.005 + 1e-9
        assert degrees(atan(row.rise_in_100 / 100)) == pytest.approx(row.off_square_deg, abs=0.005 + 1e-9)
        assert (row.slope_n is None) == (row.rise_in_100 == 0)
        assert row.slope_n is None or row.slope_n * row.rise_in_100 == pytest.approx(100)
        assert row.lies_on and row.reference


# Which of the two columns a name in numbers.json stands in: at 75 both ways off square is the smaller of the two.
OFF_SQUARE_AT_75 = {
    "rake": 15,
    "splay": 15,
    "true_lean": 20.75,
    "saw_mitre": 14.51,
    "saw_tilt": 15,
    "saw_mitre_on_edge": 15.47,
    "saw_tilt_on_edge": 14.01,
    "leg_face": 14.51,
    "leg_edge": 15.47,
    "edge_line": 14.04,
    "edge_twist": 3.83,
    "wall": 3.84,
    "brace_end": 14.51,
    "brace_end_tilt": 3.84,
    "brace_edge": 15,
    "brace_wedge": 3.84,
}


def test_no_angle_stands_in_the_wrong_column():
    """Rake and splay 75: lean 20.75 (arithmetic of a worked example), saw 14.511 / 15 / 15.471 / 14.006 (OpenCASCADE),
    hopper butt tilt 3.841 (Building Trades Pocketbook), the other two from tan and sin by hand."""
    rows = angle_rows(solve(a_job(720, (75, 75), 120, (900, 120, 45), (70, 32))))
    assert {row.key: row.off_square_deg for row in rows} == OFF_SQUARE_AT_75


@every_job
@pytest.mark.parametrize("unit", UNITS)
def test_printed_parts_add_up_to_the_printed_whole(job, unit):
    """Added on paper, the parts of a chain give the whole as printed; the whole is rounded to the nearest step."""
    step = Fraction("0.01") if unit == "mm" else Fraction("25.4") / 64
    chain, wholes = Fraction(0), 0
    for row in length_rows(solve(job), unit):
        shown = figure_mm(row.shown)
        if row.is_whole:
            assert shown == chain
            assert abs(shown - Fraction(row.value_mm)) <= step / 2 + Fraction(1, 10**9)
            chain, wholes = Fraction(0), wholes + 1
        else:
            chain += row.times * shown
            near = step * Fraction(3, 2) if row.times else step / 2
            assert abs(shown - Fraction(row.value_mm)) <= near + Fraction(1, 10**9)
    assert (chain, wholes) == (0, 5)


@pytest.mark.parametrize(
    ("parts", "total", "expected"),
    [
        ([(10.4, 2), (79.2, 1)], 100, (10, 80)),  # 11 would leave 78, 1.2 off
        ([(10.5, 2), (79.0, 1)], 100, (10, 80)),  # 11 and 78 are as good: the first is taken
        ([(10.6, 2), (78.8, 1)], 100, (11, 78)),
        ([(10.6, 1), (20.6, 1), (30.6, 1)], 62, (10, 21, 31)),  # 61.8 in all: one of them must go down
        ([(7.4, 2), (3.4, 2), (78.4, 1)], 100, (7, 4, 78)),  # 7, 3 would leave 80; one goes up
        ([(31.4, 1), (4.3, 2)], 40, (32, 4)),  # the one that occurs once takes what is left
        ([(5.0, 1)], 5, (5,)),
    ],
)
def test_steps_that_add_up(parts, total, expected):
    """Worked by hand: down or up, the worst part as little off as can be."""
    assert steps_that_add_up(parts, total) == expected
    assert sum(count * times for count, (_, times) in zip(expected, parts, strict=True)) == total


@every_job
@pytest.mark.parametrize("unit", UNITS)
def test_the_text_fits_the_page_and_holds_no_crumbs(job, unit):
    """At most 100 columns, plain lines, no minus zero, no exponent, no column that runs into the next."""
    printed = table_text(solve(replace(job, unit=unit, name="Bänke & Böcke " * 5, angle_chosen=True)), unit)
    assert max(len(line) for line in printed.splitlines()) <= 100
    assert not re.search(r"-0\b|\de[-+]?\d|nan|inf|None", printed)
    assert not [line for line in printed.splitlines() if line != line.rstrip()]
    sets = re.findall(r"  +(\d+\.\d\d)  (\d+\.\d\d) from \S.*?  +(square|1 : [\d.]+)  +(\d+\.\d\d)$", printed, re.M)
    assert len(sets) == len(fields(Angles))
    assert all(Fraction(off) + Fraction(edge) == 90 for off, edge, _, _ in sets)
    assert (" mm" in printed) == (unit == "mm")


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B, NARROW_STANCE])
def test_the_foot_can_be_found_again_from_the_printed_slope(job):
    """Height x rise in 100 puts the feet within 1 mm of the solid's: the angles are printed finely enough."""
    rise = {row.key: float(f"{row.rise_in_100:.2f}") / 100 for row in angle_rows(solve(job))}
    flush = replace(job, housing=replace(job.housing, reveal_mm=0.0))
    spread = measured_foot(flush)
    along = job.top.length_mm - 2 * job.inset_mm + 2 * job.height_mm * rise["rake"]
    across = job.top.width_mm + 2 * job.height_mm * rise["splay"]
    assert (along, across) == pytest.approx((spread["spread_along_mm"], spread["spread_across_mm"]), abs=1)


DEMO_LINES = [
    # figures of a B-rep kernel (OpenCASCADE) to two decimals; clearance 0.15
    "Potting bench: 6 trestles, 720 mm high",
    r"rake +seen from the side +12\.00 +78\.00 from the level +1 : 4\.70 +21\.26",
    r"true lean .* 16\.73 +73\.27 from the level",
    r"mitre +leg lying on its wide face +11\.75 +78\.25 from the leg's arris",
    r"blade tilt +leg lying on its wide face +12\.00 +78\.00 from the table",
    r"wall +board's edge +11\.50 +78\.50 from the top arris",
    r"wall +board's top and bottom +2\.48 +87\.52 from the arris",
    r"end line +brace's face +11\.75 +78\.25 from its long edge",
    r"finished, along any of its arrises +751\.83 mm",
    r"= +shortest board for one leg +773\.33 mm",
    r"2 x board's end to the near wall +119\.92 mm",
    r"2 x near wall to far wall +71\.65 mm",
    r"board's end to the near wall +110\.77 mm",
    r"the same if the walls are sawn square across +110\.36 mm",
    r"2 x depth +32\.71 mm",
    r"2 x depth +23\.15 mm",
    r"along the top edge, under the board +139\.13 mm",
    r"its outer face, back from the board's end +92\.03 mm",
    r"over the outer corners +966\.08 mm",
    r"over the outer corners +426\.08 mm",
    "A leg has no hand: all 24 are one piece",
    r"Outer wide face down, head to your left: the far end of the cut lies 11\.75° toward the foot, the blade's top "
    r"leans 12\.00° toward the head",
    r"Narrow edge that looks to the board's end down, head to your left: the far end of the cut lies 12\.25° toward "
    r"the head, the blade's top leans 11\.48° toward the head",
    r"A wall sawn square across the board meets the housing's floor at 87\.52°",
]


@pytest.mark.parametrize("line", DEMO_LINES)
def test_the_demo_s_table(line):
    """What a woodworker looks for stands there, with its face and its reference."""
    assert re.search(line, re.sub(r"\n +", " ", table_text(solve(DEMO), "mm")))


def test_a_chosen_angle_is_said_aloud():
    """And one that was given is not."""
    words = "No angle was given. 76° off the level was chosen from the height"
    assert words in table_text(solve(replace(DEMO, angle_chosen=True)), "mm")
    assert words not in table_text(solve(DEMO), "mm")


def test_plumb_legs_are_sawn_square():
    """At 90 the table says square, and does not warn of walls that need no planing."""
    printed = table_text(solve(PLUMB), "mm")
    assert "the cut runs square across, the blade stands upright." in printed
    assert "planed to fit" not in printed
    assert len(re.findall(r" square +0\.00$", printed, re.M)) == len(fields(Angles))


def test_horn_and_trim_stand_in_the_leg_s_chain():
    """They are parts of the shortest board; without them there is no row for them."""
    names = [row.name for row in length_rows(solve(UNEQUAL), "mm")]
    assert [n for n in names if "sawn off after assembly" in n] == [
        "horn left on the head, sawn off after assembly",
        "trim left on the foot, sawn off after assembly",
    ]
    assert not [row.name for row in length_rows(solve(DEMO), "mm") if "sawn off" in row.name]


def test_feet_inside_the_board_are_said_to_be_inside():
    """No negative length: the word changes instead."""
    rows = {row.name: row.shown for row in length_rows(solve(NARROW_STANCE), "mm") if row.group.startswith("Feet")}
    assert "inside the board's end, each" in rows and "beyond the board's edge, each" in rows
    assert not [shown for shown in rows.values() if shown.startswith("-")]


def test_inches_are_sixty_fourths():
    """A printed inch length has a denominator that divides 64; under 1/16 it may be told in thousandths."""
    for row in length_rows(solve(DEMO), "in"):
        figure = row.shown.removesuffix('"')
        assert re.fullmatch(r"(\d+ )?\d+/(2|4|8|16|32|64)|\d+|0\.0\d\d?", figure), row
