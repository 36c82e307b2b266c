"""What matters, against solids: one figure put off, the rest as asked, and feet, play and height measured again."""

from dataclasses import replace
from functools import cache
from math import cos, radians, sin, tan

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B
from trestle_on_solids import directions, extent, farthest, finished_leg, housing

from jigmaker.geometry.vectors import length, scale, subtract
from jigmaker.job.rules import section_of
from jigmaker.job.sections import JOB
from jigmaker.trestle.what_matters import what_matters

REVEALED = replace(DEMO, rake_deg=84.0, housing=replace(DEMO.housing, reveal_mm=3.0))
JOBS = [DEMO, JOB_A, JOB_B, REVEALED]
ALL = pytest.mark.parametrize("job", JOBS)

FIELDS = {"rake_deg": "rake_deg", "splay_deg": "splay_deg"}


def changed(job, key, by):
    """The job with one figure of its file off."""
    section, name = key.split(".")
    field = FIELDS.get(name, f"{name}_mm")
    record = job if section == "trestle" else getattr(job, section)
    moved = replace(record, **{field: getattr(record, field) + by})
    return moved if section == "trestle" else replace(job, **{section: moved})


@cache
def corners(job):
    return finished_leg(job).corners


def foot(job):
    """The outer corner of the foot toward the board's end, from the middle of the board."""
    down, wide, edge, _ = directions(job)
    return farthest(corners(job), wide, edge, down)


def arris_mm(job):
    down, wide, edge, _ = directions(job)
    return length(subtract(foot(job), farthest(corners(job), wide, edge, scale(down, -1))))


def matters(job):
    return {matter.key: matter for matter in what_matters(job)}


def test_every_figure_of_the_job_file_has_its_row():
    """The table of rules is the judge: all lengths and angles but wood that is sawn off again, in the file's order."""
    rules = [f"{s.name}.{r.key}" for s in JOB if not s.is_optional for r in s.rules if r.kind in ("length", "angle")]
    assert list(matters(DEMO)) == [key for key in rules if key not in ("leg.horn", "leg.trim")]
    assert all(section_of(JOB, key.split(".")[0]) for key in matters(DEMO))
    assert {m.step for m in what_matters(DEMO)} == {1.0, 0.1}
    inches = {m.key: m for m in what_matters(replace(DEMO, unit="in"))}
    assert inches["trestle.height"].step * 32 / 25.4 == pytest.approx(1)


@ALL
@pytest.mark.parametrize("key", ["trestle.height", "trestle.inset", "top.length", "top.width", "top.thickness"])
def test_lengths_move_the_foot_as_on_solids(job, key):
    """Both ways, the whole of the difference."""
    row = matters(job)[key]
    for sign, effect in ((1, row.more), (-1, row.less)):
        moved = subtract(foot(changed(job, key, sign * row.step)), foot(job))
        assert (effect.foot_along_mm, effect.foot_across_mm) == pytest.approx(moved[:2], abs=1e-6)
        assert effect.height_mm == pytest.approx(-moved[2], abs=1e-6)
        assert effect.gap_mm == effect.proud_mm == 0


@ALL
@pytest.mark.parametrize("key", ["trestle.rake_deg", "trestle.splay_deg"])
def test_angles_are_off_with_legs_as_long_as_asked(job, key):
    """The leg on the solid at the other angle and the height told is as long as the leg as asked."""
    row = matters(job)[key]
    assert (row.step, row.unit) == (0.1, "deg")
    for sign, effect in ((1, row.more), (-1, row.less)):
        off = changed(job, key, sign * 0.1)
        off = replace(off, height_mm=job.height_mm + effect.height_mm)
        assert arris_mm(off) == pytest.approx(arris_mm(job), abs=1e-6)
        moved = subtract(foot(off), foot(job))
        assert (effect.foot_along_mm, effect.foot_across_mm) == pytest.approx(moved[:2], abs=1e-6)


@ALL
def test_a_leg_that_is_wider_does_not_go_in(job):
    """Play on the solids: the housing as asked, less the leg as it is."""
    row = matters(job)["leg.width"]
    edge = directions(job)[2]
    for sign, effect in ((1, row.more), (-1, row.less)):
        play = extent(housing(job).corners, edge) - extent(corners(changed(job, "leg.width", sign)), edge)
        assert effect.gap_mm == pytest.approx(play - job.housing.clearance_mm, abs=1e-6)


@ALL
def test_a_thicker_leg_stands_proud(job):
    """Moved out square to its face in a housing as deep as asked."""
    row = matters(job)["leg.thickness"]
    wide = directions(job)[1]
    by_hand = 1 / sin(radians(job.splay_deg))
    for sign, effect in ((1, row.more), (-1, row.less)):
        assert effect.proud_mm == sign
        assert effect.foot_across_mm == pytest.approx(sign * by_hand, abs=1e-9)
    off = replace(changed(job, "leg.thickness", 1.0), housing=changed(job, "housing.reveal", 1.0).housing)
    floors = [min(sum(a * b for a, b in zip(p, wide, strict=True)) for p in corners(j)) for j in (job, off)]
    assert floors[0] == pytest.approx(floors[1], abs=1e-6)  # the inner face stays on the floor
    moved = subtract(foot(off), foot(job))
    assert (row.more.foot_along_mm, row.more.foot_across_mm) == pytest.approx(moved[:2], abs=1e-6)


def test_what_a_job_cannot_have_is_left_out():
    """A reveal of less than 0; a splay of more than 90; clearances go by tenths."""
    plumb = matters(replace(DEMO, splay_deg=90.0))
    assert matters(DEMO)["housing.reveal"].less is None
    assert matters(REVEALED)["housing.reveal"].less.proud_mm == -1
    assert plumb["trestle.splay_deg"].more is None and plumb["trestle.splay_deg"].less is not None
    clearance = matters(DEMO)["housing.clearance"]
    assert (clearance.step, clearance.more.gap_mm, clearance.less.gap_mm) == pytest.approx((0.1, 0.1, -0.1))


def test_figures_summed_by_hand():
    """Demo: 1 mm of height moves a foot by cot 78 both ways; 0.1 degree of rake by about 752 mm x sin 0.1 degree less
    the little that the leg's end rises.
    """
    rows = matters(DEMO)
    assert rows["trestle.height"].more.foot_along_mm == pytest.approx(1 / tan(radians(78)))
    assert rows["trestle.inset"].more.foot_along_mm == pytest.approx(-1)
    assert rows["top.width"].more.foot_across_mm == pytest.approx(0.5)
    swing = 720 * (1 / tan(radians(78)) - 1 / tan(radians(78.1)))
    assert -rows["trestle.rake_deg"].more.foot_along_mm == pytest.approx(swing, abs=0.06)
    assert rows["trestle.rake_deg"].more.height_mm == pytest.approx(
        swing * cos(radians(78)) / sin(radians(78)), abs=0.03
    )
