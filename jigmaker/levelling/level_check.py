"""What forbids a levelling, and what to mind: lengths over the feet, height and block in, Findings out; mm.

Figures in the findings are in the job's own unit.
"""

from math import degrees, hypot

from jigmaker.findings import Finding
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.levelling.feet import FEET, Four, sole_rise_mm
from jigmaker.levelling.readings import MOST_WINDING_MM, ByBattens, Measured, Wanted
from jigmaker.trestle.angles import stretch
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least, at_most, is_under, limit_finding
from jigmaker.units import length_text, text

SLIVER_MM = 2.0
"""The least that a saw takes off cleanly; thinner slivers are planed or rasped. Common practice, no source."""

MOST_OFF_MM = 25.0
"""A length over a foot that is farther from the job's own was read wrongly, or belongs to another job."""

MOST_TILT_DEG = 1.0
"""A top that stands farther off level is shimmed nearer first: heights are read upright, not square to the top."""


def errors_of(
    trestle: Trestle, steps: tuple[float, ...], lengths: Four, height_mm: float, sheets: int, wanted: Wanted
) -> list[Finding]:
    """What cannot be done: the first rule that is broken, as it is the reason for all others; else nothing."""
    unit = trestle.job.unit
    if not 1 <= sheets <= len(steps):
        most = len(steps)
        return [
            Finding(
                code=341,
                says=f"a foot block of {sheets} sheets cannot be stacked",
                do=f"the kit has a nose and {most - 1} layers: 1 to {most} sheets",
                value=str(sheets),
                limit=str(most),
            )
        ]
    # With the top level `height` stays of every leg, and the line lies `block` over the floor. So the longest leg must
    # have no more to lose than the block is high, and the shortest one at least what a saw takes:
    #
    #     longest - height <= block        shortest - height >= sliver
    rise, block = sole_rise_mm(trestle, wanted.soles), steps[sheets - 1]
    least = min(lengths) - rise
    foot = FEET[lengths.index(min(lengths))].name
    if wanted.sheets is not None and is_under(block, max(lengths) - least):
        gap = max(lengths) - least
        says = (
            f"the scribing height of {{value}} is under the largest gap, {{limit}} under {foot} with the top level: "
            "the line would not meet that foot"
        )
        do = f"stack the block to {at_least(gap + SLIVER_MM, unit)} or more"
        return [limit_finding(342, block, gap, unit, says, do)]
    if is_under(least - height_mm, SLIVER_MM):
        if wanted.height_mm is None and wanted.sheets is not None:
            loss = least - height_mm
            says = f"{foot} would lose only {{value}}, and a saw takes {{limit}} at least"
            do = f"put one layer more into the block than {sheets} {'sheet' if sheets == 1 else 'sheets'}"
            return [limit_finding(343, loss, SLIVER_MM, unit, says, do)]
        return [_too_high(trestle, height_mm, least, foot)]
    if is_under(block, max(lengths) - height_mm):
        return [_too_low(trestle, height_mm, max(lengths), block, rise, is_full=sheets == len(steps))]
    return []


def _too_low(trestle: Trestle, height_mm: float, longest: float, block: float, rise: float, is_full: bool) -> Finding:
    """The block scribes below the line that the longest leg needs. is_full: it has all its layers already."""
    unit = trestle.job.unit
    says = (
        f"the longest leg has {{limit}} to lose for a height of {length_text(height_mm, unit)}, and the block "
        "scribes at {value}"
    )
    saw = f"saw {at_least(longest - height_mm - block, unit)} off every foot first and measure again"
    do = saw if is_full else "put more layers into the block"
    # Far over what the job's legs are made for it is the reading that is in doubt, and no foot is sawn for it.
    if longest > (made := _made_mm(trestle)) + rise + MOST_OFF_MM:
        do = f"measure again, for this job's legs are made for {length_text(made, unit)}; if it is so, {do}"
    do = f"{do}, or ask for {at_least(longest - block, unit)} or more"
    return limit_finding(345, block, longest - height_mm, unit, says, do)


def _made_mm(trestle: Trestle) -> float:
    """How high the top stands over a foot that has its whole trim."""
    job = trestle.job
    return job.height_mm + job.leg.trim_mm / stretch(job.rake_deg, job.splay_deg)


def cautions_of(trestle: Trestle, reading: Measured, height_mm: float, wanted: Wanted) -> list[Finding]:
    """What to mind, in a fixed order."""
    job, unit, found = trestle.job, trestle.job.unit, list[Finding]()
    made = _made_mm(trestle)
    rise = sole_rise_mm(trestle, wanted.soles)
    for foot, length in zip(FEET, reading.lengths_mm, strict=True):
        # A length that this job's legs do not have: the wrong mark read, the wrong unit, another job.
        if not made - MOST_OFF_MM <= length <= made + rise + MOST_OFF_MM:
            says = f"{foot.name} reaches {{value}} below the top, and this job's legs are made for {{limit}}"
            do = "measure again from the floor to the top face, and look whether this is the right job"
            key = "job leg.trim" if length > made else "job trestle.height"
            found.append(limit_finding(346, length, made, unit, says, do, key, "caution"))
    winding = reading.winding_mm
    if winding is not None and is_under(MOST_WINDING_MM, abs(winding)):
        says = (
            "the battens are {value} out of one plane over the feet (up to {limit} is well): the board is in winding, "
            "or a height was misread"
        )
        off = length_text(abs(winding) / 4, unit)
        do = f"sight across the battens; the top is levelled in the mean, each corner {off} off"
        found.append(limit_finding(347, abs(winding), MOST_WINDING_MM, unit, says, do, severity="caution"))
    if isinstance(reading, ByBattens):
        # The tilt of the battens' plane, over the feet.
        near_r, near_l, far_r, far_l = reading.over_mm
        along = (near_r + near_l - far_r - far_l) / 2 / trestle.foot.spread_along_mm
        across = (near_r - near_l - far_r + far_l) / 2 / trestle.foot.spread_across_mm
        tilt_deg = degrees(hypot(along, across))
        if tilt_deg > MOST_TILT_DEG + TOUCH_MM:
            value, limit = f"{text(tilt_deg, 1)}°", f"{text(MOST_TILT_DEG, 1)}°"
            says = f"the top stands {value} off level, more than {limit}"
            do = "shim it nearer to level and measure again: heights are read upright, and the height told is a little "
            do += "short"
            found.append(Finding(348, says, do, value=value, limit=limit, severity="caution"))
    if wanted.height_mm is None and is_under(height_mm, job.height_mm):
        lacking = (job.height_mm - height_mm) * stretch(job.rake_deg, job.splay_deg)
        says = "the trestle is {value} high when its feet are level, and the job asks for {limit}"
        do = f"next time leave at least {at_least(job.leg.trim_mm + lacking, unit)} on the feet"
        found.append(limit_finding(349, height_mm, job.height_mm, unit, says, do, "job leg.trim", "caution"))
    return found


def _too_high(trestle: Trestle, height: float, least: float, foot: str) -> Finding:
    job = trestle.job
    along = (height - least + SLIVER_MM) * stretch(job.rake_deg, job.splay_deg)
    says = (
        f"a height of {{value}} is more than the shortest leg gives: {foot} reaches {length_text(least, job.unit)} "
        f"below the top, and a saw takes {length_text(SLIVER_MM, job.unit)} at least"
    )
    do = (
        f"ask for {at_most(least - SLIVER_MM, job.unit)} or less; next time leave at least "
        f"{at_least(job.leg.trim_mm + along, job.unit)} on the feet (leg.trim in the job)"
    )
    return limit_finding(344, height, least - SLIVER_MM, job.unit, says, do)
