"""How a trestle stands, for notes and index: footprint, over which line it tips, stacking. A Bench in, blocks out.

Lengths in the user's unit; nothing is said of loads, which depend on wood, joints and floor.
"""

from jigmaker.drawing.page import Block, Figures, Heading, Words
from jigmaker.papers.bench import Bench, shown
from jigmaker.papers.pictures.footprint import footprint_picture
from jigmaker.papers.wording import rule_text
from jigmaker.standing.stability import Stability, stability_of
from jigmaker.standing.stacking import Stacking, stacking_of


def standing_blocks(bench: Bench) -> tuple[Block, ...]:
    """Footprint with tipping lines, what tips it in two sentences, and how the batch stacks."""
    trestle = bench.kit.trestle
    return (
        Figures((shown(footprint_picture(trestle), "Feet from above; it tips over a line between two feet."),)),
        Words(_tips(stability_of(trestle), bench)),
        Heading("Stacking", within=True),
        Words(_stacked(stacking_of(trestle), bench)),
    )


def _tips(found: Stability, bench: Bench) -> str:
    parts = []
    for name, mm in (("end", found.end_mm), ("edge", found.side_mm)):
        where = "inside" if mm >= 0 else "outside"
        parts.append(f"the board's {name} lies {rule_text(abs(mm), bench.unit)} {where} the line between the feet")
    return (
        f"On a level floor {' and '.join(parts)}; weight or a push that comes outside that line tips the trestle. It "
        "tips sooner on a floor that falls, and a push at the top counts for more than one lower down: keep weight "
        "between the feet."
    )


def _stacked(stacked: Stacking, bench: Bench) -> str:
    """The pitch, what meets, and what room the whole batch takes."""
    job, foot, unit = bench.kit.trestle.job, bench.kit.trestle.foot, bench.unit
    nested = (
        f"One put over another stands {rule_text(stacked.pitch_mm, unit)} higher"
        if stacked.is_nested
        else "They do not nest: one only stands on the other's top"
    )
    meets = " and ".join(f"{upper} on {lower}" for upper, lower in stacked.meets)
    floor = f"{rule_text(foot.spread_along_mm, unit)} × {rule_text(foot.spread_across_mm, unit)}"
    room = (
        f" All {job.trestles} in one stack are {rule_text(stacked.stack_mm(job.trestles), unit)} high and take {floor} "
        "of floor; two lower stacks are safer than one that is taller than you reach."
        if job.trestles > 1
        else ""
    )
    return f"{nested}{': ' + meets if meets else ''}.{room}"
