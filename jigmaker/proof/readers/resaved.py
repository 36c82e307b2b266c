"""What other programs do to a file and a machine cuts all the same, undone: its place, and the unit it lost; mm.

A DXF without a unit is as large as the SVG of the same; a drawing that was moved as a whole is moved back. mm.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from itertools import product

from jigmaker.proof.records import DeclaredKit, ReadFile
from jigmaker.units import MM_PER_INCH, Unit

RESAVED_MM = 0.002
"""How far the lines of a file that another program saved may lie from where they were, as an edge of a part may."""

_SIZE_SHARE = 1e-3  # how far off the other file's its size may be, to know a unit by it


def settled(read: Mapping[str, ReadFile], kit: DeclaredKit, changed: Collection[str]) -> dict[str, ReadFile]:
    """The files by name; those that were changed in the unit that the other form's file shows, and moved back."""
    import numpy as np

    found = dict(read)
    for files in [*(part.files for part in kit.parts), *(sheet.files for sheet in kit.sheets)]:
        for declared, twin in product(files, files):
            is_twin = twin.form != declared.form and twin.compensation == declared.compensation
            if not is_twin or twin.operations != declared.operations:
                continue
            if declared.name in changed and declared.name in found and twin.name in found:
                found[declared.name] = _with_unit(found[declared.name], found[twin.name])
                file, other = found[declared.name], found[twin.name]
                if twin.name in changed or not len(file.lines) or not len(other.lines):
                    continue
                # Moved as a whole both corners of the box are off alike; a drawing that was changed has another box.
                # Where its twin lies, when its box is as large and lies elsewhere.
                low, high = (np.array(end) - at for end, at in zip(file.lines.box, other.lines.box, strict=True))
                if np.abs(low).max() > RESAVED_MM and np.abs(high - low).max() <= RESAVED_MM:
                    table = file.lines.table.copy()
                    table[:, :4] -= np.tile(low, 2)
                    lines = file.lines.with_rows(table, file.lines.owner)
                    found[declared.name] = replace(file, lines=lines, moved_mm=(float(low[0]), float(low[1])))
    return found


def _with_unit(file: ReadFile, twin: ReadFile) -> ReadFile:
    """A DXF that names no unit at all, in the one in which it is as large as the SVG of the same."""
    if file.form != "dxf" or file.unit is not None or file.unit_said or not len(file.lines) or not len(twin.lines):
        return file
    (low, high), (twin_low, twin_high) = file.lines.box, twin.lines.box
    units: dict[Unit, float] = {"mm": 1.0, "in": MM_PER_INCH}
    # A millimetre and an inch are 25.4 apart: the size of the same thing in the other file leaves no doubt.
    for unit, scale in units.items():
        if abs((high - low) * scale - (twin_high - twin_low)).max() < _SIZE_SHARE * (twin_high - twin_low).max():
            lines = file.lines.with_rows(file.lines.table * (scale, scale, scale, scale, 1.0, scale), file.lines.owner)
            low_x, low_y, high_x, high_y = (value * scale for value in file.box_mm or (0.0,) * 4)
            return replace(
                file,
                unit=unit,
                unit_said=f"nothing; {twin.name} shows that it is {unit}",
                width_mm=file.width_mm * scale,
                height_mm=file.height_mm * scale,
                box_mm=(low_x, low_y, high_x, high_y) if file.box_mm else None,
                lines=lines,
            )
    return file
