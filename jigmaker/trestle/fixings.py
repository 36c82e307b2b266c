"""A solved trestle in, its screws out: where each goes in, how it is marked and drilled, how long; timber frame, mm.

Two screws hold each leg, square to the housing's floor: one beside each edge, one above the other. Looked at from
outside, head up, the upper one is by the left edge on every leg. A leg and the one across the board are each other's
mirror images, so their screws then lie at different heights and never meet, however far they reach. Where the board has
no room for that both are at one height and short, or there is one alone, by the left edge.
Two screws hold each end of a brace to the leg's narrow edge, square to the brace.
"""

from itertools import product
from typing import Literal

from jigmaker.findings import Finding
from jigmaker.geometry.vectors import Vector, add, scale
from jigmaker.job.screw_sizes import ScrewSize
from jigmaker.record import dataclass
from jigmaker.trestle.angles import sine
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.screw_findings import screw_findings
from jigmaker.trestle.screw_pattern import BracePattern, LegPattern, brace_pattern, leg_pattern
from jigmaker.trestle.screw_places import Edge, ScrewLine, brace_line, leg_line

SEATS: tuple[tuple[int, int], ...] = ((1, 1), (-1, -1), (-1, 1), (1, -1))
"""The four legs by the signs of their x and y; the first two stand in R housings, the other two in L housings."""


@dataclass(frozen=True, slots=True)
class Screw:
    """One screw of the trestle. seat: the leg it goes through or into, by the signs of its x and y.

    at: middle of the head, on the outer face of leg or brace; direction: the unit way it goes; pilot: for softwood.
    """

    name: str
    joins: Literal["leg to board", "brace to leg"]
    seat: tuple[int, int]
    at: Vector
    direction: Vector
    length_mm: float
    diameter_mm: float
    pilot_mm: float
    hardwood_pilot_mm: float
    clearance_hole_mm: float
    countersunk: bool = True

    @property
    def tip(self) -> Vector:
        """Where the screw ends."""
        return add(self.at, scale(self.direction, self.length_mm))


@dataclass(frozen=True, slots=True)
class Fixings:
    """All screws of one trestle, and the two patterns they are marked by; None for a joint that takes no screws."""

    screws: tuple[Screw, ...]
    legs: LegPattern | None
    braces: BracePattern | None
    findings: tuple[Finding, ...]

    def counts(self) -> tuple[tuple[ScrewSize, int], ...]:
        """Each size that is used, with how many one trestle takes."""
        found: dict[ScrewSize, int] = {}
        for pattern, screws in ((self.legs, "leg to board"), (self.braces, "brace to leg")):
            if pattern:
                number = sum(screw.joins == screws for screw in self.screws)
                found[pattern.size] = found.get(pattern.size, 0) + number
        return tuple(found.items())


def fixings(trestle: Trestle) -> Fixings:
    """The screws of one trestle, with cautions where wood is short; for a trestle that passes `check_trestle`."""
    legs, braces = leg_pattern(trestle), brace_pattern(trestle)
    screws = []
    if legs:
        for seat, mark in product(SEATS, legs.marks):
            if (mark.hand == "R") == (seat[0] == seat[1]):
                line = leg_line(trestle, mark.edge, mark.from_head_mm, mark.from_edge_mm)
                screws.append(_screw(mark.name, "leg to board", seat, line, legs.size))
    if braces:
        for seat, place in product(SEATS, braces.marks):
            line = brace_line(trestle, place.from_top_mm, place.from_end_mm)
            screws.append(_screw(place.name, "brace to leg", seat, line, braces.size))
    return Fixings(tuple(screws), legs, braces, screw_findings(trestle, legs, braces))


@dataclass(frozen=True, slots=True)
class SawnMark:
    """Where a leg's screw is marked on the leg as sawn. hand: "" where it is the same for both hands of housings.

    from_head: from the head's line as it was sawn, horn included, square to it; from_edge: square to the arris of the
    edge at that side, seen from outside. edge: which edge that is on an R leg. mm.
    """

    hand: Literal["", "R", "L"]
    name: str
    side: Literal["left", "right"]
    edge: Edge
    from_head_mm: float
    from_edge_mm: float


def leg_marks(trestle: Trestle) -> tuple[SawnMark, ...]:
    """The marks of a leg's screws, upper first; () for legs that take none.

    A single one in the middle of a narrow leg may lie elsewhere in R and L.
    """
    pattern = leg_pattern(trestle)
    marks = pattern.marks if pattern else ()
    is_same = len({mark.hand for mark in marks if mark.name == "upper"}) == 2
    # Along the leg the horn is as long as asked; square to the head's line it is that much shorter.
    horn = trestle.job.leg.horn_mm * sine(trestle.angles.leg_face_deg)
    return tuple(
        SawnMark("" if is_same else m.hand, m.name, m.side, m.edge, m.from_head_mm + horn, m.from_edge_mm)
        for m in marks
        if m.hand == "R" or not is_same
    )


def _screw(
    name: str, joins: Literal["leg to board", "brace to leg"], seat: tuple[int, int], line: ScrewLine, size: ScrewSize
) -> Screw:
    """The screw of the +x +y leg, carried to another leg's place."""
    return Screw(
        name,
        joins,
        seat,
        _at_seat(line.head, seat),
        _at_seat(line.direction, seat),
        size.length_mm,
        size.diameter_mm,
        size.pilot_mm,
        size.hardwood_pilot_mm,
        size.clearance_hole_mm,
    )


def _at_seat(vector: Vector, seat: tuple[int, int]) -> Vector:
    return vector[0] * seat[0], vector[1] * seat[1], vector[2]
