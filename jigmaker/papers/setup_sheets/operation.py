"""One operation as data, and the page it becomes: quantities, settings, steps, checks and one caution. Any unit's text.

An operation's module says what differs; how a sheet is laid out stands here only.
"""

from collections.abc import Callable
from dataclasses import dataclass

from jigmaker.drawing.page import BOX, Block, Caution, Facts, Figures, Heading, Page, Steps, Table
from jigmaker.drawing.picture import Picture
from jigmaker.parts.kit import Kit
from jigmaker.sheets.sheet import Sheet
from jigmaker.units import Unit, length_text

Shown = tuple[Picture, float, str]
"""A picture, the width in mm at which it is printed, and the words below it."""

Sketch = tuple[Callable[[], Picture], str]
"""What draws a picture when it is wanted, and the words below it."""

_LEAST = 0.68
"""Pictures shrink to this share where that keeps an operation on one sheet: letters of 2.5 mm stay 1.7 mm high."""


def shown(picture: Picture, words: str, most_mm: float = 186.0) -> Shown:
    """A picture at its own size, or smaller where the sheet is narrower."""
    return picture, min(picture.width_mm, most_mm), words


def _drawn(sketches: tuple[Sketch, ...]) -> tuple[Block, ...]:
    """Pictures below one another."""
    return tuple(Figures((shown(draw(), words),), least=_LEAST) for draw, words in sketches)


@dataclass(frozen=True, slots=True)
class Bench:
    """What set-up sheets are made from: the kit with its trestle and shop, and the sheets that it was placed on."""

    kit: Kit
    sheets: tuple[Sheet, ...]

    @property
    def unit(self) -> Unit:
        """The unit that the user reads."""
        return self.kit.trestle.job.unit

    def length(self, mm: float) -> str:
        """A length as a rule reads it."""
        return length_text(mm, self.unit)

    def setting(self, name: str) -> float:
        """The jig's setting of that name, mm or degrees. Raises KeyError for a name that the kit does not have."""
        return {setting.name: setting.value for setting in self.kit.settings}[name]


@dataclass(frozen=True, slots=True)
class Check:
    """One dimension to check: what, how long, how far it may be off, between which two points, read with which tool."""

    what: str
    wanted: str
    limit: str
    between: str
    tool: str


@dataclass(frozen=True, slots=True)
class Further:
    """What an operation has to say or to fill in on a sheet of its own, under its own title: pictures, then blocks."""

    title: str
    figures: tuple[Sketch, ...] = ()
    blocks: tuple[Block, ...] = ()


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation. `quantity`: how many of what, for the whole batch; `timber`: its sizes as measured; `datum`: which
    faces everything is measured from; `settings`: name and figure with the sum behind it; `hands`: one box for a
    reading, or one for each hand; `caution` names this operation's own danger; `further` sheets follow the first.
    """

    title: str
    quantity: str
    timber: str
    datum: str
    figures: tuple[Sketch, ...]
    settings: tuple[tuple[str, str], ...]
    steps: tuple[str, ...]
    checks: tuple[Check, ...]
    caution: str
    passes: Facts | Table | None = None
    hands: tuple[str, ...] = ("first-off",)
    further: tuple[Further, ...] = ()


OperationMaker = Callable[[Bench], Operation]


def setup_pages(
    operation: Operation, bench: Bench, number: int, sheets: tuple[int, int], with_pictures: bool = True
) -> tuple[Page, ...]:
    """The operation's page and its further ones. sheets: the number of its first sheet, and of all.

    Operations are numbered in tens, so that a workshop can put its own in between.
    """
    name, (first, of) = f"{number * 10} ", sheets
    blocks = tuple(_blocks(operation, with_pictures))
    pages = [Page(name + operation.title, blocks, _head(operation, bench, number, (first, of)))]
    for i, further in enumerate(operation.further, first + 1):
        head = _head(operation, bench, number, (i, of))
        pictures = _drawn(further.figures) if with_pictures else ()
        pages.append(Page(name + further.title, (*pictures, *further.blocks), (*head[:4], head[-1])))
    return tuple(pages)


def _head(operation: Operation, bench: Bench, number: int, sheet: tuple[int, int]) -> tuple[tuple[str, str], ...]:
    job = bench.kit.trestle.job
    return (
        ("job", job.name),
        ("batch", f"{job.trestles} trestles" if job.trestles > 1 else "1 trestle"),
        ("operation", f"{number * 10}: {operation.title}"),
        ("sheet", f"{sheet[0]} of {sheet[1]}"),
        ("quantity", operation.quantity),
        ("timber as measured", operation.timber),
        ("datum", operation.datum),
        ("set by, checked by, date", BOX),
    )


def _blocks(operation: Operation, with_pictures: bool) -> list[Block]:
    blocks: list[Block] = [Caution(operation.caution)]
    blocks += _drawn(operation.figures) if with_pictures else ()
    if operation.settings:
        blocks += [Heading("Set"), Facts(operation.settings)]
    if operation.passes:
        blocks.append(operation.passes)
    blocks += [Heading("Do"), Steps(operation.steps)]
    return [*blocks, Heading("Check"), _check_table(operation)]


def _check_table(operation: Operation) -> Table:
    boxes = (BOX,) * (len(operation.hands) + 1)
    rows = tuple(
        (check.what, check.wanted, check.limit, check.between, check.tool, *boxes) for check in operation.checks
    )
    return Table(("what", "wanted", "limit", "between", "with", *operation.hands, "as run"), rows)
