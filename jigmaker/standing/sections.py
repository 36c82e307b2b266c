"""Which board becomes top, legs and braces: boards at hand in, every choice in order of preference out; mm.

The preferences are common practice, no source, drawn from plans for trestles that people carry about by hand.
"""

from dataclasses import dataclass
from itertools import product

from jigmaker.standing.boards import Board, boards_from_text
from jigmaker.units import Unit, length_mm, length_text

MOST_TRIED = 24
"""So many choices are tried before boards are given up: the good ones come first."""

WIDEST_BRACE_MM = 160.0
RIPPED_BRACE_MM: dict[Unit, float] = {"mm": 110.0, "in": length_mm("4 1/4", "in")}
"""A wider board is ripped to this depth for the braces."""

_USUAL_MM = ("45x120", "32x70", "18x110")
_USUAL_IN = ("2x6", "1x4", "1x4")
_USUAL_WHY: dict[Unit, str] = {
    "mm": "no board was named: a usual size, to be changed to yours (a college assessment's saw stool has a top of "
    "90 x 40 mm, legs of 70 x 30 mm)",
    "in": "no board was named: a usual size, to be changed to yours (a carpentry textbook's trestle has a 2x6 top and "
    "3/4 in legs)",
}


@dataclass(frozen=True, slots=True)
class Sections:
    """Boards by their role, each with its reason. `brace_depth_mm` is the brace's board or what it is ripped to."""

    top: Board
    leg: Board
    brace: Board
    brace_depth_mm: float
    top_why: str
    leg_why: str
    brace_why: str


def choices(boards: tuple[Board, ...], unit: Unit) -> list[Sections]:
    """Every way to use the boards, the best first; with no board, the one way to use boards of usual sizes."""
    if not boards:
        usual = _USUAL_MM if unit == "mm" else _USUAL_IN
        top, leg, brace = boards_from_text(usual[0], unit) + boards_from_text(usual[1], unit) + (
            boards_from_text(usual[2], unit)
        )
        why = _USUAL_WHY[unit]
        return [Sections(top, leg, brace, brace.width_mm, why, why, why)]
    ranked = sorted(product(boards, repeat=3), key=_dislike)
    return [_sections(*each, alone=len(boards) == 1, unit=unit) for each in ranked[:MOST_TRIED]]


def _dislike(choice: tuple[Board, Board, Board]) -> float:
    top, leg, brace = choice
    return _dislike_top(top) + _dislike_leg(leg) + _dislike_brace(brace)


def _outside(value: float, low: float, high: float) -> float:
    return max(low - value, 0.0, value - high)


def _dislike_top(board: Board) -> float:
    """Thick enough for housings to hold, wide enough for two of them and to work on, not too heavy."""
    return 10 * _outside(board.thickness_mm, 32, 63) + 0.5 * _outside(board.width_mm, 110, 150)


def _dislike_leg(board: Board) -> float:
    """A leg of 20 to 38 by 60 to 90 is stiff enough, and its housing is routed in a few passes."""
    return 8 * _outside(board.thickness_mm, 20, 38) + _outside(board.width_mm, 60, 90)


def _dislike_brace(board: Board) -> float:
    """A thin board is light, and sits well inside the board's end."""
    return 2 * _outside(board.thickness_mm, 12, 25) + 0.5 * _outside(board.width_mm, 80, WIDEST_BRACE_MM)


def _sections(top: Board, leg: Board, brace: Board, alone: bool, unit: Unit) -> Sections:
    is_ripped = brace.width_mm > WIDEST_BRACE_MM
    depth = RIPPED_BRACE_MM[unit] if is_ripped else brace.width_mm
    ripped = f", ripped to {length_text(depth, unit)}" if is_ripped else ""
    only = "the only board named" if alone else ""
    return Sections(
        top,
        leg,
        brace,
        depth,
        f"{top.told(unit)}: {only or 'the best of the boards for a top, which wants thickness for its housings'}",
        f"{leg.told(unit)}: {only or 'the best of the boards for legs: stiff, and not too thick to let in'}",
        f"{brace.told(unit)}{ripped}: {only or 'the best of the boards for braces, which may be thin'}",
    )
