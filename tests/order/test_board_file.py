"""boards.toml: what it may say, and what is told of what it may not, each with its line."""

import pytest

from jigmaker.errors import JobError
from jigmaker.order.board_file import BoardKind, read_boards

GOOD = """\
units = "in"
kerf = "1/8"

[[board]]
section = "2x4"
length = 96
trim_ends = "1/2"
unusable = [[30, "31 1/2"], [10, 12]]

[[board]]
section = "70 mm x 32 mm"
length = "2440 mm"
count = 6
"""


def test_a_file_that_is_good():
    """Names as sold are dry sizes of PS 20; lengths carry their own unit or have the file's; spans come in order."""
    file = read_boards(GOOD.encode(), "mm")
    assert file.kerf_mm == 3.175
    assert file.kinds == (
        BoardKind(88.9, 38.1, 2438.4, None, 12.7, ((254.0, 304.8), (762.0, 800.1)), None, "boards.toml line 4"),
        BoardKind(70.0, 32.0, 2440.0, 6, place="boards.toml line 10"),
    )


def test_without_units_numbers_are_in_the_jobs():
    """As job and shop say of theirs."""
    text = b'[[board]]\nsection = "2x4"\nlength = 96\n'
    assert read_boards(text, "in").kinds[0].length_mm == pytest.approx(2438.4)
    with pytest.raises(JobError, match=r'length is 96 mm, must be 200 to 12000 mm; write "96 in" if that is meant'):
        read_boards(text, "mm")


BOARD = '[[board]]\nsection = "70 x 32"\nlength = 2440\n'
FAULTS = [
    ("", "boards.toml: board is missing; write [[board]] with section and length for each kind of board"),
    ('[board]\nsection = "70 x 32"', "boards.toml line 1: board is missing; write [[board]]"),
    ("[[board]]\nlength = 2440\n", "boards.toml line 1: board lacks section: width and thickness as measured"),
    (BOARD + "count = 0\n", "boards.toml line 4: board.count is 0, must be a whole number from 1 to 10000"),
    (BOARD + "cuont = 3\n", "boards.toml line 4: board.cuont is an unknown key; did you mean count?"),
    (
        BOARD + "trim_ends = 500\n" + BOARD + "trim_ends = 1220\n",
        "line 8: board 2.trim_ends is 1220 mm, must be 0 to 500",
    ),
    (
        BOARD.replace("2440", "900") + "trim_ends = 450\n",
        "board.trim_ends takes all of the board, which is 900 mm long",
    ),
    (BOARD + "unusable = [300, 340]\n", "board.unusable holds 300, must be pairs such as [[300, 340]]"),
    (BOARD + "unusable = [[340, 300]]\n", "must run from left to right within the board's length"),
    (BOARD + "unusable = [[2400, 2500]]\n", "must run from left to right within the board's length"),
    (BOARD + "price = 0\n", "board.price is 0, must be 0.01 to 100000"),
    (BOARD + BOARD + "price = 3\n", "boards.toml line 1: board has no price, though others have one"),
    (BOARD.replace("70 x 32", "70 x 32, 90 x 45"), "must be one section; write a [[board]] for each"),
    (BOARD.replace("70 x 32", "oak"), 'board.section cannot be read: "oak" is no board'),
    ("kerf = 25\n" + BOARD, "boards.toml line 1: kerf is 25 mm, must be 0.3 to 10 mm"),
    ('units = "cm"\n' + BOARD, 'boards.toml line 1: units is "cm", must be "mm" or "in"'),
    ("saw = 3\n" + BOARD, "boards.toml line 1: saw is an unknown key"),
    ("[[board]\n", "boards.toml line 1: is not TOML"),
]


@pytest.mark.parametrize(("text", "words"), FAULTS, ids=[str(i) for i in range(len(FAULTS))])
def test_a_fault_is_told_with_its_place(text, words):
    """Line, key, value and rule in one sentence."""
    with pytest.raises(JobError) as caught:
        read_boards(text.encode(), "mm")
    assert any(words in fault for fault in caught.value.faults), caught.value.faults
