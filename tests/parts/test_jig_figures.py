"""The housing jig's figures for three jobs, against an independent drawing proved on another solid kernel.

Rows: demo, (a) and (b); bush 17, cutter 12 unless a row says bearing-guided 12.7. The drawing has slots in which the
parked cutter is clear of the board and stands in the fence; where it is clear of both they are longer by as much as
`test_a_longer_slot_parks_the_cutter_before_the_fence` says.
"""

from dataclasses import replace
from functools import reduce
from itertools import product

import pytest
import shapely
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.job.shop import Machine
from jigmaker.parts.check import check_kit
from jigmaker.parts.housing_jig.bearer import bearer, end_bearer, stop
from jigmaker.parts.housing_jig.jig import jig_numbers, off_cut_mm
from jigmaker.parts.housing_jig.layout import lay_out, lay_out_jigs, least_standoff
from jigmaker.parts.housing_jig.plate import plate
from jigmaker.parts.housing_jig.strip import strip
from jigmaker.parts.housing_jig.support import bush_centres, least_support, support_bound
from jigmaker.trestle.solve import solve

JOBS = {"demo": DEMO, "a": JOB_A, "b": JOB_B}
FIGURES = {
    "standoff": (7.0, 7.5, 7.5),
    "projection": (48.1, 50.6, 43.6),
    "cut_front": (-20.302, -23.249, -20.735),
    "cut_rear": (55.852, 69.307, 50.325),
    "slot_front": (-22.802, -25.749, -23.235),
    "slot_rear": (58.352, 71.807, 52.825),
    "half": (212, 266, 166),
    "plate_high": (224, 278, 189.352),
    "plate_front": (-92.302, -95.249, -92.735),
    "plate_rear": (127.852, 141.307, 122.325),
    "lug_depth": (47, 51, 43),
    "strip_depth": (77, 105, 73),
    "side_bearer": (114.762, 136.299, 130.332),
    "wall_slope": (0.207912, 0.135095, 0.258819),
}
BEARING = {
    "half": (209, 263, 163),
    "plate_high": (221, 275, 185.900),
    "cut_front": (-21.002, -23.949, -21.435),
    "slot_rear": (55.852, 69.307, 50.325),
}


@pytest.mark.parametrize("figure", FIGURES)
@pytest.mark.parametrize(("index", "name"), list(enumerate(JOBS)))
def test_layout_figures(figure, index, name):
    """Every figure of the layout, to the drawing's last digit."""
    layout = lay_out(solve(JOBS[name]), DEMO_SHOP, "both", parks_clear=False)
    assert getattr(layout, figure) == pytest.approx(FIGURES[figure][index], abs=6e-4)


@pytest.mark.parametrize("figure", BEARING)
@pytest.mark.parametrize(("index", "name"), list(enumerate(JOBS)))
def test_bearing_guided_figures(figure, index, name):
    """The same with a 12.7 mm bearing-guided cutter: guide offset 0."""
    layout = lay_out(solve(JOBS[name]), BEARING_SHOP, "both", parks_clear=False)
    assert getattr(layout, figure) == pytest.approx(BEARING[figure][index], abs=6e-4)


@pytest.mark.parametrize("hands", ["both", "R"])
def test_a_longer_slot_parks_the_cutter_before_the_fence(hands):
    """Demo: the floor's edge at -32 cot 78, fence and 1.5 mm along a plate 12 off level, the cutter: -29.639."""
    layout, short = (lay_out(solve(DEMO), DEMO_SHOP, hands, parks_clear=clear) for clear in (True, False))
    assert layout.parks_clear and not short.parks_clear
    assert layout.cut_front == pytest.approx(-32 / 4.704630 - (9.1 + 1.5) / 0.978148 - 12, abs=1e-3)
    longer = short.cut_front - layout.cut_front
    assert short.plate_front - layout.plate_front == pytest.approx(longer) == pytest.approx(9.337, abs=1e-3)
    assert layout.cut_rear == short.cut_rear and layout.projection == short.projection


def test_a_slot_is_no_longer_than_base_and_bed_allow():
    """(a) has the widest legs; other beds lack depth, or the length for both slots in one plate."""
    assert [lay_out_jigs(solve(each), DEMO_SHOP)[0].parks_clear for each in (DEMO, JOB_A, JOB_B)] == [True, False, True]
    low = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, width_mm=233.0))
    assert not lay_out_jigs(solve(DEMO), low)[0].parks_clear and check_kit(solve(DEMO), low) == []
    short = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=459.0))
    assert [(each.hands, each.parks_clear) for each in lay_out_jigs(solve(DEMO), short)] == [("both", False)]


@pytest.mark.parametrize("base", [120, 150, 180])
@pytest.mark.parametrize("bush", [14, 17, 24, 30])
@pytest.mark.parametrize("name", JOBS)
def test_longer_slots_never_take_the_support_that_the_check_wants(name, bush, base):
    """Where the estimate lets a slot be longer, every disc on the whole plate (shapely) still has its support."""
    shop = replace(DEMO_SHOP, hand_router=replace(DEMO_SHOP.hand_router, bush_mm=bush, base_mm=base))
    layout = lay_out_jigs(solve(JOBS[name]), shop)[0]
    if layout.parks_clear:
        assert least_support(plate(layout, shop), layout) >= layout.needed_support


SLOT_CORNERS = {
    "demo": ((237.132, 69.500), (313.889, 69.500), (330.762, 150.654), (254.005, 150.654)),
    "a": ((291.051, 69.500), (393.120, 69.500), (406.299, 167.056), (304.230, 167.056)),
    "b": ((201.976, 69.500), (291.998, 69.500), (311.684, 145.559), (221.662, 145.559)),
}


@pytest.mark.parametrize("name", JOBS)
def test_slot_corners_in_the_part_frame(name):
    """The sharp corners of slot R, where the four walls' lines meet."""
    slot = plate(lay_out(solve(JOBS[name]), DEMO_SHOP, "both", parks_clear=False), DEMO_SHOP).contour("slot R")
    walls = [s for s in slot.segments if not s.bulge]
    met = sorted(meeting(a, b) for a, b in zip(walls, walls[1:] + walls[:1], strict=True))
    assert met == [pytest.approx(corner, abs=6e-4) for corner in sorted(SLOT_CORNERS[name])]


def meeting(a, b):
    """Where the lines through two pieces meet."""
    (x1, y1), (x2, y2), (x3, y3), (x4, y4) = a.start, a.end, b.start, b.end
    d = (x1 - x2) * (y3 - y4) - (y1 - y2) * (x3 - x4)
    one, two = x1 * y2 - y1 * x2, x3 * y4 - y3 * x4
    return ((one * (x3 - x4) - (x1 - x2) * two) / d, (one * (y3 - y4) - (y1 - y2) * two) / d)


SIZES = [
    ("plate", "demo", 448.0, 220.2),
    ("plate", "a", 556.0, 236.6),
    ("plate", "b", 378.7, 215.1),
    ("fence-or-back-strip", "demo", 402.8, 76.7),
    ("bearer", "demo", 210.0, 83.7),
    ("end-bearer", "demo", 151.3, 74.7),
    ("stop", "demo", 104.7, 69.7),
]


@pytest.mark.parametrize(("slug", "name", "length", "height"), SIZES)
def test_part_sizes(slug, name, length, height):
    """Outside sizes of the parts, to 0.1 mm."""
    layout = lay_out(solve(JOBS[name]), DEMO_SHOP, "both", parks_clear=False)
    ribs = [make((layout,), DEMO_SHOP) for make in (strip, bearer, end_bearer, stop)]
    part = next(p for p in (plate(layout, DEMO_SHOP), *ribs) if p.slug == slug)
    assert part.outline.bounds[2:] == pytest.approx((length, height), abs=0.07)


ONE_HANDED = [("demo", 278.4, 220.2), ("a", 333.2, 236.6), ("b", 243.7, 215.1)]


@pytest.mark.parametrize(("name", "length", "depth"), ONE_HANDED)
def test_one_handed_plate_sizes(name, length, depth):
    """A plate for one hand, made when two slots do not go on the bed."""
    layout = lay_out(solve(JOBS[name]), DEMO_SHOP, "R", parks_clear=False)
    assert plate(layout, DEMO_SHOP).outline.bounds[2:] == pytest.approx((length, depth), abs=0.06)
    assert off_cut_mm(layout) == pytest.approx(length, abs=0.06)  # the jig stands on a trial piece with all its plate


@pytest.mark.parametrize(("name", "margin"), [("demo", 62.5), ("a", 30.1), ("b", 61.1)])
def test_the_base_is_supported(name, margin):
    """Least distance of the router's axis from the edge of what carries it; samplings differ by up to 2 mm."""
    layout = lay_out(solve(JOBS[name]), DEMO_SHOP, "both", parks_clear=False)
    assert least_support(plate(layout, DEMO_SHOP), layout) == pytest.approx(margin, abs=2)


@pytest.mark.parametrize(
    ("name", "base", "margin"), [("demo", 150, 55), ("b", 150, 52), ("a", 150, 15), ("a", 170, 34)]
)
def test_support_with_a_bush_of_30(name, base, margin):
    """A larger bush opens the plate: job (a) is refused on a 150 base and passes on 170 (28.3 are wanted)."""
    shop = replace(DEMO_SHOP, hand_router=replace(DEMO_SHOP.hand_router, bush_mm=30, base_mm=base))
    layout = lay_out(solve(JOBS[name]), shop, "both", parks_clear=False)
    assert least_support(plate(layout, shop), layout) == pytest.approx(margin, abs=2)


@pytest.mark.parametrize("name", ["demo", "a", "b"])
@pytest.mark.parametrize("base", [90, 120, 150, 180, 210])
@pytest.mark.parametrize("bush", [14, 17, 24, 30, 40])
def test_the_bound_of_the_support_is_never_too_good(name, base, bush):
    """What carries the base is under it for certain: by shapely, with every disc and the whole plate, it is more."""
    shop = replace(DEMO_SHOP, hand_router=replace(DEMO_SHOP.hand_router, bush_mm=bush, base_mm=base))
    layout = lay_out(solve(JOBS[name]), shop, "both")
    part = plate(layout, shop)
    assert support_bound(part, layout) < least_support(part, layout)


@pytest.mark.parametrize("hands", ["both", "L"])
@pytest.mark.parametrize("name", ["demo", "a", "b"])
def test_the_bound_is_that_of_what_the_base_covers_all_over_a_cell(name, hands):
    """By shapely, for discs of 64 corners: of each of 16 cells of bush centres what the base covers from all its
    corners has a hull, and the bound is how far inside it they lie; rows 8 mm apart give away 16 mm of it at most.
    """
    layout = lay_out(solve(JOBS[name]), DEMO_SHOP, hands, parks_clear=False)
    part = plate(layout, DEMO_SHOP)
    wood = shapely.Polygon(part.outline.points(16), [hole.contour.points(16) for hole in part.holes])
    centres, margins = bush_centres(layout), []
    for i, j in product(range(0, 24, 6), repeat=2):
        corners = [shapely.Point(centres[25 * (i + di) + j + dj]) for di, dj in product((0, 6), repeat=2)]
        covered = reduce(shapely.intersection, [at.buffer(layout.base_radius, quad_segs=16) for at in corners], wood)
        hull = shapely.convex_hull(covered)
        margins += [hull.exterior.distance(at) if hull.contains(at) else -hull.distance(at) for at in corners]
    assert min(margins) - 16 < support_bound(part, layout) < min(margins)


def test_the_bound_of_the_support_mostly_settles_it():
    """The demo is not looked at further."""
    (layout,) = lay_out_jigs(solve(DEMO), DEMO_SHOP)
    assert support_bound(plate(layout, DEMO_SHOP), layout) > layout.needed_support


@pytest.mark.parametrize(("reveal", "projection"), [(0, 48.1), (2, 46.1), (4, 44.1)])
def test_projection_follows_the_reveal(reveal, projection):
    """Sheet + standoff + leg thickness less reveal."""
    job = replace(DEMO, housing=replace(DEMO.housing, reveal_mm=reveal))
    assert jig_numbers(lay_out_jigs(solve(job), DEMO_SHOP)[0])["projection_mm"] == pytest.approx(projection, abs=1e-9)


def test_least_standoff_of_the_demo():
    """2 mm of bearer over the fence: 3.85 mm."""
    assert least_standoff(9.1, 78) == pytest.approx(3.85, abs=0.005)


def test_slot_width_is_housing_and_bush_less_cutter():
    """Guide bush rule: an inside template is larger than the recess by bush less cutter (router handbooks)."""
    numbers = jig_numbers(lay_out_jigs(solve(DEMO), DEMO_SHOP)[0])
    assert numbers["slot_width_mm"] == pytest.approx(70.15 + 17 - 12, abs=1e-9)
    assert numbers["guide_offset_mm"] == pytest.approx(2.5, abs=1e-12)


def test_one_handed_plates_are_told_apart_without_marks():
    """Only the front corner at the stop's end is cut off: the blank R plate is no mirror-blind shape."""
    cut = {}
    for hand in ("R", "L"):
        corners = plate(lay_out(solve(DEMO), DEMO_SHOP, hand, parks_clear=False), DEMO_SHOP).outline.corners
        cut[hand] = sorted(x for x, y in corners if y == 0)
    assert cut["R"] == pytest.approx([0.0, 278.42 - 30], abs=0.01)
    assert cut["L"] == pytest.approx([30.0, 278.42], abs=0.01)


@pytest.mark.parametrize("cutter", [3.0, 6.35, 8.0])
@pytest.mark.parametrize("base", [90, 100, 110, 150])
@pytest.mark.parametrize("name", JOBS)
def test_a_cut_corner_leaves_the_web_beside_the_end_bearers_mortise(name, base, cutter):
    """30 mm are cut off a front corner, or as much as leaves 6 mm of wood (shapely) from the cut to the mortise."""
    router = replace(DEMO_SHOP.hand_router, base_mm=base)
    shop = replace(DEMO_SHOP, machine=Machine("cnc", cutter), hand_router=router)
    part = plate(lay_out(solve(JOBS[name]), shop, "both", parks_clear=False), shop)
    piece = next(f.pieces[0] for f in part.features if f.name == "front corner, right")
    edge = part.outline.segments[piece]
    cut = abs(edge.end[0] - edge.start[0])
    holes = [shapely.linearrings(hole.contour.points(256)) for hole in part.holes]
    web = shapely.distance(holes, shapely.LineString([edge.start, edge.end])).min()
    assert web == pytest.approx(6.0, abs=1e-3) if cut < 30 - 1e-6 else web >= 6.0
