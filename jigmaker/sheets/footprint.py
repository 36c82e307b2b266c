"""The room a piece takes on a sheet: Part and tool in, turned footprints out. Sheet frame up to a shift; mm, degrees.

Words: a *footprint* is the path of the tool round the piece, as chords, with the lower left of its box at (0, 0).
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.parts.part import Part

if TYPE_CHECKING:
    from shapely import Polygon

_CHORDS = 32  # a quarter; what chords cut off an arc is covered by the box, which is taken from the true outline
_MITRE = 4.0  # a sharp corner's path reaches two tool widths, four times the distance moved, beyond the corner


@dataclass(frozen=True, slots=True)
class Footprint:
    """A part turned by turn_deg: corners of the path, size of its box, and where in the box the part's origin is."""

    turn_deg: float
    points: tuple[Point, ...]
    length: float
    width: float
    origin: Point

    def frame_at(self, at: Point) -> PlaneFrame:
        """sheet_from_part of the piece whose footprint's box has its lower left at `at`."""
        return PlaneFrame(at[0] + self.origin[0], at[1] + self.origin[1], self.turn_deg)


def footprints(part: Part, tool_mm: float) -> tuple[Footprint, ...]:
    """The part's footprints turned by 0, 90, 180 and 270 degrees; turns that look the same are left out."""
    import shapely

    nominal = shapely.Polygon(part.outline.points(_CHORDS))
    path = nominal.buffer(tool_mm / 2, join_style="mitre", mitre_limit=_MITRE)
    low_x, low_y, high_x, high_y = part.outline.bounds
    around = shapely.box(low_x, low_y, high_x, high_y).buffer(tool_mm / 2, join_style="mitre")
    turned = [_turned(path, around, quarter * 90.0) for quarter in range(4)]
    looks = {_look(footprint): footprint for footprint in reversed(turned)}
    return tuple(footprint for footprint in turned if looks[_look(footprint)] is footprint)


def _turned(path: "Polygon", around: "Polygon", turn_deg: float) -> Footprint:
    frame = PlaneFrame(turn_deg=turn_deg)
    points = [frame.point((x, y)) for x, y in path.exterior.coords[:-1]]
    corners = points + [frame.point((x, y)) for x, y in around.exterior.coords[:-1]]
    low_x, low_y = min(p[0] for p in corners), min(p[1] for p in corners)
    length, width = max(p[0] for p in corners) - low_x, max(p[1] for p in corners) - low_y
    return Footprint(turn_deg, tuple((x - low_x, y - low_y) for x, y in points), length, width, (-low_x, -low_y))


def _look(footprint: Footprint) -> frozenset[Point]:
    return frozenset((round(x, 3), round(y, 3)) for x, y in footprint.points)
