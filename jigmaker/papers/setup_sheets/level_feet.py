"""Operation 12, level the feet: a Bench in, an Operation out; with a table of readings for the batch."""

from functools import partial

from jigmaker.drawing.page import BOX, Block, Heading, Table, Words
from jigmaker.papers.pictures.levelling import levelling_picture
from jigmaker.papers.setup_sheets.operation import Bench, Check, Further, Operation
from jigmaker.papers.wording import counted, plus_minus
from jigmaker.parts.part import Setting
from jigmaker.standing.feet import FEET

SLIVER_MM = 2.0
"""The thinnest slice that a hand saw takes off cleanly: common practice, no source."""
MOST_ROWS = 20
"""Trestles on one sheet of readings."""


def level_feet(bench: Bench) -> Operation:
    """Shims until the top is level, one line scribed round every foot at the block's height, sawn to the line."""
    job = bench.kit.trestle.job
    trim = bench.length(job.leg.trim_mm)
    left = f"{trim} along the leg were left on" if job.leg.trim_mm else "nothing was left on: trestles that rock only"
    return Operation(
        title="Level the feet",
        quantity=f"{counted(job.trestles, 'trestle')}, all scribed to one finished height",
        timber=f"{bench.length(job.height_mm)} finished height; {left}",
        datum="a flat floor under all four feet; the top face of the board, made level on shims",
        figures=((partial(levelling_picture, bench.kit), "The block's nose against the leg, the pencil flat on it."),),
        settings=_settings(bench),
        steps=_steps(),
        checks=_checks(bench),
        caution=(
            "The slice is thin and the saw leaves it suddenly: trestle on its side and clamped, other hand away. "
            "Never level a foot with somebody leaning on the trestle."
        ),
        further=(Further("Level the feet: readings", blocks=_readings(bench)),),
    )


def _settings(bench: Bench) -> tuple[tuple[str, str], ...]:
    """What is set, each with the sum behind it."""
    steps = _steps_of_block(bench)
    return (
        ("foot block", "; ".join(f"{count} = {bench.length(mm)}" for count, mm in steps) + " from floor to nose"),
        (
            "scribing height",
            "the least step of the block that is above the largest gap and leaves every foot "
            f"{bench.length(SLIVER_MM)} to saw; jigmaker level works it out from your readings",
        ),
        ("what comes off", f"measured upright; along the leg it is {_along(bench)} times as much"),
    )


def _steps() -> tuple[str, ...]:
    """What is done, in order."""
    return (
        "Stand the trestle on the flat. Press the board's corners: a foot that lifts is of the long diagonal.",
        "Push shims under the feet until a level reads level along the top and across it at both ends.",
        "Measure every gap with the taper gauge, and one height of the top. Write them down on the next sheet.",
        "Scribe all four faces of each foot with the block at one height. Do not move the shims in between.",
        "Saw to the line from its lower corner, the blade in the plane of the lines on two faces.",
        "Stand it up again. Only rocking, and height does not matter: three pads under three feet, saw the fourth "
        "that hangs free with the saw lying on the spare pad.",
    )


def _checks(bench: Bench) -> tuple[Check, ...]:
    """What is measured."""
    job = bench.kit.trestle.job
    unit = bench.unit
    return (
        Check(
            "level, along",
            "level",
            plus_minus(0.5, unit),
            "near end to far end of the top, before scribing",
            "spirit level",
        ),
        Check("level, across", "level", plus_minus(0.5, unit), "edge to edge, at both ends", "spirit level"),
        Check("scribed lines", "meet", plus_minus(0.5, unit), "line to line at each arris of the foot", "eye"),
        Check("rock after", "none", plus_minus(0.2, unit), "foot to the flat, the other three standing", "feeler"),
        Check("height", bench.length(job.height_mm), plus_minus(1.0, unit), "floor to top face, four corners", "rule"),
    )


def _steps_of_block(bench: Bench) -> list[tuple[str, float]]:
    """The heights that the block's nose can stand at: "3 sheets" and mm."""
    settings = [setting for part in bench.kit.parts for setting in part.settings if _is_height(setting)]
    return [(setting.name.partition(", ")[2], setting.value) for setting in settings]


def _is_height(setting: Setting) -> bool:
    return setting.name.startswith("scribing height")


def _along(bench: Bench) -> str:
    trestle = bench.kit.trestle
    return f"{trestle.leg.length_mm / trestle.job.height_mm:.3f}"


def _readings(bench: Bench) -> tuple[Block, ...]:
    """A row a trestle, as jigmaker level asks for it."""
    head = ("trestle", "height of the top", *(f"under {foot.name}" for foot in FEET), "scribed at", "sawn")
    count = bench.kit.trestle.job.trestles
    rows = tuple((str(number), *(BOX,) * (len(head) - 1)) for number in range(1, min(count, MOST_ROWS) + 1))
    more = f" This sheet has room for {MOST_ROWS}: copy it for the others." if count > MOST_ROWS else ""
    told = (
        "R and L as on the jig: the foot's housing is of that hand. Near is the end with your mark. Write 0 where "
        f"nothing is under a foot.{more}"
    )
    return (Heading("Readings"), Table(head, rows), Words(told))
