"""The cutting plan of a batch: spares, ripped boards, what is short, and plans that are wrong; the demo on solids."""

from dataclasses import replace
from itertools import pairwise

import pytest
from brute_force_boards import KERF, piece
from sample_jobs import DEMO
from trestle_on_solids import UP, directions

from jigmaker.errors import JobError
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import dot
from jigmaker.job.job import Size
from jigmaker.order.board_file import BoardFile, BoardKind
from jigmaker.order.cutting_plan import BoardPlan, Placed, check_plan, plan_boards
from jigmaker.order.pieces import piece_kinds
from jigmaker.trestle.solve import solve

LEGS, TOPS, BRACES = (70, 32), (120, 45), (110, 18)
AT_HAND = (
    BoardKind(*LEGS, 2440, None, 10.0),
    BoardKind(*TOPS, 3000, None, 10.0),
    BoardKind(*BRACES, 2440, None, 10.0),
)


def demo_kinds():
    """Pieces of the demo's batch without trim, so that a leg is 751.83 long."""
    return piece_kinds(solve(DEMO), KERF, 300.0)


def test_a_spare_that_costs_a_board_is_left_out_and_told():
    """24 legs fill eight boards of 2440, and the 25th would take a ninth; it is cut when it is asked for."""
    plans = {plan.width_mm: plan for plan in plan_boards(demo_kinds(), BoardFile(AT_HAND), "mm")}
    assert (len(plans[70].boards), [kind.name for kind in plans[70].left_out]) == (8, ["leg"])
    with_spares = {plan.width_mm: plan for plan in plan_boards(demo_kinds(), BoardFile(AT_HAND), "mm", spares=True)}
    assert (len(with_spares[70].boards), with_spares[70].left_out) == (9, ())
    longer = (replace(AT_HAND[0], length_mm=3900), *AT_HAND[1:])
    assert len(plan_boards(demo_kinds(), BoardFile(longer), "mm")[-1].boards) == 5  # the spare finds room


def test_legs_of_several_sizes_share_boards_and_cuts():
    """16 legs of 720 and 8 of 520: they lie in one run, each cut the end of two; the stops come longest first."""
    job = replace(DEMO, trestles=4, further_sizes=(Size(2, 520.0, 900.0),))
    kinds = piece_kinds(solve(job), KERF, 300.0)
    legs = [kind for kind in kinds if kind.name.startswith("leg")]
    assert [(kind.name, kind.wanted, kind.spares) for kind in legs] == [
        ("leg for size 720 mm", 16, 1),
        ("leg for size 520 mm", 8, 0),
    ]
    assert [kind.stop_mm for kind in legs] == pytest.approx([751.827, 751.827 * 520 / 720], abs=1e-3)
    plan = next(plan for plan in plan_boards(kinds, BoardFile(AT_HAND), "mm") if plan.width_mm == 70)
    both = [board for board in plan.boards if len({piece.kind.name for piece in board.pieces}) == 2]
    assert both  # else nothing is shared
    for board in both:
        lengths = [piece.kind.length for piece in board.pieces]
        assert lengths == sorted(lengths, reverse=True)
        for one, other in pairwise(board.pieces):
            assert other.start - one.start == one.kind.length + legs[0].gap


def test_a_wider_board_is_ripped():
    """Three legs wide with two kerfs between; of another thickness it is no use."""
    leg = piece("leg", 700, 3.34, 21.5, 9)
    (plan,) = plan_boards([leg], BoardFile((BoardKind(216.4, 32, 2200),)), "mm")
    assert [(board.sticks, len(board.pieces)) for board in plan.boards] == [(3, 9)]
    assert len(plan_boards([leg], BoardFile((BoardKind(216.3, 32, 2200),)), "mm")[0].boards) == 2
    with pytest.raises(JobError, match="no board has the section 70 mm x 32 mm, which the leg takes"):
        plan_boards([leg], BoardFile((BoardKind(216.4, 38, 2200),)), "mm")
    short = piece("short leg", 600, 3.34, 21.5, 9)
    with pytest.raises(JobError, match="which the leg and the short leg take; add"):
        plan_boards([leg, short], BoardFile((BoardKind(216.4, 38, 2200),)), "mm")
    with pytest.raises(JobError, match=r"long enough for: leg [(]721[.]6 mm[)]"):  # 721.54 mm, and no less
        plan_boards([piece("leg", 700.04, 3.34, 21.5, 9)], BoardFile((BoardKind(70, 32, 700),)), "mm")


def test_what_is_short_and_what_to_buy():
    """One sentence for each section, all at once."""
    boards = (replace(AT_HAND[0], count=6), replace(AT_HAND[1], length_mm=800))
    with pytest.raises(JobError) as caught:
        plan_boards(demo_kinds(), BoardFile(boards), "mm")
    assert [fault.split(":")[0] for fault in caught.value.faults] == [
        "no board of 120 mm x 45 mm is long enough for",
        "no board has the section 110 mm x 18 mm, which the brace takes; add a [[board]] of it",
        "the boards of 70 mm x 32 mm do not give the batch",
    ]
    assert caught.value.faults[2].endswith("short of 6 legs. Buy 2 of 2440 mm more")


def test_boards_cut_alike_follow_each_other_and_are_counted_through_all_sections():
    """Whichever board the last few pieces came out of."""
    plans = plan_boards(demo_kinds(), BoardFile(AT_HAND), "mm")
    assert [number for plan in plans for of in plan.alike.values() for number in of] == [*range(1, 12)]
    uneven = [piece("a", 700, wanted=13), piece("b", 450, wanted=16), piece("leg", 640, 3.34, 21.5, 14)]
    (plan,) = plan_boards(uneven, BoardFile((replace(AT_HAND[0], length_mm=3000),)), "mm")
    assert sum(len(of) for of in plan.alike.values()) == len(plan.boards) > len(plan.alike)
    assert all(of == [*range(of[0], of[-1] + 1)] for of in plan.alike.values())


def _spoilt(plan):
    """(what is wrong, the plan with it)."""
    first = plan.boards[0]
    last = first.pieces[-1]

    def with_pieces(*pieces):
        return replace(plan, boards=(replace(first, pieces=pieces), *plan.boards[1:]))

    yield "holds 23 of leg", with_pieces(*first.pieces[:-1])
    yield "holds 26 of leg", with_pieces(*first.pieces, *first.pieces[:2])
    yield "another section", with_pieces(*first.pieces, Placed(piece("top", 100, section=TOPS), 0))
    yield "mm between leg and leg", with_pieces(*first.pieces[:-1], replace(last, start=last.start - 100))
    yield "lies in what is unusable", with_pieces(replace(first.pieces[0], start=5_000), *first.pieces[1:])
    yield "is empty", replace(plan, boards=(*plan.boards, BoardPlan(first.kind, 1, (), ())))
    few = replace(first.kind, count=1)
    yield "not 1", replace(plan, boards=tuple(replace(board, kind=few) for board in plan.boards))


def test_a_plan_that_is_wrong_is_refused():
    """Whoever made it: counts, trims, the blade between two pieces, boards that are not there."""
    kinds = demo_kinds()
    plan = plan_boards(kinds, BoardFile(AT_HAND), "mm")[-1]
    check_plan(plan, kinds, KERF)
    for words, wrong in _spoilt(plan):
        with pytest.raises(JobError, match=words):
            check_plan(wrong, kinds, KERF)


@pytest.mark.parametrize("angles", [(78, 78), (60, 75), (90, 84)])
def test_legs_of_a_plan_lie_in_the_board_with_the_blade_between_them(angles):
    """On solids: two level planes a height apart cut each leg out of a stick. Each reaches from where to where the plan
    says, none overlaps the next, and between two cuts there is the blade, square to them.
    """
    job = replace(DEMO, rake_deg=angles[0], splay_deg=angles[1])
    kind = next(each for each in piece_kinds(solve(job), KERF) if each.name == "leg")
    board = plan_boards([kind], BoardFile((BoardKind(*LEGS, 3900, None, 10.0),)), "mm")[0].boards[0]
    down, wide, edge, _ = directions(job)
    level = tuple(dot(UP, axis) for axis in (down, edge, wide))  # in a stick along x, its wide face in x and y
    legs = [_leg(job, level, each.start / 1000) for each in board.pieces]
    assert len(legs) >= 4
    for leg, each in zip(legs, board.pieces, strict=True):
        low, high = leg.bounds
        assert (low[0], high[0]) == pytest.approx((each.start / 1000, each.end / 1000), abs=0.003)
    for leg, other in pairwise(legs):
        assert leg.common(other).is_empty
        heights = [[-dot(level, corner) for corner in each.corners] for each in (leg, other)]
        assert min(heights[1]) - max(heights[0]) == pytest.approx(KERF, abs=0.003)


def _leg(job, level, start):
    """The leg out of a stick whose lowest corner along it lies at `start`."""
    stick = Solid.block((-300.0, 0.0, 0.0), (3000.0, job.leg.width_mm, job.leg.thickness_mm))
    down = tuple(-part for part in level)
    head = stick.kept_below((0.0, 0.0, 0.0), level)
    leg = head.kept_below(tuple(part * job.height_mm for part in down), down)
    return leg.moved((start - leg.bounds[0][0], 0.0, 0.0))


def test_legs_in_blanks_share_no_cut():
    """A blank is square, 10 mm longer than the leg from long point to long point, and a kerf from the next one."""
    leg = next(kind for kind in piece_kinds(solve(DEMO), KERF, in_blanks=True) if kind.name == "leg")
    assert (leg.spread, leg.gap) == (0, KERF * 1000)
    assert leg.stop_mm == pytest.approx(773.327 + 10, abs=2e-3)
