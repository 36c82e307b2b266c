"""Pages for a printer that stretches, read back with another reader: what comes out measures what was asked."""

import math
from dataclasses import replace

import pytest
from pdf_pages import contents, read_pdf
from sample_pictures import FOOT, LAYERS, sample_picture

from jigmaker.drawing.picture import DrawnShape, Label, Picture
from jigmaker.drawing.printer_page import PrinterPage
from jigmaker.errors import OutOfRange
from jigmaker.geometry.outline import Circle
from jigmaker.writers.pdf_printer_pages import write_printer_pages_pdf

A4 = (210.0, 297.0)
PRINTERS = [(1.0, 1.0), (1.004, 0.997), (0.98, 1.02)]
LABELS = (
    Label("SCORED", "Slot 28.10 ½ Äß", (20, 82), 4.0),
    Label("SCORED", "78.25° − edge", (128, 40), 3.0, 90.0, "middle"),
    Label("SCORED", "right, 30°", (125, 82), 2.5, 30.0, "right"),
)


def page_of(picture, printed):
    (page,) = read_pdf(write_printer_pages_pdf([PrinterPage(picture, A4, printed)], "sample"))
    return page


def out(at, printed):
    """Where a place of the file comes to lie on the print."""
    return (at[0] * printed[0], at[1] * printed[1])


@pytest.mark.parametrize("printed", PRINTERS)
def test_corners_come_out_where_they_were_asked_for(printed):
    """Within a ten-thousandth of a millimetre; the page itself is the paper's size."""
    page = page_of(sample_picture(), printed)
    assert page.size == pytest.approx(A4, abs=1e-3)
    ends = [out(end, printed) for path in page.paths() for end in path.ends]
    assert max(min(math.dist(corner, end) for end in ends) for corner in FOOT.corners) < 1e-4


@pytest.mark.parametrize("printed", PRINTERS)
def test_a_circle_comes_out_round(printed):
    """At five places of every curve, though it is no circle in the file."""
    circle = Circle((100.0, 150.0), 60.0)
    (path,) = page_of(Picture("disc", 200, 280, LAYERS, (DrawnShape("INSIDE", circle),)), printed).paths()
    for curve in path.curves:
        for t in (0, 0.25, 0.5, 0.75, 1):
            weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            place = tuple(sum(w * p[axis] for w, p in zip(weights, curve, strict=True)) for axis in (0, 1))
            assert math.dist(out(place, printed), circle.centre) == pytest.approx(60.0, abs=1e-4)


@pytest.mark.parametrize("printed", PRINTERS)
@pytest.mark.parametrize("label", LABELS, ids=lambda label: label.text)
def test_letters_are_the_pictures_letters(label, printed):
    """Every end of every stroke is where the lettering has it, within a hundredth, though letters are put together."""
    page = page_of(replace(sample_picture(), shapes=(), labels=(label,)), printed)
    ends = [out(end, printed) for path in page.paths() for end in path.ends]
    wanted = [end for stroke in label.strokes for end in (stroke.segments[0].start, stroke.segments[-1].end)]
    assert max(min(math.dist(place, end) for end in ends) for place in wanted) < 0.01
    assert max(min(math.dist(place, end) for s in label.strokes for end in s.points(16)) for place in ends) < 0.2


def test_words_can_be_searched_where_they_stand():
    """Within a millimetre of their strokes."""
    page = page_of(replace(sample_picture(), labels=LABELS[:1]), (1.004, 0.997))
    assert "Slot 28.10 ½ Äß" in page.words
    low_x, low_y, high_x, high_y = (
        pick(box[i] for _, box in page.boxes()) for i, pick in ((0, min), (1, min), (2, max), (3, max))
    )
    assert low_x == pytest.approx(20 / 1.004, abs=1) and low_y == pytest.approx(82 / 0.997, abs=1)
    assert high_x < 80 and high_y < 90


def test_pages_are_in_the_list_of_contents():
    """Upright and lying ones in one file, each by its picture's title."""
    picture = sample_picture()
    pages = [
        PrinterPage(replace(picture, title="first"), A4),
        PrinterPage(replace(picture, title="second"), A4[::-1], (0.99, 1.01)),
    ]
    written = write_printer_pages_pdf(pages, "both")
    assert contents(written) == [("first", 0), ("second", 1)]
    assert [page.size for page in read_pdf(written)] == [pytest.approx(A4, abs=1e-3), pytest.approx(A4[::-1], abs=1e-3)]
    assert write_printer_pages_pdf(pages, "both") == written


def test_what_cannot_be_printed_is_refused():
    """No pages; a picture that is larger than its page comes out."""
    with pytest.raises(OutOfRange, match="a PDF has no pages, must have at least one"):
        write_printer_pages_pdf([], "none")
    large = replace(sample_picture(), title="wide", width_mm=211.0)
    assert PrinterPage(large, A4, (1.01, 1.0))
    with pytest.raises(OutOfRange, match=r'picture "wide" is 211.0 x .* larger than .* take larger paper'):
        PrinterPage(large, A4)
