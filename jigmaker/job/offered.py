"""What a shop may ask for that is not made yet: in comes a Shop, out comes one finding for each such wish.

This module goes when all three are made.
"""

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop


def check_offered(shop: Shop) -> list[Finding]:
    """R12 files, CNC machines and bearing-guided cutters: each refused in one sentence."""
    findings = []
    if shop.files.dxf == "R12":
        says = "R12 files are not made yet"
        findings.append(Finding(191, says, 'write dxf = "R2000"', "shop files.dxf", value="R12", limit="R2000"))
    if shop.machine.kind == "cnc":
        says = "parts for a CNC machine, with room for its cutter in the corners, are not made yet"
        findings.append(Finding(291, says, 'write kind = "laser"', "shop machine.kind", value="cnc", limit="laser"))
    if shop.hand_router.is_bearing_guided:
        says = "jigs for bearing-guided cutters (bush = cutter) are not made yet"
        do = "use a guide bush wider than the cutter"
        findings.append(Finding(292, says, do, "shop hand_router.bush"))
    return findings
