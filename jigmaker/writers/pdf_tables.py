"""Tables and lists of facts on paper, over the full width of a sheet, with boxes to write in. mm."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest

from jigmaker.drawing.page import BOX
from jigmaker.drawing.wrapping import kept_together
from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.writers.page_words import LONG, SHORT, is_number
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_strips import BODY, FULL_MM, NUMBER, STRONG, Strip, Type, parts_of

BOX_MM = (15.0, 6.0)
"""Least width and height of a box that is written in."""
BOX_LINE = 0.3
NAME = Type(9, 3.8, bold=True)
"""The head of a table."""
_WIDEST_BOX = 24.0
_PAD, _ROW_GAP = 1.2, 0.55  # beside, and above or below, what is in a cell
_MOST_LINES = 36  # of one row; a longer one goes on in another
_LONGEST_WORD = 55.0  # a longer word is parted when room is short

TypeOf = Callable[[int, str], Type]
"""Column and cell in, the letters of that cell out."""


@dataclass(frozen=True, slots=True)
class TableRow:
    """Lines of text for each cell, or None for a box; `rule` is the line below, mm wide."""

    cells: tuple[tuple[str, ...] | None, ...]
    kinds: tuple[Type, ...]
    widths: tuple[float, ...]
    rule: float

    @property
    def height(self) -> float:
        """Of the highest cell, with the space above and below."""
        return max(self._text_height + 2 * _ROW_GAP, BOX_MM[1] + BOX_LINE if None in self.cells else 0.0)

    @property
    def _text_height(self) -> float:
        return max(len(cell or ()) * kind.line for cell, kind in zip(self.cells, self.kinds, strict=True))

    def draw(self, brush: Brush, at: Point) -> None:
        """From the row's upper left corner."""
        x, below, drop = at[0], at[1] - self.height, (self.height - self._text_height) / 2
        for cell, kind, wide in zip(self.cells, self.kinds, self.widths, strict=True):
            if cell is None:
                brush.box((x, below), (wide, self.height), BOX_LINE)
            else:
                kind.write(brush, (x + _PAD, at[1] - drop), cell)
                brush.line((x, below), (x + wide, below), self.rule)
            x += wide


def table_strips(head: Sequence[str], rows: Sequence[Sequence[str]]) -> list[Strip]:
    """A head with a heavy rule under it, repeated where the table goes on, and rows with light rules between."""
    # Short rows are filled up with empty cells, so that all rules are equally long.
    count = max([len(head), *(len(row) for row in rows)])
    names, *even = [(*row, *("",) * (count - len(row))) for row in (head, *rows)]
    widths = column_widths(names, even)
    top = [_strip(row) for row in _rows(names, widths, lambda _column, _cell: NAME, rule=0.5)] if any(names) else []
    body = [_strip(part) for row in even for part in _rows(row, widths, _table_type)]
    body[:1] = [replace(strip, keeps=len(body) > 1) for strip in body[:1]]  # no head with a single row under it
    return _led([*(replace(strip, keeps=True) for strip in top), *(replace(s, again=tuple(top)) for s in body)])


def facts_strips(rows: Sequence[tuple[str, str]]) -> list[Strip]:
    """Names and values, the values bold; in two columns, read downwards, where each is short."""
    #    a  d      Column by column, `depth` facts in each. Names get what they need but no more than four tenths, so
    #    b  e      that values keep room however long a name is.
    #    c
    half = FULL_MM / 2
    names = max((BODY.width(name) for name, _ in rows), default=0.0) + 2 * _PAD + 1.5
    values = max((BOX_MM[0] if value == BOX else _fact_type(1, value).width(value) for _, value in rows), default=0.0)
    columns = 2 if len(rows) > 2 and names + values + 2 * _PAD <= half else 1
    room, depth = FULL_MM / columns, -(-len(rows) // columns)
    name_room = min(names, room * 0.4)
    strips = []
    for group in zip_longest(*(rows[k * depth : (k + 1) * depth] for k in range(columns)), fillvalue=("", "")):
        cells = [cell for fact in group for cell in fact]
        strips += [_strip(row) for row in _rows(cells, [name_room, room - name_room] * columns, _fact_type)]
    return _led(strips)


def _led(strips: list[Strip]) -> list[Strip]:
    """With some space before the first."""
    return [replace(strip, above=0.0 if i else 1.2) for i, strip in enumerate(strips)]


def _strip(row: TableRow) -> Strip:
    return Strip(row.height, row.draw)


def _rows(cells: Sequence[str], widths: Sequence[float], type_of: TypeOf, rule: float = 0.2) -> Iterator[TableRow]:
    """One row; more when a cell has more lines than a row may have, the boxes in the first."""
    kinds = tuple(type_of(i, cell) for i, cell in enumerate(cells))
    broken = [
        [None] if cell == BOX else parts_of(kind.lines(cell, room - 2 * _PAD), _MOST_LINES)
        for cell, kind, room in zip(cells, kinds, widths, strict=True)
    ]
    for portion in zip_longest(*broken, fillvalue=[]):
        yield TableRow(tuple(None if part is None else tuple(part) for part in portion), kinds, tuple(widths), rule)


def _table_type(_column: int, cell: str) -> Type:
    return NUMBER if is_number(cell) else BODY


def _fact_type(column: int, cell: str) -> Type:
    """Values, in every second column, are bold; long ones, such as sums, no larger than the text; sentences plain."""
    if column % 2 == 0 or len(cell) > LONG:
        return BODY
    return NUMBER if len(cell) <= SHORT else STRONG


def column_widths(names: Sequence[str], rows: Sequence[Sequence[str]]) -> list[float]:
    """Widths of the columns, full width in all: what each needs on one line if there is room, else words broken.

    Boxes keep their least size before all text.
    """
    # Each column has a width that it needs on one line (`wish`) and one that no word is wider than (`least`). Three
    # cases: all wishes fit, and what is left is shared out; the least fits, and each column gets its share of the rest
    # in proportion to what it still wishes for; not even that fits, and words are parted.
    columns = list(zip(names, *rows, strict=True))
    boxed = [BOX in column for column in columns]
    least = [
        max(_least(name, NAME), *(_least(cell, _table_type(0, cell)) for cell in cells), 0.0)
        for name, *cells in columns
    ]
    wish = [
        max(_wish(name, NAME), *(_wish(cell, _table_type(0, cell)) for cell in cells), 0.0) for name, *cells in columns
    ]
    if sum(wish) <= FULL_MM:
        # Room that is left over goes to the boxes until they can be written in with ease, then to the text.
        spare = FULL_MM - sum(wish)
        ease = [max(0.0, _WIDEST_BOX - w) if box else 0.0 for w, box in zip(wish, boxed, strict=True)]
        more = [min(each, spare / sum(boxed)) if each else 0.0 for each in ease]
        share = (spare - sum(more)) / (len(boxed) - sum(boxed)) if not all(boxed) else 0.0
        return [a + b + (0.0 if box else share) for a, b, box in zip(wish, more, boxed, strict=True)]
    if sum(least) <= FULL_MM:
        # By what each wishes for; and by what the rows wish for, where that makes the table lower: then names break
        # into lines over short figures, and the sentence beside them keeps the room.
        bodies = [
            max(low, *(_wish(cell, _table_type(0, cell)) for cell in cells), 0.0)
            for low, (_, *cells) in zip(least, columns, strict=True)
        ]
        shared = []
        for wished in (wish, bodies):
            spare, more = FULL_MM - sum(least), [b - a for a, b in zip(least, wished, strict=True)]
            if sum(more) > 0:
                shared.append([a + spare * b / sum(more) for a, b in zip(least, more, strict=True)])
        return min(shared, key=lambda widths: round(_height(names, rows, widths), 6))
    # Text columns give way in proportion, boxes last.
    boxes = sum(each for each, box in zip(least, boxed, strict=True) if box)
    text = sum(least) - boxes
    if text and 0.9 * boxes <= FULL_MM - text < boxes:  # boxes a little narrower, and the figure beside them whole
        return [each * (FULL_MM - text) / boxes if box else each for each, box in zip(least, boxed, strict=True)]
    if boxes > 0.8 * FULL_MM:
        return [each * FULL_MM / sum(least) for each in least]
    return [each if box else each * (FULL_MM - boxes) / text for each, box in zip(least, boxed, strict=True)]


def _height(names: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[float]) -> float:
    """Of a table, its head and rows, in columns of these widths."""
    made = [
        *_rows(names, widths, lambda _column, _cell: NAME),
        *(r for row in rows for r in _rows(row, widths, _table_type)),
    ]
    return sum(row.height for row in made)


def _least(cell: str, kind: Type) -> float:
    if cell == BOX:
        return BOX_MM[0] + 2 * BOX_LINE
    words = [cell] if kind is NUMBER else kept_together(cell)  # a figure stays with its unit
    return min(max((kind.width(word) for word in words), default=0.0), _LONGEST_WORD) + 2 * _PAD + 0.01


def _wish(cell: str, kind: Type) -> float:
    return _least(cell, kind) if cell == BOX else kind.width(cell) + 2 * _PAD + 0.02
