"""Lines bent so that a crooked machine cuts them true: CutSheet and Machine in, CutSheet out. Sheet frame; mm, degrees.

With scales p, q and skew s the machine makes x' = p x + q y tan s, y' = q y of what is drawn. So for the wanted
(x', y') is drawn x = (x' - y' tan s) / p, y = y' / q, after placing and after moving lines by half the cut's width:
how wide the cut is, is measured on what the machine makes.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import acos, atan2, ceil, cos, dist, radians, sin, tan

from jigmaker.cutting.beam import chords, in_chords
from jigmaker.cutting.cut_sheet import Correction, CutContour, CutSheet
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Segment, Stroke, bounds_of
from jigmaker.job.shop import Machine

Shape = Outline | Circle | Stroke

WITHIN_MM = 0.002
"""How far an arc may be from the curve that it should be; more, and it becomes a polyline within as much."""

LETTER_MM = 0.05
"""The same for arcs of marks, which nobody fits anything to: they stay arcs, with bulges as they were."""

_SHARE = 0.75  # what the bending itself may use of it; the rest is for chords of the cut and the files' own rounding
_SAMPLES = 16
_EDGE_MM = 1.0  # nothing is moved that stays as far as this above 0


def corrected(cut: CutSheet, machine: Machine) -> CutSheet:
    """The sheet with every line, marks too, drawn where the machine must be sent; unchanged for an ideal machine.

    A scale alike in x and y keeps circles and arcs. Otherwise they stay where that is true within 0.002 mm and become
    polylines within 0.002 mm where it is not; `correction` counts those. Arcs of marks stay arcs, within 0.05 mm. Lines
    that would come below 0 are moved, all together: where a part lies on the bed does not matter to it.
    """
    if not machine.is_corrected:
        return cut
    bend = _Bend(machine.scale_x, machine.scale_y, tan(radians(machine.skew_deg)))
    bent = [bend.shape(contour) for contour in cut.contours]
    by = _moved_by(cut.contours, bent)
    shapes = [_moved(shape, by) for shape in bent] if by != (0.0, 0.0) else bent
    correction = Correction(
        scale_x=machine.scale_x,
        scale_y=machine.scale_y,
        skew_deg=machine.skew_deg,
        moved_x_mm=by[0],
        moved_y_mm=by[1],
        polylines=sum(
            _curves(contour.shape) - _curves(shape)
            for contour, shape in zip(cut.contours, bent, strict=True)
            if contour.operation != "mark"
        ),
    )
    contours = tuple(replace(c, shape=shape) for c, shape in zip(cut.contours, shapes, strict=True))
    return replace(cut, contours=contours, correction=correction)


@dataclass(frozen=True, slots=True)
class _Bend:
    """From what is wanted to what is drawn; lean is the tangent of the skew."""

    scale_x: float
    scale_y: float
    lean: float

    @property
    def is_even(self) -> bool:
        """True when circles stay circles."""
        return self.scale_x == self.scale_y and self.lean == 0

    def point(self, at: Point) -> Point:
        """Where a wanted point is drawn."""
        return ((at[0] - at[1] * self.lean) / self.scale_x, at[1] / self.scale_y)

    def shape(self, contour: CutContour) -> Shape:
        """A wanted shape as drawn: arcs kept where the bend allows it, else chords on the waste's side."""
        shape = contour.shape
        if isinstance(shape, Circle):
            kept = Circle(self.point(shape.centre), shape.radius / (self.scale_x * self.scale_y) ** 0.5)
            if self.is_even or self._is_near(shape.points(_SAMPLES // 4), kept.centre, kept.radius):
                return kept
            ring = in_chords(shape, _SHARE * WITHIN_MM, is_left=contour.operation == "outer")
            return Outline.from_points([self.point(corner) for corner in ring.corners])
        if contour.operation == "mark":
            shape = Stroke(tuple(part for segment in shape.segments for part in self._letter_pieces(segment)))
            return Stroke(shape.mapped(self.point))
        pieces = tuple(bent for segment in shape.segments for bent in self._pieces(segment))
        return Outline(pieces) if isinstance(shape, Outline) else Stroke(pieces)

    def _pieces(self, segment: Segment) -> list[Segment]:
        start, end = self.point(segment.start), self.point(segment.end)
        if isinstance(segment, Line):
            return [Line(start, end)]
        kept = Arc(start, end, segment.bulge)
        if self.is_even or self._is_near(segment.points(_SAMPLES), kept.centre, kept.radius):
            return [kept]
        return [Line(self.point(a.start), self.point(a.end)) for a in chords(segment, _SHARE * WITHIN_MM)]

    def _letter_pieces(self, segment: Segment) -> list[Segment]:
        """A piece of a mark in as many equal ones as may keep their bulges when their ends are bent.

        An arc of radius r and turn t rises r (1 - cos(t / 2)) above its chord, and by the strain of that it is off.
        However the mark lies, the number is the same.
        """
        if isinstance(segment, Line) or self.is_even:
            return [segment]
        strain = abs(1 / self.scale_x - 1 / self.scale_y) + abs(self.lean)
        rise = min(1.0, LETTER_MM / segment.radius / strain)
        parts = ceil(abs(segment.included) / 2 / acos(1 - rise))
        if parts == 1:
            return [segment]
        (x, y), radius, turn = segment.centre, segment.radius, segment.included / parts
        first = atan2(segment.start[1] - y, segment.start[0] - x)
        turns = [first + turn * i for i in range(1, parts)]
        ends = [segment.start, *((x + radius * cos(t), y + radius * sin(t)) for t in turns), segment.end]
        return [Arc(a, b, tan(turn / 4)) for a, b in pairwise(ends)]

    def _is_near(self, wanted: Sequence[Point], centre: Point, radius: float) -> bool:
        """True when the bent places lie on the circle."""
        return all(abs(dist(self.point(at), centre) - radius) < _SHARE * WITHIN_MM for at in wanted)


def _curves(shape: Shape) -> int:
    return 1 if isinstance(shape, Circle) else sum(isinstance(segment, Arc) for segment in shape.segments)


def _moved_by(before: Sequence[CutContour], after: Sequence[Shape]) -> Point:
    """What keeps the lowest line where it was, or at least 1 mm above 0; (0, 0) when it is."""
    low_x, low_y, _, _ = bounds_of(contour.shape for contour in before)
    new_x, new_y, _, _ = bounds_of(after)
    return (max(0.0, min(low_x, _EDGE_MM) - new_x), max(0.0, min(low_y, _EDGE_MM) - new_y))


def _moved(shape: Shape, by: Point) -> Shape:
    def moved(at: Point) -> Point:
        return (at[0] + by[0], at[1] + by[1])

    if isinstance(shape, Circle):
        return Circle(moved(shape.centre), shape.radius)
    pieces = shape.mapped(moved)
    return Outline(pieces) if isinstance(shape, Outline) else Stroke(pieces)
