"""Lengths in and out: every accepted spelling against exact fractions, every refused one by its words."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigmaker.errors import LengthError
from jigmaker.units import Unit, caliper_text, fixed, inch_fraction, inch_fractions, length_mm, length_text, text

INCH = Fraction(254, 10)

READ = [
    ("70 mm", Fraction(70)),
    ("70mm", Fraction(70)),
    ("  70.5 MM ", Fraction(141, 2)),
    ("7 cm", Fraction(70)),
    ("1.2 m", Fraction(1200)),
    ("2 3/4 in", Fraction(11, 4) * INCH),
    ('2-3/4"', Fraction(11, 4) * INCH),
    ('2+3/4"', Fraction(11, 4) * INCH),
    ("2¾ in", Fraction(11, 4) * INCH),
    ("2 ¾ inches", Fraction(11, 4) * INCH),
    ("1⅞ in", Fraction(15, 8) * INCH),
    ("¾″", Fraction(3, 4) * INCH),
    ("3  3⁄4 in.", Fraction(15, 4) * INCH),
    ("3\u00a03/4”", Fraction(15, 4) * INCH),
    ("2 3/4''", Fraction(11, 4) * INCH),
    ("7/8 in", Fraction(7, 8) * INCH),
    ('.75"', Fraction(3, 4) * INCH),
    ("3.75in", Fraction(15, 4) * INCH),
    ("1 ft 3 1/2 in", Fraction(31, 2) * INCH),
    ("1' 3 1/2\"", Fraction(31, 2) * INCH),
    ("1'-3 1/2\"", Fraction(31, 2) * INCH),
    ("1′3½″", Fraction(31, 2) * INCH),
    ("2 ft", 24 * INCH),
    ("0 mm", Fraction(0)),
]

# The expected words show the right spelling wherever there is one.
REFUSED: list[tuple[object, Unit, str]] = [
    ("3,5 in", "in", 'decimal comma; write "3.5 in"'),
    ("1.200,5 mm", "mm", 'decimal comma; write "1200.5 mm"'),
    ("1.234.567,8", "mm", 'decimal comma; write "1234567.8"'),
    ("1,200.5 mm", "mm", 'comma between its thousands; write "1200.5 mm"'),
    ("1,2,3 mm", "mm", 'not a length; write it like "70 mm"'),
    ("2 1/2,5 in", "in", 'not a length; write it like "2 3/4 in"'),
    ("3,75", "mm", 'decimal comma; write "3.75"'),
    ("1,200 mm", "mm", 'two ways; write "1200 mm" or "1.200 mm"'),
    ("0,125 in", "in", 'decimal comma; write "0.125 in"'),
    ("3 - 3/4 in", "in", 'not a length; write it like "2 3/4 in"'),
    ('8-3/4-1/8"', "in", "not a length"),
    ('-8 3/4"', "in", "negative"),
    ("−5 mm", "mm", "negative"),
    ("3 13/0 in", "in", "divides by nothing"),
    ("3 5/4 in", "in", 'fraction of 1 or more; write "4 1/4 in"'),
    ("11/4 in", "mm", 'write "2 3/4 in" or "1 1/4 in"'),
    ('15/4"', "in", 'write "3 3/4 in"'),
    ("113/16", "in", 'write "7 1/16 in" or "1 13/16 in" or "11 3/16 in"'),
    ("3/4", "mm", 'fraction without a unit; write "3/4 in", or millimetres as 19.05'),
    ("2 3/4", "mm", 'fraction without a unit; write "2 3/4 in", or millimetres as 69.85'),
    ("5/64", "mm", 'fraction without a unit; write "5/64 in", or millimetres as 1.984375'),
    ("2¾", "mm", "fraction without a unit"),
    ("3¾½ in", "in", "not a length"),
    ("5' 6", "in", "not a length"),
    ("1 ft 12 in", "in", "inches under 12"),
    ("2 m 3 in", "in", "feet and inches are written like"),
    ("70 cubits", "mm", 'write it like "70 mm"'),
    ("1e3", "mm", "not a length"),
    ("nan", "mm", "not a length"),
    ("٣ mm", "mm", "not a length"),
    ("²", "mm", "not a length"),
    ("", "in", "not a length"),
    ("9" * 5000, "mm", r"9\.\.\. is not a length|9\.\.\.\" is not a length"),
    (True, "mm", "True is not a length"),
    (None, "mm", "None is not a length"),
    ([70], "mm", "not a length"),
    (math.nan, "mm", "nan is not a length"),
    (math.inf, "in", "inf is not a length"),
    (-1, "mm", "negative"),
    (-0.5, "in", "negative"),
    (10**400, "mm", "beyond any workshop"),
    (1.7e308, "in", "beyond any workshop"),
]


@pytest.mark.parametrize("unit", ["mm", "in"])
@pytest.mark.parametrize(("written", "size"), READ, ids=[written for written, _ in READ])
def test_text_carries_its_own_unit(written: str, size: Fraction, unit: Unit) -> None:
    """A length with its unit is the float nearest to its exact size, whatever the file's unit is."""
    assert length_mm(written, unit) == float(size)


@pytest.mark.parametrize(
    ("bare", "unit", "size"),
    [
        (70, "mm", 70.0),
        (2.75, "in", 69.85),
        ("2 3/4", "in", 69.85),
        ("¾", "in", 19.05),
        ("70", "mm", 70.0),
        (0, "in", 0),
    ],
)
def test_a_bare_number_is_in_the_files_unit(bare: str | float, unit: Unit, size: float) -> None:
    """A number without a unit takes the unit of its file."""
    assert length_mm(bare, unit) == size


@pytest.mark.parametrize(("written", "unit", "words"), REFUSED, ids=[str(row[0])[:20] for row in REFUSED])
def test_what_can_be_misread_is_refused(written: object, unit: Unit, words: str) -> None:
    """Every text that is no length, or could be two, is refused in words that show the right spelling."""
    with pytest.raises(LengthError, match=words):
        length_mm(written, unit)  # type: ignore[arg-type]


@given(whole=st.integers(0, 200), top=st.integers(0, 63), joint=st.sampled_from([" ", "-", "+", "  "]))
def test_sixty_fourths_go_out_and_come_back(whole: int, top: int, joint: str) -> None:
    """Any 64th of an inch is read to the float nearest its exact size, and told as the same fraction again."""
    exact = (whole + Fraction(top, 64)) * INCH
    mm = length_mm(f"{whole}{joint}{top}/64 in", "mm")
    assert mm == float(exact)
    assert sum(Fraction(part) for part in inch_fraction(mm).split()) * INCH == exact


@given(st.floats(0, 5000, allow_subnormal=False))
def test_an_inch_fraction_is_the_nearest_one(mm: float) -> None:
    """What is told is within half a 64th of the length, in lowest terms with a denominator of 64 at the most."""
    told = sum(Fraction(part) for part in inch_fraction(mm).split())
    assert abs(told - Fraction(mm) / INCH) <= Fraction(1, 128)
    assert 64 % told.denominator == 0


@given(st.lists(st.floats(0, 3000, allow_subnormal=False), max_size=30), st.sampled_from([8, 16, 32, 64]))
def test_rounded_parts_add_up_to_the_rounded_whole(parts: list[float], denominator: int) -> None:
    """Fractions of a table's column sum to the fraction of its total, and each is less than one step off."""
    told = [sum(Fraction(part) for part in row.split()) for row in inch_fractions(parts, denominator)]
    whole = sum(Fraction(part) for part in inch_fraction(math.fsum(parts), denominator).split())
    assert sum(told) == whole
    for part, shown in zip(parts, told, strict=True):
        assert abs(shown - Fraction(part) / INCH) < Fraction(1, denominator)


def test_three_thirds_of_a_step_make_one_step() -> None:
    """Three times a third of 1/8 is 1/8: the first gets the step, where rounding each would show 0, 0, 0."""
    assert inch_fractions([25.4 / 24] * 3, 8) == ["1/8", "0", "0"]


# Decimal inches and mm of the drill and plate charts in any machinist's handbook; arithmetic, from memory.
CHART = [
    ("1/64", 0.015625, 0.396875),
    ("1/32", 0.03125, 0.79375),
    ("3/64", 0.046875, 1.190625),
    ("1/16", 0.0625, 1.5875),
    ("3/32", 0.09375, 2.38125),
    ("1/8", 0.125, 3.175),
    ("3/16", 0.1875, 4.7625),
    ("1/4", 0.25, 6.35),
    ("5/16", 0.3125, 7.9375),
    ("3/8", 0.375, 9.525),
    ("1/2", 0.5, 12.7),
    ("37/64", 0.578125, 14.684375),
    ("5/8", 0.625, 15.875),
    ("3/4", 0.75, 19.05),
    ("7/8", 0.875, 22.225),
    ("63/64", 0.984375, 25.003125),
]


@pytest.mark.parametrize(("fraction", "inches", "mm"), CHART, ids=[row[0] for row in CHART])
def test_the_inch_fraction_chart(fraction: str, inches: float, mm: float) -> None:
    """Fraction, decimal inches and millimetres of the printed chart are one length, read and told."""
    assert length_mm(f"{fraction} in", "mm") == length_mm(inches, "in") == mm
    assert length_text(mm, "in") == f'{fraction}"'


@pytest.mark.parametrize(
    ("mm", "unit", "told"),
    [
        (70, "mm", "70 mm"),
        (48.1042, "mm", "48.1 mm"),
        (0.15, "mm", "0.15 mm"),
        (-1e-9, "mm", "0 mm"),
        (69.85, "in", '2 3/4"'),
        (304.8, "in", '12"'),
        (0, "in", '0"'),
        (0.15, "in", '0.006"'),
        (1.0, "in", '0.039"'),
        (70, "in", '2 3/4"'),
        (-69.85, "in", '-2 3/4"'),
        (-12.7, "in", '-1/2"'),
    ],
)
def test_lengths_as_the_user_reads_them(mm: float, unit: Unit, told: str) -> None:
    """Millimetres with their decimals, inches as fractions, and no small clearance told as nothing."""
    assert length_text(mm, unit) == told


@pytest.mark.parametrize(
    ("value", "places", "told"),
    [
        (1234.5678, 3, "1234.568"),
        (-1e-7, 6, "0"),
        (-0.0, 2, "0"),
        (2.50, 2, "2.5"),
        (1e-7, 6, "0"),
        (1e16, 0, "1" + "0" * 16),
    ],
)
def test_number_text_has_no_exponent_and_no_minus_zero(value: float, places: int, told: str) -> None:
    """Numbers come out as plain decimals without trailing zeros."""
    assert text(value, places) == told


@pytest.mark.parametrize(
    ("value", "told"), [(0.2, "0.20"), (-0.001, "0.00"), (-1.5, "-1.50"), (1e16, "1" + "0" * 16 + ".00")]
)
def test_fixed_text_keeps_its_decimals(value: float, told: str) -> None:
    """Fixed text has exactly the decimals asked for, and never "-0.00"."""
    assert fixed(value, 2) == told


# 1/8 in is 3.175 mm exactly: the inch is 25.4 mm by definition.
@pytest.mark.parametrize(
    ("mm", "told"),
    [(3.175, "3.175 mm"), (70.075, "70.075 mm"), (75.15, "75.15 mm"), (70, "70 mm"), (751.826394, "751.83 mm")],
)
def test_a_length_with_three_decimals_is_told_with_three(mm: float, told: str) -> None:
    """And one that goes on for ever with two."""
    assert length_text(mm, "mm") == told


@given(st.floats(0.0, 100.0))
def test_what_a_caliper_reads_in_inches_is_never_off_by_more_than_it_shows(mm):
    """Ten-thousandths, or the 64th within half of one: a kerf of 1.19 mm is 3/64 in, and not 0.047."""
    assert caliper_text(1.19, "in") == '3/64"'
    words = caliper_text(mm, "in").removesuffix('"')
    read = sum(Fraction(word) for word in words.split())
    assert abs(read - Fraction(mm) / INCH) <= Fraction(5, 10**5) + Fraction(1, 10**9)
