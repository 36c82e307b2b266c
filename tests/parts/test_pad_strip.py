"""Spare pads sawn off their strip are pads still."""

from dataclasses import replace

import pytest
import shapely
from marks_on_parts import ink, mark_faults, measured, polygon, unmeasured
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B, a_job

from jigmaker.parts.foot_block import pad_size
from jigmaker.parts.pad_strip import pad_strip_parts
from jigmaker.trestle.solve import solve

SMALL = a_job(400, (75, 75), 120, (900, 80, 30), (24, 20))
JOBS = {"demo": DEMO, "a": JOB_A, "b": JOB_B, "small": SMALL}
SAW_MM = 3.2  # a common circular saw's cut; common practice, no source

every_job = pytest.mark.parametrize("name", JOBS)


def strip(name, length=600.0):
    shop = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=length, width_mm=150.0))
    (part,) = pad_strip_parts(solve(JOBS[name]), shop)
    return part


def saw_lines(part):
    return [ink(mark).bounds[0] for mark in part.marks if not mark.text]


def test_what_is_lost_is_a_saws_width():
    """The setting says so: its cut, across which a pad gets shorter."""
    assert any("a pad a saw's width shorter" in setting.why for setting in strip("demo").settings)


@every_job
def test_each_pad_sawn_on_the_lines_is_as_wide_as_a_pad_and_no_longer(name):
    """Four of them, each at most a saw's width shorter than a loose pad: inside the foot wherever that one is."""
    part, (along, wide) = strip(name), pad_size(solve(JOBS[name]))
    cuts = shapely.MultiLineString([[(x, -1), (x, 999)] for x in saw_lines(part)]).buffer(SAW_MM / 2, cap_style="flat")
    pads = shapely.get_parts(polygon(part).difference(cuts))
    assert len(pads) == 4
    for pad in pads:
        x0, y0, x1, y1 = pad.bounds
        assert along - SAW_MM - 1e-6 <= x1 - x0 <= along
        assert y1 - y0 == pytest.approx(wide)


@pytest.mark.parametrize(("length", "pads"), [(600.0, 4), (251.0, 4), (250.0, 3), (190.0, 2), (160.0, 2), (100.0, 2)])
def test_a_short_bed_holds_fewer_pads(length, pads):
    """Demo's pads are 60 long; 10 mm of margins and the cut go off the longer of bed's length and width (150)."""
    assert len(saw_lines(strip("demo", length))) + 1 == pads


@every_job
def test_marks_and_features(name):
    """Marks inside and clear of cuts, a word on every pad; every piece measured from its coordinates."""
    part = strip(name)
    assert mark_faults(part) == []
    assert " ".join(mark.text for mark in part.marks).count("SPARE") == 4
    assert not unmeasured(part)
    for feature in part.features:
        assert measured(part, feature) == pytest.approx(feature.value, abs=1e-9), feature
