"""Marking out by hand, for a maker without the jig. User's unit."""

from jigmaker.drawing.page import Block, Facts, Heading, Page, Steps, Table, Words
from jigmaker.papers.bench import Bench, size_facts
from jigmaker.papers.facts import Fact, joined, shown_as, tell, told
from jigmaker.papers.wording import off_edge
from jigmaker.trestle.marking import SingleBevel, marking


def marking_pages(bench: Bench) -> tuple[Page, ...]:
    """One page; for boards of several lengths one for each."""
    job, sizes = bench.kit.trestle.job, bench.sizes
    if len({size.top_length_mm for size in job.sizes}) == 1:
        return (marking_page(bench),)
    return tuple(marking_page(size, i) for i, size in enumerate(sizes, 1))


def marking_page(bench: Bench, size: int = 0) -> Page:
    """Every line from one datum end, the gauges and bevels, and what the way with a single bevel costs.

    size: which of several sizes the bench is of, from 1, where their boards differ in length.
    """
    trestle = bench.kit.trestle
    own = f"size.{size}." if size else ""
    found = marking(trestle)
    gauges = tuple(
        (f"gauge, {gauge.face}", told(f"housing.depth_{gauge.face.split()[0]}", gauge.depth_mm, "fine", bench.unit))
        for gauge in found.gauges
    )
    bevels = tuple(
        (bevel.name, joined(shown_as(_BEVELS[i], off_edge(bevel.angle_deg, bevel.off), "angle"), f", {bevel.face}"))
        for i, bevel in enumerate(found.bevels)
    )
    lines = []
    for line in found.exact:
        key = f"marking.{line.face}.{line.wall}.{line.end}".replace(" ", "_")
        start = told(f"{own}{key}.from", line.from_datum_mm, "rule", bench.unit)
        end = told(f"{own}{key}.to", line.to_datum_mm, "rule", bench.unit)
        what = f"{line.what}, {line.end}"
        lines.append((str(line.step), line.face, what, joined(start, f", {line.arris} arris"), end, line.tool))
    blocks: list[Block] = [
        Words(
            "All distances are from the datum end, none is carried on from line to line. Gauge from the edge; both "
            "edges alike, the board turned end for end."
        ),
        Facts((*gauges, *bevels)),
        Heading("Lines in their order"),
        Table(("step", "face", "line", "starts at", "ends at", "with"), tuple(lines)),
        Heading("With one bevel, set to the rake"),
        *_shortcut(found.shortcut, bench),
    ]
    job = trestle.job
    head = [("job", job.name), ("finished height", size_facts(bench)["trestle.height"].text(bench.unit))]
    if size:
        lengths = (("finished height", "trestle.height", job.height_mm), ("top board", "top.length", job.top.length_mm))
        head[1:] = [(what, told(f"{own}{name}", mm, "given", bench.unit)) for what, name, mm in lengths]
    head.append(("datum", "one end and the top face"))
    return Page("Marking housings out by hand", tuple(blocks), tuple(head))


def _shortcut(found: SingleBevel, bench: Bench) -> tuple[Block, ...]:
    """The gap that is left, and the two ways to take it up."""
    if not found.jam_mm and not found.gap_floor_mm:
        return (Words("Here both ways are the same: one bevel serves."),)
    lengths = {
        "marking.gap_floor": found.gap_floor_mm,
        "marking.gap_bottom": found.gap_bottom_mm,
        "marking.jam": found.jam_mm,
        "marking.ease": found.ease_mm,
    }
    angles = {"angles.rake": found.bevel_deg, "angles.edge_twist": found.slant_deg}
    facts = {name: Fact(name, mm, "fine") for name, mm in lengths.items()}
    facts |= {name: Fact(name, deg, "angle") for name, deg in angles.items()}
    costs, *ways = (tell(sentence, facts, bench.unit) for sentence in _SHORTCUT)
    return (Words(costs), Steps(tuple(ways)))


_SHORTCUT = (
    "Walls sawn square across the board at {angles.rake:off the top arris / square} leave {marking.gap_floor} between "
    "leg and near wall at the floor and {marking.gap_bottom} on the bottom arris, and the leg is {marking.jam} too "
    "wide to go in.",
    "Either turn the lines on both faces by {angles.edge_twist:off square / the edge}: {marking.gap_bottom} are then "
    "left on the bottom arris.",
    "Or plane {marking.ease} off the leg's far edge at its inner arris, down to nothing at its outer arris.",
)

_BEVELS = ("angles.edge_line", "angles.edge_twist", "angles.rake")
