"""Findings about lengths: in the job's own unit, what is advised rounded to the safe side."""

from math import ceil, floor

from jigmaker.findings import Finding, Severity
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.units import MM_PER_INCH, Unit, length_text, text

_STEP_MM: dict[Unit, float] = {"mm": 0.1, "in": MM_PER_INCH / 64}
_CRUMB = 1e-9  # of a step: a figure that stands on a step must not be pushed to the next


def is_under(value_mm: float, limit_mm: float) -> bool:
    """True when a length lies under its limit by more than rounding can, so that what `at_least` advises is enough."""
    return value_mm < limit_mm - TOUCH_MM


def at_least(mm: float, unit: Unit) -> str:
    """The length as text, rounded up to 0.1 mm or 1/64 inch."""
    return length_text(ceil(mm / _STEP_MM[unit] - _CRUMB) * _STEP_MM[unit], unit)


def at_most(mm: float, unit: Unit) -> str:
    """The length as text, rounded down to 0.1 mm or 1/64 inch."""
    return length_text(floor(mm / _STEP_MM[unit] + _CRUMB) * _STEP_MM[unit], unit)


def compared(value_mm: float, limit_mm: float, unit: Unit) -> tuple[str, str]:
    """Both lengths as text; when they would read alike, with enough decimals to tell them apart."""
    value, limit = length_text(value_mm, unit), length_text(limit_mm, unit)
    if value != limit:
        return value, limit
    if unit == "mm":
        return f"{text(value_mm)} mm", f"{text(limit_mm)} mm"
    return f'{text(value_mm / MM_PER_INCH)}"', f'{text(limit_mm / MM_PER_INCH)}"'


def limit_finding(
    code: int, mm: float, limit_mm: float, unit: Unit, says: str, do: str, key: str = "", severity: Severity = "error"
) -> Finding:
    """A finding about a length that breaks its limit. {value} and {limit} in its words stand for the two, as `compared`
    tells them."""
    value, limit = compared(mm, limit_mm, unit)
    says, do = (words.replace("{value}", value).replace("{limit}", limit) for words in (says, do))
    return Finding(code, says, do, key, value=value, limit=limit, severity=severity)


def half_degrees_down(angle_deg: float) -> str:
    """An angle as text, rounded down to half a degree."""
    return text(floor(angle_deg * 2 + _CRUMB) / 2, 1)
