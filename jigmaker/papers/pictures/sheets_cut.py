"""The sheets as they are cut, every piece with the number of its name. Paper mm.

Sheets keep their own coordinates, the machine's zero at the lower left; pieces are drawn at finished size.
"""

from collections.abc import Sequence

from jigmaker.drawing.draft import LINE_STEP
from jigmaker.drawing.picture import Picture
from jigmaker.geometry.lettering import text_width
from jigmaker.papers.pictures.canvas import OUTLINE, SMALL_MM, THIN, Canvas, Spot
from jigmaker.papers.pictures.jig_bodies import drawn_points
from jigmaker.papers.pictures.piece_numbers import NumberGrid
from jigmaker.papers.sheet_names import piece_name
from jigmaker.sheets.sheet import Sheet

_IN_A_ROW = 3
MOST_SHEETS = 2 * _IN_A_ROW
"""So many are drawn; a machine with a small bed may have more."""

_WIDE_MM = 172.0  # all sheets of a row
_HIGH_MM = {1: 46.0, 2: 27.0}  # the highest sheet, by the number of rows
_BETWEEN_MM, _TITLE_MM = 9.0, 7.0  # free sheet between two, for numbers; above each, for its title
_COLUMN_MM = 3.0  # between two columns of names
_ABOVE_MM = 1.2


def sheets_cut_picture(sheets: Sequence[Sheet]) -> Picture:
    """Sheets side by side, at most three in a row or all four, and below them the names by number."""
    canvas, drawn = Canvas(), sheets[:MOST_SHEETS]
    names = dict.fromkeys(piece_name(placed) for sheet in sheets for placed in sheet.placed)
    numbers = {name: str(i) for i, name in enumerate(names, 1)}
    # Four in one row are hardly smaller than in two, and leave the height of a row to the words below.
    columns = len(drawn) if len(drawn) == _IN_A_ROW + 1 else min(_IN_A_ROW, len(drawn))
    room = (_WIDE_MM - (columns - 1) * _BETWEEN_MM) / columns if drawn else 0.0
    high = _HIGH_MM[1 if len(drawn) <= columns else 2]
    size = min((min(room / sheet.length_mm, high / sheet.width_mm) for sheet in drawn), default=1.0)
    top = 0.0
    for start in range(0, len(drawn), max(columns, 1)):
        row, left = drawn[start : start + columns], 0.0
        for i, sheet in enumerate(row, start + 1):
            spot = Spot(size, left, top - size * sheet.width_mm)
            canvas.words(f"sheet {i}", (left, top + _ABOVE_MM))
            _sheet(canvas, sheet, spot, numbers)
            left += size * sheet.length_mm + _BETWEEN_MM
        top -= size * max(sheet.width_mm for sheet in row) + _TITLE_MM
    # Names by number in columns, read downwards, below all that is drawn.
    entries = [f"{number} {name}" for name, number in numbers.items()]
    if len(sheets) > MOST_SHEETS:
        entries.append(f"sheets {MOST_SHEETS + 1} to {len(sheets)}: not drawn")
    left, low, _, _ = canvas.bounds
    # As many columns as there is room for, each as wide as its own longest name.
    for rows in range(1, len(entries) + 1):
        listed = [entries[k : k + rows] for k in range(0, len(entries), rows)]
        wides = [max(text_width(entry, SMALL_MM) for entry in column) + _COLUMN_MM for column in listed]
        if sum(wides) - _COLUMN_MM <= _WIDE_MM:
            break
    for column, wide in zip(listed, wides, strict=True):
        canvas.words(column, (left, low - LINE_STEP * SMALL_MM - 1.0))
        left += wide
    return canvas.picture("The sheets as they are cut")


def _sheet(canvas: Canvas, sheet: Sheet, spot: Spot, numbers: dict[str, str]) -> None:
    """One sheet: its edge, its pieces, a number on each or beside it."""
    low, high = spot.point((0.0, 0.0)), spot.point((sheet.length_mm, sheet.width_mm))
    edge = [low, (high[0], low[1]), high, (low[0], high[1]), low]
    half = _BETWEEN_MM / 2
    grid = NumberGrid((low[0] - half, low[1] - half), (high[0] + half, high[1]), SMALL_MM)
    grid.add_line(edge)
    canvas.line(edge, OUTLINE)
    for i, placed in enumerate(sheet.placed, 1):
        contours = (placed.part.outline, *(hole.contour for hole in placed.part.holes))
        in_sheet = [drawn_points(contour.placed(placed.sheet_from_part)) for contour in contours]
        rings = [[spot.point(p) for p in ring] for ring in in_sheet]
        grid.add_piece(i, rings)
        for ring in rings:
            canvas.line([*ring, ring[0]], THIN)
    # First all numbers that fit inside their pieces; leaders then go round them.
    words = {i: numbers[piece_name(placed)] for i, placed in enumerate(sheet.placed, 1)}
    inside = {i: grid.inside(i, word) for i, word in words.items()}
    for i, word in sorted(words.items(), key=lambda item: inside[item[0]] is None):
        if place := inside[i] or grid.beside(i, word):
            x, y = place.middle
            canvas.words(word, (x, y - SMALL_MM / 2), "middle")
            if place.leader:
                canvas.line(place.leader)
                canvas.dot(place.leader[-1])
