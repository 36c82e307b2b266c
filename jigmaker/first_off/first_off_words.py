"""A setting and how far it is off, mm or degrees, in; what is wrong and what to do, in the job's own unit, out."""

from jigmaker.trestle.angles import tangent
from jigmaker.trestle.records import Trestle
from jigmaker.units import MM_PER_INCH, Unit, caliper_text, fixed, length_text

SLANT_OVER_MM: dict[Unit, float] = {"mm": 100.0, "in": 4 * MM_PER_INCH}
"""A slant is told as so much over this length of the fence: tape is counted in layers, not in degrees."""


def words_of(trestle: Trestle, setting: str, off: float, guide: str = "bush") -> tuple[str, str]:
    """(what is wrong, what to change and by how much) for one setting of `Settings`, named without its unit.

    guide: what follows the slot, "bush" or "bearing".
    """
    too_much, too_little = _WORDS[setting]
    says, do = too_much if off > 0 else too_little
    amount = abs(off)
    if setting in ("tilt", "turn"):
        unit = trestle.job.unit
        over = SLANT_OVER_MM[unit]
        figures = {
            "angle": f"{fixed(amount, 2)}°",
            "over": f"{_mm(trestle, over * tangent(amount))} over {length_text(over, unit)}",
        }
    else:
        figures = {"amount": _mm(trestle, amount), "half": _mm(trestle, amount / 2), "guide": guide}
    return says.format(**figures), do.format(**figures)


def _mm(trestle: Trestle, mm: float) -> str:
    return caliper_text(round(mm, 2), trestle.job.unit)


_Words = tuple[tuple[str, str], tuple[str, str]]

# For each setting (off by more than 0, off by less than 0): what is wrong, what to do.
_WORDS: dict[str, _Words] = {
    "projection": (
        ("the cutter stands out {amount} too far", "reduce the projection by {amount}, then set the last stop again"),
        ("the cutter stands out {amount} too little", "add {amount} to the projection, then set the last stop again"),
    ),
    "guide": (
        (
            "the cut is {amount} wider than slot, {guide} and cutter should make it",
            "stick {half} of tape on each wall of the slot; or use a {guide} {amount} thicker",
        ),
        (
            "the cut is {amount} narrower than slot, {guide} and cutter should make it",
            "brush the slot out and try again; else use a {guide} {amount} thinner",
        ),
    ),
    "stop": (
        ("the stop stands {amount} too far out", "put {amount} of tape between the stop and the board's end"),
        (
            "the stop stands {amount} too far in",
            "clear chips and tape from the stop's face and try again; else plane {amount} off that face",
        ),
    ),
    "edge": (
        (
            "the board's edge stands out {amount} at the bottom face",
            "try a square from the top face; plane {amount} off the edge at its bottom arris",
        ),
        (
            "the board's edge falls back {amount} at the bottom face",
            "try a square from the top face; plane {amount} off the edge at its top arris",
        ),
    ),
    "tilt": (
        (
            "the plate leans too little, {angle} off its tilt",
            "clear chips from the fence's low end; else tape behind its upper end, {over}",
        ),
        (
            "the plate leans too much, {angle} off its tilt",
            "clear chips from the fence's upper end; else tape behind its low end, {over}",
        ),
    ),
    "turn": (
        (
            "the walls slant too much, {angle} off their line, {over} of fence",
            "clear chips from it and look for wind in the board",
        ),
        (
            "the walls slant too little, {angle} off their line, {over} of fence",
            "clear chips from it and look for wind in the board",
        ),
    ),
}
