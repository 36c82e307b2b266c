"""Names beside a drawing, with leaders to what they name. Paper frame; mm.

Names stand in two columns, left and right of all that is drawn so far; no two share a place, and no two leaders of one
column cross.
"""

from collections.abc import Sequence
from typing import Literal

from jigmaker.drawing.draft import LINE_STEP
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.frames import Point
from jigmaker.papers.pictures.canvas import SMALL_MM, Canvas
from jigmaker.record import dataclass

COLUMN_MM = 40.0
DRAWING_MM = 82.0
"""What is left for the drawing between two columns."""

_APART_MM = 3.4  # between two names, and between a leader and its words
_AWAY_MM = 5.0  # between the drawing and a column

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class NameLabel:
    """What stands beside the drawing and where its leader ends; the nearer side when none is given."""

    text: str
    at: Point
    side: Side | None = None


def name_beside(canvas: Canvas, names: Sequence[NameLabel], wide_mm: float = COLUMN_MM) -> None:
    """All names in their columns, each broken into lines no wider than wide_mm."""
    low_x, low_y, high_x, high_y = canvas.bounds
    middle = (low_x + high_x) / 2
    columns: dict[Side, list[NameLabel]] = {"left": [], "right": []}
    for name in names:
        columns[name.side or ("left" if name.at[0] < middle else "right")].append(name)
    for side, column in columns.items():
        x, out = (low_x - _AWAY_MM, -_APART_MM / 2) if side == "left" else (high_x + _AWAY_MM, _APART_MM / 2)
        # From top to bottom, as near to the height of what they name as room allows. Two leaders of neighbours that
        # cross no longer do when their names change places. Each exchange makes leaders shorter, so they end; the
        # square of the number of names is more than they ever take.
        lines = {name: letters_wrapped(name.text, wide_mm) for name in column}
        order = sorted(column, key=lambda name: (-name.at[1], name.at[0]))
        tall = {name: SMALL_MM * (1 + LINE_STEP * (len(lines[name]) - 1)) for name in column}
        for _ in range(len(order) ** 2):
            wanted = [name.at[1] + tall[name] / 2 for name in order]
            tops = _spread(wanted, [tall[name] for name in order], (low_y, high_y))
            ends = [(x, top - tall[name] / 2) for name, top in zip(order, tops, strict=True)]
            crossed = next((i for i in range(len(order) - 1) if _cross(ends, order, i)), None)
            if crossed is None:
                break
            order[crossed], order[crossed + 1] = order[crossed + 1], order[crossed]
        for name, top, end in zip(order, tops, ends, strict=True) if order else ():
            canvas.words(lines[name], (x + out, top - SMALL_MM), "right" if side == "left" else "left")
            canvas.line([end, name.at])
            canvas.dot(name.at)


def _spread(tops: list[float], tall: list[float], within: tuple[float, float]) -> list[float]:
    """Tops moved as little as keeps every name clear of the next, and in the drawing's height where that is enough."""
    # Downward first: a name stands where it wants to, or right below the last one. Then upward: the lowest is lifted to
    # the floor where it fell below it, and lifts those above it where they touch.
    low, high = within
    placed: list[float] = []
    for top, size in zip(tops, tall, strict=True):
        limit = placed[-1] - tall[len(placed) - 1] - _APART_MM if placed else high
        placed.append(min(max(top, low + size), limit))
    # What was pushed out below goes up again as far as there is room.
    floor = low
    for i in reversed(range(len(placed))):
        placed[i] = max(placed[i], floor + tall[i])
        floor = placed[i] + _APART_MM
    return placed


def _cross(ends: list[Point], order: list[NameLabel], i: int) -> bool:
    # Two segments cross when the ends of each lie on both sides of the other's line.
    a, b, c, d = ends[i], order[i].at, ends[i + 1], order[i + 1].at
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
