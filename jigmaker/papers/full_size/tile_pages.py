"""A template on pages of its own, in tiles where it is larger than one. mm.

Page frame, y up, as printed.
"""

from collections.abc import Iterator
from dataclasses import replace

from jigmaker.drawing.draft import WORDS_MM, Draft
from jigmaker.drawing.picture import DrawnShape, Label, Picture
from jigmaker.drawing.printer_page import PrinterPage
from jigmaker.geometry.clip import clip
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Bounds, Outline, piece
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.papers.full_size.crosses import cross_places, cross_strokes
from jigmaker.papers.full_size.leaf import Leaf
from jigmaker.papers.full_size.pens import CROSSES, CUT, HERE, MAP, TRIM
from jigmaker.papers.full_size.template import label_room, rectangle
from jigmaker.papers.full_size.tiling import Tiling, cut_into_tiles
from jigmaker.record import dataclass
from jigmaker.units import Unit, length_text

GUTTER_MM = 5.0
"""Round a tile, for the names of its neighbours."""

_LEAST_MAPPED_MM = 0.8  # what comes out smaller on the page map is left out


def join_words(picture: Picture, unit: Unit) -> str:
    """How tiles are joined, and what they then measure over the outermost lines that are cut."""
    boxes = [drawn.shape.bounds for drawn in picture.shapes if drawn.layer == CUT] or [picture.bounds]
    wide = max(box[2] for box in boxes) - min(box[0] for box in boxes)
    high = max(box[3] for box in boxes) - min(box[1] for box in boxes)
    return (
        "Tiles: cut one of two neighbours along its dotted line, lay cross on cross, tape; joined "
        f"{length_text(wide, unit, 1)} by {length_text(high, unit, 1)} overall."
    )


@dataclass(frozen=True, slots=True)
class TiledTemplate:
    """A template on the pages that it takes."""

    picture: Picture
    leaf: Leaf
    tiling: Tiling

    @property
    def count(self) -> int:
        """How many pages."""
        return self.tiling.count

    @property
    def adrift(self) -> list[Label]:
        """Labels that are whole on no tile: they are drawn piece by piece like any line."""
        # Neighbours overlap, so that a label near a seam is whole on one of the two; a longer one than a tile is on
        # none.
        columns, rows = range(len(self.tiling.columns)), range(len(self.tiling.rows))
        windows = [self.tiling.window(column, row) for column in columns for row in rows]
        rooms = [(label, label_room(label, self.picture)) for label in self.picture.labels]
        return [label for label, room in rooms if not any(is_inside(room, window) for window in windows)]

    def pages(self, job: str, first: int, of: int) -> Iterator[PrinterPage]:
        """Row by row from the upper left; `first`: the number of its first page, `of`: of how many."""
        crosses = cross_places(self.picture, self.tiling)
        tiles = [(c, r) for r in range(len(self.tiling.rows)) for c in range(len(self.tiling.columns))]
        for number, (column, row) in enumerate(tiles, first):
            tile = f", tile {self.tiling.name(column, row)}" if self.count > 1 else ""
            title = f"{self.picture.title}{tile}"
            draft = self.leaf.start(title, f"{job}, page {number} of {of}")
            if self.leaf.has_map:
                draw_map(draft, self.leaf.map_box, self.picture, self.tiling, (column, row))
            self._draw_tile(draft, (column, row), crosses)
            yield self.leaf.finish(draft, title)

    def _draw_tile(self, draft: Draft, tile: tuple[int, int], crosses: list[Point]) -> None:
        # Lines are cut at the window, arcs too; words are written whole where the tile has all of them, and only those
        # that no tile has whole are cut like lines. A cross is drawn where both its lines are on the tile.
        window = self.tiling.window(*tile)
        frame = self._frame(window)
        content = [(drawn.layer, drawn.shape) for drawn in self.picture.shapes]
        content += [(label.layer, stroke) for label in self.adrift for stroke in label.strokes]
        for layer, shape in content:
            draft.shapes += [DrawnShape(layer, piece.placed(frame)) for piece in clip(shape, window)]
        for label in self.picture.labels:
            if is_inside(label_room(label, self.picture), window):
                draft.labels.append(replace(label, at=frame.point(label.at)))
        for at in crosses:
            if all(is_inside(stroke.bounds, window) for stroke in cross_strokes(at)):
                draft.add(CROSSES, *(stroke.placed(frame) for stroke in cross_strokes(at)))
        self._draw_borders(draft, tile, window, frame)

    def _frame(self, window: Bounds) -> PlaneFrame:
        """The tile in the middle of the room."""
        low_x, low_y, high_x, high_y = self.leaf.room
        x = (low_x + high_x - window[0] - window[2]) / 2
        y = (low_y + high_y - window[1] - window[3]) / 2
        return PlaneFrame(x, y)

    def _draw_borders(self, draft: Draft, tile: tuple[int, int], window: Bounds, frame: PlaneFrame) -> None:
        """The line at each side that has a neighbour, and the neighbour's name beyond it."""
        (low_x, low_y), (high_x, high_y) = frame.point(window[:2]), frame.point(window[2:])
        x, y = (low_x + high_x) / 2, (low_y + high_y) / 2
        rise = (GUTTER_MM - WORDS_MM) / 2
        # Each side: to which neighbour, the border from end to end, where its words have their middle, and their turn.
        sides = (
            ((-1, 0), (low_x, low_y), (low_x, high_y), (low_x - rise, y), 90.0),
            ((1, 0), (high_x, low_y), (high_x, high_y), (high_x + rise + WORDS_MM, y), 90.0),
            ((0, -1), (low_x, high_y), (high_x, high_y), (x, high_y + rise), 0.0),
            ((0, 1), (low_x, low_y), (high_x, low_y), (x, low_y - rise - WORDS_MM), 0.0),
        )
        for (right, down), start, end, at, turn_deg in sides:
            column, row = tile[0] + right, tile[1] + down
            if 0 <= column < len(self.tiling.columns) and 0 <= row < len(self.tiling.rows):
                draft.line([start, end], TRIM)
                words = f"{self.tiling.name(column, row)} joins here"
                draft.words(words, at, "middle", turn_deg=turn_deg)


def draw_map(draft: Draft, box: Bounds, picture: Picture, tiling: Tiling, here: tuple[int, int]) -> None:
    """The page map: how tiles lie together, and by a cross which of them this page is.

    The template's closed lines and all windows, as large as the box (page frame) allows, at its upper right.
    """
    share = min((box[2] - box[0]) / picture.width_mm, (box[3] - box[1]) / picture.height_mm)
    low = (box[2] - share * picture.width_mm, box[3] - share * picture.height_mm)

    def at(p: Point) -> Point:
        return (low[0] + share * p[0], low[1] + share * p[1])

    for contour in (drawn.shape for drawn in picture.shapes if drawn.layer == CUT and isinstance(drawn.shape, Outline)):
        if max(contour.bounds[2] - contour.bounds[0], contour.bounds[3] - contour.bounds[1]) * share > _LEAST_MAPPED_MM:
            draft.add(MAP, Outline(tuple(piece(at(s.start), at(s.end), s.bulge) for s in contour.segments)))
    for column in range(len(tiling.columns)):
        for row in range(len(tiling.rows)):
            window = tiling.window(column, row)
            small = (*at(window[:2]), *at(window[2:]))
            draft.add(MAP, rectangle(small))
            if (column, row) == here:
                draft.add(HERE, rectangle(small))
                low_x, low_y, high_x, high_y = small
                draft.line([(low_x, low_y), (high_x, high_y)], MAP)
                draft.line([(low_x, high_y), (high_x, low_y)], MAP)


def is_inside(box: Bounds, window: Bounds) -> bool:
    """Whether a box lies wholly in a window, to TOUCH_MM."""
    return (
        box[0] >= window[0] - TOUCH_MM
        and box[1] >= window[1] - TOUCH_MM
        and box[2] <= window[2] + TOUCH_MM
        and box[3] <= window[3] + TOUCH_MM
    )


def tiled(picture: Picture, leaf: Leaf) -> TiledTemplate:
    """The template on pages like that leaf."""
    return TiledTemplate(picture, leaf, cut_into_tiles(picture, leaf.room_size, GUTTER_MM))
