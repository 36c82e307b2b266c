"""The one look of all pictures: lines, words, arrows and dimensions in; a Picture out. Paper frame, y up; mm.

Black on white. Outlines 0.5 wide, everything else 0.25; letters 2.5 or 3.5 high, level. A canvas has no page: the page
is put round what was drawn at the end.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import atan2, cos, degrees, hypot, radians, sin, tan

from jigmaker.drawing.picture import DrawnShape, Label, Picture, PictureLayer, Shape
from jigmaker.drawing.projection import DrawnBody, chained
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import Anchor, arrow_strokes, level_bounds, text_width
from jigmaker.geometry.outline import Arc, Bounds, Circle, Stroke, box_of

OUTLINE, THIN, BROKEN, LETTERS, LARGE = "OUTLINE", "THIN", "BROKEN", "LETTERS", "LARGE"
LAYERS = (
    PictureLayer(OUTLINE, "#000000", 0.5),
    PictureLayer(THIN, "#000000", 0.25),
    PictureLayer(BROKEN, "#000000", 0.25, (2.0, 1.2)),
    PictureLayer(LETTERS, "#000000", 0.25),
    PictureLayer(LARGE, "#000000", 0.35),
)
WIDEST_MM = 180.0
SMALL_MM, LARGE_MM = 2.5, 3.5
"""Heights of letters."""

LINE_STEP = 1.7  # from baseline to baseline, in heights of letters
_EDGE_MM = 2.0  # free paper round the drawing
_HEAD_MM = 2.2
_DOT_MM = 0.5
_WHOLE_TURN_DEG = 360.0
_AT_BLANKS = re.compile(r" +(?!mm\b|× |\d+/\d)")


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a drawing lies on the paper: its points scaled, then shifted by (x, y) mm."""

    scale: float = 1.0
    x: float = 0.0
    y: float = 0.0

    def point(self, p: Point) -> Point:
        """A point of the drawing, on the paper."""
        return (self.x + self.scale * p[0], self.y + self.scale * p[1])

    def frame(self) -> PlaneFrame:
        """The shift alone."""
        return PlaneFrame(self.x, self.y)


@dataclass
class Canvas:
    """Takes lines and words in paper mm and becomes a Picture. The only thing here that changes."""

    shapes: list[DrawnShape] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def line(self, points: Sequence[Point], layer: str = THIN) -> None:
        """A line through the points; points that repeat the one before are left out."""
        apart = [p for i, p in enumerate(points) if i == 0 or hypot(p[0] - points[i - 1][0], p[1] - points[i - 1][1])]
        if len(apart) > 1:
            self.shapes.append(DrawnShape(layer, Stroke.from_points(apart)))

    def shape(self, shape: Shape, layer: str = OUTLINE) -> None:
        """Any shape."""
        self.shapes.append(DrawnShape(layer, shape))

    def bodies(self, drawn: Iterable[DrawnBody], spot: Spot, layers: tuple[str, str] = (OUTLINE, THIN)) -> None:
        """Projected bodies: outlines on the first layer, lines between faces on the second."""
        for body in drawn:
            for layer, pieces in zip(layers, (body.outline, body.inner), strict=True):
                for line in chained(pieces):
                    self.line([spot.point(p) for p in line], layer)

    def arrow(self, points: Sequence[Point], layer: str = THIN, head_mm: float = _HEAD_MM) -> None:
        """A line with a head at its end."""
        for stroke in arrow_strokes(points, head_mm):
            self.shape(stroke, layer)

    def dot(self, at: Point) -> None:
        """The end of a leader that points at a face."""
        self.shape(Circle(at, _DOT_MM / 2), OUTLINE)

    def words(self, text: str, at: Point, anchor: Anchor = "left", height_mm: float = SMALL_MM) -> None:
        """One line of level letters; `at` on the baseline."""
        self.labels.append(Label(LETTERS if height_mm <= SMALL_MM else LARGE, text, at, height_mm, 0.0, anchor))

    def block(self, lines: Sequence[str], at: Point, anchor: Anchor = "left", height_mm: float = SMALL_MM) -> None:
        """Several lines of words; `at` on the first baseline."""
        for i, line in enumerate(lines):
            self.words(line, (at[0], at[1] - i * LINE_STEP * height_mm), anchor, height_mm)

    def span(self, a: Point, b: Point) -> None:
        """A thin line with a head at both ends."""
        middle = midpoint(a, b)
        head = min(_HEAD_MM, hypot(b[0] - a[0], b[1] - a[1]) / 3)
        for end in (a, b):
            self.arrow([middle, end], THIN, head)

    def arc(self, centre: Point, radius: float, from_deg: float, to_deg: float) -> None:
        """A thin arc, anticlockwise from one direction to the other, less than half a turn."""
        turn = (to_deg - from_deg) % _WHOLE_TURN_DEG
        if radius * radians(turn) < 0.1:
            return
        start, end = (
            (centre[0] + radius * cos(radians(d)), centre[1] + radius * sin(radians(d)))
            for d in (from_deg, from_deg + turn)
        )
        self.shape(Stroke((Arc(start, end, tan(radians(turn) / 4)),)), THIN)

    @property
    def bounds(self) -> Bounds:
        """The box round everything so far."""
        letters = [level_bounds(label.text, label.at, label.height_mm, label.anchor) for label in self.labels]
        return box_of([*(drawn.shape.bounds for drawn in self.shapes), *filter(None, letters)])

    def picture(self, title: str, notes: tuple[str, ...] = ()) -> Picture:
        """Everything, on a page a little larger."""
        x, y, high_x, high_y = self.bounds
        frame = PlaneFrame(_EDGE_MM - x, _EDGE_MM - y)
        return Picture(
            title,
            round(high_x - x + 2 * _EDGE_MM, 3),
            round(high_y - y + 2 * _EDGE_MM, 3),
            LAYERS,
            tuple(DrawnShape(drawn.layer, drawn.shape.placed(frame)) for drawn in self.shapes),
            notes,
            tuple(Label(w.layer, w.text, frame.point(w.at), w.height_mm, w.turn_deg, w.anchor) for w in self.labels),
        )


def midpoint(a: Point, b: Point) -> Point:
    """Halfway between two points."""
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def direction_deg(a: Point, b: Point) -> float:
    """Direction from a to b, anticlockwise from the paper's x."""
    return degrees(atan2(b[1] - a[1], b[0] - a[0]))


def bounds_of_bodies(drawn: Iterable[DrawnBody]) -> Bounds:
    """The box round all that is seen of the bodies, picture plane."""
    points = [p for body in drawn for piece in body.visible for p in piece]
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return min(xs), min(ys), max(xs), max(ys)


def fitted(drawn: Sequence[DrawnBody], wide_mm: float, high_mm: float) -> Spot:
    """The largest spot in a box of that size with its lower left at (0, 0), the drawing at its lower left."""
    x, y, high_x, high_y = bounds_of_bodies(drawn)
    scale = min(wide_mm / (high_x - x), high_mm / (high_y - y))
    return Spot(scale, -x * scale, -y * scale)


def wrapped(text: str, wide_mm: float, height_mm: float = SMALL_MM) -> tuple[str, ...]:
    """The text in lines no wider than that; a word that is wider has its line for itself.

    A figure stays with its unit, a fraction with its whole inches, and a "×" with the side before it.
    """
    lines: list[str] = []
    for word in _AT_BLANKS.split(text.strip()):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, height_mm) <= wide_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(lines)
