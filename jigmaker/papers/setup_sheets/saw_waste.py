"""Operation 5, mark the housings and saw the waste out: a Bench in, an Operation out."""

from functools import partial

from jigmaker.papers.pictures.saw_out_waste import saw_out_waste_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import counted, off_edge, off_square, plus_minus, size
from jigmaker.units import MM_PER_INCH, Unit

INSIDE_MM = 3.0
"""How far inside the lines the saw stays, and how much is left above the floor: common practice, no source."""


def saw_waste(bench: Bench) -> Operation:
    """Lines on edge and faces; cuts inside the lines; most of the wood chopped out by hand."""
    trestle, unit = bench.kit.trestle, bench.unit
    job = trestle.job
    return Operation(
        title="Mark the housings, saw the waste out",
        quantity=f"{counted(4 * job.trestles, 'housing')} in {counted(job.trestles, 'top board')}",
        timber=f"top {size(job.top.length_mm, job.top.width_mm, job.top.thickness_mm, unit=unit)}",
        datum="the board's end next to each housing, and the top face",
        figures=(
            (
                partial(saw_out_waste_picture, trestle),
                "The housing's lines, and the saw cuts inside them.",
            ),
        ),
        settings=_settings(bench),
        steps=_steps(bench),
        checks=_checks(bench),
        caution=(
            "A saw runs on when the waste lets go, a chisel slips: board clamped, both hands behind the edge, never "
            "chop toward yourself."
        ),
    )


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    trestle = bench.kit.trestle
    housing = trestle.housing
    angles = trestle.angles
    inside = bench.length(INSIDE_MM)
    return (
        ("line on the edge", off_edge(angles.edge_line_deg, "the top arris") + ": flank BOARD EDGE"),
        ("lines on the faces", off_square(angles.edge_twist_deg, "the edge") + ": flank BOARD FACES"),
        ("saw cuts", f"{inside} inside both lines, down to {inside} above the floor"),
        ("waste", f"about {_volume(housing.volume_mm3, bench.unit)} a housing; the router must not do this work"),
    )


def _volume(mm3: float, unit: Unit) -> str:
    return f"{mm3 / 1000:.0f} cm³" if unit == "mm" else f"{mm3 / MM_PER_INCH**3:.1f} in³"


def _steps(bench: Bench) -> tuple[str, ...]:
    """What is done, in order."""
    inside = bench.length(INSIDE_MM)
    return (
        "From each end of the board mark the near wall on the top arris and on the bottom arris; join them on the "
        "edge. The wall runs toward the board's end as it goes down.",
        "Mark the far wall the same way, and the depths in both faces: the floor slopes, deeper at the top face.",
        f"Saw {inside} inside both walls, with the blade along the lines on edge and face.",
        f"One or two more cuts between them; chop from both faces to {inside} above the floor.",
        "Do not pare to the lines: the router trims walls and floor.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    return (*_first_checks(bench), *_further_checks(bench))


def _first_checks(bench: Bench) -> tuple[Check, ...]:
    """What everything else depends on."""
    trestle = bench.kit.trestle
    unit = bench.unit
    housing = trestle.housing
    within = plus_minus(0.5, unit)
    return (
        Check(
            "start, top arris",
            bench.length(housing.start_top_mm),
            within,
            "board's end to the near wall's line",
            "rule",
        ),
        Check(
            "start, bottom arris",
            bench.length(housing.start_bottom_mm),
            within,
            "board's end to the near wall's line",
            "rule",
        ),
        Check(
            "width",
            bench.length(housing.width_on_arris_mm),
            within,
            "near line to far line, on the top arris",
            "rule",
        ),
    )


def _further_checks(bench: Bench) -> tuple[Check, ...]:
    """What follows."""
    trestle = bench.kit.trestle
    unit = bench.unit
    housing = trestle.housing
    within = plus_minus(0.5, unit)
    inside = bench.length(INSIDE_MM)
    return (
        Check(
            "depth, top face",
            bench.length(housing.depth_top_mm),
            within,
            "edge to the floor's line",
            "marking gauge",
        ),
        Check(
            "depth, bottom face",
            bench.length(housing.depth_bottom_mm),
            within,
            "edge to the floor's line",
            "marking gauge",
        ),
        Check("wood left", inside, plus_minus(1.0, unit), "saw cut to line, chopped floor to line", "rule"),
    )
