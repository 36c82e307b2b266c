"""One value against its rule: in comes what a file or a record holds, out comes what is wrong with it, or the value.

Lengths in mm once taken; a fault's words are in the unit the user reads.
"""

import math
import re
import unicodedata
from fractions import Fraction

from jigmaker.errors import LengthError
from jigmaker.job.rules import LONGEST_TEXT, Rule
from jigmaker.units import Unit, inch_fraction, length_mm, text

_TEMPERATURE = re.compile(r"([-+]?[0-9]{1,3}(?:\.[0-9]{1,3})?) *(?:°|deg|degrees)? *([CcFf])")
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
# DXF reference, names in symbol tables from R2000 on; what is narrower in R12 is asked for where the version is known.
_LONGEST_LAYER = 255
_NOT_IN_LAYERS = set("<>/\\\":;?*|=,'`")

NEEDED = ("plate", "bearer", "bearers", "end-bearer", "stop", "fence", "fence-or-back-strip")
"""Of the housing jig, by what people call them."""

_WANTED = {
    "angle": "a number of degrees",
    "skew": "a number of degrees",
    "ratio": "a number",
    "percent": "a number of percent",
    "whole number": "a whole number",
    "yes or no": "true or false, without quotes",
}


def fault_of(rule: Rule, raw: object, unit: Unit | None) -> str:
    """What is wrong with a file's value, as the end of a sentence that starts with its key; "" when it will do.

    `unit` is the unit of bare numbers; None when the file does not say it, and then no bare length is measured.
    """
    match rule.kind:
        case "length":
            return _length_fault(rule, raw, unit)
        case "angle" | "skew" | "ratio" | "percent" | "whole number":
            is_number = isinstance(raw, int | float) and not isinstance(raw, bool)
            if not is_number or (rule.kind == "whole number" and not isinstance(raw, int)):
                return f"is {shown(raw)}, must be {_WANTED[rule.kind]}"
            assert isinstance(raw, int | float)
            if rule.low <= raw <= rule.high:
                return ""
            # Off the plumb is the usual slip, 12 for 78: up to 30 the angle is turned round, over that goes an example.
            if rule.kind == "angle" and 0 <= raw < 45:
                other = f"{text(90 - raw)}, not {shown(raw)}" if raw <= 30 else "78, not 12"
                return (
                    f"is {shown(raw)}, must be {range_text(rule, 'mm')}; angles are given off the level: write {other}"
                )
            # The usual slip is what 100 mm measured, not that over 100.
            slip = rule.kind == "ratio" and 100 * rule.low <= raw <= 100 * rule.high
            do = f"; for {shown(raw)} mm measured on 100 mm write {text(raw / 100)}" if slip else ""
            return f"is {shown(raw)}, must be {range_text(rule, 'mm')}{do}"
        case "temperature":
            # A bare number may be of either scale, so none is taken.
            celsius = _celsius(raw)
            if celsius is None:
                return f'is {shown(raw)}, must be a temperature with its scale: write "20 C" or "68 F"'
            if rule.low <= celsius <= rule.high:
                return ""
            low, high = (text(celsius * 1.8 + 32) for celsius in (rule.low, rule.high))
            return f"is {shown(raw)}, must be {range_text(rule, 'mm')}, that is {low} to {high} F"
        case "yes or no":
            return "" if isinstance(raw, bool) else f"is {shown(raw)}, must be {_WANTED[rule.kind]}"
        case "names":
            return names_fault(rule, raw)
    if not isinstance(raw, str):
        return f"is {shown(raw)}, must be text in quotes"
    return text_fault(rule, raw)


def value_of(rule: Rule, raw: object, unit: Unit) -> object:
    """A value as a record holds it: lengths in mm, degrees and ratios as float, colours in small letters."""
    if rule.kind == "length":
        assert isinstance(raw, str | int | float)
        return length_mm(raw, unit)
    if rule.kind == "names":
        assert isinstance(raw, list)
        return tuple(raw)
    if rule.kind in ("angle", "skew", "ratio", "percent"):
        assert isinstance(raw, int | float)
        return float(raw)
    if rule.kind == "temperature":
        return _celsius(raw)
    return raw.lower() if rule.kind == "colour" and isinstance(raw, str) else raw


def names_fault(rule: Rule, raw: object) -> str:
    """What is wrong with a list of names; "" when it will do."""
    if not isinstance(raw, list | tuple) or not all(isinstance(name, str) for name in raw):
        return f'is {shown(raw)}, must be a list of names, such as ["{rule.choices[0]}"]'
    # A part of the jig itself is told why it cannot go; any other name, what there is.
    strange = [name for name in raw if name not in rule.choices]
    if not strange:
        return ""
    needed = [name for name in strange if name in NEEDED]
    if rule.key == "leave_out" and needed:
        return f"names {needed[0]}, which must be there: without it no housing is routed; take it out of the list"
    known = ", ".join(f'"{name}"' for name in rule.choices)
    return f"names {shown(strange[0])}, must be out of {known}"


def shown(raw: object) -> str:
    """A file's value as a fault names it: short, on one line, in the file's own words."""
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, dict):
        return "a section"
    if isinstance(raw, list):
        return "a list"
    if isinstance(raw, int | float):
        return "a number far too large" if 1e15 < abs(raw) < math.inf else f"{raw}"
    if isinstance(raw, str):
        written = "".join(sign if sign.isprintable() else "?" for sign in raw)
        return f'"{written}"' if len(written) <= 40 else f'"{written[:40]}..."'
    return "a date or a time"


def range_text(rule: Rule, unit: Unit) -> str:
    """The rule's range as the user reads it: "20 to 200 mm"; inch limits are rounded inward, so they hold too."""
    match rule.kind:
        case "angle" | "skew":
            return f"{text(rule.low)} to {text(rule.high)} degrees"
        case "ratio":
            return f"{text(rule.low)} to {text(rule.high)}"
        case "percent":
            return f"{text(rule.low)} to {text(rule.high)} %"
        case "temperature":
            return f"{text(rule.low)} to {text(rule.high)} C"
        case "whole number":
            return f"a whole number from {text(rule.low)} to {text(rule.high)}"
    if unit == "mm":
        return f"{text(rule.low)} to {text(rule.high)} mm"
    return f"{_inch_limit(rule.low, math.ceil)} to {_inch_limit(rule.high, math.floor)}"


def text_fault(rule: Rule, value: str) -> str:
    """What is wrong with a text value, by the rule's kind; "" when it will do."""
    match rule.kind:
        case "choice":
            wanted = " or ".join(f'"{choice}"' for choice in rule.choices)
            return "" if value in rule.choices else f"is {shown(value)}, must be {wanted}"
        case "colour":
            good = _COLOUR.fullmatch(value)
            return "" if good else f'is {shown(value)}, must be a colour like "#a57c00"'
        case "layer name":
            if value.lower() == "defpoints":
                return f"is {shown(value)}, the layer that programs never print; choose another name"
            # Signs beyond U+FFFF have no spelling in an R2000 file.
            is_plain = value.isprintable() and value == value.strip() and max(value, default="") <= "\uffff"
            if is_plain and 0 < len(value) <= _LONGEST_LAYER and not _NOT_IN_LAYERS & set(value):
                return ""
            none_of = "< > / \\ \" : ; ? * | = , ' `"
            return f"is {shown(value)}, must be 1 to {_LONGEST_LAYER} signs, none of {none_of}, no blank at its ends"
    if not value.strip():
        return f"is empty; it stands for {rule.meaning}"
    if len(value) > LONGEST_TEXT:
        return f"has {len(value)} characters, must be {LONGEST_TEXT} or fewer"
    # Control signs, line ends and signs that no alphabet has would break the files that carry the text.
    strange = [sign for sign in value if unicodedata.category(sign) in ("Cc", "Cs", "Cn", "Co", "Zl", "Zp")]
    # So would one that makes all after it run the other way (Unicode Standard Annex #9, 2.1 to 2.4).
    strange += [sign for sign in value if "\u202a" <= sign <= "\u202e" or "\u2066" <= sign <= "\u2069"]
    return f"holds the sign U+{ord(strange[0]):04X}, which cannot be written; take it out" if strange else ""


def _length_fault(rule: Rule, raw: object, unit: Unit | None) -> str:
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        return f"is {shown(raw)}, must be a length: {range_text(rule, unit or 'mm')}"
    reading = unit or "mm"
    try:
        size = length_mm(raw, reading)
    except LengthError as error:
        if isinstance(raw, str):
            return f"is not a clear length: {error}"
        return f"is {_shown_length(raw, reading)}, must be {range_text(rule, reading)}"
    if rule.low <= size <= rule.high or (unit is None and not isinstance(raw, str)):
        return ""
    # The other unit where that would fit, else what the key means. Numbers beyond all measure are not turned: floats
    # that large have no whole millimetres any more.
    other: Unit = "in" if reading == "mm" else "mm"
    do = f"it stands for {rule.meaning}"
    if isinstance(raw, int | float) and abs(raw) < 1e15 and rule.low <= length_mm(raw, other) <= rule.high:
        do = f'write "{raw} {other}" if that is meant'
    return f"is {_shown_length(raw, reading)}, must be {range_text(rule, reading)}; {do}"


def _shown_length(raw: str | int | float, unit: Unit) -> str:
    """A length as it was written; a bare number gets the unit in which it was read."""
    if isinstance(raw, str):
        return raw.strip()
    return f"{shown(raw)} {unit}" if abs(raw) < 1e15 else shown(raw)


def _celsius(raw: object) -> float | None:
    """Degrees Celsius of "20 C", "68 F" and the like, exact to 0.001; None for anything that does not say its scale."""
    found = _TEMPERATURE.fullmatch(raw.strip()) if isinstance(raw, str) else None
    if found is None:
        return None
    degrees = float(found[1])
    return degrees if found[2] in "Cc" else round((degrees - 32) * 5 / 9, 3)


def _inch_limit(mm: float, rounding: object) -> str:
    """A limit in inches, rounded to the inside of the range: to 64ths, small ones to thousandths."""
    assert callable(rounding)
    # Exact fractions, or a limit that is a 64th could be rounded past itself.
    inches = Fraction(str(mm)) / Fraction(254, 10)
    if mm >= 5:
        return f'{inch_fraction(rounding(inches * 64) * 25.4 / 64)}"'
    return f'{text(rounding(inches * 10000) / 10000, 4)}"'
