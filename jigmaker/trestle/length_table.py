"""A solved trestle in, its lengths as rows of text out, in mm or in inches to 1/64; parts of a whole add up as printed.

A chain is a group of rows whose last row is the sum of the others: each part, rounded, times how often it occurs.
Because every row is rounded down or up by less than a step with its whole in view, a woodworker who adds the printed
figures gets the printed total.
"""

from collections.abc import Sequence
from itertools import product
from math import floor, inf

from jigmaker.job.job import Job
from jigmaker.record import dataclass
from jigmaker.trestle.housing import hand_sawn_start_mm
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve_sizes
from jigmaker.units import MM_PER_INCH, Unit, fixed, length_text, mm_decimals

_STEP_MM: dict[Unit, float] = {"mm": 0.01, "in": MM_PER_INCH / 64}

_SAME = 1e-9  # of a step: two choices this close are equally good


@dataclass(frozen=True, slots=True)
class LengthRow:
    """One length: its group and name, the exact figure in mm, and the figure as printed.

    `times` is how often a part occurs in its whole; it is 0 for a row that stands alone. `is_whole` marks the row to
    which the parts above it in the same group add up.
    """

    group: str
    name: str
    value_mm: float
    shown: str
    times: int = 0
    is_whole: bool = False


LengthPart = tuple[str, float, int]


def length_rows(trestle: Trestle, unit: Unit) -> tuple[LengthRow, ...]:
    """Every length a maker needs, grouped by what is cut, in a fixed order."""
    top, foot = trestle.job.top, trestle.foot
    brace = trestle.brace
    grows = (brace.bottom_mm - brace.top_mm) / 2
    parts = [("along the top edge, under the board", brace.top_mm, 1), ("longer at each end below by", grows, 2)]
    return (
        *_leg(trestle, unit),
        *_housing(trestle, unit),
        *_chain("Brace, on its inside face", parts, ("along the bottom edge", brace.bottom_mm), unit),
        *_alone("Brace in place", unit, ("depth", brace.depth_mm)),
        *_alone("Brace in place", unit, ("its outer face, back from the board's end", brace.stand_back_mm)),
        *_alone("Brace in place", unit, ("gap at a leg's inner arris, brace left flat", brace.gap_mm)),
        *_beyond("Feet on the floor, along the board", "end", foot.spread_along_mm, top.length_mm, unit),
        *_beyond("Feet on the floor, across the board", "edge", foot.spread_across_mm, top.width_mm, unit),
    )


def length_groups(job: Job, unit: Unit) -> tuple[tuple[str, int | None, tuple[LengthRow, ...]], ...]:
    """(group, place of its size in the job's sizes, rows): groups that all sizes have alike once, with None; others of
    each size.
    """
    each = [length_rows(trestle, unit) for trestle in solve_sizes(job)]
    found: list[tuple[str, int | None, tuple[LengthRow, ...]]] = []
    for group in dict.fromkeys(row.group for row in each[0]):
        of = [tuple(row for row in rows if row.group == group) for rows in each]
        told = [[(row.name, row.shown) for row in rows] for rows in of]
        alike = all(rows == told[0] for rows in told)
        found += [(group, None, of[0])] if alike else [(group, i, rows) for i, rows in enumerate(of)]
    return tuple(found)


def _leg(trestle: Trestle, unit: Unit) -> list[LengthRow]:
    leg, job = trestle.leg, trestle.job
    parts: list[LengthPart] = [("finished, along any of its arrises", leg.length_mm, 1)]
    if job.leg.horn_mm:
        parts.append(("horn left on the head, sawn off after assembly", job.leg.horn_mm, 1))
    if job.leg.trim_mm:
        parts.append(("trim left on the foot, sawn off after assembly", job.leg.trim_mm, 1))
    parts.append(("slope of the two end cuts", leg.blank_mm - leg.cut_length_mm, 1))
    return [
        *_chain("Leg", parts, ("shortest board for one leg", leg.blank_mm), unit),
        *_alone("Leg", unit, ("board for every further leg, without the saw's cut", leg.along_per_leg_mm)),
        *_alone("Leg", unit, ("width along a level line of the wide face", leg.level_width_mm)),
    ]


def _housing(trestle: Trestle, unit: Unit) -> list[LengthRow]:
    """Along the board on both arrises, then across it in both faces, then square to the housing's own walls."""
    housing, top = trestle.housing, trestle.job.top
    between = top.length_mm - 2 * (housing.start_top_mm + housing.width_on_arris_mm)
    parts = [
        ("board's end to the near wall", housing.start_top_mm, 2),
        ("near wall to far wall", housing.width_on_arris_mm, 2),
        ("between the housings of the two ends", between, 1),
    ]
    whole = ("length of the board", top.length_mm)
    rows = list(_chain("Housing, along the board on its top arris", parts, whole, unit))
    group = "Housing, along the board on its bottom arris"
    rows += _alone(group, unit, ("board's end to the near wall", housing.start_bottom_mm))
    opened = trestle.job.inset_mm - housing.start_top_mm
    by_hand = hand_sawn_start_mm(trestle.job) - opened
    rows += _alone(group, unit, ("the same if the walls are sawn square across", by_hand))
    for face, depth in (("top", housing.depth_top_mm), ("bottom", housing.depth_bottom_mm)):
        parts = [("depth", depth, 2), ("between two opposite housings", top.width_mm - 2 * depth, 1)]
        whole = ("width of the board", top.width_mm)
        rows += _chain(f"Housing, across the board in its {face} face", parts, whole, unit)
    group = "Housing, square to its own walls and floor"
    rows += _alone(group, unit, ("width", housing.width_mm))
    rows += _alone(group, unit, ("depth", housing.depth_square_mm))
    return rows


def _beyond(group: str, side: str, spread: float, size: float, unit: Unit) -> list[LengthRow]:
    where = "beyond" if spread >= size else "inside"
    return [
        *_alone(group, unit, ("over the outer corners", spread)),
        *_alone(group, unit, (f"{where} the board's {side}, each", abs(spread - size) / 2)),
    ]


def _alone(group: str, unit: Unit, named: tuple[str, float]) -> list[LengthRow]:
    return [LengthRow(group, named[0], named[1], _shown(named[1], unit))]


def _chain(group: str, parts: Sequence[LengthPart], whole: tuple[str, float], unit: Unit) -> list[LengthRow]:
    step = _STEP_MM[unit]
    total = floor(whole[1] / step + 0.5)
    counts = steps_that_add_up([(value / step, times) for _, value, times in parts], total)
    rows = [
        LengthRow(group, name, value, _shown(count * step, unit), times)
        for (name, value, times), count in zip(parts, counts, strict=True)
    ]
    return [*rows, LengthRow(group, whole[0], whole[1], _shown(total * step, unit), 1, is_whole=True)]


def _shown(mm: float, unit: Unit) -> str:
    return f"{fixed(mm, mm_decimals(mm))} mm" if unit == "mm" else length_text(mm, unit)


def steps_that_add_up(parts: Sequence[tuple[float, int]], total: int) -> tuple[int, ...]:
    """Whole numbers for (size, times) parts such that times x number adds up to the total.

    Each part goes down or up; the last one that occurs once takes what is left. Of all such choices the one whose worst
    part is least off is taken, and of equally good ones the first, counting from all parts rounded down.
    """
    rest = max(i for i, (_, times) in enumerate(parts) if times == 1)
    best: tuple[int, ...] = ()
    least = inf
    for counts in product(*((0,) if i == rest else (floor(s), floor(s) + 1) for i, (s, _) in enumerate(parts))):
        left = total - sum(count * times for count, (_, times) in zip(counts, parts, strict=True))
        choice = counts[:rest] + (left,) + counts[rest + 1 :]
        worst = max(abs(count - size) for count, (size, _) in zip(choice, parts, strict=True))
        if worst < least - _SAME:
            best, least = choice, worst
    return best
