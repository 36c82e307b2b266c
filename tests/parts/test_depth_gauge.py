"""The depth gauge laid on housings in numbers: flush with either face, on ones of the right depth and a hair beyond."""

from dataclasses import replace
from math import radians, sin

import pytest
from cut_by_disc import extent_on, left_after_cutting
from jig_on_solids import board, slab
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, a_job

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.job.shop import Machine
from jigmaker.parts.depth_gauge import depth_gauge
from jigmaker.trestle.solve import solve

JOBS = {
    "demo": DEMO,
    "a": JOB_A,
    "proud": replace(DEMO, housing=replace(DEMO.housing, reveal_mm=4.0)),
    "small": a_job(400, (75, 75), 120, (900, 80, 30), (24, 20)),
}
CNC = Machine("cnc", 3.175)


def setting(part, name):
    return next(s.value for s in part.settings if s.name == f"depth gauge, {name}")


def lies_on(job, part, face, limit, deeper):
    """True when the gauge, flush with a face, comes down on one shoulder beside a housing that is so much deeper.

    It is tried at every place along the edge, either side up; the housing is `deeper` in both faces.
    """
    floor = (job.leg.thickness_mm - job.housing.reveal_mm) + deeper * sin(radians(job.splay_deg))
    wide, clear = job.leg.width_mm + job.housing.clearance_mm, job.housing.clearance_mm / 2
    housed = board(job).minus(slab(job, wide, floor, clear))
    _, _, length, height = part.outline.bounds
    up, tip, middle = (-1, height, -part.thickness_mm / 2) if face == "top" else (1, 0.0, part.thickness_mm / 2)
    middle -= 0.0 if face == "top" else job.top.thickness_mm
    y = job.top.width_mm / 2 - setting(part, f"{face} face, {limit}") + (tip if face == "top" else 0.0)
    flat = Solid.prism(part.outline, [], part.thickness_mm).moved((-length / 2, 0.0, -part.thickness_mm / 2))
    for side in (1, -1):
        gauge = flat.placed(Frame((0.0, y, middle), (side, 0, 0), (0, up, 0), (0, 0, side * up)))
        for step in range(-int(wide), 1):
            at = job.top.length_mm / 2 - job.inset_mm + step
            if gauge.moved((at, 0.0, 0.0)).common(housed).volume < 1e-6:
                return True
    return False


@pytest.mark.parametrize("face", ["top", "bottom"])
@pytest.mark.parametrize("name", ["demo", "a", "proud", "small"])
def test_depths_are_sorted_to_a_fifth_of_a_millimetre(name, face):
    """Low lies on any housing allowed and high on none; a hundredth beyond the limit of 0.2 mm it is told."""
    part, job = depth_gauge(solve(JOBS[name]), DEMO_SHOP), JOBS[name]
    for deeper, low_lies, high_lies in [(-0.21, False, False), (-0.19, True, False), (0.19, True, False)]:
        assert lies_on(job, part, face, "low", deeper) == low_lies, deeper
        assert lies_on(job, part, face, "high", deeper) == high_lies, deeper
    assert lies_on(job, part, face, "high", 0.21)


@pytest.mark.parametrize("compensation", ["included", "left out"])
def test_the_depth_gauge_is_right_whichever_file_is_cut(compensation):
    """Tip and shoulders face the same way: the kerf moves both alike."""
    part = depth_gauge(solve(DEMO), replace(DEMO_SHOP, machine=CNC))
    left = left_after_cutting(part, CNC, compensation)
    low_x, low_y, high_x, high_y = left.bounds
    middle = (low_x + high_x) / 2
    tips = extent_on(left, (middle, low_y - 1), (middle, high_y + 1))
    for x, limit in ((low_x + 12, "low"), (high_x - 12, "high")):
        shoulders = extent_on(left, (x, low_y - 1), (x, high_y + 1))
        assert shoulders[0] - tips[0] == pytest.approx(setting(part, f"bottom face, {limit}"), abs=1e-6)
        assert tips[1] - shoulders[1] == pytest.approx(setting(part, f"top face, {limit}"), abs=1e-6)


@pytest.mark.parametrize("width", [24.0, 40.0, 60.0, 65.0])
def test_beside_a_narrow_housing_tongue_and_shoulder_leave_four_millimetres_of_its_mouth(width):
    """Two to either side, so that no ragged arris holds the gauge off: common practice, no source. Measured between the
    edges that stand up from the shoulder over the mouth and from the far side of the tongue."""
    part = depth_gauge(solve(replace(DEMO, leg=replace(DEMO.leg, width_mm=width))), DEMO_SHOP)
    uprights = sorted({piece.start[0] for piece in part.outline.segments if piece.start[0] == piece.end[0]})
    left, right = (min(uprights, key=lambda x: abs(x - part.outline.bounds[2] / 2 - side)) for side in (-6, 6))
    shoulder = next(f for f in part.features if f.name == "bottom face, low shoulder")
    piece = part.outline.segments[shoulder.pieces[0]]
    assert piece.end[0] == pytest.approx(left)
    mouth = width + DEMO.housing.clearance_mm
    assert right - piece.start[0] == pytest.approx(mouth - 4, abs=1e-9)


@pytest.mark.parametrize("width", [24.0, 40.0, 60.0, 61.0, 62.0, 96.0])
def test_it_is_long_enough_to_be_held_and_read(width):
    """100 mm or more (common practice, no source), though both shoulders together must fit beside a narrow housing."""
    part = depth_gauge(solve(replace(DEMO, leg=replace(DEMO.leg, width_mm=width))), DEMO_SHOP)
    assert 100 - 1e-6 <= part.outline.bounds[2] <= 112
