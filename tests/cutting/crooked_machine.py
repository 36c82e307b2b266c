"""What a crooked machine makes of a sheet's lines, by shapely alone, and how far its edges are off; sheet frame; mm.

The machine sends its beam to x' = p x + q y tan s, y' = q y and takes away an ellipse there. The sweep is made where
the ellipse is a disc: everything shrunk by the kerf in x and in y.
"""

from dataclasses import dataclass
from math import atan, degrees, radians, tan

import shapely
from shapely.affinity import affine_transform, scale

from jigmaker.geometry.outline import Line, Outline, Stroke
from jigmaker.geometry.strokes import Strokes

LOOK_MM = 2.0
LEAST_MM = 3.0
"""Straight pieces this long are measured, a quarter of their length from either end."""


@dataclass(frozen=True)
class EdgeError:
    """How far a straight edge as cut lies off its place, at most, and how far it is turned (anticlockwise > 0)."""

    off_mm: float
    turned_deg: float


def bent(shape, machine):
    """A shape as the machine makes it."""
    p, q = machine.scale_x, machine.scale_y
    return affine_transform(shape, (p, q * tan(radians(machine.skew_deg)), 0, q, 0, 0))


def swept(ring, kerf_x, kerf_y):
    """What the beam takes away along a ring."""
    shrunk = scale(ring, 1 / kerf_x, 1 / kerf_y, origin=(0, 0))
    return scale(shrunk.buffer(0.5, quad_segs=64), kerf_x, kerf_y, origin=(0, 0))


def material(cut, machine):
    """The piece that a sheet with one part leaves, where it lies on the bed."""
    kerf_x = machine.kerf_x_mm or machine.tool_mm
    kerf_y = machine.kerf_y_mm or machine.tool_mm
    left = None
    for contour in reversed(cut.contours):
        if isinstance(contour.shape, Stroke | Strokes):
            continue
        ring = bent(shapely.Polygon(contour.shape.points(256)), machine)
        gone = swept(ring.exterior, kerf_x, kerf_y)
        left = ring.difference(gone) if left is None else left.difference(ring.union(gone))
    return left


def edge_errors(cut, placed, machine):
    """{(contour's name, piece): EdgeError} of every long straight edge of the part as the machine cuts it."""
    moved = (0.0, 0.0)
    if cut.correction is not None:
        by = bent(shapely.Point(cut.correction.moved_x_mm, cut.correction.moved_y_mm), machine)
        moved = (by.x, by.y)
    boundary = material(cut, machine).boundary
    part, frame = placed.part, placed.sheet_from_part
    contours = {"outer": part.outline, **{hole.name: hole.contour for hole in part.holes}}
    return {
        (name, number): _edge_error(piece, moved, boundary)
        for name, contour in contours.items()
        if isinstance(contour, Outline)
        for number, piece in enumerate(contour.placed(frame).segments)
        if isinstance(piece, Line) and piece.length >= LEAST_MM
    }


def _edge_error(piece, moved, boundary):
    (ux, uy), (x, y) = piece.start_direction, piece.start
    found = []
    for share in (0.25, 0.75):
        at = (x + moved[0] + share * piece.length * ux, y + moved[1] + share * piece.length * uy)
        found.append(_aside(at, (-uy, ux), boundary))
    return EdgeError(max(map(abs, found)), degrees(atan((found[1] - found[0]) / (piece.length / 2))))


def _aside(at, normal, boundary):
    """How far along the normal the boundary lies."""
    ends = [(at[0] + side * LOOK_MM * normal[0], at[1] + side * LOOK_MM * normal[1]) for side in (-1, 1)]
    met = shapely.get_coordinates(boundary.intersection(shapely.LineString(ends)))
    asides = [(px - at[0]) * normal[0] + (py - at[1]) * normal[1] for px, py in met]
    return min(asides, key=abs, default=LOOK_MM)
