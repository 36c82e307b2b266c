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
    job, foot, found = trestle.job, trestle.foot, list[Finding | None]()
    taken = job.top.thickness_mm + job.brace.depth_mm * sine(job.rake_deg)
    if job.height_mm <= taken:
        says = "at a height of {value} the top and the brace under it take {limit} and reach the floor"
        do = f"make the trestle higher than {at_least(taken, job.unit)}, or the brace less deep"
        found.append(limit_finding(301, job.height_mm, taken, job.unit, says, do, "job trestle.height"))
    # Half the spread that is lacking is to be made good at each foot, by a lean whose cotangent is so much more.
    across, along = foot.spread_across_mm, foot.spread_along_mm
    least, lacking = LEAST_SPREAD * job.height_mm, LEAST_SPREAD * job.height_mm - across
    flatter = half_degrees_down(90 - degrees(atan(cotangent(job.splay_deg) + lacking / (2 * job.height_mm))))
    longer = at_least(job.top.length_mm + least - along, job.unit)
    for code, way, spread, do, key in (
        (302, "across", across, f"set the splay to {flatter} or less, or make the top wider", "trestle.splay_deg"),
        (303, "along", along, f"make the top at least {longer} long, or the inset smaller", "top.length"),
    ):
        if is_under(0, least - spread):
            says = (
                f"the feet stand only {{value}} apart {way} the board, less than {LEAST_SPREAD} of the height "
                "({limit}), and the trestle is easily tipped"
            )
            found.append(limit_finding(code, spread, least, job.unit, says, do, f"job {key}", "caution"))
    # Along the board only: across it the feet are never inside the top, as no leg leans inward.
    beyond = (job.top.length_mm - along) / 2
    if is_under(0, beyond):
        inset = at_most(job.inset_mm - beyond, job.unit) if job.inset_mm > beyond else ""
        says = "the top is {value} long and overhangs the feet, which spread {limit}: a load on its end tips it"
        do = (f"make the inset at most {inset}, or " if inset else "") + "lean the legs out more: a smaller rake_deg"
        found.append(limit_finding(304, job.top.length_mm, along, job.unit, says, do, "job trestle.inset", "caution"))
    out_along, out_across = throws_mm(job)
    if job.rake_deg == job.splay_deg:
        found.append(_throw(trestle, out_along, ("rake_deg", "splay_deg"), "both ways"))
    else:
        found.append(_throw(trestle, out_along, ("rake_deg",), "along the board"))
        found.append(_throw(trestle, out_across, ("splay_deg",), "to the side"))
    return [finding for finding in found if finding is not None]


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


def _throw(trestle: Trestle, throw: float, angles: tuple[str, ...], way: str) -> Finding | None:
    job = trestle.job
    # On a low trestle a usual slope puts the foot less than LEAST_OUT_MM out, and it stands well.
    is_short = is_under(throw, min(LEAST_OUT_MM, job.height_mm / LEAN_ONE_IN[-1]))
    if not is_short and not is_under(MOST_OUT_MM, throw):
        return None
    harm = "less than {limit}, and it tips easily" if is_short else "more than {limit}, and is easily stumbled over"
    # The usual slope of 1 in n; where none is steep enough for the height, the angle that stands out as far as may be.
    one_in, usual_deg = lean_for(job.height_mm)
    if job.height_mm * cotangent(usual_deg) > MOST_OUT_MM:
        one_in, usual_deg = 0, ceil(degrees(atan(job.height_mm / MOST_OUT_MM)) * 2) / 2
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
