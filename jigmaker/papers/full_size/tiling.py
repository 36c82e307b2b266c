"""Where a template is cut into tiles, so that no label is parted. Template's frame; mm.

Neighbours overlap by 10 mm. A seam is put where no label is cut, so that every label is whole on some tile.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Bounds
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.papers.full_size.template import label_room
from jigmaker.record import dataclass

OVERLAP_MM = 10.0
_STEP_MM = 1.0
TileSpan = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Tiling:
    """Windows on a template: their spans from left to right, and from the top down."""

    columns: tuple[TileSpan, ...]
    rows: tuple[TileSpan, ...]

    @property
    def count(self) -> int:
        """How many tiles, and so pages."""
        return len(self.columns) * len(self.rows)

    def window(self, column: int, row: int) -> Bounds:
        """(x low, y low, x high, y high) of a tile."""
        (low_x, high_x), (low_y, high_y) = self.columns[column], self.rows[row]
        return (low_x, low_y, high_x, high_y)

    def name(self, column: int, row: int) -> str:
        """A1 is the upper left; letters go to the right, numbers down."""
        letters = chr(ord("A") + column % 26) * (column // 26 + 1)
        return f"{letters}{row + 1}"


def cut_into_tiles(picture: Picture, room: Point, gutter_mm: float) -> Tiling:
    """The least rows and columns whose windows fit the room and cut no label; a longer label than that is cut.

    `gutter_mm` is left free at both sides of the room where there are neighbours.
    """
    boxes = [label_room(label, picture) for label in picture.labels]
    columns = _spans(picture.width_mm, room[0], gutter_mm, [(box[0], box[2]) for box in boxes])
    rows = _spans(picture.height_mm, room[1], gutter_mm, [(box[1], box[3]) for box in boxes])
    return Tiling(tuple(columns), tuple(reversed(rows)))


def _spans(length: float, room: float, gutter: float, kept: Sequence[TileSpan]) -> list[TileSpan]:
    """Windows that cover 0 to length, at most `room` long, with an overlap round every seam."""
    if length <= room + TOUCH_MM:
        return [(0.0, length)]
    reach = room - 2 * gutter - OVERLAP_MM
    seams = _seams(length, reach, kept) or _seams(length, reach, ()) or []
    half = OVERLAP_MM / 2
    ends = [-half, *seams, length + half]
    return [(max(0.0, low - half), min(length, high + half)) for low, high in pairwise(ends)]


def _seams(length: float, reach: float, kept: Sequence[TileSpan]) -> list[float] | None:
    """As few seams as can be, as evenly as can be, each so placed that no kept span is cut by both its borders.

    `reach`: from one seam to the next at most. None where some kept span is longer than that.
    """
    import numpy as np

    half = OVERLAP_MM / 2
    # Whole steps from one overlap inside the length to the other.
    places = np.array([i * _STEP_MM for i in range(int(OVERLAP_MM), int(length - OVERLAP_MM) + 1)])
    lows, highs = np.array(kept).reshape(-1, 2).T[:, :, None]
    free = places[~((lows < places - half) & (highs > places + half)).any(axis=0)].tolist()
    # Hopping as far as each hop may go takes fewest hops, and gives the latest place that each seam can have; the same
    # from the far end gives the earliest. Any place between the two, within reach of the last seam, is as few: so the
    # one nearest to an even division is taken.
    latest = _hops(free, 0.0 + half, length - half, reach)
    if latest is None:
        return None
    back = _hops([length - at for at in reversed(free)], half, length - half, reach)
    earliest = [length - at for at in reversed(back or [])]
    chosen: list[float] = []
    for i, (first, last) in enumerate(zip(earliest, latest, strict=True)):
        low = max(first, chosen[-1] + _STEP_MM if chosen else 0.0)
        high = min(last, (chosen[-1] if chosen else half) + reach)
        even = length * (i + 1) / (len(latest) + 1)
        chosen.append(
            min((at for at in free if low - TOUCH_MM <= at <= high + TOUCH_MM), key=lambda at: abs(at - even))
        )
    return chosen


def _hops(free: Iterable[float], start: float, end: float, reach: float) -> list[float] | None:
    """The fewest places from start to end with no hop over `reach`, each as far on as it can be."""
    places, hops, here = list(free), list[float](), start
    while end - here > reach + TOUCH_MM:
        further = [at for at in places if here + TOUCH_MM < at <= here + reach + TOUCH_MM]
        if not further:
            return None
        here = further[-1]
        hops.append(here)
    return hops
