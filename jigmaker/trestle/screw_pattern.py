"""A solved trestle in, the screws' sizes and marks on leg and brace out, or none where no wood is left for them; mm.

A pattern is tried as it should be first, then with less hold, then nearer to the edges; what had to give way is told by
whoever reads the pattern's figures.
"""

from typing import Literal

from jigmaker.geometry.segments import segment_gap
from jigmaker.geometry.vectors import length, subtract
from jigmaker.job.screw_sizes import ScrewSize, screw_sizes
from jigmaker.record import dataclass
from jigmaker.trestle.angles import sine
from jigmaker.trestle.records import Hand, Trestle
from jigmaker.trestle.screw_places import (
    EDGE_MM,
    FOOT_MM,
    TIP_MM,
    Edge,
    brace_entry,
    brace_line,
    brace_outer_depth_mm,
    head_range,
    into_leg_mm,
    leg_line,
    step_down,
    step_up,
    tip_room_mm,
)
from jigmaker.units import MM_PER_INCH

ScrewName = Literal["upper", "lower"]

WANTED_HOLD_MM, HOLD_MM, LEAST_HOLD_MM, MOST_HOLD_MM = 30.0, 25.0, 15.0, 60.0
"""How far a screw should reach into the wood that holds it; under the last but one it is no use, over the last neither
(common practice, no source)."""

EDGE_DIAMETERS = 3.0
"""Wood from a drilled screw to an edge over its diameter, at the very least (EN 1995-1-1 table 8.2, from memory)."""

GRAIN_DIAMETERS = 5.0
"""From one drilled screw to the next in a line of the board's grain, over their diameter (the same table): two screws
of a leg at one height are in such a line."""

LEAST_APART_MM = 3.1
"""Wood along the leg between a screw of R legs and one of L legs, over their holes: a template has both. Screws that
would differ by less in height are at one height, which differs from nothing that a hand marks."""

# The marks of both hands by how many screws a leg has, and whether a single one is in its middle at two heights.
_MARKED: dict[tuple[int, bool], tuple[tuple[Hand, ScrewName], ...]] = {
    (2, False): (("R", "upper"), ("R", "lower"), ("L", "upper"), ("L", "lower")),
    (1, False): (("R", "upper"), ("L", "upper")),
    (1, True): (("R", "upper"), ("L", "lower")),
}


@dataclass(frozen=True, slots=True)
class LegMark:
    """Where a leg's screw is marked on the leg's outer face, for legs in housings of this hand.

    edge: toward the board's end ("near") or away; side: which edge that is to someone who looks at the face, head up.
    from_head: from the finished head's line, square to it; from_edge: from that edge's arris, square to it. mm. Both
    are the same for both hands, but for a single screw in the middle of a narrow leg.
    """

    hand: Hand
    name: ScrewName
    edge: Edge
    side: Literal["left", "right"]
    from_head_mm: float
    from_edge_mm: float


@dataclass(frozen=True, slots=True)
class BraceMark:
    """Where a brace's screw is marked on the brace's outer face, the same at all its ends.

    from_top: from the top edge down the face; from_end: from the end line, square to it. mm.
    """

    name: ScrewName
    from_top_mm: float
    from_end_mm: float


@dataclass(frozen=True, slots=True)
class LegPattern:
    """One size of screw and its marks for both hands; margin: the wood kept to every edge, mm."""

    size: ScrewSize
    marks: tuple[LegMark, ...]
    margin_mm: float


@dataclass(frozen=True, slots=True)
class BracePattern:
    """One size of screw and its marks. into_leg: how far it goes into the leg; margin: the least wood beside it there
    and in the brace, mm.
    """

    size: ScrewSize
    marks: tuple[BraceMark, ...]
    into_leg_mm: float
    margin_mm: float


def leg_pattern(trestle: Trestle) -> LegPattern | None:
    """The screws that hold the legs: the first pattern that finds wood enough, or None.

    Two each; one where two do not fit, and in a dry joint, which has to come apart again.
    """
    sizes = screw_sizes(trestle.job.leg.thickness_mm, trestle.job.unit)
    close = min(EDGE_MM, EDGE_DIAMETERS * sizes[0].diameter_mm)
    for screws in (1,) if trestle.job.housing.joint == "dry" else (2, 1):
        for margin in (EDGE_MM, close):
            for least in (HOLD_MM, LEAST_HOLD_MM):
                for size in _by_hold(sizes, trestle.job.leg.thickness_mm, least):
                    marks = _leg_marks(trestle, size, margin, screws)
                    if marks and _find_wood(trestle, marks, size):
                        return LegPattern(size, marks, margin)
    return None


def _by_hold(sizes: tuple[ScrewSize, ...], through_mm: float, least_mm: float) -> list[ScrewSize]:
    """Sizes that hold: those that reach as far as wanted, the shortest first, then shorter ones, the longest first."""
    holds = {size: size.length_mm - through_mm for size in sizes}
    useful = [size for size in sizes if least_mm <= holds[size] <= MOST_HOLD_MM]
    return sorted(useful, key=lambda size: (holds[size] < WANTED_HOLD_MM, abs(holds[size] - WANTED_HOLD_MM)))


def _steps(trestle: Trestle) -> tuple[float, ...]:
    """Marks of a rule, coarse first: no one marks to a tenth where whole millimetres do."""
    return (1.0, 0.5, 0.1) if trestle.job.unit == "mm" else tuple(MM_PER_INCH / n for n in (16, 32, 64))


def _leg_marks(trestle: Trestle, size: ScrewSize, margin: float, screws: int) -> tuple[LegMark, ...]:
    """Marks for both hands, of two screws a leg or of one; () when the leg or the board has no place for them.

    Seen from outside, head up, an R leg has the board's end at its left, an L leg at its right; the upper of two screws
    is by the left edge of both, and so is a single one. In a leg too narrow for that it is in the middle, high or low.
    """
    width, slant = trestle.job.leg.width_mm, sine(trestle.angles.leg_face_deg)
    places, is_narrow = head_range(trestle, size, margin), width < 3 * margin
    if places is None or width < (screws + 1) * margin:
        return ()
    for step in _steps(trestle):
        upper, lower = step_up(places[0], step), step_down(places[1], step)
        if upper > lower + 1e-9:
            continue
        beside = width / 2 if is_narrow else step_up(max(margin, width / 4), step)
        if (lower - upper) / slant < size.clearance_hole_mm + LEAST_APART_MM:
            upper = lower = upper if screws == 1 and not is_narrow else step_down((upper + lower) / 2, step)
            if screws == 2 and (width - 2 * beside) / slant < GRAIN_DIAMETERS * size.diameter_mm:
                return ()
        heights = {"upper": upper, "lower": lower}
        return tuple(
            LegMark(
                hand,
                name,
                "near" if (hand == "R") == (name == "upper") else "far",
                "left" if name == "upper" else "right",
                heights[name],
                beside,
            )
            for hand, name in _MARKED[screws, is_narrow and upper < lower]
        )
    return ()


def _find_wood(trestle: Trestle, marks: tuple[LegMark, ...], size: ScrewSize) -> bool:
    """Every tip has wood round it, and no two screws from opposite edges come near each other."""
    lines = {mark: leg_line(trestle, mark.edge, mark.from_head_mm, mark.from_edge_mm) for mark in marks}
    if any(tip_room_mm(trestle, line.to_depth(size.length_mm)) < TIP_MM - 1e-9 for line in lines.values()):
        return False
    here = [line.body(size.length_mm) for mark, line in lines.items() if mark.hand == "R"]
    # The leg across the board holds the mirror image: y becomes -y.
    left = [line.body(size.length_mm) for mark, line in lines.items() if mark.hand == "L"]
    across = [((x0, -y0, z0), (x1, -y1, z1)) for (x0, y0, z0), (x1, y1, z1) in left]
    return all(segment_gap(a, b) - size.diameter_mm >= TIP_MM for a in here for b in across)


def brace_pattern(trestle: Trestle) -> BracePattern | None:
    """The screws that hold a brace's end: in the middle of the leg's edge, a quarter in from the brace's long edges."""
    sizes = screw_sizes(trestle.job.leg.thickness_mm, trestle.job.unit)
    marks = _brace_marks(trestle)
    if not marks:
        return None
    lines = [brace_line(trestle, mark.from_top_mm, mark.from_end_mm) for mark in marks]
    # How far a brace's screw goes before it meets the leg.
    through = max(length(subtract(brace_entry(trestle, line), line.head)) for line in lines)
    for least in (HOLD_MM, LEAST_HOLD_MM):
        for size in _by_hold(sizes, through, least):
            if all(min(into_leg_mm(trestle, line.to_depth(size.length_mm))) >= TIP_MM for line in lines):
                # The least wood from a mark to the long edges of the brace's outer face.
                margin = min(
                    min(_beside(trestle, mark), min(mark.from_top_mm, brace_outer_depth_mm(trestle) - mark.from_top_mm))
                    for mark in marks
                )
                return BracePattern(size, marks, size.length_mm - through, margin)
    return None


def _brace_marks(trestle: Trestle) -> tuple[BraceMark, ...]:
    """Two marks where the brace is deep enough for them and the leg goes on below, one in the middle, or none.

    Their screws have the leg's arrises and the brace's end alike far off, on the coarsest step that does.
    """
    depth, steps = brace_outer_depth_mm(trestle), _steps(trestle)
    if depth < 2 * EDGE_MM:
        return ()
    upper = step_up(max(EDGE_MM, depth / 4), steps[0])
    lower = step_down(min(depth - EDGE_MM, depth * 3 / 4), steps[0])
    places: list[tuple[ScrewName, float]] = [("upper", upper), ("lower", lower)]
    if lower - upper < EDGE_MM:
        places = [("upper", step_down(depth / 2, steps[0]))]
    marks = []
    for name, from_top in places:
        # From the brace's end on its outer face, halfway between what lies in the leg's arris and what keeps most wood.
        # The wood to the arris grows in proportion to the place: one place at the end and one a millimetre in tell all.
        near, next_to = (_beside_in_leg(trestle, BraceMark("upper", from_top, e))[0] for e in (0.0, 1.0))
        half = trestle.job.leg.thickness_mm / 2
        entered = (half - near) / (next_to - near)
        middle = (entered + half) / 2
        tried = [BraceMark(name, from_top, to_step(middle, step)) for step in steps for to_step in (step_down, step_up)]
        good = [mark for mark in tried if _beside(trestle, mark) >= EDGE_MM]
        mark = good[0] if good else max(tried, key=lambda mark: _beside(trestle, mark))
        entry = brace_entry(trestle, brace_line(trestle, mark.from_top_mm, mark.from_end_mm))
        if entry[2] + trestle.job.height_mm >= FOOT_MM:  # off the floor
            marks.append(mark)
    return tuple(marks)


def _beside_in_leg(trestle: Trestle, mark: BraceMark) -> tuple[float, float]:
    """Wood to the leg's outer and inner face where the screw enters its edge."""
    entry = brace_entry(trestle, brace_line(trestle, mark.from_top_mm, mark.from_end_mm))
    return into_leg_mm(trestle, entry)[:2]


def _beside(trestle: Trestle, mark: BraceMark) -> float:
    """The least wood beside a screw, to the brace's end and the leg's two faces."""
    return min(mark.from_end_mm, *_beside_in_leg(trestle, mark))
