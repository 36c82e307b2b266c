"""Pages for a printer that stretches: what is printed measures what is drawn. mm.

Every coordinate is divided by what the printer makes of it; arcs stay true, since their Bezier pieces are stretched.
"""

from collections.abc import Sequence

from jigmaker.drawing.printer_page import PrinterPage
from jigmaker.errors import OutOfRange
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_pen import draw_picture


def write_printer_pages_pdf(pages: Sequence[PrinterPage], title: str) -> bytes:
    """A page for each, in order and of its paper's size; same pages, same bytes. Raises OutOfRange for no pages."""
    if not pages:
        raise OutOfRange("a PDF has no pages, must have at least one")
    brush = Brush(title, pages[0].page_mm)
    for number, page in enumerate(pages, 1):
        brush.size(page.page_mm)
        brush.mark(page.picture.title, f"page-{number}")
        draw_picture(brush, page.picture, printed=page.printed)
        brush.next_page()
    return brush.finish()
