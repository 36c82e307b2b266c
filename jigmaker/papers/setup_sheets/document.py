"""All set-up sheets in the order of the work: a Bench in, a Document of one page an operation out."""

from jigmaker.drawing.page import Document, Page
from jigmaker.papers.setup_sheets.assemble_jig import assemble_jig
from jigmaker.papers.setup_sheets.chamfer_feet import chamfer_feet
from jigmaker.papers.setup_sheets.cut_kit import cut_kit
from jigmaker.papers.setup_sheets.dry_fit import dry_fit
from jigmaker.papers.setup_sheets.final_checks import final_checks
from jigmaker.papers.setup_sheets.glue_and_fix import glue_and_fix
from jigmaker.papers.setup_sheets.level_feet import level_feet
from jigmaker.papers.setup_sheets.operation import Bench, OperationMaker, setup_pages
from jigmaker.papers.setup_sheets.prepare_stock import prepare_stock
from jigmaker.papers.setup_sheets.rout_housings import rout_housings
from jigmaker.papers.setup_sheets.saw_braces import saw_braces
from jigmaker.papers.setup_sheets.saw_legs import saw_legs
from jigmaker.papers.setup_sheets.saw_waste import saw_waste
from jigmaker.papers.setup_sheets.set_router import set_router
from jigmaker.papers.setup_sheets.trim_horns import trim_horns

OPERATIONS: tuple[OperationMaker, ...] = (
    prepare_stock,
    cut_kit,
    assemble_jig,
    set_router,
    saw_waste,
    rout_housings,
    saw_legs,
    saw_braces,
    dry_fit,
    glue_and_fix,
    trim_horns,
    level_feet,
    chamfer_feet,
    final_checks,
)
"""In the order of the work; a new operation is one new module in this folder and one line here."""


def setup_document(bench: Bench, with_pictures: bool = True) -> Document:
    """A page for each operation, numbered 10, 20, ... in the order of the work; some have further ones.

    Without pictures it says the same in words, for whoever only reads them, and is made much faster.
    """
    operations = [make(bench) for make in OPERATIONS]
    counts = [1 + len(operation.further) for operation in operations]
    pages: list[Page] = []
    for number, operation in enumerate(operations, 1):
        pages += setup_pages(operation, bench, number, (len(pages) + 1, sum(counts)), with_pictures)
    return Document(f"{bench.kit.trestle.job.name}: set-up sheets", tuple(pages))
