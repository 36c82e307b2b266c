"""The look of all pictures: their layers, letters, arrows and the page round them. Paper frame, y up; mm.

Black on white. Outlines 0.5 wide, everything else 0.25; letters 2.5 or 3.5 high, level. A canvas has no page: the page
is put round what was drawn at the end.
"""

from collections.abc import Iterable, Sequence
from math import atan2, cos, degrees, hypot, radians, sin, tan

from jigmaker.drawing.draft import WORDS, WORDS_MM, Draft
from jigmaker.drawing.picture import Picture, PictureLayer
from jigmaker.drawing.projection import DrawnBody, chained
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import arrow_strokes, level_bounds
from jigmaker.geometry.outline import Arc, Bounds, Circle, Stroke, box_of
from jigmaker.record import dataclass

OUTLINE, THIN, BROKEN, LARGE = "OUTLINE", "THIN", "BROKEN", "LARGE"
LAYERS = (
    PictureLayer(OUTLINE, "#000000", 0.5),
    PictureLayer(THIN, "#000000", 0.25),
    PictureLayer(BROKEN, "#000000", 0.25, (2.0, 1.2)),
    PictureLayer(WORDS, "#000000", 0.25),
    PictureLayer(LARGE, "#000000", 0.35),
)
WIDEST_MM = 180.0
SMALL_MM, LARGE_MM = WORDS_MM, 3.5
"""Heights of letters."""

_EDGE_MM = 2.0  # free paper round the drawing
_HEAD_MM = 2.2
_DOT_MM = 0.5
_WHOLE_TURN_DEG = 360.0


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
        """The shift alone, as a frame of the paper."""
        return PlaneFrame(self.x, self.y)


class Canvas(Draft):
    """A draft in the look of all pictures, which becomes a Picture on a page of its own size."""

    def line(self, points: Sequence[Point], layer: str = THIN) -> None:
        """A line through the points, thin unless a layer is named."""
        super().line(points, layer)

    def bodies(self, drawn: Iterable[DrawnBody], spot: Spot, layers: tuple[str, str] = (OUTLINE, THIN)) -> None:
        """Projected bodies: outlines on the first layer, lines between faces on the second."""
        for body in drawn:
            for layer, pieces in zip(layers, (body.outline, body.inner), strict=True):
                for line in chained(pieces):
                    self.line([spot.point(p) for p in line], layer)

    def arrow(self, points: Sequence[Point], layer: str = THIN, head_mm: float = _HEAD_MM) -> None:
        """A line with a head at its end."""
        self.add(layer, *arrow_strokes(points, head_mm))

    def dot(self, at: Point) -> None:
        """The end of a leader that points at a face."""
        self.add(OUTLINE, Circle(at, _DOT_MM / 2))

    def span(self, a: Point, b: Point) -> None:
        """A thin line with a head at both ends."""
        # Two arrows from the middle outward; on a short line heads shrink, so that they never meet.
        middle = midpoint(a, b)
        head = min(_HEAD_MM, hypot(b[0] - a[0], b[1] - a[1]) / 3)
        for end in (a, b):
            self.arrow([middle, end], THIN, head)

    def arc(self, centre: Point, radius: float, from_deg: float, to_deg: float) -> None:
        """A thin arc, anticlockwise from one direction to the other, less than half a turn."""
        # bulge = tan(turn / 4); an arc of no length has no direction and is left out.
        turn = (to_deg - from_deg) % _WHOLE_TURN_DEG
        if radius * radians(turn) < 0.1:
            return
        start, end = (
            (centre[0] + radius * cos(radians(d)), centre[1] + radius * sin(radians(d)))
            for d in (from_deg, from_deg + turn)
        )
        self.add(THIN, Stroke((Arc(start, end, tan(radians(turn) / 4)),)))

    @property
    def bounds(self) -> Bounds:
        """The box round everything so far; words by their letters."""
        letters = [level_bounds(label.text, label.at, label.height_mm, label.anchor) for label in self.labels]
        return box_of([*(drawn.shape.bounds for drawn in self.shapes), *filter(None, letters)])

    def picture(self, title: str, notes: tuple[str, ...] = ()) -> Picture:
        """Everything, on a page a little larger."""
        # The page is made to what was drawn, and nothing scaled to a page: letters stay as high as they are.
        x, y, high_x, high_y = self.bounds
        moved = self.moved((_EDGE_MM - x, _EDGE_MM - y))
        width, height = round(high_x - x + 2 * _EDGE_MM, 3), round(high_y - y + 2 * _EDGE_MM, 3)
        return Picture(title, width, height, LAYERS, tuple(moved.shapes), notes, tuple(moved.labels))


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
    # Names in columns beside it stay out of the box: they have a width of their own.
    x, y, high_x, high_y = bounds_of_bodies(drawn)
    scale = min(wide_mm / (high_x - x), high_mm / (high_y - y))
    return Spot(scale, -x * scale, -y * scale)
