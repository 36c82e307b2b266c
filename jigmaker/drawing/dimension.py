"""Dimensions of lengths after ISO 129-1: lines, arrow heads and number between two points. Picture frame; mm.

A dimension knows the drawing's scale, so the number is what is measured between its points, and nothing is typed.
Drawn after ISO 129-1: extension lines leave the work a little free and end beyond the dimension line; the number stands
over the line and is read from below or from the right. Letters of ISO 3098, arrow heads open at 30 degrees.
"""

from math import cos, hypot, radians, sin
from typing import Literal

from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import letter_table, text_width
from jigmaker.geometry.outline import Stroke
from jigmaker.geometry.strokes import Strokes
from jigmaker.record import dataclass
from jigmaker.units import Unit, caliper_text, inch_fraction, text

TEXT_MM = 3.5
"""ISO 3098: letter heights go 2.5, 3.5, 5; this one for the numbers of a drawing."""

GAP_MM, BEYOND_MM = 2.0, 2.0
"""Of extension lines: free of the work, and beyond the dimension line; eight widths of a 0.25 line (ISO 129-1)."""

HEAD_MM, TAIL_MM, CLEAR_MM = 3.0, 7.0, 1.25
"""Length of an arrow head, of the line behind one that points inward from outside, and between line and number."""

INCH_DENOMINATOR = 64

_HEAD_HALF = 0.2679491924311227  # tan 15: half of an open head of 30 degrees, over its length
_NO_LENGTH = 1e-9
_FILE_PLACES = 6
_INSIDE_ROOM = 1.5  # between a number and the extension lines that it stands between


@dataclass(frozen=True, slots=True)
class LinearDimension:
    """The distance from start to end along turn_deg (0 along x, 90 along y), real mm at `scale` (paper over real).

    The dimension line goes through `line_at`. `layer` takes the lines, `letters` the number. A number that has no room
    between the extension lines stands beyond the one at `beyond`. Inches are shown in 64ths, without a mark; a fit,
    whose play is less than a 64th, as a caliper reads it.
    """

    layer: str
    letters: str
    start: Point
    end: Point
    line_at: Point
    turn_deg: float = 0.0
    scale: float = 1.0
    unit: Unit = "mm"
    decimals: int = 1
    height_mm: float = TEXT_MM
    beyond: Literal["start", "end"] = "end"
    is_fit: bool = False

    @property
    def value_mm(self) -> float:
        """What is measured, real mm."""
        # The way from start to end, projected on the dimension's direction u:
        #
        #     start x
        #           |  .
        #           |     .  end
        #           |        x        value = |(end - start) . u| / scale
        #     foot ----------- foot   -> u
        #
        ux, uy = self._along
        return abs((self.end[0] - self.start[0]) * ux + (self.end[1] - self.start[1]) * uy) / self.scale

    @property
    def text(self) -> str:
        """The number as shown: decimals of a mm without trailing zeros, or inches and 64ths."""
        # To the file's digits first: a clearance of 0.15 must not fall to either side by the rounding of its sum.
        value_mm = round(self.value_mm, _FILE_PLACES)
        if self.unit == "in":
            return caliper_text(value_mm, "in")[:-1] if self.is_fit else inch_fraction(value_mm, INCH_DENOMINATOR)
        return text(value_mm, self.decimals)

    @property
    def feet(self) -> tuple[Point, Point]:
        """Where the extension lines of start and end meet the dimension line."""
        return self._foot(self.start), self._foot(self.end)

    @property
    def text_turn_deg(self) -> float:
        """Direction in which the number is read: along the dimension line, from below or from the right."""
        # A line has no direction, so half turns fall away; what then reads downward from 90 to 180 is turned round.
        turn_deg = self.turn_deg % 180
        return turn_deg - 180 if turn_deg > 90 else turn_deg

    @property
    def text_at(self) -> Point:
        """Middle of the number's baseline, over the dimension line."""
        (ax, ay), (bx, by) = self.feet
        vx, vy = _direction(self.text_turn_deg)
        if self._text_is_inside:
            x, y = (ax + bx) / 2, (ay + by) / 2
        else:
            (x, y), (ox, oy) = self._beyond_foot, self._outward
            away = self._tail + text_width(self.text, self.height_mm) / 2
            x, y = x + ox * away, y + oy * away
        # Over the line: square to the reading direction v, a quarter turn to the left of it, (-vy, vx).
        return (x - vy * CLEAR_MM, y + vx * CLEAR_MM)

    @property
    def lines(self) -> tuple[Stroke, ...]:
        """Extension lines, dimension line and arrow heads."""
        a, b = self.feet
        return (*_extension(self.start, a), *_extension(self.end, b), *self._dimension_line(a, b))

    @property
    def strokes(self) -> Strokes:
        """The number's letters as lines."""
        return letter_table(self.text, self.text_at, self.height_mm, self.text_turn_deg, "middle")

    @property
    def _along(self) -> Point:
        return _direction(self.turn_deg)

    def _foot(self, at: Point) -> Point:
        ux, uy = self._along
        along = (at[0] - self.line_at[0]) * ux + (at[1] - self.line_at[1]) * uy
        return (self.line_at[0] + along * ux, self.line_at[1] + along * uy)

    @property
    def _length(self) -> float:
        return self.value_mm * self.scale

    @property
    def _text_is_inside(self) -> bool:
        return self._length >= text_width(self.text, self.height_mm) + _INSIDE_ROOM

    @property
    def _heads_are_inside(self) -> bool:
        return self._length >= 2 * HEAD_MM + CLEAR_MM

    @property
    def _tail(self) -> float:
        """How far beyond its extension line a number begins: behind a head that points inward, or just clear."""
        return CLEAR_MM + _INSIDE_ROOM if self._heads_are_inside else HEAD_MM + CLEAR_MM

    @property
    def _beyond_foot(self) -> Point:
        return self.feet[self.beyond == "end"]

    @property
    def _outward(self) -> Point:
        """Unit direction from the dimension's middle to the side on which a number outside stands."""
        (ax, ay), (bx, by) = self.feet if self.beyond == "end" else self.feet[::-1]
        size = hypot(bx - ax, by - ay)
        return ((bx - ax) / size, (by - ay) / size) if size > _NO_LENGTH else self._along

    def _dimension_line(self, a: Point, b: Point) -> list[Stroke]:
        """From foot to foot, and on below a number that stands outside; heads from inside or from outside."""
        #    |<--- 70 --->|      room for heads and number
        #    |<---------->| 70   room for heads alone: the number stands beyond one end, over a line that goes on there
        #   >|            |< 70  no room: heads point inward from outside, on tails
        size = self._length
        if size <= _NO_LENGTH:
            return []
        ux, uy = (b[0] - a[0]) / size, (b[1] - a[1]) / size
        tails = {"start": 0.0, "end": 0.0}
        if not self._heads_are_inside:
            tails = {"start": TAIL_MM, "end": TAIL_MM}
        if not self._text_is_inside:
            tails[self.beyond] = self._tail + text_width(self.text, self.height_mm)
        first = (a[0] - ux * tails["start"], a[1] - uy * tails["start"])
        last = (b[0] + ux * tails["end"], b[1] + uy * tails["end"])
        inward = -1.0 if self._heads_are_inside else 1.0
        return [
            Stroke.from_points([first, last]),
            arrow_head(a, (ux * inward, uy * inward)),
            arrow_head(b, (-ux * inward, -uy * inward)),
        ]


def arrow_head(tip: Point, toward: Point) -> Stroke:
    """An open head of 30 degrees whose tip points in the unit direction `toward`."""
    (x, y), (ux, uy) = tip, toward
    back, side = HEAD_MM, HEAD_MM * _HEAD_HALF
    left = (x - back * ux - side * uy, y - back * uy + side * ux)
    right = (x - back * ux + side * uy, y - back * uy - side * ux)
    return Stroke.from_points([left, tip, right])


def _direction(turn_deg: float) -> Point:
    """Unit direction; quarter turns are exact."""
    if turn_deg % 90 == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(turn_deg // 90) % 4]
    return (cos(radians(turn_deg)), sin(radians(turn_deg)))


def _extension(feature: Point, foot: Point) -> list[Stroke]:
    """The line from a point of the work, free of it, to beyond the dimension line; none for a point on that line."""
    dx, dy = foot[0] - feature[0], foot[1] - feature[1]
    size = hypot(dx, dy)
    if size <= GAP_MM:
        return []
    ux, uy = dx / size, dy / size
    inner = (feature[0] + ux * GAP_MM, feature[1] + uy * GAP_MM)
    return [Stroke.from_points([inner, (foot[0] + ux * BEYOND_MM, foot[1] + uy * BEYOND_MM)])]
