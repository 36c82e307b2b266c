"""A page of full-size paper: its title, words and check bars, and the room that they leave. Page frame; mm.

Title and words at the top, the page map at their right, bars below and at the left. Page frame, y up, as printed.
"""

from jigmaker.drawing.draft import WORDS_MM, Draft
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.printer_page import PrinterPage
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Bounds
from jigmaker.papers.drawings.title_block import shortened
from jigmaker.papers.full_size.bars import BARS_MM, bar_words, draw_bars
from jigmaker.papers.full_size.pens import LAYERS, TITLES, TITLES_MM
from jigmaker.papers.full_size.printer_paper import PrinterPaper
from jigmaker.papers.full_size.template import LINE_MM
from jigmaker.record import dataclass
from jigmaker.units import text

MAP_MM = (40.0, 22.0)
_GAP_MM, _BESIDE_MM = 3.0, 80.0
_TITLE_STEP = 7.0


#    ___________________________________
#   | title                     |  map  |      The level bars begin right of the upright ones; words stand beside them
#   | subtitle, words           |_______|      where there is room, else below.
#   |   _______________________________ |
#   |  |                               ||
#   | ||             room              ||
#   | ||_______________________________||
#   | |  bars, level      words         |      | upright bars
#   |_|_________________________________|
@dataclass(frozen=True, slots=True)
class Leaf:
    """A page to be drawn. `area`: where on it anything may lie; `words`: sentences under the title.

    `bars_at_edge`: the bars begin at the area's edge though narrower paper of the other family cuts them off there.
    """

    paper: PrinterPaper
    area: Bounds
    words: tuple[str, ...]
    has_map: bool = False
    bars_at_edge: bool = False

    @property
    def room(self) -> Bounds:
        """What is left for templates or a tile: (x low, y low, x high, y high), page frame."""
        _, low_y, high_x, high_y = self.area
        return (self._foot_x, low_y + self._foot_mm + _GAP_MM, high_x, high_y - self._head_mm - _GAP_MM)

    @property
    def room_size(self) -> Point:
        """Width and height of the room."""
        low_x, low_y, high_x, high_y = self.room
        return (high_x - low_x, high_y - low_y)

    @property
    def map_box(self) -> Bounds:
        """Where the page map lies, at the upper right."""
        _, _, high_x, high_y = self.area
        return (high_x - MAP_MM[0], high_y - MAP_MM[1], high_x, high_y)

    def start(self, title: str, subtitle: str) -> Draft:
        """Title, words and bars, in the page frame."""
        draft, (low_x, _, _, high_y) = Draft(), self.area
        width = self._head_width
        draft.words(shortened(title, TITLES_MM, width), (low_x, high_y - TITLES_MM - 0.3), "left", TITLES_MM, TITLES)
        lies = "landscape" if self.paper.lies else "portrait"
        subtitle = f"{subtitle}, on {self.paper.stock.size}, {lies} ({self._other_paper})"
        lines = [shortened(subtitle, WORDS_MM, width), *self._head_lines]
        draft.words(lines, (low_x, high_y - _TITLE_STEP - LINE_MM + 0.5))
        self._draw_foot(draft)
        return draft

    def finish(self, draft: Draft, title: str) -> PrinterPage:
        """The page with all that was drawn on it."""
        # The picture is given as it comes out of the printer, which may stretch; the writer shrinks it by as much.
        page, printed = self.paper.page_mm, self.paper.printed
        picture = Picture(
            title=title,
            width_mm=page[0] * printed[0],
            height_mm=page[1] * printed[1],
            layers=LAYERS,
            shapes=tuple(draft.shapes),
            labels=tuple(draft.labels),
        )
        return PrinterPage(picture, page, printed)

    @property
    def _head_width(self) -> float:
        return self.area[2] - self.area[0] - (MAP_MM[0] + _GAP_MM if self.has_map else 0.0)

    @property
    def _head_lines(self) -> list[str]:
        return [line for words in self.words for line in letters_wrapped(words, self._head_width)]

    @property
    def _head_mm(self) -> float:
        # The title, the subtitle and the words below it; the map beside them may be higher than all of these.
        lines = _TITLE_STEP + (1 + len(self._head_lines)) * LINE_MM
        return max(lines, MAP_MM[1]) if self.has_map else lines

    @property
    def _foot_x(self) -> float:
        """Where the foot begins, at the right of the upright bars."""
        return self._bars_x + BARS_MM[1] + _GAP_MM

    @property
    def _bars_x(self) -> float:
        """Where the upright bars begin, so that paper of the other family prints them too."""
        return self.area[0] if self.bars_at_edge else max(self.area[0], self.paper.shared_field[0])

    @property
    def _beside(self) -> float:
        """Width beside the bars, or 0 where words have to go below them."""
        left = self.area[2] - self._foot_x - BARS_MM[0] - _GAP_MM
        return left if left >= _BESIDE_MM else 0.0

    @property
    def _foot_lines(self) -> list[str]:
        # Where too little is left beside the bars they are wrapped to the whole width and stand below.
        width = self._beside or self.area[2] - self._foot_x
        return [line for words in bar_words(self.paper) for line in letters_wrapped(words, width)]

    @property
    def _other_paper(self) -> str:
        """What comes of the page on the like paper of the other family."""
        other, (x, y) = self.paper.other, self.paper.lost_on_other
        if self.area == self.paper.shared_field or not (x or y):
            return f"{other} prints it whole"
        return f"{text(x or y, 1)} mm too {'wide' if x else 'high'} for {other}"

    @property
    def _above_edge(self) -> float:
        """How far the bars stay above the area's lower edge, so that paper of the other family prints them too."""
        return max(0.0, self.paper.shared_field[1] - self.area[1])

    @property
    def _foot_mm(self) -> float:
        lines = len(self._foot_lines) * LINE_MM
        if self._beside:
            return max(BARS_MM[1] + self._above_edge, lines)
        return BARS_MM[1] + max(lines, self._above_edge)

    def _draw_foot(self, draft: Draft) -> None:
        """The upright bars from the corner up, the level ones beside them, words beside or below those."""
        low_y, keys = self.area[1], self.paper.scale_names
        lines, beside = self._foot_lines, self._beside
        left = self._foot_x + BARS_MM[0] + _GAP_MM if beside else self._foot_x
        draft.words(lines, (left, low_y + (len(lines) - 1) * LINE_MM + 0.7))
        draw_bars(draft, (self._foot_x, low_y + self._foot_mm - BARS_MM[1]), 0.0, keys[0])
        draw_bars(draft, (self._bars_x + BARS_MM[1], low_y + self._above_edge), 90.0, keys[1])
