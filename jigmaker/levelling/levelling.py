"""Levelling one trestle with the foot block: readings and what is wanted in, shims, block and losses out; mm.

The top is levelled on shims, then the block carries a line round every foot at one height over the floor; all below it
is sawn off. The floor must be flat. Feet round the corners as in `feet`.
"""

from collections.abc import Callable
from math import floor

from jigmaker.errors import JobError
from jigmaker.findings import Finding
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.levelling.feet import Four, Soles, alternating, arris_losses, sole_rise_mm
from jigmaker.levelling.level_check import SLIVER_MM, cautions_of, errors_of
from jigmaker.levelling.readings import Measured, Wanted
from jigmaker.parts.foot_block import PLAIN_LAYERS
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH


@dataclass(frozen=True, slots=True)
class Levelling:
    """What to do with one trestle, and what comes of it.

    lengths_mm: the top over each foot's lowest point, as measured. height_mm: finished. sheets: in the block,
    scribing_mm: its height. packing_mm: under the longest leg, and so under every foot; shims_mm: in all, packing
    included, under each foot. losses_mm: upright, at each foot's lowest point; arrises_mm: along the four arrises of
    each foot in the order of feet.ARRISES. rock_before_mm, rock_after_mm: gap under the fourth foot when three stand,
    on a flat floor; after, as scribed. winding_mm: None when it was not measured.
    """

    lengths_mm: Four
    height_mm: float
    sheets: int
    scribing_mm: float
    packing_mm: float
    shims_mm: Four
    losses_mm: Four
    arrises_mm: tuple[Four, Four, Four, Four]
    rock_before_mm: float
    rock_after_mm: float
    winding_mm: float | None
    cautions: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class ErrorGrowth:
    """How far a reading that is 1 mm wrong puts the top off over a foot, mm: read on battens that reach over the feet,
    and read at the board's own edges, from where it is carried out to the feet. The feet stand flat all the same: the
    block scribes them from the floor.
    """

    from_battens: float
    from_board: float


def error_growth(trestle: Trestle) -> ErrorGrowth:
    """From the board the error grows by the feet's spread over the board's width, both across."""
    return ErrorGrowth(1.0, trestle.foot.spread_across_mm / trestle.job.top.width_mm)


def scribing_heights(thickness_mm: float) -> tuple[float, ...]:
    """Every height at which the foot block scribes: its nose alone, then on one plain layer more each, mm."""
    return tuple(count * thickness_mm for count in range(1, PLAIN_LAYERS + 2))


def level(trestle: Trestle, steps: tuple[float, ...], reading: Measured, wanted: Wanted) -> Levelling:
    """Levelling of one trestle; `steps` are the block's heights, as scribing_heights gives them.

    Raises JobError with every rule that is broken: the height is more than the shortest leg gives, the block does not
    reach above the largest gap, a foot would lose less than a saw takes, the block is not high enough.
    """
    height = height_for(trestle, steps, [reading.lengths_mm], wanted)
    return level_to(trestle, steps, reading, height, wanted)


def height_for(trestle: Trestle, steps: tuple[float, ...], lengths: list[Four], wanted: Wanted) -> float:
    """The finished height for all trestles with these lengths, mm: the wanted one; else, with a number of sheets, what
    they leave without packing; else the job's own, or as high as the shortest leg allows when that is lower.
    """
    if wanted.height_mm is not None:
        return wanted.height_mm
    # Without packing the longest leg of all stands on the floor, and the line cuts it at the block's height.
    each = [length for four in lengths for length in four]
    if wanted.sheets is not None and wanted.sheets <= len(steps):
        return max(each) - steps[wanted.sheets - 1]
    most = highest(trestle, lengths, wanted.soles)
    if most > trestle.job.height_mm - TOUCH_MM:
        return trestle.job.height_mm
    # Down to half a millimetre or 1/32 inch: what a rule shows.
    step = 0.5 if trestle.job.unit == "mm" else MM_PER_INCH / 32
    return floor(most / step + TOUCH_MM) * step


def highest(trestle: Trestle, lengths: list[Four], soles: Soles) -> float:
    """The greatest height for all trestles with these lengths: the shortest leg less what a saw must take, mm."""
    shortest = min(length for four in lengths for length in four)
    return shortest - sole_rise_mm(trestle, soles) - SLIVER_MM


def level_to(
    trestle: Trestle, steps: tuple[float, ...], reading: Measured, height_mm: float, wanted: Wanted
) -> Levelling:
    """As `level`, to a height that is settled: one that suits a whole batch."""
    lengths = reading.lengths_mm
    # The fewest sheets whose height is at least what the longest leg loses; all of them when none will do.
    taken = max(lengths) - height_mm
    fewest = next((i for i, step in enumerate(steps, 1) if step > taken - TOUCH_MM), len(steps))
    count = wanted.sheets or fewest
    if errors := errors_of(trestle, steps, lengths, height_mm, count, wanted):
        raise JobError([finding.sentence() for finding in errors])
    # Upwards from the floor at each foot: shim, leg, top. The longest leg stands on the packing alone, the others on
    # so much more as they are shorter, and the block's line lies at its one height over the floor at every foot:
    # what is below the line is sawn off, and makes all legs `height_mm` long.
    packing = max(0.0, steps[count - 1] - (max(lengths) - height_mm))
    losses = _each(lengths, lambda length: length - height_mm)
    first, second, third, fourth = (arris_losses(trestle, loss, wanted.soles) for loss in losses)
    return Levelling(
        lengths_mm=lengths,
        height_mm=height_mm,
        sheets=count,
        scribing_mm=steps[count - 1],
        packing_mm=packing,
        shims_mm=_each(lengths, lambda length: packing + max(lengths) - length),
        losses_mm=losses,
        arrises_mm=(first, second, third, fourth),
        rock_before_mm=abs(alternating(lengths)),
        rock_after_mm=abs(alternating(_each(lengths, lambda length: length - (length - height_mm)))),
        winding_mm=reading.winding_mm,
        cautions=tuple(cautions_of(trestle, reading, height_mm, wanted)),
    )


def _each(lengths: Four, figure: Callable[[float], float]) -> Four:
    first, second, third, fourth = (figure(length) for length in lengths)
    return first, second, third, fourth
