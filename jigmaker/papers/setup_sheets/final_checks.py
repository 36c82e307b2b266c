"""Operation 14, final checks: a Bench in, an Operation out."""

from functools import partial

from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import counted, plus_minus


def final_checks(bench: Bench) -> Operation:
    """Height, spread, rock, screws; batch mark; the jig hung up with its readings."""
    trestle = bench.kit.trestle
    job = trestle.job
    return Operation(
        title="Final checks",
        quantity=counted(job.trestles, "trestle"),
        timber="finished trestles",
        datum="a flat floor, or two straight boards that are true to each other",
        figures=((partial(trestle_picture, trestle), "The finished trestle."),),
        settings=_settings(),
        steps=_steps(bench),
        checks=_checks(bench),
        caution=(
            "A trestle tips when weight comes outside its feet: nobody sits on an end, nobody climbs up. How much it "
            "carries depends on wood, glue and floor; jigmaker gives no figure for it."
        ),
    )


def _settings() -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    return (
        ("batch mark", "under each board, with the year; the same on the jig"),
        ("what it is for", "holding work; it is not a working platform, and nobody stands on it"),
    )


def _steps(bench: Bench) -> tuple[str, ...]:
    """What is done, in order."""
    unit = bench.unit
    return (
        "Stand every trestle on the flat and press each corner of its board down.",
        "Measure each height at all four corners; write the least and the greatest of the batch below.",
        "Lay one straight board over two trestles, then over the next two: it must touch at both ends.",
        "Feel for splinters and for screw heads that stand proud.",
        "Measure the last routed housing: wider than the first by more than "
        f"{plus_minus(0.2, unit).removeprefix('±')}, the plate is worn. Hang the jig up with its sheets.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    trestle = bench.kit.trestle
    unit = bench.unit
    job = trestle.job
    foot = trestle.foot
    return (
        Check(
            "height",
            bench.length(job.height_mm),
            plus_minus(1.0, unit),
            "floor to top face, four corners",
            "rule stood on the floor, straight edge",
        ),
        Check("rock", "none", plus_minus(0.2, unit), "foot to the flat, the other three standing", "feeler"),
        Check(
            "feet, along",
            bench.length(foot.spread_along_mm),
            plus_minus(3.0, unit),
            "outer corner to outer corner, each side",
            "tape",
        ),
        Check(
            "feet, across",
            bench.length(foot.spread_across_mm),
            plus_minus(3.0, unit),
            "outer corner to outer corner, each end",
            "tape",
        ),
        Check("batch, heights", "alike", plus_minus(1.0, unit), "one trestle to the next", "straight board over two"),
    )
