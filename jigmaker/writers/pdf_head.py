"""The head of a sheet as strips: framed cells in rows, each a small name over its value; full width, mm.

Four equal columns where that takes no more rows than cells of all widths would; a value has two lines, if it can.
"""

from collections.abc import Sequence
from dataclasses import replace

from jigmaker.drawing.page import BOX
from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_strips import FULL_MM, LABEL, NUMBER, Strip, parts_of

COLUMNS = 4
_PAD, _ABOVE, _BELOW = 1.2, 0.7, 0.6
_BOX_MM = 6.5
_NARROWEST = 24.0
_MOST_LINES = 30
_STEP = 1.0  # in which widths are tried


@dataclass(frozen=True, slots=True)
class HeadCell:
    """A name and a value (None to be written in by hand) and the cell's width, mm."""

    name: str
    value: str | None
    width: float

    @property
    def lines(self) -> list[str]:
        """The value, broken."""
        return [] if self.value is None else NUMBER.lines(self.value, self.width - 2 * _PAD)

    @property
    def names(self) -> list[str]:
        """The name, broken."""
        return LABEL.lines(self.name, self.width - 2 * _PAD)

    @property
    def height(self) -> float:
        """What it needs, mm."""
        value = _BOX_MM if self.value is None else len(self.lines) * NUMBER.line
        return _ABOVE + len(self.names) * LABEL.line + value + _BELOW


def head_strips(head: Sequence[tuple[str, str]]) -> list[Strip]:
    """Rows of cells, in order."""
    cells = list[HeadCell]()
    for name, value in head:
        narrowest = min(max(_NARROWEST, LABEL.width(name) + 2 * _PAD + 0.01), FULL_MM)
        if value == BOX:
            cells.append(HeadCell(name, None, narrowest))
            continue
        # As narrow as two lines of the value let it be; more cells when it has more lines than a row may have.
        width = narrowest
        while len(NUMBER.lines(value, width - 2 * _PAD)) > 2 and width < FULL_MM:
            width = min(width + _STEP, FULL_MM)
        lines = NUMBER.lines(value, width - 2 * _PAD)
        cells += [HeadCell(name, " ".join(part), width) for part in parts_of(lines, _MOST_LINES)]
    column = FULL_MM / COLUMNS
    # Each as wide as the fewest whole columns that hold it.
    whole = [replace(cell, width=min(-(-cell.width // column) * column, FULL_MM)) for cell in cells]
    in_columns = _filled(whole, FULL_MM)
    # As few rows as there can be, none of them fuller than it must be: the least width with that number of rows.
    free, room = _filled(cells, FULL_MM), FULL_MM - _STEP
    while room > _NARROWEST and len(tighter := _filled(cells, room)) == len(free):
        free, room = tighter, room - _STEP
    strips = []
    for row in in_columns if len(in_columns) <= len(free) else free:
        # What is left of the row goes to all its cells alike.
        spare = (FULL_MM - sum(cell.width for cell in row)) / len(row)
        strips.append(_row([replace(cell, width=cell.width + spare) for cell in row]))
    return strips


def _filled(cells: Sequence[HeadCell], room: float) -> list[list[HeadCell]]:
    """Cells in rows, in order, as many in each as the room holds."""
    rows: list[list[HeadCell]] = []
    for cell in cells:
        if rows and sum(each.width for each in rows[-1]) + cell.width <= room + 1e-6:
            rows[-1].append(cell)
        else:
            rows.append([cell])
    return rows


def _row(cells: Sequence[HeadCell]) -> Strip:
    # All cells of a row are as high as the highest, so that their frames make a grid.
    height = max(cell.height for cell in cells)

    def draw(brush: Brush, at: Point) -> None:
        x = at[0]
        for cell in cells:
            brush.box((x, at[1] - height), (cell.width, height), 0.25)
            LABEL.write(brush, (x + _PAD, at[1] - _ABOVE), cell.names)
            NUMBER.write(brush, (x + _PAD, at[1] - _ABOVE - len(cell.names) * LABEL.line), cell.lines)
            x += cell.width

    return Strip(height, draw)
