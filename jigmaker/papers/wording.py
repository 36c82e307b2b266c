"""How papers say angles, limits and lengths, so that nobody can misread them. mm, degrees.

Every angle is given twice, each time with what it is off: as a saw's scale reads it and as a bevel reads it. The two
add up to 90 as printed.
"""

from math import floor

from jigmaker.units import MM_PER_INCH, Unit, fixed, inch_fraction, length_text, mm_decimals, text

NO_PLATFORM = (
    "A trestle is not a working platform: nobody stands or climbs on it. What it may carry depends on wood, joints and "
    "floor, and is not worked out here. Local codes and people licensed for the work have the last word."
)


def off_level(angle_deg: float) -> str:
    """A lean: "78.00° off the level (12.00° off plumb)"."""
    return angle_off(angle_deg, "the level", "plumb")


def off_upright(tilt_deg: float) -> str:
    """A saw blade's tilt: "12.00° off upright (78.00° off the table)"."""
    return angle_off(tilt_deg, "upright", "the table")


def off_square(angle_deg: float, edge: str) -> str:
    """A cut or line off square to an edge: "11.75° off square (78.25° off the leg's arris)"."""
    return angle_off(angle_deg, "square", edge)


def off_edge(angle_deg: float, edge: str) -> str:
    """A line off an edge, as a bevel is set to it: "78.50° off the top arris (11.50° off square)"."""
    return angle_off(angle_deg, edge, "square")


def plus_minus(limit_mm: float, unit: Unit) -> str:
    """A limit both ways: "±0.2 mm", '±0.008"'; from 1/32 inch on in whole 32nds, as a tape reads it, never wider."""
    if unit == "mm":
        return f"±{text(limit_mm, mm_decimals(limit_mm))} mm"
    steps = floor(32 * limit_mm / MM_PER_INCH + 1e-9)
    return f'±{inch_fraction(steps * MM_PER_INCH / 32, 32) if steps else text(limit_mm / MM_PER_INCH, 3)}"'


def rule_text(mm: float, unit: Unit) -> str:
    """A length as a rule or tape reads it: to 0.5 mm, or to 1/32 inch; a shorter one than that as it is."""
    if unit == "in":
        return f'{inch_fraction(mm, 32)}"' if abs(mm) >= MM_PER_INCH / 16 else length_text(mm, unit)
    return length_text(round(2 * mm) / 2 if abs(mm) >= 1 else mm, unit)


def fine_text(mm: float, unit: Unit) -> str:
    """A length as it is set, or read by rod and caliper: to 0.1 mm, or to a thousandth of an inch."""
    if unit == "in":
        thousandths = round(1000 * mm / MM_PER_INCH)
        # Of the 64ths only the eighths, 0.125, are whole thousandths.
        return f'{inch_fraction(mm, 8) if thousandths % 125 == 0 else fixed(thousandths / 1000, 3)}"'
    return length_text(round(mm, 1), unit)


def run_text(mm: float, unit: Unit) -> str:
    """A long way in running metres or feet, to a tenth: "12.3 m"."""
    return f"{fixed(mm / 1000, 1)} m" if unit == "mm" else f"{fixed(mm / 304.8, 1)} ft"


def size(*sides_mm: float, unit: Unit) -> str:
    """Sides of a section or board: "70 mm × 32 mm"."""
    return " × ".join(length_text(side, unit) for side in sides_mm)


def counted(number: int, one: str, many: str = "") -> str:
    """A number with its noun: "1 leg", "24 legs"."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def angle_off(angle_deg: float, off: str, complement_off: str = "") -> str:
    """An angle off a line or face and, where that is named, its complement off another."""
    shown = round(angle_deg, 2)
    complement = f" ({fixed(round(90 - shown, 2), 2)}° off {complement_off})" if complement_off else ""
    return f"{fixed(shown, 2)}° off {off}{complement}"
