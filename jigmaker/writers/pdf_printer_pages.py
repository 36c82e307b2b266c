"""Pages for a printer that stretches: PrinterPages in, bytes of a PDF out; what is printed measures what is drawn.

Every coordinate is divided by what the printer makes of it; arcs stay true, since their Bezier pieces are stretched.
"""

import unicodedata
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from jigmaker.drawing.picture import Label
from jigmaker.drawing.printer_page import PrinterPage
from jigmaker.errors import OutOfRange
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import text_width, write_text
from jigmaker.geometry.stroke_table import GAP, GRID_HIGH
from jigmaker.units import text
from jigmaker.writers.pdf_brush import Brush, points_text
from jigmaker.writers.pdf_pen import PdfPen, draw_strokes, write_unseen

LETTER_PLACES, LETTER_MM = 2, 0.005
"""Of a point, for the strokes of letters: 0.004 mm; and how far from their arcs they may be drawn."""


def write_printer_pages_pdf(pages: Sequence[PrinterPage], title: str) -> bytes:
    """A page for each, in order and of its paper's size; same pages, same bytes. Raises OutOfRange for no pages."""
    if not pages:
        raise OutOfRange("a PDF has no pages, must have at least one")
    brush = Brush(title, pages[0].page_mm)
    for number, page in enumerate(pages, 1):
        brush.size(page.page_mm)
        brush.mark(page.picture.title, f"page-{number}")
        _draw(brush, page)
        brush.next_page()
    return brush.finish()


def _draw(brush: Brush, page: PrinterPage) -> None:
    """Shapes and dimensions as any picture's; then labels, each letter from what was lettered before."""
    pen = PdfPen(brush, page.picture, (0.0, 0.0), 1.0, printed=page.printed)
    brush.raw("q 1 j")
    replace(page.picture, labels=()).draw(pen)
    for label in page.picture.labels:
        pen.use_layer(label.layer)
        brush.raw(f"q {_frame_text(label, page.printed)} cm {_letters(label.text, label.height_mm)} Q")
    brush.raw("Q")
    for label in page.picture.labels:
        at = (label.at[0] / page.printed[0], label.at[1] / page.printed[1])
        write_unseen(brush, replace(label, at=at), (0.0, 0.0), 1.0)


def _frame_text(label: Label, printed: Point) -> str:
    """The matrix of PDF that puts letters, written from (0, 0) to the right, where the label stands."""
    back = {"left": 0.0, "middle": 0.5, "right": 1.0}[label.anchor] * text_width(label.text, label.height_mm)
    frame = PlaneFrame(*label.at, label.turn_deg)
    (x, y), (right_x, right_y), (up_x, up_y) = (frame.point(p) for p in ((-back, 0.0), (1 - back, 0.0), (-back, 1.0)))
    turn = ((right_x - x) / printed[0], (right_y - y) / printed[1], (up_x - x) / printed[0], (up_y - y) / printed[1])
    return f"{' '.join(text(each, 9) for each in turn)} {points_text(x / printed[0], y / printed[1])}"


@lru_cache(maxsize=4096)
def _letters(words: str, height_mm: float) -> str:
    """A line of words from (0, 0): each letter, and the step to the next."""
    signs = unicodedata.normalize("NFC", words)
    return " ".join(f"{_letter(sign, height_mm)} 1 0 0 1 {_step(sign, height_mm)} 0 cm" for sign in signs)


@lru_cache(maxsize=1024)
def _letter(sign: str, height_mm: float) -> str:
    return draw_strokes(write_text(sign, (0.0, 0.0), height_mm), LETTER_PLACES, LETTER_MM)


def _step(sign: str, height_mm: float) -> str:
    return points_text(text_width(sign, height_mm) + GAP * height_mm / GRID_HIGH)
