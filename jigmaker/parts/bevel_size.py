"""How large a job's bevel plates are: flanks, the shop's bed and the user's unit in, PlateSize out; mm, degrees."""

from collections.abc import Sequence
from math import ceil, cos, radians, sin

from jigmaker.errors import DoesNotFit
from jigmaker.job.shop import Shop
from jigmaker.parts.bevel_flanks import Flank
from jigmaker.parts.relief import hole_diameter
from jigmaker.record import dataclass
from jigmaker.units import Unit, length_text

STRIP_MM = 20.0
FREE_FLANK_MM = 130.0
FREE_FLANKS_MM = tuple(FREE_FLANK_MM - less for less in range(0, 55, 5))
"""Flank beyond the stock strip, from what is wanted down to 80: with the strip's width 150 in all, at least 100."""

WAIST_MM = 112.0  # of two square flanks; holds every use of a 90 degree flank in letters of 3.5
NOTCH_MM = 8.0
NOTCH_SPARE_MM = 2.0  # notch over the tool's width
HOLE_MM = 6.0


@dataclass(frozen=True, slots=True)
class PlateSize:
    """One size for all plates of a job. half: half the height between the reference edges; width: of a reference edge;
    free: flank beyond the stock strip; notch: width of the notches at the waist; setback: from the ends of a reference
    edge to the strip's ends, so that no strip stands out past a flank; hole: diameter of the hanging hole. mm.
    """

    half: float
    width: float
    free: float
    notch: float
    setback: float
    hole: float

    @property
    def height(self) -> float:
        """Distance between the two reference edges, mm."""
        return 2 * self.half

    @property
    def strip_length(self) -> float:
        """Length of a stock strip, mm."""
        return self.width - 2 * self.setback

    def flank_length(self, flank: Flank) -> float:
        """From the corner on the reference edge to the notch, along the flank, mm."""
        #     ____________    upper reference edge, as wide as the lower one; the stock strip behind it
        #     \          /
        #      \        /     four flanks, each with its angle inside its corner
        #       >      <      a notch at the waist, half the height from either edge
        #      /        \
        #     /__________\    lower reference edge
        return (self.half - self.notch / 2) / sin(radians(flank.angle_deg))


def size_on_bed(plates: Sequence[Sequence[Flank]], shop: Shop, unit: Unit) -> PlateSize:
    """The largest plate that the bed takes, lying either way. Raises DoesNotFit when the least is too large."""
    angles = [flank.angle_deg for plate in plates for flank in plate]
    sheet, tool = shop.sheet, shop.machine.tool_mm
    bed = sorted((sheet.length_mm - 2 * sheet.margin_mm - tool, sheet.width_mm - 2 * sheet.margin_mm - tool))
    steepest, flattest = max(angles), min(angles)
    notch = max(NOTCH_MM, tool + NOTCH_SPARE_MM)
    for free in FREE_FLANKS_MM:
        # From the reference edge: the strip, then the free flank along its slope, then half the notch.
        half = float(ceil(STRIP_MM + free * sin(radians(steepest)) + notch / 2))
        width = float(ceil(WAIST_MM + 2 * inward(half, flattest)))
        setback = float(ceil(inward(STRIP_MM, flattest) + 2))
        size = PlateSize(half, width, free, notch, setback, hole_diameter(shop, HOLE_MM))
        if all(side <= room for side, room in zip(sorted((size.width, size.height)), bed, strict=True)):
            return size
    wants = " x ".join(length_text(side, unit) for side in sorted((size.width, size.height), reverse=True))
    has = " x ".join(length_text(room, unit) for room in reversed(bed))
    raise DoesNotFit(f"the smallest bevel plate is {wants}, the bed takes {has}")


def inward(height: float, angle_deg: float) -> float:
    """How far a flank has come in at a height above its reference edge; exactly 0 for a square one."""
    return 0.0 if angle_deg == 90 else height * cos(radians(angle_deg)) / sin(radians(angle_deg))
