"""The thickness of the wood in, the screws that are sold for it out: diameters, lengths, pilots and holes; mm.

All countersunk, so a screw's length is that from its head's face to its tip.
"""

from fractions import Fraction
from math import floor

from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit, inch_fraction, text


@dataclass(frozen=True, slots=True)
class ScrewSize:
    """One screw as it is sold. pilot: drilled for the thread in softwood; hardwood_pilot: the same in hardwood, hard
    pine included; clearance_hole: right through the piece under the head, so that the screw draws it tight. mm.
    """

    name: str
    diameter_mm: float
    length_mm: float
    pilot_mm: float
    hardwood_pilot_mm: float
    clearance_hole_mm: float


CORE = 0.7
"""A wood screw's core over its diameter, as in DIN 7998 (from memory: 4.0 mm has 2.8, 5.0 mm has 3.5)."""

SOFT_PILOT, HARD_PILOT = 0.7, 0.85
"""A pilot over the screw's core, in softwood and in hardwood (common practice, no source)."""

# Least thickness of the wood, diameter and lengths in the shops, mm (common practice, no source).
_METRIC: tuple[tuple[float, float, tuple[int, ...]], ...] = (
    (45.0, 6.0, (60, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 180, 200)),
    (28.0, 5.0, (40, 45, 50, 60, 70, 80, 90, 100, 120)),
    (22.0, 4.5, (35, 40, 45, 50, 60, 70, 80)),
    (17.0, 4.0, (30, 35, 40, 45, 50, 60, 70)),
    (0.0, 3.5, (25, 30, 35, 40, 45, 50)),
)

# Least thickness in mm, gauge number and lengths in inches (common practice, no source).
_GAUGES: tuple[tuple[float, int, str], ...] = (
    (45.0, 14, "2 5/2 3 7/2 4 5 6"),
    (28.0, 10, "3/2 7/4 2 9/4 5/2 3 7/2 4"),
    (17.0, 8, "5/4 3/2 7/4 2 9/4 5/2 3"),
    (0.0, 6, "1 5/4 3/2 7/4 2"),
)


def screw_sizes(thickness_mm: float, unit: Unit) -> tuple[ScrewSize, ...]:
    """Screws of the diameter that suits wood so thick, the shortest first; inch jobs get gauge numbers."""
    sizes = []
    if unit == "mm":
        diameter, metric = next(row[1:] for row in _METRIC if thickness_mm >= row[0])
        # A pilot is a share of the screw's core, in soft wood less than in hard, for soft wood the thread pushes aside.
        soft, hard = (_drill(diameter * CORE * share, 0.5) for share in (SOFT_PILOT, HARD_PILOT))
        for long in metric:
            sizes.append(ScrewSize(f"{diameter} × {text(long)}", diameter, float(long), soft, hard, diameter + 0.5))
    else:
        number, inches = next(row[1:] for row in _GAUGES if thickness_mm >= row[0])
        diameter, step = gauge_mm(number), MM_PER_INCH / 64
        soft, hard = (_drill(diameter * CORE * share, step) for share in (SOFT_PILOT, HARD_PILOT))
        # A drill's width over the shank at the least: the next 64th that leaves 0.1 mm.
        hole = (floor((diameter + 0.1) / step) + 1) * step
        for length in [float(Fraction(each)) * MM_PER_INCH for each in inches.split()]:
            sizes.append(ScrewSize(f'No {number} × {inch_fraction(length)}"', diameter, length, soft, hard, hole))
    return tuple(sizes)


def gauge_mm(number: int) -> float:
    """Diameter of an inch gauge number, mm: 0.060 in and 0.013 in more a number (ASME B18.6.1, from memory)."""
    return (0.060 + 0.013 * number) * MM_PER_INCH


def _drill(diameter: float, step: float) -> float:
    """The nearest drill of a set that goes up by step."""
    return floor(diameter / step + 0.5) * step
