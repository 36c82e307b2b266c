"""Pieces of one section and the boards for them in, which pieces come out of which stretch out: fewest boards, proved.

A pattern says how many of each kind of piece a stretch holds. With x how often a stretch is cut by a pattern and y how
many boards of a kind are taken, both whole,

    least     sum of cost y
    so that   sum over patterns of (pieces of this kind) x >= wanted      for every kind of piece
              sum over patterns x <= sticks y                             for every stretch of a kind of board
              y <= how many there are

is the least number of boards, or the least money, over all ways to cut them. Plain filling often needs as few boards as
the sum of all lengths does, and then nothing is left to prove. Elsewhere the program above is solved (HiGHS), first
without asking for whole numbers, which tells the patterns that a good plan can use; and then with these, for three
aims in turn: boards; metres of board, with so many boards; and of all such plans the one with the lowest sum of weights
that are drawn from the patterns' own words, so that the same pieces and boards give the same plan whatever the solver.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from hashlib import sha256
from math import ceil

from jigmaker.order.pieces import PieceKind
from jigmaker.order.stretches import Stock, Stretch
from jigmaker.record import dataclass

MOST_PATTERNS = 2000
"""Of more patterns the solver may take minutes: then it is given those alone that a plan of the cost in question can
use, or the cheapest of them, and what the plan may be off by is told."""

# So few patterns are given to the solver as they are.
_FEW = 200

# Of still more the filling stands.
_MOST_LISTED = 50_000

# Of a search for the fullest stretch: after so many the best so far will do.
_MOST_STEPS = 2_000

# Patterns looked at in a stretch, whether they have room for more or not.
_MOST_TRIED = 100_000

_CRUMB = 1e-6

_WEIGHT, _SPREAD = 1_000_000, 1_000_000

Pattern = tuple[int, ...]
"""How many of each kind of piece, in the order of the kinds."""


@dataclass(frozen=True, slots=True)
class Cut:
    """One board: which stock it is of, and a pattern for each of its stretches, stick after stick."""

    stock: int
    patterns: tuple[Pattern, ...]


@dataclass(frozen=True, slots=True)
class Fewest:
    """The boards to cut. least: no plan costs less than this. is_proved: none costs less than this one."""

    cuts: tuple[Cut, ...]
    cost: int
    least: int

    @property
    def is_proved(self) -> bool:
        """True when no other plan is cheaper."""
        return self.cost == self.least


def fewest(kinds: Sequence[PieceKind], wanted: Sequence[int], stocks: Sequence[Stock]) -> Fewest | None:
    """The plan for so many pieces of each kind; None when the boards cannot give them."""
    if not any(wanted):
        return Fewest((), 0, 0)
    task = _Task(kinds, wanted, stocks)
    # Four ways, each dearer than the one before: a filling board by board that no bound can beat; the integer program
    # over the patterns near the optimum; the same over all patterns; and, where these are too many, the filling with
    # its bound.
    filled = task.filled()
    is_counted = all(stock.cost == 1 for stock in stocks)
    least = task.by_sum(is_counted)
    if filled is not None and task.cost(filled) == least and len({stock.length for stock in stocks}) == 1:
        return Fewest(tuple(filled), least, least)
    patterns = task.all_patterns()
    count = 0 if patterns is None else sum(len(each) for by in patterns for each in by)
    if patterns is not None and count > _FEW:
        near = task.of_near_ones(patterns, filled, least)
        if count > MOST_PATTERNS or (near is not None and near.is_proved):
            return near
    solved = task.solved(patterns) if patterns is not None else None
    if solved is not None:
        return Fewest(tuple(solved), task.cost(solved), task.cost(solved))
    return None if filled is None else Fewest(tuple(filled), task.cost(filled), max(1, least))


@dataclass(frozen=True)
class _Task:
    """So many pieces of each kind, out of these boards."""

    kinds: Sequence[PieceKind]
    wanted: Sequence[int]
    stocks: Sequence[Stock]

    def cost(self, cuts: Sequence[Cut]) -> int:
        return sum(self.stocks[cut.stock].cost for cut in cuts)

    def by_sum(self, is_counted: bool) -> int:
        """No fewer or cheaper boards can hold pieces that take so much of them together; nor, of boards that all cost
        the same, so many of one kind alone."""
        # A board of cost c and room r gives no mm for less than c / r; so all the pieces cost at least taken x c / r of
        # the board that is cheapest a mm, rounded up to whole boards (-(-a // b) is a / b rounded up).
        taken = sum(n * kind.takes for n, kind in zip(self.wanted, self.kinds, strict=True))
        rooms = [stock.sticks * sum(each.square_room for each in stock.stretches) for stock in self.stocks]
        together = min(-(-taken * stock.cost // max(1, room)) for stock, room in zip(self.stocks, rooms, strict=True))
        if not is_counted:
            return together
        for n, kind in zip(self.wanted, self.kinds, strict=True):
            # Of this kind alone no board holds more than the one that holds most of them.
            rooms_of = [
                [each.leg_room if kind.spread else each.square_room for each in stock.stretches]
                for stock in self.stocks
            ]
            most = max(
                stock.sticks * sum(max(0, room) // kind.takes for room in of)
                for stock, of in zip(self.stocks, rooms_of, strict=True)
            )
            together = max(together, -(-n // max(1, most)))
        return together

    def filled(self) -> list[Cut] | None:
        """Board after board as full as it goes, always of the kind that gives most for its cost; None when they run
        out."""
        left, taken, cuts = tuple(self.wanted), [0] * len(self.stocks), list[Cut]()
        while any(left):
            best: tuple[float, int, Cut, Pattern] | None = None
            for i, stock in enumerate(self.stocks):
                if taken[i] >= stock.count:
                    continue
                patterns, rest = [], left
                for stretch in stock.stretches:
                    for _ in range(stock.sticks):
                        pattern = _fullest(self.kinds, rest, stretch)
                        patterns.append(pattern)
                        rest = tuple(n - m for n, m in zip(rest, pattern, strict=True))
                # What a board yields for its money; of two alike the shorter board.
                used = sum((n - m) * kind.takes for n, m, kind in zip(left, rest, self.kinds, strict=True))
                worth = (used / stock.cost, -stock.length)
                if used and (best is None or worth > (best[0], best[1])):
                    best = (*worth, Cut(i, tuple(patterns)), rest)
            if best is None:
                return None
            cuts.append(best[2])
            taken[best[2].stock] += 1
            left = best[3]
        return cuts

    def all_patterns(self) -> list[list[list[Pattern]]] | None:
        """For each stretch of each stock every pattern to which no wanted piece can be added; None for too many."""
        known: dict[tuple[int, int], list[Pattern]] = {}
        for stock in self.stocks:
            for stretch in stock.stretches:
                rooms = (stretch.square_room, stretch.leg_room)
                if rooms not in known:
                    known[rooms] = []
                    for pattern in self.maximal(stretch):
                        if pattern is None or len(known[rooms]) == MOST_PATTERNS:
                            return None
                        known[rooms].append(pattern)
        if sum(map(len, known.values())) > _MOST_LISTED:
            return None
        return [[known[each.square_room, each.leg_room] for each in stock.stretches] for stock in self.stocks]

    def maximal(self, stretch: Stretch) -> Iterator[Pattern | None]:
        """Every pattern that the stretch holds and that has no room for a further piece; None: there are too many."""
        # Only patterns that are full matter: of one with room for a further piece, the fuller one does the same and
        # more, as pieces beyond the wanted ones are taken out again.
        takes, slanted = [kind.takes for kind in self.kinds], [bool(kind.spread) for kind in self.kinds]
        rooms, tried = (stretch.square_room, stretch.leg_room), 0

        def grown(place: int, chosen: Pattern, used: int, has_legs: bool) -> Iterator[Pattern | None]:
            nonlocal tried
            if place == len(self.kinds):
                tried += 1
                if tried > _MOST_TRIED:
                    yield None
                grows = any(
                    chosen[i] < self.wanted[i] and used + takes[i] <= rooms[has_legs or slanted[i]]
                    for i in range(len(self.kinds))
                )
                if used and not grows:
                    yield chosen
                return
            most = max(0, min(self.wanted[place], (rooms[has_legs or slanted[place]] - used) // takes[place]))
            # Of the last kind fewer than fit would leave room for one more.
            for n in range(most, most - 1 if place + 1 == len(self.kinds) else -1, -1):
                legs = has_legs or (n > 0 and slanted[place])
                if used + n * takes[place] <= rooms[legs]:
                    yield from grown(place + 1, (*chosen, n), used + n * takes[place], legs)

        yield from grown(0, (), 0, False)

    def solved(self, patterns: list[list[list[Pattern]]], most: int | None = None) -> list[Cut] | None:
        """The three programs in turn; None when the boards cannot give the pieces, or not at the most that is asked."""
        from jigmaker.order.integer_program import Program

        program = Program(self.wanted, self.stocks, patterns)
        # First the least cost; then, at that cost, the least length of all boards; then one plan out of all that are
        # left, by fixed weights, so that every machine and every version of the solver ends at the same plan.
        costs = [stock.cost for stock in self.stocks]
        best = program.least(costs, None, [])
        if best is None or (most is not None and best > most):
            return None
        rows = [(costs, best)]
        if len({stock.length for stock in self.stocks}) > 1:
            lengths = [stock.length // 1000 for stock in self.stocks]
            metres = program.least(lengths, None, rows)
            if metres is not None:  # else it was not proved in time, and the plan stays as it is
                rows.append((lengths, metres))
        program.least([0] * len(self.stocks), self.weights(patterns), rows)
        return self.boards(patterns, program.boards, program.times, (0,) * len(self.wanted))

    def of_near_ones(self, patterns: list[list[list[Pattern]]], filled: list[Cut] | None, least: int) -> Fewest | None:
        """The plan out of the patterns that matter.

        Let z be the least cost where nothing need be whole, and r what a plan costs more, at least, for using a
        pattern. No plan costs less than z rounded up, and none of at most c uses a pattern of r > c - z: without those
        the program has the same plans of that cost. c is that bound first, then the filling's cost: plans of it may
        have fewer metres.
        """
        from jigmaker.order.integer_program import reduced_costs

        best, found = filled, reduced_costs(self.wanted, self.stocks, patterns)
        if found is not None:
            # No whole plan is cheaper than the program without whole numbers, so its least cost, rounded up, is a
            # bound.
            value, more = found
            least = max(least, ceil(value - _CRUMB))
            highest = least if filled is None else max(least, self.cost(filled))
            for aim in dict.fromkeys((least, highest)):
                # A plan of cost `aim` or less can use no pattern whose use alone brings it above: those are left out of
                # the program.
                near = sorted(r for by in more for each in by for r in each if r <= aim - value + _CRUMB)
                limit = near[MOST_PATTERNS - 1] if len(near) > MOST_PATTERNS else aim - value + _CRUMB
                kept = [
                    [
                        [pattern for pattern, r in zip(each, own, strict=True) if r <= limit]
                        for each, own in zip(by, of, strict=True)
                    ]
                    for by, of in zip(patterns, more, strict=True)
                ]
                solved = self.solved(kept, None if filled is None else aim)
                cost = None if solved is None else self.cost(solved)
                if solved is not None and (best is None or self.cost(solved) <= self.cost(best)):
                    best = solved
                if len(near) <= MOST_PATTERNS and cost is not None:
                    least = max(least, min(cost, aim + 1))  # the solver's least of all plans up to the aim
                if cost is not None and cost == least:
                    break
        return None if best is None else Fewest(tuple(best), self.cost(best), max(1, least))

    def weights(self, patterns: list[list[list[Pattern]]]) -> list[list[list[int]]]:
        """A weight for every pattern of every stretch, drawn from what they are and from nothing else."""

        def weight(stock: Stock, stretch: Stretch, pattern: Pattern) -> int:
            words = f"{stock.kind.width_mm} {stock.kind.thickness_mm} {stock.length} {stretch.start} {pattern}"
            return _WEIGHT + int.from_bytes(sha256(words.encode()).digest()[:4], "big") % _SPREAD

        return [
            [
                [weight(stock, stretch, pattern) for pattern in each]
                for stretch, each in zip(stock.stretches, by, strict=True)
            ]
            for stock, by in zip(self.stocks, patterns, strict=True)
        ]

    def boards(
        self, patterns: list[list[list[Pattern]]], boards: Sequence[int], times: list[list[list[int]]], none: Pattern
    ) -> list[Cut]:
        """The patterns dealt out to boards: fullest patterns to the first board, stretch by stretch."""
        cuts = []
        for i, (stock, count) in enumerate(zip(self.stocks, boards, strict=True)):
            dealt = []
            for by_stretch, how_often in zip(patterns[i], times[i], strict=True):
                all_of = [pattern for pattern, n in zip(by_stretch, how_often, strict=True) for _ in range(n)]
                all_of = sorted(all_of, reverse=True) + [none] * (count * stock.sticks - len(all_of))
                dealt.append(all_of)
            for board in range(count):
                sticks = range(board * stock.sticks, (board + 1) * stock.sticks)
                cuts.append(Cut(i, tuple(all_of[stick] for all_of in dealt for stick in sticks)))
        return cuts


def _fullest(kinds: Sequence[PieceKind], left: Pattern, stretch: Stretch) -> Pattern:
    """The pattern out of these pieces that fills the stretch best: longest first, then whatever mends the rest."""
    # A stretch has one room for square pieces alone and another, less the slant's spread, once a leg is among them.
    best, best_sum = tuple(0 for _ in kinds), 0
    for has_legs in (False, True):
        room = stretch.leg_room if has_legs else stretch.square_room
        usable = tuple(n if has_legs or not kind.spread else 0 for n, kind in zip(left, kinds, strict=True))
        pattern, total = _knapsack(tuple(kind.takes for kind in kinds), usable, room)
        if total > best_sum:
            best, best_sum = pattern, total
    return best


@lru_cache(maxsize=4096)
def _knapsack(takes: tuple[int, ...], left: Pattern, room: int) -> tuple[Pattern, int]:
    """The pattern with the greatest sum that the room holds; of two alike the first found, longest pieces first."""
    # Branch and bound: kind after kind, as many as fit and then fewer. A branch is given up when even all pieces left,
    # or all room left, could not bring more than the best so far; and after _MOST_STEPS, with the best found by then.
    order = sorted(range(len(takes)), key=lambda i: -takes[i])
    best: list[int] = [0] * len(takes)
    best_sum, steps = 0, 0

    def search(place: int, room_left: int, chosen: list[int]) -> None:
        nonlocal best, best_sum, steps
        steps += 1
        if room - room_left > best_sum:
            best, best_sum = list(chosen), room - room_left
        if place == len(order) or best_sum == room or steps > _MOST_STEPS:
            return
        rest = sum(takes[i] * left[i] for i in order[place:])
        if room - room_left + min(rest, room_left) <= best_sum:
            return
        i = order[place]
        for n in range(min(left[i], room_left // takes[i]), -1, -1):
            chosen[i] = n
            search(place + 1, room_left - n * takes[i], chosen)
        chosen[i] = 0

    search(0, max(0, room), [0] * len(takes))
    return tuple(best), best_sum
