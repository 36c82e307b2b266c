"""What stands under the number of an angle in a drawing: what it is off, and its complement."""

from jigmaker.units import fixed


def off(angle_deg: float, reference: str, complement: str = "square") -> tuple[str, str]:
    """("off the top arris", "(11.50° off square)"): the two figures add up to 90 as they are printed."""
    left = 90 - round(angle_deg, 2)
    return (f"off {reference}", f"({fixed(left, 2)}° off {complement})")
