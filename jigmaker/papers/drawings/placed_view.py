"""Views of solids in a drawing, and where their points lie on the paper. mm.

Seen is a view at full size, in the view's own plane; PlacedView is the same at the drawing's scale on the paper.
"""

from collections.abc import Mapping
from functools import cached_property
from itertools import pairwise
from math import atan2, degrees, hypot

from jigmaker.drawing.projection import Body, SeenPiece, chained, project
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Bounds, Stroke
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector
from jigmaker.record import dataclass

SAME_LINE_MM = 1e-3
"""Edges this near a line lie on it."""

ZIGZAG_MM = 2.0


@dataclass(frozen=True)
class Seen:
    """Edges of solids as they are seen, and those that are not, at full size in the view's plane.

    `cut`: edges where the work goes on but the view does not.
    """

    view: View
    visible: tuple[SeenPiece, ...]
    hidden: tuple[SeenPiece, ...]
    cut: tuple[SeenPiece, ...] = ()

    @cached_property
    def lines(self) -> tuple[list[list[Point]], list[list[Point]]]:
        """The visible and the hidden edges, joined end to end to lines through several points."""
        return chained(self.visible), chained(self.hidden)

    @cached_property
    def box(self) -> Bounds:
        """(x low, y low, x high, y high)."""
        points = [point for piece in (*self.visible, *self.hidden, *self.cut) for point in piece]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return (min(xs), min(ys), max(xs), max(ys))

    def size(self, scale: float) -> Point:
        """Width and height on paper of that scale."""
        box = self.box
        return ((box[2] - box[0]) * scale, (box[3] - box[1]) * scale)

    def placed(self, scale: float, low: Point) -> "PlacedView":
        """At that scale (paper over real), the lower left of its box at `low`."""
        box = self.box
        return PlacedView(self, scale, (low[0] - box[0] * scale, low[1] - box[1] * scale))


@dataclass(frozen=True)
class PlacedView:
    """A view on the paper: its scale, and where the view's own (0, 0) lies."""

    seen: Seen
    scale: float
    origin: Point

    @cached_property
    def box(self) -> Bounds:
        """(x low, y low, x high, y high) on the paper."""
        low_x, low_y, high_x, high_y = self.seen.box
        return (*self._on_paper((low_x, low_y)), *self._on_paper((high_x, high_y)))

    @cached_property
    def visible(self) -> tuple[Stroke, ...]:
        """Edges that are seen."""
        return self._strokes(self.seen.lines[0])

    @cached_property
    def hidden(self) -> tuple[Stroke, ...]:
        """Edges that are not."""
        return self._strokes(self.seen.lines[1])

    @cached_property
    def zigzags(self) -> tuple[Stroke, ...]:
        """Lines with a zigzag where the view breaks off (ISO 128, narrow with zigzags)."""
        return tuple(_zigzag(self._on_paper(a), self._on_paper(b)) for a, b in self.seen.cut)

    def point(self, p: Vector) -> Point:
        """A point of the solids' frame on the paper."""
        return self._on_paper(self.seen.view.point(p))

    def turn_deg(self, direction: Vector) -> float:
        """A direction of the solids' frame on the paper, degrees anticlockwise from its x axis."""
        x, y = self.seen.view.point(direction)
        return degrees(atan2(y, x))

    def _strokes(self, lines: list[list[Point]]) -> tuple[Stroke, ...]:
        return tuple(Stroke.from_points([self._on_paper(point) for point in line]) for line in lines)

    def _on_paper(self, at: Point) -> Point:
        return (self.origin[0] + at[0] * self.scale, self.origin[1] + at[1] * self.scale)


def see(solids: Mapping[str, Solid], view: View, hidden: bool = True) -> Seen:
    """Solids by name, in the order in which shared lines are theirs, looked at in that way."""
    drawn = project([Body(name, solid) for name, solid in solids.items()], view, keep_hidden=hidden)
    return Seen(
        view,
        tuple(piece for body in drawn for piece in body.visible),
        tuple(piece for body in drawn for piece in body.hidden),
    )


def broken(seen: Seen, x: float | None = None, y: float | None = None) -> Seen:
    """The same with what lies on these lines of the view's plane marked as cut; nothing hidden is left on them."""
    lines = [(axis, place) for axis, place in ((0, x), (1, y)) if place is not None]

    def is_cut(piece: SeenPiece) -> bool:
        return any(max(abs(end[axis] - place) for end in piece) < SAME_LINE_MM for axis, place in lines)

    visible = tuple(piece for piece in seen.visible if not is_cut(piece))
    hidden = tuple(piece for piece in seen.hidden if not is_cut(piece))
    # Pieces that go on from each other in one direction are one cut each.
    cut: list[SeenPiece] = []
    for line in chained(piece for piece in seen.visible if is_cut(piece)):
        start = line[0]
        for here, following in pairwise(line[1:]):
            (x, y), (following_x, following_y) = here, following
            # Twice the area of the triangle start, here, following: nothing where they lie in one line.
            area = (x - start[0]) * (following_y - y) - (y - start[1]) * (following_x - x)
            if abs(area) > SAME_LINE_MM:
                cut.append((start, here))
                start = here
        cut.append((start, line[-1]))
    return Seen(seen.view, visible, hidden, tuple(cut))


def _zigzag(a: Point, b: Point) -> Stroke:
    """A line from a to b with one zigzag in its middle, if it is long enough for that."""
    size = hypot(b[0] - a[0], b[1] - a[1])
    if size < 6 * ZIGZAG_MM:
        return Stroke.from_points([a, b])
    frame = PlaneFrame(*a, degrees(atan2(b[1] - a[1], b[0] - a[0])))
    #                    /\
    #    a -------------/  \  /------------- b
    #                       \/
    middle, step = size / 2, ZIGZAG_MM
    bends = ((middle - step, 0.0), (middle - step / 2, step), (middle + step / 2, -step), (middle + step, 0.0))
    return Stroke.from_points([a, *(frame.point(bend) for bend in bends), b])
