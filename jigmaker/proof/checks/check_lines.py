"""The lines of a set of files among themselves: open, doubled, crossing, astray or out of order.

Codes 108 to 110, 112, 114, 115. Sheet frame; mm.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from math import dist, hypot
from typing import TYPE_CHECKING

from jigmaker.findings import Severity
from jigmaker.geometry.outline import Stroke
from jigmaker.job.shop import Shop
from jigmaker.proof.checks.doubles import APART_MM, doubled_rows
from jigmaker.proof.checks.file_set import CUT, NOTE, DrawnContour, FileSet
from jigmaker.proof.checks.pieces import Pieces
from jigmaker.proof.checks.rings import closed_rings, points_of
from jigmaker.proof.faults import FILES_AGAIN, Faults, TooMuch
from jigmaker.record import dataclass
from jigmaker.units import text

if TYPE_CHECKING:
    from shapely import Polygon

    from jigmaker.proof.contours import Truths

MOST_CUT = 2000
"""Contours on cut layers of one sheet; a full one has a tenth of that."""

_ORDER = "set the order in your machine's program: marks, what lies inside, outlines; or write the files again"
_CLOSE = "close it, or write the files again with jigmaker make"


@dataclass(frozen=True, slots=True)
class CutRing:
    """A closed line that is cut, with what it was read from (several pieces when bridges were left)."""

    polygon: Polygon
    drawn: DrawnContour


def check_lines(files: FileSet, shop: Shop, faults: dict[str, Faults]) -> None:
    """Everything that can be wrong between the lines of a set of files. Raises TooMuch for more than any kit has."""
    import numpy as np
    import shapely

    if int(np.isin(files.operations, CUT).sum()) > MOST_CUT:
        raise TooMuch(f"more than {MOST_CUT} contours are cut, which no kit has")
    rings = _rings(files, shop, faults)
    # None crosses itself or touches another one.
    lines = [ring.polygon.exterior for ring in rings]
    for ring, line in zip(rings, lines, strict=True):
        if not line.is_simple:
            faults[ring.drawn.file].add(112, "a contour crosses itself", FILES_AGAIN, ring.drawn.contour.place)
    if lines:
        one, two = shapely.STRtree(lines).query(lines, predicate="intersects")
        for i, j in zip(one.tolist(), two.tolist(), strict=True):
            if i < j:
                place = f"{rings[i].drawn.contour.place} and {rings[j].drawn.contour.place}"
                faults[rings[i].drawn.file].add(112, "two contours cross or touch", FILES_AGAIN, place)
    if files.is_whole:
        # An inner contour lies inside one outline; outlines lie beside each other.
        # Counted is in how many outlines each ring lies, itself not counted.
        outer = [ring for ring in rings if ring.drawn.operation == "outer"]
        counts = [0] * len(rings)
        if outer:
            tree = shapely.STRtree([ring.polygon for ring in outer])
            inside, around = tree.query([ring.polygon for ring in rings], predicate="within")
            for i, j in zip(inside.tolist(), around.tolist(), strict=True):
                counts[i] += rings[i] is not outer[j]
        for ring, count in zip(rings, counts, strict=True):
            found, place = faults[ring.drawn.file], ring.drawn.contour.place
            if ring.drawn.operation == "inner" and count != 1:
                says = "an inner contour lies inside " + ("no outline" if count == 0 else f"{count} outlines")
                found.add(114, says, FILES_AGAIN, place, limit="1 outline")
            elif ring.drawn.operation == "outer" and count:
                found.add(114, "an outline lies inside another one", FILES_AGAIN, place)
    _check_order(files, rings, {ring.drawn.file for ring in rings if _is_loose(ring.drawn, files, shop)}, faults)


def _rings(files: FileSet, shop: Shop, faults: dict[str, Faults]) -> list[CutRing]:
    """Every closed line on a cut layer; open ones are faults, but for outlines with the bridges that were asked for."""
    import shapely

    rings: list[CutRing] = []
    open_outer: list[DrawnContour] = []
    # Bridges are gaps only in lines with the tool's width in them; at finished size they are marked across closed
    # lines.
    may_open = shop.machine.bridges > 0 and files.compensation == "included"
    for drawn in files.of("inner", "outer"):
        if not isinstance(drawn.shape, Stroke):
            points = points_of(drawn.shape)
            if len(points) < 3:  # a line there and back
                faults[drawn.file].add(112, "a contour encloses nothing", FILES_AGAIN, drawn.contour.place)
                continue
            rings.append(CutRing(shapely.polygons(points), drawn))
            if _is_loose(drawn, files, shop):
                says = "a line that is cut is closed only because ends meet"
                do = "join it to one closed contour where your program lets you choose a side for the tool"
                if files.is_changed:
                    says, do = f"{says}, and its pieces may be cut in any order", f"{do}; then {_ORDER}"
                faults[drawn.file].add(109, says, do, drawn.contour.place, severity="caution")
        elif may_open and drawn.operation == "outer":
            open_outer.append(drawn)
        else:
            gap = dist(drawn.shape.segments[0].start, drawn.shape.segments[-1].end)
            says = f"a line on the {drawn.operation} layer is open"
            faults[drawn.file].add(108, says, _CLOSE, drawn.contour.place, f"gap {text(gap, 4)} mm")
    # What was left open is put together over its bridges; every piece must belong to a ring whose gaps are all bridges.
    machine, (in_x, in_y) = shop.machine, shop.machine.cut_width_mm
    strokes = [each.shape for each in open_outer if isinstance(each.shape, Stroke)]
    closed, left = closed_rings(strokes, lambda way: machine.bridge_width_mm + hypot(in_x * way[0], in_y * way[1]))
    for number in left:
        says = "a piece of an outline does not pair up with another across a bridge"
        limit, place = machine.bridge_width_mm + machine.tool_mm, open_outer[number].contour.place
        faults[open_outer[number].file].add(108, says, _CLOSE, place, limit=f"gap {text(limit, 3)} mm")
    bridged = [CutRing(shapely.polygons(points), open_outer[number]) for number, points in closed if len(points) > 2]
    return rings + bridged


def _is_loose(drawn: DrawnContour, files: FileSet, shop: Shop) -> bool:
    """True for a contour in several lines and arcs where the shop did not ask for such."""
    is_wanted = files.form == "dxf" and shop.files.contours == "line and arc"
    return not drawn.contour.is_whole and not is_wanted


def _check_order(files: FileSet, rings: Sequence[CutRing], loose: Set[str], faults: dict[str, Faults]) -> None:
    """Marks, then inner contours (contained before containing), then outlines: a piece cut loose moves.

    A caution where another program saved the file: the layers still give the order to machines that go by them.
    None of the `loose` ones that were changed: of those another finding says that their pieces have no order.
    """
    import numpy as np
    import shapely

    spared = loose if files.is_changed else frozenset()
    severity: Severity = "caution" if files.is_changed else "error"
    for source, file in enumerate(files.files):
        if file.name in spared:
            continue
        # Numbers of operations rise in cutting order: one that is lower than any before it in the file comes too late.
        numbers = np.flatnonzero((files.sources == source) & (files.operations != NOTE))
        ranks = files.operations[numbers]  # they are numbered in cutting order
        for number in numbers[ranks < np.maximum.accumulate(ranks)].tolist():
            says = f"a line of the {files.operation(number)} operation comes after others that are cut later"
            if files.is_changed:
                says = "lines come after others that are cut later"
            faults[file.name].add(115, says, _ORDER, files.lines.places[number], severity=severity)
    inner = [ring for ring in rings if ring.drawn.operation == "inner" and ring.drawn.file not in spared]
    # A hole inside an opening comes first: what drops out takes it along.
    if inner:
        polygons = [ring.polygon for ring in inner]
        inside, around = shapely.STRtree(polygons).query(polygons, predicate="within")
        for i, j in zip(inside.tolist(), around.tolist(), strict=True):
            if i > j:
                says = "an inner contour comes after the one that holds it"
                faults[inner[i].drawn.file].add(115, says, _ORDER, inner[i].drawn.contour.place, severity=severity)


def check_doubles(files: FileSet, letters: Truths, faults: dict[str, Faults]) -> None:
    """No line is drawn twice: nowhere do two pieces run within 0.01 mm of each other for more than 0.1 mm.

    letters: which contours are marks with chords for their arcs. They are no lines like others, for a round letter's
    chord lies along the stem that it runs into: of those no two may have all corners within 0.01 mm, whichever way they
    run. Raises TooMuch when the lines are too many and too close to be compared at all.
    """
    import numpy as np
    import shapely

    pieces, owner = files.pieces, files.lines.owner
    rows = np.flatnonzero(~letters[owner])
    for one, two, length in doubled_rows(Pieces(pieces.table[rows], owner[rows], pieces.kind[rows])):
        _add_double(files, int(owner[rows[one]]), int(owner[rows[two]]), length, faults)
    # Letters with chords for arcs that run through the same corners.
    numbers = np.flatnonzero(letters).tolist()
    drawn = [files.lines.rows(number) for number in numbers]
    ways = [np.concatenate([way[:1, :2], way[:, 2:4]]) for way in drawn]
    middles = shapely.points([way.mean(axis=0) for way in ways]) if ways else []
    pairs = shapely.STRtree(middles).query(middles, predicate="dwithin", distance=APART_MM) if ways else ((), ())
    for i, j in zip(*pairs, strict=True):
        either_way = (ways[j], ways[j][::-1]) if i < j and len(ways[i]) == len(ways[j]) else ()
        if any(np.abs(ways[i] - way).max() <= APART_MM for way in either_way):
            length = float(np.hypot(*(drawn[i][:, 2:4] - drawn[i][:, :2]).T).sum())
            _add_double(files, numbers[i], numbers[j], length, faults)


def _add_double(files: FileSet, first: int, second: int, length: float, faults: dict[str, Faults]) -> None:
    operation, other, file = files.operation(first), files.operation(second), files.file(first)
    if (operation == "bridge") != (other == "bridge"):
        return  # nobody cuts a bridge's mark, and kits made before kept none off a line to saw on
    if operation == other == "note" and file != files.file(second):
        return  # each file has a note of its own, at the same place
    says = f"a line of the {operation} operation is there twice"
    if faults[file].met_again(110, says):
        return
    do, places = "remove one of the two, or write the files again", files.lines.places
    faults[file].add(110, says, do, f"{places[first]} and {places[second]}", f"{text(length, 3)} mm twice")
