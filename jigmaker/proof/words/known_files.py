"""What papers say of the cut files, measured in them; sheet frame, mm."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

from jigmaker.geometry.outline import Bounds
from jigmaker.proof.checks.check_head import SQUARE_MM
from jigmaker.proof.checks.file_set import OUTER, file_sets
from jigmaker.proof.contours import bounds_of_rows
from jigmaker.proof.records import Folder
from jigmaker.proof.words.figures import Value

_APART_MM = 0.5


def file_facts(folder: Folder) -> dict[str, Value]:
    """How many files and parts were proved; and what is measured in the first sheet's file before it is cut: its
    reference square, or an outline from side to side."""
    how = "left out" if folder.shop.machine.compensation == "left out" else "included"
    sheets, parts = folder.kit.sheets[:1], folder.kit.parts
    found: dict[str, Value] = {"proof.files": len(folder.files), "proof.parts": len(parts)}
    if any(file.has_square for sheet in sheets for file in sheet.files if file.compensation == how):
        size = SQUARE_MM[folder.shop.files.unit]
        return found | {"files.reference": "reference square, side to side", "files.reference_size": size}
    if not sheets or not sheets[0].pieces:
        return found
    outlines = {part.slug: part for part in parts}
    slug, frame = max(sheets[0].pieces, key=lambda piece: outlines[piece[0]].outline.area)
    alone = replace(folder, kit=replace(folder.kit, parts=(), sheets=sheets))
    box = outlines[slug].outline.placed(frame).bounds
    name = f"{outlines[slug].name}, over its lines, left to right"
    return found | {"files.reference": name, "files.reference_size": _width(alone, how, box)}


def _width(folder: Folder, how: str, box: Bounds) -> tuple[float, ...]:
    """From the first to the last line of the outline, or its pieces, that lie where the machine cuts in this box."""
    import numpy as np

    machine = folder.shop.machine
    turn, grown = radians(machine.skew_deg), 0.8 * machine.widest_cut_mm + _APART_MM
    for files in file_sets(folder):
        if files.compensation == how and len(files.lines):
            boxes, starts = bounds_of_rows(files.lines.table), files.lines.starts[:-1]
            low = np.minimum.reduceat(boxes[:, :2], starts)[files.operations == OUTER]
            high = np.maximum.reduceat(boxes[:, 2:], starts)[files.operations == OUTER]
            x, y = ((low + high) / 2 - files.told[0].moved_mm).T
            x, y = x * machine.scale_x + y * machine.scale_y * tan(turn), y * machine.scale_y
            # Other pieces may lie in the box, and some half in it.
            far_x, far_y = ((high - low) / 2 * (machine.scale_x, machine.scale_y)).T
            lean = grown + abs(tan(turn)) * far_y
            own = (x - far_x > box[0] - lean) & (x + far_x < box[2] + lean)
            own &= (y - far_y > box[1] - lean) & (y + far_y < box[3] + lean)
            return (float(high[own, 0].max() - low[own, 0].min()),) if own.any() else ()
    return ()
