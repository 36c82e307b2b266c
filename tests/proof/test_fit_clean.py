"""What can be made proves: the demo, two jobs of other proportions, machines, guides, hands, angles and bridges."""

from dataclasses import replace
from functools import cache

import pytest
from folders_from_records import folder_of
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B
from sample_variants import JOBS, SHOPS

from jigmaker.proof.expected import SEATS
from jigmaker.proof.use.fit import prove_fit

BRIDGED = replace(DEMO_SHOP, machine=replace(DEMO_SHOP.machine, bridges=2))
NOMINAL_ONLY = replace(DEMO_SHOP, machine=replace(DEMO_SHOP.machine, compensation="left out"))
CROOKED = replace(
    DEMO_SHOP,
    machine=replace(
        DEMO_SHOP.machine, kerf_x_mm=0.15, kerf_y_mm=0.25, scale_x=1.002, scale_y=0.999, skew_deg=0.1, bridges=1
    ),
)
SPREAD = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, thickness_spread_mm=0.3))

SMALL_BASE = replace(SHOPS["cnc, bush, one hand"], hand_router=replace(DEMO_SHOP.hand_router, base_mm=118, bush_mm=13))

CASES = {
    "demo": (DEMO, DEMO_SHOP),
    "a": (JOB_A, DEMO_SHOP),
    "b": (JOB_B, DEMO_SHOP),
    "cnc, one hand": (DEMO, SHOPS["cnc, bush, one hand"]),
    "cnc with a 6 mm cutter": (DEMO, SHOPS["cnc with a 6 mm cutter"]),
    "bearing, one hand": (DEMO, SHOPS["laser, bearing, one hand"]),
    "inches": (JOBS["inches"], SHOPS["sheet 1/4 in"]),
    "plumb": (JOBS["90/90"], DEMO_SHOP),
    "flat": (JOBS["60/60"], DEMO_SHOP),
    "reveal": (JOBS["reveal 6"], DEMO_SHOP),
    "bridges": (DEMO, BRIDGED),
    "nominal only": (DEMO, NOMINAL_ONLY),
    "uneven sheet": (DEMO, SPREAD),
    "crooked machine": (DEMO, CROOKED),
    "cnc, small base": (DEMO, SMALL_BASE),
}

WHOLE = ("demo", "bridges")
"""Judged with their nominal files and their sheets."""


@cache
def judged(name):
    job, shop = CASES[name]
    if name not in WHOLE and shop is not NOMINAL_ONLY:
        shop = replace(shop, machine=replace(shop.machine, compensation="included"))
    return prove_fit(folder_of(job, shop, with_sheets=name in WHOLE))


@pytest.mark.parametrize("name", CASES)
def test_what_is_made_proves_and_every_leg_has_half_the_clearance_on_either_side(name):
    """No finding; gap at each wall half of the clearance asked for, reveal as asked, at all four seats."""
    job, _ = CASES[name]
    findings, figures = judged(name)
    assert findings == []
    assert [housing.seat for housing in figures.housings] == list(SEATS)
    for housing in figures.housings:
        gaps = (housing.near_gap_mm, housing.far_gap_mm)
        assert gaps == pytest.approx([job.housing.clearance_mm / 2] * 2, abs=1e-4)
        assert housing.reveal_mm == pytest.approx(job.housing.reveal_mm, abs=1e-4)


def test_the_demos_housing_has_the_published_figures():
    """Figures of the check job with a clearance of 0.15, by two independent solid kernels and closed form."""
    _, figures = judged("demo")
    (housing, *_) = figures.housings
    assert housing.width_on_arris_mm == pytest.approx(71.6502, abs=2e-4)
    assert (housing.depth_top_mm, housing.depth_bottom_mm) == pytest.approx((32.7149, 23.1499), abs=2e-4)
    assert (housing.start_top_mm, housing.start_bottom_mm) == pytest.approx((119.9234, 110.7718), abs=2e-4)
    assert housing.edge_line_deg == pytest.approx(78.5046, abs=2e-4)
    assert (figures.tilt_deg, figures.standoff_mm, figures.projection_mm) == pytest.approx((12, 7, 48.1), abs=1e-4)
    assert any(line.startswith("bevel plate, flank lower left: 78.000°, up to 0.140°") for line in figures.budgets)
