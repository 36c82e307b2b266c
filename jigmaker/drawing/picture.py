"""A picture without a format: shapes on layers, in drawing order, and notes for whoever opens the file. y up; mm."""

from dataclasses import dataclass

from jigmaker.drawing.pen import Pen
from jigmaker.geometry.outline import Bounds, Circle, Outline, Stroke, bounds_of

Shape = Outline | Circle | Stroke


@dataclass(frozen=True, slots=True)
class PictureLayer:
    """A layer by name, with its colour "#rrggbb" and line width in mm."""

    name: str
    colour: str
    width_mm: float


@dataclass(frozen=True, slots=True)
class DrawnShape:
    """One shape on the layer of that name."""

    layer: str
    shape: Shape


@dataclass(frozen=True, slots=True)
class Picture:
    """Shapes in the order in which they are drawn (and so cut), on layers, on a page of width x height mm.

    `title` and `notes` go where a format has room for words that are never cut (comments, description).
    """

    title: str
    width_mm: float
    height_mm: float
    layers: tuple[PictureLayer, ...]
    shapes: tuple[DrawnShape, ...]
    notes: tuple[str, ...] = ()

    @property
    def bounds(self) -> Bounds:
        """(x low, y low, x high, y high) of everything drawn."""
        return bounds_of(drawn.shape for drawn in self.shapes)

    def draw(self, pen: Pen) -> None:
        """Every shape through the pen, in order."""
        for drawn in self.shapes:
            pen.use_layer(drawn.layer)
            _draw_shape(drawn.shape, pen)


def _draw_shape(shape: Shape, pen: Pen) -> None:
    if isinstance(shape, Circle):
        pen.circle(shape.centre, shape.radius)
        return
    pen.move_to(shape.segments[0].start)
    last = len(shape.segments) - 1
    for i, segment in enumerate(shape.segments):
        if isinstance(shape, Outline) and i == last and not segment.bulge:
            break  # close() draws the last straight piece, so that no vertex is written twice
        if segment.bulge:
            pen.arc_to(segment.end, segment.bulge)
        else:
            pen.line_to(segment.end)
    if isinstance(shape, Outline):
        pen.close()
    else:
        pen.end()
