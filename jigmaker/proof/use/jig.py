"""The jig's parts as cut, found by name, measured and put in place. Jig frame; mm, degrees.

Jig frame: origin on the board's top arris, X along the board to the operator's right, Y up out of the worked edge,
Z out of the top face toward the operator. kit.json says which piece stands where; tilt, standoff and the plate's place
follow from the outlines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cached_property
from math import atan2, cos, degrees, hypot, radians, sin
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.frames import Frame, PlaneFrame, Point
from jigmaker.geometry.solid import Solid
from jigmaker.job.job import Job
from jigmaker.job.shop import Shop
from jigmaker.proof.checks.measured import CutEdge, MeasuredPart, Unmeasured, missing_finding
from jigmaker.proof.checks.sweep import shrunk
from jigmaker.proof.records import CutPart, DeclaredPlacement, Folder
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from shapely import Polygon

ASSEMBLY = "housing jig"
HANDS = ("R", "L")
_ROUND_RAD = 0.05
_ALIKE = 1.2
_SAG_MM = 0.002


@dataclass(frozen=True, slots=True)
class JigPiece:
    """One piece of the jig where kit.json places it, as a solid in the jig frame."""

    name: str
    part: MeasuredPart
    frame: Frame
    solid: Solid


@dataclass(frozen=True, slots=True)
class PlateSeat:
    """One stretch of a bearer on which the plate lies: its name, tilt off the bearer's foot, height over the arris."""

    name: str
    tilt_deg: float
    standoff_mm: float


@dataclass(frozen=True, slots=True)
class Rib:
    """A bearer as cut, in its own plane: q rearward from the board's top face, y up from its foot.

    tenons: by "front" and "rear", v of both sides in the plane of its seats, from the arris up the slope.
    """

    name: str
    seats: tuple[PlateSeat, ...]
    tenons: dict[str, tuple[float, float]]


@dataclass(frozen=True)
class JigAsCut:
    """The jig's parts for one job and shop. Raises Unmeasured where something that is asked for is not there."""

    job: Job
    shop: Shop
    parts: tuple[MeasuredPart, ...]
    settings: dict[str, float]

    def part(self, slug: str) -> MeasuredPart:
        """The part of this slug."""
        for part in self.parts:
            if part.declared.slug == slug:
                return part
        raise Unmeasured(missing_finding(slug, f"{slug}: kit.json tells no such part of the {ASSEMBLY}"))

    def plate(self, hand: str) -> MeasuredPart:
        """The plate that is used for a hand: one for both, or the hand's own."""
        slugs = {part.declared.slug for part in self.parts}
        return self.part("plate" if "plate" in slugs else f"plate-{hand.lower()}")

    def pieces(self, hand: str) -> list[JigPiece]:
        """Every piece of the jig in the state for a hand."""
        return [piece for piece in self._placed if self._state(piece) in ("both", hand)]

    @cached_property
    def _placed(self) -> list[JigPiece]:
        bodies = [(part, self._body(part)) for part in self.parts]
        return [
            JigPiece(place.name, part, place.frame, body.placed(place.frame))
            for part, body in bodies
            for place in part.declared.placements
        ]

    def _state(self, piece: JigPiece) -> str:
        return self.placement(piece.part, piece.name).state

    def placement(self, part: MeasuredPart, name: str) -> DeclaredPlacement:
        """The part's placement of this name."""
        return next(place for place in part.declared.placements if place.name == name)

    def _body(self, part: MeasuredPart) -> Solid:
        """The part as a solid, part frame."""
        rings = [part.cut.material.exterior, *part.cut.material.interiors]
        return Solid.prism_of_points([_fewer(ring.coords) for ring in rings], part.declared.thickness_mm)

    @cached_property
    def bearer(self) -> Rib:
        """The plain bearer: its foot on the board's edge, its shoulder against the fence, the fence on the top face."""
        part, fence = self.part("bearer"), self.part("fence-or-back-strip").declared.thickness_mm
        foot = part.edge("foot on the board's edge")
        shoulder = part.edge("fence tenon shoulder, upper").middle
        (ux, uy), (x, y) = foot.along, shoulder
        return rib_of(part, foot, lambda p: (p[0] - x) * ux + (p[1] - y) * uy - fence)

    @cached_property
    def tilt_deg(self) -> float:
        """The plate's tilt off the board's edge: the mean of a bearer's seats, by their length."""
        return sum(seat.tilt_deg for seat in self.bearer.seats) / len(self.bearer.seats)

    @cached_property
    def standoff_mm(self) -> float:
        """The plate's underside over the plane through the top arris: the mean of a bearer's seats."""
        return sum(seat.standoff_mm for seat in self.bearer.seats) / len(self.bearer.seats)

    def arris_y(self, hand: str) -> float:
        """y of the board's top arris on the plate, part frame: where the bearers' tenons hold the plate's mortises."""
        # Each tenon gives the arris by itself; what play a joint has it has on both sides, so the mean of all is taken.
        plate, found = self.plate(hand), list[float]()
        for mortise in mortises(plate):
            where = mortise.name.rsplit(", ", 1)[-1]
            if ", end, " not in mortise.name and where in self.bearer.tenons:
                found.append(sum(mortise.y) / 2 - sum(self.bearer.tenons[where]) / 2)
        if not found:
            raise Unmeasured(missing_finding(plate.declared.name, "kit.json tells no mortises for the plain bearers"))
        return sum(found) / len(found)

    def stop_x(self, hand: str) -> float:
        """x of the stop plane on the plate, part frame: the outer wall of the end bearer's mortises."""
        plate = self.plate(hand)
        # Every end bearer has such a wall; for the right hand the one farthest right counts, for the left the other.
        walls = [plate.edge(name).middle[0] for name in plate.names("mortise, end", ": stop plane")]
        if not walls:
            raise Unmeasured(missing_finding(plate.declared.name, "kit.json tells no stop plane on the plate"))
        return max(walls) if hand == "R" else min(walls)

    def plate_frame(self, hand: str) -> Frame:
        """jig_from_part of the plate as the bearers carry it; only its X is taken from kit.json."""
        #    m     Y          The plate's plane rises rearward by the tilt t off the board's edge, which is level: v
        #     \    |    _.- v  runs up in it, m out of it. With s = cos t and c = sin t they are (0, c, -s) and
        #      \   | _.-  t    (0, s, c). The top arris is the jig's origin: the part's own lies at -arris_y along v
        #   Z ---- 0 ------    and, as the plate's underside, at the standoff along m.
        plate = self.plate(hand)
        x, v, m = self.declared_frame(plate).origin[0], -self.arris_y(hand), self.standoff_mm
        s, c = cos(radians(self.tilt_deg)), sin(radians(self.tilt_deg))
        return Frame((x, v * c + m * s, -v * s + m * c), (1.0, 0.0, 0.0), (0.0, c, -s), (0.0, s, c))

    def declared_frame(self, part: MeasuredPart) -> Frame:
        """jig_from_part of the part's first piece, as kit.json places it."""
        if not part.declared.placements:
            raise Unmeasured(
                missing_finding(part.declared.name, f"kit.json does not say where the {part.declared.name} goes")
            )
        return part.declared.placements[0].frame

    def stop_plane(self, hand: str) -> float:
        """X of the stop plane, jig frame."""
        return self.declared_frame(self.plate(hand)).origin[0] + self.stop_x(hand)

    @cached_property
    def _bush_regions(self) -> dict[str, Polygon]:
        return {}

    def bush_region(self, hand: str) -> Polygon:
        """Where the bush's centre can be: the slot as cut less the bush's radius, part frame of the plate."""
        if hand not in self._bush_regions:
            # Kept, for the offset is slow and both the router's support and the sweep ask for it.
            slot = self.plate(hand).ring(f"slot {hand}")
            self._bush_regions[hand] = shrunk(slot, self.shop.router.bush_mm)
        return self._bush_regions[hand]

    @property
    def depth_mm(self) -> float:
        """How deep a housing is, square to its floor."""
        return self.job.leg.thickness_mm - self.job.housing.reveal_mm


@dataclass(frozen=True, slots=True)
class Mortise:
    """A mortise as cut: its walls' x and y in its own frame, the part's turned about its origin by turn_deg."""

    name: str
    x: tuple[float, float]
    y: tuple[float, float]
    turn_deg: float = 0.0


def jig_as_cut(folder: Folder, parts: Iterable[CutPart], assembly: str = ASSEMBLY) -> JigAsCut:
    """The housing jig, or what else belongs together, each part by the first of its files."""
    first: dict[str, MeasuredPart] = {}
    for part in parts:
        if part.declared.assembly == assembly:
            first.setdefault(part.declared.slug, MeasuredPart(part))
    settings = {name: value for name, value, _ in folder.kit.settings}
    return JigAsCut(folder.job, folder.shop, tuple(first.values()), settings)


def piece_named(pieces: Iterable[JigPiece], start: str | tuple[str, ...], of: str, missing: str) -> JigPiece:
    """The first piece whose name begins so; of: the jig that it belongs to. Raises Unmeasured, which says what kit.json
    places none of.
    """
    for piece in pieces:
        if piece.name.startswith(start):
            return piece
    raise Unmeasured(missing_finding(of, f"kit.json places no {missing}"))


def mortises(part: MeasuredPart) -> list[Mortise]:
    """Every mortise that kit.json declares in a part, measured at the middles of its walls."""
    found = []
    for name, _ in part.declared.holes:
        if name.startswith("mortise"):
            left, right, front, rear = (
                part.edge(f"{name}, {side} wall") for side in ("left", "right", "front", "rear")
            )
            # How it lies is declared, and held to the part as cut by its features.
            turn_deg = part.feature(f"{name}, left wall").value - 90
            turned = PlaneFrame(0.0, 0.0, -turn_deg)
            x = turned.point(left.middle)[0], turned.point(right.middle)[0]
            y = turned.point(front.middle)[1], turned.point(rear.middle)[1]
            found.append(Mortise(name, x, y, turn_deg))
    return found


def rib_of(part: MeasuredPart, foot: CutEdge, q_of: Callable[[Point], float]) -> Rib:
    """Seats and tenons of a bearer in its own plane; q_of: rearward from the top face, mm. Raises Unmeasured."""

    def place(p: Point) -> Point:
        return q_of(p), foot.left(p)

    seats = []
    for name in part.names("seat of the plate"):
        ends = sorted((place(part.edge(name).start), place(part.edge(name).end)))
        # q rearward from the board's top face, y up from the bearer's foot: the seat rises or falls by dy over dq.
        # The distance of the seat's line from the arris at (0, 0), up and out of the wood > 0: the cross product of
        # the seat's direction and any of its points.
        (q, y), (rear_q, rear_y) = ends
        dq, dy = rear_q - q, rear_y - y
        seats.append(PlateSeat(name, degrees(atan2(dy, dq)), (y * dq - q * dy) / hypot(dq, dy)))
    if not seats:
        raise Unmeasured(missing_finding(part.declared.name, "kit.json tells no seat of the plate on the bearer"))
    tilt_deg = sum(seat.tilt_deg for seat in seats) / len(seats)
    tenons = {}
    for where in ("front", "rear"):
        sides = [place(part.edge(f"plate tenon {where}, {side} side").middle) for side in ("front", "rear")]
        low, high = (q * cos(radians(tilt_deg)) + y * sin(radians(tilt_deg)) for q, y in sides)
        tenons[where] = (low, high)
    return Rib(part.declared.name, tuple(seats), tenons)


def _fewer(closed: Any) -> list[Point]:
    """A closed ring's points, of those inside an arc only as many as leave it by no more than _SAG_MM.

    A point is inside an arc when the circle through it and its neighbours is as large as those of its neighbours; all
    others stay: bodies meet along straight edges.
    """
    import numpy as np

    points = np.asarray(closed)[:-1]
    # The circle through three points near each other has about the radius (mean step) / (turn at the middle one).
    step = points - np.roll(points, 1, axis=0)
    after = np.roll(step, -1, axis=0)
    before_mm, after_mm = np.hypot(*step.T), np.hypot(*after.T)
    turn = np.abs(np.arctan2(step[:, 0] * after[:, 1] - step[:, 1] * after[:, 0], (step * after).sum(axis=1)))
    with np.errstate(divide="ignore", invalid="ignore"):
        radius = (before_mm + after_mm) / 2 / turn
        larger = [radius / np.roll(radius, by) for by in (1, -1)]
        share = before_mm / np.sqrt(8 * radius * _SAG_MM)  # of the longest chord with that sag
    is_round = np.all([(ratio < _ALIKE) & (ratio > 1 / _ALIKE) for ratio in larger], axis=0) & (turn < _ROUND_RAD)
    share[~is_round | (share > 1)] = 1.0
    gone = np.cumsum(share)
    kept = points[np.floor(gone) > np.floor(gone - share)]
    return [(x, y) for x, y in kept.tolist()]
