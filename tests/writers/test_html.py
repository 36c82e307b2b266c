"""Pages as HTML, read back by the standard library's own parser."""

import re
from html.parser import HTMLParser
from urllib.parse import unquote, urljoin, urlsplit

import pytest
from sample_pages import STRANGE_NAME, rout_picture, setup_document, setup_page
from sample_pictures import HOSTILE_TITLES, sample_picture
from svgelements import Path as SvgPath

from jigmaker.drawing.page import (
    BOX,
    Caution,
    Document,
    Facts,
    Figures,
    Heading,
    Link,
    Links,
    Page,
    Steps,
    Table,
    Words,
)
from jigmaker.writers.html import write_html

STRANGE = "<b>& \"quoted\" 'single' 9° ½</b>"
NAME = 'papers/50% & "more"/#1? <x>.html'
PAGE = Page(
    STRANGE,
    (
        Words(STRANGE),
        Steps((STRANGE, "then this")),
        Table(("place", STRANGE), (("A", STRANGE), ("B", BOX))),
        Figures(((sample_picture(), 120.0, STRANGE), (sample_picture(), 40.0, "small"))),
        Caution(STRANGE),
        Heading(STRANGE),
        Facts(((STRANGE, STRANGE), ("date", BOX))),
        Links((Link(NAME, STRANGE),)),
    ),
    ((STRANGE, STRANGE), ("initials", BOX)),
)
EMPTY = {"meta", "path"}


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


def reader_of(written):
    """The file as the parser takes it; every element is closed."""
    reader = Reader()
    reader.feed(written.decode("utf-8"))
    reader.close()
    assert reader.open == []
    return reader


@pytest.fixture(scope="module")
def read():
    return reader_of(write_html(PAGE))


def test_every_word_is_escaped(read):
    """Title, heading, paragraph, step, cells, caption: signs of HTML come back as they were written."""
    holders = [tag for tag, text in read.texts if text == STRANGE]
    in_head, in_blocks = ["title", "h1", "dt", "dd"], ["p", "li", "th", "td", "figcaption", "span", "h2", "dt", "dd"]
    assert holders == [*in_head, *in_blocks, "a"]
    assert not any(tag == "b" for tag, _ in read.tags)


def test_boxes_are_empty(read):
    """To write in: cells of a table, facts, and the head."""
    cells = [attrs.get("class") for tag, attrs in read.tags if tag == "td"]
    assert cells == [None, None, None, "box"]
    assert [attrs.get("class") for tag, attrs in read.tags if tag == "dd"] == [None, "box", None, "box"]


def test_pictures_stand_in_the_page(read):
    """As SVG with their own size in the box that they are scaled into; no file beside the page is needed."""
    pictures = [attrs for tag, attrs in read.tags if tag == "svg"]
    assert [attrs["viewbox"] for attrs in pictures] == ["0 0 130 90"] * 2
    assert [attrs["style"] for tag, attrs in read.tags if tag == "figure"] == ["width: 120mm", "width: 40mm"]
    assert not any("src" in attrs for _, attrs in read.tags)


def test_pictures_have_names_and_share_nothing(read):
    """Each is an image with its title; only headings have an id, so that several in a page cannot meet."""
    pictures = [attrs for tag, attrs in read.tags if tag == "svg"]
    assert [(attrs["role"], attrs["aria-label"]) for attrs in pictures] == [("img", "Potting bench")] * 2
    assert not any("id" in attrs for tag, attrs in read.tags if tag not in ("h2", "section"))


def test_a_pictures_words_describe_it():
    """Labels are strokes, so their words stand in the description, for readers that do not see."""
    reader = reader_of(write_html(setup_page()))
    (said,) = [text for tag, text in reader.texts if tag == "desc"]
    assert said == "FEED · PROJECTION 41.30 · 78.25° from top face · STOP"


def test_a_picture_has_the_same_lines_as_its_own_file():
    """Every path of the page read by svgelements: the same lengths, layer by layer, as in the picture itself."""
    written = write_html(Page("x", (Figures(((rout_picture(), 100.0, ""),)),))).decode()
    drawn = re.findall(r'<path stroke="([^"]*)" stroke-width="([^"]*)"[^>]* d="([^"]*)"', written)
    lengths = {}
    for layer in rout_picture().layers:
        shapes = [shape.shape for shape in rout_picture().shapes if shape.layer == layer.name]
        strokes = [stroke for label in rout_picture().labels if label.layer == layer.name for stroke in label.strokes]
        lengths[layer.name] = sum(shape.length for shape in (*shapes, *strokes))
    found = [SvgPath(data).length() for _, _, data in drawn]
    assert sorted(found) == pytest.approx(sorted(lengths.values()), rel=1e-3)
    assert [width for _, width, _ in drawn] == ["0.5", "0.25", "0.25"]
    assert 'stroke-dasharray="3 1.5"' in written


def test_links_lead_beside_the_page(read):
    """Quoted, so that a browser asks for the file of just that name, and never for another kind of address."""
    (link,) = [attrs for tag, attrs in read.tags if tag == "a"]
    assert urljoin("file:///jobs/index.html", link["href"]).startswith("file:///jobs/papers/")
    assert unquote(urlsplit(urljoin("file:///jobs/index.html", link["href"])).path) == f"/jobs/{NAME}"
    colon = write_html(Page("x", (Links((Link("javascript:alert(1)", "x"),)),)))
    assert b'href="./javascript%3Aalert%281%29"' in colon


def test_a_document_has_its_pages_in_order():
    """Title, contents that lead to every page, and a section for each with its own heading below the title's."""
    reader = reader_of(write_html(setup_document(STRANGE_NAME)))
    headings = [(tag, text) for tag, text in reader.texts if tag in ("h1", "h2", "h3")]
    assert headings[0] == ("h1", f"{STRANGE_NAME}: set-up sheets")
    sheet = ["h2", "h3", "h3", "h3"]
    assert [tag for tag, _ in headings[1:]] == sheet * 3
    ids = [attrs["id"] for tag, attrs in reader.tags if tag == "section"]
    assert [attrs["href"] for tag, attrs in reader.tags if tag == "a"] == [f"#{each}" for each in ids]
    assert len(set(ids)) == 3


def test_figures_of_a_table_are_marked():
    """Short ones with sign and unit, not every cell that holds a digit."""
    table = Table(
        ("a",), (("28.10",), ("±0.1°",), ("−3",), ("70 × 28",), ("leg 1",), ("9 turns of the handle, then back",))
    )
    reader = reader_of(write_html(Page("x", (table,))))
    marked = [attrs.get("class") for tag, attrs in reader.tags if tag == "td"]
    assert marked == ["number"] * 4 + [None, None]


def classes(tag, *blocks):
    """What the look is told of every such element of a page of these blocks."""
    return [attrs.get("class") for each, attrs in reader_of(write_html(Page("x", blocks))).tags if each == tag]


def test_facts_stand_in_two_columns_where_all_are_short():
    """Figures do; two alone need none, and one sentence among them would be broken into slivers."""
    figures = (("width", "28.10"), ("depth", "41.30 mm"), ("angle", "78.25° off the top face"))
    assert classes("dl", Facts(figures), Facts(figures[:2])) == ["facts short", "facts"]
    assert classes("dl", Facts((*figures, ("set", "the mitre fence before the blade, not after")))) == ["facts"]
    assert classes("div", Facts((("set", "28.10"), ("why", "so that any leg of the batch goes into any housing")))) == [
        None,
        "long",
    ]


def test_a_long_page_begins_with_steps_to_its_parts():
    """One for each part, none for what is within a part; a page that is seen at once has none."""
    parts = [block for number in range(9) for block in (Heading(f"Part {number} & on"), Heading("in it", within=True))]
    reader = reader_of(write_html(Page("x", tuple(parts))))
    ids = [attrs["id"] for tag, attrs in reader.tags if tag == "h2"]
    assert [attrs["href"] for tag, attrs in reader.tags if tag == "a"] == [f"#{each}" for each in ids]
    assert len(set(ids)) == 9 and not any("id" in attrs for tag, attrs in reader.tags if tag == "h3")
    assert not any(tag == "nav" for tag, _ in reader_of(write_html(Page("x", tuple(parts[:4])))).tags)


def test_a_table_is_stacked_and_a_word_broken_only_where_they_must_be():
    """Two columns have room on a telephone, six do not; a file's name may be parted, words of the trade not."""
    narrow, wide = (Table(("a",) * count, (("b",) * count,)) for count in (2, 6))
    assert classes("table", narrow, wide) == [None, "wide"]
    names = Table((), (("a chamfer on the inside face", "cut-by-the-machine/sheet-1-nominal.dxf"),))
    assert classes("td", names) == [None, "long"]


def test_a_list_of_many_files_may_be_folded():
    """Opened without a script, and it says how many it holds."""
    links = tuple(Link(f"{number}.dxf", "Sheet") for number in range(3))
    folded, shown = (reader_of(write_html(Page("x", (Links(links, folded=each),)))) for each in (True, False))
    assert ("summary", "3 files") in folded.texts and not any(tag == "details" for tag, _ in shown.tags)
    assert [text for _, text in shown.texts if text.endswith(".dxf")] == [f"{number}.dxf" for number in range(3)]


@pytest.mark.parametrize("title", [*HOSTILE_TITLES, STRANGE_NAME], ids=range(len(HOSTILE_TITLES) + 1))
def test_any_title(title):
    """It is UTF-8, well-formed, without a control sign, and says the title."""
    written = write_html(Document(title, (Page(title, (Words(title),), ((title, title),)),))).decode("utf-8")
    assert not re.search("[\x00-\x08\x0b\x0c\x0e-\x1f]", written)
    reader = reader_of(written.encode())
    said = re.sub("[^\t\n\r -~\xa0-\ufffd\U00010000-\U0010ffff]|[\ud800-\udfff]", "\ufffd", title).strip()
    assert not said or ("h1", said) in reader.texts


def test_it_stands_alone():
    """No script, nothing from elsewhere, and it is as wide as the phone."""
    written = write_html(setup_document()).decode()
    for part in ("<script", "http", "url(", "@import", "<link", " onload", "src="):
        assert part not in written
    assert '<meta name="viewport" content="width=device-width, initial-scale=1">' in written


def test_it_prints_black_on_white_on_any_paper():
    """No paper size is set, so A4 and Letter both do; and no colour but those two."""
    style = write_html(Page("x", ())).decode().partition("<style>")[2].partition("</style>")[0]
    assert "@page { margin: 12mm }" in style
    assert not re.search(r"(?<![-\w])size:", style)
    assert set(re.findall(r"#[0-9a-f]{3,8}\b", style)) == {"#000", "#fff"}


def test_what_is_read_together_is_printed_on_one_page():
    """Cautions, steps, rows, facts and figures; break-inside, -before and -after are all there is in CSS Fragmentation
    Module Level 3, and a browser passes over any other name."""
    style = write_html(Page("x", ())).decode().partition("<style>")[2].partition("</style>")[0]
    assert set(re.findall(r"(?<![\w-])break-\w+(?=:)", style)) <= {"break-inside", "break-before", "break-after"}
    whole = {
        selector.strip()
        for selector, rule in re.findall(r"([^{}]*)\{([^{}]*)\}", style)
        if "break-inside: avoid" in rule
    }
    assert whole >= {".caution", ".steps li", "tr", ".facts div", "figure"}


def test_same_page_same_bytes():
    """Nothing of the day is in it."""
    assert write_html(PAGE) == write_html(PAGE)
