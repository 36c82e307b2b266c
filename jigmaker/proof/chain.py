"""Vertices with bulges in, a contour out; loose pieces that meet end to end joined. Any plane frame with y up; mm."""

from collections.abc import Sequence
from math import atan, cos, dist, hypot, pi, radians, sin, sqrt, tan

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Segment, Stroke, piece
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.proof.faults import LARGEST_MM, Faults
from jigmaker.proof.records import ReadContour

Vertex = tuple[float, float, float]
"""x, y, and the bulge of the piece that starts here."""

SAME_CIRCLE_MM = 1e-4
"""Arcs whose centres and radii agree this well are one circle: bulges are written to six decimals."""

_HALF_TURN = 2e-6

_NO_LENGTH = "a piece has no length"
_NO_LENGTH_DO = "remove the point that is there twice, or write the files again"


def contour_of(layer: str, vertices: Sequence[Vertex], closed: bool, place: str, faults: Faults) -> ReadContour | None:
    """The contour through the vertices, or None with a fault when nothing is left of it.

    A chain whose ends meet is closed, and `is_whole` then says whether the file itself closes it. Arcs all round one
    centre are a circle. Pieces of no length are faults and left out.
    """
    if not _can_be(vertices):
        faults.add(
            103, "a coordinate is no number, or beyond a kilometre", "draw it again, or write the files again", place
        )
        return None
    pieces = _pieces(vertices, closed, place, faults)
    if not pieces:
        faults.add(111, "a contour has no length", "remove it", place)
        return None
    meets = len(pieces) > 1 and dist(pieces[-1].end, pieces[0].start) <= TOUCH_MM
    return ReadContour(layer, _shape(pieces, meets), place, closed or not meets)


def circle_of(layer: str, centre: Point, radius: float, place: str, faults: Faults) -> ReadContour | None:
    """The full circle, or None with a fault when its figures are none of a circle's."""
    if not (abs(centre[0]) < LARGEST_MM and abs(centre[1]) < LARGEST_MM and TOUCH_MM < radius < LARGEST_MM):
        faults.add(103, f"a circle's centre or radius ({radius:.6g} mm) cannot be", "draw it again", place)
        return None
    return ReadContour(layer, Circle(centre, radius), place)


def arc_vertices(start: Point, end: Point, radius: float, large: bool, bulge_sign: int) -> list[Vertex]:
    """One arc as one or two vertices (its end left out). bulge_sign 1 runs anticlockwise in the plane's own sense.

    A radius too small for the chord is taken as half the chord (SVG 2, "Out-of-range elliptical arc parameters"); so is
    one too large by no more than rounding to six figures, for that alone would move a half turn's middle much.
    """
    half = dist(start, end) / 2
    share = half / radius
    share = share if share < 1 - _HALF_TURN else 1.0
    bulge = share / (1 + sqrt(max(0.0, 1 - share * share)))
    if not large or bulge == 0:
        return [(*start, bulge_sign * bulge)]
    return _split(start, end, bulge_sign / bulge)


def turned_vertices(centre: Point, radius: float, first_deg: float, last_deg: float) -> tuple[list[Vertex], bool]:
    """An arc that runs anticlockwise from one direction to another, as vertices, end included; True for a full turn."""
    turn = (last_deg - first_deg) % 360
    full = turn == 0
    count = 2 if full or turn > 180 else 1
    step = (turn or 360.0) / count
    turns = [first_deg + i * step for i in range(count)] + [last_deg]
    bulge = tan(radians(step) / 4)
    places = [(centre[0] + radius * cos(radians(t)), centre[1] + radius * sin(radians(t)), bulge) for t in turns]
    return (places[:-1] if full else places), full


def _can_be(vertices: Sequence[Vertex]) -> bool:
    """False when a figure is nan, infinite or beyond a kilometre."""
    for x, y, bulge in vertices:
        if not (-LARGEST_MM < x < LARGEST_MM and -LARGEST_MM < y < LARGEST_MM and -LARGEST_MM < bulge < LARGEST_MM):
            return False
    return True


def _pieces(vertices: Sequence[Vertex], closed: bool, place: str, faults: Faults) -> list[Segment]:
    pieces: list[Segment] = []
    if not vertices:
        return pieces
    here: Point = vertices[0][:2]
    first = here
    following = [*vertices[1:], vertices[0]] if closed else vertices[1:]
    for (_, _, bulge), (x, y, _) in zip(vertices, following, strict=False):
        if abs(x - here[0]) <= TOUCH_MM and abs(y - here[1]) <= TOUCH_MM:
            faults.add(111, _NO_LENGTH, _NO_LENGTH_DO, place)
            continue
        end = (x, y)
        if bulge == 0:
            pieces.append(Line(here, end))
        elif -1 <= bulge <= 1:
            pieces.append(Arc(here, end, bulge))
        else:
            pieces += _halves(here, end, bulge)
        here = end
    if closed and pieces and here != first and len(pieces) > 1:
        pieces[-1] = piece(pieces[-1].start, first, pieces[-1].bulge)
    return pieces


def _halves(start: Point, end: Point, bulge: float) -> list[Segment]:
    """An arc of more than half a turn as two."""
    (_, _, half), (x, y, _) = _split(start, end, bulge)
    return [Arc(start, (x, y), half), Arc((x, y), end, half)]


def _split(start: Point, end: Point, bulge: float) -> list[Vertex]:
    """The two vertices of an arc halved: its middle lies bulge x half the chord to the right of the chord."""
    half = tan(atan(bulge) / 2)
    middle_x = (start[0] + end[0]) / 2 + (end[1] - start[1]) / 2 * bulge
    middle_y = (start[1] + end[1]) / 2 - (end[0] - start[0]) / 2 * bulge
    return [(*start, half), (middle_x, middle_y, half)]


def _shape(pieces: list[Segment], meets: bool) -> Outline | Circle | Stroke:
    if not meets:
        return Stroke(tuple(pieces))
    if pieces[0].bulge and (circle := as_circle(pieces)):
        return circle
    return Outline(tuple(pieces))


def as_circle(pieces: Sequence[Segment]) -> Circle | None:
    """The circle that a closed chain of arcs is; None when it is none."""
    arcs = [each for each in pieces if isinstance(each, Arc)]
    if len(arcs) < len(pieces) or abs(abs(sum(arc.included for arc in arcs)) - 2 * pi) > SAME_CIRCLE_MM:
        return None
    centres, radii = [arc.centre for arc in arcs], [arc.radius for arc in arcs]
    apart = max(dist(centre, centres[0]) for centre in centres)
    if apart > SAME_CIRCLE_MM or max(radii) - min(radii) > SAME_CIRCLE_MM:
        return None
    xs, ys, count = [c[0] for c in centres], [c[1] for c in centres], len(arcs)
    return Circle((sum(xs) / count, sum(ys) / count), sum(radii) / count)


def joined_shape(chain: Sequence[Sequence[Segment]], closed: bool) -> Outline | Circle | Stroke:
    """Runs of pieces, each starting about where the one before ended, as one contour; ends are moved together."""
    pieces: list[Segment] = []
    for run in chain:
        for each in run:
            start = pieces[-1].end if pieces else each.start
            if hypot(each.end[0] - start[0], each.end[1] - start[1]) > TOUCH_MM:
                pieces.append(piece(start, each.end, each.bulge))
    if closed:
        pieces[-1] = piece(pieces[-1].start, pieces[0].start, pieces[-1].bulge)
    return _shape(pieces, closed)
