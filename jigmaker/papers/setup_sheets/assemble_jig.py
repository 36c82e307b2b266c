"""Operation 3, assemble the jig dry: a Bench in, an Operation out; three checks before any glue."""

from functools import partial

from jigmaker.papers.pictures.jig_exploded import jig_exploded_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import counted, off_edge, off_level, plus_minus
from jigmaker.parts.housing_jig.layout import JigLayout, lay_out_jigs
from jigmaker.units import Unit, caliper_text

_SCREW: dict[Unit, str] = {
    "mm": "3.5 mm × 30 mm countersunk, pilot hole 2.5 mm,",
    "in": 'No 6 × 1 1/4" countersunk, pilot hole 3/32",',
}

_BOLT: dict[Unit, str] = {"mm": "M6 × 30", "in": 'M6 × 1 1/4" (or 1/4", the holes drilled out)'}


def assemble_jig(bench: Bench) -> Operation:
    """Bearers, strips and plate together, stop bolted on; tilt, stop and slot checked."""
    trestle, shop, unit = bench.kit.trestle, bench.kit.shop, bench.unit
    jigs = lay_out_jigs(trestle, shop)
    layout = jigs[0]
    parts = [part for part in bench.kit.parts if part.assembly == "housing jig"]
    return Operation(
        title="Assemble the jig dry",
        quantity=f"{counted(len(jigs), 'jig')} of {counted(sum(part.needed for part in parts), 'piece')}",
        timber=f"{shop.sheet.material}, {caliper_text(shop.sheet.thickness_mm, unit)} thick",
        datum="the top face of the board: the fence lies on it for all four housings",
        figures=((partial(jig_exploded_picture, bench.kit), "Every piece off along the way it goes in."),),
        settings=_settings(bench),
        steps=_steps(layout),
        checks=_checks(bench),
        caution=(
            "Dry joints slip: keep fingers out from between plate and bearers when a clamp is drawn up. Screw heads "
            "must lie below the surface: a cutter that meets a screw breaks and flies."
        ),
    )


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    trestle = bench.kit.trestle
    shop = bench.kit.shop
    unit = bench.unit
    jigs = lay_out_jigs(trestle, shop)
    layout = jigs[0]
    return (
        ("plate", f"{off_level(90 - layout.splay_deg)} across the board, which is clamped edge up"),
        (
            "standoff",
            f"{caliper_text(layout.standoff, unit)}, plate's underside above the plane through the top "
            "arris parallel to the housing's floor",
        ),
        ("screws", f"{_SCREW[unit]} through the fence into each bearer; the back strip has none, it slides"),
        ("stop", f"two bolts {_BOLT[unit]}, washers, wing nuts, at the end marked for the hand in work"),
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    trestle = bench.kit.trestle
    shop = bench.kit.shop
    unit = bench.unit
    jigs = lay_out_jigs(trestle, shop)
    within = plus_minus(2 * shop.machine.accuracy_mm, bench.unit)
    layout = jigs[0]
    return (
        Check(
            "plate to fence",
            off_edge(layout.splay_deg, "the fence"),
            "no light on either side",
            "plate's face to the fence's",
            "bevel, flank SPLAY",
        ),
        *_stop_checks(layout, bench, within),
        Check(
            "slot from the stop",
            caliper_text(_slot_from_stop(layout), unit),
            within,
            "stop to near wall, on the top arris",
            "rule or caliper",
        ),
        Check("bearers", "all bear", plus_minus(0.1, unit), "each bearer's foot to the board's edge", "feeler"),
        Check("mask", "below the plate", "never above", "mask's face to plate's face, all round", "straight edge"),
    )


def _steps(layout: JigLayout) -> tuple[str, ...]:
    both = layout.hands == "both"
    return (
        "Stand the bearers upright, push fence and back strip on to their tenons, mortises upward.",
        "Lower the plate on to the bearers. It goes on one way round only: marks in sight, TOP FACE toward you.",
        "Push the end bearers outward, so that they touch the outer wall of their mortises: that wall sets the stop."
        if both
        else "Push the end bearer outward, so that it touches the outer wall of its mortise: that wall sets the stop.",
        "Bolt the stop on, finger tight, with the notch upward." if both else "Bolt each jig's stop on, notch upward.",
        "Put the jig on an off-cut of the top board and make the three checks. Only then glue plate and bearers.",
        "Keep the corner between fence and stop clear of chips.",
    )


def _stop_checks(layout: JigLayout, bench: Bench, within: str) -> tuple[Check, ...]:
    if layout.hands == "both":
        length = caliper_text(2 * layout.half, bench.unit)
        return (
            Check("stop to stop", length, within, "outer face to outer face of the end bearers", "rule or caliper"),
        )
    return (Check("stop to fence", "square", plus_minus(0.1, bench.unit), "stop's face to the fence's face", "square"),)


def _slot_from_stop(layout: JigLayout) -> float:
    """Along the top arris, from the stop plane to the slot's wall nearer to it, mm."""
    return layout.half - layout.near_wall(0.0)
