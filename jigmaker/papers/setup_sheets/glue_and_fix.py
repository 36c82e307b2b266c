"""Operation 10, glue and screw: a Bench in, an Operation out; where every screw is marked, and its holes."""

from functools import partial

from jigmaker.drawing.page import Table
from jigmaker.papers.pictures.gluing import SCREW_NUMBERS, gluing_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation
from jigmaker.papers.wording import counted, plus_minus
from jigmaker.trestle.fixings import Fixings, fixings
from jigmaker.trestle.screw_sizes import ScrewSize


def glue_and_fix(bench: Bench) -> Operation:
    """On the flat reference, legs first, then braces; the trestle stands on it until the glue is hard."""
    trestle = bench.kit.trestle
    found = fixings(trestle)
    return Operation(
        title="Glue and screw",
        quantity=_quantity(bench, found),
        timber="dry fitted trestles, each taken apart only when it is glued",
        datum="a flat floor or bench that all four feet stand on while the glue sets",
        figures=((partial(gluing_picture, trestle), "On the flat reference; and where each leg's two screws are."),),
        settings=_sizes(bench, found),
        passes=_marks(bench, found),
        steps=_steps(),
        checks=_checks(bench),
        caution=(
            "A screw driven past its pilot splits the leg or comes out where a hand holds it: stop at the face, keep "
            "hands off the line of the screw. Glue on skin and in eyes: gloves now, water within reach."
        ),
    )


def _steps() -> tuple[str, ...]:
    """What is done, in order."""
    return (
        "Mark the screws on every leg's outer face by the table; drill and sink clearance holes.",
        "Glue, thin, on the housing's floor and walls and on the leg; press it home, head flush or at its horn.",
        "Pilot through the holes into the board, square to the leg's face; drive both screws, not yet hard.",
        "Stand the trestle on its feet on the flat, then drive the screws home, left and right by turns.",
        "Braces: glue, clamp tight under the board, pilot into the legs' narrow edges, drive.",
        "Measure both diagonals of the feet, wipe glue off, and leave it standing there until the glue is hard.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    trestle = bench.kit.trestle
    unit = bench.unit
    foot = trestle.foot
    return (
        Check(
            "leg",
            "home",
            plus_minus(0.2, unit),
            "leg's inner face to the housing's floor, from both ends",
            "feeler",
        ),
        Check("head", "flush or at its horn", plus_minus(0.5, unit), "head to the board's top face", "rule"),
        Check("brace", "tight", plus_minus(0.3, unit), "brace's top edge to the board's bottom face", "feeler"),
        Check(
            "feet, along",
            bench.length(foot.spread_along_mm),
            plus_minus(3.0, unit),
            "outer corner to outer corner, both sides",
            "tape",
        ),
        Check("feet, diagonals", "alike", plus_minus(3.0, unit), "outer corner to opposite outer corner", "tape"),
    )


def _quantity(bench: Bench, found: Fixings) -> str:
    n = bench.kit.trestle.job.trestles
    screws = " and ".join(f"{number * n} screws {size.name}" for size, number in found.counts())
    return f"{counted(n, 'trestle')}; {screws or 'no screws'}"


def _sizes(bench: Bench, found: Fixings) -> tuple[tuple[str, str], ...]:
    rows = []
    for name, pattern in (("leg to board", found.legs), ("brace to leg", found.braces)):
        rows.append((name, _drills(bench, pattern.size) if pattern else "no room for screws: glue and clamps only"))
    return tuple(rows)


def _drills(bench: Bench, size: ScrewSize) -> str:
    hole, soft, hard = (bench.length(mm) for mm in (size.clearance_hole_mm, size.pilot_mm, size.hardwood_pilot_mm))
    return f"{size.name} countersunk; clearance hole {hole}; pilot {soft}, in hardwood {hard}"


def _marks(bench: Bench, found: Fixings) -> Table | None:
    """Where each screw is marked; a leg goes either way, so its marks depend on the hand of its housing."""
    rows: list[tuple[str, ...]] = []
    if found.legs:
        rows += [
            (
                f"leg in {mark.hand}: {SCREW_NUMBERS[mark.name]}, {mark.name}",
                f"{bench.length(mark.from_head_mm)} from the finished head",
                f"{bench.length(mark.from_edge_mm)} from the {mark.side} edge, seen from outside",
            )
            for mark in found.legs.marks
        ]
    if found.braces:
        rows += [
            (
                f"brace, each end: {mark.name}",
                f"{bench.length(mark.from_top_mm)} from the top edge",
                f"{bench.length(mark.from_end_mm)} from the end line, outer face",
            )
            for mark in found.braces.marks
        ]
    return Table(("screw", "along", "across"), tuple(rows)) if rows else None
