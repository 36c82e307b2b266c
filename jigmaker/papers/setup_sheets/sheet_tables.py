"""The tables that set-up sheets name and that are worked out row by row: a Bench in, blocks out."""

from collections.abc import Callable
from functools import partial
from math import ceil

from jigmaker.drawing.page import BOX, Block, Facts, Heading, Table, Words
from jigmaker.papers.bench import Bench
from jigmaker.papers.pictures.gluing import SCREW_NUMBERS
from jigmaker.papers.practice import PRACTICE
from jigmaker.papers.setup_sheets.first_off_words import first_off_blocks
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.standing.feet import FEET
from jigmaker.trestle.fixings import fixings
from jigmaker.units import caliper_text

MOST_ROWS = 20
"""Trestles on one sheet of readings."""


def sheet_tables(bench: Bench) -> dict[str, Callable[[], tuple[Block, ...]]]:
    """What makes each table, by its name in a sheet."""
    return {
        "passes": partial(passes, bench),
        "screw marks": partial(screw_marks, bench),
        "first-off readings": partial(first_off_blocks, bench),
        "level readings": partial(level_readings, bench),
    }


def passes(bench: Bench) -> tuple[Block, ...]:
    """Every pass with the projection to set: equal steps, the last to the housing's full depth."""
    layout, unit = lay_out_jigs(bench.kit.trestle, bench.kit.shop)[0], bench.unit
    count = ceil(layout.depth_square / PRACTICE["practice.pass"].mm - 1e-9)
    air = layout.sheet + layout.standoff
    shown = [caliper_text(round(air + layout.depth_square * (i + 1) / count, 1), unit) for i in range(count)]
    shown[-1] = caliper_text(layout.projection, unit)
    return (Facts(tuple((f"projection, pass {i}", figure) for i, figure in enumerate(shown, 1))),)


def screw_marks(bench: Bench) -> tuple[Block, ...]:
    """Where each screw is marked; a leg goes either way, so its marks depend on the hand of its housing."""
    rows: list[tuple[str, ...]] = []
    found = fixings(bench.kit.trestle)
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
    return (Table(("screw", "along", "across"), tuple(rows)),) if rows else ()


def level_readings(bench: Bench) -> tuple[Block, ...]:
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
