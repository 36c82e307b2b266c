"""Where lines lie: a part's in its own file, a sheet's laid out from its parts' files, a moved sheet's back in place.

A part's own file is a sheet with that one part on it; a sheet that was not written at finished size is put together
from those files where kit.json places its pieces. Sheet frame; mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from math import hypot, inf, radians, tan
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Circle, Outline, Stroke, bounds_of
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.proof.checks.as_cut import as_made
from jigmaker.proof.checks.file_set import CUT, FileSet, file_sets
from jigmaker.proof.checks.machine_error import round_width_mm, stretched_area, unstretched
from jigmaker.proof.checks.pieces import Pieces
from jigmaker.proof.checks.rings import closed_rings, points_of
from jigmaker.proof.checks.sweep import all_shrunk
from jigmaker.proof.contours import Contours, joined_contours
from jigmaker.proof.readers.resaved import RESAVED_MM
from jigmaker.proof.records import DeclaredPart, DeclaredSheet, Folder
from jigmaker.units import text

if TYPE_CHECKING:
    pass

Shift = tuple[float, float]


def part_shift(files: FileSet, nominal: FileSet | None) -> tuple[Shift | None, bool]:
    """The lower left of the part's box at finished size; True when it is exact.

    It is read from the nominal file when there is one. Else the compensated outline is moved back by the offset, with
    chords for its arcs. None when there is no closed outline to go by.

    Chords that another program made of arcs stay within them, so a box that hangs on curves is no place to go by: the
    middle of the convex hull is, which they move by a thousandth of that.
    """
    import shapely

    for each in (files if files.compensation == "left out" else None, nominal):
        if each is not None and (outlines := _outlines(each)):
            if each.is_changed and isinstance(each.owner, DeclaredPart) and hangs_on_curves(each.owner.outline):
                (x, y), (told_x, told_y) = _middle(outlines), _middle([each.owner.outline])
                return (x - told_x, y - told_y), True
            low_x, low_y, _, _ = bounds_of(outlines)
            return (low_x, low_y), True
    # The tool's path moved back by the offset is the part's edge; sharp corners come back as they were (mitre).
    rings = [shapely.polygons(points_of(shape)) for shape in _outlines(files)]
    finished = shapely.buffer(shapely.union_all(rings), -files.offset_mm, join_style="mitre", mitre_limit=20.0)
    low_x, low_y, _, _ = finished.bounds
    return ((float(low_x), float(low_y)) if not finished.is_empty else None), False


def hangs_on_curves(outline: Outline) -> bool:
    """True when a part's curves reach farther left or down than all its straight edges."""
    # The box's left and lower sides: where straight edges reach them, chords in place of arcs move nothing.
    straight = [end for each in outline.segments if not each.bulge for end in (each.start, each.end)]
    lows = zip(*straight, strict=True) if straight else ((inf,), (inf,))
    return any(min(ends) > low + TOUCH_MM for ends, low in zip(lows, outline.bounds, strict=False))


def _middle(outlines: list[Outline | Circle]) -> Shift:
    import shapely

    middle = shapely.MultiPoint([point for shape in outlines for point in points_of(shape)]).convex_hull.centroid
    return (middle.x, middle.y)


def _outlines(files: FileSet) -> list[Outline | Circle]:
    return [each.shape for each in files.of("outer") if isinstance(each.shape, Outline | Circle)]


Finished = Mapping[str, tuple[FileSet, Pieces]]
"""By slug: a part's files at finished size, with only what is cut, and its lines in the part frame."""


def finished_parts(sets: Iterable[FileSet]) -> Finished:
    """Of each part the first of its sets at finished size, DXF first; none of a part without a closed outline."""
    import numpy as np

    found: dict[str, tuple[FileSet, Pieces]] = {}
    for files in sorted(sets, key=lambda files: files.form):
        if not isinstance(files.owner, DeclaredPart) or files.compensation == "included" or files.owner.slug in found:
            continue
        shift, _ = part_shift(files, None)
        if shift is not None and files.is_whole:
            chosen = np.flatnonzero(np.isin(files.operations, CUT))
            lines = files.lines.only(chosen.tolist())
            only = replace(files, lines=lines, operations=files.operations[chosen], sources=files.sources[chosen])
            found[files.owner.slug] = (only, only.pieces.moved(-shift[0], -shift[1]))
    return found


def laid_out(sheet: FileSet, parts: Finished) -> FileSet | None:
    """What the sheet's files would hold of cuts at finished size; None when a part on it has no files to go by."""
    import numpy as np

    assert isinstance(sheet.owner, DeclaredSheet)
    pieces = sheet.owner.pieces
    if not pieces or any(slug not in parts for slug, _ in pieces):
        return None
    lines: list[Contours] = []
    for slug, at in pieces:
        files, own = parts[slug]
        where = f"of the {slug} at {text(at.x, 3)}, {text(at.y, 3)}"
        moved = files.lines.with_rows(own.moved(at.x, at.y, at.turn_deg).table, own.owner)
        # Each part's own lines, turned and moved to where kit.json places the piece.
        lines.append(replace(moved, places=[f"{place} {where}" for place in files.lines.places]))
    several = [parts[slug][0] for slug, _ in pieces]
    return replace(
        several[0],
        declared=(replace(several[0].declared[0], name="the parts at finished size"),),
        files=several[0].files[:1],
        lines=joined_contours(lines),
        operations=np.concatenate([files.operations for files in several]),
        sources=np.zeros(sum(len(files.lines) for files in several), dtype=np.int64),
    )


def with_sheets_moved_back(folder: Folder) -> Folder:
    """Each changed sheet whose pieces all lie alike off their places, in their places; `moved_mm` says how far.

    Of a sheet in several files each is a drawing by itself, and only one that holds the outlines shows where it lies:
    those stay where they are.
    """
    import numpy as np
    import shapely

    machine, (in_x, in_y) = folder.shop.machine, folder.shop.machine.cut_width_mm

    def gap_of(way: Point) -> float:
        return machine.bridge_width_mm + hypot(in_x * way[0], in_y * way[1])

    parts, files = {part.slug: part for part in folder.kit.parts}, dict(folder.files)
    for sheet in file_sets(folder):
        if (
            not isinstance(sheet.owner, DeclaredSheet)
            or not sheet.is_changed
            or len(sheet.declared) > 1
            or not sheet.files
        ):
            continue
        pieces = sheet.owner.pieces
        # All that the file's outlines leave where the machine makes them.
        shapes = [drawn.shape for drawn in as_made(sheet, machine).of("outer")]
        rings = [shapely.Polygon(points_of(shape)) for shape in shapes if not isinstance(shape, Stroke)]
        bridged, _ = closed_rings([shape for shape in shapes if isinstance(shape, Stroke)], gap_of)
        rings += [shapely.Polygon(points) for _, points in bridged]
        if sheet.compensation == "included":
            width = round_width_mm(machine)
            kept = [all_shrunk(stretched_area(ring, machine), width) for ring in rings if ring.is_valid]
            rings = [unstretched(piece, machine) for pieces_left in kept for piece in pieces_left]
        if not rings or not pieces or any(slug not in parts for slug, _ in pieces):
            continue
        read = np.array(shapely.total_bounds(rings)).reshape(2, 2)
        # The boxes' corners say how far: a drawing that was moved keeps its size.
        wanted = np.array(bounds_of([parts[slug].outline.placed(at) for slug, at in pieces])).reshape(2, 2)
        if np.ptp(read - wanted, axis=0).max() > RESAVED_MM:  # not as large as the pieces are together
            continue
        # On the bed the machine's error has bent the shift too: x and y of the file follow by the map's inverse.
        x, y = (read - wanted).mean(axis=0).tolist()
        if sheet.compensation == "included":  # the bed's: the machine goes scale_x and scale_y as far as the file says
            y = y / machine.scale_y
            x = (x - y * machine.scale_y * tan(radians(machine.skew_deg))) / machine.scale_x
        moved, file = (x, y), sheet.files[0]
        if file.moved_mm == (0.0, 0.0) and max(map(abs, moved)) > RESAVED_MM:
            table = file.lines.table.copy()
            table[:, :4] -= (*moved, *moved)
            files[file.name] = replace(file, lines=file.lines.with_rows(table, file.lines.owner), moved_mm=moved)
    return replace(folder, files=files)
