"""The housing jig assembled and used on solids: nothing overlaps, joints have play, all four housings come out."""

from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
from jig_on_solids import (
    SEATS,
    as_cut,
    at_seat,
    board,
    board_in_jig,
    cutter_sweep,
    ideal_housing,
    jig_from_timber_end,
    leg,
    stations,
    swept,
)
from sample_jobs import DEMO_SHOP, JOB_A, JOB_B, random_jobs
from sample_variants import VARIANTS

from jigmaker.findings import errors_in
from jigmaker.geometry.frames import Frame
from jigmaker.parts.check import check_kit
from jigmaker.parts.housing_jig.jig import housing_jig_parts, jig_numbers
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.solve import solve

RANDOM_JOBS = 40
NOTHING_MM3 = 1e-3
TOLERATED_MM3 = 0.01
AS_CUT_MM3 = 1.5  # chords of the simulated cut: half a micrometre over walls of 30 cm2


@cache
def makeable():
    """The first random jobs that pass every check, with what share of the drawn ones they are."""
    kept = []
    for drawn, job in enumerate(random_jobs(seed=2611), 1):
        trestle = solve(job)
        if not errors_in(check_trestle(trestle) + check_kit(trestle, DEMO_SHOP)):
            kept.append(job)
        if len(kept) == RANDOM_JOBS:
            return tuple(kept), drawn
    raise AssertionError("unreachable")


CASES = {
    "a": (JOB_A, DEMO_SHOP),
    "b": (JOB_B, DEMO_SHOP),
    **VARIANTS,
    **{f"random {i}": i for i in range(RANDOM_JOBS)},
}


@cache
def made(name):
    case = CASES[name]
    job, shop = case if isinstance(case, tuple) else (makeable()[0][case], DEMO_SHOP)
    parts = housing_jig_parts(solve(job), shop)
    if shop.machine.kind == "cnc":
        parts = tuple(as_cut(part, shop.machine.tool_mm) for part in parts)
    return job, shop, parts, jig_numbers(lay_out_jigs(solve(job), shop)[0])["projection_mm"]


both_hands = pytest.mark.parametrize("hand", ["R", "L"])
every_case = pytest.mark.parametrize("name", CASES)


def boxes_meet(one, other):
    """Whether two boxes, each (lowest corner, highest corner), have a place in common."""
    return all(one[0][k] < other[1][k] and other[0][k] < one[1][k] for k in range(3))


@every_case
@both_hands
def test_no_two_parts_overlap_nor_part_and_board(name, hand):
    """Every piece has its own place, and the board lies between fence and back strip against the stop."""
    job, _, parts, _ = made(name)
    pieces = [(s[0], s[3]) for s in stations(parts, hand)] + [("board", board_in_jig(job, parts, hand))]
    boxed = [(name, solid, solid.bounds) for name, solid in pieces]
    overlaps = {
        (one, other): volume
        for (one, a, box), (other, b, other_box) in combinations(boxed, 2)
        if boxes_meet(box, other_box) and (volume := a.common(b).volume) > NOTHING_MM3
    }
    assert overlaps == {}


@every_case
@both_hands
def test_cutter_and_bush_touch_only_waste_fence_and_back_strip(name, hand):
    """Swept all along the slot, cutter and bush stay clear of plate, bearers and stop."""
    job, shop, parts, projection = made(name)
    router = shop.hand_router
    tools = [cutter_sweep(parts, hand, router, projection)]
    if router.bush_length_mm:
        tools.append(swept(parts, hand, router, router.bush_mm, -router.bush_length_mm, 0.0))
        assert tools[1].common(board_in_jig(job, parts, hand)).volume == 0
    for piece, _, _, solid in stations(parts, hand):
        if not piece.startswith(("fence", "back strip")):
            assert [tool.common(solid).volume for tool in tools] == pytest.approx([0] * len(tools), abs=NOTHING_MM3), (
                piece
            )


@every_case
def test_all_four_housings_are_the_ideal_ones(name):
    """Routed at every seat, what is gone is what the job asks for, and nothing else."""
    job, shop, parts, projection = made(name)
    timber, ideal = board(job), ideal_housing(job)
    tolerated = TOLERATED_MM3 if shop.machine.kind == "laser" else AS_CUT_MM3
    for (hand, edge), seat in SEATS.items():
        cut = cutter_sweep(parts, hand, shop.hand_router, projection)
        routed = timber.common(cut.placed(jig_from_timber_end(job, parts, hand, edge)))
        wanted = at_seat(ideal, seat)
        assert wanted.minus(routed).volume < tolerated
        assert routed.minus(wanted).volume < tolerated


@every_case
def test_the_leg_goes_in_and_both_failing_twins_do_not(name):
    """The bare leg enters the routed housing; with the wrong slot, or the fence on the bottom face, it does not."""
    job, shop, parts, projection = made(name)
    bare = leg(job)
    cut = cutter_sweep(parts, "R", shop.hand_router, projection)
    right = board(job).minus(cut.placed(jig_from_timber_end(job, parts, "R", 1)))
    assert right.common(bare).volume < NOTHING_MM3
    if parts[0].hand == "" and job.rake_deg < 89:
        crossed = cutter_sweep(parts, "L", shop.hand_router, projection)  # slot L, stop still at the right
        wrong_slot = board(job).minus(crossed.placed(jig_from_timber_end(job, parts, "R", 1)))
        assert wrong_slot.common(bare).volume > 100
    if job.splay_deg < 89:
        turned = Frame((0, 0, -job.top.thickness_mm), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0))
        bottom = board(job).minus(cut.placed(jig_from_timber_end(job, parts, "R", 1)).placed(turned))
        assert min(bottom.common(at_seat(bare, seat)).volume for seat in SEATS.values()) > 100


@every_case
@both_hands
def test_tenons_have_their_play_on_all_four_sides(name, hand):
    """Half-way through each part with mortises, every tenon stands free by the stated play."""
    _, shop, parts, _ = made(name)
    if shop.machine.kind == "cnc":
        parts = housing_jig_parts(solve(CASES[name][0]), replace(shop, machine=DEMO_SHOP.machine))  # without reliefs
    joint = shop.sheet.joint_clearance_mm
    found = 0
    for piece, part, frame, _ in stations(parts, hand):
        mortises = [hole.contour.bounds for hole in part.holes if hole.name.startswith("mortise")]
        if not mortises:
            continue
        width, height = part.outline.bounds[2:]
        for box in tenon_boxes(parts, hand, frame, part.thickness_mm):
            if not (0 < (box[0] + box[2]) / 2 < width and 0 < (box[1] + box[3]) / 2 < height):
                continue  # an arm or lug that passes outside this part
            inside = [
                m for m in mortises if m[0] < (box[0] + box[2]) / 2 < m[2] and m[1] < (box[1] + box[3]) / 2 < m[3]
            ]
            assert len(inside) == 1, piece
            (m,) = inside
            sides = sorted((box[0] - m[0], m[2] - box[2]))
            assert sides == pytest.approx([joint / 2] * 2, abs=1e-6) or sides == pytest.approx([0, joint], abs=1e-6)
            assert (box[1] - m[1], m[3] - box[3]) == pytest.approx((0.1, 0.1), abs=1e-6)
            found += 1
    assert found == {"": 10 + 6, "R": 6 + 4, "L": 6 + 4}[parts[0].hand]


def tenon_boxes(parts, hand, frame, thickness):
    """Boxes, in the frame of a part with mortises, of what other parts put through its middle plane."""
    part_from_jig = Frame(
        frame.inside((0, 0, 0)),
        *(tuple(axis[i] for axis in (frame.x_axis, frame.y_axis, frame.z_axis)) for i in range(3)),
    )
    boxes = []
    for name, _, _, solid in stations(parts, hand):
        if not name.startswith(("bearer", "end bearer")):
            continue
        local = solid.placed(part_from_jig)
        cut = local.kept_below((0, 0, thickness / 2 + 0.01), (0, 0, 1)).kept_below(
            (0, 0, thickness / 2 - 0.01), (0, 0, -1)
        )
        for each in cut.pieces():
            (x0, y0, _), (x1, y1, _) = each.bounds
            boxes.append((x0, y0, x1, y1))
    return boxes


def test_jobs_drawn_are_mostly_refused_for_a_reason_but_enough_are_made():
    """The random jobs are wild on purpose; both two-slot and one-handed jigs are among those that can be made."""
    jobs, drawn = makeable()
    assert len(jobs) == RANDOM_JOBS
    assert drawn < 60 * RANDOM_JOBS
    hands = {made(f"random {i}")[2][0].hand for i in range(RANDOM_JOBS)}
    assert hands == {"", "R"}


@pytest.mark.parametrize("name", VARIANTS)
def test_every_variant_passes_the_checks(name):
    """None of the variants is refused."""
    job, shop = VARIANTS[name]
    trestle = solve(job)
    assert errors_in(check_trestle(trestle) + check_kit(trestle, shop)) == []
