"""Documents as PDF, read back with another reader: nothing is lost, cut off, too small or off the shared paper."""

import os
import re
import subprocess
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from pdf_pages import contents, read_pdf, told
from sample_pages import ROUT_LAYERS, STRANGE_NAME, index_page, list_page, rout_picture, setup_document, setup_page
from sample_pictures import HOSTILE_TITLES

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
from jigmaker.drawing.picture import DrawnShape, Picture
from jigmaker.errors import OutOfRange
from jigmaker.geometry.outline import Stroke
from jigmaker.job.shop import PAPER_MM
from jigmaker.writers.pdf import write_pdf

A4, LETTER = PAPER_MM["A4"], PAPER_MM["Letter"]
BODY = (186.0, 255.0)
WORD = "bench"


def sheets(shown, paper=A4):
    """The sheets of a page or document."""
    return read_pdf(write_pdf(shown if isinstance(shown, Document) else Document("Potting bench", (shown,)), paper))


def one(*blocks, head=(), title="Title"):
    """A page of these blocks."""
    return Page(title, tuple(blocks), tuple(head))


def assert_on_body(pages, paper=A4):
    """Every sign and line lies in the 186 x 255 mm in the middle of the paper; half a line's width may be outside."""
    left, low = (paper[0] - BODY[0]) / 2, (paper[1] - BODY[1]) / 2
    for page in pages:
        boxes = [box for _, box in page.boxes()] + [path.bounds for path in page.paths()]
        assert min(box[0] for box in boxes) > left - 0.1
        assert max(box[2] for box in boxes) < left + BODY[0] + 0.1
        assert min(box[1] for box in boxes) > low - 0.5
        assert max(box[3] for box in boxes) < low + BODY[1] + 0.1


@pytest.mark.parametrize("size", PAPER_MM)
def test_pages_have_the_papers_size(size):
    """To a thousandth of a millimetre, and all stands in the middle."""
    pages = sheets(setup_page(), PAPER_MM[size])
    assert [page.size for page in pages] == [pytest.approx(PAPER_MM[size], abs=1e-3)]
    assert_on_body(pages, PAPER_MM[size])


def test_a4_and_letter_hold_the_same():
    """Moved by half the papers' difference, so that the wrong paper in the printer cuts nothing off."""
    (one,), (other,) = sheets(setup_page(), A4), sheets(setup_page(), LETTER)
    move = np.array([2.95, -8.8, 2.95, -8.8])
    for (sign, box), (same, moved) in zip(one.boxes(), other.boxes(), strict=True):
        assert sign == same
        assert np.array(box) + move == pytest.approx(np.array(moved), abs=1e-3)


@pytest.mark.parametrize("name", ["Potting bench", STRANGE_NAME])
def test_a_full_set_up_sheet_fits_one_sheet(name):
    """Head of eight, caution, picture, settings, six steps, eight checks; with a name of eighty characters too."""
    assert len(sheets(setup_document(name))) == 3


def test_a_large_picture_leaves_room_for_the_rest():
    """Head of eight, caution, a picture of 186 x 81 mm, six steps and a table of eight rows: one sheet."""
    full = setup_page()
    kept = [block for block in full.blocks if isinstance(block, Caution | Steps | Table)]
    pages = sheets(Page(full.title, (kept[0], Figures(((rout_picture(), 186.0, ""),)), *kept[1:]), full.head))
    assert len(pages) == 1


@pytest.mark.parametrize("page", [setup_page(), index_page(), list_page(40)], ids=lambda page: page.title)
def test_every_word_is_there(page):
    """Title, head, blocks: whatever is said stands on the paper, in order; and the sheets are counted."""
    pages = sheets(page)
    words = " ".join(sheet.words for sheet in pages)
    for said in said_by(page):
        assert " ".join(said.split()) in words
    for link in (link for block in page.blocks if isinstance(block, Links) for link in block.items):
        assert "".join(link.name.split()) in words.replace(" ", "")  # a long name goes on in the next line
    assert [f"page {n} of {len(pages)}" in sheet.words for n, sheet in enumerate(pages, 1)] == [True] * len(pages)


def said_by(page):
    """All words of a page, cell by cell; cells that are broken into lines are left out of the search by line."""
    yield page.title
    for block in page.blocks:
        match block:
            case Heading() | Caution() | Words():
                yield block.text
            case Steps():
                yield from block.items
            case Links():
                yield from (link.words for link in block.items)
            case Facts():
                yield from (word for row in block.rows for word in row if word != BOX)
            case Table():
                yield from (cell for row in (block.head, *block.rows) for cell in row if cell != BOX)
            case Figures():
                yield from (words for _, _, words in block.pictures)
                yield from (label.text for picture, _, _ in block.pictures for label in picture.labels)


def test_letters_can_be_read_at_arms_length():
    """Ten points or more for what is read at work; names in the head, captions and the foot may be smaller."""
    (page,) = sheets(setup_page())
    sizes = {text.strip(): size for size, text in page.sizes()}
    assert min(sizes.values()) >= 8
    for read in (
        "Brush out the corners, and mark each housing with its leg's number.",
        "outer faces of the end bearers",
    ):
        assert sizes[read] >= 10
    assert min(sizes[number] for number in ("28.10", "±0.10", "78.25°", "41.30 mm")) >= 11


def head_frames(*head):
    """The frames of a head's cells on its sheet, and every sign that stands in the head: its box, title left out."""
    (page,) = sheets(one(head=head, title="T"))
    frames = [path.bounds for path in page.paths() if len(path.pieces) == 5]
    low, high = min(frame[1] for frame in frames), max(frame[3] for frame in frames)
    return frames, [box for _, box in page.boxes() if low <= box[1] and box[3] <= high + 1]


def test_short_facts_of_a_head_stand_in_four_equal_columns():
    """Eight in two rows, however their words differ in length, so that heads of all sheets look alike."""
    frames, _ = head_frames(*[("job", "28.10"), ("timber as measured", "145 × 45.2 mm")] * 4)
    assert [high - low for low, _, high, _ in frames] == pytest.approx([BODY[0] / 4] * 8, abs=1e-3)
    assert len({round(frame[1], 2) for frame in frames}) == 2


@pytest.mark.parametrize("words", [1, 6, 20, 60])
def test_what_a_head_says_stands_inside_its_frames(words):
    """However many lines it takes: no sign crosses a frame, and frames of a row are as high as each other."""
    frames, signs = head_frames(("timber as measured", f"{WORD} " * words), ("a date", BOX), ("sheet", "6 of 14"))
    assert len(frames) == 3 and len(signs) > len(WORD) * words
    for x0, y0, x1, y1 in signs:
        assert sum(a - 0.1 < x0 and x1 < c + 0.1 and b - 0.1 < y0 and y1 < d + 0.1 for a, b, c, d in frames) == 1
    rows = {round(frame[3], 2): {round(other[1], 2) for other in frames if other[3] == frame[3]} for frame in frames}
    assert all(len(lows) == 1 for lows in rows.values())


def test_boxes_are_large_enough_to_write_in():
    """One for each BOX, 15 x 6 mm or larger, and nothing is printed in it."""
    (page,) = sheets(one(Table(("what", "first", "second"), (("width", BOX, BOX), ("depth, " * 30, BOX, "no")))))
    boxes = [path.bounds for path in page.paths() if len(path.pieces) == 5]
    assert len(boxes) == 3
    for low_x, low_y, high_x, high_y in boxes:
        assert high_x - low_x >= 15 and high_y - low_y >= 6
        assert not any(low_x < b[2] and b[0] < high_x and low_y < b[3] and b[1] < high_y for _, b in page.boxes())


def test_a_table_of_nothing_but_boxes_keeps_them_apart():
    """Twelve in a row are as wide as the sheet has room for."""
    (page,) = sheets(one(Table(("a",) * 12, ((BOX,) * 12,))))
    boxes = sorted(path.bounds for path in page.paths() if len(path.pieces) == 5)
    assert len(boxes) == 12
    assert all(a[2] <= b[0] + 1e-3 for a, b in pairwise(boxes))
    assert_on_body([page])


def test_a_long_table_goes_on_under_its_head():
    """Each row once; title, head and the names of the columns again on every sheet, and the word for it."""
    pages = sheets(list_page(90))
    assert len(pages) == 3
    words = " ".join(page.words for page in pages)
    assert [words.count(f"leg {n} Larch") for n in range(1, 91)] == [1] * 90
    for page in pages[1:]:
        assert "Cut list (continued) job Potting bench" in page.words
        assert "piece timber count length section done" in page.words
    assert_on_body(pages)


LONG = {
    "words": one(Words(f"{WORD} " * 3000)),
    "word": one(Words(WORD * 600)),
    "caution": one(Caution(f"{WORD} " * 900)),
    "cell": one(Table(("a", "b", "c"), (("x", f"{WORD} " * 900, BOX),))),
    "fact": one(Facts((("name", f"{WORD} " * 900), ("other", "value")))),
    "step": one(Steps((f"{WORD} " * 900, "then"))),
    "steps": one(Steps((WORD,) * 150)),
    "heading": one(Heading(f"{WORD} " * 100), Words("x")),
    "title": one(Words("x"), title=f"{WORD} " * 60),
    "head": one(Words("x"), head=[("job", f"{WORD} " * 900)]),
    "heads": one(Words("x"), head=[("job", WORD)] * 150),
    "caption": one(Figures(((rout_picture(), 60.0, f"{WORD} " * 100),))),
    "columns": one(Table((WORD,) * 24, ((WORD,) * 24,) * 3)),
}


@pytest.mark.parametrize("name", LONG)
def test_nothing_is_cut_off(name):
    """However long: every word is on the paper as often as it was said, or more often where it is repeated."""
    pages = sheets(LONG[name])
    letters = "".join(page.words for page in pages).replace(" ", "")
    said = {"words": 3000, "word": 600, "steps": 150, "heading": 100, "title": 60, "heads": 150, "caption": 100}
    said |= {"columns": 24 * 4}
    assert letters.count(WORD) - len(pages) >= said.get(name, 900)  # the foot says it too, once a sheet
    assert_on_body(pages)


def test_a_picture_that_is_too_large_is_printed_smaller():
    """Wider or higher than the sheet, it still stands on it whole; others are as wide as was asked."""
    high = Picture("tower", 10.0, 100.0, ROUT_LAYERS, (DrawnShape("SEEN", Stroke.from_points([(5, 0), (5, 100)])),))
    pages = sheets(one(Figures(((rout_picture(), 900.0, "wide"), (rout_picture(), 90.0, "asked"), (high, 80.0, "")))))
    assert_on_body(pages)
    lines = [path.bounds for page in pages for path in page.paths() if path.is_stroked]
    # The board is 150 of the picture's 160 mm long, at 186 and at 90 mm.
    for wide in (174.375, 84.375):
        assert min(abs(x1 - x0 - wide) for x0, _, x1, _ in lines) < 1e-3
    assert max(y1 - y0 for _, y0, _, y1 in lines) > 150
    assert min(path.width for page in pages for path in page.paths() if path.is_stroked) > 0.1 - 1e-6


@pytest.mark.parametrize(("least", "count", "wide"), [(1.0, 2, 174.375), (0.9, 2, 174.375), (0.5, 1, 0.0)])
def test_pictures_give_way_only_where_they_may(least, count, wide):
    """Smaller by no more than is allowed and needed to save a sheet; else they keep the width that was asked for."""
    page = one(Figures(((rout_picture(), 186.0, ""),), least), Steps((WORD,) * 38))
    pages = sheets(page)
    lines = [path.bounds[2] - path.bounds[0] for sheet in pages for path in sheet.paths()]
    widest = max(length for length in lines if length < 185)
    assert len(pages) == count
    assert widest == pytest.approx(wide, abs=1e-3) if wide else 0.5 < widest / 174.375 < 0.9


def test_no_head_of_a_table_stands_over_a_single_row():
    """When only one more row has room at a sheet's foot, the table begins on the next."""
    for count in range(40, 56):
        pages = sheets(one(Steps((WORD,) * count), Table(("first",), (("cell",),) * 25)))
        assert next(page.words.count("cell") for page in pages if "first" in page.words) != 1


def test_headings_stay_with_what_follows():
    """On no sheet is a heading the last thing."""
    for rows in range(36, 50):
        table = Table(("a",), (("x",),) * rows)
        for page in sheets(one(table, Heading("Do"), Steps(("first", "second")))):
            assert page.words.endswith("page 1 of 1") or "Do Potting" not in page.words


@pytest.mark.parametrize("name", [*HOSTILE_TITLES, STRANGE_NAME], ids=range(len(HOSTILE_TITLES) + 1))
def test_any_name_is_written(name):
    """As title, in the head, in a cell and at the foot; what has no glyph is a box, and is read as what it is."""
    page = one(Table(("name",), ((name,),)), head=[("job", name)], title=name)
    pages = sheets(Document(name, (page,)))
    assert_on_body(pages)
    readable = "".join(sign for sign in name if sign.isprintable() and ord(sign) < 0xD000 and not sign.isspace())
    assert readable in pages[0].words.replace(" ", "").replace("\r", "") or "\x00" in name


@pytest.mark.parametrize("sign", "°±Ø×½¼¾−≤≥≈éčŁŹαΩ–“")
def test_signs_of_the_trade_have_a_glyph(sign):
    """Painted, and not as the box that stands for unknown signs."""
    painted, blank, unknown = (sheets(one(Words(f"Text {each}")))[0].pixels() for each in (sign, " ", "日"))
    assert not np.array_equal(painted, blank)
    assert not np.array_equal(painted, unknown)
    assert not np.array_equal(unknown, blank)


@pytest.mark.parametrize("letter", "ňěŤŴ")
def test_an_accent_stands_over_the_middle_of_its_letter(letter):
    """The font has no such letter, so it is put together of two."""
    (page,) = sheets(one(Words(letter)))
    inked = page.inked()
    at = next(i for i, (text, _) in enumerate(inked) if text == letter)
    (low, _, high, top), (left, bottom, right, _) = inked[at][1], inked[at + 1][1]
    assert (left + right) / 2 == pytest.approx((low + high) / 2, abs=0.05)
    assert top < bottom < top + 0.5


def test_it_is_black_on_white():
    """Every dot of the paper is a grey."""
    for page in sheets(setup_document()):
        dots = page.pixels()
        assert (dots.max(axis=2) - dots.min(axis=2)).max() == 0
        assert dots.min() == 0


def test_the_rule_above_the_foot_is_a_thin_line_across_the_body():
    """0.25 mm, of the series of ISO 128-2: 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1, 1.4, 2 mm (told from memory)."""
    written = write_pdf(Document("Kit", (Page("Notes", (Words("One."),)),)), A4)
    *_, rule = re.finditer(rb"q 0 J (\S+) w (\S+) \S+ m (\S+) \S+ l S Q", written)
    wide, start, end = (float(figure) * 25.4 / 72 for figure in rule.groups())
    assert (wide, end - start) == pytest.approx((0.25, BODY[0]), abs=0.001)


def test_a_heading_is_ruled_to_the_margin_where_it_leaves_room():
    """The rule begins after the words and ends at the body's right edge; 5 mm or less of it would be read as a dash
    (common practice, no source).
    """
    right, ends, rules = (A4[0] + BODY[0]) / 2, [], []
    for count in range(140, 164):
        (page,) = sheets(one(Heading("i" * count), Words("x")))
        ends.append(max(box[2] for sign, box in page.boxes() if sign == "i"))
        rules += [path.bounds for path in page.paths() if path.bounds[0] > ends[-1]]
    air = rules[0][0] - ends[0]
    assert 1 < air < 4 and all(high == pytest.approx(right, abs=1e-3) for _, _, high, _ in rules)
    assert [low for low, _, _, _ in rules] == pytest.approx([end + air for end in ends if end + air < right - 5])


def test_what_the_file_says_about_itself():
    """Title and author, a list of its pages, full size as the print dialog's first choice; no date."""
    written = write_pdf(setup_document(), A4)
    assert told(written)["Title"] == "Potting bench: set-up sheets"
    assert told(written)["Author"] == "jigmaker"
    assert contents(written) == [(f"{n}0 Rout the housings, R then L", n - 6) for n in (6, 7, 8)]
    assert b"/PrintScaling /None" in written
    assert b"Date" not in written


def test_same_document_same_bytes_anywhere(tmp_path):
    """In two processes with other hash seeds and time zones; nothing is packed by a library that machines differ in."""
    script = (
        "import sys; sys.path.insert(0, 'tests/support')\n"
        "from sample_pages import ROUT_LAYERS, STRANGE_NAME, setup_document\n"
        "from jigmaker.writers.pdf import write_pdf\n"
        "sys.stdout.buffer.write(write_pdf(setup_document(STRANGE_NAME), (210.0, 297.0)))"
    )
    root = Path(__file__).parent.parent.parent
    written = [
        subprocess.run(
            [sys.executable, "-c", script],
            cwd=root,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
            capture_output=True,
            check=True,
        ).stdout
        for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo"))
    ]
    assert written[0] == written[1] == write_pdf(setup_document(STRANGE_NAME), A4)
    assert b"FlateDecode" not in written[0]


def test_links_leave_their_names():
    """A name to look for in the folder, and what it is."""
    (page,) = sheets(one(Links((Link("papers/cut list.csv", "Cut list"),))))
    assert "papers/cut list.csv Cut list" in page.words


def test_paper_that_is_too_small_is_refused():
    """Rather than printing on the table."""
    with pytest.raises(OutOfRange, match=r"paper is 148 x 210 mm, must be 186\.0 x 255\.0 mm or larger"):
        write_pdf(setup_document(), (148, 210))
