"""A cut sheet as a picture for the writers: CutSheet and Shop in, Picture out. Sheet frame; mm.

The note (reference square and captions) lies above the sheet's rectangle, so outside every part and off the bed: it is
there to be measured and read on the screen or drawn on paper, never to be cut.
"""

from collections.abc import Mapping
from dataclasses import replace

from jigmaker.cutting.cut_sheet import CutSheet
from jigmaker.cutting.figure import figure
from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer
from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import write_text
from jigmaker.geometry.outline import Outline, Stroke, bounds_of
from jigmaker.job.shop import OPERATIONS, Operation, Shop
from jigmaker.units import MM_PER_INCH, Unit, fixed, text

CUTTING_ORDER: tuple[Operation, ...] = ("mark", "inner", "outer")

NOTE_GAP_MM = 5.0
"""Free between the sheet's rectangle and the note, inside the note, and from the note to the page's edge."""

_SQUARE_MM: dict[Unit, float] = {"mm": 50.0, "in": 2 * MM_PER_INCH}
_SQUARE_WORDS: dict[Unit, tuple[str, ...]] = {
    "mm": ("50 mm", "reference", "square"),
    "in": ("2 in", "reference", "square"),
}
_UNIT_WORDS: dict[Unit, str] = {"mm": "Units: millimetres", "in": "Units: inches in DXF, millimetres in SVG"}
_TEXT_MM = 4.0
_LINE_MM = 7.0


def cut_picture(cut: CutSheet, shop: Shop, title: str, notes: tuple[str, ...] = ()) -> Picture:
    """The cut sheet on the shop's layers, with the note above it, on a page that nothing touches the edge of.

    Contours keep their places whatever the layer map says; operations whose layer is not written are left out. `title`
    names the job and the part or sheet and is the note's first line; `notes` are further words for the file, not drawn.
    The reference square is 50 mm, or 2 in when the files are in inches; it tells the file's scale and is never cut, so
    no machine's correction bends it. Raises OutlineError when a contour reaches the page's left or lower edge.
    """
    low_x, low_y, high_x, high_y = bounds_of(contour.shape for contour in cut.contours)
    if low_x <= 0 or low_y <= 0:
        raise OutlineError(f"{cut.name}: a line reaches ({fixed(low_x, 3)}, {fixed(low_y, 3)}), must stay above 0")
    lines = caption_lines(cut, shop, title)
    note = _note((NOTE_GAP_MM, max(cut.width_mm, high_y) + NOTE_GAP_MM), lines, shop.files.unit)
    _, _, note_x, note_y = bounds_of(note)
    drawn = [(contour.operation, contour.shape) for contour in cut.contours] + [("note", shape) for shape in note]
    return Picture(
        title=title,
        width_mm=max(cut.length_mm, high_x + NOTE_GAP_MM, note_x + NOTE_GAP_MM),
        height_mm=note_y + NOTE_GAP_MM,
        layers=_layers(shop),
        shapes=tuple(DrawnShape(shop.layers[key].name, shape) for key, shape in drawn if shop.layers[key].write),
        notes=(*lines, *_curve_notes(cut), *notes),
        # A correction for a crooked machine may draw a little beyond the sheet that it then cuts inside of.
        sheet_mm=(max(cut.length_mm, high_x), max(cut.width_mm, high_y)),
    )


def shape_counts(cut: CutSheet, whole: Picture, shop: Shop) -> dict[Operation, int]:
    """How many shapes of the picture are of each operation, as they follow one another; none that draws nothing."""
    drawn = [contour.operation for contour in cut.contours if shop.layers[contour.operation].write]
    counts = {operation: drawn.count(operation) for operation in CUTTING_ORDER} | {
        "note": len(whole.shapes) - len(drawn)
    }
    return {operation: count for operation, count in counts.items() if count}


def operations_apart(whole: Picture, counts: Mapping[Operation, int], shop: Shop) -> dict[Operation, Picture]:
    """A picture for every operation that draws something, in cutting order, each with the note: they register.

    All have the page, the note and the coordinates of the whole picture.
    """
    note = whole.shapes[len(whole.shapes) - counts.get("note", 0) :]
    parted: dict[Operation, Picture] = {}
    start = 0
    for operation in (each for each in CUTTING_ORDER if each in counts):
        end = start + counts[operation]
        names = {shop.layers[key].name for key in (operation, "note")}
        only = f"Operation in this file: {operation} alone"
        parted[operation] = replace(
            whole,
            layers=tuple(layer for layer in whole.layers if layer.name in names),
            shapes=(*whole.shapes[start:end], *note),
            notes=(*whole.notes, only),
        )
        start = end
    return parted


def caption_lines(cut: CutSheet, shop: Shop, title: str) -> tuple[str, ...]:
    """What the note says: job and part, whether the tool's width is in the lines, the unit, the material."""
    unit = shop.files.unit
    name = () if cut.name.replace("-", " ") in title.lower().replace("-", " ") else (cut.name,)
    thickness = f"{shop.sheet.material}, {figure(shop.sheet.thickness_mm, unit)} {unit} thick"
    corrected = correction_sentences(cut, shop)
    return (title, *name, compensation_sentence(cut, shop), *corrected, _UNIT_WORDS[unit], thickness)


def compensation_sentence(cut: CutSheet, shop: Shop) -> str:
    """Whether the tool's width is in the lines, how wide it is and how far each line was moved, in the files' unit."""
    tool = "kerf" if shop.machine.kind == "laser" else "cutter"
    if cut.compensation == "left out":
        return f"Nominal size: no {tool} in this file"
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


def _curve_notes(cut: CutSheet) -> tuple[str, ...]:
    """How true curves are that the correction makes other curves of, for whoever measures them in the file."""
    bent = cut.correction
    if cut.cut_width_mm is None and (bent is None or (bent.scale_x == bent.scale_y and bent.skew_deg == 0)):
        return ()
    return ("Curves are arcs within 0.005 mm of what this machine must be sent along; round holes within 0.01 mm",)


def _layers(shop: Shop) -> tuple[PictureLayer, ...]:
    """The layers that are written, in cutting order, each once."""
    written = [shop.layers[key] for key in OPERATIONS if shop.layers[key].write]
    return tuple(dict.fromkeys(PictureLayer(layer.name, layer.colour, layer.width_mm) for layer in written))


def _note(at: Point, lines: tuple[str, ...], unit: Unit) -> list[Outline | Stroke]:
    """The reference square with its size in it, lower left at `at`, and the lines beside it from its top down."""
    (x, y), size = at, _SQUARE_MM[unit]
    square = Outline.from_points([(x, y), (x + size, y), (x + size, y + size), (x, y + size)])
    note: list[Outline | Stroke] = [square]
    for i, words in enumerate(_SQUARE_WORDS[unit]):
        middle = (x + size / 2, y + (size - _TEXT_MM) / 2 + (1 - i) * _LINE_MM)
        note += write_text(words, middle, _TEXT_MM, anchor="middle")
    for i, line in enumerate(lines):
        note += write_text(line, (x + size + NOTE_GAP_MM, y + size - _TEXT_MM - i * _LINE_MM), _TEXT_MM)
    return note
