"""A solved trestle in, findings out: whether it reaches the floor, and how widely it stands. Timber frame; mm."""

from math import atan, ceil, degrees

from jigmaker.findings import Finding
from jigmaker.job.job import LEAN_ONE_IN, LEAST_HALF_SPREAD, MOST_OUT_MM, Job, lean_for
from jigmaker.trestle.angles import cotangent, sine
from jigmaker.trestle.foot import throws_mm
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least, at_most, half_degrees_down, is_under, limit_finding
from jigmaker.units import length_text, text

LEAST_OUT_MM = 100.0
"""A foot that stands less far out, on a leg steeper than the steepest usual slope, tips. Common practice, no source."""

LEAST_SPREAD = 2 * LEAST_HALF_SPREAD
"""The narrower foot spread over the height: under this the trestle is easily tipped."""


def check_stance(trestle: Trestle) -> list[Finding]:
    """Faults and cautions of the trestle's stand, in a fixed order."""
    found = (
        _brace_reaches_the_floor(trestle),
        _spread_across(trestle),
        _spread_along(trestle),
        _top_overhangs(trestle),
        *_throws(trestle),
    )
    return [finding for finding in found if finding is not None]


def _brace_reaches_the_floor(trestle: Trestle) -> Finding | None:
    job = trestle.job
    taken = job.top.thickness_mm + job.brace.depth_mm * sine(job.rake_deg)
    if job.height_mm > taken:
        return None
    says = "at a height of {value} the top and the brace under it take {limit} and reach the floor"
    do = f"make the trestle higher than {at_least(taken, job.unit)}, or the brace less deep"
    return limit_finding(301, job.height_mm, taken, job.unit, says, do, "job trestle.height")


def chosen_lean_words(job: Job) -> str:
    """Why a job that gives no angle leans as it does, in two sentences."""
    one_in, angle_deg = lean_for(job.highest_mm, job.housing.reveal_mm)
    out_mm = job.highest_mm * cotangent(angle_deg) + job.housing.reveal_mm / sine(angle_deg)
    slopes = ", ".join(f"1 in {n}" for n in LEAN_ONE_IN)
    most = length_text(MOST_OUT_MM, job.unit)
    is_first = is_under(out_mm, MOST_OUT_MM)
    why = f"the first of {slopes} that keeps it within {most}" if is_first else f"the steepest of {slopes}"
    height = "greatest height" if job.further_sizes else "height"
    return (
        f"{text(angle_deg, 1)}° off the level was chosen from the {height}, for rake and splay alike: a lean of 1 in "
        f"{one_in} puts a foot's outer corner {length_text(out_mm, job.unit)} out, {why}."
    )


def _spread_across(trestle: Trestle) -> Finding | None:
    job = trestle.job
    lacking = LEAST_SPREAD * job.height_mm - trestle.foot.spread_across_mm
    if not is_under(0, lacking):
        return None
    says = (
        f"the feet stand only {{value}} apart across the board, less than {LEAST_SPREAD} of the height ({{limit}}), "
        "and the trestle is easily tipped"
    )
    do = f"set the splay to {_flatter(job.splay_deg, lacking, job.height_mm)} or less, or make the top wider"
    return limit_finding(
        302,
        trestle.foot.spread_across_mm,
        LEAST_SPREAD * job.height_mm,
        job.unit,
        says,
        do,
        "job trestle.splay_deg",
        "caution",
    )


def _spread_along(trestle: Trestle) -> Finding | None:
    job = trestle.job
    lacking = LEAST_SPREAD * job.height_mm - trestle.foot.spread_along_mm
    if not is_under(0, lacking):
        return None
    says = (
        f"the feet stand only {{value}} apart along the board, less than {LEAST_SPREAD} of the height ({{limit}}), "
        "and the trestle is easily tipped"
    )
    do = f"make the top at least {at_least(job.top.length_mm + lacking, job.unit)} long, or the inset smaller"
    return limit_finding(
        303, trestle.foot.spread_along_mm, LEAST_SPREAD * job.height_mm, job.unit, says, do, "job top.length", "caution"
    )


def _top_overhangs(trestle: Trestle) -> Finding | None:
    """Along the board only: across it the feet are never inside the top, as no leg leans inward."""
    job = trestle.job
    beyond = (job.top.length_mm - trestle.foot.spread_along_mm) / 2
    if not is_under(0, beyond):
        return None
    inset = at_most(job.inset_mm - beyond, job.unit) if job.inset_mm > beyond else ""
    says = "the top is {value} long and overhangs the feet, which spread {limit}: a load on its end tips it"
    do = (f"make the inset at most {inset}, or " if inset else "") + "lean the legs out more: a smaller rake_deg"
    return limit_finding(
        304, job.top.length_mm, trestle.foot.spread_along_mm, job.unit, says, do, "job trestle.inset", "caution"
    )


def _throws(trestle: Trestle) -> list[Finding | None]:
    """One caution a direction; one for both where rake and splay are the same angle."""
    along, across = throws_mm(trestle.job)
    if trestle.job.rake_deg == trestle.job.splay_deg:
        return [_throw(trestle, along, ("rake_deg", "splay_deg"), "both ways")]
    return [
        _throw(trestle, along, ("rake_deg",), "along the board"),
        _throw(trestle, across, ("splay_deg",), "to the side"),
    ]


def _throw(trestle: Trestle, throw: float, angles: tuple[str, ...], way: str) -> Finding | None:
    job = trestle.job
    # On a low trestle a usual slope puts the foot less than LEAST_OUT_MM out, and it stands well.
    is_short = is_under(throw, min(LEAST_OUT_MM, job.height_mm / LEAN_ONE_IN[-1]))
    if not is_short and not is_under(MOST_OUT_MM, throw):
        return None
    harm = "less than {limit}, and it tips easily" if is_short else "more than {limit}, and is easily stumbled over"
    one_in, usual_deg = _usual_lean(job)
    says = f"a foot stands {{value}} out {way}, {harm}"
    do = f"set {' and '.join(angles)} to {text(usual_deg, 1)}" + (f", a lean of 1 in {one_in}" if one_in else "")
    return limit_finding(
        305 if is_short else 306,
        throw,
        LEAST_OUT_MM if is_short else MOST_OUT_MM,
        job.unit,
        says,
        do,
        f"job trestle.{angles[0]}",
        "caution",
    )


def _usual_lean(job: Job) -> tuple[int, float]:
    """(n, degrees) of the usual slope of 1 in n; n is 0 where none is steep enough for the height."""
    one_in, usual_deg = lean_for(job.height_mm)
    if job.height_mm * cotangent(usual_deg) <= MOST_OUT_MM:
        return one_in, usual_deg
    return 0, ceil(degrees(atan(job.height_mm / MOST_OUT_MM)) * 2) / 2


def _flatter(angle_deg: float, lacking: float, height: float) -> str:
    """The angle, down to half a degree, that widens a spread by what it lacks at this height."""
    return half_degrees_down(90 - degrees(atan(cotangent(angle_deg) + lacking / (2 * height))))
