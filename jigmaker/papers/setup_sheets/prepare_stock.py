"""Operation 1, prepare stock: a Bench in, an Operation out; lengths in the user's unit."""

from functools import partial

from jigmaker.papers.pictures.stock import stock_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import counted, from_to, plus_minus, size
from jigmaker.parts.gauge_limits import gauge_limits

EDGE_SQUARE_MM = 0.2
"""Edge out of square to the top face, over the board's thickness: common practice, no source."""
WINDING_MM = 0.4
"""What a pair of winding sticks shows, about 1/64 inch: common practice, no source."""


def prepare_stock(bench: Bench) -> Operation:
    """Thickness, width, edges and ends square, winding."""
    trestle, unit = bench.kit.trestle, bench.unit
    job = trestle.job
    n, top, leg, brace = job.trestles, job.top, job.leg, job.brace
    return Operation(
        title="Prepare the stock",
        quantity=f"{counted(n, 'top board')}, {4 * n + 1} legs, {2 * n + 1} braces (one spare of each piece)",
        timber=(
            f"top {size(top.length_mm, top.width_mm, top.thickness_mm, unit=unit)}; "
            f"leg {size(leg.width_mm, leg.thickness_mm, unit=unit)}; "
            f"brace {size(brace.depth_mm, brace.thickness_mm, unit=unit)}"
        ),
        datum="the better wide face of each board is its top face; one edge and one end are square to it",
        figures=(
            (partial(stock_picture, trestle), "Sections of the timber; the marks say which face and edge are datum."),
        ),
        settings=_settings(bench),
        steps=_steps(),
        checks=_checks(bench),
        caution=(
            "Planers and saws throw wood back and take fingers: guards on, push stick for short pieces, no gloves at "
            "a turning cutter, ear and eye protection, dust drawn off."
        ),
    )


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    trestle = bench.kit.trestle
    unit = bench.unit
    job = trestle.job
    limits = gauge_limits(trestle, bench.kit.shop)
    leg = job.leg
    return (
        (
            "leg, width",
            f"{from_to(limits.no_go_mm, limits.go_mm, unit)}: housing less clearance, less what the leg gauge allows",
        ),
        (
            "leg, thickness",
            f"{bench.length(leg.thickness_mm)} = depth square to the housing's floor"
            + (
                f" {bench.length(trestle.housing.depth_square_mm)} + reveal {bench.length(job.housing.reveal_mm)}"
                if job.housing.reveal_mm
                else ", so that the leg comes flush"
            ),
        ),
    )


def _steps() -> tuple[str, ...]:
    """What is done, in order."""
    return (
        "Let the boards lie in the shop until they stop moving; sort out split and twisted ones.",
        "Plane every leg to one width and one thickness in one run; do not change the setting between legs.",
        "Pass the leg gauge over both ends and the middle of every leg: GO must pass, NO-GO must not.",
        "Plane the top boards' edges straight, parallel, and square to the top face; saw the ends square.",
        "Sight along winding sticks on the top face. A board in winding makes a trestle that rocks.",
        "Mark the top face and one end as datum, in chalk that stays on; mark no leg: legs have no hand.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    return (*_first_checks(bench), *_further_checks(bench))


def _first_checks(bench: Bench) -> tuple[Check, ...]:
    """What everything else depends on."""
    trestle = bench.kit.trestle
    unit = bench.unit
    job = trestle.job
    limits = gauge_limits(trestle, bench.kit.shop)
    top = job.top
    leg = job.leg
    return (
        Check(
            "leg, width",
            bench.length(leg.width_mm),
            from_to(limits.no_go_mm, limits.go_mm, unit),
            "edge to edge, both ends and middle",
            "leg gauge",
        ),
        Check(
            "leg, thickness",
            bench.length(leg.thickness_mm),
            plus_minus(0.2, unit),
            "wide face to wide face",
            "leg gauge, side notch",
        ),
        Check(
            "top, thickness",
            bench.length(top.thickness_mm),
            plus_minus(1.0, unit),
            "top face to bottom face, at each housing",
            "caliper",
        ),
    )


def _further_checks(bench: Bench) -> tuple[Check, ...]:
    """What follows."""
    trestle = bench.kit.trestle
    unit = bench.unit
    job = trestle.job
    top = job.top
    return (
        Check(
            "top, width",
            bench.length(top.width_mm),
            plus_minus(0.5, unit),
            "edge to edge, at each housing",
            "caliper or rule",
        ),
        Check(
            "edge to top face",
            "square",
            plus_minus(EDGE_SQUARE_MM, unit),
            "over the board's thickness, at each housing",
            "square and feeler",
        ),
        Check("top, winding", "none", plus_minus(WINDING_MM, unit), "over the length of the board", "winding sticks"),
    )
