"""Compensated lines held against nominal ones (118): how far apart, and on which side. Sheet frame; mm.

Outlines must run half the tool's width outside the nominal ones, inner lines as much inside. Whoever moves lines leaves
a sharp corner or a flat beyond a corner that sticks out, so corners may be farther away, but nothing may be nearer.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from jigmaker.geometry.outline import Arc, Circle, Outline, Segment, Stroke
from jigmaker.job.shop import Operation
from jigmaker.proof.checks.file_set import DrawnContour, FileSet
from jigmaker.proof.checks.rings import points_along, points_of
from jigmaker.proof.contours import ReadShape
from jigmaker.proof.faults import FILES_AGAIN, Faults
from jigmaker.units import text

if TYPE_CHECKING:
    from shapely import LinearRing, LineString

MOVED_MM = 0.002
"""How far the distance may be off."""

_HOW: dict[Operation, str] = {"outer": "outside", "inner": "inside"}


def check_moved(moved: FileSet, nominal: FileSet, faults: Faults, within_mm: float = MOVED_MM) -> None:
    """Every cut line of the compensated files is the nominal one moved by the declared offset, to the right side.

    within_mm: how far the distance may be off.
    """
    import shapely

    for operation in ("outer", "inner"):
        lines, wanted = moved.of(operation), nominal.of(operation)
        if moved.is_whole and nominal.is_whole and operation == "inner" and len(lines) != len(wanted):
            says = f"it has {len(lines)} inner contours, {nominal.name} has {len(wanted)}"
            faults.add(118, says, FILES_AGAIN, value=str(len(lines)), limit=str(len(wanted)))
        # Each line belongs to the nominal one that it runs along: the nearest, and of several the one most alike.
        rings = [_nominal_line(drawn.shape) for drawn in wanted]
        tree = shapely.STRtree(rings)
        own: list[list[DrawnContour]] = [[] for _ in rings]
        for drawn in lines if rings else ():
            path = _nominal_line(drawn.shape)
            near = tree.query_nearest(path, all_matches=True).tolist()
            best = near[0] if len(near) == 1 else min(near, key=lambda i: shapely.hausdorff_distance(path, rings[i]))
            own[best].append(drawn)
        for drawn, along in zip(wanted, own, strict=True):
            if not along:
                says = f"nothing follows the {operation} contour {drawn.contour.place} of {nominal.name}"
                faults.add(118, says, FILES_AGAIN, drawn.contour.place)
            elif not isinstance(drawn.shape, Stroke):
                _check_pair(along, drawn.shape, operation, (moved.offset_mm, within_mm), faults)


def _nominal_line(shape: ReadShape) -> LinearRing | LineString:
    import shapely

    if isinstance(shape, Stroke):
        return shapely.LineString([*points_along(shape.segments), shape.segments[-1].end])
    return shapely.linearrings(points_of(shape))


def _check_pair(
    own: Sequence[DrawnContour],
    nominal: Outline | Circle,
    operation: Operation,
    offset_within: tuple[float, float],
    faults: Faults,
) -> None:
    """Nowhere nearer than the offset, on the right side, and beside each nominal piece no farther either."""
    import shapely

    offset_mm, within_mm = offset_within
    ring = _nominal_line(nominal)
    path = shapely.multilinestrings([shapely.linestrings(shapely.get_coordinates(_nominal_line(e.shape))) for e in own])
    at, limit = own[0].contour.place, f"{text(offset_mm, 3)} mm"
    #    .-----------------.  path      Nowhere nearer than the offset, every corner on the right side of the line, and
    #    |  .-----------.  |            the middle of each nominal piece, moved by nothing, as far from the path as the
    #    |  |  nominal  |  |            offset and no farther. Corners may be farther: a mitre is, round a corner.
    is_in = shapely.contains_xy(shapely.polygons(ring), shapely.get_coordinates(path))
    right = is_in if operation == "inner" else ~is_in
    nearest = float(shapely.distance(path, ring))
    if offset_mm > within_mm and not right.all():
        says = f"an {operation} contour does not run {_HOW[operation]} the nominal one"
        faults.add(118, says, FILES_AGAIN, at)
    elif nearest < offset_mm - within_mm:
        says = f"an {operation} contour comes too near to the nominal one"
        faults.add(118, says, FILES_AGAIN, at, f"{text(nearest, 4)} mm", limit)
    elif not any(isinstance(each.shape, Stroke) for each in own):  # over a bridge's gap the nearest line is far away
        # A place on each piece that the tool must come to: not in a fillet narrower than the tool. A piece may vanish
        # that is shorter than the tool is wide, and an arc that shrinks to less than nothing.
        if isinstance(nominal, Circle):
            (x, y), r = nominal.centre, nominal.radius
            beside = [(x + r, y), (x, y + r), (x - r, y), (x, y - r)]
        else:
            grows = (operation == "outer") == (nominal.area > 0)
            beside = [
                middle_of(each)
                for each in nominal.segments
                if each.length >= 4 * offset_mm
                and not (isinstance(each, Arc) and (each.bulge > 0) != grows and each.radius < 1.01 * offset_mm)
            ]
        places = [shapely.Point(place) for place in beside]
        far = max((float(distance) for distance in shapely.distance(places, path)), default=0.0)
        if far > offset_mm + within_mm:
            says = f"an {operation} contour is too far from the nominal one"
            faults.add(118, says, FILES_AGAIN, at, f"{text(far, 4)} mm", limit)


def middle_of(each: Segment) -> tuple[float, float]:
    """The middle of a piece, on the arc."""
    (x0, y0), (x1, y1), bulge = each.start, each.end, each.bulge
    return ((x0 + x1) / 2 + (y1 - y0) / 2 * bulge, (y0 + y1) / 2 - (x1 - x0) / 2 * bulge)
