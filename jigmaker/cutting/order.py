"""Contours put into cutting order: marks, then what is cut inside, then outlines. Sheet frame; mm."""

from collections.abc import Sequence
from math import dist

from jigmaker.cutting.cut_sheet import CutContour
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import bounds_of


def in_cutting_order(pieces: Sequence[Sequence[CutContour]]) -> tuple[CutContour, ...]:
    """All contours of all pieces in cutting order; one sequence a piece of a part, its contours as its part lists them.

    First every mark, then every inner contour (contained before containing), then every outline: a piece that is cut
    loose no longer lies where it was. Marks of bridges, which are not cut, come last. Within each, the machine goes
    from piece to piece, each time to the nearest one left, starting from the sheet's lower left corner; of two as near,
    the one listed first. Same input, same order.
    """
    stops = [pieces[i] for i in _round([_middle(piece) for piece in pieces])]
    marks = [contour for piece in stops for contour in piece if contour.operation == "mark"]
    inner = [contour for piece in stops for contour in _inside_out(piece)]
    outer = [contour for piece in stops for contour in piece if contour.operation == "outer"]
    bridges = [contour for piece in stops for contour in piece if contour.operation == "bridge"]
    return tuple(marks + inner + outer + bridges)


def _inside_out(piece: Sequence[CutContour]) -> list[CutContour]:
    """The piece's inner contours: the most deeply contained first, and among equals from one to the nearest left."""
    inner = [contour for contour in piece if contour.operation == "inner"]
    boxes = [bounds_of([contour.shape]) for contour in inner]
    # True when the first box has the second one strictly inside; contours that do not cross nest as their boxes do.
    around = [
        sum((box[0] < own[0] and box[1] < own[1] and box[2] > own[2] and box[3] > own[3]) for box in boxes)
        for own in boxes
    ]
    ordered: list[CutContour] = []
    for depth in sorted(set(around), reverse=True):
        level = [contour for contour, count in zip(inner, around, strict=True) if count == depth]
        ordered += [level[i] for i in _round([_middle([contour]) for contour in level])]
    return ordered


def _round(points: Sequence[Point]) -> list[int]:
    """The points' indices in the order of a walk from (0, 0), always on to the nearest one left."""
    left, here, walked = list(range(len(points))), (0.0, 0.0), list[int]()
    while left:
        nearest = min(left, key=lambda i: (round(dist(here, points[i]), 6), i))
        left.remove(nearest)
        walked.append(nearest)
        here = points[nearest]
    return walked


def _middle(contours: Sequence[CutContour]) -> Point:
    """Middle of the box of the closed contours (a piece always has one)."""
    closed = [contour.shape for contour in contours if contour.operation in ("inner", "outer")]
    low_x, low_y, high_x, high_y = bounds_of(closed)
    return ((low_x + high_x) / 2, (low_y + high_y) / 2)
