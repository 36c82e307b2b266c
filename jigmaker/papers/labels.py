"""Letters names on a crowded sheet where they touch nothing. Sheet frame; mm.

A name goes inside its piece, as large as fits; where the piece is too small, beside it in free sheet with a leader.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice
from typing import TYPE_CHECKING

from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import text_width, write_text
from jigmaker.geometry.outline import Bounds, Contour, Stroke
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from shapely import Geometry, Polygon

HEIGHTS_MM = (8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0)
_AIR_MM = 1.0  # free round a label, at least
_AIR_SHARE = 0.4  # of the letters' height
_LINE = 1.6  # from baseline to baseline, in heights
_STEP_MM = 2.0
_BESIDE_MM = 40.0  # how far round a piece free sheet is looked for before all of it
_BESIDE_HIGH_MM = 5.0  # the highest letters beside a piece
_LEADERS_TRIED = 40
_LOOKED_AT = 16  # boxes at a time


@dataclass(frozen=True, slots=True)
class PlacedLabel:
    """A name as strokes, the box round them, and the leader from the box into the piece (empty when inside it)."""

    name: str
    box: Bounds
    strokes: tuple[Stroke, ...]
    leader: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class _Form:
    """A name broken into lines, at a height and a turn, and the size of its box with air round it."""

    lines: tuple[str, ...]
    height: float
    turn_deg: float
    long: float
    high: float

    @property
    def size(self) -> Point:
        """Width and height of the box as it lies."""
        return (self.high, self.long) if self.turn_deg else (self.long, self.high)


def place_labels(named: Sequence[tuple[str, Sequence[Contour]]], length: float, width: float) -> list[PlacedLabel]:
    """A label for every piece, in order; `named` holds each piece's name and its contours, the outline first.

    Labels lie on the sheet, length x width, and touch neither each other nor the line of any contour. A piece that
    has room neither inside nor round it gets its label where free sheet is nearest.
    Only where none is free at all a label lies across its own piece.
    """
    import shapely

    rings = [[contour.points(16) for contour in contours] for _, contours in named]
    pieces = [shapely.Polygon(outer, holes) for outer, *holes in rings]
    inside: list[PlacedLabel | None] = []
    for (name, _), piece in zip(named, pieces, strict=True):
        # As large as fits, then as near the piece's middle: the first place of the first form that has any.
        middle = piece.representative_point()
        fitting = (_label(name, form, at) for form in _forms(name) for at in _spots(form, piece, middle))
        inside.append(next(fitting, None))
    taken = [shapely.box(*label.box) for label in inside if label]
    sheet = shapely.box(0, 0, length, width).buffer(-_AIR_MM)
    outlines = [shapely.Polygon(piece.exterior) for piece in pieces]
    labels = []
    for i, (name, _) in enumerate(named):
        label = inside[i]
        if label is None:
            others = shapely.union_all([*outlines[:i], *outlines[i + 1 :], *taken])
            label = _beside(name, pieces[i], sheet.difference(others.union(outlines[i])), others)
            taken += [shapely.box(*label.box), shapely.LineString(label.leader).buffer(_AIR_MM)]
        labels.append(label)
    return labels


def _beside(name: str, piece: "Polygon", free: "Geometry", others: "Geometry") -> PlacedLabel:
    """The label in free sheet: near the piece, else wherever there is room; its leader crosses no other piece."""
    import shapely

    near = shapely.intersection(free, piece.buffer(_BESIDE_MM))
    forms = [form for form in _forms(name) if form.height <= _BESIDE_HIGH_MM]
    for room in (near, free):
        for form in forms:
            for at in islice(_spots(form, room, piece), _LEADERS_TRIED):
                label = _label(name, form, at)
                leader = shapely.shortest_line(shapely.box(*label.box), piece.representative_point())
                if not others.intersects(leader):
                    return replace(label, leader=tuple(leader.coords))
    # Not a finger's breadth of sheet is free: the smallest letters, across the piece's own lines.
    x, y = piece.representative_point().coords[0]
    return _label(name, forms[-1], (x - forms[-1].size[0] / 2, y - forms[-1].size[1] / 2))


def _forms(name: str) -> Iterator[_Form]:
    """Large before small, upright before turned, in one line before two and three."""
    words = name.upper().split()
    for height in HEIGHTS_MM:
        # In one line, in two and in three, each broken where the lines come out most alike.
        for count in range(1, min(3, len(words)) + 1):
            lines = min(_breaks(words, count), key=lambda lines: max(len(line) for line in lines))
            long = max(text_width(line, height) for line in lines) + 2 * _air(height)
            high = height * (1 + _LINE * (len(lines) - 1)) + 2 * _air(height)
            for turn_deg in (0.0, 90.0):
                yield _Form(lines, height, turn_deg, long, high)


def _air(height: float) -> float:
    return max(_AIR_MM, _AIR_SHARE * height)


def _breaks(words: Sequence[str], count: int) -> list[tuple[str, ...]]:
    if count == 1:
        return [(" ".join(words),)]
    return [
        (" ".join(words[:i]), *rest) for i in range(1, len(words) - count + 2) for rest in _breaks(words[i:], count - 1)
    ]


def _spots(form: _Form, room: "Geometry", near: "Geometry") -> Iterator[Point]:
    """Lower left of the form's box wherever it lies wholly in the room, the nearest to something first.

    Mostly the first is taken: a box is made and looked at only when its turn comes.
    """
    import numpy as np
    import shapely

    # Boxes at all places of a grid at once. Their corners are cheap to judge and rule most out; only the rest is tested
    # whole, and then sorted by distance, rounded so that places equally near keep their order on every machine.
    (wide, high), (low_x, low_y, far_x, far_y) = form.size, room.bounds
    if room.is_empty or far_x - low_x < wide or far_y - low_y < high:
        return
    xs, ys = np.meshgrid(_steps(low_x, far_x - wide), _steps(low_y, far_y - high))
    x, y = xs.ravel(), ys.ravel()
    shapely.prepare(room)
    for right, up in ((0.0, 0.0), (wide, high), (0.0, high), (wide, 0.0)):
        held = shapely.intersects_xy(room, x + right, y + up)
        x, y = x[held], y[held]
    off = np.round(shapely.distance(shapely.points(x + wide / 2, y + high / 2), near), 6)
    order = np.lexsort((x, y, off))
    for first in range(0, len(order), _LOOKED_AT):
        few = order[first : first + _LOOKED_AT]
        held = shapely.contains(room, shapely.box(x[few], y[few], x[few] + wide, y[few] + high))
        yield from zip(x[few][held].tolist(), y[few][held].tolist(), strict=True)


def _steps(low: float, high: float) -> list[float]:
    """From low to high, both included, about _STEP_MM apart."""
    count = int((high - low) / _STEP_MM) + 1
    return [low + (high - low) * i / count for i in range(count + 1)]


def _label(name: str, form: _Form, at: Point) -> PlacedLabel:
    """The form lettered with the lower left of its box at a point."""
    wide, high = form.size
    # Turned a quarter anticlockwise, the box's lower left is what was its upper left.
    frame = PlaneFrame(at[0] + (wide if form.turn_deg else 0.0), at[1], form.turn_deg)
    strokes: list[Stroke] = []
    for i, line in enumerate(form.lines):
        baseline = _air(form.height) + form.height * _LINE * (len(form.lines) - 1 - i)
        written = write_text(line, (form.long / 2, baseline), form.height, anchor="middle")
        strokes += [stroke.placed(frame) for stroke in written]
    return PlacedLabel(name, (at[0], at[1], at[0] + wide, at[1] + high), tuple(strokes))
