"""A kind of board in, the stretches that pieces can come out of out; lengths in thousandths of a mm.

A board is what its trims and its unusable spans leave. A stretch of usable length U holds pieces as long as

    sum of (length + gap) <= U + kerf              where it holds no leg
    sum of (length + gap) <= U + kerf D - S        where it holds legs: they lie together, at its right end

because the last piece's gap falls into waste, and all legs together pay the spread of one slanted cut. A second run of
legs in the same stretch would pay it again, so no good plan has one. Square pieces are cut first and the saw is set to
the slant after that: then the slanted cut beside a square piece runs out in the air, and the kerf is enough there.
"""

from collections.abc import Sequence

from jigmaker.order.board_file import BoardKind
from jigmaker.order.pieces import PARTS_A_MM, PieceKind
from jigmaker.record import dataclass

_SAME_SECTION_MM = 0.05


@dataclass(frozen=True, slots=True)
class Stretch:
    """A usable length of a board: where it starts, from the left end, and both of its capacities."""

    start: int
    length: int
    square_room: int
    leg_room: int


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of board as far as one section is concerned. sticks: how many of that section are ripped out of one.

    cost: 1, or the price in hundredths; the first aim is to keep its sum low.
    """

    kind: BoardKind
    stretches: tuple[Stretch, ...]
    sticks: int
    count: int
    cost: int
    length: int


def sticks_of(kind: BoardKind, piece: PieceKind, kerf_mm: float) -> int:
    """How many strips of a piece's section come out of a board's width; 0 for a board of another thickness."""
    if abs(kind.thickness_mm - piece.thickness_mm) > _SAME_SECTION_MM:
        return 0
    if abs(kind.width_mm - piece.width_mm) <= _SAME_SECTION_MM:
        return 1
    # n strips of width w need n - 1 saw cuts k between them: n w + (n - 1) k <= W, which is n <= (W + k) / (w + k).
    return int((kind.width_mm + kerf_mm + 1e-9) // (piece.width_mm + kerf_mm))


def stretches_of(kind: BoardKind, pieces: Sequence[PieceKind], kerf_mm: float) -> tuple[Stretch, ...]:
    """What trims and unusable spans leave of a board, from the left; a span is never taken for narrower than a cut."""
    kerf = _down(kerf_mm)
    widest = max((piece.gap for piece in pieces), default=kerf)
    leg = next((piece for piece in pieces if piece.spread), None)
    ends = [(0, _up(kind.trim_mm))]
    for low, high in kind.unusable_mm:
        # A knot narrower than a saw cut could vanish between two pieces: it is widened on both sides to the widest gap.
        more = max(0, widest - (_up(high) - _down(low)) + 1) // 2
        ends.append((_down(low) - more, _up(high) + more))
    length = _down(kind.length_mm)
    ends.append((length - _up(kind.trim_mm), length))
    found, reached = [], 0
    for low, high in sorted(ends):
        if low > reached:
            room = low - reached
            leg_room = room + leg.gap - leg.spread if leg else 0
            found.append(Stretch(reached, room, room + kerf, leg_room))
        reached = max(reached, high)
    return tuple(found)


def _up(mm: float) -> int:
    return -int(-mm * PARTS_A_MM // 1)


def _down(mm: float) -> int:
    return int(mm * PARTS_A_MM + 1e-6)
