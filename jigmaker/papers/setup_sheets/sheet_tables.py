"""The tables that set-up sheets name and that are worked out row by row."""

from collections.abc import Callable
from functools import partial

from jigmaker.drawing.page import BOX, Block, Facts, Table, Text, Words
from jigmaker.job.practice import PRACTICE
from jigmaker.levelling.feet import FEET
from jigmaker.papers.bench import Bench
from jigmaker.papers.facts import joined, shown_as, told
from jigmaker.papers.hand_work_facts import has_template
from jigmaker.papers.pictures.gluing import SCREW_NUMBERS
from jigmaker.papers.setup_sheets.first_off_words import first_off_blocks
from jigmaker.papers.setup_sheets.router_stops import router_stops
from jigmaker.papers.wording import rule_text, run_text
from jigmaker.timber.places import LegPlace
from jigmaker.trestle.cut_list import BRACES_PER_TRESTLE, LEGS_PER_TRESTLE, turns_legs
from jigmaker.trestle.fixings import fixings, leg_marks
from jigmaker.units import Unit

MOST_ROWS = 20
"""Trestles on one page of readings."""
_MOST_LAYERS = 12
MOST_COLUMNS = 7
"""Sizes, and all together, beside each other in a table of counts."""


def sheet_tables(bench: Bench) -> dict[str, Callable[[], tuple[Block, ...]]]:
    """What makes each table, by its name in a sheet."""
    return {
        "stops": partial(stops, bench),
        "leg screws": partial(screw_marks, bench, legs=True, braces=False),
        "brace screws": partial(screw_marks, bench, legs=False, braces=True),
        "screw marks": partial(screw_marks, bench, legs=True, braces=True),
        "first-off readings": partial(first_off_blocks, bench),
        "gap to layers": partial(gap_to_layers, bench),
        "leg stops": partial(leg_stops, bench),
        "whose slip": lambda: (Facts(tuple((what, BOX) for what in ("name", "trestle", "date"))),),
        "batch counts": partial(batch_counts, bench),
        "batch readings": partial(batch_readings, bench),
    }


def stops(bench: Bench) -> tuple[Block, ...]:
    """The projection at every stop of the turret."""
    layout, unit = bench.kit.layout, bench.unit
    found = router_stops(layout, bench.kit.shop.router.stops)
    shown = [told(f"stops.{i}", mm, "fine", unit) for i, mm in enumerate(found[:-1], 1)]
    shown.append(told("jig.projection", found[-1], "caliper", unit))
    return (Facts(tuple((f"projection, stop {i}", figure) for i, figure in enumerate(shown, 1))),)


def gap_to_layers(bench: Bench) -> tuple[Block, ...]:
    """Sheets under the nose for the largest gap of the batch: the least scribing height that leaves every foot a slice
    thick enough to saw.
    """
    # The pencil's height over the floor must leave a slice that a saw can take off every foot: so that the largest gap
    # that so many layers serve is their height less that slice.
    sliver, unit = PRACTICE["practice.sliver"].mm, bench.unit
    steps = [s for part in bench.kit.parts for s in part.settings if s.name.startswith("scribing height")]
    rows = tuple(
        (
            joined("up to ", told(f"foot_block.{count}_gap", step.value - sliver, "fine", unit)),
            shown_as(f"layers.{count}", step.name.partition(", ")[2], "number"),
            joined(told(f"foot_block.{count}", step.value, "fine", unit), " from floor to nose"),
        )
        for count, step in enumerate(steps[:_MOST_LAYERS], 1)
        if step.value > sliver
    )
    return (Table(("largest gap", "lay under the pencil", "scribing height"), rows),)


def screw_marks(bench: Bench, legs: bool, braces: bool) -> tuple[Block, ...]:
    """Where each screw of legs or braces is marked; a leg goes either way, and has the same marks in both hands of
    housings.
    """
    unit, found, marks = bench.unit, fixings(bench.kit.trestle), leg_marks(bench.kit.trestle)
    is_level = len({mark.from_head_mm for mark in marks}) == 1
    # Without a template a place is the maker's choice: the proof knows how far it may lie. With one it is held to that.
    reading = "rule" if has_template(bench) else "within"
    rows = [
        (
            f"leg{' in ' + mark.hand if mark.hand else ''}: {SCREW_NUMBERS[mark.name]}"
            f"{'' if mark.hand or len(marks) == 1 else f', {mark.side if is_level else mark.name}'}",
            joined(
                shown_as("leg_screw.from_head", rule_text(mark.from_head_mm, unit), reading),
                " from the head's line as sawn",
            ),
            joined(
                shown_as("leg_screw.from_edge", rule_text(mark.from_edge_mm, unit), reading),
                *(" from the ", shown_as(f"leg_screw.{mark.name}_edge", mark.side, ""), " edge, from outside"),
            ),
        )
        for mark in (marks if legs else ())
    ]
    rows += [
        (
            f"brace, each end: {mark.name}",
            joined(_placed("brace_screw.from_top", mark.from_top_mm, unit), " from the top edge"),
            joined(_placed("brace_screw.from_end", mark.from_end_mm, unit), " from the end line, outer face"),
        )
        for mark in (found.braces.marks if braces and found.braces else ())
    ]
    return (Table(("screw", "square to the line named", "square to the edge named"), tuple(rows)),) if rows else ()


def _placed(name: str, mm: float, unit: Unit, reading: str = "within") -> Text:
    """A place whose pattern is the maker's choice: the proof knows how far it may lie."""
    return shown_as(name, rule_text(mm, unit), reading)


def leg_stops(bench: Bench) -> tuple[Block, ...]:
    """Of several sizes the stop for the legs of each, longest first; nothing for a plain job."""
    sizes = bench.sizes
    if len(sizes) == 1:
        return ()
    # Longest first: what is spoilt at one stop can still become a shorter leg.
    rows = []
    for i in sorted(range(len(sizes)), key=lambda i: -sizes[i].kit.trestle.leg.cut_length_mm):
        leg, legs = sizes[i].kit.trestle.leg, LEGS_PER_TRESTLE * sizes[i].kit.trestle.job.trestles
        lengths = {"cut_length": leg.cut_length_mm, "length": leg.length_mm, "blank": leg.blank_mm}
        figures = (told(f"size.{i + 1}.leg.{key}", mm, "rule", bench.unit) for key, mm in lengths.items())
        rows.append((bench.size_names[i], told(f"size.{i + 1}.batch.legs", legs, "number", bench.unit), *figures))
    head = ("legs for", "how many", "stop, along an arris", "finished", "alone in a board")
    spare = "One more of the longest is the spare: sawn shorter it serves every size."
    if not turns_legs(bench.kit.trestle, bench.kit.shop):
        spare += " Each further leg of a board takes its stop and one saw cut."
    return (Table(head, tuple(rows)), Words(spare))


def batch_counts(bench: Bench) -> tuple[Block, ...]:
    """Of several sizes how often each operation is done, for each and together: a plain job's pages tell it at their
    heads. Then how far the machine cuts and how often it starts, as its files have it.
    """
    job, unit = bench.kit.trestle.job, bench.unit
    blocks: list[Block] = []
    if job.further_sizes:
        joins = [screw.joins for screw in fixings(bench.kit.trestle).screws]
        made = "rout" if bench.kit.shop.routs_housings else "saw and pare"
        a_trestle = {
            "batch.trestles": ("trestles", 1),
            "batch.legs": ("legs to saw, and feet to level", LEGS_PER_TRESTLE),
            "batch.braces": ("braces to saw", BRACES_PER_TRESTLE),
            "batch.housings": (f"housings to {made}", LEGS_PER_TRESTLE),
            "leg_screw.count": ("screws, leg to board", joins.count("leg to board")),
            "brace_screw.count": ("screws, brace to leg", joins.count("brace to leg")),
        }
        columns = [*((f"size.{i}.", size.trestles) for i, size in enumerate(job.sizes, 1)), ("", job.all_trestles)]
        rows = [
            (what, *(told(f"{column}{key}", each * n, "number", unit) for column, n in columns))
            for key, (what, each) in a_trestle.items()
            if each
        ]
        rows.insert(0, ("spares apart", *bench.size_names, "together"))
        if len(columns) > MOST_COLUMNS:  # a row a size, as a page is higher than wide
            rows = list(zip(*rows, strict=True))
        blocks.append(Table(rows[0], tuple(rows[1:])))
    if bench.cuts:
        runs = [
            joined(
                f"; sheet {i}: " if i > 1 else f"sheet {i}: " if len(bench.cuts) > 1 else "",
                shown_as(f"sheets.{i}.cut", run_text(mm, unit), "run"),
                ", ",
                told(f"sheets.{i}.pierces", pierces, "number", unit, "start / starts"),
            )
            for i, (mm, pierces) in enumerate(bench.cuts, 1)
        ]
        blocks.append(Facts((("along the cuts", joined(*runs)),)))
    return tuple(blocks)


def batch_readings(bench: Bench) -> tuple[Block, ...]:
    """A row a trestle, from routing to the finished height; the readings are those that jigmaker level asks for;
    and where each leg stands, where legs were measured.
    """
    feet = tuple(f"gap {foot.name}" for foot in FEET)
    readings = ("width R", "width L", "dry fit", "glued", "height before", *feet, "scribed at", "height after")
    job = bench.kit.trestle.job
    count, of_each = job.all_trestles, zip(job.size_names, job.sizes, strict=True)
    sizes = [name.removeprefix("size ") for name, size in of_each for _ in range(size.trestles)]
    which = [f"{number}: {size}" if job.further_sizes else str(number) for number, size in enumerate(sizes, 1)]
    rows = tuple((trestle, *(BOX,) * len(readings)) for trestle in which[:MOST_ROWS])
    more = f" This page has room for {MOST_ROWS} trestles: copy it for the others." if count > MOST_ROWS else ""
    told = (
        "Width R and L: of the housings, at every fifth board. Gap: from foot to floor once the top is level; "
        f"0 where there is none.{more}"
    )
    blocks = (Table(("trestle", *readings), rows), Words(told))
    places = bench.timber.places if bench.timber else None
    if not places:
        return blocks
    # Legs were measured: which one stands where, and what its housing and the leg itself want.
    seats = [(foot, hand) for hand in "RL" for foot in ("near", "far")]
    at: dict[tuple[int, str, str], LegPlace] = {(leg.trestle, leg.foot, leg.hand): leg for leg in places.legs}
    legs = []
    for number in range(1, bench.kit.trestle.job.trestles + 1):
        cells = [str(number)]
        for leg in (at.get((number, foot, hand)) for foot, hand in seats):
            # A leg's number, with tape and strokes where it has any.
            told_of = (("T", leg.layers), ("S", leg.strokes)) if leg else ()
            wants = [f"{sign}{count}" for sign, count in told_of if count]
            cells.append(" ".join([f"leg {leg.number}", *wants]) if leg else "")
        legs.append(tuple(cells))
    told = "Legs by their numbers; T1: one layer of tape for its housing, S1: one stroke of the plane."
    head = ("trestle", *(f"{foot} {hand}, {'A' if hand == 'R' else 'B'} up" for foot, hand in seats))
    return (*blocks, Table(head, tuple(legs)), Words(told))
