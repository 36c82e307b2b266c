"""What papers are made from: the kit with its trestle and shop, and the sheets that it was placed on."""

from dataclasses import dataclass

from jigmaker.drawing.page import Text
from jigmaker.drawing.picture import Picture
from jigmaker.papers.facts import Fact, tell
from jigmaker.parts.kit import Kit
from jigmaker.sheets.sheet import Sheet
from jigmaker.timber.result import TimberResult
from jigmaker.units import Unit, length_text

Shown = tuple[Picture, float, str]
"""A picture, the width in mm at which it is printed, and the words below it."""

_WIDEST_MM = 186.0


@dataclass(frozen=True, slots=True)
class Bench:
    """The kit and the sheets that it was placed on. timber: what was measured of the batch's timber, if anything."""

    kit: Kit
    sheets: tuple[Sheet, ...]
    timber: TimberResult | None = None

    @property
    def unit(self) -> Unit:
        """The unit that the user reads."""
        return self.kit.trestle.job.unit

    def length(self, mm: float) -> str:
        """A length as a rule reads it."""
        return length_text(mm, self.unit)


def shown(picture: Picture, words: str) -> Shown:
    """A picture at its own size, or smaller where the paper is narrower."""
    return picture, min(picture.width_mm, _WIDEST_MM), words


def foot_of(bench: Bench) -> Text:
    """What stands at the foot of every page: whose kit it is, and who has the last word."""
    job = bench.kit.trestle.job
    facts = (
        Fact("kit.number", bench.kit.number, "words"),
        Fact("batch.trestles", job.trestles, "number"),
        Fact("trestle.height", job.height_mm, "given"),
    )
    return tell(
        "Kit {kit.number}, for {batch.trestles:trestle} {trestle.height} high. "
        "Local rules, and people licensed for the work, have the last word.",
        {fact.name: fact for fact in facts},
        bench.unit,
    )
