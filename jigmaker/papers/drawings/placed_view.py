"""Views: solids and a way to look at them in; edges, points and directions on the paper out; mm.

Seen is a view at full size, in the view's own plane; PlacedView is the same at the drawing's scale on the paper.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import atan2, degrees

from jigmaker.drawing.projection import Body, Piece, chained, project
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Bounds, Stroke
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector


@dataclass(frozen=True, slots=True)
class Seen:
    """Edges of solids as they are seen, and those that are not, at full size in the view's plane."""

    view: View
    visible: tuple[Piece, ...]
    hidden: tuple[Piece, ...]

    @property
    def box(self) -> Bounds:
        """(x low, y low, x high, y high)."""
        points = [point for piece in (*self.visible, *self.hidden) for point in piece]
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
        return self._strokes(self.seen.visible)

    @cached_property
    def hidden(self) -> tuple[Stroke, ...]:
        """Edges that are not."""
        return self._strokes(self.seen.hidden)

    def point(self, p: Vector) -> Point:
        """A point of the solids' frame on the paper."""
        return self._on_paper(self.seen.view.point(p))

    def turn_deg(self, direction: Vector) -> float:
        """A direction of the solids' frame on the paper, degrees anticlockwise from its x axis."""
        x, y = self.seen.view.point(direction)
        return degrees(atan2(y, x))

    def _strokes(self, pieces: tuple[Piece, ...]) -> tuple[Stroke, ...]:
        return tuple(Stroke.from_points([self._on_paper(point) for point in line]) for line in chained(pieces))

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
