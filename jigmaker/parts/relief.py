"""What the machine's round cutter asks of corners and holes: Shop in, radius or diameter in mm out."""

from jigmaker.job.shop import Shop

RELIEF_SPARE_MM = 0.1
"""The bite's radius over the cutter's, so that the cutter is not squeezed from both sides at once."""

HOLE_SPARE_MM = 0.2
"""A hole's least diameter over the cutter's."""

SHARP_KERF_MM = 0.3
"""A laser's cut up to this wide leaves corners that are as good as sharp. Where a tenon has 0.05 mm of play a side, the
round in its root (radius r) holds a mortise's edge r - sqrt(r^2 - (r - 0.05)^2) off the seat: 0.04 mm at 0.3 mm."""

DOWELS_MM = (6.0, 8.0, 10.0, 12.0)
"""Dowel rod as sold; common practice, no source."""

DOWEL_PLAY_MM = 0.1


def relief_radius(shop: Shop) -> float:
    """Radius of the bite at a relieved corner, mm; 0 for a laser whose cut is so narrow that its corners are sharp."""
    widest = shop.machine.widest_cut_mm
    is_round = shop.machine.kind == "cnc" or widest > SHARP_KERF_MM
    return widest / 2 + RELIEF_SPARE_MM if is_round else 0.0


def hole_diameter(shop: Shop, wanted_mm: float) -> float:
    """The wanted diameter, or the least that the machine's cutter can cut when that is more, mm."""
    return max(wanted_mm, shop.machine.tool_mm + HOLE_SPARE_MM) if shop.machine.kind == "cnc" else wanted_mm


def dowel_diameter(shop: Shop) -> float:
    """The thinnest dowel rod whose hole the machine can cut, mm."""
    return next(d for d in DOWELS_MM if hole_diameter(shop, d + DOWEL_PLAY_MM) == d + DOWEL_PLAY_MM)
