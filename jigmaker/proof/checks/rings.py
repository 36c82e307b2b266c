"""Closed lines as rings of points, and outlines put together again over their bridges. Any plane frame; mm."""

from collections.abc import Callable, Sequence
from math import acos, ceil, dist, pi

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Outline, Segment, Stroke
from jigmaker.geometry.tolerance import TOUCH_MM

SAG_MM = 5e-4
"""How far a chord may leave its arc."""

Run = tuple[Segment, ...]
GapOf = Callable[[Point], float]
"""How long the gap of a bridge is along a unit direction, mm: the cut may not be as wide in x as in y."""

_IN_LINE = 0.01  # a bridge is left on a straight edge; ends beside each other belong to neighbours
_GAP_SLACK_MM = 0.02  # a bridge may be this much wider or narrower than asked


def reversed_run(run: Run) -> Run:
    """The run from its end to its start, arcs turning the other way."""
    return tuple(each.reversed() for each in reversed(run))


def points_of(shape: Outline | Circle) -> list[Point]:
    """The ring as points, chords within SAG_MM of the arcs; the first is not repeated."""
    if isinstance(shape, Circle):
        return shape.points(_chords(shape.radius))
    return points_along(shape.segments)


def points_along(segments: Sequence[Segment]) -> list[Point]:
    """A run of pieces as points, the end of the last left out."""
    found: list[Point] = []
    for each in segments:
        found += each.points(_chords(each.radius)) if isinstance(each, Arc) else (each.start,)
    return found


def closed_rings(strokes: Sequence[Stroke], gap_of: GapOf) -> tuple[list[tuple[int, list[Point]]], list[int]]:
    """Strokes chained over bridges' gaps to rings: of each its first stroke's number and its points, straight across
    the gaps; and the numbers of the strokes that belong to no ring."""
    closed, stray = _chains(strokes, gap_of)
    rings = [(chain[0][0], [p for _, run in chain for p in [*points_along(run), run[-1].end]]) for chain in closed]
    return rings, stray


def gaps_of(strokes: Sequence[Stroke], gap_of: GapOf) -> list[tuple[Point, Point]]:
    """The two ends of every gap that a bridge leaves in a ring of strokes."""
    closed, _ = _chains(strokes, gap_of)
    pairs = [pair for chain in closed for pair in zip(chain, [*chain[1:], chain[0]], strict=True)]
    return [(one[-1].end, two[0].start) for (_, one), (_, two) in pairs]


def _chains(strokes: Sequence[Stroke], gap_of: GapOf) -> tuple[list[list[tuple[int, Run]]], list[int]]:
    """Strokes with their numbers, turned so that each goes on over a gap where the last one ended, the first after the
    last; and the numbers of those that belong to no such chain."""
    # Taken one after another; a stroke may have been drawn from either end. What leads back to its own first stroke is
    # a ring. There are a dozen strokes on a part, so that trying each of them is quick enough.
    left = {number: stroke.segments for number, stroke in enumerate(strokes)}
    closed: list[list[tuple[int, Run]]] = []
    stray: list[int] = []
    while left:
        first = next(iter(left))
        chain: list[tuple[int, Run]] = [(first, left.pop(first))]
        is_closed = False
        while not (is_closed := _bridges(chain[-1][1], chain[0][1], gap_of)):
            turned = ((n, run) for n, other in left.items() for run in (other, reversed_run(other)))
            following = next(((n, run) for n, run in turned if _bridges(chain[-1][1], run, gap_of)), None)
            if following is None:
                break
            left.pop(following[0])
            chain.append(following)
        if is_closed:
            closed.append(chain)
        else:
            stray += [number for number, _ in chain]
    return closed, stray


def _bridges(run: Run, following: Run, gap_of: GapOf) -> bool:
    """True when the second run goes on where the first ends, a bridge's gap further along the same straight line."""
    #   ===run===>  |<- gap ->|  ===following===>    A bridge: the gap is as long as the bridge and the tool
    #              end       start                    together, and both lines run on in its direction.
    end, start = run[-1].end, following[0].start
    gap = dist(end, start)
    if gap < TOUCH_MM:
        return False
    across = ((start[0] - end[0]) / gap, (start[1] - end[1]) / gap)
    is_bridge = abs(gap - gap_of(across)) <= _GAP_SLACK_MM
    return is_bridge and all(
        dist(across, way) < _IN_LINE for way in (run[-1].end_direction, following[0].start_direction)
    )


def _chords(radius: float) -> int:
    """Chords a quarter turn that stay within SAG_MM."""
    return max(4, ceil(pi / 4 / acos(1 - SAG_MM / radius))) if radius > SAG_MM else 4
