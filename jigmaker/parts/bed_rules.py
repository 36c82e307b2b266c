"""Rules between board, jig and bed: Trestle, Shop and JigLayout in, Findings out. mm, degrees."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import replace
from math import ceil, radians, sin

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop
from jigmaker.parts.housing_jig.layout import CLEAR_MM, SMALL_BITE_MM, JigLayout, fits_bed, lay_out, lay_out_jigs
from jigmaker.parts.housing_jig.support import least_support, support_bound
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least
from jigmaker.units import length_text

BAND_LEAST_MM = 15.0  # free band under the lugs for jaws or clamps
LARGEST_BASE_MM = 300  # no hand router stands on a larger one; common practice, no source
THROAT_MM = 120.0  # usual throat of a bar clamp; common practice, no source


def _say(trestle: Trestle, mm: float) -> str:
    return length_text(mm, trestle.job.unit)


def _or_narrower(layout: JigLayout) -> str:
    """A remedy more, where a wide cutter's bites ask for room."""
    return ", or cut the kit with a narrower cutter" if layout.bites.behind > SMALL_BITE_MM else ""


def check_inset(layout: JigLayout, trestle: Trestle) -> Iterator[Finding]:
    """Room between the slot and the stop for side bearer, end bearer and bolts."""
    # From the leg's near arris to the board's end, along the board at the slot's rear end, where it comes nearest:
    #
    #     arris        near wall         side bearer                end bearer
    #     |----------------|---- land ----|== sheet ==|-- between --|== sheet ==|  stop plane = the board's end
    #      v cot phi + opened                            the bolts
    opened = (layout.clearance / 2 + layout.guide_offset) / sin(radians(layout.face_deg))
    least = layout.slot_rear * layout.wall_slope + opened + layout.land + 2 * layout.sheet + layout.between
    inset = trestle.job.inset_mm
    if inset >= least:
        return
    yield Finding(
        311,
        f"the inset, {_say(trestle, inset)}, leaves no room for the jig's end bearer and its bolts",
        f"make the inset {at_least(least, trestle.job.unit)} or more{_or_narrower(layout)}",
        "job trestle.inset",
        value=_say(trestle, inset),
        limit=_say(trestle, least),
    )


def check_length(layout: JigLayout, trestle: Trestle) -> Iterator[Finding]:
    """The board must lie under every bearer but, on a jig for both hands, the far end bearer."""
    reach, length = layout.half - layout.bearer_faces[-1][1], trestle.job.top.length_mm
    if length < reach:
        says = f"the top, {_say(trestle, length)} long, is shorter than the jig, which needs {_say(trestle, reach)}"
        yield Finding(314, says, "use a longer top, or a smaller inset", "job top.length")
    elif layout.hands == "both" and length < 2 * layout.half:
        says = f"the far end bearer hangs free: the top is shorter than {_say(trestle, 2 * layout.half)}"
        yield Finding(314, says, "hold the jig down by its stop end", "job top.length", severity="caution")


def check_hold(layout: JigLayout, trestle: Trestle) -> Iterator[Finding]:
    """A free band below the lugs, within reach of clamps."""
    width = trestle.job.top.width_mm
    if layout.strip_depth - layout.lug_depth < BAND_LEAST_MM:
        says = f"the top, {_say(trestle, width)} wide, is too narrow to be held below the jig's lugs"
        least = layout.lug_depth + BAND_LEAST_MM + CLEAR_MM
        do = f"use a top {at_least(least, trestle.job.unit)} wide or more{_or_narrower(layout)}"
        yield Finding(315, says, do, "job top.width")
    # A clamp comes from the board's far edge, and takes hold in the middle of the free band.
    throat = width - (layout.strip_depth + layout.lug_depth) / 2
    if throat > THROAT_MM:
        says = f"clamps from the board's far edge need a throat of {_say(trestle, throat)}"
        do = "hold board and strips in the vice, or use deep clamps"
        yield Finding(316, says, do, "job top.width", severity="caution")


def check_bed(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """The plate, its cut and the margins on the sheet; a jig for each hand when one for both does not go."""
    sheet, tool = shop.sheet, shop.machine.tool_mm
    free_width, free_length = sheet.width_mm - 2 * sheet.margin_mm, sheet.length_mm - 2 * sheet.margin_mm
    # The cut runs half a tool outside the plate on every side: a whole one more from edge to edge.
    depth = layout.plate_rear - layout.plate_front + tool
    length = layout.plate_high - layout.plate_low + tool
    less = "long with its cut, the sheet less its margins is"
    if depth > free_width:
        says = f"the plate is {_say(trestle, depth)} deep with its cut, the sheet less its margins is"
        do = "use a wider sheet, or a router with a smaller base"
        yield Finding(313, f"{says} {_say(trestle, free_width)}", do, "shop sheet.width")
    if layout.hands != "both" and not fits_bed(layout, shop):
        says = f"even a plate for one hand is {_say(trestle, length)} {less} {_say(trestle, free_length)}"
        yield Finding(312, says, "use a longer sheet, or a smaller inset", "shop sheet.length")
    elif layout.hands != "both":
        do = "plate, bearers and strips are made for each hand: keep the R and the L jig apart"
        both = lay_out(trestle, shop, "both", parks_clear=False)
        long = both.plate_high - both.plate_low + tool
        says = f"a plate with both slots is {_say(trestle, long)} long with its cut and does not fit the sheet"
        if fits_bed(both, shop):
            top = _say(trestle, trestle.job.top.length_mm)
            says = f"the top, {top} long, is too short for a plate with both slots"
        yield Finding(312, says, do, "shop sheet.length", severity="caution")


def check_support(layout: JigLayout, trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """The router must stand safely wherever the bush can be."""
    margin, needed = _support(layout, shop), layout.needed_support
    if margin >= needed:
        return
    base, deep = 2 * layout.base_radius, layout.slot_rear - layout.slot_front
    opening = f"the opening, {_say(trestle, layout.slot_width)} by {_say(trestle, deep)},"
    steady = steady_base(trestle, shop, base)
    wider = f"base plate of {at_least(steady, trestle.job.unit)} or more" if steady else "wider base plate"
    yield Finding(
        317,
        f"{opening} is too large for a base of {_say(trestle, base)}: the router's axis comes within "
        f"{_say(trestle, max(margin, 0.0))} of tipping, {_say(trestle, needed)} are wanted",
        f"use a {wider}, or a smaller bush",
        "shop hand_router.base",
        value=_say(trestle, margin),
        limit=_say(trestle, needed),
    )


def _support(layout: JigLayout, shop: Shop) -> float:
    """How far from tipping the router stays, mm; where a bound that needs no library is enough, that bound."""
    from jigmaker.parts.housing_jig.plate import plate  # only here are parts needed, not their layout alone

    part = plate(layout, shop)
    bound = support_bound(part, layout)  # falls short of the true margin only
    return bound if bound >= layout.needed_support else least_support(part, layout)


def steady_base(trestle: Trestle, shop: Shop, over_mm: float) -> float | None:
    """The least base of whole millimetres, over_mm or more, on which this shop's router does not tip; None for none.

    The plate is laid out anew for each: a larger base moves bearers and tenons, and the room beside the slot with them.
    So the margin is no formula of the base, but it grows with it: halving finds the least.
    """

    def is_steady(base: int) -> bool:
        wider = replace(shop, hand_router=replace(shop.router, base_mm=float(base)))
        layout = lay_out_jigs(trestle, wider)[0]
        return _support(layout, wider) >= layout.needed_support

    bases = range(ceil(over_mm), LARGEST_BASE_MM + 1)
    found = bisect_left(bases, True, key=is_steady)
    return float(bases[found]) if found < len(bases) else None
