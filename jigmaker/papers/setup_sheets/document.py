"""All set-up sheets in the order of the work: a Bench in, a Document of one page an operation, or more, out."""

from importlib.resources import files

from jigmaker.drawing.page import BOX, Document, Page
from jigmaker.papers.bench import Bench
from jigmaker.papers.fact_table import fact_table, what_is_so
from jigmaker.papers.setup_sheets.sheet_pictures import sheet_pictures
from jigmaker.papers.setup_sheets.sheet_tables import sheet_tables
from jigmaker.papers.setup_sheets.sheet_text import Known, Operation, read_sheet

OPERATIONS = (
    "prepare_stock",
    "cut_kit",
    "assemble_jig",
    "set_router",
    "saw_waste",
    "rout_housings",
    "saw_legs",
    "saw_braces",
    "dry_fit",
    "glue_and_fix",
    "trim_horns",
    "level_feet",
    "chamfer_feet",
    "final_checks",
)
"""In the order of the work; a new operation is one text in this folder and one name here."""


def setup_document(bench: Bench, with_pictures: bool = True) -> Document:
    """A page for each operation, numbered 10, 20, ... in the order of the work; some have further ones.

    Without pictures it says the same in words, for whoever only reads them, and is made much faster.
    """
    known = Known(
        fact_table(bench), what_is_so(bench), sheet_pictures(bench, with_pictures), sheet_tables(bench), bench.unit
    )
    read = [read_sheet(f"{name}.txt", sheet_text(name), known) for name in OPERATIONS]
    operations = [operation for operation in read if operation]
    of = sum(len(operation.sheets) for operation in operations)
    pages: list[Page] = []
    for number, operation in enumerate(operations, 1):
        pages += _pages(operation, bench, number * 10, (len(pages) + 1, of))
    return Document(f"{bench.kit.trestle.job.name}: set-up sheets", tuple(pages))


def sheet_text(name: str) -> str:
    """The text of an operation as it lies in the package."""
    return files("jigmaker.papers.setup_sheets").joinpath(f"{name}.txt").read_text("utf-8")


def _pages(operation: Operation, bench: Bench, number: int, sheet: tuple[int, int]) -> list[Page]:
    """The operation's pages; only the first has the whole head. sheet: the number of its first sheet, and of all.

    Operations are numbered in tens, so that a workshop can put its own in between.
    """
    job, (first, of) = bench.kit.trestle.job, sheet
    pages = []
    for i, sheet_of_operation in enumerate(operation.sheets):
        whose = (
            ("job", job.name),
            ("batch", f"{job.trestles} trestles" if job.trestles > 1 else "1 trestle"),
            ("operation", f"{number}: {operation.title}"),
            ("sheet", f"{first + i} of {of}"),
        )
        what = (
            ("quantity", operation.quantity),
            ("timber as measured", operation.timber),
            ("datum", operation.datum),
        )
        head = (*whose, *(what if i == 0 else ()), ("set by, checked by, date", BOX))
        pages.append(Page(f"{number} {sheet_of_operation.title}", sheet_of_operation.blocks, head))
    return pages
