"""Straight pieces in space in, the least distance between two of them out; any frame, mm."""

from jigmaker.geometry.vectors import Vector, add, dot, length, scale, subtract

SpaceSegment = tuple[Vector, Vector]
"""A straight piece from one point to another, of a length over 0."""


def segment_gap(one: SpaceSegment, other: SpaceSegment) -> float:
    """The least distance between two segments, ends included; 0 when they cross.

    The distance has its least value either inside both, where the lines are nearest, or at an end of one of them.
    """
    # Points p = one[0] + s u and q = other[0] + t v, w = other[0] - one[0]. Where p and q are nearest, q - p is square
    # to both: s u.u - t u.v = u.w and s u.v - t v.v = v.w, two equations for s and t, solved by Cramer's rule.
    ends = [_point_gap(end, one) for end in other] + [_point_gap(end, other) for end in one]
    along, across = subtract(one[1], one[0]), subtract(other[1], other[0])
    a, b, c = dot(along, along), dot(along, across), dot(across, across)
    between = subtract(other[0], one[0])
    d, e = dot(along, between), dot(across, between)
    spread = a * c - b * b
    if spread <= 1e-12 * a * c:
        return min(ends)  # parallel: some end is as near as anything
    at_one, at_other = (d * c - b * e) / spread, (b * d - a * e) / spread
    if not (0 < at_one < 1 and 0 < at_other < 1):
        return min(ends)
    return length(subtract(_at(one, at_one), _at(other, at_other)))


def _at(segment: SpaceSegment, share: float) -> Vector:
    return add(segment[0], scale(subtract(segment[1], segment[0]), share))


def _point_gap(point: Vector, segment: SpaceSegment) -> float:
    along = subtract(segment[1], segment[0])
    share = dot(subtract(point, segment[0]), along) / dot(along, along)
    return length(subtract(point, _at(segment, min(1.0, max(0.0, share)))))
