"""What to buy and cut for a batch, as a page with boxes to tick and as rows for a spreadsheet. User's unit.

Timber first, then what the machine cuts, then what the shop sells.
"""

from collections.abc import Sequence

from jigmaker.drawing.page import BOX, Block, Caution, Facts, Heading, Page, Table, Text, Words
from jigmaker.papers.bench import Bench, size_facts
from jigmaker.papers.fact_table import off_cut_fact
from jigmaker.papers.facts import Fact, joined, shown_as, tell, told
from jigmaker.papers.named_words import with_names
from jigmaker.papers.wording import run_text
from jigmaker.parts.part import Part
from jigmaker.record import dataclass
from jigmaker.trestle.cut_list import CutRow, cut_list, turns_legs
from jigmaker.trestle.wording import at_most
from jigmaker.units import MM_PER_INCH, Unit, mm_decimals, text

COLUMNS = (
    "kind",
    "what",
    "for one trestle",
    "for the batch",
    "spare",
    "total",
    "width",
    "thickness",
    "length",
    "length of board for all",
    "note",
)
"""The head of the rows for a spreadsheet; lengths get their unit behind them."""

_LENGTHS = COLUMNS[6:10]

KEPT_MM = 50.0
"""A narrower strip of a sheet is not worth keeping (common practice, no source)."""


@dataclass(frozen=True)
class _Rows:
    """The rows of one bench's cut list."""

    bench: Bench

    def timber_blocks(self, timber: list[CutRow]) -> tuple[Block, ...]:
        head = (
            "what",
            "section",
            "long point to long point",
            "each further one takes",
            "for one",
            "batch",
            "spare",
            "cut",
        )
        boards = []
        for row in timber:
            what, own = _of_size(row, self.bench)
            name = f"{own}cut.{what.split()[0]}"
            whole = shown_as(f"{name}.board", run_text(row.board_mm or 0.0, self.bench.unit), "run")
            boards.append(
                (row.what, joined(whole, " for ", told(f"{name}.total", row.total, "number", self.bench.unit)))
            )
        return (
            Heading("Timber"),
            Table(head, tuple(self.timber(row) for row in timber)),
            *(
                Words(words)
                for words in dict.fromkeys(f"{row.what.partition(' for ')[0]}: {row.note}." for row in timber)
            ),
            Heading("Length of board in all"),
            Facts(tuple(boards)),
            Words(
                tell(
                    "And an off-cut of the top board {jig.off_cut} long, for trial housings of both hands; one more "
                    f"each time that they are {'routed' if self.bench.kit.shop.routs_housings else 'sawn'} again.",
                    off_cut_fact(self.bench),
                    self.bench.unit,
                )
            ),
            Words(
                joined(
                    "A saw cut of ",
                    told("saw.cut", self.bench.saw_kerf_mm, "given", self.bench.unit),
                    " is counted in. Boards end in splits: add what you cut off their ends, and what you lose to "
                    "knots. Measure what you bought before you make the kit.",
                )
            ),
        )

    def timber(self, row: CutRow) -> tuple[str, ...]:
        what, own = _of_size(row, self.bench)
        names, key = _NAMES[what], f"{own}cut.{what.split()[0]}"
        section = [
            told(name, mm, "given", self.bench.unit) for name, mm in zip(names, row.section_mm or (), strict=False)
        ]
        lengths = (
            told(name, mm, "rule", self.bench.unit) if mm is not None else ""
            for name, mm in ((f"{own}{names[2]}", row.long_point_mm), (f"{key}.each", row.along_mm))
        )
        counts = (("one", row.per_trestle), ("batch", row.batch), ("spare", row.spare))
        numbers = (told(f"{key}.{name}", figure, "number", self.bench.unit) for name, figure in counts)
        return (row.what, joined(section[0], " × ", section[1]), *lengths, *numbers, BOX)

    def part(self, part: Part) -> tuple[str, ...]:
        key, unit = f"part.{part.slug}", self.bench.unit
        name = shown_as(f"{key}.name", part.name, "")
        if part.short_mark:
            name = joined(name, ", marked ", shown_as(f"{key}.mark", part.short_mark, ""))
        # The box round the part as it lies in its own frame, which is what has to fit on a sheet.
        long, wide = _sides(part)
        sides = joined(told(f"{key}.length", long, "given", unit), " × ", told(f"{key}.width", wide, "given", unit))
        spares = told(f"{key}.spares", part.spares, "number", unit) if part.spares else ""
        return (name, told(f"{key}.needed", part.needed, "number", unit), spares, sides, BOX)

    def sheets(self) -> Text:
        if self.bench.kit.shop.machine.is_paper:
            sheet = self.bench.kit.shop.sheet
            facts = {"sheet.material": Fact("sheet.material", sheet.material, "words")}
            facts["sheet.thickness"] = Fact("sheet.thickness", sheet.thickness_mm, "caliper")
            others = " What comes from another sheet, the shop file says." if self.bench.kit.shop.further_sheets else ""
            return tell(_FROM_PRINTS + others, facts, self.bench.unit)
        unit, stocks = self.bench.unit, [sheet.stock or self.bench.kit.shop.sheet for sheet in self.bench.sheets]
        said: list[Text] = []
        for stock in dict.fromkeys(stocks):
            name = f"stock.{len(said) + 1}"
            said.append(
                joined(
                    " " if said else "",
                    Fact(f"{name}.count", stocks.count(stock), "number").text(unit, "sheet"),
                    *(" of ", shown_as(f"{name}.material", stock.material, "")),
                    *(", ", told(f"{name}.length", stock.length_mm, "given", unit)),
                    *(" × ", told(f"{name}.width", stock.width_mm, "given", unit)),
                    *(", ", told(f"{name}.thickness", stock.thickness_mm, "given", unit), " thick as measured."),
                )
            )
        # Along a path the tool cuts half its width beyond the piece's own offset, and at a sharp corner farther out.
        # Only the last sheet has room to spare: pieces fill one sheet after another.
        sides = self.bench.sheets[-1].left_whole(2.5 * self.bench.kit.shop.machine.widest_cut_mm + 1.0)
        kept = [
            joined(
                shown_as(f"left.{where}.length", at_most(side[0], unit), "within"),
                " × ",
                shown_as(f"left.{where}.width", at_most(side[1], unit), "within"),
                f" {where} of all" if where == "right" else f" {where} all",
            )
            for side, where in zip(sides, ("right", "above"), strict=True)
            if min(side) >= KEPT_MM
        ]
        if not kept:
            return joined(*said)
        whole = joined(kept[0], " or ", kept[1], ", an L if you saw out its pieces") if len(kept) == 2 else kept[0]
        return joined(*said, " Of the last one stays whole: ", whole, ".")


def cut_list_page(bench: Bench) -> Page:
    """What to buy and cut for the whole batch; a box at each row to tick."""
    trestle = bench.kit.trestle
    rows = cut_list(trestle, bench.saw_kerf_mm, in_blanks=turns_legs(trestle, bench.kit.shop))
    made = _Rows(bench)
    timber = [row for row in rows if row.group == "timber"]
    # What the shop sells follows the timber.
    bought, cells = rows[len(timber) :], []
    for row, name in zip(bought, bought_names(bought), strict=True):
        counted_in = "" if row.counted_in == "pieces" else f" {row.counted_in}"
        figures = (("one", row.per_trestle), ("batch", row.batch), ("spare", row.spare))
        counts = (shown_as(f"{name}.{key}", f"{text(figure, 0)}{counted_in}", "number") for key, figure in figures)
        cells.append((shown_as(f"{name}.name", row.what, ""), *counts, row.note, BOX))
    is_glued = any(row.group == "glue" for row in bought)
    blocks = (
        *made.timber_blocks(timber),
        Heading("Sheet parts"),
        Table(("what", "needed", "spare", "size", "cut"), tuple(made.part(part) for part in bench.kit.parts)),
        Words(made.sheets()),
        Heading("Screws and glue" if is_glued else "Screws"),
        Table(("what", "for one", "batch", "spare", "note", "bought"), tuple(cells)),
        Caution(_HARM[is_glued]),
    )
    job = trestle.job
    head = (
        ("job", job.name),
        ("batch", Fact("batch.trestles", job.all_trestles, "number").text(bench.unit, "trestle")),
        ("finished height", size_facts(bench)["trestle.height"].text(bench.unit)),
        ("bought, date", BOX),
    )
    return with_names(Page("Cut list", blocks, head))


_HARM = {
    True: "Wood dust and glue harm lungs and skin: draw dust off where it is made, gloves for glue.",
    False: "Wood dust harms lungs: draw it off where it is made.",
}


def bought_names(rows: Sequence[CutRow]) -> list[str]:
    """What the facts of each row begin with; the same screw for both joints is bought once."""
    screws = ["leg_screw", "brace_screw"] if sum(row.group == "screws" for row in rows) == 2 else ["screw"]
    return [screws.pop(0) if row.group == "screws" else row.group for row in rows]


def cut_list_rows(bench: Bench) -> tuple[tuple[str, ...], ...]:
    """Head and rows for a spreadsheet: plain decimals, lengths in the user's unit, which stands in the head."""
    unit = bench.unit
    head = tuple(f"{name}, {unit}" if name in _LENGTHS else name for name in COLUMNS)
    rows: list[tuple[str, ...]] = [head]
    in_blanks = turns_legs(bench.kit.trestle, bench.kit.shop)
    for row in cut_list(bench.kit.trestle, bench.saw_kerf_mm, in_blanks=in_blanks):
        section = row.section_mm or (None, None)
        lengths = (_decimal(mm, unit) for mm in (*section, row.long_point_mm, row.board_mm))
        counts = (text(figure, 0) for figure in (row.per_trestle, row.batch, row.spare, row.total))
        rows.append((row.group, row.what, *counts, *lengths, row.note))
    for part in bench.kit.parts:
        length, width = _sides(part)
        lengths = (_decimal(mm, unit) for mm in (width, part.thickness_mm, length, None))
        # Nothing for one trestle: a part belongs to the whole batch.
        numbers = ("", str(part.needed), str(part.spares), str(part.pieces))
        stock = bench.kit.shop.sheet_for(part.slug, part.assembly)
        rows.append(("sheet part", part.name, *numbers, *lengths, stock.material))
    return tuple(rows)


_NAMES: dict[str, tuple[str, str, str]] = {
    "leg": ("leg.width", "leg.thickness", "leg.blank"),
    "top board": ("top.width", "top.thickness", "top.length"),
    "brace": ("brace.depth", "brace.thickness", "brace.bottom"),
}
"""Width, thickness and length of each kind of board."""


def _of_size(row: CutRow, bench: Bench) -> tuple[str, str]:
    """(what, "") of a row for all sizes; else what it is, and what the names of its size's facts begin with."""
    what, _, size = row.what.partition(" for ")
    return what, f"size.{bench.size_names.index(size) + 1}." if size else ""


def _sides(part: Part) -> tuple[float, float]:
    low_x, low_y, far_x, far_y = part.outline.bounds
    return far_x - low_x, far_y - low_y


_FROM_PRINTS = (
    "Glued on and sawn from {sheet.material}, {sheet.thickness} thick as measured. Lay the prints out on it before you "
    "buy, a finger's breadth between them for the saw."
)


def _decimal(mm: float | None, unit: Unit) -> str:
    if mm is None:
        return ""
    return text(mm, mm_decimals(mm)) if unit == "mm" else text(mm / MM_PER_INCH, 4)
