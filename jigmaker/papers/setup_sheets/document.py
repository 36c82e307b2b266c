"""All set-up sheets in the order of the work, each operation on a page or more."""

from pathlib import Path

from jigmaker.drawing.page import BOX, Document, Page
from jigmaker.papers.bench import Bench, foot_of
from jigmaker.papers.fact_table import fact_table, what_is_so
from jigmaker.papers.named_words import document_with_names
from jigmaker.papers.setup_sheets.sheet_pictures import sheet_pictures
from jigmaker.papers.setup_sheets.sheet_tables import sheet_tables
from jigmaker.papers.setup_sheets.sheet_text import OperationText, SheetNames, read_sheet

OPERATIONS = {
    "prepare_stock": 10,
    "cut_kit": 20,
    "print_kit": 20,
    "assemble_jig": 30,
    "assemble_guides": 35,
    "assemble_cradle": 37,
    "assemble_box": 37,
    "saw_waste": 40,
    "set_router": 50,
    "rout_housings": 60,
    "saw_housings": 63,
    "pare_housings": 66,
    "saw_legs": 70,
    "saw_turned_legs": 70,
    "saw_braces": 80,
    "dry_fit": 90,
    "drill_legs": 95,
    "glue_and_fix": 100,
    "trim_horns": 110,
    "level_feet": 120,
}
"""In the order of the work, each with its number; a new operation is one text in this folder and one line here. A kit
is cut or printed, never both; and legs are turned between their cuts, or they are not."""

FOR_ALL = ("batch",)
"""Pages without a number, after the operations."""


def setup_document(bench: Bench, with_pictures: bool = True) -> Document:
    """A page for each operation, numbered 10, 20, ... in the order of the work; some have further ones.

    Without pictures the words are the same, and it is made much faster: for readers of the words alone.
    """
    known = _known(bench, with_pictures)
    # A sheet that this job does not have reads as None, by its own "when" line.
    read = {name: read_sheet(f"{name}.txt", sheet_text(name), known) for name in (*OPERATIONS, *FOR_ALL)}
    found = [(str(OPERATIONS.get(name, "")), operation) for name, operation in read.items() if operation]
    pages = [page for number, operation in found for page in _pages(operation, number)]
    return document_with_names(Document(f"{bench.kit.trestle.job.name}: set-up sheets", tuple(pages), foot_of(bench)))


def class_document(bench: Bench) -> Document:
    """For a class of pupils: the trestle on a page to copy, a slip for their checks, and the teacher's answers."""
    read = read_sheet("class_pages.txt", sheet_text("class_pages"), _known(bench, True))
    assert read is not None  # it is a class's whatever the job
    title = f"{bench.kit.trestle.job.name}: for a class"
    return document_with_names(Document(title, tuple(_pages(read, "")), foot_of(bench)))


def _known(bench: Bench, with_pictures: bool) -> SheetNames:
    return SheetNames(
        fact_table(bench),
        what_is_so(bench),
        sheet_pictures(bench, with_pictures),
        sheet_tables(bench),
        bench.unit,
        bench.size_names,
    )


def sheet_text(name: str) -> str:
    """The text of an operation as it lies in the package."""
    return Path(__file__).with_name(f"{name}.txt").read_text("utf-8")


def _pages(operation: OperationText, number: str) -> list[Page]:
    """The operation's pages; only the first has a head.

    Operations are numbered in tens, so that a workshop can put its own in between.
    """
    pages = []
    for i, page in enumerate(operation.sheets):
        rows = [
            ("quantity", operation.quantity),
            ("timber as measured", operation.timber),
            ("datum", operation.datum),
            ("set by, checked by, date", BOX if number else ""),
        ]
        head = tuple((name, value) for name, value in rows if value) if i == 0 else ()
        pages.append(Page(f"{number} {page.title}".strip(), page.blocks, head))
    return pages
