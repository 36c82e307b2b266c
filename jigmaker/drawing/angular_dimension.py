"""Dimensions of angles: extension lines, arc, arrow heads and number between two rays. Picture frame; mm, degrees.

The number is the angle from the first ray anticlockwise to the second; no scale changes it. It lies level beside the
middle of the arc, or where the drawing has room for it, with a leader from the arc. Drawn after ISO 129-1.
"""

from itertools import pairwise
from math import cos, degrees, hypot, pi, radians, sin, tan

from jigmaker.drawing.dimension import BEYOND_MM, CLEAR_MM, GAP_MM, HEAD_MM, TAIL_MM, TEXT_MM, arrow_head
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import letter_table, text_width
from jigmaker.geometry.outline import Arc, Stroke
from jigmaker.geometry.strokes import Strokes
from jigmaker.record import dataclass
from jigmaker.units import fixed


@dataclass(frozen=True, slots=True)
class AngularDimension:
    """The angle at `vertex` from from_deg anticlockwise to to_deg, less than 180, on an arc of radius_mm on the paper.

    `reach_mm`: how far from the vertex the work itself shows either ray (from the picture's x axis, degrees); where
    that is less than the radius an extension line leads on to the arc. `text_mid` is the middle of the number's
    baseline; None puts it beside the arc. `layer` takes the lines, `letters` the number.
    """

    layer: str
    letters: str
    vertex: Point
    from_deg: float
    to_deg: float
    radius_mm: float
    reach_mm: tuple[float, float] = (0.0, 0.0)
    text_mid: Point | None = None
    decimals: int = 2
    height_mm: float = TEXT_MM

    @property
    def value_deg(self) -> float:
        """What is measured, degrees, 0 up to 360."""
        return (self.to_deg - self.from_deg) % 360

    @property
    def text(self) -> str:
        """The number as shown, with its degree sign."""
        return f"{fixed(self.value_deg, self.decimals)}°"

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where the arc meets the two rays."""
        return self.on_ray(self.from_deg), self.on_ray(self.to_deg)

    @property
    def middle(self) -> Point:
        """The middle of the arc."""
        return self.on_ray(self.from_deg + self.value_deg / 2)

    def on_ray(self, turn_deg: float, radius_mm: float | None = None) -> Point:
        """The point in that direction from the vertex, on the arc or at another distance."""
        radius = self.radius_mm if radius_mm is None else radius_mm
        return (self.vertex[0] + radius * cos(radians(turn_deg)), self.vertex[1] + radius * sin(radians(turn_deg)))

    @property
    def text_turn_deg(self) -> float:
        """0: the number is read from below."""
        return 0.0

    @property
    def text_at(self) -> Point:
        """Middle of the number's baseline."""
        if self.text_mid is not None:
            return self.text_mid
        turn_deg = self.from_deg + self.value_deg / 2
        width, height = text_width(self.text, self.height_mm), self.height_mm
        # A level box of width w and height h reaches (w |cos| + h |sin|) / 2 at most from its middle in a direction: so
        # far out from the arc, and a little more, its middle is clear of it.
        lies, rises = abs(cos(radians(turn_deg))), abs(sin(radians(turn_deg)))
        x, y = self.on_ray(turn_deg, self.radius_mm + CLEAR_MM + (width * lies + height * rises) / 2)
        return (x, y - height / 2)

    @property
    def lines(self) -> tuple[Stroke, ...]:
        """Extension lines, arc, arrow heads and leader."""
        return (*self._extensions(), *self._arcs(), *self._leader())

    @property
    def strokes(self) -> Strokes:
        """The number's letters as lines."""
        return letter_table(self.text, self.text_at, self.height_mm, 0.0, "middle")

    def _extensions(self) -> list[Stroke]:
        found: list[Stroke] = []
        for turn_deg, reach in zip((self.from_deg, self.to_deg), self.reach_mm, strict=True):
            if reach + GAP_MM < self.radius_mm:
                ends = (self.on_ray(turn_deg, reach + GAP_MM), self.on_ray(turn_deg, self.radius_mm + BEYOND_MM))
                found.append(Stroke.from_points(ends))
        return found

    def _arcs(self) -> list[Stroke]:
        """One arc with heads at its ends, or heads from outside on short arcs where there is no room between."""
        is_long = self.radius_mm * radians(self.value_deg) >= 2 * HEAD_MM + CLEAR_MM
        beyond_deg = 0.0 if is_long else degrees(TAIL_MM / self.radius_mm)
        arc = self._arc(self.from_deg - beyond_deg, self.value_deg + 2 * beyond_deg)
        return [arc, self._head(self.from_deg, not is_long), self._head(self.to_deg, is_long)]

    def _arc(self, first_deg: float, turn_deg: float) -> Stroke:
        """In two pieces: neither is ever half a turn."""
        # bulge = tan(included angle / 4), and each piece includes half the turn.
        stops = [self.on_ray(first_deg + turn_deg * share) for share in (0.0, 0.5, 1.0)]
        bulge = tan(radians(turn_deg) / 8)
        return Stroke(tuple(Arc(a, b, bulge) for a, b in pairwise(stops)))

    def _head(self, turn_deg: float, is_anticlockwise: bool) -> Stroke:
        """A head on the arc, turned by half its own length so that it lies on the arc and not on the tangent."""
        # The chord from tip to tail of a head on the arc stands off the tangent at its tip by half the angle between
        # them.
        sign = 1 if is_anticlockwise else -1
        lies_deg = turn_deg - sign * HEAD_MM / self.radius_mm / 2 * 180 / pi
        toward = (-sign * sin(radians(lies_deg)), sign * cos(radians(lies_deg)))
        return arrow_head(self.on_ray(turn_deg), toward)

    def _leader(self) -> list[Stroke]:
        """From the arc's middle to the nearer end of a number that stands elsewhere, at half its height."""
        if self.text_mid is None:
            return []
        #    ___.-'  arc         To the middle of the nearest of the number's four sides, a little clear of it; none
        #        \              where that is as good as on the arc.
        #         76.00°
        (x, y), half = self.text_mid, text_width(self.text, self.height_mm) / 2 + CLEAR_MM
        level = y + self.height_mm / 2
        start = self.middle
        sides = [(x - half, level), (x + half, level), (x, y - CLEAR_MM), (x, y + self.height_mm + CLEAR_MM)]
        nearest = min(sides, key=lambda side: hypot(side[0] - start[0], side[1] - start[1]))
        is_apart = hypot(nearest[0] - start[0], nearest[1] - start[1]) > GAP_MM
        return [Stroke.from_points([start, nearest])] if is_apart else []
