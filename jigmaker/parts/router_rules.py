"""Rules between hand router, sheet and jig: Trestle, Shop and JigLayout in, Findings out. mm, degrees."""

from collections.abc import Iterator
from math import sqrt

from jigmaker.findings import Finding
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.bed_rules import steady_base
from jigmaker.parts.housing_jig.layout import TENON_SHORT_MM, JigLayout, least_standoff
from jigmaker.parts.relief import HOLE_SPARE_MM, RELIEF_SPARE_MM, bites_of, goes_text, mortise_width
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least, at_most
from jigmaker.units import length_text

TENON_MM = 15.0  # the least length of a plate tenon
BESIDE_TENON_MM = 27.0  # so much of the base's radius over the bush's does not go into the rear tenon
BUSH_LEAST_MM = 3.0  # a shorter bush has no hold on the plate's edge
BEARING_HOLD_MM = 3.0  # the least of a bearing's height that must run on the plate's edge
TENON_SIDE_MM = 0.3  # the least of a tenon's side beyond the bite at its root
BUSH_SHORT_MM = 1.0  # a bush stays this much shorter than the sheet, or it rides on the work


def _say(trestle: Trestle, mm: float) -> str:
    return length_text(mm, trestle.job.unit)


def check_cutter(trestle: Trestle, shop: Shop, is_quick: bool = True) -> Iterator[Finding]:
    """Cutter through bush, bush's bore and housing; base wide enough. Needs no layout, unless the base is too small and
    the advice is to be, when not `is_quick`, a base on which the router does not tip either.
    """
    router, width = shop.router, trestle.housing.width_mm
    cutter = f"the cutter, {_say(trestle, router.cutter_mm)},"
    if router.bush_mm < router.cutter_mm:
        says = f"{cutter} does not pass a bush of {_say(trestle, router.bush_mm)}"
        yield Finding(203, says, "use a larger bush or a smaller cutter", "shop hand_router.bush")
    bore = router.bush_bore_mm
    if bore is not None and not router.is_bearing_guided and router.cutter_mm >= bore:
        says = f"{cutter} does not pass the bush's bore of {_say(trestle, bore)}"
        do = "use a bush with a larger bore or a smaller cutter"
        yield Finding(203, says, do, "shop hand_router.bush_bore")
    if width <= router.cutter_mm:
        says = f"{cutter} is not smaller than the housing, {_say(trestle, width)}"
        yield Finding(203, says, "use a smaller cutter or wider legs", "shop hand_router.cutter")
    least = router.bush_mm / 2 + BESIDE_TENON_MM + max(TENON_MM, bites_of(shop).least_length)
    if router.base_mm / 2 < least:
        says = f"the router's base, {_say(trestle, router.base_mm)}, leaves the bearers' tenons no room beside the slot"
        base, is_sound = 2 * least, router.bush_mm >= router.cutter_mm < width  # else there is nothing to lay out
        if is_sound and not is_quick:
            base = steady_base(trestle, shop, base) or base
        do = f"use a base plate of {at_least(base, trestle.job.unit)} or more, or a smaller bush"
        yield Finding(206, says, do, "shop hand_router.base")


def check_reach(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """The cutter must reach from the base through sheet and standoff to the housing's floor."""
    reach, p = shop.router.cutter_reach_mm, layout.sheet
    needed = p + least_standoff(p, layout.splay_deg, layout.bites.behind) + layout.depth_square
    if needed <= reach + 1e-9:
        return
    yield Finding(
        201,
        f"the cutter reaches {_say(trestle, reach)} below the router's base, the jig needs {_say(trestle, needed)}",
        "use a longer cutter, or cut the kit from a thinner sheet",
        "shop hand_router.cutter_reach",
        value=_say(trestle, reach),
        limit=_say(trestle, needed),
    )


def check_slot_corners(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """The machine must be able to cut slot corners tighter than the bush."""
    limit = 2 * (layout.bush_radius - 0.5)
    if shop.machine.tool_mm <= limit:
        return
    key = "kerf" if shop.machine.kind == "laser" else "cutter"
    says = f"the machine's {key}, {_say(trestle, shop.machine.tool_mm)}, leaves slot corners rounder than the bush"
    do = f"cut the kit with {goes_text(limit, trestle.job.unit, key)} or less, or use a larger bush"
    yield Finding(205, says, do, f"shop machine.{key}")


def widest_cutter(shop: Shop) -> float:
    """The widest CNC cutter for the kit's joints in this sheet, mm: it goes into a mortise with the room that it needs,
    and the bite at a tenon's root leaves some of the tenon's side straight.
    """
    side = shop.sheet.thickness_mm - TENON_SHORT_MM
    return min(mortise_width(shop) - HOLE_SPARE_MM, sqrt(2) * (side - TENON_SIDE_MM) - 2 * RELIEF_SPARE_MM)


def check_mortises(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """The CNC cutter must go into the mortises that the sheet's thickness asks for."""
    limit, unit = widest_cutter(shop), trestle.job.unit
    if shop.machine.kind != "cnc" or shop.machine.tool_mm <= limit + TOUCH_MM:
        return
    says = (
        f"the machine's cutter, {_say(trestle, shop.machine.tool_mm)}, is too wide for the jig's joints: the mortises "
        f"are {_say(trestle, mortise_width(shop))} wide and must be {_say(trestle, HOLE_SPARE_MM)} wider than it"
    )
    do = "use a thicker sheet"
    if limit >= 1:
        do = f"cut the kit with {goes_text(limit, unit)} or less, or from a thicker sheet"
    value, most = _say(trestle, shop.machine.tool_mm), _say(trestle, limit)
    yield Finding(204, says, do, "shop machine.cutter", value=value, limit=most)


def check_bush(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """A guide bush shorter than the sheet, long enough to hold, and a cutter whose shank does not rub."""
    router, p, d = shop.router, layout.sheet, layout.depth_square
    if router.is_bearing_guided:
        return
    length = router.bush_length_mm or 0.0
    stands = f"the bush stands {_say(trestle, length)} below the base"
    if length > p - BUSH_SHORT_MM:
        says = f"{stands} and the sheet is {_say(trestle, p)}: it would ride on the work"
        short = at_most(p - BUSH_SHORT_MM, trestle.job.unit)
        do = f"shorten the bush to {short} or less, or cut the kit from a thicker sheet"
        if p - BUSH_SHORT_MM < BUSH_LEAST_MM:  # so short a bush has no hold
            thick = at_least(BUSH_LEAST_MM + BUSH_SHORT_MM, trestle.job.unit)
            shorter = f"a bush at least {_say(trestle, BUSH_SHORT_MM)} shorter than that"
            do = f"cut the kit from a sheet of {thick} or more, with {shorter}"
        yield Finding(202, says, do, "shop hand_router.bush_length")
    if length < BUSH_LEAST_MM:
        do = f"use a bush of {at_least(BUSH_LEAST_MM, trestle.job.unit)} or more"
        yield Finding(202, f"{stands}: it has no hold on the plate", do, "shop hand_router.bush_length")
    if router.blade_mm is not None and router.blade_mm < d:
        says = f"the cutting length, {_say(trestle, router.blade_mm)}, is under the housing's depth, {_say(trestle, d)}"
        do = "make sure that the shank is no thicker than the cutter, or it rubs in the housing"
        yield Finding(208, says, do, "shop hand_router.blade", severity="caution")


def check_bearing(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """A bearing on the shank must run on the plate's edge at full depth, with the blade wholly below it."""
    router = shop.router
    if not router.is_bearing_guided:
        return
    missing = [key for key in ("blade", "bearing_height") if getattr(router, f"{key}_mm") is None]
    for key in missing:
        says = "a bearing-guided cutter (bush = cutter) is checked by cutting length and bearing height"
        yield Finding(
            207,
            f"{says}, and {key} is not given",
            f"measure it and add {key}; for a guide bush write its outer diameter as bush",
            f"shop hand_router.{key}",
        )
    if router.blade_mm is None or router.bearing_height_mm is None:
        return
    low = layout.standoff + layout.depth_square - router.bearing_height_mm + BEARING_HOLD_MM
    high = layout.projection - BEARING_HOLD_MM
    if not low <= router.blade_mm <= high:
        where = "above" if router.blade_mm > high else "below"
        says = (
            f"with a cutting length of {_say(trestle, router.blade_mm)} the bearing would run {where} the plate's edge"
        )
        least, most = at_least(low, trestle.job.unit), at_most(high, trestle.job.unit)
        do = f"use a cutter with a cutting length from {least} to {most}"
        yield Finding(207, says, do, "shop hand_router.blade")


def check_first_pass(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """How deep a bearing-guided cutter stands in the wood as soon as its bearing has hold of the plate's edge.

    The bearing sits on top of the blade. Its lower end BEARING_HOLD_MM under the router's base puts the tip
    blade + BEARING_HOLD_MM below the base, and the wood begins a sheet and a standoff below it: no lighter pass is
    guided. Half a cutter's diameter a pass is common practice, no source.
    """
    router = shop.router
    if not router.is_bearing_guided or router.blade_mm is None:
        return
    depth = min(router.blade_mm + BEARING_HOLD_MM - layout.sheet - layout.standoff, layout.depth_square)
    limit = router.cutter_mm / 2
    if depth <= limit:
        return
    # The shortest blade that check_bearing takes is held by the whole bearing; the standoff falls out of the sum.
    shortest = layout.depth_square - (router.bearing_height_mm or 0.0) + 2 * BEARING_HOLD_MM - layout.sheet
    do = "saw the waste out first, so that the cutter only trims walls and floor"
    yield Finding(
        209,
        f"the first pass that the bearing guides stands {_say(trestle, depth)} deep in the wood, more than half the "
        f"cutter's diameter, {_say(trestle, limit)}",
        f"{do}; or use a cutter with a shorter blade" if shortest <= limit else do,
        "shop hand_router.blade",
        value=_say(trestle, depth),
        limit=_say(trestle, limit),
        severity="caution",
    )
