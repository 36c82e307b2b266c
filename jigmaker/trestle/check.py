"""A solved trestle in, findings out: whether its joints can be cut and will hold. Timber frame; mm, degrees.

How it stands is judged in `stance`. Figures in the findings are in the job's own unit.
"""

from collections.abc import Iterator

from jigmaker.findings import Finding, Severity
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
    across, along = _wood_across(trestle), _wood_along(trestle)
    return [*across, *along, *_clearance(trestle), *check_stance(trestle)]


def _wood_across(trestle: Trestle) -> Iterator[Finding]:
    """How deep a housing is in the bottom face, and what two opposite ones leave between them in the top face."""
    job, housing = trestle.job, trestle.housing
    # The floor slopes outward going down; too thin a leg or too thick a board and it comes out of the edge.
    depth = housing.depth_bottom_mm
    if is_under(depth, LEAST_BOTTOM_DEPTH_MM):
        run = job.top.thickness_mm * cotangent(job.splay_deg)
        leg = (LEAST_BOTTOM_DEPTH_MM + run) * sine(job.splay_deg) + job.housing.reveal_mm
        # The other way out, when there is one.
        room, thinner = housing.depth_top_mm - LEAST_BOTTOM_DEPTH_MM, ""
        if room > 0 and job.splay_deg != 90:
            thinner = f"the top at most {at_most(room / cotangent(job.splay_deg), job.unit)} thick, "
        reached = "is only {value} deep in" if depth >= 0 else "comes out of the edge before it reaches"
        says = f"the housing runs out: it {reached} the board's bottom face, and needs {{limit}} there"
        do = f"make the leg at least {at_least(leg, job.unit)} thick, {thinner}or the splay steeper"
        yield limit_finding(402, depth, LEAST_BOTTOM_DEPTH_MM, job.unit, says, do, "job leg.thickness")
    left = job.top.width_mm - 2 * housing.depth_top_mm
    if is_under(left, LEAST_BETWEEN_MM):
        says = "two opposite housings leave {value} of wood between them in the top face, at least {limit} must stay"
        if left <= 0:
            says = (
                "two opposite housings meet in the middle of the board, at least {limit} of wood must stay between them"
            )
        leg = (job.top.width_mm - LEAST_BETWEEN_MM) / 2 * sine(job.splay_deg) + job.housing.reveal_mm
        thinner = f" or the leg at most {at_most(leg, job.unit)} thick" if leg > 0 else ""
        do = f"make the top at least {at_least(job.top.width_mm + LEAST_BETWEEN_MM - left, job.unit)} wide{thinner}"
        yield limit_finding(403, left, LEAST_BETWEEN_MM, job.unit, says, do, "job top.width")
    elif is_under(left, WANTED_BETWEEN_MM):
        reveal = job.housing.reveal_mm + (WANTED_BETWEEN_MM - left) / 2 * sine(job.splay_deg)
        prouder = f", or the reveal at least {at_least(reveal, job.unit)}" if reveal <= MOST_REVEAL_MM else ""
        says = (
            "only {value} of wood stays between two opposite housings in the top face; better {limit}, or the board "
            "may split along its middle"
        )
        do = f"make the top at least {at_least(job.top.width_mm + WANTED_BETWEEN_MM - left, job.unit)} wide{prouder}"
        yield limit_finding(409, left, WANTED_BETWEEN_MM, job.unit, says, do, "job top.width", "caution")


def _wood_along(trestle: Trestle) -> Iterator[Finding]:
    """Where the brace comes, and what wood stays to the board's end and between the housings of the two ends."""
    job, back = trestle.job, trestle.brace.stand_back_mm
    if is_under(back, 0):
        says = "the brace would stand out {value} beyond the board's end"
        do = f"make the inset at least {at_least(job.inset_mm - back, job.unit)}, or the brace thinner"
        yield limit_finding(404, -back, 0, job.unit, says, do, "job trestle.inset")
    # The near wall leans toward the board's end going down, so the bottom arris has the least wood.
    wood = trestle.housing.start_bottom_mm
    if is_under(wood, WANTED_END_WOOD_MM):
        is_error = is_under(wood, LEAST_END_WOOD_MM)
        least = LEAST_END_WOOD_MM if is_error else WANTED_END_WOOD_MM
        says = "only {value} of wood stays between the housing and the board's end at the bottom arris"
        if wood <= 0:
            says = "the housing runs off the board's end at the bottom arris"
        says = f"{says}; {'at least' if is_error else 'better'} {{limit}}, or the end may split off"
        do = f"make the inset at least {at_least(job.inset_mm + least - wood, job.unit)}"
        code = 407 if wood <= 0 else 405 if is_error else 406
        level: Severity = "error" if is_error else "caution"
        yield limit_finding(code, wood, least, job.unit, says, do, "job trestle.inset", level)
    left = between_ends_mm(trestle)
    if is_under(left, LEAST_BETWEEN_MM):
        says = "the housings of the two ends leave {value} of wood between them, at least {limit} must stay"
        if left <= 0:
            says = "the housings of the two ends run into each other, at least {limit} of wood must stay between them"
        inset = job.inset_mm - (LEAST_BETWEEN_MM - left) / 2
        nearer = f" or the inset at most {at_most(inset, job.unit)}" if inset > 0 else ""
        do = f"make the top at least {at_least(job.top.length_mm + LEAST_BETWEEN_MM - left, job.unit)} long{nearer}"
        yield limit_finding(408, left, LEAST_BETWEEN_MM, job.unit, says, do, "job trestle.inset")


def _clearance(trestle: Trestle) -> Iterator[Finding]:
    """Too tight or too wide for the kind of joint; 0 is asked for on purpose, and then a leg is planed to fit."""
    job, fit = trestle.job, trestle.job.housing
    least, most = CLEARANCE_WINDOW_MM[fit.joint]
    is_tight = is_under(fit.clearance_mm, least)
    if not is_tight and not is_under(most, fit.clearance_mm):
        return
    harm = {
        ("glued", True): "a leg goes in with a mallet, or not at all",
        ("glued", False): "the glue has a gap to fill, and does not hold",
        ("dry", True): "a leg that has swollen does not come out again",
        ("dry", False): "the legs rattle",
    }[fit.joint, is_tight]
    limit, too = (least, "less") if is_tight else (most, "more")
    says = f"a clearance of {{value}} is {too} than {{limit}} for a {fit.joint} joint: {harm}"
    usual = length_text(CLEARANCE_MM[fit.joint], job.unit)
    do = f"set it to {usual}" + (', or the joint to "dry"' if fit.joint == "glued" and not is_tight else "")
    yield limit_finding(410, fit.clearance_mm, limit, job.unit, says, do, "job housing.clearance", "caution")


def between_ends_mm(trestle: Trestle) -> float:
    """The least wood along one edge between the housings of the two ends, mm: in the top face, at the floors' lines."""
    housing, job = trestle.housing, trestle.job
    # Seen on the top face the walls turn inward from the edge by the twist, toward the middle of the board.
    inward = housing.depth_top_mm * tangent(trestle.angles.edge_twist_deg)
    return job.top.length_mm - 2 * (housing.start_top_mm + housing.width_on_arris_mm + inward)
