"""Lists of pieces and boards as an order has them, drawn from a seed: legs and square pieces, knots, counts, prices."""

import random
from itertools import pairwise

from brute_force_boards import KERF, piece

from jigmaker.order.board_file import BoardKind
from jigmaker.order.stretches import Stock, stretches_of

PRICED = 5
"""Each so many-th list has prices."""


def random_list(seed, pieces):
    """(kinds of piece, boards) of this seed, so many pieces in all."""
    draw = random.Random(seed)
    kinds = draw.randint(2, 6)
    low, high = draw.choice(((150, 1300), (150, 1300), (60, 300)))
    cuts = [0, *sorted(draw.sample(range(1, pieces), kinds - 1)), pieces]
    counts = [above - below for below, above in pairwise(cuts)]
    legs = [piece("leg", draw.uniform(600, 900), 3.341, 21.5, counts[0])] if draw.random() < 0.6 else []
    names = [f"piece {i}" for i in range(len(legs), kinds)]
    squares = [piece(name, draw.uniform(low, high), wanted=counts[int(name.split()[1])]) for name in names]
    found = [*legs, *squares]
    stocks = []
    for number in range(draw.randint(1, 4)):
        length = round(draw.uniform(1800, 5400), -1)
        knots = ((length * 0.4, length * 0.4 + 40),) if draw.random() < 0.25 else ()
        board = BoardKind(70, 32, length, None, 10.0, knots)
        count = draw.choice((10**6, 10**6, 30)) if number else 10**6
        cost = 1 if seed % PRICED else round(length * draw.uniform(0.2, 0.3))
        stocks.append(Stock(board, stretches_of(board, found, KERF), 1, count, cost, int(length * 1000)))
    return found, stocks
