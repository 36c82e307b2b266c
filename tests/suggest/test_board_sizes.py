"""Boards by name and by size: the lists against their published tables, what is read, and what is refused how."""

import pytest

from jigmaker.errors import LengthError, OutOfRange, UsageError
from jigmaker.suggest.board_sizes import SOLD, Board, boards_from_text, planed_mm

# PS 20 (American Softwood Lumber Standard), dry sizes in inches and whole mm, as an engineering table reproduces it.
PS20_WIDTHS = [
    ("2", 1.5, 38),
    ("3", 2.5, 64),
    ("4", 3.5, 89),
    ("6", 5.5, 140),
    ("8", 7.25, 184),
    ("10", 9.25, 235),
    ("12", 11.25, 286),
]
PS20_THICKNESSES = [("1", 0.75), ("5/4", 1.0), ("6/4", 1.25), ("2", 1.5), ("3", 2.5), ("4", 3.5)]


@pytest.mark.parametrize(("name", "inches", "mm"), PS20_WIDTHS)
def test_us_widths_are_those_of_the_standard(name: str, inches: float, mm: int) -> None:
    """In inches exactly, in mm as the standard rounds them."""
    (board,) = boards_from_text(f"1x{name}", "in")
    assert board.width_mm == pytest.approx(inches * 25.4, abs=1e-9)
    assert round(board.width_mm) == mm
    assert "PS 20" in board.source


@pytest.mark.parametrize(("name", "inches"), PS20_THICKNESSES)
def test_us_thicknesses_are_those_of_the_standard(name: str, inches: float) -> None:
    """Boards are sold by their rough quarters, dimension lumber by whole inches."""
    (board,) = boards_from_text(f"{name}x12", "mm")
    assert board.thickness_mm == pytest.approx(inches * 25.4, abs=1e-9)


# EN 1313-1's sawn sizes less what planing takes, two British timber pages: 3 mm up to 150 mm, 5 mm above.
PLANED = [("planed 47x100", 44, 97), ("planed 25x150", 22, 147), ("planed 32x175", 29, 170), ("sawn 47x100", 47, 100)]


@pytest.mark.parametrize(("name", "thickness", "width"), [*PLANED, ("CLS 38x89", 38, 89), ("cls 38 X 140", 38, 140)])
def test_european_names(name: str, thickness: float, width: float) -> None:
    """Sawn as sold, planed less what the plane takes, both told apart by the word before."""
    (board,) = boards_from_text(name, "mm")
    assert (board.thickness_mm, board.width_mm) == (thickness, width)


def test_planing_takes_more_of_a_wide_board() -> None:
    """The step lies at 150 mm, which belongs to the smaller sizes."""
    assert [planed_mm(size) for size in (149, 150, 151)] == [146, 147, 146]


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_every_listed_board_is_found_by_its_name(unit: str) -> None:
    """Whatever unit bare numbers are in; and no name is listed twice."""
    assert len(SOLD) == len({board.name.lower() for board in SOLD}) > 200
    assert boards_from_text(", ".join(board.name for board in SOLD), unit) == SOLD
    assert all(board.thickness_mm <= board.width_mm for board in SOLD)


READ = [
    ("38x89, 19x140", "mm", [(38, 89), (19, 140)]),
    ("89 x 38", "mm", [(38, 89)]),
    ("38x89 mm", "in", [(38, 89)]),
    ("38.5×89;19x140", "mm", [(38.5, 89), (19, 140)]),
    ("1 1/2 x 3 1/2", "in", [(38.1, 88.9)]),
    ('1½" by 3 1/2"', "mm", [(38.1, 88.9)]),
    ("2 in x 4 in", "in", [(50.8, 101.6)]),
    ("2x4, 2X4 ,2 x 4", "mm", [(38.1, 88.9)]),
    ("1 x 3 1/2", "in", [(25.4, 88.9)]),
]


@pytest.mark.parametrize(("words", "unit", "sizes"), READ)
def test_boards_as_people_write_them(words: str, unit: str, sizes: list[tuple[float, float]]) -> None:
    """A bare pair is a name as sold where there is one, else sizes as measured, in either order."""
    read = [(board.thickness_mm, board.width_mm) for board in boards_from_text(words, unit)]
    assert read == [pytest.approx(size, abs=1e-9) for size in sizes]


REFUSED = [
    ("2x7", "in", UsageError, r'"2x7"; the nearest names are 2x8, 2x6.*write "2 in x 7 in"'),
    ("planed 48x100", "mm", UsageError, "the nearest names are planed 47x100"),
    ("oak", "mm", UsageError, '"oak" is no board; write its sizes, such as "38x89"'),
    ("", "mm", UsageError, "no board is named"),
    ("38x89x2400", "mm", UsageError, "has 3 sizes; write two"),
    ("38,5x89", "mm", UsageError, '"38" has one size; .*a point in decimals'),
    ("38x89", "in", OutOfRange, r'no board for a trestle is; write "38x89 mm" if that is meant'),
    ("2000x4000", "mm", OutOfRange, "no board for a trestle is$"),
    ("0.75x5.5", "mm", OutOfRange, 'write "0.75x5.5 in" if that is meant'),
    ("11/4 x 6", "in", LengthError, 'write "2 3/4 in" or "1 1/4 in"'),
    ("40x-3", "mm", LengthError, "-3 is negative"),
    ("38xnan", "mm", LengthError, '"nan" is not a length'),
    ("3/4x6", "mm", LengthError, "is a fraction without a unit"),
    ("9" * 80 + "x4", "mm", UsageError, "no list has|is no board"),
]


@pytest.mark.parametrize(("words", "unit", "error", "match"), REFUSED)
def test_what_is_no_board_is_refused_in_a_sentence(words: str, unit: str, error: type, match: str) -> None:
    """With the nearest names, or with the right spelling."""
    with pytest.raises(error, match=match):
        boards_from_text(words, unit)


def test_a_board_is_told_by_name_sizes_and_source() -> None:
    """A measured board has no name but its sizes."""
    assert boards_from_text("2x4", "in")[0].told("in") == '2x4, 1 1/2" by 3 1/2" (PS 20, dry)'
    assert Board("38x89", 89, 38).told("mm") == "38 mm by 89 mm, as measured"
