"""The room a piece takes on a sheet, with the tool's path round it. Sheet frame up to a shift; mm, degrees.

Words: a *footprint* is the path of the tool round the piece, as chords, with the lower left of its box at (0, 0).
"""

from dataclasses import field
from functools import cached_property
from math import cos, pi
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Arc, Outline
from jigmaker.parts.part import Part
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from shapely import Polygon

_CHORDS = 8  # a quarter; few, because placing tries thousands of places
_CELLS, _BOXES = 8, 3  # along either side of a piece's box, and boxes found inside it: what placing was quickest with
_MITRE = 4.0  # a sharp corner's path reaches two tool widths, four times the distance moved, beyond the corner


@dataclass(frozen=True)
class Footprint:
    """A part turned by turn_deg: corners of the path, size of its box, and where in the box the part's origin is.

    `inside`: some boxes wholly within the path, as _boxes_in has them.
    """

    turn_deg: float
    points: tuple[Point, ...]
    length: float
    width: float
    origin: Point
    inside: Any = field(repr=False, compare=False)
    _grown: dict[float, "Polygon"] = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def corners(self) -> Any:
        """The points as an array, to be shifted in one go."""
        import numpy

        return numpy.array(self.points)

    def grown(self, distance: float) -> "Polygon":
        """What lies within the distance of it, corners sharp; worked out once, though every search lays every piece."""
        if distance not in self._grown:
            import shapely

            path = shapely.Polygon(self.corners)
            self._grown[distance] = path.buffer(distance, join_style="mitre", mitre_limit=2.0)
        return self._grown[distance]

    def frame_at(self, at: Point) -> PlaneFrame:
        """sheet_from_part of the piece whose footprint's box has its lower left at `at`."""
        return PlaneFrame(at[0] + self.origin[0], at[1] + self.origin[1], self.turn_deg)


def footprints(part: Part, tool_mm: float) -> tuple[Footprint, ...]:
    """The part's footprints turned by 0, 90, 180 and 270 degrees (0 alone if it must lie unturned), each look once."""
    import numpy as np

    path = path_round(part.outline, tool_mm / 2)
    boxes = _boxes_in(path)
    turned = []
    for turn_deg in (0.0,) if part.lies_unturned else (0.0, 90.0, 180.0, 270.0):
        frame = PlaneFrame(turn_deg=turn_deg)
        points = [frame.point((x, y)) for x, y in path.exterior.coords[:-1]]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        low_x, low_y = min(xs), min(ys)
        from_low = tuple((x - low_x, y - low_y) for x, y in points)
        ends = np.array([frame.point(corner) for corner in boxes.reshape(-1, 2)]).reshape(-1, 2, 2) - (low_x, low_y)
        inside = np.concatenate([ends.min(axis=1), ends.max(axis=1)], axis=1)
        size, origin = (max(xs) - low_x, max(ys) - low_y), (-low_x, -low_y)
        turned.append(Footprint(turn_deg, from_low, *size, origin, inside))
    looks = {_look(footprint): footprint for footprint in reversed(turned)}
    return tuple(footprint for footprint in turned if looks[_look(footprint)] is footprint)


def _boxes_in(path: "Polygon") -> Any:
    """A few boxes inside a polygon, none over another, the largest first: (_BOXES, 4), left, lower, right and upper
    edge; not numbers where no more were found."""
    import numpy as np
    import shapely

    # Of a net of cells over the polygon's box those count that lie inside it wholly. A sum of cells below and left of
    # each crossing gives how many are in the rectangle from crossing (i, k) to (j, m) from four of them,
    #
    #     m  C-----D
    #        |     |        D - B - C + A
    #     k  A-----B
    #        i     j
    #
    # so all rectangles are looked at in one go; the largest whose cells are all inside is taken, and its cells with it.
    shapely.prepare(path)
    low_x, low_y, high_x, high_y = path.bounds
    xs, ys = np.linspace(low_x, high_x, _CELLS + 1), np.linspace(low_y, high_y, _CELLS + 1)
    (left, low), (right, high) = (np.meshgrid(x, y, indexing="ij") for x, y in ((xs[:-1], ys[:-1]), (xs[1:], ys[1:])))
    is_in = shapely.covers(path, shapely.box(left, low, right, high))
    steps = np.maximum(np.arange(_CELLS + 1) - np.arange(_CELLS + 1)[:, None], 0)
    cells = steps[:, :, None, None] * steps
    boxes = []
    for _ in range(_BOXES):
        sums = np.zeros((_CELLS + 1, _CELLS + 1), dtype=np.intp)
        sums[1:, 1:] = is_in.cumsum(axis=0).cumsum(axis=1)
        held = sums[None, :, None, :] - sums[None, :, :, None] - sums[:, None, None, :] + sums[:, None, :, None]
        i, j, k, m = np.unravel_index(int(np.where(held == cells, cells, 0).argmax()), cells.shape)
        boxes.append((xs[i], ys[k], xs[j], ys[m]) if i < j else (np.nan,) * 4)
        is_in[i:j, k:m] = False
    return np.array(boxes)


def path_round(outline: Outline, moved_by: float) -> "Polygon":
    """A polygon that holds the path round the outline: what chords cut off arcs is added, but not past its box."""
    import shapely

    # A chord over the angle a leaves r (1 - cos a/2) of the arc outside; the path is moved out by as much, so that it
    # holds the true one, and then cut to the true path's box, which flat sides must not leave.
    largest = max((s.radius for s in outline.segments if isinstance(s, Arc)), default=0.0)
    sag = largest * (1 - cos(pi / 4 / _CHORDS))
    nominal = shapely.Polygon(outline.points(_CHORDS))
    path = nominal.buffer(moved_by + sag, join_style="mitre", mitre_limit=_MITRE)
    true = nominal.buffer(moved_by, join_style="mitre", mitre_limit=_MITRE)
    low_x, low_y, high_x, high_y = outline.bounds
    around = shapely.box(low_x - moved_by, low_y - moved_by, high_x + moved_by, high_y + moved_by)
    box = around.union(true).envelope
    return path.intersection(box)


def _look(footprint: Footprint) -> frozenset[Point]:
    return frozenset((round(x, 3), round(y, 3)) for x, y in footprint.points)
