"""What holds each piece while its outline is cut: bridges (258), screws (259), or neither; mm.

Bridges are read from the files: lines across the outlines at finished size, gaps in those with the tool's width. Each
must stand on an edge that kit.json calls free, away from all that works. Kits that declare nothing of it are not asked.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import hypot
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Circle, Line, Outline, Segment, Stroke, bounds_of
from jigmaker.job.shop import Machine
from jigmaker.proof.checks.as_cut import as_made
from jigmaker.proof.checks.file_set import FileSet, file_sets
from jigmaker.proof.checks.rings import gaps_of, points_of
from jigmaker.proof.contours import ReadShape
from jigmaker.proof.faults import FILES_AGAIN, Faults
from jigmaker.proof.records import DeclaredPart, DeclaredSheet, Folder
from jigmaker.record import dataclass
from jigmaker.units import text

if TYPE_CHECKING:
    from shapely import Geometry

    from jigmaker.findings import Finding

KEEP_MM = 5.0
"""From a bridge's wood to anything that works, at least; a stub that is pared must not come near it."""

SCREW_CLEAR_MM = 10.0
"""A screw's cross stays a cutter's width and this much more off every path."""

_CROSS_MM = 5.0
_NEAR_MM = 0.02


@dataclass(frozen=True, slots=True)
class LoosePieces:
    """Pieces of a part on one sheet that hang on no bridge, and what holds them, as kit.json declares."""

    sheet: str
    part: str
    pieces: int
    by: str


@dataclass(frozen=True, slots=True)
class _Bridge:
    """A bridge as drawn: what crosses the edge, or the middle of the gap beside it; and the way along the edge."""

    drawn: Geometry
    along: Point
    place: str

    def fault(
        self, part: DeclaredPart, at: PlaneFrame, numbered: tuple[int, Segment], machine: Machine, is_mark: bool
    ) -> str:
        """What is wrong with a bridge on the edge nearest to it; "" for a good one."""
        import shapely

        number, edge = numbered
        is_free = ("outer", "free", "angle_deg")
        free = {n for f in part.features if (f.contour, f.kind, f.measure) == is_free for n in f.pieces}
        if number not in free or not isinstance(edge, Line):
            return "stands on an edge that something depends on"
        # The cross product of two unit vectors is the sine of the angle between them: 0 for a mark that stands square.
        (ux, uy), (vx, vy) = edge.start_direction, self.along
        if abs(ux * vy - uy * vx) > 1e-3 or (is_mark and not _line(edge).intersects(self.drawn)):
            return "is not marked square across its edge"
        middle = self.drawn.centroid
        along = (middle.x - edge.start[0]) * ux + (middle.y - edge.start[1]) * uy
        half = machine.bridge_width_mm / 2
        ends = [(edge.start[0] + ux * d, edge.start[1] + uy * d) for d in (along - half, along + half)]
        works: list[Geometry] = [
            _line(each) for n, each in enumerate(part.outline.placed(at).segments) if n not in free
        ]
        works += [shapely.LinearRing(points_of(hole.placed(at))) for _, hole in part.holes]
        if works and shapely.LineString(ends).distance(shapely.union_all(works)) < KEEP_MM - _NEAR_MM:
            return f"comes within {text(KEEP_MM)} mm of something that works"
        return ""


def prove_holding(folder: Folder) -> tuple[list[Finding], tuple[LoosePieces, ...]]:
    """What is wrong with bridges and screws, set of files by set, and the pieces without a bridge, sheet by sheet."""
    parts = {part.slug: part for part in folder.kit.parts}
    if all(part.bridges is None for part in parts.values()):
        return [], ()
    findings: list[Finding] = []
    loose: dict[str, tuple[LoosePieces, ...]] = {}
    for files in file_sets(folder):
        if not files.files or not files.is_whole:
            continue
        faults, files = Faults(files.name), as_made(files, folder.shop.machine)
        # The set's pieces where they lie; none of a part's own files with the tool's width in them: the sheets have it.
        if isinstance(files.owner, DeclaredSheet):
            placed = [(parts[slug], frame) for slug, frame in files.owner.pieces if slug in parts]
        else:
            outlines = [each.shape for each in files.of("outer") if isinstance(each.shape, Outline)]
            if files.compensation == "included" or not outlines:
                placed = []
            else:
                low_x, low_y, _, _ = bounds_of(outlines)
                placed = [(files.owner, PlaneFrame(low_x, low_y))]
        if placed:
            found = _check_bridges(files, placed, folder, faults)
            if isinstance(files.owner, DeclaredSheet):
                by = {part.slug: part.held_by for part, _ in placed}
                counts = Counter(part.slug for (part, _), count in zip(placed, found, strict=True) if not count)
                sheet = files.owner.name
                loose.setdefault(sheet, tuple(LoosePieces(sheet, slug, n, by[slug]) for slug, n in counts.items()))
        if isinstance(files.owner, DeclaredSheet) and files.owner.screws is not None:
            _check_screws(files, files.owner.screws, folder.shop.machine, faults)
        findings += faults.findings
    return findings, tuple(held for each in loose.values() for held in each)


def _check_bridges(
    files: FileSet, placed: Sequence[tuple[DeclaredPart, PlaneFrame]], folder: Folder, faults: Faults
) -> list[int]:
    """How many bridges each piece has; a fault for each that is wrong."""
    import shapely

    machine = folder.shop.machine
    edges = [(i, n, s) for i, (part, at) in enumerate(placed) for n, s in enumerate(part.outline.placed(at).segments)]
    # A bridge belongs to the edge nearest to it: the tool's path runs half its width beside the edge, and pieces lie
    # farther apart than that.
    tree = shapely.STRtree([_line(segment) for _, _, segment in edges])
    counts = [0] * len(placed)
    for bridge in _bridges(files, machine, faults):
        i, number, edge = edges[int(tree.nearest(bridge.drawn))]
        counts[i] += 1
        part, at = placed[i]
        if fault := bridge.fault(part, at, (number, edge), machine, files.compensation == "left out"):
            faults.add(258, f"a bridge of {part.name} {fault}", FILES_AGAIN, bridge.place)
    if files.compensation == "included" or folder.shop.layers["bridge"].write:
        for (part, _), count in zip(placed, counts, strict=True):
            if part.bridges is not None and count != part.bridges:
                says = f"{part.name} has {count} bridges, kit.json tells {part.bridges}"
                faults.add(258, says, FILES_AGAIN, value=str(count), limit=str(part.bridges))
    return counts


def _bridges(files: FileSet, machine: Machine, faults: Faults) -> Iterator[_Bridge]:
    """Marks across outlines, or gaps in them."""
    import shapely

    # At finished size the outline is whole, and a mark as long as the bridge crosses it; with the tool's width the line
    # itself has a gap, longer than the bridge by the width of the cut, half of it at either end.
    if files.compensation == "left out":
        for drawn in files.of("bridge"):
            pieces = [] if isinstance(drawn.shape, Circle) else drawn.shape.segments
            (x0, y0), (x1, y1) = (pieces[0].start, pieces[-1].end) if pieces else ((0.0, 0.0), (0.0, 0.0))
            long = hypot(x1 - x0, y1 - y0)
            if len(pieces) != 1 or pieces[0].bulge or abs(long - machine.bridge_width_mm) > _NEAR_MM:
                says, limit = "the mark of a bridge is no line as long as the bridge", machine.bridge_width_mm
                faults.add(258, says, FILES_AGAIN, drawn.contour.place, f"{text(long, 3)} mm", f"{text(limit, 3)} mm")
            else:
                mark = shapely.LineString([(x0, y0), (x1, y1)])
                yield _Bridge(mark, ((y1 - y0) / long, (x0 - x1) / long), drawn.contour.place)
        return
    in_x, in_y = machine.cut_width_mm
    strokes = [each.shape for each in files.of("outer") if isinstance(each.shape, Stroke)]
    gaps = gaps_of(strokes, lambda way: machine.bridge_width_mm + hypot(in_x * way[0], in_y * way[1]))
    for (x0, y0), (x1, y1) in gaps:
        long, middle = hypot(x1 - x0, y1 - y0), ((x0 + x1) / 2, (y0 + y1) / 2)
        place = f"{text(middle[0], 3)}, {text(middle[1], 3)}"
        yield _Bridge(shapely.Point(middle), ((x1 - x0) / long, (y1 - y0) / long), place)


def _check_screws(files: FileSet, screws: Sequence[Point], machine: Machine, faults: Faults) -> None:
    """In each file a cross at every declared place; but for the square no note is nearer to a path than a screw."""
    import shapely

    notes = [(each, _whole(each.shape)) for each in files.of("note")]
    rings = [line for each, line in notes if isinstance(each.shape, Outline)]
    # The note holds the reference square, a closed outline with its words inside it, and a cross of two lines for each
    # screw.
    square = shapely.box(*shapely.union_all(rings).bounds) if rings else shapely.Polygon()
    arms = [(each, line) for each, line in notes if not square.covers(line)]
    paths = shapely.union_all([_whole(each.shape) for each in files.of("inner", "outer")])
    # A program that moves lines at finished size runs half a cutter outside them.
    aside = machine.tool_mm / 2 if files.compensation == "left out" else 0.0
    # Both arms of a cross have their middles on the screw's place: two lines of the cross's length for each screw.
    least, middles = machine.tool_mm + SCREW_CLEAR_MM, Counter[tuple[str, int]]()
    for each, line in arms:
        clear = float(line.distance(paths)) - aside
        if clear < least - _NEAR_MM:
            says = "a place for a screw is within the cutter's reach"
            faults.add(259, says, FILES_AGAIN, each.contour.place, f"{text(clear, 3)} mm", f"{text(least, 3)} mm")
        middle = line.interpolate(0.5, normalized=True)
        near = [i for i, at in enumerate(screws) if middle.distance(shapely.Point(at)) < _NEAR_MM]
        if near and abs(line.length - _CROSS_MM) < _NEAR_MM:
            middles[each.file, near[0]] += 1
        else:
            faults.add(259, "the note has a line that is no place told for a screw", FILES_AGAIN, each.contour.place)
    for i, (x, y) in enumerate(screws):
        if any(middles[file.name, i] != 2 for file in files.files):
            faults.add(259, f"there is no cross for the screw at {text(x, 3)}, {text(y, 3)}", FILES_AGAIN)


def _line(segment: Segment) -> Geometry:
    import shapely

    return shapely.LineString([*segment.points(64), segment.end])


def _whole(shape: ReadShape) -> Geometry:
    import shapely

    if isinstance(shape, Stroke):
        return shapely.LineString([*(p for each in shape.segments for p in each.points(64)), shape.segments[-1].end])
    return shapely.LinearRing(points_of(shape))
