"""A solved trestle and the saw's kerf in, every kind of piece that the batch takes of boards out; thousandths of a mm.

Along the board a piece takes its length and the gap to the next one. Legs share their cuts: the foot of one is the head
of the next, so that a run of n legs takes

    n (length + kerf D) - kerf D + S

with D the leg's length for 1 of height and S the spread of one slanted end cut from its foremost to its rearmost point:

    /-------/-------/-------/     S is what the slant sticks out at either end of the run;
     leg     leg     leg          between legs there is the blade alone, which slants too
    |<----------------->|S |

A cut at right angles takes the kerf; between the long points of two braces it takes a little more. Where legs are
turned between their cuts they come out of square blanks, and share none.
"""

from math import ceil

from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, sine
from jigmaker.trestle.cut_list import (
    BRACES_PER_TRESTLE,
    LEGS_PER_TRESTLE,
    blank_of_leg_mm,
    kerf_along_leg_mm,
    legs_longest_first,
    tops_longest_first,
)
from jigmaker.trestle.records import Trestle

PARTS_A_MM = 1000
"""Lengths are whole thousandths of a mm, so that no sum is off by a crumb: a board that just holds n legs holds n."""


@dataclass(frozen=True, slots=True)
class PieceKind:
    """Pieces that are all alike, lengths in thousandths of a mm.

    width_mm, thickness_mm: the section as measured. length: from long point to long point, of a leg along an arris.
    gap: what lies between it and the next one like it. spread: S of a leg, 0 of a piece whose ends are square.
    wanted: how many the batch needs; spares: how many more are worth having. Of several sizes a name says which, "leg
    for size 762 mm".
    """

    name: str
    width_mm: float
    thickness_mm: float
    length: int
    gap: int
    spread: int
    wanted: int
    spares: int = 0

    @property
    def names(self) -> str:
        """The name of several: "legs for size 762 mm"."""
        what, of, size = self.name.partition(" for ")
        return f"{what}s{of}{size}"

    @property
    def takes(self) -> int:
        """What each one takes of a board, the gap included."""
        return self.length + self.gap

    @property
    def stop_mm(self) -> float:
        """The distance from the blade to the stop that cuts it, mm."""
        return self.length / PARTS_A_MM


def piece_kinds(
    trestle: Trestle, kerf_mm: float, off_cut_mm: float = 0.0, in_blanks: bool = False
) -> tuple[PieceKind, ...]:
    """Top boards, legs and braces of the batch, one spare leg, the longest, and one spare brace.

    Legs of all sizes share cuts, as their ends are the same. off_cut_mm: the length of the piece of top board that is
    routed first, a spare as well; 0 for none. in_blanks: each leg is cut out of a blank of its own.
    """
    job, leg, brace = trestle.job, trestle.leg, trestle.brace
    slant = sine(trestle.angles.brace_end_deg) * cosine(trestle.angles.brace_end_tilt_deg)
    square, askew = _thousandths(kerf_mm), _thousandths(kerf_along_leg_mm(trestle, kerf_mm))
    spread = 0 if in_blanks else _thousandths(leg.blank_mm - leg.cut_length_mm)
    top = (job.top.width_mm, job.top.thickness_mm)
    off_cuts = [PieceKind("off-cut for trial housings", *top, _thousandths(off_cut_mm), square, 0, 0, 1)]
    return (
        *(
            PieceKind(name, *top, _thousandths(length_mm), square, 0, number)
            for name, length_mm, number in tops_longest_first(trestle)
        ),
        *(off_cuts if off_cut_mm else ()),
        *(
            PieceKind(
                name,
                leg.width_mm,
                leg.thickness_mm,
                _thousandths(blank_of_leg_mm(size.leg) if in_blanks else size.leg.cut_length_mm),
                square if in_blanks else askew,
                spread,
                LEGS_PER_TRESTLE * size.job.trestles,
                0 if i else 1,
            )
            for i, (name, size) in enumerate(legs_longest_first(trestle))
        ),
        PieceKind(
            "brace",
            brace.depth_mm,
            brace.thickness_mm,
            _thousandths(brace.bottom_mm),
            _thousandths(kerf_mm / slant),
            0,
            BRACES_PER_TRESTLE * job.all_trestles,
            1,
        ),
    )


def _thousandths(mm: float) -> int:
    """Rounded up: what is cut must never be short."""
    return ceil(mm * PARTS_A_MM - 1e-6)
