"""Operation 6, rout R, then L: a Bench in, an Operation out; the first-off in an off-cut, for both hands."""

from functools import partial

from jigmaker.papers.pictures.first_off import first_off_picture
from jigmaker.papers.pictures.jig_on_board import jig_on_board_picture
from jigmaker.papers.setup_sheets.first_off_words import first_off_blocks
from jigmaker.papers.setup_sheets.operation import Bench, Check, Further, Operation, Sketch
from jigmaker.papers.wording import counted, from_to, plus_minus, size
from jigmaker.parts.gauge_limits import gauge_limits
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.units import caliper_text

_R_MM = 70.0
"""The drawing of the R jig, smaller than L on its own sheet: it stands above settings, steps and checks."""

START_MM = 0.3
DEPTH_MM = 0.2
"""What a first-off may be out before a setting is changed. Depths that are out unequally turn the leg."""


def rout_housings(bench: Bench) -> Operation:
    """All housings of the R hand, then the stop moved and all of the L hand."""
    trestle, unit = bench.kit.trestle, bench.unit
    job = trestle.job
    layout = lay_out_jigs(trestle, bench.kit.shop)[0]
    return Operation(
        title="Rout the housings: R, then L",
        quantity=f"{counted(2 * job.trestles, 'housing')} R, then {2 * job.trestles} L",
        timber=f"top {size(job.top.length_mm, job.top.width_mm, job.top.thickness_mm, unit=unit)}",
        datum="fence on the top face every time, stop against the board's end",
        figures=(
            (partial(jig_on_board_picture, bench.kit, "R", _R_MM), "R: stop at the right end. L is on the next sheet."),
        ),
        settings=_settings(bench),
        steps=_steps(layout.hands == "both"),
        checks=_checks(bench),
        caution=(
            "The jig tips toward you without its clamps. Both clamps tight before the router starts, both hands on it "
            "until the cutter stands still; start and stop it parked at the slot's front end."
        ),
        hands=("R", "L"),
        further=(
            Further("Rout L; where to measure", _other_hand(bench)),
            Further("First-off: what the readings tell", blocks=first_off_blocks(bench)),
        ),
    )


def _other_hand(bench: Bench) -> tuple[Sketch, ...]:
    """The jig set for L, and a routed scrap with what is read on it."""
    return (
        (partial(jig_on_board_picture, bench.kit, "L"), "L: stop at the left end."),
        (
            partial(first_off_picture, bench.kit.trestle),
            "Where a first-off is measured; L from its own end.",
        ),
    )


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    trestle = bench.kit.trestle
    unit = bench.unit
    layout = lay_out_jigs(trestle, bench.kit.shop)[0]
    return (
        (
            "hand",
            "board clamped edge up, top face toward you: the housing near the end at your right is R, at your left L",
        ),
        ("projection", f"{caliper_text(layout.projection, unit)} for the last pass; passes as under 40"),
        (
            "clamps",
            f"two, from below, on fence and back strip, throat {bench.length(_throat(bench))} or more; or the bench "
            "vice across them",
        ),
        ("feed", "clockwise round the inside of the slot, as the arrow on the plate: the bush is held to the wall"),
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    return (*_first_checks(bench), *_further_checks(bench))


def _first_checks(bench: Bench) -> tuple[Check, ...]:
    """What everything else depends on."""
    trestle = bench.kit.trestle
    unit = bench.unit
    housing = trestle.housing
    limits = gauge_limits(trestle, bench.kit.shop)
    depth = plus_minus(DEPTH_MM, unit)
    return (
        Check(
            "width",
            caliper_text(housing.width_mm, unit),
            from_to(limits.low_mm, limits.high_mm, unit),
            "wall to wall, square to the walls, both ends",
            "housing plug: low in, high not",
        ),
        Check(
            "depth, top face",
            bench.length(housing.depth_top_mm),
            depth,
            "edge to floor, on the top face",
            "depth rod, straight edge",
        ),
        Check(
            "depth, bottom face",
            bench.length(housing.depth_bottom_mm),
            depth,
            "edge to floor, on the bottom face",
            "depth rod, straight edge",
        ),
    )


def _further_checks(bench: Bench) -> tuple[Check, ...]:
    """What follows."""
    trestle = bench.kit.trestle
    unit = bench.unit
    housing = trestle.housing
    start = plus_minus(START_MM, unit)
    return (
        Check(
            "start, top arris",
            bench.length(housing.start_top_mm),
            start,
            "board's end to the near wall",
            "rule on the arris",
        ),
        Check(
            "start, bottom arris",
            bench.length(housing.start_bottom_mm),
            start,
            "board's end to the near wall",
            "rule on the arris",
        ),
        Check(
            "leg in the housing",
            "by hand",
            "no rattle, no light",
            "leg's edges to the walls, whole depth",
            "a sawn leg",
        ),
    )


def _throat(bench: Bench) -> float:
    """From the board's far edge to the middle of the band that clamps take, mm."""
    layout = lay_out_jigs(bench.kit.trestle, bench.kit.shop)[0]
    return bench.kit.trestle.job.top.width_mm - (layout.strip_depth + layout.lug_depth) / 2


def _steps(both: bool) -> tuple[str, ...]:
    change = "Move the stop to the other end and the mask to slot R" if both else "Take the L jig"
    mask = "the mask in slot L" if both else "the R jig"
    return (
        f"First-off: clamp an off-cut as long as the jig, edge up, top face toward you; {mask}, stop at the right end. "
        "Rout it, measure, write it under R. Change a setting only by what the table of readings says.",
        "Rout the R housing at the right end of every board. Turn each board end for end, top face still toward you, "
        "and rout its second R housing in the other edge.",
        "Every fifth board: plug and both depths. Write the readings down.",
        f"{change}; first-off again, written under L; then every board's L housings.",
        "Blow chips out before the jig goes on again. Renew fence and strip when their notches are worn.",
    )
