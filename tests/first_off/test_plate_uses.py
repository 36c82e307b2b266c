"""What else a plate does: bush and cutter swept through the slot of the plate part itself, in the plane."""

from dataclasses import replace
from functools import cache
from math import cos, radians, sin, tan

import pytest
import shapely
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.first_off.plate_uses import BUSHES_MM, CUTTERS_MM, plate_uses
from jigmaker.job.shop import HandRouter
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.housing_jig.plate import plate
from jigmaker.trestle.solve import solve

CASES = [(DEMO, DEMO_SHOP), (JOB_A, DEMO_SHOP), (JOB_B, DEMO_SHOP), (DEMO, BEARING_SHOP)]
ALL = pytest.mark.parametrize(("job", "shop"), CASES)


@cache
def plate_part(job, router):
    """The plate's layout and its part; marks are of no account here."""
    shop = replace(DEMO_SHOP, hand_router=router)
    (layout, *_) = lay_out_jigs(solve(job), shop)
    return layout, plate(layout, shop)


def slot(job, shop):
    """The R slot as cut from the part: x from the middle of the jig, v from the plane through the top arris."""
    layout, part = plate_part(job, shop.hand_router)
    return shapely.Polygon([(x, y + layout.plate_front) for x, y in part.contour("slot R").points(8)])


def swept(job, shop, bush, cutter):
    """All that the cutter clears while the bush is fed round the slot."""
    return slot(job, shop).buffer(-bush / 2, join_style="mitre", mitre_limit=20).buffer(cutter / 2, quad_segs=16)


def wood(job):
    """v of the board's front and rear at the housing's floor and edge: from -d cot b to T sin b."""
    b = radians(job.splay_deg)
    depth = job.leg.thickness_mm - job.housing.reveal_mm
    return -depth / tan(b), job.top.thickness_mm * sin(b)


@ALL
def test_a_use_s_housing_is_as_wide_as_its_leg_and_clearance(job, shop):
    """Measured square to the walls on the swept cut, over the whole of the wood; its middle stays where it was."""
    uses = plate_uses(solve(job), shop)
    assert len(uses) > 10
    front, rear = wood(job)
    lean = 1 / tan(radians(job.rake_deg)) * sin(radians(job.splay_deg))
    own = next(use for use in uses if use.is_own)
    for use in uses[:: max(1, len(uses) // 8)] + (own,):
        cut = swept(job, shop, use.bush_mm, use.cutter_mm)
        middles = []
        for v in (front + 1e-6, (front + rear) / 2, rear - 1e-6):
            across = cut.intersection(shapely.LineString([(-2000, v), (2000, v)]))
            low, _, high, _ = across.bounds
            width = (high - low) / (1 + lean**2) ** 0.5
            assert width == pytest.approx(use.leg_width_mm + job.housing.clearance_mm, abs=2e-3)
            middles.append((low + high) / 2 - lean * v)
        at_own = swept(job, shop, own.bush_mm, own.cutter_mm).intersection(
            shapely.LineString([(-2000, 10), (2000, 10)])
        )
        assert max(middles) - min(middles) < 4e-3
        assert middles[0] == pytest.approx((at_own.bounds[0] + at_own.bounds[2]) / 2 - lean * 10, abs=4e-3)
        # so a narrower leg begins farther from the end, by half of what it lacks along the arris
        wider = (job.leg.width_mm - use.leg_width_mm) * (1 + lean**2) ** 0.5
        assert use.inset_mm - job.inset_mm == pytest.approx(wider / 2, abs=1e-9)


@ALL
def test_cutters_start_and_end_clear_of_the_wood(job, shop):
    """With the bush in the slot's front end the whole cutter is before the wood."""
    front, _ = wood(job)
    for use in plate_uses(solve(job), shop):
        centres = slot(job, shop).buffer(-use.bush_mm / 2, join_style="mitre", mitre_limit=20)
        assert centres.bounds[1] + use.cutter_mm / 2 <= front + 1e-3, use


@ALL
def test_the_own_pair_houses_the_job_s_leg(job, shop):
    """One row, marked, and it is the job."""
    (own,) = [use for use in plate_uses(solve(job), shop) if use.is_own]
    assert (own.bush_mm, own.cutter_mm) == (shop.hand_router.bush_mm, shop.hand_router.cutter_mm)
    assert (own.leg_width_mm, own.inset_mm) == pytest.approx((job.leg.width_mm, job.inset_mm))


def test_figures_summed_by_hand():
    """Demo: slot 70.15 + 17 - 12 = 75.15. A 16 mm bush with a 12 mm cutter: 75.15 - 4 - 0.15 = 71."""
    by_pair = {(use.bush_mm, use.cutter_mm): use.leg_width_mm for use in plate_uses(solve(DEMO), DEMO_SHOP)}
    assert by_pair[16, 12] == pytest.approx(71)
    assert by_pair[20, 12] == pytest.approx(67)
    assert by_pair[20, 10] == pytest.approx(65)
    assert list(by_pair.values()) == sorted(by_pair.values())


LEFT_OUT = [
    ((13, 12), "the cutter does not pass a bush of 13"),
    ((17, 16), "nor one of 17 with walls of 1 mm"),
    ((30, 20), "the cutter would not leave the wood behind"),
]


@pytest.mark.parametrize(("pair", "why"), LEFT_OUT, ids=[str(pair) for pair, _ in LEFT_OUT])
def test_pairs_that_do_not_work_are_left_out(pair, why):
    """Each for a reason of its own; the pair is in the lists."""
    assert pair[0] in BUSHES_MM["mm"] and pair[1] in CUTTERS_MM["mm"]
    assert pair not in {(use.bush_mm, use.cutter_mm) for use in plate_uses(solve(DEMO), DEMO_SHOP)}, why
    _, rear = wood(DEMO)
    centres = slot(DEMO, DEMO_SHOP).buffer(-pair[0] / 2, join_style="mitre", mitre_limit=20)
    # The cutter's last point in a wall, which slants by 90 less the face angle.
    assert pair[0] - pair[1] < 2 or centres.bounds[3] - pair[1] / 2 * (1 + cos(radians(78.255))) < rear


def test_the_bore_of_the_own_bush_decides_where_it_is_known():
    """A 17 mm bush with a bore of 12.5 takes 12 and not 12.7, whatever its wall might be."""
    shop = replace(DEMO_SHOP, hand_router=HandRouter(150, 17, 12, 55, bush_length_mm=6, bush_bore_mm=12.5))
    cutters = {use.cutter_mm for use in plate_uses(solve(DEMO), shop) if use.bush_mm == 17}
    assert 12 in cutters and 12.7 not in cutters
    without = {use.cutter_mm for use in plate_uses(solve(DEMO), DEMO_SHOP) if use.bush_mm == 17}
    assert 12.7 in without


def test_inch_jobs_get_inch_bushes():
    """3/4 and 1/2 in, an offset of 1/8 in a side (published in a router users' forum, secondary)."""
    job = replace(DEMO, unit="in")
    uses = plate_uses(solve(job), DEMO_SHOP)
    use = next(use for use in uses if (use.bush_mm, use.cutter_mm) == pytest.approx((19.05, 12.7)))
    assert 75.15 - 0.15 - use.leg_width_mm == pytest.approx(2 * 25.4 / 8)
    assert all(use.is_own or use.bush_mm * 64 / 25.4 == pytest.approx(round(use.bush_mm * 64 / 25.4)) for use in uses)
