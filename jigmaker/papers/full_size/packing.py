"""Puts small templates side by side on pages. Frame of the room on a page; mm.

Rows from the top down, each as high as its highest block: the tallest blocks go first.
"""

from collections.abc import Sequence

from jigmaker.drawing.draft import Draft
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.frames import Point
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.papers.drawings.pens import NUMBERS
from jigmaker.papers.full_size.pens import NAMES_MM
from jigmaker.papers.full_size.template import LINE_MM
from jigmaker.record import dataclass

APART_MM = 7.0
_LEAST_WORDS_MM, _BELOW_WORDS_MM = 84.0, 3.0


@dataclass(frozen=True, slots=True)
class TemplateBlock:
    """A template under its name and its words."""

    picture: Picture
    lines: tuple[str, ...]
    width: float

    @property
    def height(self) -> float:
        """Name, words and template."""
        return NAMES_MM + len(self.lines) * LINE_MM + _BELOW_WORDS_MM + self.picture.height_mm

    def draw(self, draft: Draft, top_left: Point) -> None:
        """Into a draft, below and to the right of a point."""
        x, y = top_left
        draft.words(self.picture.title, (x, y - NAMES_MM), "left", NAMES_MM, NUMBERS)
        draft.words(self.lines, (x, y - NAMES_MM - LINE_MM))
        moved = Draft(list(self.picture.shapes), list(self.picture.labels)).moved((x, y - self.height))
        draft.shapes += moved.shapes
        draft.labels += moved.labels


def block(picture: Picture, room_width: float) -> TemplateBlock:
    """The template with its words broken to its own width, or to what can be read."""
    width = min(max(picture.width_mm, _LEAST_WORDS_MM), room_width)
    lines = [line for words in picture.notes for line in letters_wrapped(words, width)]
    return TemplateBlock(picture, tuple(lines), max(width, picture.width_mm))


def fits(one: TemplateBlock, room: Point) -> bool:
    """Whether a page has room for the block by itself."""
    return one.width <= room[0] + TOUCH_MM and one.height <= room[1] + TOUCH_MM


@dataclass
class _Row:
    """A row of blocks on a page: its upper edge, its height, and how much of its width is taken."""

    page: int
    top: float
    height: float
    taken: float


def pack(blocks: Sequence[TemplateBlock], room: Point) -> list[list[tuple[TemplateBlock, Point]]]:
    """Pages of blocks, each with its upper left corner from the upper left of the room, y down as a number below 0."""
    #     ___________________________
    #    |  A  |   B   | C |         |   first row, as high as A; blocks hang from its upper edge
    #    |_____|       |___|         |
    #    |   D     |  E  |           |   second row, as high as D
    #    |
    #
    # First-fit by height: with the tallest first, a row is as high as its first block and nothing after it is higher.
    pages: list[list[tuple[TemplateBlock, Point]]] = []
    rows: list[_Row] = []
    for one in sorted(blocks, key=lambda each: -each.height):
        wide = [row for row in rows if row.taken + one.width <= room[0] + TOUCH_MM]
        row = next((row for row in wide if one.height <= row.height + TOUCH_MM), None)
        if row is None:
            # Below the last row of the first page that has room for it, or on a new page.
            place = (len(pages), 0.0)
            for page in reversed(range(len(pages))):
                low = min(row.top - row.height for row in rows if row.page == page) - APART_MM
                if one.height - low <= room[1] + TOUCH_MM:
                    place = (page, low)
            row = _Row(*place, one.height, 0.0)
            rows.append(row)
        if row.page == len(pages):
            pages.append([])
        pages[row.page].append((one, (row.taken, row.top)))
        row.taken += one.width + APART_MM
    return pages
