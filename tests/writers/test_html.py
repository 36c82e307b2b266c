"""Pages as HTML, read back by the standard library's own parser."""

from html.parser import HTMLParser

import pytest
from sample_pictures import sample_picture

from jigmaker.drawing.page import BOX, Figures, Page, Steps, Table, Words
from jigmaker.writers.html import write_html

STRANGE = "<b>& \"quoted\" 'single' 9° ½</b>"
PAGE = Page(
    STRANGE,
    (
        Words(STRANGE),
        Steps((STRANGE, "then this")),
        Table(("place", STRANGE), (("A", STRANGE), ("B", BOX))),
        Figures(((sample_picture(), 120.0, STRANGE), (sample_picture(), 40.0, "small"))),
    ),
)
EMPTY = {"meta", "path", "circle"}


class Reader(HTMLParser):
    """Texts by the tag that holds them, and every tag in order; refuses what is not closed in turn."""

    def __init__(self):
        super().__init__()
        self.open, self.texts, self.tags, self.styles = [], [], [], []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        if tag not in EMPTY:
            assert self.open.pop() == tag

    def handle_data(self, data):
        if data.strip():
            self.texts.append((self.open[-1], data.strip()))


@pytest.fixture(scope="module")
def read():
    reader = Reader()
    reader.feed(write_html(PAGE).decode("utf-8"))
    reader.close()
    assert reader.open == []
    return reader


def test_every_word_is_escaped(read):
    """Title, heading, paragraph, step, cells, caption: signs of HTML come back as they were written."""
    holders = [tag for tag, text in read.texts if text == STRANGE]
    assert holders == ["title", "h1", "p", "li", "th", "td", "figcaption"]
    assert not any(tag == "b" for tag, _ in read.tags)


def test_boxes_are_empty_cells(read):
    """To write in."""
    assert [attrs.get("class") for tag, attrs in read.tags if tag == "td"] == [None, None, None, "box"]


def test_pictures_stand_in_the_page(read):
    """As SVG with their own size in the box that they are scaled into; no file beside the page is needed."""
    pictures = [attrs for tag, attrs in read.tags if tag == "svg"]
    assert [attrs["viewbox"] for attrs in pictures] == ["0 0 130 90"] * 2
    assert [attrs["style"] for tag, attrs in read.tags if tag == "figure"] == ["width: 120mm", "width: 40mm"]
    assert not any({"src", "href"} & attrs.keys() for _, attrs in read.tags)


def test_it_prints_black_on_white_on_any_paper():
    """No paper size is set, so A4 and Letter both do; and no colour but those two."""
    style = write_html(Page("x", ())).decode().partition("<style>")[2].partition("</style>")[0]
    assert "@page { margin: 12mm }" in style
    assert "size:" not in style.replace("font-size:", "")
    assert {word for word in style.split() if word.startswith("#")} <= {"#000;", "#fff;", "#000"}


def test_same_page_same_bytes():
    """Nothing of the day is in it."""
    assert write_html(PAGE) == write_html(PAGE)
