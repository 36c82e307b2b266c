"""Line drawings of solids with hidden lines removed or kept apart. Picture plane; mm.

The picture plane has x to the right and y up as the view says, at full size. Where two bodies pass through each other
no line is made for where they meet: give such bodies as one, or cut one from the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import hypot
from typing import TYPE_CHECKING, Any

from jigmaker.drawing.mesh_edges import edges_of, triangles_of
from jigmaker.drawing.occlusion import hidden_intervals
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Point
from jigmaker.geometry.solid import Solid
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.geometry.strokes import Floats

SeenPiece = tuple[Point, Point]
"""A straight piece, its ends in the picture plane; the lesser one first."""

PLACES = 4
"""Decimals of a millimetre in what comes out, so that the same bodies give the same bytes."""

_CRUMB_MM = 0.005  # shorter stretches, seen or hidden, are crumbs of rounding
_SAME_LINE_MM = 1e-3  # two pieces this near each other are drawn once


@dataclass(frozen=True, slots=True)
class Body:
    """A solid to draw, and its name. All bodies of a drawing are given in one frame."""

    name: str
    solid: Solid


@dataclass(frozen=True, slots=True)
class DrawnBody:
    """What is seen of one body: `outline` where a face that is seen ends, `inner` between two faces that are seen.

    `hidden` holds the rest of its edges, when asked for.
    """

    name: str
    outline: tuple[SeenPiece, ...]
    inner: tuple[SeenPiece, ...]
    hidden: tuple[SeenPiece, ...] = ()

    @property
    def visible(self) -> tuple[SeenPiece, ...]:
        """Everything seen, outline first."""
        return self.outline + self.inner


def project(bodies: Sequence[Body], view: View, keep_hidden: bool = False) -> list[DrawnBody]:
    """Every body as it is seen among the others, in the order given. A line that two bodies share is the first's.

    Bodies without volume are drawn as nothing.
    """
    import numpy as np

    triangles = [triangles_of(body.solid, view) for body in bodies if not body.solid.is_empty]
    if not triangles:
        return [DrawnBody(body.name, (), ()) for body in bodies]
    drawn = [edges_of(one, keep_hidden) for one in triangles]
    hidden = iter(
        hidden_intervals(
            np.concatenate([edges for edges, _ in drawn]),
            np.concatenate([one.corners for one in triangles]),
            np.concatenate([one.normals for one in triangles]),
        )
    )
    each = iter([_sort_out(*edges, hidden) for edges in drawn])
    found: list[Sorted] = [([], [], []) if body.solid.is_empty else next(each) for body in bodies]
    # What lies on a line already drawn is left out; outlines are drawn before inner lines, hidden lines last.
    kinds = range(3 if keep_hidden else 2)
    lined = [(kind, i, piece) for kind in kinds for i, one in enumerate(found) for piece in sorted(one[kind])]
    kept: dict[tuple[int, int], list[SeenPiece]] = {}
    for (kind, i, _), parts in zip(lined, _uncovered([piece for _, _, piece in lined]), strict=True):
        kept.setdefault((kind, i), []).extend(parts)
    return [
        DrawnBody(body.name, *(tuple(sorted(kept.get((kind, i), []))) for kind in range(3)))
        for i, body in enumerate(bodies)
    ]


def chained(pieces: Iterable[SeenPiece]) -> list[list[Point]]:
    """The pieces as lines through several points, joined end to end where they meet; each piece is in one of them."""
    # Pieces are edges of a graph whose vertices are their ends; a line is a walk that uses each edge once (Euler). A
    # walk can only end where an odd number of edges meet, so walks begin at such vertices while there are any.
    left: dict[Point, list[Point]] = {}
    for a, b in sorted(pieces):
        left.setdefault(a, []).append(b)
        left.setdefault(b, []).append(a)
    lines = []
    # Ends that nothing continues first, so that an open line is taken from one of its ends.
    for start in sorted(left, key=lambda p: (len(left[p]) % 2 == 0, p)):
        while left[start]:
            line = [start]
            while left[line[-1]]:
                following = left[line[-1]].pop(0)
                left[following].remove(line[-1])
                line.append(following)
            lines.append(line)
    return lines


Sorted = tuple[list[SeenPiece], list[SeenPiece], list[SeenPiece]]


def _sort_out(edges: Floats, outline: Any, intervals: Iterator[list[tuple[float, float]]]) -> Sorted:
    """Outline, inner and hidden pieces of one body, whose edges' intervals come next."""
    kinds: Sorted = ([], [], [])
    for ((x, y), (to_x, to_y)), is_outline in zip(edges[:, :, :2].tolist(), outline.tolist(), strict=True):
        covered = next(intervals)
        crumb = _CRUMB_MM / max(hypot(to_x - x, to_y - y), _CRUMB_MM)
        parts = [(low, high) for low, high in covered if high - low > crumb]
        for low, high, is_seen in _parted(parts):
            if high - low > crumb:
                a, b = ((x + (to_x - x) * t, y + (to_y - y) * t) for t in (low, high))
                kinds[(0 if is_outline else 1) if is_seen else 2].append(_rounded(a, b))
    return kinds


def _parted(covered: list[tuple[float, float]]) -> Iterable[tuple[float, float, bool]]:
    """From 0 to 1 in turn: (start, end, is it seen)."""
    here = 0.0
    for low, high in covered:
        yield here, low, True
        yield low, high, False
        here = high
    yield here, 1.0, True


def _rounded(a: Point, b: Point) -> SeenPiece:
    one, other = ((round(p[0], PLACES) + 0.0, round(p[1], PLACES) + 0.0) for p in (a, b))
    return (one, other) if one <= other else (other, one)


def _uncovered(pieces: list[SeenPiece]) -> list[list[SeenPiece]]:
    """For each piece what of it lies on no piece before it."""
    import numpy as np

    if not pieces:
        return []
    # Of two points p and q on a piece from s in the unit direction w, all in the plane: |(p - s) x w| is how far p lies
    # beside the piece's line, (p - s) . w how far along it. A piece covers another's stretch where both its ends lie on
    # the other's line.
    ends = np.array(pieces)
    start, way = ends[:, 0], ends[:, 1] - ends[:, 0]
    size = np.hypot(way[:, 0], way[:, 1])
    way = way / size[:, None]
    low, high = ends.min(axis=1) - _SAME_LINE_MM, ends.max(axis=1) + _SAME_LINE_MM
    meet = np.tri(len(ends), k=-1, dtype=bool)
    for axis in (0, 1):
        meet &= (low[:, None, axis] <= high[None, :, axis]) & (high[:, None, axis] >= low[None, :, axis])
    which, before = np.nonzero(meet)
    off = ends[before] - start[which, None]
    (off_x, off_y), (way_x, way_y) = off.transpose(2, 0, 1), way[which].T[:, :, None]
    lies_on = np.abs(off_x * way_y - off_y * way_x).max(axis=1) < _SAME_LINE_MM
    along = (off_x * way_x + off_y * way_y)[lies_on].clip(0.0, size[which[lies_on], None])
    own = np.split(along, np.searchsorted(which[lies_on], np.arange(1, len(ends))))
    return [_rest(*each) for each in zip(pieces, size.tolist(), own, strict=True)]


def _rest(piece: SeenPiece, size: float, along: Any) -> list[SeenPiece]:
    """The piece less the stretches given by their two ends along it, mm."""
    covered = sorted((min(pair), max(pair)) for pair in along.tolist())
    joined: list[tuple[float, float]] = []
    for low, high in covered:
        if high - low > _CRUMB_MM:
            if joined and low <= joined[-1][1] + _CRUMB_MM:
                joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
            else:
                joined.append((low, high))
    if not joined:
        return [piece]
    (x, y), (to_x, to_y) = piece
    ways = [(low, high) for low, high, seen in _parted([(a / size, b / size) for a, b in joined]) if seen]
    return [
        _rounded((x + (to_x - x) * low, y + (to_y - y) * low), (x + (to_x - x) * high, y + (to_y - y) * high))
        for low, high in ways
        if (high - low) * size > _CRUMB_MM
    ]
