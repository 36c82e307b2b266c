"""The head of a sheet as strips: framed cells in a grid, each a small name over its value; full width, mm."""

from collections.abc import Sequence
from dataclasses import dataclass

from jigmaker.drawing.page import BOX
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_strips import FULL_MM, LABEL, NUMBER, Place, Strip, parts_of

COLUMNS = 4
_PAD, _ABOVE, _BELOW = 1.2, 0.7, 0.6
_BOX_MM = 6.5
_MOST_LINES = 30


@dataclass(frozen=True, slots=True)
class Cell:
    """A name, the lines of its value (None to be written in by hand) and how many columns it takes."""

    name: str
    lines: tuple[str, ...] | None
    span: int

    @property
    def height(self) -> float:
        """What it needs, mm."""
        value = _BOX_MM if self.lines is None else len(self.lines) * NUMBER.line
        return _ABOVE + LABEL.line + value + _BELOW


def head_strips(head: Sequence[tuple[str, str]]) -> list[Strip]:
    """Rows of cells. A value takes as many columns as bring it on to two lines; the last cell fills its row."""
    return [_row(cells) for cells in _filled([cell for row in head for cell in _cells(*row)])]


def _cells(name: str, value: str) -> list[Cell]:
    """One cell; more when the value has more lines than a row may have."""
    if value == BOX:
        return [Cell(name, None, 1)]
    for span in range(1, COLUMNS + 1):
        room = span * FULL_MM / COLUMNS - 2 * _PAD
        lines = NUMBER.lines(value, room)
        if len(lines) <= 2 and LABEL.width(name) <= room:
            break
    return [Cell(name, tuple(part), span) for part in parts_of(lines, _MOST_LINES)]


def _filled(cells: list[Cell]) -> list[list[Cell]]:
    """Cells in rows, in order; each row's last cell takes the columns that are left."""
    rows: list[list[Cell]] = []
    for cell in cells:
        if rows and sum(each.span for each in rows[-1]) + cell.span <= COLUMNS:
            rows[-1].append(cell)
        else:
            rows.append([cell])
    return [
        [*row[:-1], Cell(row[-1].name, row[-1].lines, COLUMNS - sum(each.span for each in row[:-1]))] for row in rows
    ]


def _row(cells: list[Cell]) -> Strip:
    height = max(cell.height for cell in cells)

    def draw(brush: Brush, at: Place) -> None:
        x = at[0]
        for cell in cells:
            wide = cell.span * FULL_MM / COLUMNS
            brush.box((x, at[1] - height), (wide, height), 0.25)
            LABEL.write(brush, (x + _PAD, at[1] - _ABOVE), LABEL.lines(cell.name, wide - 2 * _PAD)[:1])
            NUMBER.write(brush, (x + _PAD, at[1] - _ABOVE - LABEL.line), cell.lines or ())
            x += wide

    return Strip(height, draw)
