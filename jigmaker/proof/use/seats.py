"""What stands between board and plate: each piece's feet and seats (504, 509). Jig frame; mm.

Every bearer, end bearers too, stands with its foot on the board's edge and carries the plate with its seats. Where the
board and the plate are, the plain bearer says; where a piece is, kit.json says; its edges are those that were cut.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.geometry.vectors import Vector, dot, subtract
from jigmaker.proof.checks.measured import CutEdge
from jigmaker.proof.expected import Y
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.use.jig import JigAsCut, JigPiece
from jigmaker.units import fixed

NEAR_MM = 0.0015
FOOT = "foot on the board's edge"
SEAT = "seat of the plate"


def seat_findings(jig: JigAsCut, hand: str, pieces: list[JigPiece]) -> Iterator[Finding]:
    """Feet that are not on the board's edge (509), seats that are not under the plate (504)."""
    # On the board's edge y is 0 in the jig's frame; under the plate z is 0 in the plate's own.
    plate = jig.plate_frame(hand)
    for piece in pieces:
        yield from off_plane(509, piece, FOOT, "the way from its foot to the board's edge", Y)
        yield from off_plane(504, piece, SEAT, "the way from its seat to the plate", plate.z_axis, plate.origin)


def ends_of(piece: JigPiece, edge: CutEdge) -> list[Vector]:
    """Both ends of an edge of a piece, jig frame; on its underside."""
    return [piece.frame.point((*end, 0.0)) for end in (edge.start, edge.end)]


def off_plane(
    code: int, piece: JigPiece, start: str, what: str, normal: Vector, at: Vector = (0.0, 0.0, 0.0)
) -> Iterator[Finding]:
    """Where an edge whose name begins so does not lie in the plane through a point that is square to a unit vector."""
    for name in piece.part.names(start):
        ends = [dot(subtract(p, at), normal) for p in ends_of(piece, piece.part.edge(name))]
        yield from off_line(code, piece, name, what, ends)


def off_line(code: int, piece: JigPiece, at: str, what: str, ends: list[float]) -> Iterator[Finding]:
    """A finding where one of these distances, which must all be 0, is not."""
    worst = max(ends, key=abs)
    if abs(worst) <= NEAR_MM:
        return
    value = f"{fixed(worst, 4)} mm"
    says = f"{piece.name}: {what} is {value}, must be 0"
    yield Finding(code, says, AGAIN, "", piece.name, value, f"{NEAR_MM} mm", at=at)
