"""How words are parted and a table's columns shared out on a sheet, by the fonts' own widths. mm."""

from itertools import pairwise
from random import Random

import pytest

from jigmaker.drawing.page import BOX
from jigmaker.writers.page_words import is_number
from jigmaker.writers.pdf_strips import BODY, NUMBER
from jigmaker.writers.pdf_tables import NAME, column_widths

FULL_MM = 186.0  # A4 and Letter with margins of 12 mm


@pytest.mark.parametrize("kind", [BODY, NUMBER])
@pytest.mark.parametrize("room", [3.0, 12.0, 40.0])
@pytest.mark.parametrize("word", ["dovetailed" * 12, "larch", "W"])
def test_a_word_that_is_too_long_is_parted_where_the_room_ends(kind, room, word):
    """No sign is lost, no line wider than the room, and none could hold the next line's first sign."""
    lines = kind.lines(word, room)
    assert "".join(lines) == word
    assert all(kind.width(line) <= room or len(line) == 1 for line in lines)
    assert all(kind.width(line + after[0]) > room for line, after in pairwise(lines))


@pytest.mark.parametrize("seed", range(30))
def test_columns_fill_the_sheet_and_nothing_is_narrower_than_it_may_be(seed):
    """Random tables of words and boxes: the widths add up to the body's. What fits on one line has it, else no word is
    wider than its column unless even the words do not fit side by side; boxes keep 15 mm wherever all of them do.
    """
    draw = Random(seed)
    words = ["a", "28.10", "leg", "timber as measured", "larch, planed all round", "stretcher, " * draw.randint(1, 5)]
    count = draw.randint(1, 12)
    names = [draw.choice(words[:4]) for _ in range(count)]
    rows = [[BOX if i % 3 == 1 else draw.choice(words) for i in range(count)] for _ in range(3)]
    widths = column_widths(names, rows)
    assert sum(widths) == pytest.approx(FULL_MM, abs=1e-6)
    kinds = [(NAME, name, i) for i, name in enumerate(names)]
    kinds += [(NUMBER if is_number(c) else BODY, c, i) for row in rows for i, c in enumerate(row) if c != BOX]
    boxes = {i for i in range(count) if i % 3 == 1}
    pad, box = 2 * 1.2, 15 + 2 * 0.3

    def needed(of):
        least = [box if i in boxes else 0.0 for i in range(count)]
        for kind, cell, i in kinds:
            pieces = [cell] if kind is NUMBER or of == "line" else cell.split()
            least[i] = max([least[i], *(kind.width(piece) + pad for piece in pieces)])
        return least

    for of in ("line", "word"):
        if sum(needed(of)) <= FULL_MM - 0.03 * count:
            assert all(wide >= least - 1e-6 for wide, least in zip(widths, needed(of), strict=True))
            break
    else:
        assert all(widths[i] >= box - 1e-6 for i in boxes)


def test_a_figure_beside_many_boxes_stays_on_one_line() -> None:
    """A batch's readings of several sizes: eleven boxes give a little of their width for "10: 520 mm"."""
    figure, names = "10: 520 mm", ("trestle", *["width R"] * 11)
    widths = column_widths(names, [(figure, *[BOX] * 11)])
    assert NUMBER.lines(figure, widths[0] - 2.4) == [figure]
    assert min(widths[1:]) > 14.0
    assert sum(widths) == pytest.approx(186.0)
