"""Pictures with the words below them as strips: side by side as far as they fit, each at its width in mm."""

from collections.abc import Sequence

from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_pen import draw_picture
from jigmaker.writers.pdf_strips import BODY_MM, CAPTION, FULL_MM, Strip

PLACES = 3  # of a point: a third of a micrometre; full size has more
_BETWEEN = 4.0  # pictures, at least
_BELOW = 0.8
_NARROWEST_WORDS = 30.0
# A sheet with the longest head that is repeated has room for a picture of that height, mm.
_HIGHEST = BODY_MM[1] - 80.0


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture, its scale on the paper, and the lines below it."""

    picture: Picture
    scale: float
    lines: tuple[str, ...]

    @property
    def width(self) -> float:
        """Of the picture or of its words, whichever are wider, mm."""
        return max(self.picture.width_mm * self.scale, *(CAPTION.width(line) for line in self.lines))

    @property
    def height(self) -> float:
        """Of the picture alone, mm."""
        return self.picture.height_mm * self.scale


def figures_strips(pictures: Sequence[tuple[Picture, float, str]], share: float = 1.0) -> list[Strip]:
    """Rows of pictures that stand on one line, with even space between them; at a share of the widths asked for.

    A picture wider than the sheet, or higher than a sheet with its head has room for, is printed smaller.
    """
    rows: list[list[Figure]] = []
    for picture, width, words in pictures:
        scale = min(min(width * share, FULL_MM) / picture.width_mm, _HIGHEST / picture.height_mm)
        room = max(picture.width_mm * scale, _NARROWEST_WORDS)
        figure = Figure(picture, scale, tuple(CAPTION.lines(words, room)))
        if rows and sum(each.width + _BETWEEN for each in rows[-1]) + figure.width <= FULL_MM + 1e-6:
            rows[-1].append(figure)
        else:
            rows.append([figure])
    return [_row(row) for row in rows]


def _row(figures: list[Figure]) -> Strip:
    highest = max(figure.height for figure in figures)
    words = max(len(figure.lines) * CAPTION.line if any(figure.lines) else 0.0 for figure in figures)
    # What is left of the width is shared out evenly: before, between and after the pictures.
    space = (FULL_MM - sum(figure.width for figure in figures)) / (len(figures) + 1)

    def draw(brush: Brush, at: Point) -> None:
        x, foot = at[0], at[1] - highest
        for figure in figures:
            x += space
            draw_picture(brush, figure.picture, (x, foot), figure.scale, PLACES)
            CAPTION.write(brush, (x, foot - _BELOW), figure.lines)
            x += figure.width

    return Strip(highest + (_BELOW + words if words else 0.0), draw, above=2.0)
