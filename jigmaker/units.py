"""Lengths as people write them, and every number's text: in comes text or a bare number, out come millimetres and text.

Inside jigmaker there is one unit of length, the millimetre; this module is the door. Lengths are worked out as exact
fractions and rounded to a float once, so that 1/2 in and 12.7 mm are the same number.
"""

import math
import re
import unicodedata
from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from jigmaker.errors import LengthError

Unit = Literal["mm", "in"]

MM_PER_INCH = 25.4  # exact by definition since 1959
_INCH = Fraction(254, 10)
_STEP_MM: dict[Unit, float] = {"mm": 1.0, "in": MM_PER_INCH / 16}  # what a rule is read to at a glance

_MM_OF = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), Fraction(10)),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), Fraction(1000)),
    **dict.fromkeys(('"', "in", "in.", "inch", "inches"), _INCH),
    **dict.fromkeys(("'", "ft", "ft.", "foot", "feet"), 12 * _INCH),
}
_FEET = {word for word, size in _MM_OF.items() if size == 12 * _INCH}

# Signs that word processors and telephones put in place of the plain ones.
_PLAIN = str.maketrans({"″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "‘": "'", "⁄": "/", "−": "-", "–": "-"})

_WHOLE_PART = r"[0-9]+(?:[ ]+|[-+])"
_AMOUNT = rf"(?:{_WHOLE_PART})?[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]*)?|\.[0-9]+"
_WORD = r"[a-z]+\.?|[\"']"
_ONE = re.compile(rf"(?P<amount>{_AMOUNT})[ ]*(?P<word>{_WORD})?")
_FEET_AND_INCHES = re.compile(
    rf"(?P<feet>[0-9]+)[ ]*(?P<ft>{_WORD})[ ]*-?[ ]*(?P<amount>{_AMOUNT})[ ]*(?P<word>{_WORD})"
)
_WITH_COMMA = re.compile(r"[0-9.]*[0-9],[0-9][0-9.,]*")
_COMMA_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?")
_COMMA_DECIMALS = re.compile(r"([0-9]+|[1-9][0-9]{0,2}(\.[0-9]{3})+),[0-9]+")
_MIXED = re.compile(r"(?:(?P<whole>[0-9]+)[ +-]+)?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")

# Characters of the longest text that is looked at as a length.
_LONGEST = 40

_CRUMB_MM = 1e-6

# Under this a length off the 64ths is told in thousandths: a clearance of 0.006 in must not read as nothing.
_SMALLEST_FRACTION_MM = 25.4 / 16


def text(value: float, places: int = 6) -> str:
    """A number as decimals: rounded to places, no exponent, no trailing zeros, never "-0"."""
    written = "%.*f" % (places, value)  # noqa: UP031  asked for hundred thousands of numbers: the quickest
    if places:
        written = written.rstrip("0").rstrip(".")
    return "0" if written == "-0" else written


def fixed(value: float, places: int) -> str:
    """A number with exactly so many decimals, never an exponent, never "-0.00"."""
    written = f"{value:.{places}f}"
    return written.lstrip("-") if float(written) == 0 else written


def mm_decimals(mm: float, most: int = 3) -> int:
    """How many decimals a length in mm is told with: two, or up to `most` where fewer are not all of it.

    An eighth of an inch is 3.175 mm: told with two it would be another cutter.
    """
    return next((places for places in range(2, most + 1) if abs(mm - round(mm, places)) < _CRUMB_MM), 2)


def length_mm(value: str | int | float, unit: Unit) -> float:
    """A length in mm from what someone wrote: a bare number is in `unit`, text carries its own unit or else has `unit`.

    Reads "70 mm", "7 cm", "2 3/4 in", '2-3/4"', "2¾ in", "1 ft 3 1/2 in". Raises LengthError with the right spelling
    for anything else: a decimal comma, nan, inf, true, a negative length, a fraction that may have lost a blank.
    """
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise LengthError(f"{value!r} is not a length; write a number, or text such as {_example(unit)}")
    size = _size_of_text(value, unit) if isinstance(value, str) else _size_of_number(value, unit)
    try:
        return float(size)
    except OverflowError:
        raise LengthError("a length of that many digits is beyond any workshop; write it in mm or in") from None


def length_text(mm: float, unit: Unit, places: int | None = None) -> str:
    """A length in mm as the user reads it: "70 mm" to `places` decimals, or '2 3/4"' to the nearest 64th of an inch.

    Without `places` two decimals, or the third of a length that has just three. Under 1/16 inch a length that is no
    64th is told in thousandths, '0.006"'.
    """
    if unit == "mm":
        return f"{text(mm, mm_decimals(mm) if places is None else places)} mm"
    sixty_fourths = Fraction(mm) / _INCH * 64
    is_off_the_rule = abs(sixty_fourths - _nearest(sixty_fourths)) > Fraction(1, 1000)
    if abs(mm) < _SMALLEST_FRACTION_MM and is_off_the_rule:
        return f'{text(mm / MM_PER_INCH, 3)}"'
    return f'{inch_fraction(mm)}"'


def caliper_text(mm: float, unit: Unit) -> str:
    """A length as a caliper reads it: thousandths of a mm; a 64th of an inch where it is one, else ten-thousandths.

    For what is set or checked by caliper: two limits can lie within the same 64th, and no rule would tell them apart.
    """
    if unit == "mm":
        return f"{text(mm, 3)} mm"
    inches = mm / MM_PER_INCH
    is_on_the_rule = abs(inches * 64 - round(inches * 64)) < 64 * 0.00005
    return f'{inch_fraction(mm) if is_on_the_rule else fixed(inches, 4)}"'


def inch_fraction(mm: float, denominator: int = 64) -> str:
    """A length in mm as inches, "2 3/4", to the nearest 1/denominator and in lowest terms; no inch mark."""
    return _written(_nearest(Fraction(mm) / _INCH * denominator), denominator)


def inch_fractions(parts_mm: Sequence[float], denominator: int = 64) -> list[str]:
    """Lengths in mm as inch fractions that add up to `inch_fraction` of their sum; each is less than one step off.

    Largest remainder: every part is rounded down, and the steps still missing go to those that lost most (the
    earlier first when two lost the same), so that a column of a table and its total never disagree.
    """
    # Exact fractions: two parts that lost just as much must tie on every machine.
    steps = [Fraction(part) / _INCH * denominator for part in parts_mm]
    counts = [math.floor(step) for step in steps]
    missing = _nearest(Fraction(math.fsum(parts_mm)) / _INCH * denominator) - sum(counts)
    by_loss = sorted(range(len(steps)), key=lambda i: counts[i] - steps[i])
    for i in by_loss[:missing]:
        counts[i] += 1
    return [_written(count, denominator) for count in counts]


def round_to_step(mm: float, unit: Unit) -> float:
    """A length to the nearest step of the unit, mm."""
    return _on_step(math.floor(mm / _STEP_MM[unit] + 0.5), unit)


def round_up(mm: float, unit: Unit, steps: int = 1) -> float:
    """A length up to the next multiple of so many steps of the unit, mm; a crumb over a step is not taken for more."""
    return _on_step(math.ceil(mm / (steps * _STEP_MM[unit]) - 1e-9) * steps, unit)


def round_down(mm: float, unit: Unit) -> float:
    """A length down to the step of the unit, mm."""
    return _on_step(math.floor(mm / _STEP_MM[unit] + 1e-9), unit)


def _on_step(count: int, unit: Unit) -> float:
    """So many steps, as the very number that reading the length back gives."""
    return float(count) if unit == "mm" else length_mm(count / 16, "in")


def _size_of_number(value: int | float, unit: Unit) -> Fraction:
    """A bare number's exact size in mm; LengthError unless it is finite and not negative."""
    if isinstance(value, float) and not math.isfinite(value):
        raise LengthError(f"{value} is not a length; write a number, or text such as {_example(unit)}")
    if value < 0:
        raise LengthError(f"{value} is negative; a length is 0 or more")
    # Fraction(str) takes 0.1 for the tenth that was written, not for the binary number nearest to it.
    return (Fraction(str(value)) if isinstance(value, float) else Fraction(value)) * _MM_OF[unit]


def _size_of_text(value: str, unit: Unit) -> Fraction:
    """A written length's exact size in mm; LengthError when it cannot be read in one way only."""
    if len(value) > _LONGEST:
        raise LengthError(f'"{value[:_LONGEST]}..." is not a length; write it like {_example(unit)}')
    # The text in small letters with plain blanks, marks and fractions: "2¾ IN" becomes "2 3/4 in".
    signs: list[str] = []
    for sign in value.translate(_PLAIN):
        if unicodedata.decomposition(sign).startswith("<fraction>"):
            signs.append(" " + unicodedata.normalize("NFKC", sign).translate(_PLAIN))
        else:
            signs.append(" " if sign.isspace() else sign)
    plain = re.sub(r"''", '"', re.sub(r" +", " ", "".join(signs))).strip().lower()
    if number := _WITH_COMMA.search(plain):
        raise LengthError(_comma_sentence(value, number[0], unit))
    if plain.startswith("-"):
        raise LengthError(f"{value.strip()} is negative; a length is 0 or more")
    if both := _FEET_AND_INCHES.fullmatch(plain):
        # The exact size in mm of "1 ft 3 1/2 in"; LengthError for other units and for 12 inches or more.
        is_feet = both["ft"] in _FEET and _MM_OF.get(both["word"]) == _INCH
        inches = _amount(value, both["amount"], "in") if is_feet else Fraction(0)
        if not is_feet or inches >= 12:
            raise LengthError(
                f'"{value}" is not a length; feet and inches are written like 1 ft 3 1/2 in, inches under 12'
            )
        return (int(both["feet"]) * 12 + inches) * _INCH
    one = _ONE.fullmatch(plain)
    word = (one["word"] or unit) if one else ""
    if one is None or word not in _MM_OF:
        raise LengthError(f'"{value}" is not a length; write it like {_example(unit)}')
    if "/" in one["amount"] and not one["word"] and unit == "mm":
        in_mm = text(float(_amount(value, one["amount"], "in") * _INCH))
        raise LengthError(
            f'"{value}" is a fraction without a unit; write "{value.strip()} in", or millimetres as {in_mm}'
        )
    return _amount(value, one["amount"], word) * _MM_OF[word]


def _amount(value: str, amount: str, word: str) -> Fraction:
    """The exact number before a unit; LengthError for /0 and for 11/4, which may be 1 1/4 with its blank lost."""
    mixed = _MIXED.fullmatch(amount)
    if mixed is None:
        return Fraction(amount)
    whole, top, bottom = int(mixed["whole"] or 0), int(mixed["top"]), int(mixed["bottom"])
    if bottom == 0:
        raise LengthError(f'"{value}" divides by nothing; write it like 2 3/4 in')
    if top >= bottom:
        readings = [_written(int((Fraction(top, bottom) + whole) * bottom), bottom)]
        readings += [f"{lost} {rest}/{bottom}" for lost, rest in _blank_lost(top) if not whole and 0 < rest < bottom]
        spelled = {'"': "in", "'": "ft"}.get(word, word)
        right = " or ".join(f'"{reading} {spelled}"' for reading in readings)
        raise LengthError(f'"{value}" has a fraction of 1 or more; write {right}')
    return whole + Fraction(top, bottom)


def _blank_lost(digits: int) -> list[tuple[int, int]]:
    """The pairs that a number becomes when a blank is put back into it: 113 is 1 and 13, or 11 and 3."""
    written = str(digits)
    return [(int(written[:at]), int(written[at:])) for at in range(1, len(written)) if written[at] != "0"]


def _comma_sentence(value: str, number: str, unit: Unit) -> str:
    """What is wrong with a comma between digits, and the right spelling; two of them when it may mark thousands."""
    # 1,250 may be 1250 or 1.250: both are offered, and neither is taken, where both are lengths.
    readings = [number.replace(",", "")] if _COMMA_THOUSANDS.fullmatch(number) else []
    if _COMMA_DECIMALS.fullmatch(number):
        readings.append(number.replace(".", "").replace(",", "."))
    right = [value.strip().replace(number, reading) for reading in readings]
    right = [f'"{spelling}"' for spelling in right if _is_length(spelling, unit)]
    if not right:
        return f'"{value}" is not a length; write it like {_example(unit)}'
    if len(right) == 2:
        return f'"{value}" can be read in two ways; write {" or ".join(right)}'
    fault = "a decimal comma" if _COMMA_DECIMALS.fullmatch(number) else "a comma between its thousands"
    return f'"{value}" has {fault}; write {right[0]}'


def _is_length(written: str, unit: Unit) -> bool:
    try:
        _size_of_text(written, unit)
    except LengthError:
        return False
    return True


def _example(unit: Unit) -> str:
    return '"70 mm"' if unit == "mm" else '"2 3/4 in"'


def _nearest(value: Fraction) -> int:
    """The nearest whole number; a half goes up."""
    return math.floor(value + Fraction(1, 2))


def _written(count: int, denominator: int) -> str:
    """So many steps of 1/denominator as a mixed number in lowest terms: 176 of 64 is "2 3/4"."""
    sign = "-" if count < 0 else ""
    whole, rest = divmod(abs(count), denominator)
    if rest == 0:
        return f"{sign}{whole}"
    fraction = str(Fraction(rest, denominator))
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
