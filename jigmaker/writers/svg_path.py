"""Data of SVG paths, for files and for pictures within pages. Picture frame, y up, is turned into SVG's, y down; mm."""

from math import floor

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc
from jigmaker.geometry.strokes import Strokes
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.units import text


class PathPen:
    """Appends to `words`, from which its owner makes the path; every number has `places` decimals."""

    def __init__(self, height_mm: float, places: int) -> None:
        """A pen for a picture of that height, about which y is turned over."""
        self.words: list[str] = []
        self._height, self._places = height_mm, places
        self._here: Point = (0.0, 0.0)
        self._told = ""

    def move_to(self, at: Point) -> None:
        """Start a contour."""
        self._here, self._told = at, self._text(at)
        self.words.append(f"M{self._told}")

    def line_to(self, to: Point) -> None:
        """A straight piece; one that is too short for the decimals falls away."""
        told = self._text(to)
        if told != self._told:
            self.words.append(f"L{told}")
            self._here, self._told = to, told

    def arc_to(self, to: Point, bulge: float) -> None:
        """A circular piece, at most half a turn. Turned over, an anticlockwise arc has SVG's sweep flag 0."""
        # What is told is compared, not what is meant: pieces that round to the same point would be an arc from a point
        # to itself, which SVG leaves out or draws as it likes.
        told = self._text(to)
        if told != self._told:
            radius = self._radius_text(Arc(self.placed(self._here), self.placed(to), bulge))
            self.words.append(f"A{radius} {radius} 0 0 {0 if bulge > 0 else 1} {told}")
            self._here, self._told = to, told

    def close(self) -> None:
        """The contour is closed."""
        self.words.append("Z")

    def strokes(self, strokes: Strokes) -> None:
        """Every stroke of the table."""
        before = -1
        for (x0, y0, x1, y1, bulge), number in zip(strokes.pieces.tolist(), strokes.contour.tolist(), strict=True):
            if number != before:
                self.move_to((x0, y0))
                before = number
            if bulge:
                self.arc_to((x1, y1), bulge)
            else:
                self.line_to((x1, y1))

    def placed(self, at: Point) -> Point:
        """A point in SVG's frame, rounded once; the only reflection there is."""
        return (round(at[0], self._places), round(self._height - at[1], self._places))

    def _text(self, at: Point) -> str:
        """The same point in words: decimals round as placed does."""
        return f"{text(at[0], self._places)} {text(self._height - at[1], self._places)}"

    def _radius_text(self, arc: Arc) -> str:
        """The radius; of half a turn never more than half the chord.

        SVG 2, implementation notes, "Out-of-range parameters": a radius too small for its chord is scaled up to fit,
        so half a turn stays exact. A radius rounded up instead would move its middle by micrometres.
        """
        if abs(arc.bulge) > 1 - TOUCH_MM:
            steps = 10**self._places
            return text(floor(arc.chord / 2 * steps + 1e-6) / steps, self._places)
        return text(arc.radius, self._places)
