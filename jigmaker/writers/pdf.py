"""Documents on paper as PDF: text sheets, black on white. mm.

Everything stands in the 186 x 255 mm that A4 and Letter share, in the middle of the page, so that a file made for the
one prints right on the other. A page that is too long for a sheet goes on on the next; nothing is cut off.
"""

from jigmaker.drawing.page import Document
from jigmaker.errors import OutOfRange
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_sheets import sheets_of
from jigmaker.writers.pdf_strips import BODY_MM, FULL_MM, LABEL, Type

_FOOT = Type(8, 3.3, bold=True)
_FOOT_GAP = 1.5
_FOOT_LINES = 4
_COUNT_ROOM = 40.0  # for "page 14 of 14", at the right end of the foot


def write_pdf(document: Document, page_mm: tuple[float, float]) -> bytes:
    """The document as a PDF; same document and paper, same bytes. Raises OutOfRange for paper that is too small.

    A sheet has the page's title, its head and its blocks, and at its foot the document's title, "page x of y" and
    what the document says below every page.
    """
    if page_mm[0] < BODY_MM[0] or page_mm[1] < BODY_MM[1]:
        raise OutOfRange(f"paper is {page_mm[0]} x {page_mm[1]} mm, must be {BODY_MM[0]} x {BODY_MM[1]} mm or larger")
    foot = LABEL.lines(document.title, FULL_MM - _COUNT_ROOM)
    if len(foot) > _FOOT_LINES:  # such a title is whole in the file's own title only
        foot = [*foot[: _FOOT_LINES - 1], "..."]
    if document.foot:
        foot = [*foot, *LABEL.lines(document.foot, FULL_MM)]
    left, top = (page_mm[0] - BODY_MM[0]) / 2, (page_mm[1] + BODY_MM[1]) / 2  # the body lies in the middle of the paper
    room = BODY_MM[1] - _FOOT_GAP - len(foot) * LABEL.line
    sheets = [(i, page, sheet) for i, page in enumerate(document.pages) for sheet in sheets_of(page, room)]
    brush = Brush(document.title, page_mm)
    marked: set[int] = set()
    for number, (i, page, sheet) in enumerate(sheets, 1):
        if i not in marked:
            brush.mark(page.title, f"page-{i + 1}")
            marked.add(i)
        for down, strip in sheet.placed:
            strip.draw(brush, (left, top - down))
        count = f"page {number} of {len(sheets)}"
        above = top - BODY_MM[1] + len(foot) * LABEL.line
        brush.line((left, above + 0.4), (left + FULL_MM, above + 0.4), 0.25)
        LABEL.write(brush, (left, above), foot)
        _FOOT.write(brush, (left + FULL_MM - _FOOT.width(count), above), [count])
        brush.next_page()
    return brush.finish()
