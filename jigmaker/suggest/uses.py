"""What a trestle is for, as a table: each use with the band of its working height and the figure to start from; mm.

The working height is where the work lies: the board's own top, or the top of what is laid on the trestle. All figures
are common practice, no source: builders' plans, school books and makers' notes agree on them within the bands.
"""

from typing import TypeVar

from jigmaker.errors import UsageError
from jigmaker.record import dataclass
from jigmaker.units import Unit, inch_fraction, length_mm, text

UseEntry = TypeVar("UseEntry")

COMMON_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Use:
    """One use: `key` is what a user writes, `words` what it is. Working heights from low to high are usual.

    usual_mm and usual_in are the figures to start from, each round in its own unit (mm; inches). laid_mm and laid_in
    are the usual thickness of the top laid on a pair of trestles; 0 where the work lies on the board itself.
    """

    key: str
    words: str
    low_mm: float
    high_mm: float
    usual_mm: float
    usual_in: float
    laid_mm: float = 0.0
    laid_in: float = 0.0
    source: str = COMMON_PRACTICE

    def working_mm(self, unit: Unit) -> float:
        """The working height to start from, mm, round in the unit."""
        return self.usual_mm if unit == "mm" else length_mm(self.usual_in, "in")

    def laid_on_mm(self, unit: Unit) -> float:
        """The thickness of what is usually laid on, mm, round in the unit; 0 for nothing."""
        return self.laid_mm if unit == "mm" else length_mm(self.laid_in, "in")

    def band(self, unit: Unit) -> str:
        """The band as a reader of the unit reads it; inches to the nearest half."""
        return band_text(self.low_mm, self.high_mm, unit)


def band_text(low_mm: float, high_mm: float, unit: Unit) -> str:
    """Two lengths in mm as the ends of what is usual, "440 to 510 mm"; inches to the nearest half."""
    if unit == "mm":
        return f"{text(low_mm)} to {text(high_mm)} mm"
    return f"{inch_fraction(low_mm, 2)} to {inch_fraction(high_mm, 2)} in"


def about_text(mm: float, unit: Unit) -> str:
    """A length that need not be exact: whole mm, or the nearest 1/8 inch."""
    return f"{text(mm, 0)} mm" if unit == "mm" else f'{inch_fraction(mm, 8)}"'


USES: tuple[Use, ...] = (
    Use("sawing", "hand sawing, a knee on the timber", 440, 510, 480, 19),
    Use("assembly", "putting things together that are worked on from above", 560, 660, 600, 24),
    Use("general", "a pair for all kinds of work", 600, 865, 760, 30),
    Use("planing", "planing boards and beams", 710, 760, 740, 29),
    Use("table", "a table to sit at, its top laid on a pair", 710, 765, 740, 29, 18, 0.75),
    Use("standing", "work done standing", 860, 1070, 900, 36),
    Use("planting", "potting and planting", 760, 990, 860, 34),
)


@dataclass(frozen=True, slots=True)
class BodyMeasure:
    """A height taken on the body of whoever will work there, floor up, mm; `low` to `high` is what people measure."""

    key: str
    words: str
    use_key: str
    low_mm: float
    high_mm: float


BODY_MEASURES: tuple[BodyMeasure, ...] = (
    BodyMeasure("kneecap", "the middle of the kneecap", "sawing", 380, 620),
    BodyMeasure("fingertip", "the fingertips of a hanging arm", "assembly", 500, 800),
    BodyMeasure("wrist", "the wrist of a hanging arm", "planing", 620, 1000),
    BodyMeasure("elbow", "the bent elbow", "standing", 850, 1300),
)
"""A workshop's rule of thumb, common practice, no source: the height of the work is that of one joint of the body."""


def use_named(key: str) -> Use:
    """The use of that key, in any capitals; raises UsageError with the nearest and all the others."""
    return _named(key, {use.key: use for use in USES}, "use")


def measure_named(key: str) -> BodyMeasure:
    """The body measure of that key, in any capitals; raises UsageError with the nearest and all the others."""
    return _named(key, {measure.key: measure for measure in BODY_MEASURES}, "body measure")


def _named(key: str, table: dict[str, UseEntry], kind: str) -> UseEntry:
    plain = key.strip().lower()
    if plain in table:
        return table[plain]
    from difflib import get_close_matches

    near = get_close_matches(plain, table, n=1)
    meant = f'; "{near[0]}" may be meant' if near else ""
    raise UsageError(f'"{key.strip()[:40]}" is no {kind} that is known{meant}; there are {", ".join(table)}')
