"""Widths as messages and notes tell them: mm in, text in the user's unit out, fine enough to tell kerfs apart."""

from jigmaker.units import MM_PER_INCH, Unit, fixed


def figure(mm: float, unit: Unit) -> str:
    """A width without its unit: millimetres to a hundredth, inches to a ten-thousandth (no kerf is a 64th)."""
    return fixed(mm, 2) if unit == "mm" else fixed(mm / MM_PER_INCH, 4)
