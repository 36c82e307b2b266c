"""A part as cut, measured by the names of its features: edges, distances and holes. Part frame; mm.

kit.json only says which edge is meant: about where it lies and what it is called. Where it is, the material says.
"""

from __future__ import annotations

from functools import cached_property
from math import atan2, degrees, dist, pi, sin, sqrt
from typing import TYPE_CHECKING, Any

from jigmaker.findings import Finding
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Circle, Line, Outline
from jigmaker.proof.checks.machine_error import ARC_MM
from jigmaker.proof.checks.sweep import PER_QUARTER
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.records import CutPart, DeclaredFeature, DeclaredPart
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from shapely import Polygon

Runs = Any
"""An array of straight runs: x and y of both ends."""

_STRAIGHT_MM = 1e-7
_SAME_MM = 1e-5  # the first chord of a fillet turns by 0.7 degrees: two points nearer than 1e-7 / sin 0.7 hide it
_LOOK_MM = 1.5  # an edge is looked for this far from where it is declared
_LOOK_SLOPE = 0.035  # and within 2 degrees of the direction declared
_LEAST_SHARE = 0.05  # of the edge declared must be there


class Unmeasured(LookupError):
    """Something that the proof has to measure is not there; `finding` says what."""

    def __init__(self, finding: Finding) -> None:
        super().__init__(finding.says)
        self.finding = finding


class LeftOut(Unmeasured):
    """What would be measured is a part that the shop leaves out: nothing is wrong."""


@dataclass(frozen=True, slots=True)
class CutEdge:
    """A straight edge as cut, from start to end in the sense in which it was declared."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """From start to end, mm."""
        return dist(self.start, self.end)

    @property
    def middle(self) -> Point:
        """Half way."""
        return ((self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2)

    @property
    def along(self) -> Point:
        """Unit direction from start to end."""
        return ((self.end[0] - self.start[0]) / self.length, (self.end[1] - self.start[1]) / self.length)

    @property
    def direction_deg(self) -> float:
        """Direction off the part's x axis, anticlockwise, 0 up to 180 degrees."""
        turned = degrees(atan2(self.along[1], self.along[0])) % 180
        return 0.0 if 180 - turned < 1e-7 else turned

    def left(self, at: Point) -> float:
        """How far a point lies to the left of the edge's line, mm."""
        (ux, uy), (x, y) = self.along, self.start
        return ux * (at[1] - y) - uy * (at[0] - x)


@dataclass(frozen=True)
class MeasuredPart:
    """A cut part and how to ask it for its features. Every method raises Unmeasured when the feature is not there."""

    cut: CutPart

    @property
    def declared(self) -> DeclaredPart:
        """The part as kit.json declares it."""
        return self.cut.declared

    @cached_property
    def _features(self) -> dict[str, DeclaredFeature]:
        return {feature.name: feature for feature in self.declared.features}

    @cached_property
    def _straight(self) -> Runs:
        """Every straight run of the material's boundary, collinear chords joined."""
        import numpy as np

        runs = []
        for ring in (self.cut.material.exterior, *self.cut.material.interiors):
            points = np.array(ring.coords)[:-1]
            # Two points at one place would hide the corner that they stand in.
            points = points[np.hypot(*(points - np.roll(points, 1, axis=0)).T) > _SAME_MM]
            # A point is a corner when it lies off the chord from the one before to the one after.
            before, after = np.roll(points, 1, axis=0), np.roll(points, -1, axis=0)
            chord, step = after - before, points - before
            long = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), 1e-12)
            off = np.abs(chord[:, 0] * step[:, 1] - chord[:, 1] * step[:, 0]) / long
            corners = points[off > _STRAIGHT_MM]
            runs.append(np.hstack([corners, np.roll(corners, -1, axis=0)]))
        return np.concatenate(runs)

    @cached_property
    def _edges(self) -> dict[tuple[str, int], CutEdge]:
        return {}

    def names(self, starts: str = "", ends: str = "") -> list[str]:
        """Names of the features that start and end so, in the kit's order."""
        return [name for name in self._features if name.startswith(starts) and name.endswith(ends)]

    def feature(self, name: str) -> DeclaredFeature:
        """The feature of this name."""
        if name not in self._features:
            raise self._missing(name, "does not tell it")
        return self._features[name]

    def edge(self, name: str) -> CutEdge:
        """The straight edge that the feature's first piece is."""
        return self.edge_of(self.feature(name), 0)

    def edge_of(self, feature: DeclaredFeature, index: int) -> CutEdge:
        """The straight edge of one of a feature's pieces."""
        import numpy as np

        known = self._edges.get((feature.name, index))
        if known is not None:
            return known
        # Where the edge should lie is declared; which edge of the cut part that is, the material says: the run that
        # covers most of the declared one, near it and nearly parallel to it.
        declared = self._piece(feature, index)
        # How much of the declared line each run covers, mm; 0 for runs that lie elsewhere or run another way.
        (x, y), (ux, uy) = declared.start, declared.start_direction
        ax, ay, bx, by = (
            self._straight[:, 0] - x,
            self._straight[:, 1] - y,
            self._straight[:, 2] - x,
            self._straight[:, 3] - y,
        )
        # Ends of each run along the declared edge and beside it: u . (p - start) and u x (p - start).
        from_a, from_b = ax * ux + ay * uy, bx * ux + by * uy
        out_a, out_b = ax * uy - ay * ux, bx * uy - by * ux
        apart = np.abs(out_a + out_b) / 2
        covered = np.minimum(np.maximum(from_a, from_b), declared.length) - np.maximum(np.minimum(from_a, from_b), 0.0)
        lies = (np.abs(out_b - out_a) <= _LOOK_SLOPE * np.abs(from_b - from_a) + 1e-9) & (apart <= _LOOK_MM)
        covered = np.where(lies & (covered > 0), covered - apart, 0.0)
        best = int(covered.argmax())
        if covered[best] < _LEAST_SHARE * declared.length:
            raise self._missing(feature.name, "tells an edge that the cut part does not have")
        ax, ay, bx, by = (float(v) for v in self._straight[best])
        ux, uy = declared.start_direction
        same = (bx - ax) * ux + (by - ay) * uy > 0
        edge = CutEdge((ax, ay), (bx, by)) if same else CutEdge((bx, by), (ax, ay))
        self._edges[(feature.name, index)] = edge
        return edge

    def across(self, one: str, other: str) -> float:
        """Distance from one edge to the middle of another, square to the first, mm."""
        return abs(self.edge(one).left(self.edge(other).middle))

    def hole(self, name: str) -> tuple[Point, float]:
        """Centre and diameter of a round hole, from the ring's area."""
        ring = self.ring(name)
        # From the area and not from the width, so that no single corner of a chord decides.
        # Area of a regular polygon with so many corners over its circle's.
        count = len(ring.exterior.coords) - 1
        return (ring.centroid.x, ring.centroid.y), 2 * sqrt(ring.area / pi / (count / (2 * pi) * sin(2 * pi / count)))

    def diameter_off_mm(self, name: str, exact_mm: float) -> float:
        """How far a round hole's diameter may be off: a crooked machine is sent round it along other curves.

        As few arcs as may stand for the curve, within ARC_MM of it, do not keep its area: of 300 random machines the
        worst cuts a hole 0.0025 mm too wide or too narrow, so less than ARC_MM cannot be asked there.
        """
        is_circle = len(self.ring(name).exterior.coords) - 1 == 4 * PER_QUARTER
        return exact_mm if is_circle else max(exact_mm, ARC_MM)

    def ring(self, name: str) -> Polygon:
        """The opening of this name as a polygon: the one of the material nearest to where it is declared."""
        import shapely

        contour = self._contour(name)
        declared = shapely.polygons(contour.points(16)).centroid
        rings = [shapely.Polygon(ring) for ring in self.cut.material.interiors]
        # Openings are known by where they lie: a cut moves no middle by as much as two openings lie apart.
        nearest = min(rings, key=lambda ring: ring.centroid.distance(declared), default=None)
        if nearest is None or nearest.centroid.distance(declared) > 2 * _LOOK_MM:
            raise self._missing(name, "tells an opening that the cut part does not have")
        return nearest

    def _piece(self, feature: DeclaredFeature, index: int) -> Line:
        contour = self._contour(feature.contour)
        number = feature.pieces[index] if index < len(feature.pieces) else -1
        if isinstance(contour, Outline) and 0 <= number < len(contour.segments):
            piece = contour.segments[number]
            if isinstance(piece, Line):
                return piece
        raise self._missing(feature.name, "tells a piece of no straight edge")

    def _contour(self, name: str) -> Outline | Circle:
        if name == "outer":
            return self.declared.outline
        for hole, contour in self.declared.holes:
            if hole == name:
                return contour
        raise self._missing(name, "does not tell an opening")

    def _missing(self, name: str, what: str) -> Unmeasured:
        return Unmeasured(missing_finding(self.declared.name, f'"{name}": kit.json {what} of this name', name))


def missing_finding(part: str, says: str, at: str = "") -> Finding:
    """A finding for something the proof needs and cannot find."""
    return Finding(341, says, AGAIN, part=part, at=at)
