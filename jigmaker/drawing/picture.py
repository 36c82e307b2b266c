"""A picture without a format: shapes on layers, in drawing order, and notes for people who open the file. y up; mm."""

from jigmaker.drawing.angular_dimension import AngularDimension
from jigmaker.drawing.dimension import LinearDimension
from jigmaker.drawing.pen import Pen, draw_strokes
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import Anchor, letter_table
from jigmaker.geometry.outline import Bounds, Circle, Line, Outline, Stroke, bounds_of
from jigmaker.geometry.strokes import Strokes
from jigmaker.record import dataclass

Shape = Outline | Circle | Stroke | Strokes
Dimension = LinearDimension | AngularDimension


@dataclass(frozen=True, slots=True)
class PictureLayer:
    """A layer by name, with its colour "#rrggbb" and line width in mm. `dashes`: dash, gap, ... in mm; () is solid."""

    name: str
    colour: str
    width_mm: float
    dashes: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class DrawnShape:
    """One shape on the layer of that name. `name` says what it is, "plate-inner", where a format gives shapes ids."""

    layer: str
    shape: Shape
    name: str = ""


@dataclass(frozen=True, slots=True)
class Label:
    """Words in a picture, in single-stroke letters height_mm tall, turned anticlockwise about `at`.

    `at` is on the baseline, at the words' left end, middle or right end as `anchor` says. A sign that the alphabet
    lacks is shown as a box with a cross. A writer may carry the words as text beside the strokes, for searching.
    """

    layer: str
    text: str
    at: Point
    height_mm: float
    turn_deg: float = 0.0
    anchor: Anchor = "left"

    @property
    def strokes(self) -> Strokes:
        """The letters as lines. Raises OutlineError for letters of no height."""
        return letter_table(self.text, self.at, self.height_mm, self.turn_deg, self.anchor)


@dataclass(frozen=True, slots=True)
class Picture:
    """Shapes in the order in which they are drawn (and so cut), on layers, on a page of width x height mm.

    `title` and `notes` go where a format has room for words that are never cut (comments, description). `scale` is
    paper mm over real mm. Dimensions are strokes to a pen; a writer may make more of them.
    """

    title: str
    width_mm: float
    height_mm: float
    layers: tuple[PictureLayer, ...]
    shapes: tuple[DrawnShape, ...]
    notes: tuple[str, ...] = ()
    labels: tuple[Label, ...] = ()
    dimensions: tuple[Dimension, ...] = ()
    scale: float = 1.0

    @property
    def bounds(self) -> Bounds:
        """(x low, y low, x high, y high) of everything drawn, labels and dimensions included."""
        lettered = [each.strokes for each in (*self.labels, *self.dimensions)]
        lines = [stroke for dimension in self.dimensions for stroke in dimension.lines]
        return bounds_of([*(drawn.shape for drawn in self.shapes), *filter(len, lettered), *lines])

    def draw(self, pen: Pen) -> None:
        """Every shape through the pen, in order, then the letters of every label, then dimensions line by line."""
        for drawn in self.shapes:
            pen.use_layer(drawn.layer)
            draw_shape(drawn.shape, pen)
        for label in self.labels:
            pen.use_layer(label.layer)
            draw_strokes(label.strokes, pen)
        for dimension in self.dimensions:
            pen.use_layer(dimension.layer)
            for stroke in dimension.lines:
                draw_shape(stroke, pen)
            pen.use_layer(dimension.letters)
            draw_strokes(dimension.strokes, pen)


def draw_shape(shape: Shape, pen: Pen) -> None:
    """One shape through the pen, on the layer in use."""
    if isinstance(shape, Circle):
        pen.circle(shape.centre, shape.radius)
        return
    if isinstance(shape, Strokes):
        draw_strokes(shape, pen)
        return
    segments, is_closed = shape.segments, isinstance(shape, Outline)
    if is_closed and not segments[-1].bulge:
        segments = segments[:-1]  # close() draws the last straight piece, so that no vertex is written twice
    pen.move_to(shape.segments[0].start)
    for segment in segments:
        if isinstance(segment, Line):
            pen.line_to(segment.end)
        else:
            pen.arc_to(segment.end, segment.bulge)
    if is_closed:
        pen.close()
    else:
        pen.end()
