"""The cut list against solids: rows of legs and braces laid on one board, joints measured; and counted by hand."""

from dataclasses import replace
from math import sqrt

import pytest
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, JOB_A, JOB_B, a_job
from trestle_on_solids import Y, brace, cut, directions, extent, housing, leg_as_cut

from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import cross, dot, length, scale, unit
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.job.shop import LegSaw
from jigmaker.trestle.cut_list import cut_list, kerf_along_leg_mm, turns_legs
from jigmaker.trestle.fixings import fixings
from jigmaker.trestle.solve import solve

TRIMMED = replace(JOB_B, leg=replace(JOB_B.leg, horn_mm=5.0, trim_mm=25.0))
JOBS = [DEMO, JOB_A, JOB_B, TRIMMED, replace(DEMO, rake_deg=90.0, splay_deg=90.0)]
ALL = pytest.mark.parametrize("job", JOBS)


def row(job, what, **more):
    return next(r for r in cut_list(solve(job), **more) if r.what == what)


def test_figures_of_a_job_counted_by_hand():
    """Six trestles: 24 legs and one, 6 tops, 12 braces and one, 96 screws and a tenth of each size."""
    rows = {r.what: r for r in cut_list(solve(DEMO))}
    assert [(r.per_trestle, r.batch, r.spare, r.total) for r in rows.values()][:5] == [
        (4, 24, 1, 25),
        (1, 6, 0, 6),
        (2, 12, 1, 13),
        (8, 48, 5, 53),
        (8, 48, 5, 53),
    ]
    assert list(rows) == ["leg", "top board", "brace", "5.0 × 70", "5.0 × 50", "wood glue"]
    assert [r.section_mm for r in rows.values()][:3] == [(70, 32), (120, 45), (110, 18)]
    assert rows["top board"].board_mm == pytest.approx(6 * (900 + 3.2))
    # cot 78 is 0.2125566, so the leg is stretched sqrt(1 + 2 x 0.2125566^2) = 1.0442033, and 3.2 mm with it
    assert rows["leg"].along_mm == pytest.approx(720 * 1.0442033 + 3.2 * 1.0442033, abs=1e-3)
    assert rows["leg"].board_mm == pytest.approx(25 * (751.8264 + 3.3415) + 21.5011, abs=5e-3)


@ALL
@pytest.mark.parametrize("kerf", [0.0, SAW_KERF_MM])
def test_a_row_of_legs_fits_its_board(job, kerf):
    """Legs shifted by what each takes leave exactly a kerf, square to the cut, and the whole row fits the board."""
    found = row(job, "leg", kerf_mm=kerf)
    leg, down = leg_as_cut(job), directions(job)[0]
    number = int(found.total)
    laid = [leg.moved(scale(down, k * found.along_mm)) for k in (0, 1, number - 1)]
    assert laid[0].common(laid[1]).volume < 1e-6
    assert laid[0].gap(laid[1], 50) == pytest.approx(kerf, abs=1e-6)
    corners = [p for solid in laid for p in solid.corners]
    # the last cut's kerf is off-cut's, not any leg's
    assert extent(corners, down) == pytest.approx(found.board_mm - kerf_along_leg_mm(solve(job), kerf), abs=1e-6)
    assert extent(leg.corners, down) == pytest.approx(found.long_point_mm, abs=1e-6)


@ALL
def test_the_row_s_section_is_the_board_s(job):
    """No leg stands out of the others' board: only the direction along the leg changes."""
    leg, (down, wide, edge, _) = leg_as_cut(job), directions(job)
    both = leg.corners + leg.moved(scale(down, row(job, "leg").along_mm)).corners
    assert (extent(both, edge), extent(both, wide)) == pytest.approx(row(job, "leg").section_mm, abs=1e-6)


@ALL
def test_a_saw_s_cut_between_two_legs_takes_no_leg(job):
    """A slab of the kerf's width, parallel to the end cuts, goes between them."""
    found = row(job, "leg")
    leg, down = leg_as_cut(job), directions(job)[0]
    following = leg.moved(scale(down, found.along_mm))
    high, low = min(p[2] for p in leg.corners), max(p[2] for p in following.corners)
    assert high - low == pytest.approx(SAW_KERF_MM, abs=1e-9)
    slab = Solid.block((-9000, -9000, low), (9000, 9000, high))
    assert leg.common(slab).volume + following.common(slab).volume < 1e-6


@ALL
def test_a_row_of_braces_fits_its_board(job):
    """Laid along their length they keep a kerf, square to the cut that each end gets, at their long points."""
    found, solid = row(job, "brace"), brace(job)
    assert extent(solid.corners, Y) == pytest.approx(found.long_point_mm, abs=1e-6)
    following = solid.moved((0, found.along_mm, 0))
    _, wide, _, _ = directions(job)
    end = max(dot(p, wide) for p in solid.corners)
    beyond = cut(following, ((0, end / wide[1] + SAW_KERF_MM / wide[1], 0), wide))  # what the blade would take of it
    assert beyond.volume < 1e-6
    assert extent([*solid.corners, *following.moved((0, (found.total - 2) * found.along_mm, 0)).corners], Y) < (
        found.board_mm
    )


@ALL
def test_glue_covers_floor_and_walls(job):
    """Areas of the housing's faces from the solid's triangles: floor and walls, neither board faces nor edge."""
    solid = housing(job)
    _, wide, edge, _ = directions(job)
    mesh, area = solid.mesh(), 0.0
    points = mesh.vert_properties[:, :3]
    for a, b, c in mesh.tri_verts:
        turned = cross(*(tuple(float(v) for v in points[k] - points[a]) for k in (b, c)))
        if length(turned) > 1e-9 and max(-dot(unit(turned), wide), abs(dot(unit(turned), edge))) > 1 - 1e-9:
            area += length(turned) / 2
    assert row(job, "wood glue").per_trestle == pytest.approx(4 * area * 200 / 1e6)


def test_screws_are_those_of_the_fixings():
    """Counted on the records, by size; a brace and a leg of one size share a row."""
    thick_brace = a_job(720, (78, 78), 120, (900, 120, 45), (70, 32), brace=(110, 38))
    found = fixings(solve(thick_brace))
    by_length = {(s.diameter_mm, s.length_mm) for s in found.screws}
    rows = [r for r in cut_list(solve(thick_brace)) if r.group == "screws"]
    assert len(rows) == len(by_length) == 1
    assert rows[0].per_trestle == len(found.screws) == 16


def test_a_kerf_is_measured_along_the_leg():
    """A 3.2 mm saw at 75 off the level both ways, cot 75 = 2 - sqrt 3: the figure worked out by hand."""
    job = a_job(540, (75, 75), 60, (760, 138, 40), (82, 27))
    assert kerf_along_leg_mm(solve(job), 3.2) == pytest.approx(3.2 * sqrt(1 + 2 * (2 - sqrt(3)) ** 2))


def test_the_first_housings_are_made_in_what_is_left_of_the_top_board():
    """Common practice, no source: trial joints in a piece of the very board, whose section the jig is made for."""
    assert row(DEMO, "top board").note == "ends square; an off-cut of the same board for the first housings"


def test_legs_that_are_turned_between_their_cuts_have_a_blank_each():
    """Long point to long point, 5 mm of wood at either end, and the saw's cut, which is square; laid on one board the
    legs keep apart by all of that."""
    found = row(DEMO, "leg", kerf_mm=3.2, in_blanks=True)
    assert found.long_point_mm == row(DEMO, "leg").long_point_mm
    assert found.along_mm == pytest.approx(773.327 + 10 + 3.2, abs=1e-3)
    assert found.board_mm == pytest.approx(25 * found.along_mm) and "blank" in found.note


@pytest.mark.parametrize(
    ("kind", "splay_deg", "turned"),
    [("plain", 78.0, True), ("plain", 90.0, False), ("tilting", 78.0, False), ("hand", 78.0, False)],
)
def test_legs_are_turned_on_a_saw_that_does_not_tilt(kind, splay_deg, turned):
    """Both ends of a leg lie in one direction: a blade that leans cuts them one after another. An upright one cuts the
    second only when the leg lies end for end; at a splay of 90 its mitre does both.
    """
    shop = replace(DEMO_SHOP, leg_saw=LegSaw(kind, 70.0 if kind == "plain" else None), hand_saw=HAND_SHOP.hand_saw)
    assert turns_legs(solve(replace(DEMO, splay_deg=splay_deg)), shop) is turned
