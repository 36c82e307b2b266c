"""What draws on the pages of a PDF: lines, boxes, words and pictures at places in mm, y up from the page's lower left.

Same calls, same bytes: no clock, no compression (whose bytes depend on the machine), numbers of our own making.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from typing import TYPE_CHECKING

from jigmaker.units import MM_PER_INCH, text
from jigmaker.writers.page_words import printable
from jigmaker.writers.pdf_fonts import BOLD, PLAIN, UNKNOWN_WIDTH, SignRun, runs

if TYPE_CHECKING:
    from reportlab.pdfbase.pdfdoc import PDFDocument
    from reportlab.pdfgen.canvas import Canvas

POINTS = 72 / MM_PER_INCH
"""Points of 1/72 inch in a millimetre."""
PLACES = 6  # of a point: reportlab's own numbers keep only seven digits, too few for a metre
Along = tuple[float, float, float]
NORMAL, INVISIBLE = 0, 3  # text rendering modes, ISO 32000-1 table 106


def points_text(*lengths: float, places: int = PLACES) -> str:
    """Lengths in mm as numbers of a PDF, in points."""
    return " ".join(text(length * POINTS, places) for length in lengths)


def paint_text(colour: str) -> str:
    """A colour "#rrggbb" as three numbers from 0 to 1."""
    return " ".join(text(int(colour[i : i + 2], 16) / 255, 4) for i in (1, 3, 5))


class Brush:
    """Pages of one PDF, drawn one after another."""

    def __init__(self, title: str, page_mm: tuple[float, float]) -> None:
        """A file of that title whose first page is page_mm wide and high."""
        self._bytes = BytesIO()
        self.canvas = _new_canvas(self._bytes, title, page_mm)

    def size(self, page_mm: tuple[float, float]) -> None:
        """The page that is being drawn, and those after it, are so wide and high."""
        self.canvas.setPageSize((page_mm[0] * POINTS, page_mm[1] * POINTS))

    def next_page(self) -> None:
        """End the page.

        What stands on it becomes bytes here where that is plain: reportlab's own codec looks up every sign of it.
        """
        self.canvas.showPage()
        page = self.canvas._doc.Pages.pages[-1]
        if page.stream.isascii():
            page.stream = page.stream.encode("ascii")

    def mark(self, title: str, key: str) -> None:
        """An entry of the reader's list of contents, which leads to this page."""
        self.canvas.bookmarkPage(key)
        self.canvas.addOutlineEntry(printable(title), key)

    def finish(self) -> bytes:
        """The file."""
        self.canvas.save()
        return self._bytes.getvalue()

    def line(self, start: tuple[float, float], end: tuple[float, float], width: float = 0.2) -> None:
        """A straight black line."""
        self.raw(f"q 0 J {points_text(width)} w {points_text(*start)} m {points_text(*end)} l S Q")

    def box(self, low: tuple[float, float], size: tuple[float, float], line: float = 0.2) -> None:
        """A rectangle of black lines, from its lower left corner."""
        self.raw(f"q 0 j {points_text(line)} w {points_text(*low, *size)} re S Q")

    def block(self, low: tuple[float, float], size: tuple[float, float]) -> None:
        """A rectangle filled black."""
        self.raw(f"{points_text(*low, *size)} re f")

    def words(
        self, at: tuple[float, float], words: str, size_pt: float, bold: bool = False, white: bool = False
    ) -> None:
        """One line of text from its left end on the baseline."""
        with self.coloured("#ffffff" if white else "#000000"):
            self.write(words, at, size_pt, BOLD if bold else PLAIN)

    def write(
        self, words: str, at: tuple[float, float], size_pt: float, face: str = PLAIN, along: Along = (1.0, 0.0, 1.0),
        mode: int = NORMAL,
    ) -> None:  # fmt: skip
        """A line of text along a direction: its cosine and sine, and how much wider than the type its letters run."""
        cosine, sine, wider = along
        # Fonts take turns within a line: each run starts where the one before it ends, along the line's direction.
        x, y = at[0] * POINTS, at[1] * POINTS
        for run in runs(words, face):
            self._run(run, (x, y), size_pt, along, mode)
            advance = run.width * size_pt * wider
            x, y = x + advance * cosine, y + advance * sine

    @contextmanager
    def coloured(self, fill: str) -> Iterator[None]:
        """What is filled or written inside is of that colour "#rrggbb"; black needs no change."""
        if fill == "#000000":
            yield
            return
        self.raw(f"q {paint_text(fill)} rg")
        yield
        self.raw("Q")

    def raw(self, operators: str) -> None:
        """Operators of PDF, as they are."""
        self.canvas.addLiteral(operators)

    def _run(self, run: SignRun, at: tuple[float, float], size_pt: float, along: Along, mode: int) -> None:
        """One run, from a place in points. What is put together or missing still reads as itself when it is copied."""
        if run.reads:
            # A text string in hexadecimal digits, ISO 32000-1, 7.9.2.2; half a pair becomes a question mark.
            digits = run.reads.encode("utf-16-be", "replace").hex().upper()
            self.raw(f"/Span << /ActualText <FEFF{digits}> >> BDC")
        # A sign that no font shows: the box is what is seen, and the unseen text below it what is copied.
        if run.font is None and mode == NORMAL:
            self._unknown(at, size_pt)
        self._text(run, at, size_pt, along, INVISIBLE if run.font is None else mode)
        if run.accent and mode == NORMAL:
            middle = at[0] + (run.width - run.accent.width) / 2 * size_pt
            self._text(run.accent, (middle, at[1] + run.rise * size_pt), size_pt, along, mode)
        if run.reads:
            self.raw("EMC")

    def _text(self, run: SignRun, at: tuple[float, float], size_pt: float, along: Along, mode: int) -> None:
        cosine, sine, wider = along
        # The text matrix turns and stretches letters about the line's start: (cos, sin) times the stretch along the
        # line, (-sin, cos) square to it.
        line = self.canvas.beginText()
        line.setTextTransform(wider * cosine, wider * sine, -sine, cosine, *at)
        line.setFont(run.font or PLAIN, size_pt)
        if mode != NORMAL:
            line.setTextRenderMode(mode)
        line.textOut(run.text)
        if mode != NORMAL:
            line.setTextRenderMode(NORMAL)
        self.canvas.drawText(line)

    def _unknown(self, at: tuple[float, float], size_pt: float) -> None:
        """A box with a cross, as the lettering of pictures has it, from a place in points."""
        gap, wide, tall = 0.07 * size_pt, (UNKNOWN_WIDTH - 0.14) * size_pt, 0.72 * size_pt
        left, low, right, high = at[0] + gap, at[1], at[0] + gap + wide, at[1] + tall
        a, b = f"{text(left, PLACES)} {text(low, PLACES)}", f"{text(right, PLACES)} {text(high, PLACES)}"
        c, d = f"{text(left, PLACES)} {text(high, PLACES)}", f"{text(right, PLACES)} {text(low, PLACES)}"
        self.raw(f"q 0.5 w {a} {text(wide, PLACES)} {text(tall, PLACES)} re {a} m {b} l {c} m {d} l S Q")


def _new_canvas(target: BytesIO, title: str, page_mm: tuple[float, float]) -> "Canvas":
    from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFInfo, PDFString
    from reportlab.pdfgen.canvas import Canvas

    class Info(PDFInfo):  # type: ignore[misc]
        """What the file says about itself, without the dates that reportlab would make up."""

        def format(self, document: "PDFDocument") -> bytes:
            told = {"Title": self.title, "Author": self.author, "Producer": self.producer, "Creator": self.creator}
            return bytes(PDFDictionary({key: PDFString(value) for key, value in told.items()}).format(document))

    page = (page_mm[0] * POINTS, page_mm[1] * POINTS)
    canvas = Canvas(target, pagesize=page, pageCompression=0, invariant=1, lang="en")
    canvas._doc.info = Info()
    canvas.setTitle(printable(title))
    canvas.setAuthor("jigmaker")
    canvas.setCreator("jigmaker")
    canvas.setViewerPreference("PrintScaling", "None")  # print dialogs start at 100 %
    return canvas
