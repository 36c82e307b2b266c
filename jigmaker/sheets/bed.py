"""One sheet being filled: footprints in, the lowest place that is free for one of them out. Sheet frame; mm."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.frames import Point
from jigmaker.sheets.footprint import Footprint

if TYPE_CHECKING:
    from shapely import Polygon

_TOUCH = 1e-3  # pieces may lie at exactly the wanted distance: what is free is judged this much more kindly
_BATCH = 64  # places judged in one go; the search mostly ends in the first few

Place = tuple[Footprint, Point]


@dataclass
class Bed:
    """A sheet's usable rectangle and what lies on it. `apart`: least distance between two footprints.

    `upward` True fills rows from the lower edge up, False columns from the left edge to the right.
    """

    low: Point
    high: Point
    apart: float
    upward: bool
    placed: list[tuple[int, Place]] = field(default_factory=list)
    _taken: list["Polygon"] = field(default_factory=list)
    _corners: dict[Point, None] = field(default_factory=dict)
    _refused: dict[int, set[tuple[float, Point]]] = field(default_factory=dict)
    _no_place: set[int] = field(default_factory=set)

    def find(self, kind: int, shapes: Sequence[Footprint]) -> Place | None:
        """The lowest free place (leftmost among equals; the other way round when not `upward`), None when none is left.

        Places are tried at the corners of what already lies there. `kind` tells like pieces apart from others: a place
        once refused to one of them stays refused, and when there was none for one there is none for the next.
        """
        if kind in self._no_place:
            return None
        refused = self._refused.setdefault(kind, set())
        places = [place for shape in shapes for place in self._places(shape, refused)]
        places.sort(key=lambda place: (*self._rank(place[1]), place[0].turn_deg))
        for first in range(0, len(places), _BATCH):
            batch = places[first : first + _BATCH]
            for place, is_free in zip(batch, self._free(batch), strict=True):
                if is_free:
                    return place
                refused.add((place[0].turn_deg, place[1]))
        self._no_place.add(kind)
        return None

    def put(self, index: int, place: Place) -> None:
        """Lay piece number `index` there."""
        import shapely

        self.placed.append((index, place))
        polygon = shapely.Polygon(place[0].corners + place[1])
        self._taken.append(polygon.buffer(self.apart - _TOUCH, join_style="mitre", mitre_limit=2.0))
        around = polygon.buffer(self.apart, join_style="mitre", mitre_limit=2.0)
        low_x, low_y, high_x, high_y = (round(bound, 6) for bound in around.bounds)
        corners = [(round(x, 6), round(y, 6)) for x, y in around.simplify(0.5).exterior.coords[:-1]]
        self._corners |= dict.fromkeys([(high_x, low_y + self.apart), (low_x + self.apart, high_y), *corners])

    def _rank(self, at: Point) -> Point:
        return (at[1], at[0]) if self.upward else at

    def _places(self, shape: Footprint, refused: set[tuple[float, Point]]) -> list[Place]:
        """Corners of what lies there, and those corners pushed to the lower and left edge, if the shape is inside."""
        ats: dict[Point, None] = {self.low: None}
        for x, y in self._corners:
            ats |= dict.fromkeys([(x, self.low[1]), (self.low[0], y), (x, y)])
        last_x, last_y = self.high[0] - shape.length + 1e-9, self.high[1] - shape.width + 1e-9
        inside = [at for at in ats if self.low[0] <= at[0] <= last_x and self.low[1] <= at[1] <= last_y]
        return [(shape, at) for at in inside if (shape.turn_deg, at) not in refused]

    def _free(self, batch: Sequence[Place]) -> list[bool]:
        import numpy
        import shapely

        if not self._taken:
            return [True] * len(batch)
        # All turns of a part have as many corners, so that the whole batch is one array.
        there = shapely.polygons(numpy.stack([shape.corners + at for shape, at in batch]))
        hits: Any = shapely.STRtree(self._taken).query(there, predicate="intersects")
        struck = set(hits[0].tolist())
        return [i not in struck for i in range(len(batch))]
