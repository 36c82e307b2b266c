"""Curing a rock where the height does not matter: the foot that hangs and its gap in, pads and the foot to saw out; mm.

On a flat floor a rocking trestle stands on its longer diagonal; one foot of the other hangs. Three equal pads under
all feet but one of the longer diagonal: that one hangs free, its tip the gap below the pads' tops, and is sawn with
the saw lying on the spare pad.
"""

from jigmaker.errors import JobError
from jigmaker.findings import Finding
from jigmaker.levelling.feet import FEET, FootPlace
from jigmaker.levelling.level_check import SLIVER_MM
from jigmaker.levelling.readings import RockOnly
from jigmaker.parts.taper_gauge import THICK_MM
from jigmaker.record import dataclass
from jigmaker.trestle.angles import stretch
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import is_under, limit_finding
from jigmaker.units import length_text


@dataclass(frozen=True, slots=True)
class PadLevelling:
    """hangs: the foot that hangs on the floor. saw: the two feet of which one is sawn, the one where the top stands
    higher; the other three stand on pads. loss_mm: upright, along_mm: along the leg. clear_mm: from the sawn foot's tip
    to the floor while the trestle stands on its pads.
    """

    hangs: FootPlace
    saw: tuple[FootPlace, FootPlace]
    pad_mm: float
    loss_mm: float
    along_mm: float
    clear_mm: float
    rock_before_mm: float
    rock_after_mm: float
    cautions: tuple[Finding, ...] = ()


def level_on_pads(trestle: Trestle, pad_mm: float, reading: RockOnly) -> PadLevelling:
    """What to saw. Raises JobError when the gap is none, or as thick as a pad or thicker: the tip would touch."""
    gap, unit = reading.gap_mm, trestle.job.unit
    if gap == 0:
        raise JobError(f"the rocking gap is {length_text(0, unit)}: the feet stand in one plane already")
    if not is_under(gap, pad_mm):
        says = "the rocking gap of {value} is not less than a pad ({limit}): the foot to saw would touch the floor"
        do = "level the top on shims and scribe all four feet with the block: give --top and what is under each foot"
        raise JobError(limit_finding(351, gap, pad_mm, unit, says, do).sentence())
    # Feet are told round the corners, so the neighbours of the one that hangs are the diagonal it stands on. One of
    # these two is too long by the whole gap: on three pads it hangs free, and is sawn flush with their tops.
    #
    #     far R ---- far L        hangs: near R
    #       |    /     |          stands on: near L and far L, one of which loses the gap
    #     near L --- near R
    found = list[Finding]()
    if is_under(gap, SLIVER_MM):
        says = "{value} is less than the {limit} that a saw takes off cleanly"
        do = "plane or rasp the foot down to the spare pad's top, or level all four feet with the block"
        found.append(limit_finding(352, gap, SLIVER_MM, unit, says, do, severity="caution"))
    if is_under(THICK_MM, gap):
        ends, read = length_text(THICK_MM, unit), length_text(gap, unit)
        says = f"the taper gauge ends at {ends}, so {read} was read another way"
        do = "lay a pad or a shim of known thickness under the gauge, and add it"
        found.append(Finding(353, says, do, value=read, limit=ends, severity="caution"))
    at = [foot.key for foot in FEET].index(reading.hangs)
    return PadLevelling(
        hangs=FEET[at],
        saw=(FEET[(at + 1) % 4], FEET[(at + 3) % 4]),
        pad_mm=pad_mm,
        loss_mm=gap,
        along_mm=gap * stretch(trestle.job.rake_deg, trestle.job.splay_deg),
        clear_mm=pad_mm - gap,
        rock_before_mm=gap,
        rock_after_mm=0.0,
        cautions=tuple(found),
    )
