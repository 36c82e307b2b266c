"""The rules of the form with readings for levelling: every section and key with its kind, range and meaning; mm.

[level] says what is wanted; each [trestle_N] holds one trestle, read in one of three ways.
"""

from jigmaker.job.rules import Rule, Section, section_of
from jigmaker.job.sections import JOB
from jigmaker.levelling.feet import FEET
from jigmaker.levelling.readings import HIGH_MM, LOW_MM, THICKEST_MM
from jigmaker.parts.foot_block import PLAIN_LAYERS

SOLES = ("angled", "square")

LEVEL = Section(
    "level",
    "What is wanted, and the units of bare numbers in this file.",
    (
        Rule("units", "choice", "the units of the readings", "mm", choices=("mm", "in"), field="unit"),
        Rule(
            "height",
            "length",
            "the finished height; without it the job's, or as high as the legs allow",
            "",
            LOW_MM,
            HIGH_MM,
            required=False,
            field="height_mm",
        ),
        Rule(
            "sheets",
            "whole number",
            "the sheets in the foot block, nose included; without it as few as will do",
            "",
            1,
            PLAIN_LAYERS + 1,
            required=False,
            field="sheets",
        ),
        Rule(
            "soles",
            "choice",
            'how the feet are sawn now: "angled" at the leg\'s setting, or "square" across the leg',
            "angled",
            choices=SOLES,
            required=False,
            default="angled",
            field="soles",
        ),
    ),
)


def trestle_section(name: str) -> Section:
    """[trestle_1] and its like: the keys of all three ways, none of them required by itself."""
    height = section_of(JOB, "size").rule("height")
    size = _length("size", "of a job with several sizes which one it is: its height", height.low, height.high)
    top = _length("top", "the way from the floor to the top face, once it is level", LOW_MM, HIGH_MM)
    over = [
        _length(f"over_{foot.key}", f"the way from the floor to the batten, over {foot.name}", LOW_MM, HIGH_MM)
        for foot in FEET
    ]
    under = [
        _length(f"under_{foot.key}", f"what is under {foot.name}: a shim or a gap, or 0", 0, THICKEST_MM)
        for foot in FEET
    ]
    hangs = Rule(
        "hangs",
        "choice",
        "the foot that hangs",
        "",
        choices=tuple(foot.key for foot in FEET),
        required=False,
        field="hangs",
    )
    gap = _length("gap", "the gap under the hanging foot, on a flat floor", 0, THICKEST_MM)
    return Section(name, "One trestle.", (size, top, *over, *under, hangs, gap))


def _length(key: str, meaning: str, low: float, high: float) -> Rule:
    return Rule(key, "length", meaning, "", low, high, required=False, field=key)
