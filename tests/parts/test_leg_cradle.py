"""The sloping cradle on solids: it goes together, leg and blade find room, and both ends sawn on it make the leg."""

from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
import shapely
from cradle_on_solids import TURNED, angle_deg, blade, differences, leg_place, pieces, sawn, wanted
from jig_on_solids import as_cut
from joint_plays import joint_plays
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B, random_jobs

from jigmaker.findings import errors_in
from jigmaker.geometry.simple import crossings
from jigmaker.geometry.solid import Solid
from jigmaker.job.job import Size
from jigmaker.job.shop import LegSaw, Machine
from jigmaker.parts.leg_saw.leg_cradle import check_leg_cradle, cradle_of, lay_out_cradle, leg_cradle_parts
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.solve import solve

PLAIN = replace(DEMO_SHOP, leg_saw=LegSaw("plain", 80.0))
CNC = replace(PLAIN, sheet=replace(PLAIN.sheet, thickness_mm=12.0), machine=Machine("cnc", 6.35))
NOTHING_MM3 = 1e-4
RANDOM_JOBS = 8


def leaning(rake_deg, splay_deg):
    return replace(DEMO, rake_deg=float(rake_deg), splay_deg=float(splay_deg))


@cache
def drawn_jobs(count=RANDOM_JOBS):
    """Random jobs whose legs go on a cradle."""
    shop, kept = replace(PLAIN, sheet=replace(PLAIN.sheet, length_mm=1200.0, width_mm=600.0)), []
    for job in random_jobs(seed=21):
        trestle = solve(job)
        if not errors_in(check_trestle(trestle)) and cradle_of(trestle, shop):
            kept.append((job, shop))
        if len(kept) == count:
            return kept
    raise AssertionError("unreachable")


CASES = {"demo": (DEMO, PLAIN), "a": (JOB_A, PLAIN), "b": (JOB_B, PLAIN)}
CASES |= {"60/86": (leaning(60, 86), PLAIN), "90/75": (leaning(90, 75), PLAIN), "cnc": (DEMO, CNC)}
CASES |= {f"random {i}": i for i in range(RANDOM_JOBS)}
every_case = pytest.mark.parametrize("name", CASES)


@cache
def made(name):
    job, shop = drawn_jobs()[CASES[name]] if isinstance(CASES[name], int) else CASES[name]
    parts = leg_cradle_parts(solve(job), shop)
    if shop.machine.kind == "cnc":
        parts = tuple(as_cut(part, shop.machine.tool_mm) for part in parts)
    return job, solve(job), shop, parts


TABLE = {
    # slope, mitre; from the blade to the ribs, leg over the table at the blade, ribs' length and greatest height
    "demo": (12.2489, 11.4849, 32.92, 20.85, 398, 114.4),
    "a": (16.1378, 7.3941, 29.82, 19.37, 444, 156.5),
    "b": (15.4709, 14.0061, 39.99, 16.93, 310, 113.8),
    "60/86": (4.6135, 29.8592, 65.63, 22.70, 432, 62.9),
    "90/75": (15, 0, 15, 23.98, 398, 134.6),
}
"""Worked out on solids with an exact B-rep kernel."""

NORMALS = {
    "demo": (0.957668, -0.199110, 0.207912),
    "a": (0.952608, -0.128694, 0.275637),
    "b": (0.935113, -0.242025, 0.258819),
    "60/86": (0.864442, -0.497870, 0.069756),
    "90/75": (0.965926, 0.0, 0.258819),
}
"""Out of the end cuts in the leg's own axes: along it, across it, out of its wide face. Worked out on solids."""


@pytest.mark.parametrize("name", TABLE)
def test_the_layout_is_that_of_the_table(name):
    """Slope and mitre are the solver's angles of a leg sawn on its narrow edge, and no others."""
    _, trestle, shop, _ = made(name)
    lay = lay_out_cradle(trestle, shop)
    assert (lay.slope_deg, lay.mitre_deg) == pytest.approx(TABLE[name][:2], abs=6e-5)
    figures = (lay.from_blade, lay.under_leg, lay.length, lay.seat(lay.ends[0]))
    assert figures == pytest.approx(TABLE[name][2:], abs=0.051)


@every_case
def test_slope_and_mitre_are_those_of_the_end_cuts_plane(name):
    """The plane's normal, from solids, laid by the slope so that nothing of it is upright: to 1e-9 degrees."""
    from math import atan2, degrees, hypot

    job, trestle, _, _ = made(name)
    leg = wanted(job)
    # The foot's plane through three of its corners.
    p = sorted(leg.corners, key=lambda c: -c[0])
    ends = [q for q in p if q[0] > leg.bounds[1][0] / 2 + leg.bounds[0][0] / 2]
    a, b, c = ends[0], ends[1], ends[2]
    u, v = ([y - x for x, y in zip(a, q, strict=True)] for q in (b, c))
    n = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
    n = tuple(x / hypot(*n) * (1 if n[0] > 0 else -1) for x in n)
    assert abs(degrees(atan2(abs(n[2]), n[0])) - trestle.angles.saw_mitre_on_edge_deg) < 1e-9
    assert abs(degrees(atan2(abs(n[1]), hypot(n[0], n[2]))) - trestle.angles.saw_tilt_on_edge_deg) < 1e-9
    if name in NORMALS:
        assert [abs(x) for x in n] == pytest.approx([abs(x) for x in NORMALS[name]], abs=6e-7)


@every_case
def test_nothing_overlaps_and_leg_and_blade_find_room(name):
    """Pieces in each other, leg in the cradle, blade in the cradle at either swing: nothing. The leg does lie on it."""
    job, trestle, _, parts = made(name)
    bodies = [(label, solid) for label, _, _, solid in pieces(parts)]
    assert len(bodies) == 6
    for (one, a), (other, b) in combinations(bodies, 2):
        assert a.common(b).volume < NOTHING_MM3, (one, other)
    place, w, t = leg_place(parts), job.leg.width_mm, job.leg.thickness_mm
    long = Solid.block((-900.0, -w, 0.0), (0.0, 0.0, t))
    for label, solid in bodies:
        assert long.placed(place).common(solid).volume < NOTHING_MM3, label
        for swing in (1, -1):
            assert blade(swing, trestle.angles.saw_tilt_on_edge_deg).common(solid).volume < NOTHING_MM3, label
    # Where the leg touches: lower by 0.05 it bites both carrying ribs, nearer to the saw's fence the fence rib.
    for by, names in (((0.0, 0.0, -0.05), ("near rib", "far rib")), ((0.0, 0.05, 0.0), ("fence rib",))):
        bitten = {label for label, solid in bodies if long.placed(place).moved(by).common(solid).volume > 1.0}
        assert bitten == {f"cradle {each}" for each in names}
    # Its middle lies on the cradle, so that it stays when it is let go.
    ribs = next(solid for label, solid in bodies if label == "cradle near rib")
    assert ribs.bounds[0][0] < -trestle.leg.cut_length_mm / 2


@every_case
def test_both_ends_sawn_make_the_wanted_leg(name):
    """First end, swing, tumble, second end at the stop: no wood too much and none too little. Turned end for
    end at the same swing, the second plane is off by twice what the splay lacks of 90."""
    job, trestle, _, parts = made(name)
    mitre, length = trestle.angles.saw_tilt_on_edge_deg, trestle.leg.length_mm
    leg, first, second = sawn(job, parts, mitre, length)
    assert max(differences(leg, wanted(job))) < 1e-3
    assert angle_deg(first, second) < 1e-7
    _, first, second = sawn(job, parts, mitre, length, TURNED, (1, 1))
    assert angle_deg(first, second) == pytest.approx(2 * (90 - job.splay_deg), abs=1e-7)


OFF_DEG = {"demo": 24, "a": 32, "b": 30, "60/86": 8, "90/75": 30}
"""By how much the second cut is off without the tumble. Worked out on solids."""


@pytest.mark.parametrize("name", OFF_DEG)
def test_what_turning_end_for_end_alone_costs(name):
    """The figures of the table."""
    job, trestle, _, parts = made(name)
    _, first, second = sawn(job, parts, trestle.angles.saw_tilt_on_edge_deg, 500.0, TURNED, (1, 1))
    assert angle_deg(first, second) == pytest.approx(OFF_DEG[name], abs=1e-6)


@every_case
def test_the_height_to_be_cut_is_the_woods_highest_point_at_the_blade(name):
    """Over all of the leg that either swing passes through; on its right waste as long as told just meets the table."""
    job, trestle, shop, parts = made(name)
    place, lay = leg_place(parts), lay_out_cradle(trestle, shop)
    piece = Solid.block((-900.0, -job.leg.width_mm, 0.0), (lay.waste, 0.0, job.leg.thickness_mm)).placed(place)
    plane = [blade(swing, lay.mitre_deg, 1e-3).common(piece) for swing in (1, -1)]
    assert max(each.bounds[1][2] for each in plane) == pytest.approx(lay.height_to_cut, abs=2e-3)
    assert piece.bounds[0][2] == pytest.approx(0.0, abs=1e-9)


@every_case
def test_no_web_is_under_three_millimetres_and_no_letter_lies_on_a_cut(name):
    """Between any two contours; no part falls apart; every word in the wood."""
    _, _, _, parts = made(name)
    for part in parts:
        rings = [shapely.LinearRing(c.points(16)) for c in (part.outline, *(hole.contour for hole in part.holes))]
        assert all(one.distance(other) >= 2.99 for one, other in combinations(rings, 2)), part.name
        wood = shapely.Polygon(rings[0], rings[1:])
        shrunk = wood.buffer(-1.4)
        assert shrunk.geom_type == "Polygon" and shrunk.area > 0, part.name
        assert part.marks, part.name
        for mark in part.marks:
            strokes = shapely.linestrings(mark.strokes.pieces[:, :4].reshape(-1, 2, 2))
            assert shapely.contains(wood.buffer(-0.05), strokes).all(), (part.name, mark.text)


CUTTERS = ((6.35, 12.0), (8.0, 12.0), (8.9, 9.0), (8.0, 19.05), (10.0, 15.0))


@pytest.mark.parametrize(("cutter", "sheet"), CUTTERS)
def test_a_wide_cutter_leaves_the_cradle_whole(cutter, sheet):
    """Cutters as sold, in sheets as sold: no contour crosses itself, and 3 mm of wood are left between two of them."""
    thick = replace(PLAIN.sheet, thickness_mm=sheet, length_mm=1220.0, width_mm=610.0)
    shop = replace(PLAIN, sheet=thick, machine=Machine("cnc", cutter))
    for job in (DEMO, leaning(60, 86)):
        parts = leg_cradle_parts(solve(job), shop)
        assert len(parts) == 5
        for part in parts:
            assert list(crossings(part.outline, [(hole.name, hole.contour) for hole in part.holes])) == [], part.name
            rings = [shapely.LinearRing(c.points(16)) for c in (part.outline, *(hole.contour for hole in part.holes))]
            assert all(one.distance(other) >= 2.98 for one, other in combinations(rings, 2)), part.name


WITHOUT = {
    "too high": (replace(DEMO, rake_deg=70.0, splay_deg=65.0, height_mm=900.0), {}, 236, "leg box"),
    "one of the sizes too high": (replace(JOB_A, further_sizes=(Size(2, 980.0, 1240.0),)), {}, 236, "over 200 mm"),
    "saw too small": (
        DEMO,
        {"leg_saw": LegSaw("plain", 55.0)},
        237,
        "57.1 mm high at the blade and the saw cuts 55 mm",
    ),
    "short sheet": (DEMO, {"sheet": replace(PLAIN.sheet, length_mm=380, width_mm=300)}, 238, "use a longer sheet"),
    "narrow leg": (replace(DEMO, leg=replace(DEMO.leg, width_mm=22.0)), {}, 239, "thinner sheet"),
}


@pytest.mark.parametrize("name", WITHOUT)
def test_where_no_cradle_can_be_the_kit_is_made_without_one_and_says_why(name):
    """A caution, with what to do: the rest of the kit is sound."""
    job, changes, code, words = WITHOUT[name]
    shop = replace(PLAIN, **changes)
    found = list(check_leg_cradle(solve(job), shop))
    assert [finding.code for finding in found] == [code] and words in found[0].sentence()
    assert found[0].severity == "caution" and leg_cradle_parts(solve(job), shop) == ()


@pytest.mark.parametrize(("machine", "cut"), [(Machine("cnc", 6.35), 12.7), (Machine("laser", 0.2), 0.4)])
@pytest.mark.parametrize("turned", [False, True])
def test_the_least_sheet_holds_the_fence_rib_with_its_cut_all_round(machine, cut, turned):
    """Its length and height with the tool's path round it and a margin of 10 mm: 0.02 mm less, either way, and there is
    no cradle.
    """
    shop = replace(PLAIN, machine=machine, sheet=replace(PLAIN.sheet, margin_mm=10.0, length_mm=1220.0, width_mm=610.0))
    rib = next(part for part in leg_cradle_parts(solve(DEMO), shop) if part.slug == "cradle-fence-rib")
    least = [size + cut + 20 for size in rib.outline.bounds[2:]]
    for less in ((0.0, 0.0), (0.02, 0.0), (0.0, 0.02)):
        sides = [a - b for a, b in zip(least, less, strict=True)]
        long, wide = reversed(sides) if turned else sides
        sheet = replace(shop.sheet, length_mm=long, width_mm=wide)
        found = [finding.code for finding in check_leg_cradle(solve(DEMO), replace(shop, sheet=sheet))]
        assert found == ([238] if any(less) else [])


def test_where_none_is_wanted_none_is_made_and_nothing_is_said():
    """At a splay of 90 the leg lies flat on the table; a saw that tilts, or a hand, needs no cradle."""
    for job, shop in ((leaning(80, 90), PLAIN), (DEMO, DEMO_SHOP)):
        assert leg_cradle_parts(solve(job), shop) == () and list(check_leg_cradle(solve(job), shop)) == []


@pytest.mark.parametrize("name", ["demo", "60/86", "random 0"])
def test_cross_pieces_have_their_play_in_the_ribs(name):
    """The shop's joint clearance shared out on both sides, 0.1 mm at both ends, as in the housing jig."""
    _, _, shop, parts = made(name)
    half, found = shop.sheet.joint_clearance_mm / 2, joint_plays([each[1:] for each in pieces(parts)])
    assert len(found) == 4
    assert all(plays == pytest.approx([half, half, 0.1, 0.1], abs=1e-6) for _, plays in found), found
