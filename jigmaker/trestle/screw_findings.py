"""A solved trestle and its screw patterns in, cautions out wherever a pattern had to give way; figures as text.

None of them forbids the job: glue holds a leg in its housing, and a user may know better screws.
"""

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.trestle.angles import cosine, sine
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.screw_pattern import HOLD_MM, BracePattern, LegPattern
from jigmaker.trestle.screw_places import EDGE_MM, penetration_mm
from jigmaker.trestle.wording import at_least, is_under
from jigmaker.units import length_text


def screw_findings(trestle: Trestle, legs: LegPattern | None, braces: BracePattern | None) -> tuple[Finding, ...]:
    """Cautions in a fixed order; none when both patterns are as they should be."""
    return tuple(finding for found in (_legs(trestle, legs), _braces(trestle, braces)) for finding in found)


def _caution(code: int, says: str, do: str, key: str, part: str) -> Finding:
    return Finding(code=code, says=says, do=do, key=key, part=part, severity="caution")


def _legs(trestle: Trestle, pattern: LegPattern | None) -> Iterator[Finding]:
    unit = trestle.job.unit
    if pattern is None:
        says = "no screw through a leg finds wood enough in the board"
        wanted = _board_wanted(trestle)
        thicker = "" if wanted is None else f"{wanted} thick or more and "
        do = f"glue the legs and leave the screws out, or make the top {thicker}wider"
        yield _caution(421, says, do, "job top.thickness", "leg")
        return
    hold = penetration_mm(trestle, pattern.size)
    if is_under(pattern.margin_mm, EDGE_MM):
        says = f"a leg's screws keep only {length_text(pattern.margin_mm, unit)} to an edge, {_edge(trestle)} is usual"
        wanted = _board_wanted(trestle)
        do = "drill pilots to full depth" + ("" if wanted is None else f", or make the top {wanted} thick or more")
        yield _caution(422, says, do, "job top.thickness", "leg")
    if is_under(hold, HOLD_MM):
        says = f"a leg's screws reach only {length_text(hold, unit)} into the board: opposite ones leave no more room"
        yield _caution(423, says, "trust the glue, or make the top wider", "job top.width", "leg")
    if len(pattern.marks) < 4 and trestle.job.housing.joint == "glued":
        if trestle.job.leg.width_mm < 3 * pattern.margin_mm:
            says = f"a leg {length_text(trestle.job.leg.width_mm, unit)} wide has room for one screw only"
            do = f"glue the legs, or make them {at_least(3 * pattern.margin_mm, unit)} wide or more"
            yield _caution(424, says, do, "job leg.width", "leg")
            return
        says = "only one screw a leg finds wood enough: a second would come too near another or a face"
        yield _caution(424, says, "glue the legs, or make the top wider or thicker", "job top.width", "leg")


def _braces(trestle: Trestle, pattern: BracePattern | None) -> Iterator[Finding]:
    unit = trestle.job.unit
    if pattern is None:
        says = "no screw through the brace finds wood enough in a leg's edge"
        yield _caution(425, says, "use a deeper brace or wider legs, or nail it", "job brace.depth", "brace")
        return
    if is_under(pattern.margin_mm, EDGE_MM):
        says = (
            f"a brace's screws keep only {length_text(pattern.margin_mm, unit)} to an edge, {_edge(trestle)} is usual"
        )
        do = "drill pilots to full depth, or make the legs thicker"
        yield _caution(426, says, do, "job leg.thickness", "brace")
    if is_under(pattern.into_leg_mm, HOLD_MM):
        says = f"a brace's screws reach only {length_text(pattern.into_leg_mm, unit)} into a leg"
        yield _caution(427, says, "make the legs wider", "job leg.width", "brace")
    if len(pattern.marks) < 2:
        says = "a brace's end has room for one screw only"
        yield _caution(428, says, "glue it as well, or make the brace deeper", "job brace.depth", "brace")


def _edge(trestle: Trestle) -> str:
    return length_text(EDGE_MM, trestle.job.unit)


def _board_wanted(trestle: Trestle) -> str | None:
    """The least thickness of a board in which a leg's screw keeps its margin to head and bottom face; None when the
    board is as thick already.
    """
    splay_deg = trestle.job.splay_deg
    # A millimetre more, so that a whole one can be marked.
    wanted = EDGE_MM * (1 + sine(splay_deg)) + trestle.job.leg.thickness_mm * cosine(splay_deg) + 1
    return None if trestle.job.top.thickness_mm >= wanted else at_least(wanted, trestle.job.unit)
