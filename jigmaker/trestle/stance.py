"""A solved trestle in, findings out: whether it reaches the floor, and how widely it stands. Timber frame; mm."""

from math import atan, degrees

from jigmaker.findings import Finding
from jigmaker.trestle.angles import cotangent, sine
from jigmaker.trestle.foot import throws_mm
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.wording import at_least, at_most, compared, half_degrees_down, is_under
from jigmaker.units import length_text, text

LEAST_THROW_MM, WANTED_THROW_MM, MOST_THROW_MM = 100.0, 160.0, 220.0
"""How far a foot stands out from its own head: less tips, more is stumbled over. Common practice, no source."""


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
    value, limit = compared(job.height_mm, taken, job.unit)
    return Finding(
        code=301,
        says=f"at a height of {value} the top and the brace under it take {limit} and reach the floor",
        do=f"make the trestle higher than {at_least(taken, job.unit)}, or the brace less deep",
        key="job trestle.height",
        value=value,
        limit=limit,
    )


def _spread_across(trestle: Trestle) -> Finding | None:
    job = trestle.job
    lacking = job.height_mm / 3 - trestle.foot.spread_across_mm
    if not is_under(0, lacking):
        return None
    value, limit = compared(trestle.foot.spread_across_mm, job.height_mm / 3, job.unit)
    return Finding(
        code=302,
        says=f"the feet stand only {value} apart across the board, less than a third of the height ({limit})",
        do=f"set the splay to {_flatter(job.splay_deg, lacking, job.height_mm)} or less, or make the top wider",
        key="job trestle.splay_deg",
        value=value,
        limit=limit,
        severity="caution",
    )


def _spread_along(trestle: Trestle) -> Finding | None:
    job = trestle.job
    lacking = job.height_mm / 3 - trestle.foot.spread_along_mm
    if not is_under(0, lacking):
        return None
    value, limit = compared(trestle.foot.spread_along_mm, job.height_mm / 3, job.unit)
    return Finding(
        code=303,
        says=f"the feet stand only {value} apart along the board, less than a third of the height ({limit})",
        do=f"make the top at least {at_least(job.top.length_mm + lacking, job.unit)} long, or the inset smaller",
        key="job top.length",
        value=value,
        limit=limit,
        severity="caution",
    )


def _top_overhangs(trestle: Trestle) -> Finding | None:
    """Along the board only: across it the feet are never inside the top, as no leg leans inward."""
    job = trestle.job
    beyond = (job.top.length_mm - trestle.foot.spread_along_mm) / 2
    if not is_under(0, beyond):
        return None
    value, limit = compared(job.top.length_mm, trestle.foot.spread_along_mm, job.unit)
    inset = at_most(job.inset_mm - beyond, job.unit) if job.inset_mm > beyond else ""
    return Finding(
        code=304,
        says=f"the top is {value} long and overhangs the feet, which spread {limit}: a load on its end tips it",
        do=(f"make the inset at most {inset}, or " if inset else "") + "lean the legs out more: a smaller rake_deg",
        key="job trestle.inset",
        value=value,
        limit=limit,
        severity="caution",
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
    is_short = is_under(throw, LEAST_THROW_MM)
    if not is_short and not is_under(MOST_THROW_MM, throw):
        return None
    value, limit = compared(throw, LEAST_THROW_MM if is_short else MOST_THROW_MM, job.unit)
    harm = f"less than {limit}, and it tips easily" if is_short else f"more than {limit}, and is easily stumbled over"
    usual = max(60.0, degrees(atan(job.height_mm / WANTED_THROW_MM)))  # no angle under 60 is taken
    return Finding(
        code=305 if is_short else 306,
        says=f"a foot stands {value} out {way}, {harm}",
        do=f"set {' and '.join(angles)} to {text(round(usual * 2) / 2, 1)}; "
        f"a foot about {length_text(WANTED_THROW_MM, job.unit)} out is usual",
        key=f"job trestle.{angles[0]}",
        value=value,
        limit=limit,
        severity="caution",
    )


def _flatter(angle_deg: float, lacking: float, height: float) -> str:
    """The angle, down to half a degree, that widens a spread by what it lacks at this height."""
    return half_degrees_down(90 - degrees(atan(cotangent(angle_deg) + lacking / (2 * height))))
