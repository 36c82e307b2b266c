"""The cut list as a page and as rows for a spreadsheet: Kit and its sheets in; lengths in the user's unit.

Timber first, then what the machine cuts, then what the shop sells.
"""

from jigmaker.drawing.page import BOX, Block, Caution, Facts, Heading, Page, Table, Words
from jigmaker.job.practice import SAW_KERF_MM
from jigmaker.papers.bench import Bench
from jigmaker.papers.fact_table import off_cut_fact
from jigmaker.papers.facts import tell
from jigmaker.papers.wording import counted, size
from jigmaker.parts.part import Part
from jigmaker.trestle.cut_list import CutRow, cut_list
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


def cut_list_page(bench: Bench) -> Page:
    """What to buy and cut for the whole batch; a box at each row to tick."""
    trestle = bench.kit.trestle
    rows = cut_list(trestle)
    timber = [row for row in rows if row.group == "timber"]
    blocks = (*_timber_blocks(timber, bench), *_part_blocks(bench), *_bought_blocks(rows[len(timber) :]))
    return Page("Cut list", blocks, _head(bench))


def _timber_blocks(timber: list[CutRow], bench: Bench) -> tuple[Block, ...]:
    head = ("what", "section", "long point to long point", "each further one takes", "for one", "batch", "spare", "cut")
    return (
        Heading("Timber"),
        Table(head, tuple(_timber(row, bench) for row in timber)),
        *(Words(f"{row.what}: {row.note}.") for row in timber),
        Heading("Board needed if it came in one piece"),
        Facts(tuple((row.what, _board(row, bench)) for row in timber)),
        Words(
            tell(
                "And an off-cut of the top board {jig.off_cut} long, for trial housings of both hands; one more each "
                "time that they are routed again.",
                off_cut_fact(bench),
                bench.unit,
            )
        ),
        Words(
            f"A saw cut of {bench.length(SAW_KERF_MM)} is counted in. Boards end in splits: add what you cut off their "
            "ends, and what you lose to knots. Measure what you bought before you make the kit."
        ),
    )


def _part_blocks(bench: Bench) -> tuple[Block, ...]:
    return (
        Heading("Sheet parts"),
        Table(("what", "needed", "spare", "size", "cut"), tuple(_part(part, bench) for part in bench.kit.parts)),
        Words(_sheets(bench)),
    )


def _bought_blocks(rows: tuple[CutRow, ...]) -> tuple[Block, ...]:
    head = ("what", "for one", "batch", "spare", "note", "bought")
    return (
        Heading("Screws and glue"),
        Table(head, tuple(_bought(row) for row in rows)),
        Caution("Wood dust and glue harm lungs and skin: draw dust off where it is made, gloves for glue."),
    )


def cut_list_rows(bench: Bench) -> tuple[tuple[str, ...], ...]:
    """Head and rows for a spreadsheet: plain decimals, lengths in the user's unit, which stands in the head."""
    unit = bench.unit
    head = tuple(f"{name}, {unit}" if name in _LENGTHS else name for name in COLUMNS)
    rows = [_plain(row, unit) for row in cut_list(bench.kit.trestle)]
    return (head, *rows, *(_plain_part(part, bench) for part in bench.kit.parts))


def _head(bench: Bench) -> tuple[tuple[str, str], ...]:
    job = bench.kit.trestle.job
    return (
        ("job", job.name),
        ("batch", counted(job.trestles, "trestle")),
        ("finished height", bench.length(job.height_mm)),
        ("bought, date", BOX),
    )


def _timber(row: CutRow, bench: Bench) -> tuple[str, ...]:
    section = size(*row.section_mm, unit=bench.unit) if row.section_mm else ""
    lengths = (bench.length(mm) if mm is not None else "" for mm in (row.long_point_mm, row.along_mm))
    return (row.what, section, *lengths, _number(row.per_trestle), _number(row.batch), _number(row.spare), BOX)


def _board(row: CutRow, bench: Bench) -> str:
    whole = bench.length(row.board_mm) if row.board_mm is not None else ""
    return f"{whole} for {_number(row.total)}"


def _part(part: Part, bench: Bench) -> tuple[str, ...]:
    name = f"{part.name}, marked {part.short_mark}" if part.short_mark else part.name
    return (name, str(part.needed), str(part.spares or ""), size(*_sides(part), unit=bench.unit), BOX)


def _sides(part: Part) -> tuple[float, float]:
    low_x, low_y, far_x, far_y = part.outline.bounds
    return far_x - low_x, far_y - low_y


def _sheets(bench: Bench) -> str:
    unit, stocks = bench.unit, [sheet.stock or bench.kit.shop.sheet for sheet in bench.sheets]
    said = " ".join(
        f"{counted(stocks.count(stock), 'sheet')} of {stock.material}, "
        f"{size(stock.length_mm, stock.width_mm, unit=unit)}, {bench.length(stock.thickness_mm)} thick as measured."
        for stock in dict.fromkeys(stocks)
    )
    # Along a path the tool cuts half its width beyond the piece's own offset, and at a sharp corner farther out.
    sides = bench.sheets[-1].left_whole(2.5 * bench.kit.shop.machine.widest_cut_mm + 1.0)
    kept = [
        f"{at_most(side[0], unit)} × {at_most(side[1], unit)} {where}"
        for side, where in zip(sides, ("right of all", "above all"), strict=True)
        if min(side) >= KEPT_MM
    ]
    if not kept:
        return said
    shape = " or ".join(kept) + (", an L if you saw out its pieces" if len(kept) == 2 else "")
    return f"{said} Of the last one stays whole: {shape}."


def _bought(row: CutRow) -> tuple[str, ...]:
    unit = "" if row.counted_in == "pieces" else f" {row.counted_in}"
    counts = (f"{_number(figure)}{unit}" for figure in (row.per_trestle, row.batch, row.spare))
    return (row.what, *counts, row.note, BOX)


def _number(figure: float) -> str:
    return text(figure, 0)


def _plain(row: CutRow, unit: Unit) -> tuple[str, ...]:
    section = row.section_mm or (None, None)
    lengths = (_decimal(mm, unit) for mm in (*section, row.long_point_mm, row.board_mm))
    counts = (_number(figure) for figure in (row.per_trestle, row.batch, row.spare, row.total))
    return (row.group, row.what, *counts, *lengths, row.note)


def _plain_part(part: Part, bench: Bench) -> tuple[str, ...]:
    """A part belongs to the whole batch, not to one trestle."""
    length, width = _sides(part)
    sides = (_decimal(mm, bench.unit) for mm in (width, part.thickness_mm, length, None))
    counts = (str(part.needed), str(part.spares), str(part.pieces))
    stock = bench.kit.shop.sheet_for(part.slug, part.assembly)
    return ("sheet part", part.name, "", *counts, *sides, stock.material)


def _decimal(mm: float | None, unit: Unit) -> str:
    if mm is None:
        return ""
    return text(mm, mm_decimals(mm)) if unit == "mm" else text(mm / MM_PER_INCH, 4)
