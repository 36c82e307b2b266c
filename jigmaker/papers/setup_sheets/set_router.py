"""Operation 4, set the router on scrap: a Bench in, an Operation out; bush, projection and passes with their sums."""

from functools import partial
from math import ceil

from jigmaker.drawing.page import Facts
from jigmaker.job.shop import HandRouter
from jigmaker.papers.pictures.router_set import router_set_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import from_to, plus_minus, size
from jigmaker.parts.gauge_limits import gauge_limits
from jigmaker.parts.housing_jig.layout import JigLayout, lay_out_jigs
from jigmaker.units import Unit, caliper_text

PASS_MM = 3.0
"""Deepest pass of a hand-held router: common practice, no source."""


def set_router(bench: Bench) -> Operation:
    """Bush centred, cutter measured, projection set, passes counted."""
    trestle, router, unit = bench.kit.trestle, bench.kit.shop.hand_router, bench.unit
    layout = lay_out_jigs(trestle, bench.kit.shop)[0]
    top = trestle.job.top
    return Operation(
        title="Set the router on scrap",
        quantity="one setting for the whole batch",
        timber=f"off-cut of the top board, {size(top.width_mm, top.thickness_mm, unit=unit)}",
        datum="the router's base; the projection gauge stands on it",
        figures=(
            (
                partial(router_set_picture, bench.kit),
                "In the slot, cut square to the housing's walls; and the gauge on the base.",
            ),
        ),
        settings=(*_tools(router, layout, unit), *_projection(layout, bench)),
        passes=pass_facts(layout, unit),
        steps=_steps(router, unit),
        checks=_checks(bench),
        caution=(
            "Pull the plug before hands go near the cutter. A shank gripped by less than its diameter and a half can "
            "walk out of the collet. Never start the cutter in contact with wood."
        ),
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    return (*_first_checks(bench), *_further_checks(bench))


def _first_checks(bench: Bench) -> tuple[Check, ...]:
    """What everything else depends on."""
    trestle = bench.kit.trestle
    router = bench.kit.shop.hand_router
    unit = bench.unit
    layout = lay_out_jigs(trestle, bench.kit.shop)[0]
    return (
        Check(
            "cutter, as cut",
            caliper_text(router.cutter_mm, unit),
            plus_minus(0.05, unit),
            "wall to wall of a groove",
            "caliper",
        ),
        _guide_check(router, unit),
        Check(
            "projection",
            caliper_text(layout.projection, unit),
            plus_minus(0.1, unit),
            "base to the cutter's tip",
            "gauge: tip just touches",
        ),
    )


def _further_checks(bench: Bench) -> tuple[Check, ...]:
    """What follows."""
    trestle = bench.kit.trestle
    unit = bench.unit
    limits = gauge_limits(trestle, bench.kit.shop)
    return (
        Check(
            "trial housing, width",
            caliper_text(trestle.housing.width_mm, unit),
            from_to(limits.low_mm, limits.high_mm, unit),
            "square to the walls",
            "housing plug",
        ),
        Check(
            "centring",
            "no step",
            plus_minus(0.05, unit),
            "groove on groove, half turned",
            "finger nail",
        ),
    )


def pass_facts(layout: JigLayout, unit: Unit) -> Facts:
    """Every pass with the projection to set: equal steps of PASS_MM at most, the last to the housing's full depth."""
    count = ceil(layout.depth_square / PASS_MM - 1e-9)
    air = layout.sheet + layout.standoff
    shown = [caliper_text(round(air + layout.depth_square * (i + 1) / count, 1), unit) for i in range(count)]
    shown[-1] = caliper_text(layout.projection, unit)
    return Facts(tuple((f"projection, pass {i}", figure) for i, figure in enumerate(shown, 1)))


def _tools(router: HandRouter, layout: JigLayout, unit: Unit) -> tuple[tuple[str, str], ...]:
    width, slot = caliper_text(layout.housing_width, unit), caliper_text(layout.slot_width, unit)
    cutter = caliper_text(router.cutter_mm, unit)
    if router.is_bearing_guided:
        return (("cutter", f"{cutter}, guided by its own bearing"), ("slot", f"{slot} = housing {width}, no bush"))
    bush = caliper_text(router.bush_mm, unit)
    return (
        ("bush, cutter", f"bush {bush} outside, cutter {cutter}"),
        ("slot", f"{slot} = housing {width} + bush {bush} - cutter {cutter}"),
        ("offset", f"{caliper_text(layout.guide_offset, unit)} = (bush {bush} - cutter {cutter}) / 2, each side"),
    )


def _projection(layout: JigLayout, bench: Bench) -> tuple[tuple[str, str], ...]:
    unit = bench.unit
    whole, sheet, standoff, depth = (
        caliper_text(mm, unit) for mm in (layout.projection, layout.sheet, layout.standoff, layout.depth_square)
    )
    reach = caliper_text(bench.kit.shop.hand_router.cutter_reach_mm, unit)
    return (
        ("projection", f"{whole} = sheet {sheet} + standoff {standoff} + housing {depth} deep square to its floor"),
        ("reach", f"{reach} from base to tip with the shank gripped properly; {whole} are needed"),
    )


def _guide_check(router: HandRouter, unit: Unit) -> Check:
    """What follows the slot: the bush, or the bearing of a cutter that is guided by one."""
    guide = "bearing" if router.is_bearing_guided else "bush"
    limit = plus_minus(0.05, unit)
    return Check(f"{guide}, outside", caliper_text(router.bush_mm, unit), limit, "side to side, two ways", "caliper")


def _steps(router: HandRouter, unit: Unit) -> tuple[str, ...]:
    centre = (
        "Fit the cutter with its bearing; the bearing must turn freely and stay on the slot's wall at full depth."
        if router.is_bearing_guided
        else "Fit the bush and centre it on the cutter's axis with a cone or rod; the eye is not good enough."
    )
    return (
        centre,
        f"Rout one groove in scrap and measure its width: cutters cut {from_to(0.05, 0.1, unit)} under their names. "
        "Enter what you measure in the shop file, and make a new plate from it.",
        "Set the projection with the gauge: its feet on the base, the cutter lowered until the tip touches.",
        "Set the turret's stops for the passes; the last stop is the projection.",
        "Rout one trial housing in an off-cut clamped as the board will be. Try the plug, low end and high end.",
        "Mark the base: keep the same side of the router toward you from now on.",
    )
