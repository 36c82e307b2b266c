"""How a trestle stands, for notes and index: footprint, what lifts a foot, stacking. A Bench in, blocks out.

Lengths in the user's unit; a load that tips is told, never one that is borne.
"""

from jigmaker.drawing.page import Block, Figures, Heading, Table, Words
from jigmaker.papers.bench import Bench, shown
from jigmaker.papers.pictures.footprint import footprint_picture
from jigmaker.papers.wording import off_level
from jigmaker.standing.stability import Stability, Tipping, stability_of
from jigmaker.standing.stacking import Stacking, stacking_of
from jigmaker.units import Unit, fixed, text


def standing_blocks(bench: Bench) -> tuple[Block, ...]:
    """Footprint with tipping lines, what lifts a foot on three floors, and how trestles stack."""
    trestle, unit = bench.kit.trestle, bench.unit
    found = stability_of(trestle)
    return (
        Figures((shown(footprint_picture(trestle), "Feet from above; it tips over a line between two feet."),)),
        Words(_reach(found, bench)),
        Heading("What lifts a foot"),
        Table(
            ("over the feet of", "floor", "load at the middle of the board's end or edge", "push at the top"),
            tuple(_tipping(tipping, unit) for tipping in found.tippings),
        ),
        Words(
            f"Reckoned for {found.species}, the lightest wood in the table, {_weight(found, unit)} a trestle, the "
            "floor falling toward the line. A heavier trestle tips later. Feet are taken not to slide and joints not "
            "to give; whether wood and joints bear such a load is another question, which is not answered here."
        ),
        Heading("Stacking"),
        Words(_stacked(stacking_of(trestle), bench)),
    )


def _stacked(stacked: Stacking, bench: Bench) -> str:
    nested = (
        f"One put over another stands {bench.length(round(stacked.pitch_mm, 1))} higher"
        if stacked.is_nested
        else "They do not nest: one only stands on the other's top"
    )
    meets = " and ".join(f"{upper} on {lower}" for upper, lower in stacked.meets)
    return f"{nested}{': ' + meets if meets else ''}."


def _reach(found: Stability, bench: Bench) -> str:
    parts = []
    for name, mm in (("end", found.end_mm), ("edge", found.side_mm)):
        where = "inside" if mm >= 0 else "outside"
        parts.append(f"the board's {name} lies {bench.length(abs(round(mm, 1)))} {where} the line between the feet")
    return f"On a level floor {' and '.join(parts)}. Height over the narrower spread: {fixed(found.slenderness, 2)}."


def _tipping(tipping: Tipping, unit: Unit) -> tuple[str, ...]:
    floor = "level" if tipping.slope_deg == 0 else off_level(tipping.slope_deg)
    if tipping.load_kg is None:
        load = "none does: it presses the feet down"
    elif tipping.load_kg == 0:
        load = "tips by itself"
    else:
        load = _mass(tipping.load_kg, unit)
    return (f"one {tipping.way}", floor, load, _force(tipping.push_n, unit))


def _weight(found: Stability, unit: Unit) -> str:
    return _mass(found.weight.mass_kg, unit)


def _mass(kg: float, unit: Unit) -> str:
    """1 lb is 0.45359237 kg by definition (international yard and pound agreement, 1959)."""
    return f"{text(kg, 1)} kg" if unit == "mm" else f"{text(kg / 0.45359237, 1)} lb"


def _force(newton: float, unit: Unit) -> str:
    """1 lbf is a pound under standard gravity: 4.4482216 N."""
    return f"{text(newton, 0)} N" if unit == "mm" else f"{text(newton / 4.4482216, 1)} lbf"
