"""The leg box on solids: it goes together, the saw meets nothing but the bottom, and the job's leg comes out."""

from dataclasses import replace
from functools import cache
from itertools import combinations
from math import acos, degrees, radians, sqrt, tan

import pytest
import shapely
from jig_on_solids import as_cut
from joint_plays import joint_plays
from leg_box_on_solids import board_in_box, lying, pieces, saw_at_work, saw_frame, sawn, slot_lines, wanted
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, JOB_A, JOB_B, random_jobs

from jigmaker.findings import errors_in
from jigmaker.geometry.simple import crossings
from jigmaker.geometry.vectors import add, dot, scale, unit
from jigmaker.job.shop import LegSaw, Machine
from jigmaker.parts.leg_saw.leg_box import lay_out_box, turned_deg
from jigmaker.parts.leg_saw.leg_saw import check_leg_saw, leg_saw_parts
from jigmaker.parts.mark_list import MARKS
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.solve import solve

SAW = HAND_SHOP.hand_saw
SHOP = replace(DEMO_SHOP, hand_saw=SAW, leg_saw=LegSaw("hand"))
CNC = replace(SHOP, sheet=replace(SHOP.sheet, thickness_mm=12.0), machine=Machine("cnc", 6.35))
STEEP, PLUMB = replace(DEMO, rake_deg=60, splay_deg=86), replace(DEMO, rake_deg=90, splay_deg=75)
NOTHING_MM3 = 1e-6
RANDOM_JOBS = 6


@cache
def drawn_jobs(count=RANDOM_JOBS, seed=91):
    """Random jobs whose legs this saw can cut, in sheets and by cutters that differ; and how many were refused."""
    kept, refused = [], 0
    for number, job in enumerate(random_jobs(seed)):
        shop = replace((SHOP, CNC)[number % 2], hand_saw=replace(SAW, depth_mm=60 + number * 7 % 41))
        if errors_in(check_trestle(solve(job))):
            continue
        if errors_in(check_leg_saw(solve(job), shop)):
            refused += 1
            continue
        kept.append((job, shop))
        if len(kept) == count:
            return kept, refused
    raise AssertionError("unreachable")


CASES = {
    "demo": (DEMO, SHOP),
    "a": (JOB_A, SHOP),
    "b": (JOB_B, SHOP),
    "60/86": (STEEP, SHOP),
    "90/75": (PLUMB, SHOP),
    "90/90": (replace(DEMO, rake_deg=90, splay_deg=90), SHOP),
    "in halves": (DEMO, CNC),
    "in halves, 60/60": (replace(DEMO, rake_deg=60, splay_deg=60), CNC),
}
CASES |= {f"random {i}": i for i in range(RANDOM_JOBS)}
every_case = pytest.mark.parametrize("name", CASES)


@cache
def made(name):
    job, shop = drawn_jobs()[0][CASES[name]] if isinstance(CASES[name], int) else CASES[name]
    parts = leg_saw_parts(solve(job), shop)
    is_cnc = shop.machine.kind == "cnc"
    return job, shop, parts, tuple(as_cut(part, shop.machine.tool_mm) for part in parts) if is_cnc else parts


TABLE = {
    # walls' top, half their length, half the bottom's, walls' faces, half the bottom's width, strips' height, stroke
    "demo": (71.737, 43, 123, 46.689, 78.616, 20, 188),
    "a": (70.268, 46, 126, 56.650, 82.641, 20, 168),
    "b": (70.668, 45, 125, 55.998, 92.103, 20, 170),
}
"""Worked out on solids with an exact B-rep kernel."""


@pytest.mark.parametrize("name", TABLE)
def test_the_layout_is_that_of_the_table(name):
    """All sizes of the box; the slot is as wide as the saw's kerf and a slip of paper less than 0.1 mm thick."""
    lay = lay_out_box(solve(CASES[name][0]), SHOP)
    sizes = (lay.wall_top, lay.wall_half, lay.bottom_half, lay.wall_face, lay.bottom_width_half, lay.strip_height)
    assert sizes == pytest.approx(TABLE[name][:-1], abs=6e-4)
    assert SAW.length_mm - lay.least_saw_length + 80 == pytest.approx(
        TABLE[name][-1], abs=0.6
    ) and lay.slot == pytest.approx(1.05)


STRIP_BITES = {"demo": 72, "a": 71, "b": 72, "60/86": 78, "90/75": 72}
"""mm³ of each strip, worked out on solids with an exact B-rep kernel."""


@every_case
def test_no_two_pieces_overlap_nor_piece_and_board(name):
    """The board for legs lies on the bottom against both strips: 0.05 mm farther it bites into each of them."""
    job, _, _, cut = made(name)
    bodies = {label: solid for label, (_, _, solid) in pieces(cut).items()}
    assert len(bodies) == (7 if any("half" in label for label in bodies) else 5)
    wood = board_in_box(job)
    for (one, a), (other, b) in combinations([*bodies.items(), ("board", wood)], 2):
        assert a.common(b).volume < NOTHING_MM3, (one, other)
    across = (-lying(job)[1][1], lying(job)[1][0], 0.0)
    pushed = wood.moved(scale(across, 0.05))
    strips = [pushed.common(solid).volume for label, solid in bodies.items() if "strip" in label]
    assert len(strips) == 2 and min(strips) > 40
    assert strips == pytest.approx([STRIP_BITES.get(name, strips[0])] * 2, abs=0.6)
    assert wood.moved((0.0, 0.0, -0.05)).common(bodies["leg box bottom"]).volume > 40
    walls = [solid for label, solid in bodies.items() if "wall" in label or "half" in label]
    assert all(wall.moved((0.0, 0.0, -0.05)).common(bodies["leg box bottom"]).volume > 1 for wall in walls)


@every_case
def test_the_saw_meets_nothing_but_the_bottom(name):
    """Its kerf over the whole stroke; and its back comes down on both walls when the teeth are under the leg."""
    job, shop, parts, cut = made(name)
    kerf, back = saw_at_work(parts, shop.hand_saw, shop.hand_saw.kerf_mm)
    for label, (_, _, solid) in pieces(cut).items():
        bites = kerf.common(solid).volume
        assert bites > 1 if "bottom" in label else bites < NOTHING_MM3, label
        assert back.common(solid).volume < NOTHING_MM3, label
    walls = [solid for label, (_, _, solid) in pieces(cut).items() if "wall" in label or "half" in label]
    landed = back.moved((0.0, 0.0, -0.05))
    assert sum(landed.common(wall).volume > 1e-4 for wall in walls) >= 2
    rest = board_in_box(job).minus(kerf)
    assert len([piece for piece in rest.pieces() if piece.volume > 1]) == 2


@every_case
def test_the_slots_lie_one_behind_the_other(name):
    """Both in one plane, a little wider than the kerf, square to the saw."""
    _, shop, parts, _ = made(name)
    lines = {side: slot_lines(parts, side) for side in ("near", "far")}
    assert lines["near"][0] == pytest.approx(lines["far"][0]) and lines["near"][1] == pytest.approx(lines["far"][1])
    (left, slope), (right, _) = lines["near"]
    assert (right - left) / sqrt(1 + slope**2) == pytest.approx(shop.hand_saw.kerf_mm + 0.05)


@every_case
def test_the_leg_wanted_comes_out(name):
    """Sawn at its head, slid by its length along an arris, sawn at its foot: nothing missing, nothing left on."""
    job, _, parts, _ = made(name)
    cots = (0.0 if v == 90 else 1 / tan(radians(v)) for v in (job.rake_deg, job.splay_deg))
    length = job.height_mm * sqrt(1 + sum(cot**2 for cot in cots))
    out, asked = sawn(job, parts, length), wanted(job, parts)
    assert out.volume == pytest.approx(asked.volume, abs=1e-3)
    assert out.minus(asked).volume < 1e-3 and asked.minus(out).volume < 1e-3


TURNED = {
    # end for end on the same face; end for end and the other face down; rolled over on the other face
    "demo": (24, 22.97, 33.46),
    "a": (32, 14.79, 35.42),
    "b": (30, 28.01, 41.51),
    "60/86": (8, 59.72, 60.36),
    "90/75": (30, 0, 30),
}
"""Degrees, worked out on solids with an exact B-rep kernel."""


@pytest.mark.parametrize("name", TURNED)
def test_what_turning_the_leg_between_its_cuts_costs(name):
    """The second end comes out of the first one's plane: the leg turned, the saw's plane where it was."""
    job, _, parts, _ = made(name)
    normal, axis = saw_frame(parts).z_axis, lying(job)[1]
    across, up = (-axis[1], axis[0], 0.0), (0.0, 0.0, 1.0)
    # Half a turn about the upright, across the leg, and along it.
    found = [_between(normal, _half_turn(normal, about)) for about in (up, across, axis)]
    assert found == pytest.approx(TURNED[name], abs=6e-3)
    # What the leg's own figures tell of end for end and of rolled over is the first and the last of them.
    told = turned_deg(solve(job))
    assert (told["end_for_end"], told["rolled"]) == pytest.approx((found[0], found[2]), abs=1e-6)


def _half_turn(v, about):
    return add(scale(about, 2 * dot(v, about)), scale(v, -1))


def _between(a, b):
    return degrees(acos(min(1.0, abs(dot(unit(a), unit(b))))))


@every_case
def test_no_web_is_under_three_millimetres_and_no_letter_lies_on_a_cut(name):
    """Between any two contours of any part, and in no neck of one; every stroke of every word lies in the wood."""
    _, _, parts, cut = made(name)
    for part, as_made in zip(parts, cut, strict=True):
        assert list(crossings(part.outline, [(hole.name, hole.contour) for hole in part.holes])) == [], part.name
        rings = [shapely.LinearRing(c.points(16)) for c in (part.outline, *(hole.contour for hole in part.holes))]
        assert all(one.distance(other) >= 2.99 for one, other in combinations(rings, 2)), part.name
        wood = shapely.Polygon(as_made.outline.points(16), [hole.contour.points(16) for hole in as_made.holes])
        shrunk = wood.buffer(-1.4)
        assert shrunk.geom_type == "Polygon" and shrunk.area > 0, part.name
        scored = {mark.fact for mark in part.marks if mark.text}
        assert scored == {row.what for row in MARKS[part.slug]}, part.name
        for mark in (mark for mark in part.marks if mark.text):
            strokes = shapely.linestrings(mark.strokes.pieces[:, :4].reshape(-1, 2, 2))
            assert shapely.contains(wood.buffer(-0.5), strokes).all(), (part.name, mark.text)


REFUSED = {
    "saw too shallow": (DEMO, {"hand_saw": replace(SAW, depth_mm=50)}, 231, "a saw 52.8 mm deep or more"),
    "saw too short": (DEMO, {"hand_saw": replace(SAW, length_mm=185)}, 232, "a saw 191.6 mm long or more"),
    "thin sheet": (DEMO, {"sheet": replace(SHOP.sheet, thickness_mm=5)}, 233, "spring"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_the_box_cannot_do_is_refused(name):
    """Each with its code, the rule and what to do; the demo with the saw of the table is not, nor is a tilting saw."""
    job, changes, code, words = REFUSED[name]
    found = list(check_leg_saw(solve(job), replace(SHOP, **changes)))
    assert [finding.code for finding in found] == [code] and words in found[0].sentence()
    assert list(check_leg_saw(solve(DEMO), SHOP)) == [] == list(check_leg_saw(solve(DEMO), DEMO_SHOP))
    assert leg_saw_parts(solve(DEMO), DEMO_SHOP) == ()


LIMITS = {
    # code: what is changed, by hand: the least that goes (demo), and a little less
    231: ("hand_saw", "depth_mm", 52.78, 52.77),  # (leg 32 + 18 guided + 1 under it + 3 cos 78) / sin 78
    232: ("hand_saw", "length_mm", 191.58, 191.57),  # twice the wall's face, 46.689, and its 9.1; 80 to move
    233: ("sheet", "thickness_mm", 6.0, 5.99),
}


@pytest.mark.parametrize("code", LIMITS)
def test_each_limit_lies_where_it_was_worked_out(code):
    """With the saw of the table: 75 deep, its back 6 thick."""
    part, key, least, less = LIMITS[code]
    for value in (least, less):
        shop = replace(SHOP, **{part: replace(getattr(SHOP, part), **{key: value})})
        assert (code in {finding.code for finding in check_leg_saw(solve(DEMO), shop)}) == (value == less)


CUTTERS = ((6.35, 12.0), (8.0, 9.0), (8.9, 9.0), (8.0, 19.05), (10.0, 15.0))


@pytest.mark.parametrize(("cutter", "sheet"), CUTTERS)
def test_every_cutter_leaves_the_box_whole(cutter, sheet):
    """Cutters as sold, in sheets as sold: no contour crosses itself, 3 mm of wood are left, walls are in halves."""
    thick = replace(SHOP.sheet, thickness_mm=sheet, length_mm=1220.0, width_mm=610.0)
    shop = replace(SHOP, sheet=thick, machine=Machine("cnc", cutter), hand_saw=replace(SAW, depth_mm=90))
    for job in (DEMO, replace(DEMO, rake_deg=60, splay_deg=60), replace(DEMO, rake_deg=90, splay_deg=90)):
        assert list(check_leg_saw(solve(job), shop)) == []
        parts = leg_saw_parts(solve(job), shop)
        assert any("half" in part.slug for part in parts)
        for part in parts:
            assert list(crossings(part.outline, [(hole.name, hole.contour) for hole in part.holes])) == [], part.name
            rings = [shapely.LinearRing(c.points(16)) for c in (part.outline, *(hole.contour for hole in part.holes))]
            assert all(one.distance(other) >= 2.98 for one, other in combinations(rings, 2)), part.name


@every_case
def test_it_stands_flat_on_the_bench(name):
    """Only the near wall, which hooks over the bench's edge, reaches below the underside of the bottom."""
    bodies = {label: solid for label, (_, _, solid) in pieces(made(name)[3]).items()}
    bench = bodies["leg box bottom"].bounds[0][2]
    (hooked,) = [label for label, solid in bodies.items() if solid.bounds[0][2] < bench - 1e-9]
    assert "near" in hooked and bodies[hooked].bounds[0][2] < bench - 5


@pytest.mark.parametrize("name", ["90/75", "90/90"])
def test_walls_and_strips_have_their_play_in_the_bottom(name):
    """The shop's joint clearance shared out on both sides, 0.1 mm at both ends, as in the housing jig."""
    _, shop, parts, _ = made(name)
    half, found = shop.sheet.joint_clearance_mm / 2, joint_plays(list(pieces(parts).values()))
    assert len(found) == 4
    assert all(plays == pytest.approx([half, half, 0.1, 0.1], abs=1e-6) for _, plays in found), found
