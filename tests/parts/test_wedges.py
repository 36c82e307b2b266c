"""Wedges on solids: what leans between jaws with them is level, nothing stands in a tool's way; legs are clamped."""

from dataclasses import replace
from functools import cache
from math import atan2, degrees, radians, tan

import hand_guides_on_solids as hand
import jig_on_solids as jig
import pytest
import shapely
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, JOB_A, JOB_B, random_jobs
from wedges_on_solids import at_work, axes, ear_out, leaning, on_legs, setting

from jigmaker.findings import errors_in
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import dot
from jigmaker.job.shop import KitChoices, Machine
from jigmaker.parts.check import check_kit
from jigmaker.parts.housing_jig.jig import housing_jig_parts, jig_numbers
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.housing_saw.guides import hand_guide_parts
from jigmaker.parts.wedges import check_wedges, wedge_parts
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.solve import solve

CLAMPING, LEANING = "clamping wedges", "leaning wedges"
NOTHING_MM3 = 1e-3
MOVED_MM = 0.05
RANDOM_JOBS = 3
LEAST_BEARING_MM = 20.0  # of the fence on a front wedge, plumb
AXIS_INSIDE_MM = 5.0  # the router's axis inside the ears' feet


def shop_of(*also, shop=DEMO_SHOP, **changes):
    return replace(shop, kit=KitChoices(also=also), **changes)


ROUTED = shop_of(CLAMPING, LEANING)
SAWN = shop_of(LEANING, shop=HAND_SHOP, housing_work=replace(HAND_SHOP.housing_work, by="saw and chisel"))
CNC = replace(ROUTED, sheet=replace(ROUTED.sheet, thickness_mm=12.0), machine=Machine("cnc", 6.35))
FLAT, STEEP = replace(DEMO, splay_deg=86.0, rake_deg=60.0), replace(DEMO, splay_deg=66.0)
USES = {"housing jig": ROUTED, "saw guide": SAWN}


@cache
def drawn_jobs():
    """Random jobs whose jig can be made."""
    kept = []
    for job in random_jobs(seed=2187):
        trestle = solve(job)
        if job.splay_deg < 89.8 and not errors_in([*check_trestle(trestle), *check_kit(trestle, DEMO_SHOP)]):
            kept.append(job)
        if len(kept) == RANDOM_JOBS:
            return kept
    raise AssertionError("unreachable")


CASES = {
    "demo": (DEMO, "housing jig", ROUTED),
    "a": (JOB_A, "housing jig", ROUTED),
    "b": (JOB_B, "housing jig", ROUTED),
    "flat": (FLAT, "housing jig", ROUTED),
    "steep": (STEEP, "housing jig", ROUTED),
    "cnc": (DEMO, "housing jig", CNC),
    "demo sawn": (DEMO, "saw guide", SAWN),
    "a sawn": (JOB_A, "saw guide", SAWN),
    "b sawn": (JOB_B, "saw guide", SAWN),
    **{f"random {i}": (i, "housing jig", ROUTED) for i in range(RANDOM_JOBS)},
}
every_case = pytest.mark.parametrize("name", CASES)


@cache
def made(name):
    """(job, use, shop, parts of the jig, front and back wedge)."""
    job, use, shop = CASES[name]
    job = drawn_jobs()[job] if isinstance(job, int) else job
    trestle = solve(job)
    parts = housing_jig_parts(trestle, shop) if use == "housing jig" else hand_guide_parts(trestle, shop)
    return job, use, shop, parts, wedge_parts(trestle, shop)


@cache
def held(name, side):
    """(pieces of the jig, the board and what is behind it; wedges and jaws; v of the jaws' faces)."""
    job, use, _, parts, wedges = made(name)
    bodies = at_work(job, parts, side, use)
    return bodies, *leaning(job, wedges, bodies, use)


RECIPE = {"demo": (89.37, 157.51, 18.75), "a": (110.56, 216.41, 23.21), "b": (88.33, 182.15, 22.08)}
"""Worked out on solids with an exact mesh kernel: jaws apart of wedges 60 high; the clamp's, and their thick end."""


@pytest.mark.parametrize(("name", "job"), [("demo", DEMO), ("a", JOB_A), ("b", JOB_B)])
def test_figures_are_those_of_the_table(name, job):
    """Jaws for the saw guide, whose wedges are the lowest; the clamp's; the thick end. Higher wedges: more by cot b."""
    apart, clamp, thick = RECIPE[name]
    (low, _), (alone,) = wedge_parts(solve(job), SAWN), wedge_parts(solve(job), shop_of(CLAMPING))
    assert setting([low], "jaws apart, saw guide") == pytest.approx(apart, abs=0.005)
    assert setting([alone], "clamp's jaws apart") == pytest.approx(clamp, abs=0.005)
    assert [part.outline.bounds[2:] for part in (low, alone)] == [pytest.approx((60, 14 + thick), abs=0.01)] * 2
    (front, _) = wedge_parts(solve(job), ROUTED)
    higher = (front.outline.bounds[2] - 60) / tan(radians(job.splay_deg))
    assert setting([front], "jaws apart, housing jig") == pytest.approx(apart + higher, abs=0.005)
    assert setting([front], "clamp's jaws apart") == pytest.approx(clamp, abs=0.005)


@every_case
@pytest.mark.parametrize("side", ["R", "L"])
def test_nothing_overlaps(name, side):
    """Jig, board, wedges and jaws, whichever hand is in work."""
    bodies, between, _ = held(name, side)
    placed = list(between.items())
    for i, (one, a) in enumerate(placed):
        for other, b in [*placed[i + 1 :], *bodies]:
            assert a.common(b).volume < NOTHING_MM3, (one, other)


@every_case
def test_wedges_bear_with_their_whole_faces(name):
    """Moved by 0.05 they bite into fence, strip and jaw by as much all over: so the plate's normal is plumb."""
    job, _, shop, _, wedges = made(name)
    bodies, between, _ = held(name, "R")
    v, n = axes(job)
    wide = wedges[0].thickness_mm * wedges[0].needed / 2
    leans = dict(bodies)
    fence = next(each for each in leans if each.startswith("fence") or " fence" in each)
    behind = next(each for each in leans if each.startswith("back "))
    for kind, towards, way in (("front wedge", fence, 1), ("back wedge", behind, -1)):
        for i in (0, 1):
            wedge = between[f"{kind} {i}"]
            bite = wedge.moved(tuple(way * MOVED_MM * c for c in v)).common(leans[towards])
            plumb = [dot(p, n) for p in bite.corners]
            high = max(plumb) - min(plumb)
            assert high >= LEAST_BEARING_MM
            assert bite.volume == pytest.approx(MOVED_MM * wide * high, rel=0.01)
            jaw = between["front jaw" if way == 1 else "back jaw"]
            back = wedge.moved(tuple(-way * MOVED_MM * c for c in v)).common(jaw)
            beside_ear = 5.0 if shop.machine.kind == "cnc" else 0.0  # bitten out of the straight side
            assert MOVED_MM * wide * (47.9 - beside_ear) < back.volume < MOVED_MM * wide * 48.1
            assert wedge.moved(tuple(-MOVED_MM * c for c in n)).common(jaw).volume > 0.9 * MOVED_MM * wide * 10


@every_case
def test_the_angle_is_the_splays(name):
    """Slope off straight side, measured on the outlines as drawn: within 0.2 degrees the plate would do."""
    job, _, _, _, wedges = made(name)
    for part in wedges:
        lines = {f.name: part.outline.segments[f.pieces[0]] for f in part.features if f.measure == "angle_deg"}
        along, up = (
            degrees(atan2(line.end[1] - line.start[1], line.end[0] - line.start[0])) % 180
            for line in (lines["straight side"], lines["slope"])
        )
        assert (up - along) % 180 == pytest.approx(90 - job.splay_deg, abs=1e-9)
        thick = part.outline.bounds[3] - ear_out(part)
        thin = thick - part.outline.bounds[2] / tan(radians(job.splay_deg))
        assert thin >= 6 - 1e-9


@pytest.mark.parametrize("name", [each for each in CASES if CASES[each][1] == "housing jig"])
@pytest.mark.parametrize("side", ["R", "L"])
def test_the_routers_way_is_clear_and_its_weight_inside(name, side):
    """Cutter, bush and base over the whole slot touch no wedge and no jaw, nor come nearer than 3 mm; the router's
    axis wherever it can be, and the jig's own middle, stand over what the ears' feet span on the jaws.
    """
    job, _, shop, parts, wedges = made(name)
    _, between, jaws = held(name, side)
    router, trestle = shop.hand_router, solve(job)
    projection = jig_numbers(lay_out_jigs(trestle, shop)[0])["projection_mm"]
    tools = [jig.cutter_sweep(parts, side, router, projection), jig.swept(parts, side, router, router.base_mm, 0, 9)]
    for body in between.values():
        for tool in tools:
            assert tool.gap(body, 3.0) >= 3.0
    v, _ = axes(job)
    wide = wedges[0].thickness_mm * wedges[0].needed / 2
    xs = [between[f"front wedge {i}"].bounds for i in (0, 1)]
    assert all(high[0] - low[0] == pytest.approx(wide) for low, high in xs)
    ears = [ear_out(part) for part in wedges]
    feet = shapely.box(
        min(low[0] for low, _ in xs), jaws[0] - ears[0], max(high[0] for _, high in xs), jaws[1] + ears[1]
    )
    _, frame, slot = jig.plate_of(parts, side)
    region = jig._bush_region(slot, router.bush_mm)
    # Level, the plate's y runs along v: its points' X and v.
    places = [frame.point((x, y, 0.0)) for x, y in region.exterior.coords]
    spots = shapely.points([(p[0], dot(p, v)) for p in places])
    assert shapely.contains(feet.buffer(-AXIS_INSIDE_MM), spots).all()
    weight, moments = 0.0, [0.0, 0.0]
    for _, part, placed, _ in jig.stations(parts, side):
        flat = shapely.Polygon(part.outline.points(8), [hole.contour.points(8) for hole in part.holes])
        middle = placed.point((flat.centroid.x, flat.centroid.y, part.thickness_mm / 2))
        weight += flat.area
        moments = [m + flat.area * w for m, w in zip(moments, (middle[0], dot(middle, v)), strict=True)]
    assert shapely.contains(feet.buffer(-AXIS_INSIDE_MM), shapely.Point(*(m / weight for m in moments)))


@pytest.mark.parametrize("name", [each for each in CASES if CASES[each][1] == "saw guide"])
@pytest.mark.parametrize("side", ["R", "L"])
def test_the_saws_way_is_clear(name, side):
    """Over its whole stroke on either cheek."""
    _, _, shop, parts, _ = made(name)
    saw = shop.hand_saw
    for cheek in ("near", "far"):
        plate = hand.along_cheek(parts, cheek, side, 0.0, saw.plate_mm, saw.depth_mm, stroke=250.0)
        for body in held(name, side)[1].values():
            assert plate.gap(body, 3.0) >= 3.0


@every_case
def test_what_is_put_in_wrong_does_not_hold(name):
    """Front and back wedge exchanged stand in board and jaws: nobody puts them in and reads a level plate."""
    job, use, _, _, (front, back) = made(name)
    bodies = held(name, "R")[0]
    placed, _ = leaning(job, (replace(back, settings=front.settings), front), bodies, use)
    wedges, jaws = ([body for at, body in placed.items() if kind in at] for kind in ("wedge", "jaw"))
    assert max(a.common(b).volume for a in wedges for b in (*jaws, *dict(bodies).values())) > 100


LEGS = {"demo": DEMO, "a": JOB_A, "b": JOB_B, "thin": replace(DEMO, top=replace(DEMO.top, thickness_mm=33.0))}
LEGS |= {"reveal": replace(DEMO, housing=replace(DEMO.housing, reveal_mm=4.0))}


@pytest.mark.parametrize("name", LEGS)
@pytest.mark.parametrize("shop", [ROUTED, shop_of(CLAMPING)], ids=["with leaning", "alone"])
def test_a_pair_of_legs_is_clamped_square(name, shop):
    """Straight sides upright, as far apart as told, slopes lying on the legs: 0.05 nearer they bite all over."""
    job = LEGS[name]
    part = wedge_parts(solve(job), shop)[0]
    for side, wedge in on_legs(job, part).items():
        leg = jig.at_seat(jig.leg(job), (1, side))
        assert wedge.common(leg).volume < NOTHING_MM3 and wedge.common(jig.board(job)).volume < NOTHING_MM3
        bite = wedge.moved((0.0, -side * MOVED_MM, 0.0)).common(leg)
        wide, high = part.thickness_mm * part.needed / 2, bite.bounds[1][2] - bite.bounds[0][2]
        assert high > 45 and bite.volume == pytest.approx(MOVED_MM * wide * high, rel=0.02)
        # Under the ear there is room for a clamp's jaw at the middle of the board's thickness.
        y, half = wedge.bounds[1 if side == 1 else 0][1], job.top.thickness_mm / 2
        jaw = Solid.block((-2000, y - 5, -half - 8), (2000, y + 5, -half + 8))
        assert wedge.common(jaw).volume < NOTHING_MM3


NARROW_LEGS = {
    "a little": (replace(JOB_B, rake_deg=62.0, leg=replace(JOB_B.leg, width_mm=50.0)), False),
    "more": (replace(JOB_B, rake_deg=62.0, leg=replace(JOB_B.leg, width_mm=46.0)), True),
    "very narrow": (replace(DEMO, rake_deg=60.0, leg=replace(DEMO.leg, width_mm=32.0)), True),
    "wide enough": (replace(DEMO, rake_deg=60.0), False),
}


@pytest.mark.parametrize("name", NARROW_LEGS)
def test_a_leg_too_narrow_for_a_stack_is_told_with_what_stands_out(name):
    """Its middle over the leg's half way down what bears: two corners of the told width hang free, no more."""
    job, is_told = NARROW_LEGS[name]
    trestle, shop = solve(job), shop_of(CLAMPING)
    found = [finding for finding in check_wedges(trestle, shop) if finding.code == 248]
    assert [finding.severity for finding in found] == ["caution"] * is_told
    (part,) = wedge_parts(trestle, shop)
    leg, wide = jig.at_seat(jig.leg(job), (1, 1)), part.thickness_mm * part.needed / 2
    # The wedges are 60 high from the top face down; the leg's outer face is the farthest in y at any level.
    points = [point for ring in leg.outlines_at(-30.0) for point in ring]
    outer = [x for x, y in points if y > max(y for _, y in points) - 0.01]
    wedge = on_legs(job, part)[1]
    (low, _, _), (high, _, _) = wedge.bounds
    bite = wedge.moved(((max(outer) + min(outer) - low - high) / 2, -MOVED_MM, 0.0)).common(leg)
    out = float(found[0].value.removesuffix(" mm")) if found else 0.0
    free = out**2 * tan(radians(job.rake_deg))  # two right triangles, so wide and raked
    assert bite.volume / MOVED_MM == pytest.approx(wide * 60 - free, abs=20)
    if found:
        assert free > 25 and "30 mm below the top face" in found[0].sentence()


def test_each_wedge_is_cut_once():
    """Both kinds in one kit: two stacks of front wedges, which clamp too, two of back wedges; never a third kind."""

    def count(shop):
        return {part.slug: part.needed for part in wedge_parts(solve(DEMO), shop)}

    assert count(ROUTED) == count(shop_of(LEANING)) == {"front-wedge": 6, "back-wedge": 6}
    assert count(shop_of(CLAMPING)) == {"clamping-wedge": 6}
    assert count(HAND_SHOP) == {"front-wedge": 6, "back-wedge": 6}  # a shop that saws has them without asking
    assert count(DEMO_SHOP) == count(shop_of()) == {}
    for thickness, layers in ((4.0, 7), (6.0, 4), (9.0, 3), (12.2, 2), (18.0, 2), (19.05, 2), (25.0, 1)):
        shop = replace(shop_of(CLAMPING), sheet=replace(DEMO_SHOP.sheet, thickness_mm=thickness))
        assert count(shop) == {"clamping-wedge": 2 * layers}
    thick = replace(DEMO_SHOP.sheet, thickness_mm=18.0, serves=("wedges",))
    (alone,) = wedge_parts(solve(DEMO), shop_of(CLAMPING, further_sheets=(thick,)))
    assert (alone.needed, alone.thickness_mm) == (4, 18.0)


def test_what_wedges_cannot_do_is_told_and_left_out():
    """Nothing leans at splay 90; legs that lean more than 25 degrees are not clamped. Who did not ask is not told."""
    upright, flat = solve(replace(DEMO, splay_deg=90.0)), solve(replace(DEMO, splay_deg=64.0))
    told = [finding.sentence() for finding in check_wedges(upright, ROUTED)]
    assert len(told) == 2 and all("nothing leans" in each for each in told)
    assert wedge_parts(upright, ROUTED) == () == wedge_parts(flat, shop_of(CLAMPING))
    (slides,) = check_wedges(flat, ROUTED)
    assert slides.severity == "caution" and "26.00° off plumb" in slides.sentence()
    assert [part.slug for part in wedge_parts(flat, ROUTED)] == ["front-wedge", "back-wedge"]
    narrow = replace(ROUTED, kit=replace(ROUTED.kit, jaws_mm=91.0))
    (jaws,) = check_wedges(solve(DEMO), narrow)  # 91.7 mm, as the front wedge's setting says
    assert "the vice opens 91 mm" in jaws.sentence() and "needs 91.7" in jaws.sentence()
    assert not list(check_wedges(solve(DEMO), replace(ROUTED, kit=replace(ROUTED.kit, jaws_mm=92.0))))
    assert not list(check_wedges(upright, HAND_SHOP)) and not list(check_wedges(solve(DEMO), ROUTED))


@pytest.mark.parametrize("tool", [None, 3.175, 6.35, 12.0])
def test_wood_and_letters(tool):
    """No neck under 3 mm, whatever the cutter; letters in the wood by 1.5 mm; the ear's corner bitten out."""
    shop = ROUTED if tool is None else replace(ROUTED, machine=Machine("cnc", tool))
    for job in (DEMO, JOB_A, FLAT, STEEP):
        for kinds in (shop, replace(shop, kit=KitChoices(also=(CLAMPING,)))):
            for part in wedge_parts(solve(job), kinds):
                wood = shapely.Polygon(part.outline.points(16))
                core = wood.buffer(-1.5)
                assert core.geom_type == "Polygon" and core.buffer(2.0).contains(wood.buffer(-1.0))
                assert part.marks, (job, part.name)
                for mark in part.marks:
                    strokes = shapely.linestrings(mark.strokes.pieces[:, :4].reshape(-1, 2, 2))
                    assert shapely.contains(wood.buffer(-1.4), strokes).all(), (part.name, mark.text)
                ear = [s for s in part.outline.segments if s.bulge]
                assert bool(ear) is (tool is not None)
