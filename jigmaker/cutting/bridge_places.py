"""Where bridges may hold a part in its sheet: Part and Machine in, places on its edges out. Part frame; mm.

A bridge is wood left standing across the cut, sawn through afterwards; its stub stays until it is dressed off. So it
stands only on a straight edge that nothing depends on, faces the sheet straight out, and is clear of all else.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from math import hypot
from typing import TYPE_CHECKING

from jigmaker.cutting.offset import offset
from jigmaker.geometry.outline import Line, Outline, Segment
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Machine
from jigmaker.parts.part import Part
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from shapely import Geometry, Polygon

KEEP_MM = 5.0
"""From the gap in the cut to any edge that something depends on, to any hole and mortise."""

_CHORD_MM = 1e-3  # what a buffer of chords may lack of a round one
_BESIDE_MM = 1.0  # from the cut of another edge to the wood of a bridge, and from a scored line to its mark, at least
_STARTS = 48  # first places that are tried for an even round
_APART = 2.0  # middles of two bridges lie this many gaps apart or more


@dataclass(frozen=True, slots=True)
class BridgePlace:
    """A bridge's middle: so far from the start of the outline's straight piece of that number, mm."""

    piece: int
    along_mm: float


@dataclass(frozen=True, slots=True)
class _Room:
    """Where a bridge's middle may lie on one piece: from low to high, measured round the outline from its start."""

    piece: int
    starts: float
    low: float
    high: float


def gap_mm(machine: Machine) -> float:
    """How long the cut is left open for a bridge, between the ends of the tool's path, however the part lies."""
    return machine.bridge_width_mm + machine.widest_cut_mm


@lru_cache(maxsize=64)
def bridge_places(part: Part, machine: Machine) -> tuple[BridgePlace, ...]:
    """As many places as the machine's bridges, spread round the part as evenly as its edges allow; fewer, or none."""
    # As many as are asked for, else one fewer, and so on: middles of bridges that are under two gaps apart would leave
    # less cut between them than each of them is wide.
    rooms = _rooms(part, machine) if machine.bridges else []
    for count in range(machine.bridges if rooms else 0, 0, -1):
        tries = list(_tries(count, rooms, part.outline.length, gap_mm(machine)))
        best = max(tries, key=lambda spots: round(_least_apart(spots, part.outline.length), 6))
        if count == 1 or _least_apart(best, part.outline.length) >= _APART * gap_mm(machine) - TOUCH_MM:
            places = []
            for spot in sorted(best):
                room = next(room for room in rooms if room.low - TOUCH_MM <= spot <= room.high + TOUCH_MM)
                places.append(BridgePlace(room.piece, spot - room.starts))
            return tuple(places)
    return ()


def free_pieces(part: Part) -> list[int]:
    """The outline's straight pieces that nothing depends on: the feature that gives a piece's direction says so."""
    named = [f for f in part.features if f.contour == "outer" and f.measure == "angle_deg" and f.kind == "free"]
    numbers = sorted({number for feature in named for number in feature.pieces})
    return [number for number in numbers if isinstance(part.outline.segments[number], Line)]


def _rooms(part: Part, machine: Machine) -> list[_Room]:
    """Stretches of the free pieces, less KEEP_MM round everything else and half a gap at both ends.

    In a notch the path comes nearer to the opposite wall than the edge does; it keeps off as far.
    """
    import shapely
    from shapely.affinity import translate

    free = free_pieces(part)
    aside = machine.widest_cut_mm / 2
    path = offset(part.outline, aside, part.slug)
    assert isinstance(path, Outline)
    forbidden, body = _forbidden(part, free, machine), shapely.Polygon(part.outline.points(16))
    starts = [0.0, *accumulate(segment.length for segment in part.outline.segments)]
    # Where the cut is wider in x or in y, its corners come by no more than the difference nearer on any piece.
    half, rooms = gap_mm(machine) / 2 + abs(machine.cut_width_mm[0] - machine.cut_width_mm[1]), list[_Room]()
    for i in free:
        edge = part.outline.segments[i]
        shadow = _shadow(edge, body, 2 * aside + _BESIDE_MM)
        line = shapely.LineString([edge.start, edge.end])
        ux, uy = edge.start_direction
        beside = translate(forbidden, -uy * aside, ux * aside)  # the gap in the path lies so far outside the edge
        stretches = shapely.get_parts(line.difference(forbidden).difference(beside).difference(shadow))
        low, high = _run_beside(edge, path, aside)
        for stretch in stretches[~shapely.is_empty(stretches)]:
            ends = sorted(hypot(x - edge.start[0], y - edge.start[1]) for x, y in stretch.coords)
            first, last = max(ends[0], low) + half, min(ends[-1], high) - half
            if first <= last:
                rooms.append(_Room(i, starts[i], starts[i] + first, starts[i] + last))
    return rooms


def _forbidden(part: Part, free: Sequence[int], machine: Machine) -> "Geometry":
    """Everything within KEEP_MM of an edge that is not free or of a hole, and so near to a scored line that a bridge's
    own mark reaches it.
    """
    import shapely

    kept = [segment for i, segment in enumerate(part.outline.segments) if i not in free]
    lines = [shapely.LineString([*segment.points(64), segment.end]) for segment in kept]
    lines += [shapely.Polygon(hole.contour.points(64)).exterior for hole in part.holes]
    scored = [shapely.linestrings(mark.strokes.pieces[:, :4].reshape(-1, 2, 2)) for mark in part.marks if not mark.text]
    beside = shapely.union_all([line for mark in scored for line in mark]).buffer(
        machine.bridge_width_mm / 2 + _BESIDE_MM
    )
    return shapely.union_all(lines).buffer(KEEP_MM + _CHORD_MM, quad_segs=64).union(beside)


def _shadow(edge: Segment, body: "Polygon", beside: float) -> "Geometry":
    """Where the part stands in front of the edge, that far to both sides: a bridge there would not reach the sheet."""
    import shapely
    from shapely.affinity import affine_transform

    (x, y), (ux, uy) = edge.start, edge.start_direction
    far = body.length
    # Along and out of the edge instead of x and y: outside an anticlockwise outline is to the right of its travel.
    seen = affine_transform(body, [ux, uy, uy, -ux, -(x * ux + y * uy), -(x * uy - y * ux)])
    ahead = shapely.get_parts(seen.intersection(shapely.box(0, _CHORD_MM, edge.length, far)))
    spans = [piece.bounds for piece in ahead if not piece.is_empty]
    strips = [shapely.box(low - beside, -_CHORD_MM, high + beside, _CHORD_MM) for low, _, high, _ in spans]
    back = [ux, uy, uy, -ux, x, y]
    return affine_transform(shapely.union_all(strips), back) if strips else shapely.Polygon()


def _run_beside(edge: Segment, path: Outline, aside: float) -> tuple[float, float]:
    """From where to where along the edge the tool's path runs straight beside it; (0, 0) when nowhere."""
    (x, y), (ux, uy) = edge.start, edge.start_direction
    for segment in path.segments:
        (ax, ay), (bx, by) = segment.start, segment.end
        beside = [(px - x) * uy - (py - y) * ux for px, py in (segment.start, segment.end)]
        low, high = (ax - x) * ux + (ay - y) * uy, (bx - x) * ux + (by - y) * uy
        if not segment.bulge and low < high and all(abs(out - aside) < TOUCH_MM for out in beside):
            return max(low, 0.0), min(high, edge.length)
    return 0.0, 0.0


def _tries(count: int, rooms: Sequence[_Room], around: float, gap: float) -> Iterator[list[float]]:
    """Ways to set so many bridges: middles of the longest rooms, evenly round, evenly over the rooms, packed."""
    longest = sorted(rooms, key=lambda room: (round(room.low - room.high, 6), room.low))
    if count <= len(rooms):
        yield [(room.low + room.high) / 2 for room in longest[:count]]
    for start in range(_STARTS):
        nearest = []
        for spot in [(start / _STARTS + i) * around / count for i in range(count)]:
            held = [min(max(spot, room.low), room.high) for room in rooms]
            nearest.append(min((round(_apart(at, spot, around), 6), at) for at in held)[1])
        yield nearest
    yield [_spot_at((i + 0.5) / count, rooms) for i in range(count)]
    packed: list[float] = []
    for room in rooms:
        spot = max(room.low, packed[-1] + _APART * gap) if packed else room.low
        while spot <= room.high + TOUCH_MM:
            packed.append(min(spot, room.high))
            spot += _APART * gap
    if count <= len(packed):
        yield [packed[i * len(packed) // count] for i in range(count)]


def _spot_at(share: float, rooms: Sequence[_Room]) -> float:
    """The spot at a share of all rooms' length together."""
    # All rooms put end to end; the spot at that share of them lies in the room in which the length runs out.
    left = share * sum(room.high - room.low for room in rooms)
    for room in rooms:
        if left <= room.high - room.low:
            return room.low + left
        left -= room.high - room.low
    return rooms[-1].high


def _apart(a: float, b: float, around: float) -> float:
    return min((a - b) % around, (b - a) % around)


def _least_apart(spots: Sequence[float], around: float) -> float:
    if len(spots) < 2:
        return around
    ordered = sorted(spots)
    return min(_apart(a, b, around) for a, b in pairwise([*ordered, ordered[0]]))
