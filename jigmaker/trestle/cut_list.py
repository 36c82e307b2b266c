"""A solved trestle and the saw's kerf in, everything to buy and cut for its batch out, but for the sheet parts; mm, ml.

Lengths include horn and trim. All legs are one piece, cut one after another along the board: each cut is the foot of
one leg and the head of the next. Where a leg is turned between its cuts each has a blank of its own, sawn square.
"""

from collections.abc import Iterator
from math import ceil
from typing import Literal

from jigmaker.job.practice import GLUE_ML_PER_MM2, PRACTICE, SAW_KERF_MM, SCREWS_SPARE
from jigmaker.job.shop import Shop
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, sine, stretch
from jigmaker.trestle.fixings import Fixings, fixings
from jigmaker.trestle.records import Leg, Trestle
from jigmaker.trestle.solve import solve_sizes

LEGS_PER_TRESTLE, BRACES_PER_TRESTLE = 4, 2


@dataclass(frozen=True, slots=True)
class CutRow:
    """One thing to buy or cut. `what` is its name, for screws their size; `counted_in` says what the numbers count.

    batch: for all trestles, spares apart. section: width and thickness. long_point: from its foremost to its rearmost
    point along the board it is cut from. along: what each further one takes of that board, the saw's kerf included.
    board: one board that holds batch and spares, cut one after another. None where there is no such figure.
    """

    group: Literal["timber", "screws", "glue"]
    what: str
    counted_in: Literal["pieces", "ml"]
    per_trestle: float
    batch: float
    spare: float
    section_mm: tuple[float, float] | None = None
    long_point_mm: float | None = None
    along_mm: float | None = None
    board_mm: float | None = None
    note: str = ""

    @property
    def total(self) -> float:
        """What to buy or cut: the batch with its spares."""
        return self.batch + self.spare


def cut_list(
    trestle: Trestle, kerf_mm: float = SAW_KERF_MM, screws: Fixings | None = None, in_blanks: bool = False
) -> tuple[CutRow, ...]:
    """Legs, top boards, braces, screws and, for glued joints, glue; one spare leg and one spare brace a batch.

    Of several sizes the legs have a row each, longest first, and top boards where their lengths differ. The spare leg
    is of the longest: sawn shorter it serves the others. `screws` saves finding them again for whoever has them.
    in_blanks: each leg is cut out of a blank of its own.
    """
    brace, number = trestle.brace, trestle.job.all_trestles * BRACES_PER_TRESTLE
    # Both ends of a brace splay: between two long points one kerf is enough, taken along the long edge.
    skew = sine(trestle.angles.brace_end_deg) * cosine(trestle.angles.brace_end_tilt_deg)
    along = brace.bottom_mm + kerf_mm / skew
    rows = [
        *_legs(trestle, kerf_mm, in_blanks),
        *_tops(trestle, kerf_mm),
        CutRow(
            "timber",
            "brace",
            "pieces",
            BRACES_PER_TRESTLE,
            number,
            1,
            section_mm=(brace.depth_mm, brace.thickness_mm),
            long_point_mm=brace.bottom_mm,
            along_mm=along,
            board_mm=(number + 1) * along,
            note="length along the bottom edge, inside face",
        ),
    ]
    trestles = trestle.job.all_trestles
    found = screws or fixings(trestle)
    for size, each in found.counts():
        is_one = found.legs is not None and size == found.legs.size and len(found.legs.marks) == 2
        which = "one through each leg into the top; " if is_one else ""
        spare, note = ceil(each * trestles * SCREWS_SPARE - 1e-9), f"{which}countersunk, for wood; for outdoors "
        note += "stainless or coated"
        rows.append(CutRow("screws", size.name, "pieces", each, each * trestles, spare, note=note))
    if trestle.job.housing.joint == "glued":
        ml = LEGS_PER_TRESTLE * joint_mm2(trestle) * GLUE_ML_PER_MM2
        rows.append(CutRow("glue", "wood glue", "ml", ml, ml * trestles, 0.0, note="for outdoors a waterproof one"))
    return tuple(rows)


def kerf_along_leg_mm(trestle: Trestle, kerf_mm: float) -> float:
    """What one cut takes of a leg's length: the kerf is square to the cut, which stands askew across the board."""
    return kerf_mm * stretch(trestle.job.rake_deg, trestle.job.splay_deg)


def legs_longest_first(trestle: Trestle) -> tuple[tuple[str, Trestle], ...]:
    """(name of the piece, size solved) for the legs of every size, longest first: the order of the stops."""
    job = trestle.job
    named = zip(job.size_names, solve_sizes(job), strict=True)
    found = [(f"leg for {name}" if job.further_sizes else "leg", size) for name, size in named]
    return tuple(sorted(found, key=lambda each: -each[1].leg.cut_length_mm))


def tops_longest_first(trestle: Trestle) -> tuple[tuple[str, float, int], ...]:
    """(name of the piece, length in mm, how many) of the top boards; one row where all are alike."""
    sizes, names = trestle.job.sizes, trestle.job.size_names
    lengths = {size.top_length_mm for size in sizes}
    if len(lengths) == 1:
        return (("top board", lengths.pop(), trestle.job.all_trestles),)
    rows = [(f"top board for {name}", s.top_length_mm, s.trestles) for name, s in zip(names, sizes, strict=True)]
    return tuple(sorted(rows, key=lambda row: -row[1]))


def turns_legs(trestle: Trestle, shop: Shop) -> bool:
    """True where a leg is turned between its two cuts, so that it needs a blank of its own: on a saw that does not
    tilt, for ends that slope through the leg. At a splay of 90 a mitre is enough.
    """
    return shop.leg_saw.kind == "plain" and trestle.job.splay_deg != 90


def blank_of_leg_mm(leg: Leg) -> float:
    """The length of a blank for one leg, sawn square: from long point to long point, and some wood at either end."""
    return leg.blank_mm + 2 * PRACTICE["practice.blank_over"].mm


def _legs(trestle: Trestle, kerf_mm: float, in_blanks: bool) -> Iterator[CutRow]:
    all_alike = "all alike; cut one after another along the board, at one setting of the saw"
    shared = "one setting of the saw for all sizes; longest first, only the stop is moved"
    apart = "a blank for each, sawn square: a leg is turned between its two cuts"
    for i, (name, size) in enumerate(legs_longest_first(trestle)):
        leg, number, spare = size.leg, size.job.trestles * LEGS_PER_TRESTLE, 0 if i else 1
        along = leg.along_per_leg_mm + kerf_along_leg_mm(trestle, kerf_mm)
        spread = leg.blank_mm - leg.cut_length_mm
        if in_blanks:
            along, spread = blank_of_leg_mm(leg) + kerf_mm, 0.0
        yield CutRow(
            "timber",
            name,
            "pieces",
            LEGS_PER_TRESTLE,
            number,
            spare,
            section_mm=(leg.width_mm, leg.thickness_mm),
            long_point_mm=leg.blank_mm,
            along_mm=along,
            board_mm=(number + spare) * along + spread,
            note=apart if in_blanks else shared if trestle.job.further_sizes else all_alike,
        )


def _tops(trestle: Trestle, kerf_mm: float) -> Iterator[CutRow]:
    top = trestle.job.top
    for name, length_mm, number in tops_longest_first(trestle):
        along = length_mm + kerf_mm
        yield CutRow(
            "timber",
            name,
            "pieces",
            1,
            number,
            0,
            section_mm=(top.width_mm, top.thickness_mm),
            long_point_mm=length_mm,
            along_mm=along,
            board_mm=number * along,
            note="ends square; an off-cut of the same board for the first housings",
        )


def joint_mm2(trestle: Trestle) -> float:
    """Faces of one housing that meet the leg: floor and both walls, mm2."""
    housing, thickness = trestle.housing, trestle.job.top.thickness_mm
    floor = housing.width_on_arris_mm * thickness / sine(trestle.job.splay_deg)
    section = housing.volume_mm3 / housing.width_on_arris_mm
    return floor + 2 * section / sine(trestle.angles.leg_face_deg)
