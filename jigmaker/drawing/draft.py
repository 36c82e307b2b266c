"""What a picture or a page is put together in: shapes, words and dimensions, anywhere on the paper. y up; paper mm."""

from collections.abc import Sequence
from dataclasses import field, replace
from typing import Self

from jigmaker.drawing.dimension import LinearDimension
from jigmaker.drawing.picture import Dimension, DrawnShape, Label, Shape
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import Anchor, text_width
from jigmaker.geometry.outline import Bounds, Stroke, bounds_of
from jigmaker.record import dataclass

WORDS, WORDS_MM = "WORDS", 2.5
"""The layer of words, and their height unless another is given."""

LINE_STEP = 1.7
"""From one line of words to the next, in heights."""


@dataclass
class Draft:
    """What is drawn so far, in drawing order. It lies anywhere; a Picture made of it is moved to its page."""

    shapes: list[DrawnShape] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    dimensions: list[Dimension] = field(default_factory=list)

    def add(self, layer: str, *shapes: Shape) -> None:
        """Shapes on a layer."""
        self.shapes += [DrawnShape(layer, shape) for shape in shapes]

    def line(self, points: Sequence[Point], layer: str) -> None:
        """A line through the points; those that repeat the one before are left out, and a line of one point."""
        # Points that fall together on paper would be pieces of no length, which an outline refuses.
        apart = [p for i, p in enumerate(points) if i == 0 or p != points[i - 1]]
        if len(apart) > 1:
            self.add(layer, Stroke.from_points(apart))

    def words(
        self,
        lines: str | Sequence[str],
        at: Point,
        anchor: Anchor = "left",
        height_mm: float = WORDS_MM,
        layer: str = WORDS,
        turn_deg: float = 0.0,
    ) -> None:
        """Lines of words, the first on the baseline at `at`, the others below it; all turned about `at`."""
        frame = PlaneFrame(*at, turn_deg)
        for i, line in enumerate([lines] if isinstance(lines, str) else lines):
            if line:
                start = frame.point((0.0, -i * LINE_STEP * height_mm))
                self.labels.append(Label(layer, line, start, height_mm, turn_deg, anchor))

    @property
    def bounds(self) -> Bounds:
        """(x low, y low, x high, y high) of everything; words by the boxes of their lines."""
        lines = [stroke for dimension in self.dimensions for stroke in dimension.lines]
        numbers = [
            Label(one.letters, one.text, one.text_at, one.height_mm, one.text_turn_deg, "middle")
            for one in self.dimensions
        ]
        boxes = [text_box(label) for label in (*self.labels, *numbers)]
        return bounds_of([*(drawn.shape for drawn in self.shapes), *lines, *boxes])

    def moved(self, by: Point) -> Self:
        """The same elsewhere on the paper."""
        # A dimension keeps its own figure: its scale and unit stay, only its places move.
        frame, dimensions = PlaneFrame(*by), list[Dimension]()
        move = frame.point
        for one in self.dimensions:
            if isinstance(one, LinearDimension):
                start, end, line_at = move(one.start), move(one.end), move(one.line_at)
                dimensions.append(replace(one, start=start, end=end, line_at=line_at))
            else:
                text_mid = None if one.text_mid is None else move(one.text_mid)
                dimensions.append(replace(one, vertex=move(one.vertex), text_mid=text_mid))
        return replace(
            self,
            shapes=[replace(drawn, shape=drawn.shape.placed(frame)) for drawn in self.shapes],
            labels=[replace(label, at=move(label.at)) for label in self.labels],
            dimensions=dimensions,
        )


def text_box(label: Label) -> Stroke:
    """The line under a label's words, its right end, and the line over them."""
    width, height = text_width(label.text, label.height_mm), label.height_mm
    left = {"left": 0.0, "middle": -width / 2, "right": -width}[label.anchor]
    frame = PlaneFrame(*label.at, label.turn_deg)
    # Words of no width, or of a single dot, still take some room.
    right = left + max(width, height / 2)
    corners = ((left, 0.0), (right, 0.0), (right, height), (left, height))
    return Stroke.from_points([frame.point(corner) for corner in corners])
