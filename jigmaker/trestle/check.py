"""A solved trestle in, findings out: whether its joints can be cut and will hold. Timber frame; mm, degrees.

How it stands is judged in `stance`. Figures in the findings are in the job's own unit.
"""

from jigmaker.findings import Finding
from jigmaker.job.job import CLEARANCE_MM, CLEARANCE_WINDOW_MM
from jigmaker.job.rules import section_of
from jigmaker.job.sections import JOB
from jigmaker.trestle.angles import cotangent, sine, tangent
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.stance import check_stance
from jigmaker.trestle.wording import at_least, at_most, is_under, limit_finding
from jigmaker.units import length_text

LEAST_BOTTOM_DEPTH_MM = 3.0
"""A housing shallower than this in the bottom face has run out: no shoulder is left for the leg."""

LEAST_BETWEEN_MM, WANTED_BETWEEN_MM = 12.0, 20.0
"""Wood between two opposite housings: the first must stay, under the second the board is easily split along its middle.
Common practice, no source.
"""

MOST_REVEAL_MM = section_of(JOB, "housing").rule("reveal").high

LEAST_END_WOOD_MM = 38.0
WANTED_END_WOOD_MM = 75.0
"""Wood between housing and board end at the bottom arris: under the first it splits off, under the second it may."""


def check_trestle(trestle: Trestle) -> list[Finding]:
    """Every fault and caution of the trestle, in a fixed order; an empty list when there is none."""
    if trestle.housing.depth_square_mm <= 0:
        # Every figure of a housing without depth would only repeat this one fault in other words.
        job = trestle.job
        says = "a reveal of {value} on a leg {limit} thick leaves no housing at all"
        do = "make it less than {limit}; 0 puts the leg flush with the board's top arris"
        return [
            limit_finding(401, job.housing.reveal_mm, job.leg.thickness_mm, job.unit, says, do, "job housing.reveal"),
            *check_stance(trestle),
        ]
    found = (
        _housing_runs_out(trestle),
        _opposite_housings_meet(trestle),
        _brace_stands_out(trestle),
        _end_wood(trestle),
        _ends_meet(trestle),
        _clearance(trestle),
    )
    return [finding for finding in found if finding is not None] + check_stance(trestle)


def _housing_runs_out(trestle: Trestle) -> Finding | None:
    """The floor slopes outward going down; too thin a leg or too thick a board and it comes out of the edge."""
    job, depth = trestle.job, trestle.housing.depth_bottom_mm
    if not is_under(depth, LEAST_BOTTOM_DEPTH_MM):
        return None
    run = job.top.thickness_mm * cotangent(job.splay_deg)
    leg = (LEAST_BOTTOM_DEPTH_MM + run) * sine(job.splay_deg) + job.housing.reveal_mm
    reached = "is only {value} deep in" if depth >= 0 else "comes out of the edge before it reaches"
    says = f"the housing runs out: it {reached} the board's bottom face, and needs {{limit}} there"
    do = f"make the leg at least {at_least(leg, job.unit)} thick, {_thinner_top(trestle)}or the splay steeper"
    return limit_finding(402, depth, LEAST_BOTTOM_DEPTH_MM, job.unit, says, do, "job leg.thickness")


def _thinner_top(trestle: Trestle) -> str:
    """The other way out, when there is one: the board's greatest thickness, as part of a sentence."""
    room = trestle.housing.depth_top_mm - LEAST_BOTTOM_DEPTH_MM
    if room <= 0 or trestle.job.splay_deg == 90:
        return ""
    return f"the top at most {at_most(room / cotangent(trestle.job.splay_deg), trestle.job.unit)} thick, "


def _opposite_housings_meet(trestle: Trestle) -> Finding | None:
    job, depth = trestle.job, trestle.housing.depth_top_mm
    left = job.top.width_mm - 2 * depth
    if not is_under(left, LEAST_BETWEEN_MM):
        return _little_wood_between(trestle, left) if is_under(left, WANTED_BETWEEN_MM) else None
    says = "two opposite housings leave {value} of wood between them in the top face, at least {limit} must stay"
    if left <= 0:
        says = "two opposite housings meet in the middle of the board, at least {limit} of wood must stay between them"
    leg = (job.top.width_mm - LEAST_BETWEEN_MM) / 2 * sine(job.splay_deg) + job.housing.reveal_mm
    thinner = f" or the leg at most {at_most(leg, job.unit)} thick" if leg > 0 else ""
    do = f"make the top at least {at_least(2 * depth + LEAST_BETWEEN_MM, job.unit)} wide{thinner}"
    return limit_finding(403, left, LEAST_BETWEEN_MM, job.unit, says, do, "job top.width")


def _little_wood_between(trestle: Trestle, left: float) -> Finding:
    job = trestle.job
    reveal = job.housing.reveal_mm + (WANTED_BETWEEN_MM - left) / 2 * sine(job.splay_deg)
    prouder = f", or the reveal at least {at_least(reveal, job.unit)}" if reveal <= MOST_REVEAL_MM else ""
    says = (
        "only {value} of wood stays between two opposite housings in the top face; better {limit}, or the board "
        "may split along its middle"
    )
    do = f"make the top at least {at_least(job.top.width_mm + WANTED_BETWEEN_MM - left, job.unit)} wide{prouder}"
    return limit_finding(409, left, WANTED_BETWEEN_MM, job.unit, says, do, "job top.width", "caution")


def _brace_stands_out(trestle: Trestle) -> Finding | None:
    job, back = trestle.job, trestle.brace.stand_back_mm
    if not is_under(back, 0):
        return None
    says = "the brace would stand out {value} beyond the board's end"
    do = f"make the inset at least {at_least(job.inset_mm - back, job.unit)}, or the brace thinner"
    return limit_finding(404, -back, 0, job.unit, says, do, "job trestle.inset")


def _end_wood(trestle: Trestle) -> Finding | None:
    """The near wall leans toward the board's end going down, so the bottom arris has the least wood."""
    job, wood = trestle.job, trestle.housing.start_bottom_mm
    if not is_under(wood, WANTED_END_WOOD_MM):
        return None
    is_error = is_under(wood, LEAST_END_WOOD_MM)
    least = LEAST_END_WOOD_MM if is_error else WANTED_END_WOOD_MM
    says = "only {value} of wood stays between the housing and the board's end at the bottom arris"
    if wood <= 0:
        says = "the housing runs off the board's end at the bottom arris"
    says = f"{says}; {'at least' if is_error else 'better'} {{limit}}, or the end may split off"
    do = f"make the inset at least {at_least(job.inset_mm + least - wood, job.unit)}"
    return limit_finding(
        407 if wood <= 0 else 405 if is_error else 406,
        wood,
        least,
        job.unit,
        says,
        do,
        "job trestle.inset",
        "error" if is_error else "caution",
    )


def _ends_meet(trestle: Trestle) -> Finding | None:
    job = trestle.job
    left = between_ends_mm(trestle)
    if not is_under(left, LEAST_BETWEEN_MM):
        return None
    says = "the housings of the two ends leave {value} of wood between them, at least {limit} must stay"
    if left <= 0:
        says = "the housings of the two ends run into each other, at least {limit} of wood must stay between them"
    inset = job.inset_mm - (LEAST_BETWEEN_MM - left) / 2
    nearer = f" or the inset at most {at_most(inset, job.unit)}" if inset > 0 else ""
    do = f"make the top at least {at_least(job.top.length_mm + LEAST_BETWEEN_MM - left, job.unit)} long{nearer}"
    return limit_finding(408, left, LEAST_BETWEEN_MM, job.unit, says, do, "job trestle.inset")


def _clearance(trestle: Trestle) -> Finding | None:
    """Too tight or too wide for the kind of joint; 0 is asked for on purpose, and then a leg is planed to fit."""
    job, fit = trestle.job, trestle.job.housing
    least, most = CLEARANCE_WINDOW_MM[fit.joint]
    is_tight = is_under(fit.clearance_mm, least)
    if not is_tight and not is_under(most, fit.clearance_mm):
        return None
    harm = {
        ("glued", True): "a leg goes in with a mallet, or not at all",
        ("glued", False): "the glue has a gap to fill, and does not hold",
        ("dry", True): "a leg that has swollen does not come out again",
        ("dry", False): "the legs rattle",
    }[fit.joint, is_tight]
    usual = length_text(CLEARANCE_MM[fit.joint], job.unit)
    says = (
        f"a clearance of {{value}} is {'less' if is_tight else 'more'} than {{limit}} for a {fit.joint} joint: {harm}"
    )
    do = f"set it to {usual}" + (', or the joint to "dry"' if fit.joint == "glued" and not is_tight else "")
    return limit_finding(
        410, fit.clearance_mm, least if is_tight else most, job.unit, says, do, "job housing.clearance", "caution"
    )


def between_ends_mm(trestle: Trestle) -> float:
    """The least wood along one edge between the housings of the two ends, mm: in the top face, at the floors' lines."""
    housing, job = trestle.housing, trestle.job
    # Seen on the top face the walls turn inward from the edge by the twist, toward the middle of the board.
    inward = housing.depth_top_mm * tangent(trestle.angles.edge_twist_deg)
    return job.top.length_mm - 2 * (housing.start_top_mm + housing.width_on_arris_mm + inward)
