"""How big a corner relief the machine needs: Shop in, radius in mm out. A laser needs none."""

from jigmaker.job.shop import Shop

RELIEF_SPARE_MM = 0.1
"""The bite's radius over the cutter's, so that the cutter is not squeezed from both sides at once."""


def relief_radius(shop: Shop) -> float:
    """Radius of the bite at a relieved corner, mm; 0 for a laser, whose corners come out sharp."""
    return shop.machine.tool_mm / 2 + RELIEF_SPARE_MM if shop.machine.kind == "cnc" else 0.0
