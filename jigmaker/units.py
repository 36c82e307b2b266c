"""Lengths as people write them, and every number's text: in comes text or a bare number, out come millimetres and text.

Inside jigmaker there is one unit of length, the millimetre; this module is the door.
"""

from typing import Literal

from jigmaker.errors import LengthError

Unit = Literal["mm", "in"]

MM_PER_INCH = 25.4  # exact by definition since 1959


def text(value: float, places: int = 6) -> str:
    """A number as decimals: rounded to places, no exponent, no trailing zeros, never "-0"."""
    written = f"{value:.{places}f}"
    if "." in written:
        written = written.rstrip("0").rstrip(".")
    return "0" if written in ("-0", "") else written


def fixed(value: float, places: int) -> str:
    """A number with exactly so many decimals, never an exponent, never "-0.00"."""
    written = f"{value:.{places}f}"
    return written.lstrip("-") if float(written) == 0 else written
