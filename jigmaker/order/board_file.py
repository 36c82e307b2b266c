"""boards.toml in, the boards at hand out; or all its faults, each with line, key, value and rule. Lengths in mm.

units = "mm"                  # of bare numbers; without it those of the job
kerf = 3.2                    # what the saw's blade takes

[[board]]
section = "70 x 32"           # as measured, or as sold: "2x4"
length = 2440
count = 6                     # without it: as many as are needed
trim_ends = 10                # cut off at both ends: splits, and ends that are not square
unusable = [[300, 340]]       # knots and shakes, from one end of the board
price = 7.50                  # in any money; all boards have one, or none
"""

from typing import Any

from jigmaker.errors import JigmakerError, JobError, LengthError
from jigmaker.job.lines import lines_of, numbered
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.job.rules import Rule, Section
from jigmaker.job.toml import table_of, text_of
from jigmaker.job.unknown_keys import unknown_fault
from jigmaker.job.values import fault_of, shown, value_of
from jigmaker.record import dataclass
from jigmaker.suggest.board_sizes import boards_from_text
from jigmaker.units import Unit, length_mm, length_text

MOST_BOARDS, MOST_SPANS = 40, 20
"""Kinds of board in a file, and unusable spans of a board."""

_UNITS = Rule("units", "choice", "the units of bare numbers", "mm", choices=("mm", "in"), required=False)
_KERF = Rule("kerf", "length", "what the saw's blade takes", "3.2", 0.3, 10, required=False)
_SECTION = Rule("section", "text", 'width and thickness as measured, "70 x 32", or a name as sold, "2x4"', "70 x 32")
_BOARD = Section(
    "board",
    "Boards that are all alike.",
    (
        _SECTION,
        Rule("length", "length", "how long it is", "2440", 200, 12000),
        Rule("count", "whole number", "how many there are", "6", 1, 10000, required=False),
        Rule("trim_ends", "length", "what is cut off at both ends", "10", 0, 500, required=False, default=0.0),
        Rule("unusable", "names", "spans that are no use, [[from, to]]", "", required=False),
        Rule("price", "ratio", "what one costs", "7.50", 0.01, 100_000, required=False),
    ),
)
_FILE = Section("", "", (_UNITS, _KERF))


@dataclass(frozen=True, slots=True)
class BoardKind:
    """Boards that are all alike, mm. count None: as many as are needed. unusable: spans from the left end. price: None
    where none was given. place: the file and line that it stands in.
    """

    width_mm: float
    thickness_mm: float
    length_mm: float
    count: int | None = None
    trim_mm: float = 0.0
    unusable_mm: tuple[tuple[float, float], ...] = ()
    price: float | None = None
    place: str = ""


@dataclass(frozen=True, slots=True)
class BoardFile:
    """The boards at hand, and the saw that they are cut with."""

    kinds: tuple[BoardKind, ...]
    kerf_mm: float = SAW_KERF_MM


def read_boards(data: bytes, unit: Unit, file: str = "boards.toml", usual_kerf_mm: float = SAW_KERF_MM) -> BoardFile:
    """The boards in a file's bytes; bare numbers are in `unit` unless it says another. Raises JobError, all faults.

    usual_kerf_mm: of a file that does not tell what its saw takes.
    """
    text = text_of(data, file)
    table, reader = table_of(text, file), _BoardReader(file, lines_of(text))
    if reader.fits(_UNITS, table.get("units"), "units", unit):
        unit = table.get("units", unit)
    kerf = reader.value(_KERF, table.get("kerf"), "kerf", unit) or usual_kerf_mm
    reader.unknown("", table, ["units", "kerf", "board"])
    boards = table.get("board")
    if not isinstance(boards, list) or not boards or not all(isinstance(each, dict) for each in boards):
        reader.fault("board", "is missing; write [[board]] with section and length for each kind of board")
        boards = []
    if len(boards) > MOST_BOARDS:
        reader.fault("board", f"stands {len(boards)} times, must be {MOST_BOARDS} times or fewer")
    names = ["board", *(numbered("board", i) for i in range(2, MOST_BOARDS + 1))]
    kinds = [reader.board(name, each, unit) for name, each in zip(names, boards, strict=False)]
    priced = [kind.price is not None for kind in kinds if kind]
    if any(priced) and not all(priced):
        reader.fault(names[priced.index(False)], "has no price, though others have one; give all boards one, or none")
    if reader.faults:
        raise JobError([sentence for _, sentence in sorted(reader.faults, key=lambda fault: fault[0])])
    return BoardFile(tuple(kind for kind in kinds if kind), kerf)


class _BoardReader:
    """Collects the faults of one file, with their lines."""

    def __init__(self, file: str, lines: dict[str, int]) -> None:
        self.file, self.lines = file, lines
        self.faults: list[tuple[int, str]] = []

    def place(self, key: str) -> str:
        """Where a key, or else its section, stands."""
        line = self.lines.get(key) or self.lines.get(key.rpartition(".")[0])
        return f"{self.file} line {line}" if line else self.file

    def fault(self, key: str, says: str) -> None:
        """Note what is wrong with a key."""
        line = self.lines.get(key) or self.lines.get(key.rpartition(".")[0]) or 10**9
        self.faults.append((line, f"{self.place(key)}: {key} {says}"))

    def fits(self, rule: Rule, raw: object, key: str, unit: Unit) -> bool:
        """True for a value that keeps its rule; False for one that is not there, or does not, which is noted."""
        says = "" if raw is None else fault_of(rule, raw, unit)
        if says:
            self.fault(key, says)
        return raw is not None and not says

    def value(self, rule: Rule, raw: object, key: str, unit: Unit) -> Any:
        """The value in mm where it keeps its rule, else the default."""
        return value_of(rule, raw, unit) if self.fits(rule, raw, key, unit) else rule.default

    def unknown(self, name: str, held: dict[str, Any], known: list[str]) -> None:
        """Note keys that no rule knows."""
        for key, raw in held.items():
            if key not in known:
                says, _ = unknown_fault(key, isinstance(raw, dict), name, known, (_BOARD,))
                self.fault(f"{name}.{key}" if name else key, says)

    def board(self, name: str, held: dict[str, Any], unit: Unit) -> BoardKind | None:
        """One kind of board; None where its size has a fault."""
        before = len(self.faults)
        self.unknown(name, held, [rule.key for rule in _BOARD.rules])
        for rule in (_BOARD.rule("section"), _BOARD.rule("length")):
            if rule.key not in held:
                self.fault(name, f"lacks {rule.key}: {rule.meaning}; add a line {rule.key} = ...")
        values = {
            rule.key: self.value(rule, held.get(rule.key), f"{name}.{rule.key}", unit)
            for rule in _BOARD.rules
            if rule.key != "unusable"
        }
        section = self.section(f"{name}.section", values["section"], unit)
        if len(self.faults) > before or section is None:
            return None
        length, trim = values["length"], values["trim_ends"]
        if 2 * trim >= length:
            self.fault(
                f"{name}.trim_ends", f"takes all of the board, which is {length_text(length, unit)} long; give less"
            )
        spans = self.spans(f"{name}.unusable", held.get("unusable", []), length, unit)
        return BoardKind(*section, length, values["count"], trim, spans, values["price"], self.place(name))

    def section(self, key: str, words: str | None, unit: Unit) -> tuple[float, float] | None:
        """(width, thickness) of a section as somebody writes it."""
        if words is None:
            return None
        try:
            boards = boards_from_text(words, unit)
        except JigmakerError as error:
            self.fault(key, f'cannot be read: {error}; write it as measured, such as "70 x 32 mm"')
            return None
        if len(boards) != 1:
            self.fault(key, f"is {shown(words)}, must be one section; write a [[board]] for each")
            return None
        return boards[0].width_mm, boards[0].thickness_mm

    def spans(self, key: str, raw: object, length: float, unit: Unit) -> tuple[tuple[float, float], ...]:
        """Spans that are no use, from left to right."""
        wanted = "must be pairs such as [[300, 340]], from one end of the board"
        if not isinstance(raw, list) or len(raw) > MOST_SPANS:
            self.fault(key, f"is {shown(raw)}, {wanted}, {MOST_SPANS} at most")
            return ()
        spans: list[tuple[float, float]] = []
        for pair in raw:
            try:
                low, high = (length_mm(end, unit) for end in pair)
            except (LengthError, TypeError, ValueError):
                self.fault(key, f"holds {shown(pair)}, {wanted}")
                return ()
            if not low < high <= length:
                self.fault(key, f"holds {shown(pair)}, must run from left to right within the board's length")
                return ()
            spans.append((low, high))
        return tuple(sorted(spans))
