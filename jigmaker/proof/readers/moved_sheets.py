"""Sheets that another program saved elsewhere, DXF and SVG alike: a Folder in, the same with their lines moved back.

Where a sheet belongs is where kit.json places its pieces, at finished size. Sheet frame; mm.
"""

from __future__ import annotations

from dataclasses import replace
from math import hypot, radians, tan
from typing import TYPE_CHECKING

from jigmaker.geometry.outline import Circle, Outline, Stroke, bounds_of
from jigmaker.job.shop import Machine
from jigmaker.proof.checks.as_cut import as_made
from jigmaker.proof.checks.file_set import FileSet, file_sets
from jigmaker.proof.checks.machine_error import round_width_mm, stretched_area, unstretched
from jigmaker.proof.checks.rings import closed_rings, points_of
from jigmaker.proof.checks.sweep import all_shrunk
from jigmaker.proof.readers.resaved import RESAVED_MM
from jigmaker.proof.records import DeclaredSheet, Folder

if TYPE_CHECKING:
    from jigmaker.proof.contours import Numbers


def with_sheets_moved_back(folder: Folder) -> Folder:
    """Each changed sheet whose pieces all lie alike off their places, in their places; `moved_mm` tells how far.

    Of a sheet in several files each is a drawing by itself, and only one that holds the outlines shows where it lies:
    those stay where they are.
    """
    import numpy as np

    parts, files = {part.slug: part for part in folder.kit.parts}, dict(folder.files)
    for sheet in file_sets(folder):
        if not isinstance(sheet.owner, DeclaredSheet) or not sheet.is_changed or len(sheet.told) > 1 or not sheet.files:
            continue
        pieces, machine = sheet.owner.pieces, folder.shop.machine
        read = _finished_box(sheet, machine)
        if read is None or not pieces or any(slug not in parts for slug, _ in pieces):
            continue
        wanted = np.array(bounds_of([parts[slug].outline.placed(at) for slug, at in pieces])).reshape(2, 2)
        if np.ptp(read - wanted, axis=0).max() > RESAVED_MM:  # not as large as the pieces are together
            continue
        x, y = (read - wanted).mean(axis=0).tolist()
        if sheet.compensation == "included":  # the bed's: the machine goes scale_x and scale_y as far as it was told
            y = y / machine.scale_y
            x = (x - y * machine.scale_y * tan(radians(machine.skew_deg))) / machine.scale_x
        moved, file = (x, y), sheet.files[0]
        if file.moved_mm == (0.0, 0.0) and max(map(abs, moved)) > RESAVED_MM:
            table = file.lines.table.copy()
            table[:, :4] -= (*moved, *moved)
            files[file.name] = replace(file, lines=file.lines.with_rows(table, file.lines.owner), moved_mm=moved)
    return replace(folder, files=files)


def _finished_box(sheet: FileSet, machine: Machine) -> Numbers | None:
    """Lower left and upper right of all that the file's outlines leave where the machine makes them; None for none."""
    import numpy as np
    import shapely

    shapes = [drawn.shape for drawn in as_made(sheet, machine).of("outer")]
    rings = [shapely.Polygon(points_of(shape)) for shape in shapes if isinstance(shape, Outline | Circle)]
    is_included, (in_x, in_y) = sheet.compensation == "included", machine.cut_width_mm
    strokes = [shape for shape in shapes if isinstance(shape, Stroke)]
    bridged, _ = closed_rings(strokes, lambda way: machine.bridge_width_mm + hypot(in_x * way[0], in_y * way[1]))
    rings += [shapely.Polygon(points) for _, points in bridged]
    if is_included:
        width = round_width_mm(machine)
        kept = [all_shrunk(stretched_area(ring, machine), width) for ring in rings if ring.is_valid]
        rings = [unstretched(piece, machine) for pieces in kept for piece in pieces]
    box: Numbers = np.array(shapely.total_bounds(rings)).reshape(2, 2)
    return box if rings else None
