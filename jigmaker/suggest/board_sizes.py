"""Boards as sold and as measured: what someone writes ("2x4", "38x89 mm", "planed 47x100") in, sections in mm out.

US names and sizes are those of PS 20 (American Softwood Lumber Standard), dry; European ones those of EN 1313-1, sawn,
at 20 % moisture, within the deviations of EN 336. Every list was read second-hand. A board is never quite its list's
size: the numbers are to start from, the caliper decides.
"""

import re
from contextlib import suppress

from jigmaker.errors import LengthError, OutOfRange, UsageError
from jigmaker.record import dataclass
from jigmaker.units import Unit, length_mm, length_text

PS20 = "PS 20, dry"
EN1313 = "EN 1313-1, sawn"
EN1313_PLANED = "EN 1313-1, less what planing takes: 3 mm up to 150 mm, 5 mm above"
CLS = "planed four sides and rounded, as sold in Britain; from memory"
MEASURED = "as measured"

THINNEST_MM, THICKEST_MM, WIDEST_MM = 5.0, 150.0, 600.0
"""What the rules of the job file take for any of top, leg and brace."""

US_WIDTHS_IN: dict[str, float] = {
    "2": 1.5,
    "3": 2.5,
    "4": 3.5,
    "5": 4.5,
    "6": 5.5,
    "8": 7.25,
    "10": 9.25,
    "12": 11.25,
}
US_THICKNESSES_IN: dict[str, float] = {"1": 0.75, "5/4": 1.0, "6/4": 1.25, "2": 1.5, "3": 2.5, "4": 3.5}
"""Sold name and dry size in inches, PS 20: boards up to 1 1/2 in (sold as quarters over 1), dimension lumber above."""

SAWN_THICKNESSES_MM = (16, 19, 22, 25, 32, 38, 44, 47, 50, 63, 75, 100)
SAWN_WIDTHS_MM = (75, 100, 115, 125, 150, 175, 200, 225)
"""Usual sawn sizes after EN 1313-1, mm; widths, and the thicknesses 32, 44 and 47, from memory."""

CLS_MM = ((38, 63), (38, 89), (38, 140))

# No list names a board with a larger figure in inches, and none with a smaller one in mm.
_LARGEST_NAME = 16

_BY = re.compile(r"\s*(?:[x×*]|\bby\b)\s*")
_UNIT_AT_END = re.compile(r"(mm|cm|in\.?|inch|inches|\")$")
_LONGEST = 60


@dataclass(frozen=True, slots=True)
class Board:
    """A board's section: its name as someone says it, wide and narrow face in mm, and where the sizes are from."""

    name: str
    width_mm: float
    thickness_mm: float
    source: str = MEASURED

    def told(self, unit: Unit) -> str:
        """Name, sizes and source for a reader of the unit: '2x4, 1 1/2" by 3 1/2" (PS 20, dry)'."""
        sizes = f"{length_text(self.thickness_mm, unit)} by {length_text(self.width_mm, unit)}"
        return f"{sizes}, {self.source}" if self.source == MEASURED else f"{self.name}, {sizes} ({self.source})"


def planed_mm(sawn_mm: float) -> float:
    """What planing both faces leaves of a sawn size, mm: 3 mm less up to 150 mm, 5 mm above (read second-hand)."""
    return float(sawn_mm - (3 if sawn_mm <= 150 else 5))


_SAWN = [(t, w) for t in SAWN_THICKNESSES_MM for w in SAWN_WIDTHS_MM if w >= t]
SOLD: tuple[Board, ...] = (
    *(
        Board(f"{thick}x{wide}", length_mm(width, "in"), length_mm(thickness, "in"), PS20)
        for thick, thickness in US_THICKNESSES_IN.items()
        for wide, width in US_WIDTHS_IN.items()
        if width >= thickness
    ),
    *(Board(f"sawn {t}x{w}", float(w), float(t), EN1313) for t, w in _SAWN),
    *(Board(f"planed {t}x{w}", planed_mm(w), planed_mm(t), EN1313_PLANED) for t, w in _SAWN),
    *(Board(f"CLS {t}x{w}", float(w), float(t), CLS) for t, w in CLS_MM),
)
"""Every board that has a name of its own."""

_BY_NAME = {board.name.lower(): board for board in SOLD}


def boards_from_text(words: str, unit: Unit) -> tuple[Board, ...]:
    """The boards in a list such as "38x89, 19x140" or "2x4, 1x4", each once, in order.

    A pair without a unit is a name as sold where there is one of that name and its figures are inches, else it is in
    `unit`, as measured. Raises UsageError for a name that is not known, with the nearest; LengthError; OutOfRange.
    """
    entries = [entry.strip() for entry in re.split(r"[,;\n]", words) if entry.strip()]
    if not entries:
        raise UsageError('no board is named; write sizes such as "38x89, 19x140", or names as sold such as "2x4, 1x4"')
    return tuple(dict.fromkeys(_board(entry, unit) for entry in entries))


def _board(entry: str, unit: Unit) -> Board:
    # A name as sold comes before sizes: 2x4 is no board of two inches by four. Two small figures that are no such name
    # are asked about, and never taken for measured sizes.
    name = re.sub(r"\s+", " ", _BY.sub("x", entry.lower()))
    if name in _BY_NAME:
        return _BY_NAME[name]
    sizes = _BY.split(entry.lower())
    if len(entry) > _LONGEST or not re.match(r"[0-9.¼½¾]", entry):
        raise _unknown(entry, name)
    if len(sizes) != 2:
        count = "one size" if len(sizes) == 1 else f"{len(sizes)} sizes"
        raise UsageError(
            f'"{entry}" has {count}; write two, width and thickness, such as "38x89", with a comma between boards and '
            "a point in decimals"
        )
    if all(size.isdigit() and int(size) <= _LARGEST_NAME for size in sizes):
        raise _unknown(entry, name, f'; if those are its measured sizes write "{sizes[0]} in x {sizes[1]} in"')
    # A board from its two sizes, in either order; a unit after the second is the first one's too.
    own = _UNIT_AT_END.search(sizes[1])
    first = f"{sizes[0]} {own[1]}" if own and not re.search(r"[a-z\"']", sizes[0]) else sizes[0]
    try:
        thickness, width = sorted((length_mm(first, unit), length_mm(sizes[1], unit)))
    except LengthError as error:
        raise LengthError(f'board "{entry}": {error}') from None
    if THINNEST_MM <= thickness <= THICKEST_MM and width <= WIDEST_MM:
        return Board(entry, width, thickness)
    # Without a unit of its own: the other one is advised where that would make a board.
    other: Unit = "mm" if unit == "in" else "in"
    advice = ""
    with suppress(LengthError):
        thin, wide = sorted(length_mm(size, other) for size in sizes)
        if not own and THINNEST_MM <= thin <= THICKEST_MM and wide <= WIDEST_MM:
            advice = f'; write "{entry} {other}" if that is meant'
    raise OutOfRange(
        f'board "{entry}" would be {length_text(thickness, unit)} by {length_text(width, unit)}, no board for a '
        f"trestle is{advice}"
    )


def _unknown(entry: str, name: str, more: str = "") -> UsageError:
    from difflib import get_close_matches

    near = get_close_matches(name, _BY_NAME, n=3, cutoff=0.5)
    shown = f'"{entry[:_LONGEST]}"'
    if near:
        nearest = ", ".join(_BY_NAME[each].name for each in near)
        return UsageError(f"no list has a board {shown}; the nearest names are {nearest}{more}")
    return UsageError(f'{shown} is no board; write its sizes, such as "38x89", or its name as sold, such as "2x4"')
