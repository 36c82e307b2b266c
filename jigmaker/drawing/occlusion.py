"""Which stretches of straight edges are hidden behind triangles nearer to the viewer. View frame (x, y, toward); mm.

The view's frame is x right, y up, third axis toward the viewer. A stretch is hidden where it lies behind a triangle's
plane and, in the picture, within the triangle. Both conditions are linear along an edge, so each pair of edge and
triangle gives one interval with exact ends: where the edge crosses the triangle's sides, and where it passes its plane.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from jigmaker.geometry.strokes import Floats

    Interval = tuple[float, float]

_WITHIN_MM = 1e-5  # a triangle hides this far beyond its sides, so that nothing shines through between two of them
_BEHIND_MM = 1e-4  # what lies in a face, as its own edges and what touches it do, is not behind it
_EDGE_ON = 1e-9  # triangles seen edge on hide nothing
_FLAT = 1e-30  # edges and triangles of no size


def hidden_intervals(edges: Floats, corners: Floats, normals: Floats) -> list[list[Interval]]:
    """For each edge (m, 2, 3) the parts of it, 0 at its start to 1 at its end, that triangles (n, 3, 3) hide.

    Intervals are apart and in order. Only triangles that face the viewer count: of a closed body one of them always
    lies before a hidden point.
    """
    import numpy as np

    # Seen from the side, the viewer above. An edge from 0 to 1 passes behind a triangle; from `low` to `high` it is
    # hidden. Where it enters it crosses a side of the triangle in the picture, where it leaves it here passes the
    # plane:
    #
    #              \  triangle
    #   0 --------- \ . . . . x----- 1
    #          low ->\______/ <- high
    #
    facing = normals[:, 2] > _EDGE_ON
    corners, normals = corners[facing], normals[facing]
    which_edge, which_triangle = _near_pairs(edges, corners)
    # How far start and end of each pair's edge lie behind the triangle's plane: the normal times the way from a corner.
    offsets = [edges[which_edge, end] - corners[which_triangle, 0] for end in (0, 1)]
    behind = np.stack([-np.einsum("ij,ij->i", normals[which_triangle], each) - _BEHIND_MM for each in offsets])
    is_some = (behind > 0).any(axis=0)
    which_edge, which_triangle = which_edge[is_some], which_triangle[is_some]
    low, high = _clipped(edges[which_edge], corners[which_triangle], behind[:, is_some])
    order = np.lexsort((low, which_edge))
    order = order[high[order] > low[order]]
    which_edge, low, high = which_edge[order], low[order], high[order]
    # Intervals that overlap become one, for all edges at once: each edge's are moved by twice its number, twice an
    # interval's greatest length, so that those of two edges never meet. In that order a joined one starts wherever no
    # earlier interval reaches.
    reach = np.maximum.accumulate(high + 2 * which_edge)
    starts = np.flatnonzero(np.concatenate([[True], (low + 2 * which_edge)[1:] > reach[:-1]])[: len(low)])
    found: list[list[Interval]] = [[] for _ in range(len(edges))]
    if len(starts):
        joined = (which_edge[starts], low[starts], np.maximum.reduceat(high, starts))
        for edge, start, end in zip(*(each.tolist() for each in joined), strict=True):
            found[edge].append((start, end))
    return found


def _near_pairs(edges: Floats, corners: Floats) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Indices of edges and triangles whose boxes in the picture meet, the triangle not wholly behind the edge."""
    import numpy as np

    # Boxes that do not meet in the picture, and triangles whose nearest corner is behind the edge's farthest end,
    # cannot hide anything of it: of some hundred thousand pairs a few thousand are left. So many comparisons are quick
    # only on rows that lie together, a row an axis, and with one array for all results.
    low, high = (np.ascontiguousarray(bound.T)[:, :, None] for bound in (edges.min(axis=1), edges.max(axis=1)))
    below = np.ascontiguousarray(corners.min(axis=1).T) - _WITHIN_MM
    above = np.ascontiguousarray(corners.max(axis=1).T) + _WITHIN_MM
    meet = low[2] <= above[2]
    so = np.empty_like(meet)
    for axis in (0, 1):
        meet &= np.less_equal(low[axis], above[axis], out=so)
        meet &= np.greater_equal(high[axis], below[axis], out=so)
    one, other = np.nonzero(meet)
    return one, other


def _clipped(edges: Floats, corners: Floats, behind: Floats) -> tuple[Floats, Floats]:
    """Start and end of the hidden interval for each pair; end not above start where there is none."""
    import numpy as np

    low, high = np.zeros(len(edges)), np.ones(len(edges))
    for i in range(3):
        # The cross product of a side with the way from its start to a point is the point's distance to the left of the
        # side, times the side's length. A triangle that faces the viewer runs anticlockwise: left of all three is
        # inside.
        a, b = corners[:, i, :2], corners[:, (i + 1) % 3, :2]
        side = b - a
        size = np.maximum(np.hypot(side[:, 0], side[:, 1]), _FLAT)
        inside = [
            (side[:, 0] * (end[:, 1] - a[:, 1]) - side[:, 1] * (end[:, 0] - a[:, 0])) / size + _WITHIN_MM
            for end in (edges[:, 0], edges[:, 1])
        ]
        _keep_above_zero(inside[0], inside[1], low, high)
    _keep_above_zero(behind[0], behind[1], low, high)
    return low, high


def _keep_above_zero(start: Floats, end: Floats, low: Floats, high: Floats) -> None:
    """Narrow the intervals, in place, to where a linear measure with these values at 0 and 1 is above zero."""
    import numpy as np

    # start + slope t > 0 holds from t = -start / slope on where it rises, and up to there where it falls.
    slope = end - start
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = -start / slope
    rising, falling = slope > 0, slope < 0
    np.maximum(low, crossing, out=low, where=rising)
    np.minimum(high, crossing, out=high, where=falling)
    high[~rising & ~falling & (start <= 0)] = -1.0
