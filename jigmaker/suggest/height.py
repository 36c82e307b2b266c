"""How high a trestle is made and what speaks against it: use, body measure, saw and door in, height and Findings out.

Lengths in mm; angles in degrees. Figures in the findings are in the unit the user reads.
"""

from math import asin, degrees

from jigmaker.errors import OutOfRange
from jigmaker.findings import Finding
from jigmaker.record import dataclass
from jigmaker.suggest.uses import COMMON_PRACTICE, BodyMeasure, Use, about_text, band_text, use_named
from jigmaker.trestle.angles import sine
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least, at_most, is_under, limit_finding
from jigmaker.units import Unit, fixed, length_text, round_to_step, round_up, text

SAW_FLAT_DEG, SAW_STEEP_DEG = 60.0, 70.0
"""A rip saw's line of teeth off the timber, flattest and steepest. Common practice, no source."""

SAW_HELD_BACK_MM = 50.0
"""Teeth next to the handle that stay above the timber at the end of a stroke. Common practice, no source."""

LEAST_HEIGHT_MM, MOST_HEIGHT_MM = 300.0, 1200.0
"""Outside of these a height is more likely a slip of units than a trestle. Common practice, no source."""

END_MM = 100.0
"""How far a foot may stand out beyond the board's end before somebody trips over it: along an edge one works with care,
round an end one walks. Common practice, no source."""

DOOR_MM, DOOR_HEIGHT_MM = 760.0, 1980.0
"""A door's clear width and height. Common practice, no source."""

CARRY_MM = 30.0
"""Room for the hands that carry it. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class HeightWish:
    """What a height is chosen from, mm. `height_mm` is the trestle's own and is taken as it is; `body_mm` goes with
    `body`; `laid_on_mm` is the thickness of what lies on the trestle, None for what is usual; `saw_mm` the blade.
    """

    use: Use | None = None
    body: BodyMeasure | None = None
    body_mm: float = 0.0
    height_mm: float | None = None
    laid_on_mm: float | None = None
    saw_mm: float | None = None

    @property
    def meant_for(self) -> Use | None:
        """The use: as named, else the one that the body measure goes with, else None."""
        return self.use or (use_named(self.body.use_key) if self.body else None)


@dataclass(frozen=True, slots=True)
class Height:
    """A chosen height: of the finished trestle and of the work on it, mm, with the reason in one sentence."""

    finished_mm: float
    working_mm: float
    reason: str


def choose_height(wish: HeightWish, unit: Unit) -> Height:
    """The trestle's height: working height less what is laid on it. Raises OutOfRange for what no body measures."""
    laid_on, use = laid_on_mm(wish, unit), wish.meant_for
    less = f", less {length_text(laid_on, unit)} laid on it" if laid_on else ""
    if wish.height_mm is not None:
        return Height(wish.height_mm, wish.height_mm + laid_on, "as asked")
    assert use is not None, "a wish without height, body and use is refused before"
    usual = f"{use.words}: {use.band(unit)} is usual ({use.source})"
    if wish.body is not None:
        body, working, usual = wish.body, wish.body_mm, f"the work at {wish.body.words}"
        if not body.low_mm <= working <= body.high_mm:
            raise OutOfRange(
                f"{body.words} at {length_text(working, unit)} cannot be: people measure "
                f"{band_text(body.low_mm, body.high_mm, unit)} from the floor; measure again, and mind the unit"
            )
        return Height(working - laid_on, working, f"{usual}, {length_text(working, unit)}{less} ({COMMON_PRACTICE})")
    working = use.working_mm(unit)
    finished = round_to_step(working - laid_on, unit)
    reason = f"{usual}; {length_text(working, unit)} to start from{less}"
    if wish.saw_mm is not None and not laid_on:
        raised = round_up(max(finished, saw_reach_mm(wish.saw_mm, SAW_STEEP_DEG)), unit)
        if finished < raised <= use.high_mm:
            return Height(raised, raised, f"{usual}; {length_text(raised, unit)} keeps the saw off the floor")
    return Height(finished, finished + laid_on, reason)


def laid_on_mm(wish: HeightWish, unit: Unit) -> float:
    """The thickness of what lies on the trestle, mm: as told, else what is usual for the use, else nothing."""
    if wish.laid_on_mm is not None:
        return wish.laid_on_mm
    return 0.0 if wish.meant_for is None else wish.meant_for.laid_on_mm(unit)


def saw_reach_mm(saw_mm: float, stroke_deg: float) -> float:
    """How far below the timber's top face a saw's toe comes at the end of its stroke, mm.

    The blade, saw_mm of teeth, slopes `stroke_deg` off the timber, and all but SAW_HELD_BACK_MM of it has gone through.
    """
    return max(0.0, saw_mm - SAW_HELD_BACK_MM) * sine(stroke_deg)


def saw_finding(height_mm: float, saw_mm: float, unit: Unit) -> Finding | None:
    """A caution when a hand saw would hit the floor, with the stroke at which it does. Thin timber is reckoned with."""
    #     \                    At the end of a stroke the toe is the farther below the timber's top face the steeper
    #    __\______ timber      the saw is held: (blade less what stays above) times the sine of the stroke. It hits
    #       \                  the floor where that is more than the trestle is high.
    #    ____\____ floor
    flat, steep = saw_reach_mm(saw_mm, SAW_FLAT_DEG), saw_reach_mm(saw_mm, SAW_STEEP_DEG)
    if not is_under(height_mm, steep):
        return None
    touches = degrees(asin(min(1.0, height_mm / (saw_mm - SAW_HELD_BACK_MM))))
    shorter = height_mm / sine(SAW_STEEP_DEG) + SAW_HELD_BACK_MM
    says = (
        f"a hand saw of {length_text(saw_mm, unit)} held at {text(SAW_FLAT_DEG)} to {text(SAW_STEEP_DEG)} degrees "
        f"reaches {about_text(flat, unit)} to {about_text(steep, unit)} below the timber's top face, and on a "
        f"trestle {{value}} high it hits the floor at any stroke steeper than {fixed(touches, 0)} degrees"
    )
    do = (
        f"make the trestle {at_least(steep, unit)} high or more, saw flatter, or take a saw of at most "
        f"{at_most(shorter, unit)}"
    )
    return limit_finding(321, height_mm, steep, unit, says, do, "job trestle.height", "caution")


def height_findings(height: Height, use: Use | None, unit: Unit) -> list[Finding]:
    """Cautions about a height that is unlikely, or unusual for its use; the first hides the second."""
    finished, working = height.finished_mm, height.working_mm
    if not LEAST_HEIGHT_MM <= finished <= MOST_HEIGHT_MM:
        usual = band_text(LEAST_HEIGHT_MM, MOST_HEIGHT_MM, unit)
        says = f"a trestle {length_text(finished, unit)} high is hardly ever made"
        return [_of_height(324, says, f"{usual} is usual: look at the unit", finished, unit)]
    if use is None or use.low_mm - 0.5 <= round_to_step(working, unit) <= use.high_mm + 0.5:
        return []
    says = f"a working height of {length_text(working, unit)} is unusual for {use.words}"
    return [_of_height(325, says, f"{use.band(unit)} is usual ({use.source})", working, unit)]


def _of_height(code: int, says: str, do: str, mm: float, unit: Unit) -> Finding:
    return Finding(code, says, do, "job trestle.height", value=length_text(mm, unit), severity="caution")


def trip_findings(trestle: Trestle) -> list[Finding]:
    """A caution about feet that stand out beyond the board's end, at the floor. Beyond its edge, the check of the
    trestle's stance says how far a foot may stand out.
    """
    job = trestle.job
    out_mm = (trestle.foot.spread_along_mm - job.top.length_mm) / 2
    if not is_under(END_MM, out_mm):
        return []
    says = "the feet stand out {value} beyond the board's end, more than {limit}, and will be tripped over"
    do = "make the inset larger, or set a steeper rake_deg"
    return [limit_finding(322, out_mm, END_MM, job.unit, says, do, "job trestle.inset", "caution")]


def door_finding(trestle: Trestle, door_mm: float = DOOR_MM) -> Finding | None:
    """A caution when the trestle passes no door of that clear width, whichever way it is carried.

    The rule is that of its box (foot spread along and across, height): turned as suits best, its smallest side goes
    through the width, with CARRY_MM for the hands, and the next one through DOOR_HEIGHT_MM.
    """
    # Carried through a door, a box's longest side points the way one walks; the other two must go through.
    job, foot = trestle.job, trestle.foot
    least, middle, _ = sorted((foot.spread_along_mm, foot.spread_across_mm, job.height_mm))
    if not is_under(door_mm, least + CARRY_MM) and not is_under(DOOR_HEIGHT_MM, middle):
        return None
    box = " × ".join(length_text(mm, job.unit) for mm in (foot.spread_along_mm, foot.spread_across_mm, job.height_mm))
    door = f"{length_text(door_mm, job.unit)} by {length_text(DOOR_HEIGHT_MM, job.unit)}"
    return Finding(
        code=323,
        says=f"the trestle takes {box} and passes no door of {door}, whichever way it is turned",
        do=f"bring the foot spread or the height under {at_most(door_mm - CARRY_MM, job.unit)}",
        key="job trestle.splay_deg",
        value=length_text(least, job.unit),
        limit=length_text(door_mm - CARRY_MM, job.unit),
        severity="caution",
    )
