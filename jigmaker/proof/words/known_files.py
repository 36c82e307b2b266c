"""What papers say of the cut files, measured in them; sheet frame, mm."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

from jigmaker.geometry.outline import Bounds
from jigmaker.proof.checks.check_head import SQUARE_MM
from jigmaker.proof.checks.file_set import CUT, OUTER, file_sets
from jigmaker.proof.contours import bounds_of_rows
from jigmaker.proof.records import Folder
from jigmaker.proof.words.figures import Value

_APART_MM = 0.5


def file_facts(folder: Folder) -> dict[str, Value]:
    """How many files and parts were proved; the way along all cuts of each sheet; and what is measured in the first
    sheet's file before it is cut: its reference square, or an outline from side to side."""
    how = "left out" if folder.shop.machine.compensation == "left out" else "included"
    sheets, parts = folder.kit.sheets[:1], folder.kit.parts
    found: dict[str, Value] = {"proof.files": len(folder.files), "proof.parts": len(parts), **_cuts(folder)}
    if any(file.has_square for sheet in sheets for file in sheet.files if file.compensation == how):
        size = SQUARE_MM[folder.shop.files.unit]
        return found | {"files.reference": "reference square, side to side", "files.reference_size": size}
    if not sheets or not sheets[0].pieces:
        return found
    outlines = {part.slug: part for part in parts}
    slug, frame = max(sheets[0].pieces, key=lambda piece: outlines[piece[0]].outline.area)
    alone = replace(folder, kit=replace(folder.kit, parts=(), sheets=sheets))
    box = outlines[slug].outline.placed(frame).bounds
    where = " in -outer" if folder.shop.files.operations == "apart" else ""
    name = f"{outlines[slug].name}, over its lines{where}, left to right"
    return found | {"files.reference": name, "files.reference_size": _width(alone, how, box)}


def _cuts(folder: Folder) -> dict[str, Value]:
    """Of each sheet, by the first set of its files, how far the machine goes along what it cuts through, and how often
    it starts; of all together.

    A piece from p to q with the bulge b turns by 4 atan b, and is |q - p| half of that over its sine long.
    """
    import numpy as np

    of_sheets = replace(folder, kit=replace(folder.kit, parts=()))
    first = {files.owner.name: files for files in reversed(file_sets(of_sheets))}
    found: dict[str, Value] = {}
    ways, starts = [], []
    for i, sheet in enumerate(folder.kit.sheets, 1):
        if sheet.name not in first:
            return {}
        files = first[sheet.name]
        is_cut = np.isin(files.operations, CUT)
        x0, y0, x1, y1, bulge, radius = files.lines.table[is_cut[files.lines.owner], :6].T
        half = 2 * np.arctan(np.abs(bulge))
        bent = np.where(half > 0, half / np.sin(np.where(half > 0, half, 1.0)), 1.0)
        ways.append(float((np.hypot(x1 - x0, y1 - y0) * bent + 2 * np.pi * radius).sum()))
        starts.append(int(is_cut.sum()))
        found |= {f"sheets.{i}.cut": ways[-1], f"sheets.{i}.pierces": starts[-1]}
    return found | {"sheets.all.cut": sum(ways), "sheets.all.pierces": sum(starts)}


def _width(folder: Folder, how: str, box: Bounds) -> tuple[float, ...]:
    """From the first to the last line of the outline, or its pieces, that lie where the machine cuts in this box."""
    import numpy as np

    machine = folder.shop.machine
    # Where the machine makes the lines, the outline lies half a cut's width round its finished size; a skewed piece
    # leans over by the skew times half its height.
    turn, grown = radians(machine.skew_deg), 0.8 * machine.widest_cut_mm + _APART_MM
    for files in file_sets(folder):
        if files.compensation == how and len(files.lines):
            boxes, starts = bounds_of_rows(files.lines.table), files.lines.starts[:-1]
            low = np.minimum.reduceat(boxes[:, :2], starts)[files.operations == OUTER]
            high = np.maximum.reduceat(boxes[:, 2:], starts)[files.operations == OUTER]
            x, y = ((low + high) / 2 - files.declared[0].moved_mm).T
            x, y = x * machine.scale_x + y * machine.scale_y * tan(turn), y * machine.scale_y
            # Other pieces may lie in the box, and some half in it.
            far_x, far_y = ((high - low) / 2 * (machine.scale_x, machine.scale_y)).T
            lean = grown + abs(tan(turn)) * far_y
            own = (x - far_x > box[0] - lean) & (x + far_x < box[2] + lean)
            own &= (y - far_y > box[1] - lean) & (y + far_y < box[3] + lean)
            return (float(high[own, 0].max() - low[own, 0].min()),) if own.any() else ()
    return ()
