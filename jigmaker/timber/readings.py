"""What was measured of a batch's timber: a form's bytes in, readings out, or every fault with its line; mm.

[timber] says with what was measured; [legs] and [boards] hold a line each, by number. A leg or board without figures is
a fault where others have some: nobody can tell whether it was forgotten.
"""

from collections.abc import Iterator
from typing import Any, Literal

from jigmaker.errors import JobError, LengthError
from jigmaker.job.job import Job
from jigmaker.job.lines import lines_of
from jigmaker.job.rules import Rule, Section
from jigmaker.job.toml import table_of, text_of
from jigmaker.job.unknown_keys import unknown_fault
from jigmaker.job.values import fault_of, shown, value_of
from jigmaker.record import dataclass
from jigmaker.units import Unit, caliper_text, length_mm, text

Dressed = Literal["gauged", "planed", "bought"]

CALIPER_MM, TAPE_MM, STROKE_MM = 0.03, 0.13, 0.1
"""How far 95 of 100 readings in wood stray, a layer of masking tape, a stroke of a bench plane: common practice, no
source."""

FORM = Section(
    "timber",
    "With what was measured, and how the work is done.",
    (
        Rule("units", "choice", "the units of bare numbers in this file", "mm", choices=("mm", "in")),
        Rule(
            "caliper",
            "length",
            "how far readings of one place stray: 95 of 100 lie closer",
            "0.03",
            0.005,
            0.5,
            required=False,
            default=CALIPER_MM,
        ),
        Rule(
            "tape",
            "length",
            "one layer of the tape that makes a housing narrower: measure ten together",
            "0.13",
            0.03,
            0.4,
            required=False,
            default=TAPE_MM,
        ),
        Rule(
            "stroke",
            "length",
            "what one stroke of your plane takes off: measure after ten",
            "0.1",
            0.02,
            0.2,
            required=False,
            default=STROKE_MM,
        ),
        Rule(
            "dressed",
            "choice",
            'legs not measured below: "gauged" to the leg gauge, "planed" in one run, or as "bought"',
            "gauged",
            choices=("gauged", "planed", "bought"),
            required=False,
            default="gauged",
        ),
        Rule(
            "pressed",
            "yes or no",
            "true when every leg is pressed along the wall nearer the board's end while it is fixed",
            "false",
            required=False,
            default=False,
        ),
    ),
)

LEG_FIGURES = ("width at end A", "width at end B", "thickness")
BOARD_FIGURES = (
    "thickness",
    "width",
    "marked edge out of square",
    "other edge out of square",
    "winding",
)
"""What stands in the brackets of a line, in this order."""

WIDTH_OFF_MM, BOARD_OFF_MM, EDGE_MM, WINDING_MM = 5.0, 12.0, 3.0, 10.0
"""Further off the job's figure, or over this, it is another piece or a slip. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class LegReading:
    """One leg, mm. end_a, end_b: its width there; end A is the head of a leg in an R housing, B of one in an L."""

    number: int
    end_a_mm: float
    end_b_mm: float
    thickness_mm: float

    @property
    def width_mm(self) -> float:
        """The mean of both ends."""
        return (self.end_a_mm + self.end_b_mm) / 2


@dataclass(frozen=True, slots=True)
class BoardReading:
    """One top board, mm. edges: how far the marked and the other edge stand out at the bottom arris, off square to the
    top face; below 0 where they fall back. winding: one corner of the top face out of the plane of the others.
    """

    number: int
    thickness_mm: float
    width_mm: float
    edges_mm: tuple[float, float]
    winding_mm: float


@dataclass(frozen=True, slots=True)
class TimberReadings:
    """A form as it was filled in; no legs or no boards where none were measured."""

    caliper_mm: float = CALIPER_MM
    tape_mm: float = TAPE_MM
    stroke_mm: float = STROKE_MM
    dressed: Dressed = "gauged"
    is_pressed: bool = False
    legs: tuple[LegReading, ...] = ()
    boards: tuple[BoardReading, ...] = ()


def refuse_sizes(job: Job) -> None:
    """Raise JobError for a job of several sizes: a leg of one is no leg of another, and readings know no sizes."""
    if job.further_sizes:
        file = job.read_from.file if job.read_from else "job"
        raise JobError(
            f"{file}: has several sizes, {', '.join(job.size_names)}; which leg goes where is worked out for one: keep "
            "the timber of each size with a job of its own"
        )


def read_timber(data: bytes, job: Job, file: str = "timber.toml") -> TimberReadings:
    """The readings for this job's batch. Raises JobError with all faults, each with line, piece, value and rule."""
    refuse_sizes(job)
    words = text_of(data, file)
    table, reader = table_of(words, file), _TimberReader(file, lines_of(words), job)
    values = reader.settings(table)
    legs = [LegReading(number, *figures) for number, figures in reader.lines_of_section(table, "legs")]
    boards = [
        BoardReading(number, thick, wide, (edge, other), winding)
        for number, (thick, wide, edge, other, winding) in reader.lines_of_section(table, "boards")
    ]
    if reader.faults:
        raise JobError([sentence for _, sentence in sorted(reader.faults, key=lambda fault: fault[0])])
    return TimberReadings(
        values["caliper"],
        values["tape"],
        values["stroke"],
        values["dressed"],
        values["pressed"],
        tuple(legs),
        tuple(boards),
    )


class _TimberReader:
    """Collects the faults of one form, with their lines."""

    def __init__(self, file: str, lines: dict[str, int], job: Job) -> None:
        self.file, self.lines, self.job = file, lines, job
        self.unit: Unit = job.unit
        self.faults: list[tuple[int, str]] = []

    def fault(self, key: str, says: str) -> None:
        """Note what is wrong at a key's line, or at its section's where the key is not there."""
        line = self.lines.get(key) or self.lines.get(key.rpartition(".")[0])
        where = f"{self.file} line {line}" if line else self.file
        self.faults.append((line or 10**9, f"{where}: {says}"))

    def settings(self, table: dict[str, Any]) -> dict[str, Any]:
        """[timber], by key; defaults for what is left out or at fault."""
        for name, raw in table.items():
            if name not in ("timber", "legs", "boards") or not isinstance(raw, dict):
                says, _ = unknown_fault(name, isinstance(raw, dict), "", ["timber", "legs", "boards"], (FORM,))
                self.fault(name, f"{name} {says}")
        held = table.get("timber")
        held = held if isinstance(held, dict) else {}
        if held.get("units") not in ("mm", "in"):
            says = f'is {shown(held["units"])}, must be "mm" or "in"' if "units" in held else "is missing"
            self.fault("timber.units", f'units {says}; write units = "mm" or "in" under [timber]')
        else:
            self.unit = held["units"]
        for name in held:
            if name not in [rule.key for rule in FORM.rules]:
                says, _ = unknown_fault(name, False, "timber", [rule.key for rule in FORM.rules], (FORM,))
                self.fault(f"timber.{name}", f"{name} {says}")
        values: dict[str, Any] = {}
        for rule in FORM.rules[1:]:
            raw, values[rule.key] = held.get(rule.key), rule.default
            if raw is not None and (says := fault_of(rule, raw, self.unit)):
                self.fault(f"timber.{rule.key}", f"{rule.key} {says}")
            elif raw is not None:
                values[rule.key] = value_of(rule, raw, self.unit)
        return values

    def lines_of_section(self, table: dict[str, Any], section: str) -> Iterator[tuple[int, list[float]]]:
        """The pieces of a section without fault, by number; every missing piece is noted where any is there."""
        # Numbers that the batch does not have are told first; then every number that it has, in order, so that a piece
        # which was forgotten is found by its absence. A section in which nothing is filled in was not measured at all.
        held = table.get(section)
        held = held if isinstance(held, dict) else {}
        one, count = section[:-1], (4 if section == "legs" else 1) * self.job.trestles
        filled = {name: raw for name, raw in held.items() if raw not in ([], "")}
        for name in held:
            if not (name.isascii() and name.isdecimal() and str(int(name)) == name):
                self.fault(f"{section}.{name}", f'"{name}" is no number of a {one}; write 1 = [...], 2 = [...]')
            elif not 1 <= int(name) <= count:
                self.fault(
                    f"{section}.{name}",
                    f"{one} {name}: the batch has {count} {section}; take spare ones out, or raise trestles in the job",
                )
        for number in range(1, count + 1):
            key = f"{section}.{number}"
            if str(number) in filled:
                found = self.figures(key, f"{one} {number}", filled[str(number)], section)
                if found:
                    yield number, found
            elif filled:
                says = "has no figures" if str(number) in held else "is missing"
                self.fault(key, f"{one} {number} {says}, though others have; measure all {count}, or give none")

    def figures(self, key: str, piece: str, raw: object, section: str) -> list[float]:
        """The figures of one piece, mm; none where any has a fault."""
        names = LEG_FIGURES if section == "legs" else BOARD_FIGURES
        wanted = f"{len(names)}: {', '.join(names)}"
        if not isinstance(raw, list):
            self.fault(key, f"{piece} is {shown(raw)}, must be figures in brackets, {wanted}")
            return []
        if len(raw) != len(names):
            comma = "; a decimal comma parts one figure in two, write 70.02" if len(raw) == 2 * len(names) else ""
            self.fault(key, f"{piece} has {len(raw)} figures, must have {wanted}{comma}")
            return []
        found = [self.figure(key, f"{piece}, {name}", each, name) for name, each in zip(names, raw, strict=True)]
        return [mm for mm in found if mm is not None] if None not in found else []

    def figure(self, key: str, what: str, raw: object, name: str) -> float | None:
        """One figure in mm; a figure that cannot be is noted, with the unit that it may have been read in."""
        sign, plain = _signed(raw)
        try:
            mm = length_mm(plain, self.unit)
        except LengthError as error:
            self.fault(key, f"{what} is not a clear length: {error}")
            return None
        # Near the job's own figure, or it is a slip; where another unit would make it right, that one is advised.
        low, high = self.room(what.partition(" ")[0], name)
        if low <= sign * mm <= high:
            return sign * mm
        given = f"{text(sign * float(plain))} {self.unit}" if isinstance(plain, int | float) else shown(raw).strip('"')
        limits = " to ".join(caliper_text(limit, self.job.unit) for limit in (low, high))
        others = {"cm": 10.0, "in": 25.4} if self.unit == "mm" else {"mm": 1 / 25.4, "cm": 1 / 2.54}
        meant = [word for word, times in others.items() if low <= sign * mm * times <= high]
        is_bare = isinstance(plain, int | float)
        do = f'write "{text(float(plain))} {meant[0]}" if that is meant' if meant and is_bare else "measure it again"
        self.fault(key, f"{what} is {given}, must be {limits} in this job; {do}")
        return None

    def room(self, one: str, name: str) -> tuple[float, float]:
        """From where to where a figure may lie, mm: near the job's own, for a form of another job is a slip too."""
        if "edge" in name:
            return -EDGE_MM, EDGE_MM
        if name == "winding":
            return 0.0, WINDING_MM
        piece, off = (self.job.leg, WIDTH_OFF_MM) if one == "leg" else (self.job.top, BOARD_OFF_MM)
        if "thickness" in name:
            return piece.thickness_mm - WIDTH_OFF_MM, piece.thickness_mm + WIDTH_OFF_MM
        return piece.width_mm - off, piece.width_mm + off


def _signed(raw: Any) -> tuple[int, Any]:
    """The sign of a figure and what is left of it: edges fall back too, and a length has no sign."""
    if isinstance(raw, str) and raw.strip()[:1] in ("-", "+"):
        return (-1 if raw.strip()[0] == "-" else 1), raw.strip()[1:]
    if isinstance(raw, int | float) and not isinstance(raw, bool) and raw < 0:
        return -1, -raw
    return 1, raw
