"""Contours of a written DXF or SVG in one form, and the measures that features ask for. File frame, y up, mm.

A contour is a list of pieces (start, end, bend) as complex points, bend 0 for straight, or a circle (centre, radius).
"""

from cmath import phase
from dataclasses import dataclass
from math import degrees

import dxf_tags
import svg_paths


@dataclass(frozen=True)
class Read:
    """One closed contour as read: its layer, pieces, and circle (centre, radius) when it is one."""

    layer: str
    pieces: tuple[tuple[complex, complex, float], ...]
    circle: tuple[complex, float] | None

    @property
    def box(self):
        """(x low, y low, x high, y high) of the corners, or of the circle."""
        if self.circle:
            centre, radius = self.circle
            return (centre.real - radius, centre.imag - radius, centre.real + radius, centre.imag + radius)
        xs = [start.real for start, _, _ in self.pieces]
        ys = [start.imag for start, _, _ in self.pieces]
        return (min(xs), min(ys), max(xs), max(ys))


def read_closed(name: str, data: bytes) -> list[Read]:
    """Every closed contour of a file, by its extension, in file order."""
    return _from_dxf(data) if name.endswith(".dxf") else _from_svg(data)


def _from_dxf(data):
    found = []
    for one in dxf_tags.contours(data):
        if not one.is_closed:
            continue
        points = [complex(x, y) for x, y, _ in one.vertices]
        bulges = [bulge for _, _, bulge in one.vertices]
        pieces = tuple(zip(points, points[1:] + points[:1], bulges, strict=True))
        circle = (complex(*one.circle[:2]), one.circle[2]) if one.circle else None
        found.append(Read(one.layer, pieces, circle))
    return found


def _from_svg(data):
    found = []
    for one in svg_paths.shapes(data):
        if one.is_closed:
            pieces = tuple((a, b, r if left else -r) for a, b, r, left in one.pieces)
            circle = (complex(*one.circle[:2]), one.circle[2]) if one.circle else None
            found.append(Read(one.layer, pieces, circle))
    return found


def direction_deg(piece):
    """Direction of a straight piece, 0 up to 180."""
    turned = degrees(phase(piece[1] - piece[0])) % 180
    return 0.0 if 180 - turned < 1e-7 else turned


def distance(piece, other):
    """From the middle of a piece to the line of the other, square to that line."""
    along = other[1] - other[0]
    middle = (piece[0] + piece[1]) / 2
    return abs(((middle - other[0]) * along.conjugate()).imag) / abs(along)


def signed_distance(point, piece):
    """Distance of a point from a piece's line, > 0 when it lies to the left of the piece's run."""
    along = piece[1] - piece[0]
    return ((point - piece[0]) * along.conjugate()).imag / abs(along)
