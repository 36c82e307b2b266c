"""How trestles stack, against solids cut from the job's keys: free at the pitch, in each other 5 mm below it."""

from dataclasses import replace
from math import cos, radians, sin

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B
from trestle_on_solids import random_valid_jobs
from whole_trestle import pieces_of

from jigmaker.geometry.solid import Solid
from jigmaker.stability.stacking import PITCH_MM, stacking_of
from jigmaker.trestle.solve import solve

PLUMB = replace(DEMO, rake_deg=90.0, splay_deg=90.0)
SHALLOW = replace(DEMO, brace=replace(DEMO.brace, depth_mm=60.0))
JOBS = [DEMO, JOB_A, JOB_B, PLUMB, SHALLOW, *random_valid_jobs(seed=57, count=4)]


@pytest.mark.parametrize("job", JOBS, ids=range(len(JOBS)))
def test_at_the_pitch_they_are_free_and_five_mm_below_they_are_not(job):
    """One solid on another of the same; above the pitch too they never meet, so that it can be lowered there."""
    found = stacking_of(solve(job))
    whole = Solid.union(pieces_of(job))
    share = [found.pitch_mm + (job.height_mm - found.pitch_mm) * i / 8 for i in range(9)]
    for offset in share:
        assert whole.common(whole.moved((0, 0, offset))).volume < 0.1
    assert whole.common(whole.moved((0, 0, found.pitch_mm - 5))).volume > 1


def test_the_pitch_of_legs_on_legs():
    """Worked by hand: a leg raised by p clears the one below by p cos(splay) square to its face, and is t thick."""
    found = stacking_of(solve(SHALLOW))
    assert found.pitch_mm == pytest.approx(32 / cos(radians(78)), abs=2 * PITCH_MM)
    assert ("leg", "leg") in found.meets
    assert found.is_nested
    assert found.stack_mm(6) == pytest.approx(720 + 5 * found.pitch_mm)


def test_the_pitch_of_braces_on_boards():
    """Worked by hand: the upper brace's lower edge comes down on the lower board, thickness and depth x sin(rake)."""
    found = stacking_of(solve(JOB_A))
    assert found.pitch_mm == pytest.approx(60 + 110 * sin(radians(82)), abs=2 * PITCH_MM)
    assert found.meets == (("brace", "top board"),)


def test_plumb_legs_do_not_nest():
    """They stand on top of each other, feet on the board below."""
    found = stacking_of(solve(PLUMB))
    assert found.pitch_mm == pytest.approx(720, abs=2 * PITCH_MM)
    assert not found.is_nested
