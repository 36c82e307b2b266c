"""Operation 7, saw the legs: a Bench in, an Operation out; one setting for all, cut one after another."""

from functools import partial

from jigmaker.papers.pictures.leg_turning import leg_turning_picture
from jigmaker.papers.pictures.saw import saw_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Further, Operation, Sketch
from jigmaker.papers.wording import counted, off_edge, off_square, off_upright, plus_minus, size

_SAID = "the arris"


def saw_legs(bench: Bench) -> Operation:
    """Mitre and tilt for wide face down, or for narrow edge down; both ends to one setting."""
    trestle, unit = bench.kit.trestle, bench.unit
    job, leg = trestle.job, trestle.leg
    count = 4 * job.trestles
    return Operation(
        title="Saw the legs",
        quantity=f"{counted(count, 'leg')} and 1 spare, all one piece: a leg has no hand",
        timber=f"leg {size(leg.width_mm, leg.thickness_mm, unit=unit)}",
        datum="an arris: the length is measured along it, from end cut to end cut; all four are alike",
        figures=((partial(saw_picture, trestle, "leg flat"), "Wide face down. The other way is on the next sheet."),),
        settings=_settings(bench),
        steps=_steps(bench),
        checks=_checks(bench),
        caution=(
            "Off-cuts of an angled cut jam between blade and stop and are thrown: stop on the side that stays, off-cut "
            "free, piece clamped, hands out of the blade's line until it stands still."
        ),
        further=(Further("Saw the legs: narrow edge down; the other hand", _other_ways(bench)),),
    )


def _other_ways(bench: Bench) -> tuple[Sketch, ...]:
    trestle = bench.kit.trestle
    return (
        (partial(saw_picture, trestle, "leg on edge"), "Narrow edge down: another setting for the same cut."),
        (partial(leg_turning_picture, trestle), "How a leg goes to a housing of the other hand."),
    )


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    trestle = bench.kit.trestle
    leg = trestle.leg
    angles = trestle.angles
    return (
        (
            "wide face down",
            f"mitre {off_square(angles.saw_mitre_deg, _SAID)}; blade {off_upright(angles.saw_tilt_deg)}",
        ),
        (
            "narrow edge down",
            f"mitre {off_square(angles.saw_mitre_on_edge_deg, _SAID)}; "
            f"blade {off_upright(angles.saw_tilt_on_edge_deg)}",
        ),
        ("stop", f"{bench.length(leg.cut_length_mm)} along an arris" + _allowances(bench)),
        (
            "board",
            f"first leg {bench.length(leg.blank_mm)}, each further leg {bench.length(leg.along_per_leg_mm)} "
            "and one saw cut",
        ),
    )


def _steps(bench: Bench) -> tuple[str, ...]:
    """What is done, in order."""
    trestle = bench.kit.trestle
    angles = trestle.angles
    return (
        "Set mitre and blade with the bevel plate, not with the saw's scale: flanks LEG FACE and SAW BLADE.",
        _which_way(angles.saw_mitre_deg, angles.saw_tilt_deg),
        "Saw one end. Slide the board along to the stop, unturned; each cut is one leg's foot and the next's head.",
        "Saw two legs, lay them on each other, then turn one end for end: the ends must still agree.",
        "Try a leg in a housing of each hand, then saw the rest without touching mitre, blade or stop.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    return (*_first_checks(bench), *_further_checks(bench))


def _first_checks(bench: Bench) -> tuple[Check, ...]:
    """What everything else depends on."""
    trestle = bench.kit.trestle
    unit = bench.unit
    leg = trestle.leg
    angles = trestle.angles
    return (
        Check(
            "length",
            bench.length(leg.cut_length_mm),
            plus_minus(0.5, unit),
            "end cut to end cut, along an arris",
            "tape or rod, at two arrises",
        ),
        Check(
            "legs among themselves",
            "alike",
            plus_minus(0.3, unit),
            "foot of one to foot of the next, on a flat",
            "stood side by side",
        ),
        Check(
            "end on the wide face",
            off_edge(angles.leg_face_deg, "the arris"),
            "no light at the bevel",
            "end line to arris",
            "flank LEG FACE",
        ),
    )


def _further_checks(bench: Bench) -> tuple[Check, ...]:
    """What follows."""
    trestle = bench.kit.trestle
    unit = bench.unit
    angles = trestle.angles
    return (
        Check(
            "end on the narrow edge",
            off_square(angles.leg_edge_deg, "the arris"),
            "no light at the bevel",
            "end line to arris",
            "flank LEG EDGE",
        ),
        Check(
            "both ends",
            "parallel",
            plus_minus(0.3, unit),
            "leg on leg, one turned end for end",
            "another leg",
        ),
    )


def _which_way(mitre_deg: float, tilt_deg: float) -> str:
    """The way of mitre and tilt; one that is square has none."""
    mitre = "far end of the cut toward the foot" if mitre_deg else "cut square across"
    tilt = "blade's top toward the head" if tilt_deg else "blade upright"
    return f"Outer wide face down, head at your left: {mitre}, {tilt}."


def _allowances(bench: Bench) -> str:
    job, leg = bench.kit.trestle.job, bench.kit.trestle.leg
    added = [f"{name} {bench.length(mm)}" for name, mm in (("horn", job.leg.horn_mm), ("trim", job.leg.trim_mm)) if mm]
    return " = " + " + ".join([f"finished {bench.length(leg.length_mm)}", *added]) if added else ""
