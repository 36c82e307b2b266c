"""Lines bent so that a crooked machine cuts them true: CutSheet and Machine in, CutSheet out. Sheet frame; mm, degrees.

With scales p, q and skew s the machine makes x' = p x + q y tan s, y' = q y of what is drawn. So for the wanted
(x', y') is drawn x = (x' - y' tan s) / p, y = y' / q, after placing and after moving lines by half the cut's width:
how wide the cut is, is measured on what the machine makes.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import ceil, pi, radians, tan

from jigmaker.cutting.arcs import arcs_along, arcs_round, circle_through
from jigmaker.cutting.cut_sheet import Correction, CutContour, CutSheet
from jigmaker.cutting.track import turn_between
from jigmaker.drawing.picture import Shape
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Segment, Stroke, bounds_of, piece
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import Machine
from jigmaker.record import dataclass

ARC_MM = 0.005
"""How far an arc may be from the curve that the machine must be sent along."""

ROUND_MM = 0.01
"""How far from round a whole circle may come out and still be drawn as a circle, which every program knows."""

LETTER_MM = 0.05
"""The same for arcs of marks, which nobody fits anything to: they stay arcs, with bulges as they were."""

_SHARE = 0.87  # what the arcs themselves may use; the rest is for the curve's points and the files' own rounding
_SAMPLES = 16  # points a quarter turn between which arcs are sought
_MOST_FLATTER = 100.0  # beside a bend of 0.1 mm an arc of 10 mm still has points as close as the bend
_SMOOTH = 0.05  # arcs that turn by less (in radians) where they meet are one curve
_EDGE_MM = 1.0  # nothing is moved that stays as far as this above 0


def corrected(cut: CutSheet, machine: Machine) -> CutSheet:
    """The sheet with every line, marks too, drawn where the machine must be sent; unchanged for an ideal machine.

    A scale alike in x and y keeps circles and arcs. What the bending or a cut wider in x than in y makes of them
    otherwise is drawn with the fewest arcs, within 0.005 mm; a circle that comes out round within 0.01 mm stays one.
    Arcs of marks stay arcs, within 0.05 mm. Lines that would come below 0 are moved, all together: where a part lies on
    the bed does not matter to it.
    """
    if not machine.is_corrected:
        return replace(cut, contours=_drawn(cut.contours, _Bend(1, 1, 0))) if machine.is_directed else cut
    bend = _Bend(machine.scale_x, machine.scale_y, tan(radians(machine.skew_deg)))
    bent = _drawn(cut.contours, bend)
    # What keeps the lowest line where it was, or at least 1 mm above 0; (0, 0) when it is.
    low_x, low_y, _, _ = bounds_of(contour.shape for contour in cut.contours)
    new_x, new_y, _, _ = bounds_of(contour.shape for contour in bent)
    by = (max(0.0, min(low_x, _EDGE_MM) - new_x), max(0.0, min(low_y, _EDGE_MM) - new_y))
    correction = Correction(
        scale_x=machine.scale_x,
        scale_y=machine.scale_y,
        skew_deg=machine.skew_deg,
        moved_x_mm=by[0],
        moved_y_mm=by[1],
    )
    contours = tuple(replace(each, shape=_moved(each.shape, by)) for each in bent) if by != (0.0, 0.0) else bent
    return replace(cut, contours=contours, correction=correction)


def _drawn(contours: Sequence[CutContour], bend: "_Bend") -> tuple[CutContour, ...]:
    return tuple(replace(contour, shape=bend.shape(contour)) for contour in contours)


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
        """A wanted shape as drawn."""
        shape = contour.shape
        if isinstance(shape, Circle):
            if self.is_even:
                return Circle(self.point(shape.centre), shape.radius / self.scale_x)
            return self._round(shape.points(_SAMPLES), is_left=contour.operation == "outer")
        if isinstance(shape, Strokes):
            return self.letters(shape)
        runs = _runs(shape)
        if isinstance(shape, Outline) and len(runs) == 1 and _goes_on(runs[0][-1], runs[0][0]):
            points = [point for arc in runs[0] for point in arc.points(_SAMPLES)]
            return self._round(points, is_left=shape.area > 0)
        pieces = tuple(bent for run in runs for bent in self._pieces(run))
        return Outline(pieces) if isinstance(shape, Outline) else Stroke(pieces)

    def _round(self, points: Sequence[Point], is_left: bool) -> Outline | Circle:
        """A closed curve without corners, anticlockwise if is_left, as a circle where it may be one."""
        bent = [self.point(at) for at in points]
        if (circle := circle_through(bent, _SHARE * ROUND_MM)) is not None:
            return circle
        ring = Outline(tuple(arcs_round(bent, _SHARE * ARC_MM)))
        return ring if (ring.area > 0) == is_left else ring.reversed()

    def _pieces(self, run: Sequence[Segment]) -> list[Segment]:
        """A line, or arcs that go on into one another, as drawn."""
        start, end = self.point(run[0].start), self.point(run[-1].end)
        if len(run) == 1 and (isinstance(run[0], Line) or self.is_even):
            return [piece(start, end, run[0].bulge)]
        # Points on all arcs, nowhere farther apart than on the smallest: between two points a chord c apart an arc of
        # radius r leaves one of radius R by c^2 / 8 (1 / r - 1 / R), so that a flat arc that only gave its two ends
        # would be passed over by the arc of a narrow bend beside it.
        least = min(arc.radius for arc in run if isinstance(arc, Arc))
        points = []
        for arc in run:
            flatter = min(arc.radius / least, _MOST_FLATTER) if isinstance(arc, Arc) else 1.0
            points += [self.point(at) for at in arc.points(ceil(_SAMPLES * flatter))]
        return arcs_along([*points, end], _SHARE * ARC_MM)

    def letters(self, strokes: Strokes) -> Strokes:
        """Marks bent, each arc cut into as many equal ones as may keep their bulges when their ends are bent.

        An arc of radius r and turn t rises r (1 - cos(t / 2)) above its chord, and by the strain of that it is off.
        However the mark lies, the number is the same.
        """
        strain = abs(1 / self.scale_x - 1 / self.scale_y) + abs(self.lean)
        parted = strokes if self.is_even else strokes.parted(LETTER_MM / strain)
        return parted.mapped(((1 / self.scale_x, -self.lean / self.scale_x, 0.0), (0.0, 1 / self.scale_y, 0.0)))


def _runs(shape: Outline | Stroke) -> list[list[Segment]]:
    """The shape's pieces: each line alone, arcs that go on into one another together."""
    # Arcs that go on into one another are bent as one curve, which the fewest arcs can follow; where they are parted,
    # each would keep an end of its own. An outline has no first piece: the last run may go on into the first.
    runs: list[list[Segment]] = []
    for segment in shape.segments:
        if runs and _goes_on(runs[-1][-1], segment):
            runs[-1].append(segment)
        else:
            runs.append([segment])
    if isinstance(shape, Outline) and len(runs) > 1 and _goes_on(runs[-1][-1], runs[0][0]):
        runs[0] = [*runs.pop(), *runs[0]]
    return runs


def _goes_on(one: Segment, two: Segment) -> bool:
    """True when two neighbouring arcs turn the same way and meet without a corner."""
    turn = turn_between(one.end_direction, two.start_direction) if one.bulge * two.bulge > 0 else pi
    return abs(turn) < _SMOOTH


def _moved(shape: Shape, by: Point) -> Shape:
    def moved(at: Point) -> Point:
        return (at[0] + by[0], at[1] + by[1])

    if isinstance(shape, Circle):
        return Circle(moved(shape.centre), shape.radius)
    if isinstance(shape, Strokes):
        return shape.mapped(((1.0, 0.0, by[0]), (0.0, 1.0, by[1])))
    pieces = shape.mapped(moved)
    return Outline(pieces) if isinstance(shape, Outline) else Stroke(pieces)
