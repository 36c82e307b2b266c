"""Pens that make one DXF entity of each contour, rounded once to six decimals. File units.

EntityPen says what a stroke becomes; who inherits from it says where that goes: DxfPen into a layout of the library.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees
from typing import TYPE_CHECKING

from jigmaker.errors import OutOfRange
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, piece

if TYPE_CHECKING:
    from ezdxf.layouts import BaseLayout

PolylineVertex = tuple[float, float, float]
"""x, y, and the bulge of the piece that starts here."""

FILE_PLACES = 6


class EntityPen:
    """Base of the pens. `colours` gives the colour index of every declared layer; `unit_mm` the file's unit in mm.

    A contour becomes one closed polyline whose first vertex is not repeated. An open stroke becomes a LINE, an ARC or
    an open polyline; one that ends where it began is closed. A subclass answers the four add_ methods, whose figures
    are rounded; entities go on `layer` in `colour`.
    """

    layer = ""
    colour = 0
    apart: frozenset[str] = frozenset()
    """Layers on which a contour becomes a LINE or an ARC for each of its pieces."""

    def __init__(self, colours: dict[str, int], unit_mm: float) -> None:
        self._colours = colours
        self._unit_mm = unit_mm
        self._vertices: list[PolylineVertex] = []

    def add_line(self, start: Point, end: Point) -> None:
        """One straight piece."""
        raise NotImplementedError

    def add_arc(self, centre: Point, radius: float, from_deg: float, to_deg: float) -> None:
        """One arc, anticlockwise from one direction to the other."""
        raise NotImplementedError

    def add_circle(self, centre: Point, radius: float) -> None:
        """A full circle."""
        raise NotImplementedError

    def add_polyline(self, vertices: Sequence[PolylineVertex], closed: bool) -> None:
        """Pieces in a row; when closed, the last vertex has the piece home."""
        raise NotImplementedError

    def use_layer(self, name: str) -> None:
        """What follows belongs to this layer and carries its colour too: readers go by one or by the other."""
        if name not in self._colours:
            raise OutOfRange(f'a shape lies on layer "{name}", which the picture does not declare; declare it')
        self.layer, self.colour = name, self._colours[name]

    def move_to(self, at: Point) -> None:
        """Start a contour."""
        self._vertices = [(*self._rounded(at), 0.0)]

    def line_to(self, to: Point) -> None:
        """A straight piece from where the pen is."""
        self.arc_to(to, 0.0)

    def arc_to(self, to: Point, bulge: float) -> None:
        """A circular piece; one that is too short for the file's decimals falls away.

        DXF group code 42: bulge = tan(arc angle / 4), positive anticlockwise, on the vertex where the arc begins.
        """
        #          ___               the bulge is the arc's height over half its chord: 0 straight, 1 half a turn;
        #        /  |  \             rounding must not take it beyond that, where it would be more
        #       x---+---x
        #
        (x, y, _), end = self._vertices[-1], self._rounded(to)
        if end != (x, y):
            self._vertices[-1] = (x, y, _short(max(-1.0, min(1.0, bulge))) if bulge else 0.0)
            self._vertices.append((*end, 0.0))

    def close(self) -> None:
        """Write the contour closed."""
        if self._vertices[-1][:2] == self._vertices[0][:2]:
            self._vertices.pop()
        self._add_run(closed=True)

    def end(self) -> None:
        """Write the contour open."""
        # A contour that ends where it began is closed; two vertices are a line or an arc; more are a polyline.
        if self._vertices[-1][:2] == self._vertices[0][:2]:
            self.close()
        elif len(self._vertices) == 2:
            self._add_piece(*self._vertices)
        else:
            self._add_run(closed=False)

    def circle(self, centre: Point, radius: float) -> None:
        """A full circle."""
        self.add_circle(self._rounded(centre), _short(radius / self._unit_mm))

    def _rounded(self, at: Point) -> Point:
        return (_short(at[0] / self._unit_mm), _short(at[1] / self._unit_mm))

    def _add_run(self, closed: bool) -> None:
        if self.layer not in self.apart:
            self.add_polyline(self._vertices, closed)
            return
        around = [*self._vertices, self._vertices[0]] if closed else self._vertices
        for start, end in pairwise(around):
            self._add_piece(start, end)

    def _add_piece(self, start: PolylineVertex, end: PolylineVertex) -> None:
        """One straight piece as a LINE, one arc as an ARC; an ARC always runs anticlockwise."""
        (x0, y0, bulge), (x1, y1, _) = start, end
        arc = piece((x0, y0), (x1, y1), bulge)
        if not isinstance(arc, Arc):
            self.add_line((x0, y0), (x1, y1))
            return
        first, last = (arc.start, arc.end) if bulge > 0 else (arc.end, arc.start)
        centre = (_short(arc.centre[0]), _short(arc.centre[1]))
        self.add_arc(centre, _short(arc.radius), _turn_deg(arc.centre, first), _turn_deg(arc.centre, last))


class DxfPen(EntityPen):
    """Draws into a layout of the library, of either version."""

    def __init__(self, layout: "BaseLayout", colours: dict[str, int], unit_mm: float) -> None:
        super().__init__(colours, unit_mm)
        self._layout = layout

    @property
    def _attributes(self) -> dict[str, object]:
        return {"layer": self.layer, "color": self.colour}

    def add_line(self, start: Point, end: Point) -> None:
        """A LINE."""
        self._layout.add_line(start, end, dxfattribs=self._attributes)

    def add_arc(self, centre: Point, radius: float, from_deg: float, to_deg: float) -> None:
        """An ARC."""
        self._layout.add_arc(centre, radius, from_deg, to_deg, dxfattribs=self._attributes)

    def add_circle(self, centre: Point, radius: float) -> None:
        """A CIRCLE."""
        self._layout.add_circle(centre, radius, dxfattribs=self._attributes)

    def add_polyline(self, vertices: Sequence[PolylineVertex], closed: bool) -> None:
        """An LWPOLYLINE; R12, which knows none, gets a POLYLINE whose vertices carry the colour too."""
        if self._layout.dxfversion != "AC1009":
            self._layout.add_lwpolyline(vertices, format="xyb", close=closed, dxfattribs=self._attributes)
            return
        polyline = self._layout.add_polyline2d(vertices, format="xyb", close=closed, dxfattribs=self._attributes)
        for vertex in polyline.vertices:
            vertex.dxf.color = self.colour


def _short(value: float) -> float:
    """Rounded to what a file carries; never -0."""
    return round(value, FILE_PLACES) + 0.0


def _turn_deg(centre: Point, at: Point) -> float:
    """Direction from centre to point, 0 up to 360."""
    return _short(degrees(atan2(at[1] - centre[1], at[0] - centre[0])) % 360)
