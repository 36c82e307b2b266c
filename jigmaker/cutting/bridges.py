"""Bridges as drawn, a path left open or a mark across the line: outline and places in, strokes out. Sheet frame; mm."""

from collections.abc import Callable, Sequence
from math import dist

from jigmaker.cutting.bridge_places import BridgePlace
from jigmaker.cutting.track import moved_left
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Line, Outline, Segment, Stroke
from jigmaker.geometry.tolerance import TOUCH_MM

Gap = tuple[Point, Point]

_EDGE_MM = 0.1  # what is drawn stays so far inside the sheet


def marked(nominal: Outline, places: Sequence[BridgePlace], wood: float, size: Point) -> tuple[Stroke, ...]:
    """A straight line square across the outline at each bridge, as long as the bridge is wide: half of it outside.

    size: of the sheet, which it does not leave; where there is less room outside, more of it lies inside.
    """
    strokes = []
    for place in places:
        edge = nominal.segments[place.piece]
        (x, y), (ux, uy) = edge.start, edge.start_direction
        middle, out = (x + ux * place.along_mm, y + uy * place.along_mm), (uy, -ux)
        rooms = [
            ((high - _EDGE_MM if way > 0 else _EDGE_MM) - at) / way
            for at, way, high in zip(middle, out, size, strict=True)
            if abs(way) > TOUCH_MM
        ]
        outside = min(wood / 2, *rooms)
        strokes.append(Stroke.from_points([moved_left(middle, (ux, uy), side) for side in (wood - outside, -outside)]))
    return tuple(strokes)


def opened(
    path: Outline, nominal: Outline, places: Sequence[BridgePlace], wood: float, half_width: Callable[[Point], float]
) -> tuple[Stroke, ...]:
    """The path round the outline, anticlockwise, as one stroke from each gap to the next; nothing else is changed.

    wood: the width of a bridge. half_width: how far the tool reaches along a unit direction, mm, which is how far
    outside an edge the path runs too. Each place must have the path straight beside its whole gap.
    """
    #        gap = wood + a tool's reach at both ends
    #      |<-------------------->|
    # ---->+                      +---->  the path, `aside` outside the edge
    #       \        wood        /
    # -------|<---------------->|------   the edge
    gaps: list[Gap] = []
    for place in places:
        edge = nominal.segments[place.piece]
        (x, y), (ux, uy) = edge.start, edge.start_direction
        gap, aside = wood + 2 * half_width((ux, uy)), half_width((uy, -ux))
        ends = [(x + ux * at, y + uy * at) for at in (place.along_mm - gap / 2, place.along_mm + gap / 2)]
        # Outside an anticlockwise outline is to the right of its travel.
        gaps.append((moved_left(ends[0], (ux, uy), -aside), moved_left(ends[1], (ux, uy), -aside)))
    chains: list[list[Segment]] = [[]]
    for segment in path.segments:
        here = segment.start
        # The gaps on this piece, in its direction of travel.
        own = []
        if isinstance(segment, Line):
            (x, y), (ux, uy) = segment.start, segment.start_direction
            for each in gaps:
                # Both ends in the segment's own axes: along its travel, and out to its right.
                places_of = [((px - x) * ux + (py - y) * uy, (px - x) * uy - (py - y) * ux) for px, py in each]
                if all(abs(out) < TOUCH_MM and -TOUCH_MM <= at <= segment.length + TOUCH_MM for at, out in places_of):
                    own.append(each)
        for first, last in sorted(own, key=lambda each: dist(each[0], segment.start)):
            chains[-1] += _straight(here, first)
            chains.append([])
            here = last
        chains[-1] += _straight(here, segment.end) if here != segment.start else [segment]
    # The path's own start is no gap: what runs into it goes on from it.
    whole = [*chains[1:-1], chains[-1] + chains[0]]
    return tuple(Stroke(tuple(chain)) for chain in whole)


def _straight(start: Point, end: Point) -> list[Segment]:
    return [Line(start, end)] if dist(start, end) > TOUCH_MM else []
