"""A job in, what each of its figures does when it is a little off out; every row is solved again; mm, degrees.

One figure is off and everything else is made as asked: the jig's plate is set for the wrong rake while the legs are cut
to the length of the right one; a leg comes thicker while the projection stays. So the exact difference of two solved
trestles is told, not a slope.
"""

from dataclasses import replace
from typing import Any, Literal

from jigmaker.errors import OutOfRange
from jigmaker.job.job import Job
from jigmaker.record import dataclass
from jigmaker.trestle.angles import stretch
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve
from jigmaker.units import MM_PER_INCH, Unit

STEP_DEG = 0.1
STEP_MM: dict[Unit, float] = {"mm": 1.0, "in": MM_PER_INCH / 32}
"""How far off each figure is taken to be; a clearance a tenth of it."""

# section of the job file, key, field of the record, name in the trade
_INPUTS: tuple[tuple[str, str, str, str], ...] = (
    ("trestle", "height", "height_mm", "height"),
    ("trestle", "rake_deg", "rake_deg", "rake"),
    ("trestle", "splay_deg", "splay_deg", "splay"),
    ("trestle", "inset", "inset_mm", "inset"),
    ("top", "length", "length_mm", "top board, length"),
    ("top", "width", "width_mm", "top board, width"),
    ("top", "thickness", "thickness_mm", "top board, thickness"),
    ("leg", "width", "width_mm", "leg, wide face"),
    ("leg", "thickness", "thickness_mm", "leg, narrow edge"),
    ("brace", "depth", "depth_mm", "brace, depth"),
    ("brace", "thickness", "thickness_mm", "brace, thickness"),
    ("housing", "clearance", "clearance_mm", "clearance"),
    ("housing", "reveal", "reveal_mm", "reveal"),
)


@dataclass(frozen=True, slots=True)
class Effect:
    """What changes at one leg, mm. foot_along, foot_across: its outer corner farther from the board's middle, along and
    across the board. gap: more play between the leg and the housing's walls, both sides together. proud: the leg's
    face farther out of the board's top arris, square to that face. height: top face to floor.
    """

    foot_along_mm: float
    foot_across_mm: float
    gap_mm: float
    proud_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Matter:
    """One figure of the job file off by `step` (in `unit`). more, less: what that does; None where the file does not
    take such a figure. `key` is its place in the file, "leg.width", `name` its name in the trade.
    """

    key: str
    name: str
    step: float
    unit: Literal["mm", "deg"]
    more: Effect | None
    less: Effect | None


def what_matters(job: Job) -> tuple[Matter, ...]:
    """Every figure of the job, in the order of the file."""
    found = []
    for section, key, field, name in _INPUTS:
        unit: Literal["mm", "deg"] = "deg" if field.endswith("_deg") else "mm"
        step = STEP_DEG if unit == "deg" else STEP_MM[job.unit]
        if field == "clearance_mm":
            step /= 10  # a whole millimetre of play is past all trades
        more, less = (_effect(job, section, field, by) for by in (step, -step))
        found.append(Matter(f"{section}.{key}", name, step, unit, more, less))
    return tuple(found)


def _effect(job: Job, section: str, field: str, by: float) -> Effect | None:
    """The difference between the trestle as asked and with one figure off."""
    try:
        if section == "trestle":
            changed: Job = _replaced(job, field, by)
        else:
            changed = replace(job, **{section: _replaced(getattr(job, section), field, by)})
    except OutOfRange:  # a job that cannot have that figure
        return None
    if (section, field) == ("leg", "thickness_mm"):
        # A leg that is thicker stands out of a housing as deep as asked: what a reveal does, and its opposite.
        away = replace(job, leg=_replaced(job.leg, "thickness_mm", abs(by)))
        away = replace(away, housing=_replaced(job.housing, "reveal_mm", abs(by)))
        out = _difference(solve(job), solve(away))
        # The foot moves in proportion to the reveal, so that what a thinner leg does is the same the other way.
        sign = 1 if by > 0 else -1
        return Effect(sign * out.foot_along_mm, sign * out.foot_across_mm, 0.0, sign * out.proud_mm, 0.0)
    if field in ("rake_deg", "splay_deg"):
        # The legs are as long as asked; they reach down less far, or farther, at the other angle.
        reach = solve(job).leg.length_mm / stretch(changed.rake_deg, changed.splay_deg)
        changed = replace(changed, height_mm=reach)
    return _difference(solve(job), solve(changed))


def _replaced(record: Any, field: str, by: float) -> Any:
    return replace(record, **{field: getattr(record, field) + by})


def _difference(asked: Trestle, off: Trestle) -> Effect:
    housing = asked if off.job.leg != asked.job.leg else off  # a leg that is off goes into the housing as asked
    figures = (
        (off.foot.spread_along_mm - asked.foot.spread_along_mm) / 2,
        (off.foot.spread_across_mm - asked.foot.spread_across_mm) / 2,
        housing.housing.width_mm - off.leg.width_mm - asked.job.housing.clearance_mm,
        off.job.housing.reveal_mm - asked.job.housing.reveal_mm,
        off.job.height_mm - asked.job.height_mm,
    )
    return Effect(*(round(figure, 9) + 0.0 for figure in figures))  # without the crumbs of differences
