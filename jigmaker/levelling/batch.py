"""Levelling several trestles to one height: readings of each in, the height that suits all and levellings out; mm."""

from dataclasses import replace
from statistics import median

from jigmaker.errors import JobError
from jigmaker.findings import Finding
from jigmaker.levelling.feet import FEET
from jigmaker.levelling.levelling import Levelling, height_for, highest, level_to
from jigmaker.levelling.readings import Measured, Wanted
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import limit_finding

ODD_SPREADS, LEAST_ODD_MM = 3.5, 15.0
"""A reading so many standard deviations off the others, and this at least, is named. Common practice, no source."""

MUCH_LOWER_MM = 5.0
"""One trestle that brings all the others down by more is named."""


@dataclass(frozen=True, slots=True)
class Batch:
    """One height for all. names: of the trestles, in order; levellings: theirs. highest_mm: how high each could be by
    itself; differ_mm: by how much these differ; shortest: the name of the trestle that decides.
    """

    height_mm: float
    names: tuple[str, ...]
    levellings: tuple[Levelling, ...]
    highest_mm: tuple[float, ...]
    differ_mm: float
    shortest: str
    cautions: tuple[Finding, ...] = ()


def level_batch(trestle: Trestle, steps: tuple[float, ...], readings: dict[str, Measured], wanted: Wanted) -> Batch:
    """All trestles, by name, to one height. Raises JobError with one sentence for each that cannot be.

    Where one reading stands far off all others and they could be levelled without it, only that one is told: it is
    more likely mistyped than all the others wrong.
    """
    # Tried with all of them first: an odd reading may be right, and hurts nothing as long as all can be levelled.
    odd = _odd_ones_out(trestle, readings)
    try:
        batch = _levelled(trestle, steps, readings, wanted)
    except JobError:
        rest = {name: reading for name, reading in readings.items() if name not in odd}
        if not odd or not rest:
            raise
        _levelled(trestle, steps, rest, wanted)  # what is against these is told first
        raise JobError([f"{name}: {finding.sentence()}" for name, finding in odd.items()]) from None
    if batch.cautions:
        odd.pop(batch.shortest, None)  # it is told already, for what it costs the others
    return replace(batch, cautions=(*batch.cautions, *odd.values()))


def _levelled(trestle: Trestle, steps: tuple[float, ...], readings: dict[str, Measured], wanted: Wanted) -> Batch:
    lengths = {name: reading.lengths_mm for name, reading in readings.items()}
    height = height_for(trestle, steps, list(lengths.values()), wanted)
    faults: list[str] = []
    levellings: list[Levelling] = []
    for name, reading in readings.items():
        try:
            levellings.append(level_to(trestle, steps, reading, height, wanted))
        except JobError as error:
            faults += [f"{name}: {fault}" if len(readings) > 1 else fault for fault in error.faults]
    if faults:
        raise JobError(faults)
    each = {name: highest(trestle, [four], wanted.soles) for name, four in lengths.items()}
    shortest, unit, cautions = min(each, key=lambda name: each[name]), trestle.job.unit, list[Finding]()
    # The height may be the shortest trestle's own: told where without it the others could be much higher, though not
    # higher than the job asks for.
    others = min([trestle.job.height_mm, *(high for name, high in each.items() if name != shortest)])
    if len(each) > 1 and height > each[shortest] - 1.0 and others - height > MUCH_LOWER_MM:
        says = f"{shortest} brings all the others down to {{value}}; without it they could be {{limit}} high"
        do = "look whether its readings are right, or let it be lower by itself and level the others to {limit}"
        cautions.append(limit_finding(354, height, others, unit, says, do, severity="caution"))
    return Batch(
        height_mm=height,
        names=tuple(readings),
        levellings=tuple(levellings),
        highest_mm=tuple(each.values()),
        differ_mm=max(each.values()) - min(each.values()),
        shortest=shortest,
        cautions=tuple(cautions),
    )


def _odd_ones_out(trestle: Trestle, readings: dict[str, Measured]) -> dict[str, Finding]:
    """Trestles one of whose feet reads far off the median of all feet, with what to say of each; three at least are
    needed to tell which is odd.
    """
    if len(readings) < 3:
        return {}
    every = [length for reading in readings.values() for length in reading.lengths_mm]
    middle = median(every)
    # 1.4826 times the median of the distances estimates a standard deviation that odd ones do not spoil.
    most = max(LEAST_ODD_MM, ODD_SPREADS * 1.4826 * median(abs(length - middle) for length in every))
    odd = {}
    for name, reading in readings.items():
        foot, length = max(zip(FEET, reading.lengths_mm, strict=True), key=lambda each: abs(each[1] - middle))
        if abs(length - middle) <= most:
            continue
        says = f"its {foot.name} reaches {{value}} below the top, and the feet of all the trestles about {{limit}}"
        do = "measure it again, or look for a slip in its readings; level it by itself if they are right"
        odd[name] = limit_finding(355, length, middle, trestle.job.unit, says, do, severity="caution")
    return odd
