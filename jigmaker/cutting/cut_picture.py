"""A cut sheet as a picture for the writers: CutSheet and Shop in, Picture out. Sheet frame; mm.

The page is the sheet, and nothing is drawn beyond it. The note, a reference square with its size in it, lies in the
sheet's waste where that has room: it is there to be measured on the screen, never to be cut. All other words go into
the file's own comments.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from jigmaker.cutting.compensate import SCREW_CROSS_MM, SQUARE_MM, compensate
from jigmaker.cutting.cut_sheet import CutSheet
from jigmaker.cutting.figure import figure
from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer, Shape
from jigmaker.errors import OutlineError
from jigmaker.geometry.lettering import letter_table
from jigmaker.geometry.outline import Outline, Stroke, bounds_of
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import OPERATIONS, Compensation, Operation, Shop
from jigmaker.sheets.sheet import Sheet
from jigmaker.units import Unit, fixed, text

CUTTING_ORDER: tuple[Operation, ...] = ("mark", "inner", "outer")

_SQUARE_WORDS: dict[Unit, str] = {"mm": "50 mm", "in": "2 in"}
_UNIT_WORDS: dict[Unit, str] = {"mm": "Units: millimetres", "in": "Units: inches in DXF, millimetres in SVG"}
_TEXT_MM = 6.0


def cut_picture(cut: CutSheet, shop: Shop, title: str, notes: tuple[str, ...] = ()) -> Picture:
    """The cut sheet on the shop's layers, on a page as large as the sheet.

    Contours keep their places whatever the layer map says; operations whose layer is not written are left out. `title`
    names the job and the part or sheet; `notes` are further words for the file, none of them drawn. The reference
    square is 50 mm, or 2 in when the files are in inches; it tells the file's scale and is never cut, so no machine's
    correction bends it. Raises OutlineError when a contour reaches the page's left or lower edge.
    """
    low_x, low_y, high_x, high_y = bounds_of(contour.shape for contour in cut.contours)
    if low_x <= 0 or low_y <= 0:
        raise OutlineError(f"{cut.name}: a line reaches ({fixed(low_x, 3)}, {fixed(low_y, 3)}), must stay above 0")
    drawn: list[tuple[Operation, Shape, str]] = [(each.operation, each.shape, each.part) for each in cut.contours]
    if cut.square_at is not None:
        (x, y), size = cut.square_at, SQUARE_MM[shop.files.unit]
        square = Outline.from_points([(x, y), (x + size, y), (x + size, y + size), (x, y + size)])
        middle = (x + size / 2, y + (size - _TEXT_MM) / 2)
        letters = letter_table(_SQUARE_WORDS[shop.files.unit], middle, _TEXT_MM, anchor="middle")
        drawn += [("note", square, "reference-square"), ("note", letters, "reference-square")]
    half = SCREW_CROSS_MM / 2
    for x, y in cut.screws_at:
        for ends in ([(x - half, y), (x + half, y)], [(x, y - half), (x, y + half)]):
            drawn.append(("note", Stroke.from_points(ends), "screw-place"))
    bent = cut.correction
    if cut.cut_width_mm or (bent and (bent.scale_x != bent.scale_y or bent.skew_deg)):
        # For whoever measures curves in the file: the correction makes other curves of them.
        notes = (
            "Curves are arcs within 0.005 mm of what this machine must be sent along; round holes within 0.01 mm",
            *notes,
        )
    # The layers that are written, in cutting order, each once; that of bridges only where some are marked.
    has_bridges = any(contour.operation == "bridge" for contour in cut.contours)
    written = [shop.layers[key] for key in OPERATIONS if shop.layers[key].write and (key != "bridge" or has_bridges)]
    return Picture(
        title=title,
        # A correction for a crooked machine may draw a little beyond the sheet that it then cuts inside of.
        width_mm=max(cut.length_mm, high_x),
        height_mm=max(cut.width_mm, high_y),
        layers=tuple(dict.fromkeys(PictureLayer(layer.name, layer.colour, layer.width_mm) for layer in written)),
        shapes=tuple(
            DrawnShape(shop.layers[key].name, shape, f"{part}-{key}")
            for key, shape, part in drawn
            if shop.layers[key].write
        ),
        notes=(*caption_lines(cut, shop, title), *notes),
    )


def shape_counts(cut: CutSheet, whole: Picture, shop: Shop) -> dict[Operation, int]:
    """How many lines of the picture are of each operation, as they follow one another; none that draws nothing."""
    drawn = [contour.operation for contour in cut.contours if shop.layers[contour.operation].write]
    operations = [*drawn, *["note"] * (len(whole.shapes) - len(drawn))]
    lines = [_lines(each.shape) for each in whole.shapes]
    counts = {key: sum(n for n, own in zip(lines, operations, strict=True) if own == key) for key in OPERATIONS}
    return {operation: count for operation, count in counts.items() if count}


def _lines(shape: Shape) -> int:
    return len(shape) if isinstance(shape, Strokes) else 1


def has_square(cut: CutSheet, shop: Shop) -> bool:
    """Whether the sheet's files have a reference square."""
    return cut.square_at is not None and shop.layers["note"].write


def reference_words(sheets: Sequence[Sheet], shop: Shop) -> tuple[str, str]:
    """What is measured on the screen in the first sheet before it is cut, and how large it is in the file that is cut.

    ("reference square, side to side", "50.00 mm"), or the width of a part's lines where there is no square: of one file
    for each operation that with the outlines has them. A kit that is not placed yet will have a square.
    """
    how: Compensation = "left out" if shop.machine.compensation == "left out" else "included"
    unit = shop.files.unit
    cut = compensate(sheets[0], shop.machine, how, unit) if sheets else None
    if cut is None or has_square(cut, shop):
        return "reference square, side to side", f"{figure(SQUARE_MM[unit], unit)} {unit}"
    slug, wide = cut.over_lines
    name = next(placed.part.name for placed in sheets[0].placed if placed.part.slug == slug)
    where = "over its lines in -outer" if shop.files.operations == "apart" else "over its lines"
    return f"{name}, {where}, left to right", f"{figure(wide, unit)} {unit}"


def operations_apart(whole: Picture, counts: Mapping[Operation, int], shop: Shop) -> dict[Operation, Picture]:
    """A picture for every operation that draws something, in cutting order, each with the note where there is one.

    All have the page, the note and the coordinates of the whole picture; bridges are marked beside the outlines.
    """
    # The picture's shapes stand in the order of the operations, and `counts` tells how many lines each has of them: a
    # table of strokes is one shape of many lines.
    shapes: dict[Operation, list[DrawnShape]] = {}
    left = list(whole.shapes)
    for operation in (each for each in OPERATIONS if each in counts):
        count, taken = counts[operation], shapes.setdefault(operation, [])
        while count > 0:
            taken.append(left.pop(0))
            count -= _lines(taken[-1].shape)
    parted: dict[Operation, Picture] = {}
    for operation in (each for each in CUTTING_ORDER if each in counts):
        with_it: tuple[Operation, ...] = ("bridge",) if operation == "outer" else ()
        names = {shop.layers[key].name for key in (operation, *with_it, "note")}
        only = f"Operation in this file: {operation} alone"
        parted[operation] = replace(
            whole,
            layers=tuple(layer for layer in whole.layers if layer.name in names),
            shapes=(*shapes[operation], *(each for key in (*with_it, "note") for each in shapes.get(key, ()))),
            notes=(*whole.notes, only),
        )
    return parted


def caption_lines(cut: CutSheet, shop: Shop, title: str) -> tuple[str, ...]:
    """What a file says first: job and part, whether the tool's width is in the lines, unit, sizes, material."""
    unit = shop.files.unit
    name = () if cut.name.replace("-", " ") in title.lower().replace("-", " ") else (cut.name,)
    stock = cut.stock or shop.sheet
    thickness = f"{stock.material}, {figure(stock.thickness_mm, unit)} {unit} thick"
    corrected = correction_sentences(cut, shop)
    square = (f"Reference square: {_SQUARE_WORDS[unit]} each way",) if has_square(cut, shop) else ()
    slug, wide = cut.over_lines
    size = f"{slug.replace('-', ' ')}: {figure(wide, unit)} {unit} over its lines, left to right"
    words = (title, *name, compensation_sentence(cut, shop), *corrected, _UNIT_WORDS[unit], *square, size, thickness)
    # What the lines on the layers of bridges and notes are, where there are any.
    bridge, note = shop.layers["bridge"], shop.layers["note"]
    has_bridges = bridge.write and any(contour.operation == "bridge" for contour in cut.contours)
    width = f"{figure(shop.machine.bridge_width_mm, shop.files.unit)} {shop.files.unit}"
    bridges = (f"Layer {bridge.name}: bridges of wood, {width} each, stay where its lines cross an outline",)
    screws = (f"Layer {note.name}: crosses are places for screws that hold the sheet down, clear of the cutter",)
    return (
        *words,
        *(bridges if has_bridges else ()),
        *(screws if note.write and cut.screws_at else ()),
    )


def compensation_sentence(cut: CutSheet, shop: Shop) -> str:
    """Whether the tool's width is in the lines, how wide it is and how far each line was moved, in the files' unit."""
    tool = "kerf" if shop.machine.kind == "laser" else "cutter"
    if shop.machine.is_paper:
        return "Finished size, as the print at full size"
    if cut.compensation == "left out":
        return f"Finished size: no {tool} in this file"
    if cut.cut_width_mm is not None:
        along_x, along_y = (figure(size, shop.files.unit) for size in cut.cut_width_mm)
        return f"{tool.capitalize()} x {along_x}, y {along_y} included: lines moved half of it"
    sizes = (cut.tool_mm, cut.offset_mm, shop.machine.kerf_x_mm or 0.0, shop.machine.kerf_y_mm or 0.0)
    width, moved, along_x, along_y = (figure(size, shop.files.unit) for size in sizes)
    mean = f", mean of x {along_x}, y {along_y}," if shop.machine.is_averaged else ""
    return f"{tool.capitalize()} {width}{mean} included: lines moved {moved}"


def correction_sentences(cut: CutSheet, shop: Shop) -> tuple[str, ...]:
    """What the lines are bent by for a crooked machine, or that they are not; nothing for an ideal one."""
    if not shop.machine.is_corrected:
        return ()
    bent = cut.correction
    if bent is None:
        return ("Not corrected for the machine's scale and skew",)
    scales = f"scale x {text(bent.scale_x, 5)}, y {text(bent.scale_y, 5)}"
    return (f"Corrected for {scales}, skew {text(bent.skew_deg, 3)} deg",)
