"""A picture that names the pieces on a sheet. Sheet frame; mm. Not for cutting.

Who cuts parts without marks lays this beside the sheet and letters them by it.
"""

from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer
from jigmaker.geometry.lettering import text_width, write_text
from jigmaker.geometry.outline import Contour, Outline, Stroke, bounds_of
from jigmaker.papers.labels import place_labels
from jigmaker.sheets.sheet import PlacedPart, Sheet

WARNING = "NOT FOR CUTTING"
EDGE_MM = 5.0
_WARNING_MM, _TITLE_MM = 12.0, 7.0
_LAYERS = (
    PictureLayer("sheet", "#808080", 0.25),
    PictureLayer("parts", "#000000", 0.35),
    PictureLayer("names", "#b00020", 0.35),
)


def piece_name(placed: PlacedPart) -> str:
    """The part's name, with its hand unless the name ends in it."""
    part = placed.part
    return part.name if not part.hand or part.name.upper().endswith(f" {part.hand}") else f"{part.name} {part.hand}"


def draw_sheet_names(sheet: Sheet, title: str) -> Picture:
    """The sheet's edge, every piece at finished size with its holes, and its name in it or beside it with a leader.

    The sheet keeps its own coordinates; the warning and the title stand above it.
    """
    named: list[tuple[str, list[Contour]]] = []
    for placed in sheet.placed:
        part, frame, name = placed.part, placed.sheet_from_part, piece_name(placed)
        # Behind the name the two letters that are scored on the piece in its place.
        words = f"{name} ({part.short_mark})" if part.short_mark else name
        named.append((words, [part.outline.placed(frame), *(hole.contour.placed(frame) for hole in part.holes)]))
    wide, high = sheet.length_mm, sheet.width_mm
    edge = Outline.from_points([(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)])
    shapes: list[DrawnShape] = [DrawnShape("sheet", edge)]
    shapes += [DrawnShape("parts", contour) for _, contours in named for contour in contours]
    for label in place_labels(named, wide, high):
        shapes += [DrawnShape("names", stroke) for stroke in label.strokes]
        if label.leader:
            shapes.append(DrawnShape("names", Stroke.from_points(label.leader)))
    # Warning and title above the sheet, no longer than it where that can be read.
    heading, y = list[Stroke](), sheet.width_mm + EDGE_MM
    for words, height in ((title, _TITLE_MM), (WARNING, _WARNING_MM)):
        fitted = min(height, height * (sheet.length_mm - 2 * EDGE_MM) / text_width(words, height))
        heading += write_text(words, (EDGE_MM, y), max(fitted, 3.0))
        y += height + EDGE_MM
    shapes += [DrawnShape("names", stroke) for stroke in heading]
    _, _, far_x, far_y = bounds_of(heading)
    return Picture(
        title=f"{WARNING}: {title}",
        width_mm=max(sheet.length_mm, far_x) + EDGE_MM,
        height_mm=far_y + EDGE_MM,
        layers=_LAYERS,
        shapes=tuple(shapes),
        notes=(f"{WARNING}. {title}. Outlines at finished size; names of the pieces, in the sheet's place.",),
    )
