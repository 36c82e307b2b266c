"""Pictures on a page of a PDF; picture frame, y up as in PDF. mm on the paper.

Arcs become Bezier pieces within 0.00001 mm of the circle. The words of labels and the numbers of dimensions stand
unseen behind their strokes, which are true to 0.005 mm.
"""

import unicodedata
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from math import atan2, ceil, cos, pi, radians, sin, tan
from typing import Protocol

from jigmaker.drawing.pen import draw_strokes
from jigmaker.drawing.picture import Label, Picture, PictureLayer, draw_shape
from jigmaker.errors import OutOfRange
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import letter_table, text_width
from jigmaker.geometry.outline import Arc
from jigmaker.geometry.stroke_table import GAP, GRID_HIGH
from jigmaker.units import text
from jigmaker.writers.pdf_brush import INVISIBLE, PLACES, POINTS, Brush, paint_text, points_text
from jigmaker.writers.pdf_fonts import PLAIN, width

THINNEST_MM = 0.1
"""No line on paper is thinner, however small its picture is printed."""
BEZIER_MM = 1e-5
"""How far a Bezier piece may leave its arc."""
LETTER_PLACES, LETTER_MM = 2, 0.005
"""Of a point, for the strokes of letters: 0.004 mm; and how far from their arcs they may be drawn."""
CAPITAL = 0.718
"""Height of Helvetica's capitals, in parts of the type size."""

_QUARTER_ERROR = 2.73e-4  # of the radius, for one Bezier piece a quarter; falls with the sixth power of the turn
_BACK = {"left": 0.0, "middle": 0.5, "right": 1.0}


def draw_picture(
    brush: Brush,
    picture: Picture,
    at: Point = (0.0, 0.0),
    scale: float = 1.0,
    places: int = PLACES,
    printed: Point = (1.0, 1.0),
) -> None:
    """The picture with its lower left at `at`, `scale` times its size; lines grow with it. `places`: of a point.

    Shapes and dimension lines first, then words, each letter from what was lettered before. `printed`: as PdfPen has
    it. Raises OutOfRange for a shape on an undeclared layer.
    """
    brush.raw("q 1 j")
    pen = PdfPen(brush, picture, at, scale, places, printed)
    for drawn in picture.shapes:
        pen.use_layer(drawn.layer)
        draw_shape(drawn.shape, pen)
    numbers = list[Label]()
    for each in picture.dimensions:
        pen.use_layer(each.layer)
        for stroke in each.lines:
            draw_shape(stroke, pen)
        numbers.append(Label(each.letters, each.text, each.text_at, each.height_mm, each.text_turn_deg, "middle"))
    placed = [
        replace(label, at=(at[0] + label.at[0] * scale, at[1] + label.at[1] * scale), height_mm=label.height_mm * scale)
        for label in (*picture.labels, *numbers)
    ]
    for label in placed:
        pen.use_layer(label.layer)
        brush.raw(f"q {_frame_text(label, printed)} cm {_letters(label.text, label.height_mm)} Q")
    brush.raw("Q")
    for label in placed:
        write_unseen(brush, replace(label, at=(label.at[0] / printed[0], label.at[1] / printed[1])))


def _frame_text(label: Label, printed: Point) -> str:
    """The matrix of PDF that puts letters, written from (0, 0) to the right, where the label stands."""
    back = _BACK[label.anchor] * text_width(label.text, label.height_mm)
    # The six numbers of PDF's matrix are where (1, 0) and (0, 1) go, less where (0, 0) goes, and then that.
    frame = PlaneFrame(*label.at, label.turn_deg)
    (x, y), (right_x, right_y), (up_x, up_y) = (frame.point(p) for p in ((-back, 0.0), (1 - back, 0.0), (-back, 1.0)))
    turn = ((right_x - x) / printed[0], (right_y - y) / printed[1], (up_x - x) / printed[0], (up_y - y) / printed[1])
    return f"{' '.join(text(each, 9) for each in turn)} {points_text(x / printed[0], y / printed[1])}"


@lru_cache(maxsize=512)
def _letters(words: str, height_mm: float) -> str:
    """A line of words from (0, 0): each letter, and the step to the next."""
    return " ".join(_letter(sign, height_mm) for sign in unicodedata.normalize("NFC", words))


@lru_cache(maxsize=2048)
def _letter(sign: str, height_mm: float) -> str:
    """The operators that draw a letter at (0, 0) with the line in use, and then go on by its width."""
    paper = _Operators()
    draw_strokes(letter_table(sign, (0.0, 0.0), height_mm), PdfPen(paper, places=LETTER_PLACES, within_mm=LETTER_MM))
    step = points_text(text_width(sign, height_mm) + GAP * height_mm / GRID_HIGH)
    return " ".join([*paper.written, f"1 0 0 1 {step} 0 cm"])


def write_unseen(brush: Brush, label: Label) -> None:
    """The label's words as text that is not painted, where its strokes are and as long as they are."""
    size_pt = label.height_mm * POINTS / CAPITAL
    natural = width(label.text, PLAIN) * size_pt
    length = text_width(label.text, label.height_mm)
    if not natural or not length:
        return
    # The font's own width stretched to the strokes' length, so that what is marked on the screen is what is read.
    back = _BACK[label.anchor] * length
    cosine, sine = cos(radians(label.turn_deg)), sin(radians(label.turn_deg))
    start = (label.at[0] - back * cosine, label.at[1] - back * sine)
    brush.write(label.text, start, size_pt, PLAIN, (cosine, sine, length * POINTS / natural), INVISIBLE)


class TakesOperators(Protocol):
    """A page, or whatever else keeps what is drawn."""

    def raw(self, operators: str) -> None:
        """Operators of PDF, as they are."""


class _Operators:
    """Keeps what is drawn for later."""

    def __init__(self) -> None:
        self.written: list[str] = []

    def raw(self, operators: str) -> None:
        self.written.append(operators)


class PdfPen:
    """Draws on a page; one path a shape, so that a reader finds each shape by itself.

    `printed`: what the printer makes of a length in x and in y; every coordinate is divided by it.
    """

    def __init__(
        self,
        brush: TakesOperators,
        picture: Picture | None = None,
        at: Point = (0.0, 0.0),
        scale: float = 1.0,
        places: int = PLACES,
        printed: Point = (1.0, 1.0),
        within_mm: float = BEZIER_MM,
    ) -> None:
        self._within = within_mm / scale
        self._brush, self._at, self._scale, self._places, self._printed = brush, at, scale, places, printed
        self._layers = {layer.name: layer for layer in picture.layers} if picture else {}
        self._layer: PictureLayer | None = None
        self._here: Point = (0.0, 0.0)
        self._words: list[str] = []

    def use_layer(self, name: str) -> None:
        """Colour, width and dashes of what follows."""
        if name not in self._layers:
            raise OutOfRange(f'a shape lies on layer "{name}", which the picture does not declare; declare it')
        layer = self._layers[name]
        if layer != self._layer:
            self._layer = layer
            line = max(layer.width_mm * self._scale, THINNEST_MM)
            dashes = points_text(*(dash * self._scale for dash in layer.dashes))
            cap = 0 if layer.dashes else 1
            self._brush.raw(f"{paint_text(layer.colour)} RG {points_text(line)} w {cap} J [{dashes}] 0 d")

    def move_to(self, at: Point) -> None:
        """Start a contour."""
        self._here = at
        self._words = [f"{self._place(at)} m"]

    def line_to(self, to: Point) -> None:
        """A straight piece."""
        self._here = to
        self._words.append(f"{self._place(to)} l")

    def arc_to(self, to: Point, bulge: float) -> None:
        """A circular piece, at most half a turn."""
        arc = Arc(self._here, to, bulge)
        first = atan2(self._here[1] - arc.centre[1], self._here[0] - arc.centre[0])
        self._bow(arc.centre, arc.radius, first, arc.included, to)
        self._here = to

    def close(self) -> None:
        """Draw the contour closed."""
        self._words.append("h")
        self.end()

    def end(self) -> None:
        """Draw the contour."""
        self._brush.raw(" ".join([*self._words, "S"]))

    def circle(self, centre: Point, radius: float) -> None:
        """A full circle, from its right end."""
        start = (centre[0] + radius, centre[1])
        self.move_to(start)
        self._bow(centre, radius, 0.0, 2 * pi, start)
        self.close()

    def _bow(self, centre: Point, radius: float, first: float, turn: float, end: Point) -> None:
        # Pieces of a quarter at most, less where the arc must be true. One of turn t has handles of 4/3 tan(t/4) radii
        # along its tangents, so that its middle is on the circle:
        #
        #          one -------- two          a Bezier piece and its arc: ends on the circle, handles on its tangents
        #         /               \
        #       a                    b
        #
        # Its greatest distance from the circle falls with the sixth power of the turn: from the error of a quarter
        # follows into how many pieces an arc must be cut for any other.
        finest = (pi / 2) * min(1.0, (self._within / (_QUARTER_ERROR * radius)) ** (1 / 6))
        count = max(1, ceil(abs(turn) / finest - 1e-9))
        step = turn / count
        handle = 4 / 3 * tan(step / 4) * radius
        (x, y), turned = centre, [first + i * step for i in range(count + 1)]
        for a, b in pairwise(turned):
            one = (x + radius * cos(a) - handle * sin(a), y + radius * sin(a) + handle * cos(a))
            two = (x + radius * cos(b) + handle * sin(b), y + radius * sin(b) - handle * cos(b))
            places = (one, two, (x + radius * cos(b), y + radius * sin(b)))
            self._words.append(f"{' '.join(self._place(place) for place in places)} c")
        places_but_end = self._words[-1].split()[:4]
        self._words[-1] = " ".join([*places_but_end, self._place(end), "c"])  # ends where the next piece starts

    def _place(self, at: Point) -> str:
        x, y = self._at[0] + at[0] * self._scale, self._at[1] + at[1] * self._scale
        return points_text(x / self._printed[0], y / self._printed[1], places=self._places)
