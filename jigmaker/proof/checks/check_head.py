"""What a cut file says of itself, held against the shop and its own lines; mm.

Codes 104 to 107, 113, 116, 125.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.geometry.outline import Bounds, Stroke
from jigmaker.geometry.tolerance import FILE_MM
from jigmaker.job.shop import Operation, Shop
from jigmaker.proof.checks.file_set import NOTE, FileSet
from jigmaker.proof.faults import FILES_AGAIN, Faults
from jigmaker.proof.readers.resaved import RESAVED_MM
from jigmaker.proof.records import DeclaredFile, ReadFile
from jigmaker.units import MM_PER_INCH, Unit, text

if TYPE_CHECKING:
    from jigmaker.proof.contours import Contours, Numbers, Truths

SQUARE_MM: dict[Unit, float] = {"mm": 50.0, "in": 2 * MM_PER_INCH}
"""The reference square's side by the shop's unit."""

_SQUARE_EXACT_MM = 0.001
_SMALLEST_SQUARE_MM = 8.0  # letters of the note are no higher than 4 mm
_EXTENTS_MM = 1e-3
_OWN_LAYERS = {"0", "defpoints"}  # every DXF has the first, many have the second
_UNIT_NAMES: dict[Unit, str] = {"mm": "millimetres", "in": "inches"}
_KNOWN_RATIOS = (
    (MM_PER_INCH, "an inch taken for a millimetre"),
    (1 / MM_PER_INCH, "a millimetre taken for an inch"),
    (96 / 90, "90 for 96 dpi"),
    (90 / 96, "96 for 90 dpi"),
    (96 / MM_PER_INCH, "pixels for millimetres"),
    (MM_PER_INCH / 96, "millimetres for pixels"),
)
"""How many times too large a square is, and the mistake that this gives away."""


def check_heads(files: FileSet, shop: Shop, faults: dict[str, Faults]) -> None:
    """Unit, scale, page, layers and reference square of each file of the set."""
    boxes, wanted = files.pieces.bounds() if len(files.pieces) else None, _UNIT_NAMES[shop.files.unit]
    for declared, file in ((t, f) for t in files.declared for f in files.files if f.name == t.name):
        found = faults[file.name]
        # A DXF is in the shop's unit and says so twice; an SVG's size is in mm or inches, better not in pixels.
        if file.unit is None and file.form == "svg":
            says = f"the page's size is in pixels ({file.unit_said[:60]}): "
            says += "true at 96 an inch, wrong where 90 or 72 are taken"
            found.add(104, says, FILES_AGAIN, limit="mm", severity="caution")
        elif file.unit is None:
            said = f" (it says {file.unit_said[:60]})" if file.unit_said else ""
            says = f"the file's unit is neither millimetres nor inches{said}"
            found.add(104, says, FILES_AGAIN, limit=wanted)
        elif file.form == "dxf" and file.unit != shop.files.unit:
            says = f"the file is in {_UNIT_NAMES[file.unit]}, the shop asks for {wanted}"
            found.add(104, says, "write the files again, or change files.units of the shop", limit=wanted)
        elif file.unit_said.startswith("nothing"):
            says = f"the file's header says {file.unit_said}, so other programs may take it for another size"
            found.add(104, says, "save it with its unit, or write the files again", severity="caution")
        if file.measurement is not None and file.unit is not None and file.measurement != file.unit:
            says = f"$MEASUREMENT says {_UNIT_NAMES[file.measurement]}, the unit is {_UNIT_NAMES[file.unit]}"
            found.add(105, says, FILES_AGAIN, at="header")
        # Programs that do not look at the viewBox show a page in other units at the wrong size.
        if file.form == "svg" and abs(file.scale - 1) > 1e-6:
            says = f"a user unit is {text(file.scale)} mm, so programs that do not read the viewBox get the size wrong"
            found.add(106, says, FILES_AGAIN, value=f"{text(file.scale)} mm", limit="1 mm", severity="caution")
        _check_layers(file, declared, shop, found)
        if boxes is not None:
            _check_page(file, files, boxes, found)
        if shop.layers["note"].write:
            _check_square(file, declared, files, shop, found)


def _check_layers(file: ReadFile, declared: DeclaredFile, shop: Shop, faults: Faults) -> None:
    """Every contour lies on a layer of the shop's that is written and belongs into this file; so does every layer."""
    import numpy as np

    # Three sets of names, in small letters, for programs write layers as they like: those that this file may use, all
    # of the shop's, and those that the file declares.
    here: tuple[Operation, ...] = (*declared.operations, "note")  # every file has the note
    wanted = {shop.layers[operation].name.lower() for operation in here if shop.layers[operation].write}
    known = {layer.name.lower() for layer in shop.layers.values()}
    listed = {layer.lower() for layer in file.layers}
    numbers, firsts, counts = np.unique(file.lines.layer, return_index=True, return_counts=True)
    used = {file.lines.names[number].lower() for number in numbers.tolist()}
    for number, first, count in zip(numbers.tolist(), firsts.tolist(), counts.tolist(), strict=True):
        name, place = file.lines.names[number], file.lines.places[first]
        if name.lower() not in wanted:
            says = f'something lies on layer "{name[:60]}", which this shop does not cut or draw here'
            faults.add(116, says, "move it to one of the shop's layers, or remove it", place, times=count)
        elif name.lower() not in listed:
            faults.add(116, f'layer "{name[:60]}" is used and not declared', FILES_AGAIN, place, times=count)
    for layer in file.layers:
        if layer.lower() not in known | used | _OWN_LAYERS:
            faults.add(
                116, f'layer "{layer[:60]}" is declared and is none of the shop\'s', FILES_AGAIN, severity="caution"
            )


def _check_page(file: ReadFile, files: FileSet, boxes: Numbers, faults: Faults) -> None:
    """Nothing at negative coordinates, nothing off the page, which is the sheet; stated extents are true."""
    moved_x, moved_y = file.moved_mm
    if file.moved_mm != (0.0, 0.0):
        says = f"all of it lies {text(moved_x, 3)}, {text(moved_y, 3)} mm from where it was made"
        faults.add(113, says, "put it where your machine has the sheet", severity="caution")
    # Where its own lines lie in the file: those of a moved one were put back when it was read.
    own = boxes[files.sources[files.lines.owner] == files.files.index(file)]
    if not len(own):
        return
    low, far_corner = own[:, :2].min(axis=0).tolist(), own[:, 2:].max(axis=0).tolist()
    box = (low[0] + moved_x, low[1] + moved_y, far_corner[0] + moved_x, far_corner[1] + moved_y)
    corner = f"{text(box[0], 3)}, {text(box[1], 3)}"
    slack = RESAVED_MM if files.is_changed else FILE_MM
    if min(box[0], box[1]) < -slack:
        faults.add(113, f"lines reach to {corner}", "move everything above 0, or write the files again", value=corner)
    elif file.width_mm > 0 and (far_corner[0] > file.width_mm + slack or far_corner[1] > file.height_mm + slack):
        far = f"{text(far_corner[0], 3)}, {text(far_corner[1], 3)}"
        page = f"{text(file.width_mm, 3)} x {text(file.height_mm, 3)} mm"
        faults.add(113, f"lines reach to {far}, beyond the page", FILES_AGAIN, value=far, limit=page)
    stated = file.box_mm if file.moved_mm == (0.0, 0.0) else None
    if stated is not None and max(abs(a - b) for a, b in zip(box, stated, strict=True)) > _EXTENTS_MM:
        says = "the extents in the header are not those of the lines, so the file may open blank"
        faults.add(125, says, FILES_AGAIN, at="header", severity="caution")


def _check_square(file: ReadFile, declared: DeclaredFile, files: FileSet, shop: Shop, faults: Faults) -> None:
    """One square on the note layer where kit.json declares it, of exactly the size that its words name, clear of every
    part; none elsewhere, so that nobody measures something else.
    """
    import shapely

    wanted, unit = SQUARE_MM[shop.files.unit], shop.files.unit
    notes = (files.sources == files.files.index(file)) & (files.operations == NOTE)
    squares = _squares(files.lines, notes)
    if len(squares) != int(declared.has_square):
        says = f"the note holds {len(squares)} reference squares, must hold {'one' if declared.has_square else 'none'}"
        faults.add(107, says, FILES_AGAIN, limit=f"{text(wanted)} mm")
    if len(squares) != 1 or not declared.has_square:
        return
    (low_x, low_y, high_x, high_y), place = squares[0]
    # The square is measured before anything is cut: a file read at a wrong scale shows by it, and often by how much
    # which mistake was made.
    sides = (high_x - low_x, high_y - low_y)
    if max(abs(side - wanted) for side in sides) > _SQUARE_EXACT_MM:
        size = f"{text(sides[0], 4)} x {text(sides[1], 4)} mm"
        says = f"the reference square is {size}, must be {text(wanted)} mm each way ({unit})"
        names = [name for ratio, name in _KNOWN_RATIOS if abs(sides[0] / wanted / ratio - 1) < 1e-3]
        faults.add(107, says + (f": {names[0]}" if names else ""), FILES_AGAIN, place, size, f"{text(wanted)} mm")
    square = shapely.box(low_x, low_y, high_x, high_y)
    for shape in (drawn.shape for drawn in files.of("outer")):
        points = shape.points(16)  # what an outline encloses; of one that bridges leave open, its lines
        if square.intersects(shapely.LineString(points) if isinstance(shape, Stroke) else shapely.Polygon(points)):
            faults.add(107, "the reference square lies on a part", FILES_AGAIN, place)
            break


def _squares(lines: Contours, chosen: Truths) -> list[tuple[Bounds, str]]:
    """The box and the place of every four straight lines of these contours that lie round a rectangle square to the
    axes, too large for a letter; whether they are one contour or four."""
    import numpy as np

    table = lines.table
    along, across = np.abs(table[:, 2] - table[:, 0]), np.abs(table[:, 3] - table[:, 1])
    is_side = (np.minimum(along, across) < _SQUARE_EXACT_MM) & (np.maximum(along, across) > _SMALLEST_SQUARE_MM)
    is_side &= (table[:, 4] == 0) & (table[:, 5] == 0) & chosen[lines.owner]
    # Four long sides, square to the axes, that follow each other in the file: where all eight ends lie on the four
    # corners of their box they are a rectangle, whether the file holds them as one contour or as four lines.
    rows = np.flatnonzero(is_side)
    found: list[tuple[Bounds, str]] = []
    for at in range(0, len(rows) - 3, 4):
        sides = table[rows[at : at + 4], :4].reshape(-1, 2)
        (low_x, low_y), (high_x, high_y) = sides.min(axis=0).tolist(), sides.max(axis=0).tolist()
        corners = np.array([(low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)])
        nearest = np.abs(sides[:, None] - corners).sum(axis=2).min(axis=1)
        if nearest.max() < _SQUARE_EXACT_MM:
            found.append(((low_x, low_y, high_x, high_y), lines.places[int(lines.owner[rows[at]])]))
    return found
