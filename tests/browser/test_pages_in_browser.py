"""Pages in a real browser, on a phone, on a desk and on paper: nothing overflows, overlaps, calls out or is lost."""

import shutil
import subprocess

import pytest
from browsing import REQUIRED, browser_reason, needs_browser
from pdf_pages import read_pdf
from sample_pages import STRANGE_NAME, index_page, list_page, setup_document

from jigmaker.drawing.page import BOX, Caution, Document, Facts, Page, Steps, Table, Words
from jigmaker.writers.html import write_html

HARSH = Page(
    "W" * 60,
    (
        Words("long " + "W" * 300),
        Caution("W" * 200),
        Steps(("W" * 200,)),
        Facts((("W" * 60, "W" * 60), ("b", BOX))),
        Table(("W" * 30, "b"), (("W" * 80, "i" * 300),)),
        Table(("what", "W" * 30, "c", "d", "e"), (("W" * 80, "12.34", "±0.1", BOX, "i" * 300),) * 2),
    ),
    (("W" * 40, "W" * 80), ("b", BOX)),
)
SHOWN = {
    "sheets": setup_document(STRANGE_NAME),
    "list": list_page(45, STRANGE_NAME),
    "index": index_page(STRANGE_NAME),
    "harsh": HARSH,
}


def written(folder, shown):
    path = folder / "page.html"
    path.write_bytes(shown if isinstance(shown, bytes) else write_html(shown))
    return path


def squeezed(words: str) -> str:
    """Without blanks: where letters are set apart a reader may see them."""
    return "".join(words.split())


@needs_browser
@pytest.mark.parametrize("name", SHOWN)
def test_nothing_is_wrong_on_phone_and_desk(name, browser, tmp_path):
    """No word of the console, no request, no scrolling sideways, no text cut off or over another."""
    assert browser.look_at(written(tmp_path, SHOWN[name])) == {390: [], 1280: []}


@needs_browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_page_prints_whole_from_the_top_of_a_sheet(paper, browser, tmp_path):
    """The PDF is for paper; a page printed from the browser loses nothing: title first on a sheet, all words to the
    last, no sheet of two pages."""
    sheets = read_pdf(browser.print_to(written(tmp_path, setup_document()), paper))
    title = "Rout the housings, R then L Potting bench"
    starts = [i for i, sheet in enumerate(sheets) if squeezed(title) in squeezed(sheet.words)[:60]]
    assert len(starts) == 3 and starts[0] == 0
    for number, first, after in zip((60, 70, 80), starts, [*starts[1:], len(sheets)], strict=True):
        words = squeezed("".join(sheet.words for sheet in sheets[first:after]))
        assert words.startswith(squeezed(f"{number} {title}"))
        assert words.endswith(squeezed("stop to stop 300.40 ±0.10 outer faces of the end bearers caliper"))
        assert after - first <= 2


@needs_browser
def test_a_long_list_prints_whole(browser, tmp_path):
    """No row is lost or cut at the end of a sheet, and the names of the columns stand on each."""
    pages = read_pdf(browser.print_to(written(tmp_path, list_page(90)), "Letter"))
    words = " ".join(page.words for page in pages)
    assert [words.count(f"leg {n} Larch, planed, knots sound 2 pieces") for n in range(1, 91)] == [1] * 90
    assert all("piece timber count length section done" in page.words for page in pages)


@needs_browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_print_keeps_to_the_shared_body(paper, browser, tmp_path):
    """Nothing within 12 mm of an edge."""
    for page in read_pdf(browser.print_to(written(tmp_path, Document("x", setup_document().pages[:1])), paper)):
        boxes = [box for _, box in page.boxes()]
        width, height = page.size
        assert min(box[0] for box in boxes) > 11.9 and max(box[2] for box in boxes) < width - 11.9
        assert min(box[1] for box in boxes) > 11.9 and max(box[3] for box in boxes) < height - 11.9


BAD = {
    "console": "<script>console.log('hello')</script>",
    "script": "<script>nothing.there()</script>",
    "request": '<img alt="x" src="https://example.invalid/x.png">',
    "page: scrolls sideways": '<div style="width: 3000px; height: 9px"></div>',
    "is wider than its box": '<div style="width: 90px; overflow: hidden; white-space: nowrap">many more words</div>',
    "is cut off at its foot": '<div style="height: 9px; overflow: hidden">words<br>words</div>',
    "texts lie on one another": '<p>one</p><p style="margin-top: -34px">two</p>',
    "text is too light": '<p style="color: #aaa">light</p>',
    "text of 7px": '<p style="font-size: 7px">small</p>',
    "svg: without a name": '<svg viewBox="0 0 9 9"><path d="M0 0L9 9"/></svg>',
    "img: without a name": '<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">',
}


@needs_browser
@pytest.mark.parametrize("fault", BAD)
def test_each_fault_is_found(fault, browser, tmp_path):
    """The checks above can fail: a page with one fault is told by that fault."""
    page = f'<!DOCTYPE html><html lang="en"><meta charset="utf-8"><title>x</title><body>{BAD[fault]}</body></html>'
    (found,) = browser.look_at(written(tmp_path, page.encode()), (390,)).values()
    assert any(fault in told for told in found), found


def test_the_browser_that_was_asked(record_property):
    """The report of the test run names it; where it is required it is there."""
    if not browser_reason():
        told = subprocess.run([shutil.which("chromium"), "--version"], capture_output=True, text=True, check=True)
        record_property("browser", told.stdout.strip())
    assert not (browser_reason() and REQUIRED), browser_reason()
