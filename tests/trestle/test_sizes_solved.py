"""Several sizes solved: a job in; legs, numbers, tables and the cut list of each size out."""

import re
from dataclasses import astuple, replace
from math import radians, sqrt, tan

import pytest
from sample_jobs import DEMO, JOB_A
from trestle_on_solids import finished_leg

from jigmaker.job.job import Size, lean_for
from jigmaker.trestle.cut_list import cut_list
from jigmaker.trestle.numbers import numbers_of
from jigmaker.trestle.solve import solve, solve_sizes
from jigmaker.trestle.stance import chosen_lean_words
from jigmaker.trestle.table_text import table_text

THREE = replace(DEMO, trestles=2, further_sizes=(Size(3, 800.0, 900.0), Size(1, 520.0, 700.0)))


def stretched(job):
    """A leg's length for 1 of height: the root of 1 and the squares of both cotangents."""
    return sqrt(1 + sum(tan(radians(90 - angle)) ** 2 for angle in (job.rake_deg, job.splay_deg)))


@pytest.mark.parametrize("job", [THREE, replace(JOB_A, further_sizes=(Size(1, 600.0, 1240.0),))], ids=["demo", "a"])
def test_each_size_has_its_own_legs_and_feet(job) -> None:
    """Legs as long as the height asks, feet as far out; angles, housing and brace are one for all."""
    trestles = solve_sizes(job)
    for size, trestle in zip(job.sizes, trestles, strict=True):
        assert trestle.leg.length_mm == pytest.approx(size.height_mm * stretched(job), abs=1e-9)
        out = size.height_mm * tan(radians(90 - job.rake_deg))
        assert trestle.foot.spread_along_mm == pytest.approx(size.top_length_mm - 2 * job.inset_mm + 2 * out)
        assert trestle.angles == trestles[0].angles
        for record in ("housing", "brace"):
            assert astuple(getattr(trestle, record)) == pytest.approx(astuple(getattr(trestles[0], record)))
    assert solve(job).leg == trestles[0].leg


def test_numbers_tell_every_size() -> None:
    """What all have alike is told of the first; a plain job has no sizes."""
    numbers = numbers_of(solve(THREE))
    assert numbers["job"]["trestles"] == 6
    assert [(s["trestles"], s["height_mm"], s["top_length_mm"]) for s in numbers["sizes"]] == [
        (2, 720.0, 900.0),
        (3, 800.0, 900.0),
        (1, 520.0, 700.0),
    ]
    assert [size["leg"]["length_mm"] for size in numbers["sizes"]] == pytest.approx(
        [size.height_mm * stretched(THREE) for size in THREE.sizes], abs=1e-6
    )
    assert numbers["sizes"][0]["leg"] == numbers["leg"]
    assert "sizes" not in numbers_of(solve(DEMO))


def test_the_cut_list_has_legs_longest_first_and_one_spare_of_the_longest() -> None:
    """Boards of two lengths have rows of their own; braces, screws and glue are for all six."""
    rows = {row.what: row for row in cut_list(solve(THREE))}
    assert list(rows)[:7] == [
        "leg for size 800 mm",
        "leg for size 720 mm",
        "leg for size 520 mm",
        "top board for size 720 mm",
        "top board for size 800 mm",
        "top board for size 520 mm",
        "brace",
    ]
    assert [
        (rows[f"leg for size {high} mm"].batch, rows[f"leg for size {high} mm"].spare) for high in (800, 720, 520)
    ] == [
        (12, 1),
        (8, 0),
        (4, 0),
    ]
    assert (rows["brace"].batch, rows["brace"].spare) == (12, 1)
    plain = {row.what: row for row in cut_list(solve(replace(DEMO, trestles=6)))}
    assert [rows[name].batch for name in list(rows)[7:]] == [plain[name].batch for name in list(plain)[3:]]


def test_boards_of_one_length_are_one_row() -> None:
    """Where only heights differ, all top boards are alike."""
    rows = {row.what: row for row in cut_list(solve(replace(THREE, further_sizes=(Size(3, 800.0, 900.0),))))}
    assert rows["top board"].batch == 5


def test_the_table_on_the_screen_tells_what_differs_of_each_size() -> None:
    """Legs and feet of each; the brace once. In the unit that is asked for."""
    said = table_text(solve(THREE), "mm")
    assert "2 trestles, 720 mm high; 3 trestles, 800 mm high; 1 trestle, 520 mm high" in said
    for high in (720, 800, 520):
        assert f"\nLeg; size {high} mm\n" in said and f"\nFeet on the floor, along the board; size {high} mm\n" in said
    assert said.count("\nBrace, on its inside face\n") == 1
    assert "all 24 are one piece but for their lengths" in said
    assert '\nLeg; size 31 1/2"\n' in table_text(solve(THREE), "in")


def test_the_words_of_a_chosen_lean_tell_the_greatest_height() -> None:
    """800 mm high, not the first size's 720: its foot stands 800 / 4.01 out."""
    angle = lean_for(800.0)[1]
    said = chosen_lean_words(replace(THREE, rake_deg=angle, splay_deg=angle, angle_chosen=True))
    assert "was chosen from the greatest height" in said and f"{800 * tan(radians(90 - angle)):.2f}".rstrip("0") in said


def test_the_lean_is_told_at_a_foots_outer_corner() -> None:
    """On the solid: how far the foot stands out of the board's edge at most, reveal and all, to a hundredth of a mm."""
    angle = lean_for(720.0, 4.0)[1]
    job = replace(
        DEMO, housing=replace(DEMO.housing, reveal_mm=4.0), rake_deg=angle, splay_deg=angle, angle_chosen=True
    )
    out = max(y for _, y, z in finished_leg(job).corners if z < 1e-6 - job.height_mm) - job.top.width_mm / 2
    told = re.findall(r"a foot's outer corner ([\d.]+) mm out", chosen_lean_words(job))
    assert [float(each) for each in told] == pytest.approx([out], abs=0.006)
