"""Widths as messages and notes tell them: mm in, text in the user's unit out, fine enough to tell kerfs apart."""

from jigmaker.units import MM_PER_INCH, Unit, fixed, mm_decimals


def figure(mm: float, unit: Unit) -> str:
    """A width without its unit: inches to a ten-thousandth (no kerf is a 64th), millimetres to a hundredth.

    A width of three or four decimals has all of them: half a cutter of 3.175 is 1.5875.
    """
    return fixed(mm, mm_decimals(mm, most=4)) if unit == "mm" else fixed(mm / MM_PER_INCH, 4)
