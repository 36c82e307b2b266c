"""What another reader finds in a PDF: bytes in; size, words, boxes of signs and lines out; mm, y up."""

import ctypes
from dataclasses import dataclass

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

MM = 25.4 / 72


@dataclass(frozen=True)
class Drawn:
    """A painted path: pieces as (kind, point) in order, whether it is stroked and filled, width and dashes, mm."""

    pieces: tuple
    is_stroked: bool
    is_filled: bool
    width: float
    dashes: tuple

    @property
    def ends(self):
        """Where each straight piece or curve ends, and where contours begin, without the handles of curves."""
        places, left = [], 0
        for kind, at in self.pieces:
            left = (left or 3) - 1 if kind == "bezier" else 0
            places += [] if left else [at]
        return places

    @property
    def curves(self):
        """The curves as (start, handle, handle, end)."""
        places = [at for _, at in self.pieces]
        first = [i for i, (kind, _) in enumerate(self.pieces) if kind == "bezier"][::3]
        return [tuple(places[i - 1 : i + 3]) for i in first]

    @property
    def bounds(self):
        """(x low, y low, x high, y high) of ends and handles."""
        xs, ys = [at[0] for _, at in self.pieces], [at[1] for _, at in self.pieces]
        return (min(xs), min(ys), max(xs), max(ys))


class PdfPage:
    """One page as read."""

    def __init__(self, page):
        self._page = page
        width, height = page.get_size()
        self.size = (width * MM, height * MM)
        self._text = page.get_textpage()
        self.words = " ".join(self._text.get_text_range().split())

    def boxes(self):
        """The box of every sign that is not blank: (sign, (x low, y low, x high, y high))."""
        found = []
        for i in range(self._text.count_chars()):
            sign = self._text.get_text_range(i, 1)
            if sign.strip():
                found.append((sign, tuple(edge * MM for edge in self._text.get_charbox(i))))
        return found

    def sizes(self):
        """Type size in points of every piece of text that is seen, with the text."""
        found = []
        for each in self._page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], textpage=self._text):
            size = ctypes.c_float()
            pdfium.FPDFTextObj_GetFontSize(each.raw, size)
            if pdfium.FPDFTextObj_GetTextRenderMode(each.raw) != pdfium.FPDF_TEXTRENDERMODE_INVISIBLE:
                found.append((round(size.value, 3), each.extract()))
        return found

    def inked(self):
        """(text, box of its ink) of every piece of text, in order; an accent that is set over a letter has text ""."""
        found = self._page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], textpage=self._text)
        return [(each.extract(), tuple(edge * MM for edge in each.get_bounds())) for each in found]

    def paths(self):
        """Every path, in drawing order."""
        return [_drawn(each) for each in self._page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH])]

    def unmoved_paths(self):
        """Every path that lies where its own numbers say: all but letters that a matrix puts in their places."""
        found = self._page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH])
        return [_drawn(each) for each in found if each.get_matrix().get() == (1, 0, 0, 1, 0, 0)]

    def pixels(self, scale=2.0):
        """Painted, as rows of red, green, blue from the top."""
        return np.asarray(self._page.render(scale=scale).to_pil().convert("RGB")).astype(int)


def read_pdf(written):
    """Its pages."""
    return [PdfPage(page) for page in pypdfium2.PdfDocument(written)]


def told(written):
    """What the file says about itself, without what it leaves empty."""
    return {key: value for key, value in pypdfium2.PdfDocument(written).get_metadata_dict().items() if value}


def contents(written):
    """Titles of the reader's list of contents, with the number of the page to which each leads, from 0."""
    document = pypdfium2.PdfDocument(written)
    return [(each.get_title(), each.get_dest().get_index()) for each in document.get_toc()]


def _drawn(found):
    raw = found.raw
    matrix = found.get_matrix()
    pieces = []
    for i in range(pdfium.FPDFPath_CountSegments(raw)):
        segment = pdfium.FPDFPath_GetPathSegment(raw, i)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        at = tuple(value * MM for value in matrix.on_point(x.value, y.value))
        pieces.append((_KINDS[pdfium.FPDFPathSegment_GetType(segment)], at))
    fill, stroke = ctypes.c_int(), pdfium.FPDF_BOOL()
    pdfium.FPDFPath_GetDrawMode(raw, fill, stroke)
    width = ctypes.c_float()
    pdfium.FPDFPageObj_GetStrokeWidth(raw, width)
    return Drawn(tuple(pieces), bool(stroke.value), bool(fill.value), width.value * MM, _dashes(raw))


_KINDS = {
    pdfium.FPDF_SEGMENT_MOVETO: "move",
    pdfium.FPDF_SEGMENT_LINETO: "line",
    pdfium.FPDF_SEGMENT_BEZIERTO: "bezier",
}


def _dashes(raw):
    count = pdfium.FPDFPageObj_GetDashCount(raw)
    found = (ctypes.c_float * max(count, 1))()
    pdfium.FPDFPageObj_GetDashArray(raw, found, count)
    return tuple(round(length * MM, 4) for length in list(found)[:count])
