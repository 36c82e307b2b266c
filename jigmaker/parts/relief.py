"""What the machine's round cutter asks of corners and holes: Shop in, the bites and diameters in mm out.

A bite in a corner of 90 degrees is a round one through the true corner, its centre on the bisector: with radius r it
takes sqrt(2) r of both walls and reaches (1 - 1/sqrt(2)) r behind each. Where two of them do not fit into the short
wall of a mortise, the bites are half circles beside it: they take 2 r of the long walls, reach r behind them and leave
the short wall whole.
"""

from math import floor, sqrt

from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Shop
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit, length_text

RELIEF_SPARE_MM = 0.1
"""The bite's radius over the cutter's, so that the cutter is not squeezed from both sides at once."""

HOLE_SPARE_MM = 0.2
"""A hole's least diameter, and a mortise's least width, over the cutter's."""

SHARP_KERF_MM = 0.2
"""A laser's cut up to this wide leaves corners that are as good as sharp. Where a tenon has 0.05 mm of play a side, the
round in its root (radius r) holds a mortise's edge r - sqrt(r^2 - (r - 0.05)^2) off the seat: 0.013 mm at 0.2 mm, but
0.04 mm at 0.3 mm."""

WALL_MM = 1.0
"""The least of a wall between two bites, so that a part can seat on it."""

MORTISE_WALL_MM = 0.3
"""The least of a mortise's short wall between two bites: it only has to stop the tenon's end."""

DOWELS_MM = (6.0, 8.0, 10.0, 12.0, 16.0)
"""Dowel rod as sold; common practice, no source. The last suits the widest cutter that a shop file takes."""

DOWEL_PLAY_MM = 0.1


@dataclass(frozen=True, slots=True)
class Bites:
    """The bites at a kit's relieved corners: their radius, 0 for a laser, and the width of the mortises, mm."""

    radius: float
    mortise_mm: float

    @property
    def along(self) -> float:
        """How much of a wall a bite on the bisector takes."""
        # A bite is a circle through the true corner, its middle on the bisector of a right angle:
        #
        #      wall |   .-.        it meets each wall 2 r cos 45 = sqrt(2) r from the corner,
        #           |  ( + )       and bulges behind each by r - r cos 45
        #           | ,-`-'
        #     ______|/___ wall
        return sqrt(2) * self.radius

    @property
    def behind(self) -> float:
        """How far a bite on the bisector reaches behind a wall."""
        return self.radius - self.radius / sqrt(2)

    @property
    def are_beside(self) -> bool:
        """True when a mortise's bites lie beside its short walls, since two would not fit into one."""
        return self.radius > 0 and 2 * self.along + MORTISE_WALL_MM > self.mortise_mm

    @property
    def aside(self) -> float:
        """How far the bites of a mortise reach behind its long walls."""
        return self.radius if self.are_beside else self.behind

    @property
    def endwise(self) -> float:
        """How far the bites of a mortise reach behind its short walls."""
        return 0.0 if self.are_beside else self.behind

    @property
    def least_length(self) -> float:
        """The least length of a mortise or a seat between two bites of its own."""
        return (4 * self.radius if self.are_beside else 2 * self.along) + WALL_MM

    def seat(self, wanted_mm: float) -> float:
        """The length of a wall with a bite at one end: as wanted, or the least that is left whole beside the bite."""
        return max(wanted_mm, self.along + WALL_MM / 2)

    def between(self, wanted_mm: float) -> float:
        """The length of a wall with a bite at either end."""
        return max(wanted_mm, 2 * self.along + WALL_MM)

    def least_hole(self, wanted_mm: float) -> float:
        """The radius of a round hole: half the wanted diameter, or the least that the cutter can cut."""
        return max(wanted_mm / 2, self.radius)


def bites_of(shop: Shop) -> Bites:
    """The bites that this shop's machine leaves."""
    return Bites(relief_radius(shop), mortise_width(shop))


def mortise_width(shop: Shop) -> float:
    """The width of every mortise of the kit, mm: the sheet and the play of a tenon."""
    return shop.sheet.thickness_mm + shop.sheet.joint_clearance_mm + shop.sheet.thickness_spread_mm


def relief_radius(shop: Shop) -> float:
    """Radius of the bite at a relieved corner, mm; 0 where corners come out sharp: by a narrow laser, by a file.

    Where the kerf is not as wide in x as in y, the bite is as round as the flattest side of the ellipse that the beam
    is: half the wide way squared, over half the narrow way.
    """
    if shop.machine.is_paper:
        return 0.0
    narrow, wide = sorted(shop.machine.cut_width_mm)
    flat = wide**2 / narrow
    is_round = shop.machine.kind == "cnc" or flat > SHARP_KERF_MM + TOUCH_MM
    return flat / 2 + RELIEF_SPARE_MM if is_round else 0.0


def hole_diameter(shop: Shop, wanted_mm: float) -> float:
    """The wanted diameter, or the least that the machine's cutter can cut when that is more, mm."""
    return max(wanted_mm, shop.machine.tool_mm + HOLE_SPARE_MM) if shop.machine.kind == "cnc" else wanted_mm


def dowel_diameter(shop: Shop) -> float:
    """The thinnest dowel rod whose hole the machine can cut, mm."""
    return next(d for d in DOWELS_MM if hole_diameter(shop, d + DOWEL_PLAY_MM) == d + DOWEL_PLAY_MM)


def goes_text(limit_mm: float, unit: Unit, key: str = "cutter") -> str:
    """The widest cutter or kerf that goes, down to the next 0.05 mm or 1/64 in, for a kerf to the next 0.01 mm."""
    step = 0.01 if key == "kerf" else 0.05 if unit == "mm" else MM_PER_INCH / 64
    return length_text(floor(limit_mm / step + TOUCH_MM) * step, unit)
