"""What the lines of a cut file allow for: Machine in, Lines out; and errors of a machine put together; mm, degrees.

The machine as a map of the bed, with scales p and q and skew s: x' = p x + q y tan s, y' = q y. Skew is positive when
the machine's y axis leans toward +x; then rising diagonals (lower left to upper right) come out longer than falling
ones. Kerf in x is the cut's width measured along x, which is what cuts that run along y take away.
"""

from math import atan, degrees, radians, tan

from jigmaker.job.shop import Machine
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class Allowance:
    """Kerf allowed for in x and y (0 in a nominal file), and the machine's scales and skew already corrected for."""

    kerf_x_mm: float
    kerf_y_mm: float
    scale_x: float = 1.0
    scale_y: float = 1.0
    skew_deg: float = 0.0


def lines_for(machine: Machine) -> Allowance:
    """What the files of this machine allow for when its compensation is included; nominal ones allow for nothing."""
    kerf_x, kerf_y = machine.cut_width_mm
    return Allowance(kerf_x, kerf_y, machine.scale_x, machine.scale_y, machine.skew_deg)


def whole_error(lines: Allowance, scale_x: float, scale_y: float, lean: float) -> tuple[float, float, float]:
    """(scale x, scale y, skew in degrees) of the machine, from what is left after the correction in the lines.

    lean: tangent of the skew that is left. Lines are bent by the inverse of the map that was assumed, so the machine's
    own map is what is left of it, after the assumed one.
    """
    skew = atan(scale_x / scale_y * tan(radians(lines.skew_deg)) + lean)
    return scale_x * lines.scale_x, scale_y * lines.scale_y, degrees(skew)
