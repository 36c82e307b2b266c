"""Operation 2, cut the kit: a Bench in, an Operation out; the machine's lengths as a caliper reads them."""

from functools import partial

from jigmaker.job.shop import Machine
from jigmaker.papers.pictures.sheets_cut import sheets_cut_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Operation, Sketch
from jigmaker.papers.wording import counted, plus_minus, size
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.units import MM_PER_INCH, Unit, caliper_text

_LASER = (
    "Smoke of a laser is poison and its cut can burn: fumes drawn off and out, never leave it alone while it cuts, "
    "extinguisher within reach, lid shut. Never cut PVC or any sheet whose stuff you do not know."
)
_CNC = (
    "A CNC machine does not see hands: sheet held down on all sides, nothing loose on the bed, hands off until the "
    "cutter stands still, eye and ear protection, dust drawn off."
)


def cut_kit(bench: Bench) -> Operation:
    """Files, sheet, cut; the reference square first, then the sizes on which everything else depends."""
    shop, unit = bench.kit.shop, bench.unit
    sheet, machine = shop.sheet, shop.machine
    pieces = sum(part.pieces for part in bench.kit.parts)
    return Operation(
        title="Cut the kit",
        quantity=f"{counted(pieces, 'piece')} on {counted(len(bench.sheets), 'sheet')}",
        timber=f"{sheet.material}, {caliper_text(sheet.thickness_mm, unit)} thick, "
        f"{size(sheet.length_mm, sheet.width_mm, unit=unit)}",
        datum="lower left corner of the sheet on the machine's zero; nothing is turned over",
        figures=_figures(bench),
        settings=_settings(bench),
        steps=_steps(machine),
        checks=_checks(bench),
        caution=_LASER if machine.kind == "laser" else _CNC,
    )


def _figures(bench: Bench) -> tuple[Sketch, ...]:
    """The sheets, when the kit is placed."""
    if not bench.sheets:
        return ()
    return ((partial(sheets_cut_picture, bench.sheets), "Zero at the lower left; numbers name the pieces."),)


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    shop = bench.kit.shop
    unit = bench.unit
    machine = shop.machine
    layout = lay_out_jigs(bench.kit.trestle, shop)[0]
    tool = "kerf" if machine.kind == "laser" else "cutter"
    return (
        (f"{tool} in the lines", _compensation(bench, tool, unit)),
        ("order", ("marks, then " if machine.marking == "score" else "") + "inner cuts, then outlines"),
        ("sheet", f"measure it at four places: mortises are its thickness + {caliper_text(layout.joint, unit)}"),
    )


def _steps(machine: Machine) -> tuple[str, ...]:
    """What is done, in order; a machine that cuts bridges or no marks leaves something to do by hand."""
    free = (
        "Cut. Saw the bridges through before the next sheet goes on, and pare their stubs flush with the edge."
        if machine.bridges
        else "Cut. Let every piece fall free before the next sheet goes on."
    )
    letter = "" if machine.marking == "score" else "Letter each piece with its name and marks, by the sheet of names. "
    return (
        "Cut the coupon first when the machine or the sheet is new, and enter what it tells in the shop file.",
        "Open the first sheet and measure the reference square in the note: it decides the scale of all files.",
        free,
        letter + "Wipe char off; never sand an edge that guides or bears. Write batch and date on each piece.",
        "Hang the bevel plate up flat, out of the damp.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    return (*_first_checks(bench), *_further_checks(bench))


def _first_checks(bench: Bench) -> tuple[Check, ...]:
    """What everything else depends on."""
    shop = bench.kit.shop
    unit = bench.unit
    sheet = shop.sheet
    machine = shop.machine
    layout = lay_out_jigs(bench.kit.trestle, shop)[0]
    within = plus_minus(machine.accuracy_mm, unit)
    square_mm = 50.0 if shop.files.unit == "mm" else 2 * MM_PER_INCH
    return (
        Check(
            "reference square",
            caliper_text(square_mm, unit),
            within,
            "side to side, both ways, in the file",
            "the program",
        ),
        Check(
            "sheet, thickness",
            caliper_text(sheet.thickness_mm, unit),
            plus_minus(0.1, unit),
            "face to face, at four places",
            "caliper",
        ),
        Check(
            "slot, width",
            caliper_text(layout.slot_width, unit),
            within,
            "square to the walls, both ends",
            "caliper",
        ),
    )


def _further_checks(bench: Bench) -> tuple[Check, ...]:
    """What follows."""
    shop = bench.kit.shop
    unit = bench.unit
    sheet = shop.sheet
    machine = shop.machine
    layout = lay_out_jigs(bench.kit.trestle, shop)[0]
    within = plus_minus(machine.accuracy_mm, unit)
    joint = sheet.thickness_mm + layout.joint
    return (
        Check(
            "mortise, width",
            caliper_text(joint, unit),
            plus_minus(0.1, unit),
            "wall to wall, any mortise of the plate",
            "offcut: slides, no rattle",
        ),
        Check(
            "projection gauge, recess",
            caliper_text(layout.projection, unit),
            within,
            "line of the feet to the ceiling",
            "depth rod, straight edge",
        ),
        Check("bevel plate", "sides parallel", within, "edge to edge, both ends", "caliper"),
    )


def _compensation(bench: Bench, tool: str, unit: Unit) -> str:
    width = caliper_text(bench.kit.shop.machine.tool_mm, unit)
    return {
        "included": f"{tool} {width}: it is in the lines, the machine's program must add nothing",
        "left out": f"{tool} {width}: lines are at finished size, the machine's program must add it",
        "both": f"{tool} {width}: in the lines of the files that name it; left out in those called nominal",
    }[bench.kit.shop.machine.compensation]
