"""All set-up sheets in the order of the work: a Bench in, a Document of one page an operation out."""

from jigmaker.drawing.page import Document
from jigmaker.papers.setup_sheets.operation import Bench, OperationMaker, setup_page

OPERATIONS: tuple[OperationMaker, ...] = ()
"""In the order of the work; a new operation is one new module in this folder and one line here."""


def setup_document(bench: Bench) -> Document:
    """One page for each operation, numbered 10, 20, ... in the order of the work."""
    pages = [setup_page(make(bench), bench, i + 1, len(OPERATIONS)) for i, make in enumerate(OPERATIONS)]
    return Document(f"{bench.kit.trestle.job.name}: set-up sheets", tuple(pages))
