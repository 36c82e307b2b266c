"""numbers.json's content: its keys, its rounding, and the demo's figures as another solid kernel gave them."""

import json
from dataclasses import replace
from math import copysign

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B, a_job

from jigmaker.trestle.housing import hand_sawn_start_mm
from jigmaker.trestle.numbers import numbers_of, rounded
from jigmaker.trestle.solve import solve

SHAPE = {
    "angles_deg": "rake splay true_lean edge_line leg_face leg_edge saw_mitre saw_tilt "
    "saw_mitre_on_edge saw_tilt_on_edge wall edge_twist brace_end brace_end_tilt brace_edge brace_wedge",
    "leg": "length_mm cut_length_mm blank_mm level_width_mm along_per_leg_mm",
    "housing": "width_mm width_on_arris_mm depth_square_mm depth_top_mm depth_bottom_mm start_top_mm start_bottom_mm "
    "volume_mm3",
    "brace": "top_mm bottom_mm depth_mm gap_mm stand_back_mm",
    "foot": "spread_along_mm spread_across_mm",
}

# Height 720, rake and splay 78, top 900 x 120 x 45, leg 70 x 32, inset 120, no clearance: solids of a B-rep kernel
# (OpenCASCADE), measured.
CHECK_JOB = {
    "angles_deg": {
        "true_lean": 73.26920,
        "edge_line": 78.50462,
        "leg_face": 78.25487,
        "saw_mitre": 11.74513,
        "saw_tilt": 12,
        "wall": 87.52249,
        "edge_twist": 2.47520,
        "brace_end": 78.25487,
        "brace_end_tilt": 2.47751,
        "brace_edge": 78,
        "brace_wedge": 2.47751,
    },
    "leg": {"length_mm": 751.82639, "blank_mm": 773.32748, "level_width_mm": 71.49695},
    "housing": {
        "depth_top_mm": 32.71490,
        "depth_bottom_mm": 23.14985,
        "start_top_mm": 120,
        "start_bottom_mm": 110.84843,
    },
    "brace": {"top_mm": 139.13009, "gap_mm": 1.38327, "stand_back_mm": 92.03},
    "foot": {"spread_along_mm": 966.08145, "spread_across_mm": 426.08145},
}

# The same with a clearance of 0.15, jig and housings proved on solids of that kernel.
DEMO_HOUSING = {"start_top_mm": 119.9234, "start_bottom_mm": 110.7718, "width_on_arris_mm": 71.6502}
DEMO_FOUR_HOUSINGS_MM3 = 360244.6


def without_clearance(job):
    return replace(job, housing=replace(job.housing, clearance_mm=0.0))


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B])
def test_the_keys_are_the_agreed_ones(job):
    """Groups and keys in their order; the jig's group is added by who makes the kit."""
    numbers = numbers_of(solve(job))
    assert [name for name in numbers if name != "angles_off"] == ["schema", "job", *SHAPE]
    assert list(numbers["angles_off"]) == list(numbers["angles_deg"])
    assert {group: " ".join(numbers[group]) for group in SHAPE} == SHAPE
    assert (numbers["schema"], numbers["job"]) == ("jigmaker numbers 1", {"name": job.name, "trestles": 6})


def test_each_angle_says_what_it_is_off():
    """A mitre of 12 is off square and a bevel of 78 off the edge: words that no one can turn round."""
    off = numbers_of(solve(DEMO))["angles_off"]
    assert off["rake"] == "the level; seen from the side"
    assert off["edge_line"] == "the top arris; board's edge"
    assert off["saw_mitre"] == "square to the leg's arris; leg lying on its wide face"
    assert off["saw_tilt"] == "square to the table; leg lying on its wide face"
    small = [key for key, value in numbers_of(solve(DEMO))["angles_deg"].items() if value < 45]
    assert [key for key, words in off.items() if words.startswith("square to ")] == small


@pytest.mark.parametrize("group", CHECK_JOB)
def test_the_check_job_s_figures(group):
    """Every figure that the other kernel measured, to its last printed place."""
    numbers = numbers_of(solve(without_clearance(DEMO)))[group]
    off = {key: numbers[key] for key, value in CHECK_JOB[group].items() if abs(numbers[key] - value) > 6e-6}
    off.pop("stand_back_mm", None)  # printed to 0.01 only
    assert not off
    assert numbers.get("stand_back_mm", 92.03) == pytest.approx(92.03, abs=5e-3)


def test_the_demo_s_housing_as_cut():
    """A clearance of 0.15 opens both walls, each by half."""
    housing = numbers_of(solve(DEMO))["housing"]
    assert {key: housing[key] for key in DEMO_HOUSING} == pytest.approx(DEMO_HOUSING, abs=5e-5)
    assert 4 * housing["volume_mm3"] == pytest.approx(DEMO_FOUR_HOUSINGS_MM3, abs=0.05)


def test_a_wall_sawn_by_hand_starts_elsewhere():
    """Sawn square across at the rake the wall meets the bottom arris at 110.43495, not at 110.84843 (OpenCASCADE)."""
    assert hand_sawn_start_mm(DEMO) == pytest.approx(110.43495, abs=6e-6)


def test_horn_and_trim_lengthen_what_is_cut_and_nothing_else():
    """5 on the head and 25 on the foot, along the leg: 30 more of board, the trestle as high as before."""
    plain = numbers_of(solve(DEMO))
    longer = numbers_of(solve(replace(DEMO, leg=replace(DEMO.leg, horn_mm=5, trim_mm=25))))
    grown = {key: rounded(longer["leg"][key] - plain["leg"][key]) for key in plain["leg"]}
    assert grown == {"length_mm": 0, "cut_length_mm": 30, "blank_mm": 30, "level_width_mm": 0, "along_per_leg_mm": 30}
    assert {**longer, "leg": 0} == {**plain, "leg": 0}


def test_figures_have_six_decimals():
    """What is written reads back as the same number, and no figure has a seventh decimal."""
    numbers = numbers_of(solve(JOB_A))
    assert json.loads(json.dumps(numbers)) == numbers
    assert all(value == float(f"{value:.6f}") for group in SHAPE for value in numbers[group].values())


@pytest.mark.parametrize("angles", [(90, 90), (90, 72), (72, 90), (90, 60), (60, 90)])
def test_plumb_legs_leave_no_crumbs(angles):
    """At 90 an angle that vanishes is 0 to the last bit, a right angle 90, and nothing is minus zero."""
    numbers = numbers_of(solve(a_job(700, angles, 120, (900, 200, 30), (70, 40), reveal=2)))
    values = [value for group in SHAPE for value in numbers[group].values()]
    assert not [v for v in values if v == 0 and copysign(1, v) < 0]
    assert "e-" not in json.dumps(numbers)
    vanishing = ("wall", "edge_twist", "brace_end_tilt", "brace_wedge")
    assert [numbers["angles_deg"][key] for key in vanishing] == [90, 0, 0, 0]


@pytest.mark.parametrize(("value", "written"), [(-1e-9, "0.0"), (-0.0, "0.0"), (1.23456749, "1.234567"), (78, "78.0")])
def test_rounding(value, written):
    """Six decimals, and a number that rounds to nothing has no sign."""
    assert repr(rounded(value)) == written
