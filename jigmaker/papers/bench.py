"""What papers are made from: the kit with its trestle and shop, and the sheets that it was placed on."""

from dataclasses import replace

from jigmaker.drawing.page import Text
from jigmaker.drawing.picture import Picture
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.papers.facts import Fact, tell
from jigmaker.parts.kit import Kit
from jigmaker.record import dataclass
from jigmaker.sheets.sheet import Sheet
from jigmaker.timber.result import TimberResult
from jigmaker.trestle.solve import solve_sizes
from jigmaker.units import Unit, length_text

Shown = tuple[Picture, float, str]
"""A picture, the width in mm at which it is printed, and the words below it."""

_WIDEST_MM = 186.0


@dataclass(frozen=True, slots=True)
class Bench:
    """The kit and the sheets that it was placed on.

    cuts: of each sheet, as its files have it, the way along all that is cut through, mm, and how often the machine
    starts; empty where no files are made. timber: what was measured of the batch's timber, if anything.
    saw_kerf_mm: what the saw takes that cuts the timber.
    """

    kit: Kit
    sheets: tuple[Sheet, ...]
    cuts: tuple[tuple[float, int], ...] = ()
    timber: TimberResult | None = None
    saw_kerf_mm: float = SAW_KERF_MM

    @property
    def sizes(self) -> tuple["Bench", ...]:
        """The bench of each size alone, one of a plain job: the same kit, with the trestle of that size."""
        job = self.kit.trestle.job
        if not job.further_sizes:
            return (self,)
        return tuple(replace(self, kit=replace(self.kit, trestle=trestle)) for trestle in solve_sizes(job))

    @property
    def size_names(self) -> tuple[str, ...]:
        """What the sizes are called: "size 762 mm"."""
        return self.kit.trestle.job.size_names

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


def size_facts(bench: Bench) -> dict[str, Fact]:
    """Finished height and length of the top by their names; of several sizes all of them, one after another."""
    sizes = bench.kit.trestle.job.sizes
    named = {"trestle.height": [size.height_mm for size in sizes], "top.length": [size.top_length_mm for size in sizes]}
    return {
        name: Fact(name, all_mm[0], "given", sizes=tuple(("", mm) for mm in all_mm) if len(set(all_mm)) > 1 else ())
        for name, all_mm in named.items()
    }


def foot_of(bench: Bench) -> Text:
    """What stands at the foot of every page: whose kit it is, and who has the last word."""
    facts = (
        Fact("kit.number", bench.kit.number, "words"),
        Fact("batch.trestles", bench.kit.trestle.job.all_trestles, "number"),
    )
    return tell(
        "Kit {kit.number}, for {batch.trestles:trestle} {trestle.height} high. "
        "Local rules, and people licensed for the work, have the last word.",
        {fact.name: fact for fact in facts} | size_facts(bench),
        bench.unit,
    )
