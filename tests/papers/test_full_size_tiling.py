"""Tiles, sheets of paper and packing of full-size templates, on plain pictures: what must hold whatever is printed."""

import random
from itertools import pairwise

import pytest
import shapely

from jigmaker.drawing.draft import WORDS, WORDS_MM
from jigmaker.drawing.picture import DrawnShape, Label, Picture
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.outline import Outline
from jigmaker.job.shop import Paper
from jigmaker.papers.full_size.leaf import Leaf
from jigmaker.papers.full_size.packing import block, fits, pack
from jigmaker.papers.full_size.pens import CUT, LAYERS
from jigmaker.papers.full_size.printer_paper import PrinterPaper
from jigmaker.papers.full_size.tile_pages import tiled
from jigmaker.papers.full_size.tiling import cut_into_tiles


def plain(width, height, labels=(), notes=()):
    """A rectangle with words in it."""
    edge = Outline.from_points([(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)])
    return Picture("plain", width, height, LAYERS, (DrawnShape(CUT, edge),), notes, tuple(labels))


def scattered(seed, width, height):
    """Short labels all over the picture, one way or the other."""
    draw = random.Random(seed)
    labels = []
    for i in range(12):
        words = f"label {i} {'x' * draw.randrange(12)}"
        long = text_width(words, 3.0)
        labels.append(Label(WORDS, words, (draw.uniform(0, width - long), draw.uniform(3, height - 6)), 3.0))
    return plain(width, height, labels)


@pytest.mark.parametrize("seed", range(25))
def test_tiles_cover_overlap_and_cut_no_label(seed):
    """Together they are the picture; neighbours share 10 mm; none is larger than its room; every label is whole."""
    draw = random.Random(1000 + seed)
    picture = scattered(seed, draw.uniform(60, 1200), draw.uniform(40, 700))
    tiling = cut_into_tiles(picture, (180.0, 220.0), 5.0)
    for spans, length, room in ((tiling.columns, picture.width_mm, 180), (tiling.rows[::-1], picture.height_mm, 220)):
        assert (spans[0][0], spans[-1][1]) == (0.0, length)
        assert all(a[1] - b[0] == pytest.approx(10.0) for a, b in pairwise(spans))
        assert all(high - low <= (room - 10 if len(spans) > 1 else room) + 1e-6 for low, high in spans)
    windows = [tiling.window(c, r) for c in range(len(tiling.columns)) for r in range(len(tiling.rows))]
    for label in picture.labels:
        (x, y), long = label.at, text_width(label.text, 3.0)
        assert any(w[0] <= x and w[1] <= y and x + long <= w[2] and y + 3 <= w[3] for w in windows)


def test_tiles_are_named_like_a_chessboard_from_above():
    """A1 at the upper left, letters to the right, numbers down."""
    tiling = cut_into_tiles(plain(400.0, 400.0), (250.0, 250.0), 5.0)
    assert [tiling.name(c, r) for r in (0, 1) for c in (0, 1)] == ["A1", "B1", "A2", "B2"]
    assert tiling.window(0, 0)[3] == 400.0 and tiling.window(0, 0)[0] == 0.0


def test_a_label_longer_than_a_tile_is_drawn_in_pieces():
    """It is whole nowhere, so each tile shows the strokes that lie on it: nothing is lost."""
    words = "a sentence that is so long that no page of this paper can hold it in one piece, whatever is done about it"
    picture = plain(600.0, 100.0, [Label(WORDS, words, (10.0, 40.0), 6.0)])
    found = tiled(picture, Leaf(PrinterPaper(Paper(), False), PrinterPaper(Paper(), False).field, (), True))
    assert [label.text for label in found.adrift] == [words]
    pages = list(found.pages("job", 1, found.count))
    strokes = [d.shape.length for page in pages for d in page.picture.shapes if d.layer == WORDS]
    whole = sum(stroke.length for stroke in picture.labels[0].strokes)
    assert whole < sum(strokes) < 1.3 * whole


@pytest.mark.parametrize("size", ["A4", "A3", "Letter", "Tabloid"])
@pytest.mark.parametrize("lies", [False, True])
def test_room_is_reckoned_as_it_comes_out(size, lies):
    """8 mm inside the drawn page, times what the printer makes of it: scale_x is across the upright page."""
    sheet = PrinterPaper(Paper(size, 1.01, 0.98), lies)
    width, height = sheet.page_mm
    across, along = (0.98, 1.01) if lies else (1.01, 0.98)
    assert (width > height) == lies
    assert sheet.field == pytest.approx((8 * across, 8 * along, (width - 8) * across, (height - 8) * along))
    assert sheet.scale_names == (("scale_y", "scale_x") if lies else ("scale_x", "scale_y"))


def test_what_two_papers_share():
    """A4 on Letter and Letter on A4 lose at most what one is longer or wider (ISO 216, ASME Y14.1), at either side."""
    assert PrinterPaper(Paper("A4"), False).shared_field == pytest.approx((8, 25.6, 202, 271.4))
    assert PrinterPaper(Paper("Letter"), False).shared_field == pytest.approx((13.9, 8, 202, 271.4))
    assert PrinterPaper(Paper("A4"), True).shared_field == pytest.approx((25.6, 8, 271.4, 202))
    assert PrinterPaper(Paper("A3"), False).shared_field == pytest.approx((25.6, 8, 271.4, 412))


def test_a_templates_words_are_as_wide_as_it_is_and_never_slivers():
    """Over a wide one they fill its width; a narrow one's go on beside it, some words a line; all stand in the room."""
    words, room = "words " * 30, 180.0
    wide, narrow, widest = (block(plain(width, 50.0, notes=(words,)), room) for width in (150.0, 10.0, 400.0))
    over = [max(text_width(line, WORDS_MM) for line in each.lines) for each in (wide, narrow, widest)]
    assert 120 < over[0] <= 150 and 30 < over[1] <= narrow.width and 150 < over[2] <= room
    assert (wide.width, widest.width) == (150.0, 400.0) and narrow.width < 100


@pytest.mark.parametrize("seed", range(10))
def test_packed_blocks_lie_on_the_page_and_apart(seed):
    """All of them, once each, none on another, 5 mm apart at least."""
    draw, room = random.Random(seed), (180.0, 200.0)
    pictures = [plain(draw.uniform(10, 170), draw.uniform(10, 150), notes=("words " * 9,)) for _ in range(9)]
    blocks = [each for each in (block(picture, room[0]) for picture in pictures) if fits(each, room)]
    pages = pack(blocks, room)
    assert sorted(id(one) for page in pages for one, _ in page) == sorted(id(one) for one in blocks)
    for page in pages:
        boxes = [shapely.box(x, y - one.height, x + one.width, y) for one, (x, y) in page]
        assert all(shapely.box(0, -room[1], room[0], 0).buffer(1e-6).covers(box) for box in boxes)
        assert all(a.distance(b) >= 5 for i, a in enumerate(boxes) for b in boxes[:i])
