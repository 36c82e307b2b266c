"""Which board becomes top, legs and braces: boards at hand in, every choice in order of preference out; mm.

The preferences are common practice, no source, drawn from plans for trestles that are carried about by hand.
"""

from collections.abc import Callable
from itertools import product

from jigmaker.errors import DoesNotFit
from jigmaker.record import dataclass
from jigmaker.suggest.board_sizes import Board, boards_from_text
from jigmaker.units import Unit, length_mm, length_text

MOST_TRIED = 24
"""So many choices are tried before boards are given up: the good ones come first."""

_USUAL = {"mm": ("45x120", "32x70", "18x110"), "in": ("2x6", "1x4", "1x4")}
_USUAL_WHY: dict[Unit, tuple[str, str, str]] = {
    "mm": (
        "no board was named, and this is a usual size, to be changed to yours; a college assessment's saw stool has a "
        "top of 90 x 40 mm",
        "a usual size, to be changed to yours; that saw stool has legs of 70 x 30 mm",
        "a usual size, to be changed to yours",
    ),
    "in": (
        "no board was named, and this is a usual size, to be changed to yours: 2x6, as in a carpentry textbook",
        "a usual size, to be changed to yours: 1x4; that textbook's legs are as thick, and wider",
        "a usual size, to be changed to yours: 1x4",
    ),
}


@dataclass(frozen=True, slots=True)
class Role:
    """What a board can become: sizes that the job file takes, mm, the width over which it is ripped and to what, and
    how much its sizes are disliked.
    """

    name: str
    thinnest_mm: float
    thickest_mm: float
    narrowest_mm: float
    widest_mm: float
    ripped_to_mm: dict[Unit, float]
    dislike: Callable[[float, float], float]
    wish: str

    def takes(self, board: Board) -> bool:
        """True when the board, ripped where it is too wide, can be in a job file at all."""
        return self.thinnest_mm <= board.thickness_mm <= self.thickest_mm and self.narrowest_mm <= board.width_mm


@dataclass(frozen=True, slots=True)
class BoardRole:
    """A board in its role: sizes in mm, the reason in a sentence, and the board's name."""

    width_mm: float
    thickness_mm: float
    why: str
    board: str = ""


@dataclass(frozen=True, slots=True)
class Sections:
    """Top, leg and brace; the brace's width is its depth as it stands."""

    top: BoardRole
    leg: BoardRole
    brace: BoardRole


def _outside(value: float, low: float, high: float) -> float:
    return max(low - value, 0.0, value - high)


def _inch(words: str) -> float:
    return length_mm(words, "in")


TOP = Role(
    "the top",
    15,
    150,
    40,
    200,
    {"mm": 140.0, "in": _inch("5 1/2")},
    lambda width, thickness: 10 * _outside(thickness, 32, 63) + 0.5 * _outside(width, 110, 150),
    "a top, which must be thick enough for its housings",
)
LEG = Role(
    "the legs",
    12,
    120,
    20,
    110,
    {"mm": 75.0, "in": _inch("3")},
    lambda width, thickness: _outside(width, 60, 90) - 1000 * thickness,
    "legs: the thickest that can be let in",
)
BRACE = Role(
    "the braces",
    5,
    100,
    20,
    160,
    {"mm": 110.0, "in": _inch("4 1/4")},
    lambda width, thickness: 2 * _outside(thickness, 12, 25) + 0.5 * _outside(width, 80, 160),
    "braces, which may be thin",
)
ROLES = (TOP, LEG, BRACE)
"""Limits of the sections in the job file; wider boards are ripped to a handier width."""


def choices(boards: tuple[Board, ...], unit: Unit) -> list[Sections]:
    """Every way to use the boards, the best first; with no board, the one way to use boards of usual sizes.

    Raises DoesNotFit, naming the role, when no board can be in it.
    """
    if not boards:
        usual = [boards_from_text(name, unit)[0] for name in _USUAL[unit]]
        told = zip(usual, _USUAL_WHY[unit], strict=True)
        return [Sections(*(BoardRole(board.width_mm, board.thickness_mm, why) for board, why in told))]
    fitting = [[board for board in boards if role.takes(board)] for role in ROLES]
    for role, left in zip(ROLES, fitting, strict=True):
        if not left:
            raise DoesNotFit(_none_for(role, unit))
    # Every board in every role it can have, the best first: the top decides, then the thickest legs, then the brace,
    # of two that are alike the smaller one.
    ranked = sorted(
        product(*fitting),
        key=lambda of: (
            *(role.dislike(board.width_mm, board.thickness_mm) for role, board in zip(ROLES, of, strict=True)),
            of[2].width_mm * of[2].thickness_mm,
        ),
    )[:MOST_TRIED]
    found = []
    for ranks in ranked:
        chosen = []
        for role, board in zip(ROLES, ranks, strict=True):
            width, ripped = board.width_mm, ""
            if board.width_mm > role.widest_mm:
                width = role.ripped_to_mm[unit]
                ripped = f", ripped to {length_text(width, unit)}"
            why = "the only board named" if len(boards) == 1 else f"of the boards named the best for {role.wish}"
            chosen.append(BoardRole(width, board.thickness_mm, f"{board.told(unit)}{ripped}; {why}", board.name))
        found.append(Sections(*chosen))
    return found


def passed_over(boards: tuple[Board, ...], leg: BoardRole, refused: dict[str, str], unit: Unit) -> tuple[str, ...]:
    """A sentence for each board that did not become legs: what speaks against it, by name in `refused`, or its size."""
    told = []
    for board in boards:
        if board.name == leg.board:
            continue
        why = refused.get(board.name, "")
        if not LEG.takes(board):
            why = _none_for(LEG, unit).partition(": ")[2].partition(";")[0]
        elif not why and board.thickness_mm < leg.thickness_mm:
            why = f"thinner than {leg.board}, so less stiff and with less of a shoulder in the housing"
        elif not why:
            why = f"no thicker than {leg.board}, whose width is handier for a leg"
        told.append(f"{board.name} for the legs: {why}")
    return tuple(told)


def _none_for(role: Role, unit: Unit) -> str:
    thin, thick, narrow = (length_text(mm, unit) for mm in (role.thinnest_mm, role.thickest_mm, role.narrowest_mm))
    return (
        f"none of these boards can be {role.name}: they must be {thin} to {thick} thick and {narrow} wide or more; "
        "name another board"
    )
