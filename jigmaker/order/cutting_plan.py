"""Pieces and boards in, the whole cutting plan out: board by board, which piece starts where; thousandths of a mm.

One plan a section: boards of its own width, or wider ones of the same thickness that are ripped. What one section has
taken of boards that are limited in number the next ones do not find; sections are taken widest first.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property
from itertools import pairwise

from jigmaker.errors import JobError
from jigmaker.order.board_file import BoardFile, BoardKind
from jigmaker.order.fewest import Cut, Fewest, Pattern, fewest
from jigmaker.order.pieces import PARTS_A_MM, PieceKind
from jigmaker.order.stretches import Stock, sticks_of, stretches_of
from jigmaker.record import dataclass
from jigmaker.trestle.wording import at_least
from jigmaker.units import Unit, length_text, text

ENDLESS = 10**6
"""Boards of which there are as many as are needed."""

# What a board that is not there costs: more than all that are.
_MISSING = 10**7


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece in a board: from its first to its last point, from the board's left end; `stick` counts from 1."""

    kind: PieceKind
    start: int
    stick: int = 1

    @property
    def end(self) -> int:
        """Where its last point lies."""
        return self.start + self.kind.length + self.kind.spread


@dataclass(frozen=True, slots=True)
class BoardPlan:
    """One board with its pieces from left to right, stick by stick. rests: (start, end) of what is left over."""

    kind: BoardKind
    sticks: int
    pieces: tuple[Placed, ...]
    rests: tuple[tuple[int, int], ...]

    @property
    def to_spare(self) -> int:
        """How much shorter the board might be than it was said to be."""
        limit = int(self.kind.length_mm * PARTS_A_MM) - int(self.kind.trim_mm * PARTS_A_MM)
        return limit - max((piece.end for piece in self.pieces), default=0)

    def fault(self, kerf_mm: float) -> str:
        """What is wrong: a piece in a trim or a knot, two that overlap or leave too little for the blade; else ""."""
        kind, kerf = self.kind, kerf_mm * PARTS_A_MM
        # Worked out anew from the figures of the board, by none of the functions that made the plan. A thousandth of a
        # mm is let pass: lengths were rounded to whole ones.
        spans = [(0.0, kind.trim_mm), (kind.length_mm - kind.trim_mm, kind.length_mm), *kind.unusable_mm]
        for piece in self.pieces:
            for low, high in spans:
                if piece.start < high * PARTS_A_MM - 1 and piece.end > low * PARTS_A_MM + 1:
                    return f"{piece.kind.name} lies in what is unusable, {text(low)} to {text(high)} mm"
        for stick in range(1, self.sticks + 1):
            row = sorted((piece for piece in self.pieces if piece.stick == stick), key=lambda piece: piece.start)
            for one, other in pairwise(row):
                shared = one.kind.spread and other.kind.spread
                between = other.start - (one.start + one.kind.length) if shared else other.start - one.end
                if between < (one.kind.gap if shared else kerf) - 2:
                    return f"{text(between / PARTS_A_MM, 3)} mm between {one.kind.name} and {other.kind.name}"
        return ""


@dataclass(frozen=True)
class SectionPlan:
    """The boards of one section. least: no plan takes fewer, or is cheaper where boards have prices.

    left_out: spare pieces that would have taken one more board. before: boards of the sections before this one, on from
    which its own are counted.
    """

    width_mm: float
    thickness_mm: float
    boards: tuple[BoardPlan, ...]
    cost: int
    least: int
    is_priced: bool
    left_out: tuple[PieceKind, ...]
    before: int = 0

    @property
    def alike(self) -> dict[BoardPlan, list[int]]:
        """The boards that differ, in order, each with the numbers of all that are cut like it."""
        found: dict[BoardPlan, list[int]] = {}
        for number, board in enumerate(self.boards, self.before + 1):
            found.setdefault(board, []).append(number)
        return found

    @cached_property
    def to_buy(self) -> tuple[tuple[BoardKind, int], ...]:
        """How many of each kind of board, longest first."""
        kinds = dict.fromkeys(board.kind for board in self.boards)
        return tuple((kind, sum(board.kind == kind for board in self.boards)) for kind in kinds)

    @property
    def metres(self) -> float:
        """Length of all boards together, m."""
        return sum(board.kind.length_mm for board in self.boards) / 1000

    @property
    def waste(self) -> float:
        """What does not end up in pieces, as a share of all boards."""
        used = sum(piece.kind.length for board in self.boards for piece in board.pieces) / PARTS_A_MM
        return 1 - used / sum(board.kind.length_mm * board.sticks for board in self.boards)


@dataclass(frozen=True)
class _OneSection:
    """The pieces of one section, and the boards that can give them."""

    pieces: Sequence[PieceKind]
    stocks: Sequence[Stock]

    def lacking(self, section: tuple[float, float], unit: Unit) -> str:
        """In a sentence, that no board has the section, or none is long enough; "" where the boards only might be
        few."""
        name = " x ".join(length_text(mm, unit) for mm in section)
        if not self.stocks:
            takers = [f"the {kind.name}" for kind in self.pieces if kind.wanted]
            take = f"{' and '.join(takers)} {'takes' if len(takers) == 1 else 'take'}"
            return f"no board has the section {name}, which {take}; add a [[board]] of it"
        longest = (
            max(each.length for stock in self.stocks for each in stock.stretches)
            if any(s.stretches for s in self.stocks)
            else 0
        )
        too_long = [kind for kind in self.pieces if kind.wanted and kind.length + kind.spread > longest]
        if not too_long:
            return ""
        parts = ", ".join(f"{k.name} ({at_least((k.length + k.spread) / PARTS_A_MM, unit)})" for k in too_long)
        usable = length_text(longest / PARTS_A_MM, unit)
        return (
            f"no board of {name} is long enough for: {parts}; the longest usable stretch is {usable}. Add a longer one"
        )

    def short_of(self, section: tuple[float, float], unit: Unit) -> str:
        """Which pieces find no board, and which more boards give them: a plan in which what is not there costs most."""
        name, wanted = " x ".join(length_text(mm, unit) for mm in section), [kind.wanted for kind in self.pieces]
        more = [replace(stock, count=ENDLESS, cost=_MISSING) for stock in self.stocks]
        plan = fewest(self.pieces, wanted, [*self.stocks, *more])
        assert plan is not None
        bought = [cut for cut in plan.cuts if cut.stock >= len(self.stocks)]
        lacking = []
        for i, kind in enumerate(self.pieces):
            held = sum(pattern[i] for cut in plan.cuts if cut not in bought for pattern in cut.patterns)
            if (n := wanted[i] - held) > 0:
                lacking.append(f"{n} {kind.names if n > 1 else kind.name}")
        counts = [sum(cut.stock - len(self.stocks) == i for cut in bought) for i in range(len(self.stocks))]
        lengths = [length_text(stock.kind.length_mm, unit) for stock in self.stocks]
        buy = ", ".join(f"{n} of {length}" for n, length in zip(counts, lengths, strict=True) if n)
        return f"the boards of {name} do not give the batch: short of {', '.join(lacking)}. Buy {buy} more"

    def plan(self, best: Fewest, spares: bool) -> SectionPlan:
        """The best plan without spares, with those of them that cost no further board, or with all where they are
        asked."""
        wanted, left_out = [kind.wanted for kind in self.pieces], list[PieceKind]()
        for i, kind in enumerate(self.pieces):
            if not kind.spares:
                continue
            more = [*wanted[:i], wanted[i] + kind.spares, *wanted[i + 1 :]]
            with_spare = fewest(self.pieces, more, self.stocks)
            if with_spare is not None and (spares or with_spare.cost == best.cost):
                best, wanted = with_spare, more
            else:
                left_out.append(kind)
        is_priced = any(stock.kind.price is not None for stock in self.stocks)
        section, boards = (self.pieces[0].width_mm, self.pieces[0].thickness_mm), self.laid_out(wanted, best)
        return SectionPlan(*section, boards, best.cost, best.least, is_priced, tuple(left_out))

    def laid_out(self, wanted: Sequence[int], plan: Fewest) -> tuple[BoardPlan, ...]:
        """The boards in order, longest first, fullest first, so that those cut alike follow each other; pieces beyond
        the wanted ones taken out again.
        """

        def order(cut: Cut) -> tuple[int, list[list[int]]]:
            return cut.stock, [[-n for n in pattern] for pattern in cut.patterns]

        cuts = sorted(plan.cuts, key=order)
        held = [list(cut.patterns) for cut in cuts]
        for i in sorted(range(len(self.pieces)), key=lambda i: -self.pieces[i].length):
            surplus = sum(pattern[i] for board in held for pattern in board) - wanted[i]
            for _ in range(surplus):
                board, slot = self.where_most_is_left(cuts, held, i)
                pattern = held[board][slot]
                held[board][slot] = (*pattern[:i], pattern[i] - 1, *pattern[i + 1 :])
        cut_so = sorted((Cut(cut.stock, tuple(of)) for cut, of in zip(cuts, held, strict=True)), key=order)
        return tuple(_board(self.pieces, self.stocks[cut.stock], cut.patterns) for cut in cut_so)

    def where_most_is_left(self, cuts: Sequence[Cut], held: list[list[Pattern]], kind: int) -> tuple[int, int]:
        """Board and place in it where taking a piece of this kind out leaves the longest rest; the first of several."""

        def rest(board: int, slot: int) -> int:
            stock = self.stocks[cuts[board].stock]
            used = sum(n * piece.takes for n, piece in zip(held[board][slot], self.pieces, strict=True))
            return stock.stretches[slot // stock.sticks].square_room - used + self.pieces[kind].takes

        places = [(b, s) for b, board in enumerate(held) for s, pattern in enumerate(board) if pattern[kind]]
        return min(places, key=lambda place: (-rest(*place), *place))


def plan_boards(
    kinds: Sequence[PieceKind], file: BoardFile, unit: Unit, spares: bool = False
) -> tuple[SectionPlan, ...]:
    """A plan for each section. Spare pieces are left out where they take one more board, unless `spares` asks for them.

    Raises JobError, with what is short and what to buy, when the boards cannot give the batch.
    """
    sections = sorted({(kind.width_mm, kind.thickness_mm) for kind in kinds}, reverse=True)
    left = {kind: ENDLESS if kind.count is None else kind.count for kind in file.kinds}
    plans, faults = list[SectionPlan](), list[str]()
    for section in sections:
        pieces = sorted(
            (k for k in kinds if (k.width_mm, k.thickness_mm) == section), key=lambda k: (bool(k.spread), k.name)
        )
        stocks = _stocks(pieces, file, left)
        task = _OneSection(pieces, stocks)
        lacking = task.lacking(section, unit)
        best = None if lacking else fewest(pieces, [kind.wanted for kind in pieces], stocks)
        if best is None:
            faults.append(lacking or task.short_of(section, unit))
            continue
        plan = task.plan(best, spares)
        plans.append(replace(plan, before=sum(len(other.boards) for other in plans)))
        for board in plan.boards:
            left[board.kind] -= 1
    if faults:
        raise JobError(faults)
    for plan in plans:
        check_plan(plan, kinds, file.kerf_mm)
    return tuple(plans)


def _stocks(pieces: Sequence[PieceKind], file: BoardFile, left: dict[BoardKind, int]) -> list[Stock]:
    """The boards that can give this section, longest first; the order in the file does not matter."""
    stocks = []
    for kind in file.kinds:
        if sticks := sticks_of(kind, pieces[0], file.kerf_mm):
            cost = 1 if kind.price is None else round(kind.price * 100)
            length = int(kind.length_mm * PARTS_A_MM + 1e-6)
            stretches = stretches_of(kind, pieces, file.kerf_mm)
            stocks.append(Stock(kind, stretches, sticks, left[kind], cost, length))
    return sorted(stocks, key=lambda stock: (-stock.length, stock.sticks, stock.kind.trim_mm, stock.kind.unusable_mm))


def _board(pieces: Sequence[PieceKind], stock: Stock, patterns: Sequence[Pattern]) -> BoardPlan:
    """Square pieces from the left, the larger gap first, longest first; then the legs, which lie together."""
    placed, rests = list[Placed](), list[tuple[int, int]]()
    order = sorted(range(len(pieces)), key=lambda i: (bool(pieces[i].spread), -pieces[i].gap, -pieces[i].length))
    for slot, pattern in enumerate(patterns):
        stretch, stick = stock.stretches[slot // stock.sticks], slot % stock.sticks + 1
        at = stretch.start
        reached = at
        for i in order:
            for _ in range(pattern[i]):
                placed.append(Placed(pieces[i], at, stick))
                reached = placed[-1].end
                at += pieces[i].takes
        if reached < stretch.start + stretch.length:
            rests.append((reached, stretch.start + stretch.length))
    return BoardPlan(stock.kind, stock.sticks, tuple(placed), tuple(rests))


def check_plan(plan: SectionPlan, kinds: Sequence[PieceKind], kerf_mm: float) -> None:
    """Hold a plan to what must be true of it, whoever made it. Raises JobError with the first thing that is not."""
    here = [kind for kind in kinds if (kind.width_mm, kind.thickness_mm) == (plan.width_mm, plan.thickness_mm)]
    pieces = [piece for board in plan.boards for piece in board.pieces]
    for kind in here:
        n = sum(piece.kind == kind for piece in pieces)
        if not kind.wanted <= n <= kind.wanted + kind.spares:
            raise JobError(f"the plan holds {n} of {kind.name}, wanted are {kind.wanted}; please report this")
    if any(piece.kind not in here for piece in pieces):
        raise JobError("the plan holds a piece of another section; please report this")
    for number, board in enumerate(plan.boards, 1):
        if not board.pieces:
            raise JobError(f"board {number} of the plan is empty; please report this")
        if fault := board.fault(kerf_mm):
            raise JobError(f"board {number} of the plan: {fault}; please report this")
    for board_kind, n in plan.to_buy:
        if board_kind.count is not None and n > board_kind.count:
            raise JobError(
                f"the plan takes {n} boards of {board_kind.place}, not {board_kind.count}; please report this"
            )
