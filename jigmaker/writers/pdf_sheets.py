"""Breaks a page into sheets of paper, strip by strip. mm from the body's upper edge downwards.

A page that is longer than a sheet goes on on the next one, under the same title, with the word "continued", and head.
"""

from collections.abc import Sequence
from dataclasses import field, replace

from jigmaker.drawing.page import Block, Caution, Facts, Figures, Heading, Links, Page, Steps, Table, Words
from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_figures import figures_strips
from jigmaker.writers.pdf_head import head_strips
from jigmaker.writers.pdf_strips import (
    FULL_MM,
    TITLE,
    Strip,
    caution_strips,
    heading_strip,
    steps_strips,
    words_strips,
)
from jigmaker.writers.pdf_tables import facts_strips, table_strips

HIGHEST_HEAD = 60.0
"""A head that is higher is not repeated where a page goes on, mm."""
CONTINUED = "(continued)"
CLOSE = 0.5
AFTER_HEAD = 1.6
"""Between a head that is repeated and what goes on below it, mm."""
_TOUCH = 1e-6


@dataclass(slots=True)
class PaperSheet:
    """Strips with the distance of each from the body's upper edge; `used` is where the next may begin."""

    room: float
    placed: list[tuple[float, Strip]] = field(default_factory=list)
    used: float = 0.0
    empty: bool = True

    def fits(self, strips: Sequence[Strip]) -> bool:
        """True when all of them find room on it, one after another."""
        space = sum(strip.height + strip.above for strip in strips)
        return self.used + space - (strips[0].above if self.empty else 0.0) <= self.room + _TOUCH

    def put(self, strip: Strip) -> None:
        """Below what is there; at the top of a sheet after what is to be repeated before it."""
        if self.empty:
            for each in strip.again:
                self.place(each)
        else:
            self.used += strip.above
        self.place(strip)
        self.empty = False

    def place(self, strip: Strip) -> None:
        """Right below what is there."""
        self.placed.append((self.used, strip))
        self.used += strip.height


def sheets_of(page: Page, room: float) -> list[PaperSheet]:
    """The page's sheets, at least one; `room` is the height that title, head and blocks have together.

    When half the space between blocks saves a sheet they stand so close, and when smaller pictures do, and may, they
    are as large as that lets them.
    """
    # Tried in turn, and the first that takes fewest sheets is kept: as asked; closer blocks; closer blocks and pictures
    # smaller by a twentieth each time, down to the least share that they may have.
    head = head_strips(page.head)
    least = min((block.least for block in page.blocks if isinstance(block, Figures)), default=1.0)
    smaller = [share / 100 for share in range(95, 0, -5) if share / 100 >= least]
    best: list[PaperSheet] = []
    fixed = [() if isinstance(block, Figures) else strips_of(block) for block in page.blocks]
    for gaps, share in [(1.0, 1.0), (CLOSE, 1.0), *((CLOSE, share) for share in smaller)]:
        strips = [one or strips_of(block, share) for one, block in zip(fixed, page.blocks, strict=True)]
        blocks = [replace(strip, above=strip.above * gaps) for each in strips for strip in each]
        sheets = _laid_out(page.title, head, blocks, room)
        best = sheets if not best or len(sheets) < len(best) else best
        if len(best) == 1:
            break
    return best


def _laid_out(title: str, head: Sequence[Strip], blocks: Sequence[Strip], room: float) -> list[PaperSheet]:
    # Strips that keep to the next one are taken together with it, so that no heading is left at a sheet's foot.
    repeated = [title_strip(f"{title} {CONTINUED}")]
    repeated += head if sum(strip.height for strip in head) <= HIGHEST_HEAD else []
    repeated.append(Strip(AFTER_HEAD, lambda _brush, _at: None))
    sheets = [_headed([title_strip(title)], room)]
    for strip in head:
        _take([strip], sheets, repeated)
    held: list[Strip] = []
    for strip in blocks:
        held.append(strip)
        if not strip.keeps:
            _take(held, sheets, repeated)
            held = []
    if held:
        _take(held, sheets, repeated)
    return sheets


def _headed(head: Sequence[Strip], room: float) -> PaperSheet:
    sheet = PaperSheet(room)
    for strip in head:
        sheet.place(strip)
    return sheet


def _take(group: list[Strip], sheets: list[PaperSheet], repeated: list[Strip]) -> None:
    """The group on the last sheet, or on a new one; parted only when it is longer than a whole sheet."""
    if not sheets[-1].fits(group) and not sheets[-1].empty:
        sheets.append(_headed(repeated, sheets[-1].room))
    for strip in group:
        if not sheets[-1].fits([strip]) and not sheets[-1].empty:
            sheets.append(_headed(repeated, sheets[-1].room))
        sheets[-1].put(strip)


def title_strip(title: str) -> Strip:
    """The page's title over a heavy rule."""
    lines = TITLE.lines(title, FULL_MM)
    height = len(lines) * TITLE.line + 2.0

    def draw(brush: Brush, at: Point) -> None:
        TITLE.write(brush, at, lines)
        brush.line((at[0], at[1] - height + 0.4), (at[0] + FULL_MM, at[1] - height + 0.4), 0.8)

    return Strip(height, draw)


def strips_of(block: Block, share: float = 1.0) -> list[Strip]:
    """A block as strips, its pictures at a share of their widths, if they may be so small."""
    match block:
        case Heading():
            return heading_strip(block.text)
        case Words():
            return words_strips(block.text)
        case Caution():
            return caution_strips(block.text)
        case Facts():
            return facts_strips(block.rows)
        case Steps():
            return steps_strips(block.items)
        case Table():
            return table_strips(block.head, block.rows)
        case Figures():
            return figures_strips(block.pictures, max(share, block.least))
        case Links():
            return facts_strips([(link.name, link.words) for link in block.items])
