"""Marking out by hand, for a maker without the jig: a Bench in, a Page out; lengths in the user's unit."""

from jigmaker.drawing.page import Block, Facts, Heading, Page, Steps, Table, Words
from jigmaker.papers.bench import Bench
from jigmaker.papers.wording import off_edge, off_square
from jigmaker.trestle.marking import MarkingLine, SingleBevel, marking


def marking_page(bench: Bench) -> Page:
    """Every line from one datum end, the gauges and bevels, and what the way with a single bevel costs."""
    trestle = bench.kit.trestle
    found = marking(trestle)
    gauges = tuple((f"gauge, {gauge.face}", bench.length(gauge.depth_mm)) for gauge in found.gauges)
    bevels = tuple((bevel.name, f"{off_edge(bevel.angle_deg, bevel.off)}, {bevel.face}") for bevel in found.bevels)
    blocks: list[Block] = [
        Words(
            "All distances are from the datum end, none is carried on from line to line. Gauge from the edge; both "
            "edges alike, the board turned end for end."
        ),
        Facts((*gauges, *bevels)),
        Heading("Lines in their order"),
        _lines(found.exact, bench),
        Heading("With one bevel, set to the rake"),
        *_shortcut(found.shortcut, bench),
    ]
    job = trestle.job
    head = (("job", job.name), ("finished height", bench.length(job.height_mm)), ("datum", "one end and the top face"))
    return Page("Marking housings out by hand", tuple(blocks), head)


def _lines(lines: tuple[MarkingLine, ...], bench: Bench) -> Table:
    rows = tuple(
        (
            str(line.step),
            line.face,
            f"{line.what}, {line.end}",
            f"{bench.length(line.from_datum_mm)}, {line.arris} arris",
            bench.length(line.to_datum_mm),
            line.tool,
        )
        for line in lines
    )
    return Table(("step", "face", "line", "starts at", "ends at", "with"), rows)


def _shortcut(found: SingleBevel, bench: Bench) -> tuple[Block, ...]:
    """The gap that is left, and the two ways to take it up."""
    floor, arris, jam, ease = (
        bench.length(mm) for mm in (found.gap_floor_mm, found.gap_bottom_mm, found.jam_mm, found.ease_mm)
    )
    if not found.jam_mm and not found.gap_floor_mm:
        return (Words("Here both ways are the same: one bevel serves."),)
    return (
        Words(
            f"Walls sawn square across the board at {off_edge(found.bevel_deg, 'the top arris')} leave {floor} between "
            f"leg and near wall at the floor and {arris} on the bottom arris, and the leg is {jam} too wide to go in."
        ),
        Steps(
            (
                f"Either turn the lines on both faces by {off_square(found.slant_deg, 'the edge')}: "
                f"{bench.length(found.slant_left_mm)} are then left on the bottom arris.",
                f"Or plane {ease} off the leg's far edge at its inner arris, down to nothing at its outer arris.",
            )
        ),
    )
