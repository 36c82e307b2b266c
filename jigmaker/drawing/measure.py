"""Pens that measure what is drawn: the box around it, and the length of cut by layer. Picture frame, y up; mm."""

from jigmaker.drawing.pen import Pen, draw_strokes
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Bounds, Circle, Segment, piece
from jigmaker.geometry.strokes import Strokes
from jigmaker.geometry.tolerance import TOUCH_MM


class PiecePen:
    """Base of pens that look at one piece at a time: a subclass answers add_piece and add_circle.

    It keeps where the pen is, and draws the straight piece home when a contour is closed.
    """

    layer = ""

    def __init__(self) -> None:
        self._start: Point = (0.0, 0.0)
        self._here: Point = (0.0, 0.0)

    def add_piece(self, segment: Segment) -> None:
        """A piece was drawn on self.layer."""
        raise NotImplementedError

    def add_circle(self, circle: Circle) -> None:
        """A circle was drawn on self.layer."""
        raise NotImplementedError

    def use_layer(self, name: str) -> None:
        """What follows belongs to this layer."""
        self.layer = name

    def move_to(self, at: Point) -> None:
        """Start a contour."""
        self._start = self._here = at

    def line_to(self, to: Point) -> None:
        """A straight piece from where the pen is."""
        self.arc_to(to, 0.0)

    def arc_to(self, to: Point, bulge: float) -> None:
        """A circular piece; bulge as everywhere, 0 for a straight one."""
        self.add_piece(piece(self._here, to, bulge))
        self._here = to

    def close(self) -> None:
        """Draw the straight piece home, when there is one."""
        home = piece(self._here, self._start)
        if home.length > TOUCH_MM:
            self.add_piece(home)
        self._here = self._start

    def end(self) -> None:
        """The contour stays open: nothing to add."""

    def circle(self, centre: Point, radius: float) -> None:
        """A full circle."""
        self.add_circle(Circle(centre, radius))


class BoundsPen(PiecePen):
    """The box around everything drawn: `box` is (x low, y low, x high, y high), or None when nothing was drawn."""

    def __init__(self) -> None:
        super().__init__()
        self.box: Bounds | None = None

    def line_to(self, to: Point) -> None:
        """Grow the box; of a straight piece nothing is asked but its ends."""
        self._add(self._here)
        self._add(to)
        self._here = to

    def add_piece(self, segment: Segment) -> None:
        """Grow the box."""
        # An arc may reach beyond its ends: where it passes the rightmost, uppermost, leftmost or lowest of its circle.
        for at in segment.extremes() if isinstance(segment, Arc) else (segment.start, segment.end):
            self._add(at)

    def add_circle(self, circle: Circle) -> None:
        """Grow the box."""
        self._grow(circle.bounds)

    def strokes(self, strokes: Strokes) -> None:
        """Grow the box by all of them."""
        if len(strokes):
            self._grow(strokes.bounds)

    def _add(self, at: Point) -> None:
        x, y = at
        box = self.box
        # Nearly every point lies within what was drawn before.
        if box is None or not (box[0] <= x <= box[2] and box[1] <= y <= box[3]):
            self._grow((x, y, x, y))

    def _grow(self, by: Bounds) -> None:
        old = self.box or by
        self.box = (min(old[0], by[0]), min(old[1], by[1]), max(old[2], by[2]), max(old[3], by[3]))


class CutLength(PiecePen):
    """How far the tool travels with the beam on: `length_mm` by layer, mm, layers in the order of their first use."""

    def __init__(self) -> None:
        super().__init__()
        self.length_mm: dict[str, float] = {}

    def add_piece(self, segment: Segment) -> None:
        """Add the piece's own length."""
        self._add(segment.length)

    def add_circle(self, circle: Circle) -> None:
        """Add the circumference."""
        self._add(circle.length)

    def strokes(self, strokes: Strokes) -> None:
        """Add the lengths of all of them."""
        self._add(float(strokes.lengths.sum()))

    def _add(self, length: float) -> None:
        self.length_mm[self.layer] = self.length_mm.get(self.layer, 0.0) + length


class Tee:
    """One drawing into several pens at once, so that a file and its figures come from the same strokes."""

    def __init__(self, *pens: Pen) -> None:
        self._pens = pens

    def use_layer(self, name: str) -> None:
        for pen in self._pens:
            pen.use_layer(name)

    def move_to(self, at: Point) -> None:
        for pen in self._pens:
            pen.move_to(at)

    def line_to(self, to: Point) -> None:
        for pen in self._pens:
            pen.line_to(to)

    def arc_to(self, to: Point, bulge: float) -> None:
        for pen in self._pens:
            pen.arc_to(to, bulge)

    def close(self) -> None:
        for pen in self._pens:
            pen.close()

    def end(self) -> None:
        for pen in self._pens:
            pen.end()

    def strokes(self, strokes: Strokes) -> None:
        """To every pen, at once to those that take it so."""
        for pen in self._pens:
            draw_strokes(strokes, pen)

    def circle(self, centre: Point, radius: float) -> None:
        for pen in self._pens:
            pen.circle(centre, radius)
