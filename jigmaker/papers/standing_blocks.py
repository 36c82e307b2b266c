"""How a trestle stands, for notes and index: footprint, over which line it tips, stacking.

Lengths in the user's unit; nothing is said of loads, which depend on wood, joints and floor.
"""

from jigmaker.drawing.page import Block, Figures, Heading, Text, Words
from jigmaker.papers.bench import Bench, shown
from jigmaker.papers.facts import joined, shown_as, told
from jigmaker.papers.pictures.footprint import footprint_picture
from jigmaker.papers.wording import rule_text
from jigmaker.stability.stability import stability_of
from jigmaker.stability.stacking import Stacking, stacking_of


def standing_blocks(bench: Bench) -> tuple[Block, ...]:
    """Of each size the footprint with tipping lines, what tips it in two sentences, and how its trestles stack."""
    blocks: list[Block] = []
    for i, (size, name) in enumerate(zip(bench.sizes, bench.size_names, strict=True), 1):
        trestle, own = size.kit.trestle, f"size.{i}." if len(bench.sizes) > 1 else ""
        found = stability_of(trestle)
        end, edge = (
            joined(
                f"the board's {side} lies ",
                told(f"{own}foot.beyond_{side}", abs(mm), "rule", bench.unit),
                " ",
                shown_as(f"{own}standing.{side}", "inside" if mm >= 0 else "outside", ""),
                " the line between the feet",
            )
            for side, mm in (("end", found.end_mm), ("edge", found.side_mm))
        )
        # Above 0 the board lies inside the line over which the trestle tips, below 0 it overhangs that line.
        tips = joined(
            *("On a level floor ", end, " and ", edge),
            "; weight or a push that comes outside that line tips the trestle. It tips sooner on a floor that falls, "
            "and a push at the top counts for more than one lower down: keep weight between the feet.",
        )
        blocks += [
            *((Heading(f"Of {name}"),) if own else ()),
            Figures((shown(footprint_picture(trestle), "Feet from above; it tips over a line between two feet."),)),
            Words(tips),
            Heading("Stacking", within=True),
            Words(_stacked(stacking_of(trestle), size, own)),
        ]
    return tuple(blocks)


def _stacked(stacked: Stacking, bench: Bench, own: str) -> Text:
    """The pitch, what meets, and what room all of one size take. own: what the names of its facts begin with."""
    job, foot, unit = bench.kit.trestle.job, bench.kit.trestle.foot, bench.unit
    nested = (
        f"One put over another stands {rule_text(stacked.pitch_mm, unit)} higher"
        if stacked.is_nested
        else "They do not nest: one only stands on the other's top"
    )
    meets = " and ".join(f"{upper} on {lower}" for upper, lower in stacked.meets)
    room = (
        (
            *(" All ", told(f"{own}batch.trestles", job.trestles, "number", unit)),
            f" in one stack are {rule_text(stacked.stack_mm(job.trestles), unit)} high and take ",
            *(told(f"{own}foot.spread_along", foot.spread_along_mm, "rule", unit), " × "),
            *(
                told(f"{own}foot.spread_across", foot.spread_across_mm, "rule", unit),
                " of floor; two lower stacks are safer ",
            ),
            "than one that is taller than you reach.",
        )
        if job.trestles > 1
        else ()
    )
    return joined(nested, f": {meets}" if meets else "", ".", *room)
