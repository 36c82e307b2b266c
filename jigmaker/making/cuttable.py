"""Whether the machine can cut the parts of a kit, found before any of them is placed: Kit in, Findings out. mm.

The rules of the parts name what they know to be too narrow for a cutter. This holds for all else: every contour must be
simple and every gap and web wide enough; where one is not, the widest tool that goes is found by trying.
"""

from collections.abc import Iterator
from dataclasses import replace

from jigmaker.cutting.clearance import narrow_faults, web_faults
from jigmaker.cutting.cut_sheet import CutContour
from jigmaker.findings import Finding, errors_in
from jigmaker.geometry.simple import crossings
from jigmaker.job.rules import section_of
from jigmaker.job.sections import SHOP
from jigmaker.job.shop import Shop
from jigmaker.parts.check import check_kit
from jigmaker.parts.kit import Kit, make_kit
from jigmaker.parts.part import Part
from jigmaker.parts.relief import goes_text
from jigmaker.trestle.records import Trestle
from jigmaker.units import Unit, caliper_text

# Halvings: from 12 mm down to steps of 0.02.
_TRIES = 9


def check_cuttable(kit: Kit) -> list[Finding]:
    """An error (210) for each part that the tool cannot cut, with the widest tool that cuts them all."""
    machine, unit = kit.shop.machine, kit.trestle.job.unit
    found = [(part, fault) for part in kit.parts if (fault := next(_faults(part, kit.shop, unit), ""))]
    if not found:
        return []
    if machine.is_paper:
        do = "use a thicker sheet or thicker legs"
        return [
            Finding(210, f"no hand can saw it: {fault}", do, "shop sheet.thickness", part.name) for part, fault in found
        ]
    key = "kerf" if machine.kind == "laser" else "cutter"
    # The widest tool with which the kit passes every rule and every part can be cut, by halving; 0 when none does.
    # A narrower tool goes wherever a wider one does.
    low, high = section_of(SHOP, "machine").rule(key).low, machine.tool_mm
    widest = low if _goes(kit.trestle, kit.shop, low) else 0.0
    for _ in range(_TRIES if widest else 0):
        middle = (widest + high) / 2
        widest, high = (middle, high) if _goes(kit.trestle, kit.shop, middle) else (widest, middle)
    most = goes_text(widest, unit, key) if widest else ""
    do = f"cut the kit with {most} or less" if most else "use a thicker sheet or thicker legs: no narrower tool helps"
    tool = caliper_text(machine.tool_mm, unit)
    says = f"the machine's {key}, {tool}, is too wide: "
    return [Finding(210, says + fault, do, f"shop machine.{key}", part.name, tool, most) for part, fault in found]


def _faults(part: Part, shop: Shop, unit: Unit) -> Iterator[str]:
    """What is wrong with a part's nominal contours, the worst first."""
    yield from (
        f"{part.name}: {fault}" for fault in crossings(part.outline, [(hole.name, hole.contour) for hole in part.holes])
    )
    # First whether the contours are simple and apart at all, for what crosses has no width that could be judged.
    holes = [CutContour("inner", hole.contour, part.slug, hole.name) for hole in part.holes]
    contours = [*holes, CutContour("outer", part.outline, part.slug, "outer")]
    machine = replace(shop.machine, tool_mm=shop.machine.widest_cut_mm)
    yield from narrow_faults(contours, machine, unit)
    yield from web_faults(contours, machine, unit)


def _goes(trestle: Trestle, shop: Shop, tool_mm: float) -> bool:
    machine = replace(shop.machine, tool_mm=tool_mm, kerf_x_mm=None, kerf_y_mm=None)
    shop = replace(shop, machine=machine)
    if errors_in(check_kit(trestle, shop)):
        return False
    return not any(next(_faults(part, shop, "mm"), "") for part in make_kit(trestle, shop).parts)
