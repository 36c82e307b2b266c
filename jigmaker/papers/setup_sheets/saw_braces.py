"""Operation 8, saw the braces: a Bench in, an Operation out."""

from functools import partial

from jigmaker.papers.pictures.brace import brace_picture
from jigmaker.papers.pictures.saw import saw_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Further, Operation, Sketch
from jigmaker.papers.wording import counted, off_edge, off_upright, plus_minus, size


def saw_braces(bench: Bench) -> Operation:
    """End lines, blade tilt, top edge; one cut and offered up before the rest."""
    trestle, unit = bench.kit.trestle, bench.unit
    job, brace = trestle.job, trestle.brace
    return Operation(
        title="Saw the braces",
        quantity=f"{counted(2 * job.trestles, 'brace')} and 1 spare; a brace has no hand",
        timber=f"brace {size(brace.depth_mm, brace.thickness_mm, unit=unit)}",
        datum="the inside face: it lies on the legs, and every length is measured on it",
        figures=((partial(brace_picture, trestle), "A brace, inside face toward you."),),
        settings=_settings(bench),
        steps=_steps(),
        checks=_checks(bench),
        caution=(
            "Short pieces are drawn into the blade: saw braces off a long board, hold the short one with a clamp or a "
            "hold-down, never with fingers beside the blade."
        ),
        further=(Further("Saw the braces: on the saw", _on_the_saw(bench)),),
    )


def _on_the_saw(bench: Bench) -> tuple[Sketch, ...]:
    words = "Drawn inside face down: the blade's top leans toward the brace. Inside face up it leans away from it."
    return ((partial(saw_picture, bench.kit.trestle, "brace end"), words),)


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    trestle = bench.kit.trestle
    brace = trestle.brace
    angles = trestle.angles
    return (
        (
            "ends, on the face",
            off_edge(angles.brace_end_deg, "the long edge") + ": flank BRACE END, or the template",
        ),
        ("ends, blade", f"{off_upright(angles.brace_end_tilt_deg)}, inside face up: ends flush with the legs"),
        ("top edge", off_edge(angles.brace_edge_deg, "the inside face") + ": lies under the board"),
        (
            "behind it",
            f"gap {bench.length(brace.gap_mm)} at a leg's inner arris when the brace is left flat; the legs' "
            "outer arrises carry it",
        ),
    )


def _steps() -> tuple[str, ...]:
    """What is done, in order."""
    return (
        "Bevel the top edge first, on the whole length of board.",
        "Saw one end by the template, inside face up, undercut below the inside face. For the other end turn the "
        "board over, long edge for long edge, not end for end: same mitre, same tilt.",
        "Offer it up to a dry trestle: top edge tight under the board, ends flush with the legs' outer faces.",
        "Set a stop and saw the rest.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    return (*_first_checks(bench), *_further_checks(bench))


def _first_checks(bench: Bench) -> tuple[Check, ...]:
    """What everything else depends on."""
    trestle = bench.kit.trestle
    unit = bench.unit
    brace = trestle.brace
    return (
        Check(
            "top length",
            bench.length(brace.top_mm),
            plus_minus(0.5, unit),
            "end to end along the top edge, inside face",
            "rule or template",
        ),
        Check(
            "bottom length",
            bench.length(brace.bottom_mm),
            plus_minus(0.5, unit),
            "end to end along the bottom edge, inside face",
            "rule or template",
        ),
        Check(
            "depth",
            bench.length(brace.depth_mm),
            plus_minus(0.5, unit),
            "top edge to bottom edge, inside face",
            "rule",
        ),
    )


def _further_checks(bench: Bench) -> tuple[Check, ...]:
    """What follows."""
    trestle = bench.kit.trestle
    angles = trestle.angles
    return (
        Check(
            "end line",
            off_edge(angles.brace_end_deg, "the long edge"),
            "no light at the bevel",
            "end to top edge, on the inside face",
            "flank BRACE END",
        ),
        Check(
            "top edge",
            off_edge(angles.brace_edge_deg, "the inside face"),
            "no light at the bevel",
            "top edge to inside face",
            "flank BRACE TOP EDGE",
        ),
    )
