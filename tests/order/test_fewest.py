"""Fewest boards: a published example, small lists by brute force, and boards that a run fills to its last point."""

import random
from dataclasses import replace
from math import inf

import pytest
from brute_force_boards import KERF, least_boards, piece
from random_boards import random_list
from sample_jobs import DEMO

from jigmaker.errors import JobError
from jigmaker.order import fewest as search
from jigmaker.order.board_file import BoardFile, BoardKind
from jigmaker.order.cutting_plan import plan_boards
from jigmaker.order.fewest import fewest
from jigmaker.order.pieces import piece_kinds
from jigmaker.order.stretches import Stock, stretches_of
from jigmaker.trestle.solve import solve

# Wikipedia, "Cutting stock problem", example of a paper machine: widths, and how many of each, out of 5600 wide rolls.
WIDTHS = (1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200)
WANTED = (22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20)
ROLL, LEAST = 5600, 73


def test_the_published_example_takes_73_rolls():
    """Nothing is lost between two widths there."""
    kinds = [piece(str(w), w, 0.0, wanted=n) for w, n in zip(WIDTHS, WANTED, strict=True)]
    roll = BoardKind(70, 32, ROLL)
    plan = fewest(kinds, WANTED, [Stock(roll, stretches_of(roll, kinds, 0.0), 1, 10**6, 1, ROLL * 1000)])
    assert (plan.cost, plan.is_proved) == (LEAST, True)


def _list(seed):
    """(kinds of piece, kinds of board) drawn: legs and square pieces, knots, trims, counts."""
    draw = random.Random(seed)
    gap, spread = draw.choice(((3.341, 21.5), (3.793, 48.9), (KERF, 0.0)))
    leg = piece("leg", draw.uniform(300, 700), gap, spread, draw.randint(1, 4))
    squares = [
        piece(f"square {i}", draw.uniform(80, 600), wanted=draw.randint(1, 3)) for i in range(draw.randint(0, 2))
    ]
    boards = []
    for _ in range(draw.randint(1, 2)):
        length = draw.uniform(900, 2400)
        at = draw.uniform(0.2, 0.7) * length
        knots = ((at, at + draw.uniform(20, 90)),) if draw.random() < 0.4 else ()
        count = draw.choice((None, None, 1, 3))
        boards.append(BoardKind(70, 32, length, count, draw.choice((0.0, 10.0)), knots))
    return [leg, *squares], boards


@pytest.mark.parametrize("few", [200, 0], ids=["all patterns", "those that matter"])
def test_small_lists_take_as_few_boards_as_brute_force_finds(monkeypatch, few):
    """A hundred lists; the plan's own check is passed by each, whoever is right about the number."""
    monkeypatch.setattr(search, "_FEW", few)
    wrong, none = [], 0
    for seed in range(100):
        kinds, boards = _list(seed)
        pieces = [(k.length / 1000, k.gap / 1000, k.spread / 1000) for k in kinds for _ in range(k.wanted)]
        told = [(b.length_mm, b.trim_mm, b.unusable_mm, inf if b.count is None else b.count) for b in boards]
        wanted = least_boards(pieces, told, KERF)
        try:
            found = len(plan_boards(kinds, BoardFile(tuple(boards), KERF), "mm")[0].boards)
        except JobError:
            found, none = None, none + 1
        if found != wanted and not (wanted is None and found is not None and found > 5):
            wrong.append((seed, found, wanted))
    assert wrong == []
    assert 3 <= none <= 50


# The demo with rake and splay as in the first column: legs of H D, gap of kerf D, spread of an end cut, as the solid
# kernel cut them out of a stick; a run of n legs takes n (H D + kerf D) + S - kerf D.
RUNS = [
    ((78, 78), 751.826, 3.3415, 21.501),
    ((60, 75), 853.475, 3.7932, 48.855),
    ((90, 90), 720.0, 3.2, 0.0),
]


@pytest.mark.parametrize(("angles", "along", "kerf", "spread"), RUNS, ids=[str(row[0]) for row in RUNS])
def test_a_board_of_a_run_holds_it_and_0_02_mm_less_does_not(angles, along, kerf, spread):
    """Up to seven legs: a kerf that is not stretched, or a spread that is forgotten or paid twice, moves this edge."""
    trestle = solve(replace(DEMO, rake_deg=angles[0], splay_deg=angles[1]))
    leg = next(kind for kind in piece_kinds(trestle, KERF) if kind.name == "leg")
    for n in range(1, 8):
        run = n * (along + kerf) + spread - kerf
        for more, holds in ((-0.02 * (n > 1) - 0.02, False), (0.02, True)):
            file = BoardFile((BoardKind(70, 32, run + more, 1),), KERF)
            try:
                plan_boards([replace(leg, wanted=n, spares=0)], file, "mm")
                assert holds, (n, more)
            except JobError:
                assert not holds, (n, more)


@pytest.mark.parametrize("seed", range(1, 5))
def test_the_patterns_that_matter_give_the_plan_that_all_of_them_give(monkeypatch, seed):
    """And where there are more of them than the solver is given at once, the same cost or a bound below it."""
    kinds, stocks = random_list(seed, 60)
    wanted = [kind.wanted for kind in kinds]
    whole = fewest(kinds, wanted, stocks)
    monkeypatch.setattr(search, "_FEW", 0)
    assert fewest(kinds, wanted, stocks) == whole
    monkeypatch.setattr(search, "MOST_PATTERNS", 15)
    some = fewest(kinds, wanted, stocks)
    assert some.least <= whole.cost <= some.cost <= 1.1 * whole.cost


def test_the_same_boards_in_another_order_give_the_same_plan():
    """Of many best plans it is always the same one: of pieces, boards and nothing else."""
    kinds = [piece("a", 700, wanted=7), piece("b", 450, wanted=9), piece("leg", 640, 3.34, 21.5, 8)]
    boards = (BoardKind(70, 32, 2440), BoardKind(70, 32, 3000, 3), BoardKind(70, 32, 1800, None, 10.0))
    plans = []
    for turn in range(3):
        file = BoardFile((*boards[turn:], *boards[:turn]), KERF)
        plan = plan_boards([*kinds[turn:], *kinds[:turn]], file, "mm")[0]
        plans.append([(board.kind, board.pieces) for board in plan.boards])
    assert plans[0] == plans[1] == plans[2]


def test_of_plans_with_as_few_boards_the_one_with_fewest_metres():
    """25 legs out of 5400 and 3600: four boards either way, 21.6 m of the longer, 19.8 m with one shorter."""
    leg = piece("leg", 751.826, 3.3415, 21.501, 25)
    (plan,) = plan_boards([leg], BoardFile((BoardKind(70, 32, 5400), BoardKind(70, 32, 3600))), "mm")
    assert [(kind.length_mm, n) for kind, n in plan.to_buy] == [(5400, 3), (3600, 1)]
    assert plan.metres == pytest.approx(19.8)


def test_with_prices_the_cheapest():
    """Two short ones are cheaper than the long one that would do."""
    board = BoardKind(70, 32, 2000, price=9.0)
    (plan,) = plan_boards([piece("a", 900, wanted=2)], BoardFile((board, BoardKind(70, 32, 1000, price=4.0))), "mm")
    assert [(kind.length_mm, n) for kind, n in plan.to_buy] == [(1000, 2)]
    assert (plan.cost, plan.least, plan.is_priced) == (800, 800, True)
