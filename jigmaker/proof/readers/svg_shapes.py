"""An SVG element's attributes in, chains of vertices and circles in its own plane out (y down, user units)."""

import re
from collections.abc import Callable
from dataclasses import dataclass

from jigmaker.proof.readers.svg_path import Chain, NotUnderstood, read_path
from jigmaker.proof.readers.svg_plane import NUMBER

_QUARTER = 0.41421356237309503  # tan(90 degrees / 4)
_ROUND = 1e-6
_BETWEEN = re.compile(r"[\s,]*")

Attributes = dict[str, str]
Vertex = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle in the element's own plane."""

    x: float
    y: float
    radius: float


def shapes_of(kind: str, attributes: Attributes) -> list[Chain | Disc]:
    """What the element draws. Raises NotUnderstood, saying what, and KeyError for an element that is no shape."""
    return _READERS[kind](attributes)


def is_shape(kind: str) -> bool:
    """True for an element that shapes_of understands."""
    return kind in _READERS


def _path(attributes: Attributes) -> list[Chain | Disc]:
    text = attributes.get("d", "")
    return [*read_path(text)] if text.strip() not in ("", "none") else []


def _line(attributes: Attributes) -> list[Chain | Disc]:
    x0, y0, x1, y1 = (_figure(attributes, key) for key in ("x1", "y1", "x2", "y2"))
    return [([(x0, y0, 0.0), (x1, y1, 0.0)], False)]


def _circle(attributes: Attributes) -> list[Chain | Disc]:
    return [Disc(_figure(attributes, "cx"), _figure(attributes, "cy"), _figure(attributes, "r"))]


def _ellipse(attributes: Attributes) -> list[Chain | Disc]:
    along, across = _figure(attributes, "rx"), _figure(attributes, "ry")
    if abs(along - across) > _ROUND * max(abs(along), 1.0):
        raise NotUnderstood("an ellipse is not understood")
    return [Disc(_figure(attributes, "cx"), _figure(attributes, "cy"), along)]


def _rect(attributes: Attributes) -> list[Chain | Disc]:
    """SVG 2, 10.2: a corner radius not given is that of the other axis; neither is more than half the side."""
    x, y, width, height = (_figure(attributes, key) for key in ("x", "y", "width", "height"))
    if width <= 0 or height <= 0:
        raise NotUnderstood("a rect has no width or no height")
    given = [
        min(_figure(attributes, key), side / 2) for key, side in (("rx", width), ("ry", height)) if key in attributes
    ]
    radius = given[0] if given else 0.0
    if len(given) == 2 and abs(given[0] - given[1]) > _ROUND:
        raise NotUnderstood("a rect with elliptic corners is not understood")
    if radius > min(width, height) / 2 + _ROUND:
        raise NotUnderstood("a rect with elliptic corners is not understood")
    right, low = x + width, y + height
    if radius <= 0:
        return [([(x, y, 0.0), (right, y, 0.0), (right, low, 0.0), (x, low, 0.0)], True)]
    # Without the straight sides that full rounding leaves no length.
    # The eight vertices of a rect with round corners, run as SVG runs it: clockwise on the screen.
    corners = [(right - radius, y), (right, y + radius), (right, low - radius), (right - radius, low)]
    corners += [(x + radius, low), (x, low - radius), (x, y + radius), (x + radius, y)]
    vertices = [(*corner, _QUARTER if i % 2 == 0 else 0.0) for i, corner in enumerate(corners)]
    following = vertices[1:] + vertices[:1]
    return [
        (([a for a, b in zip(vertices, following, strict=True) if abs(a[0] - b[0]) + abs(a[1] - b[1]) > _ROUND]), True)
    ]


def _points(attributes: Attributes) -> list[Vertex]:
    text = attributes.get("points", "")
    figures = [float(word) for word in NUMBER.findall(text)]
    if NUMBER.sub("", text).strip(" \t\r\n,") or len(figures) % 2 or len(figures) < 4:
        raise NotUnderstood("points are no list of pairs of figures")
    return [(x, y, 0.0) for x, y in zip(figures[::2], figures[1::2], strict=True)]


def _polyline(attributes: Attributes) -> list[Chain | Disc]:
    return [(_points(attributes), False)]


def _polygon(attributes: Attributes) -> list[Chain | Disc]:
    return [(_points(attributes), True)]


def _figure(attributes: Attributes, key: str) -> float:
    """A figure in user units, 0 when not given; px is a user unit. Other units would need the page's scale."""
    text = attributes.get(key, "0").strip().removesuffix("px")
    if not NUMBER.fullmatch(text):
        raise NotUnderstood(f'{key}="{attributes[key][:20]}" is no plain figure')
    return float(text)


_READERS: dict[str, Callable[[Attributes], list[Chain | Disc]]] = {
    "path": _path,
    "line": _line,
    "circle": _circle,
    "ellipse": _ellipse,
    "rect": _rect,
    "polyline": _polyline,
    "polygon": _polygon,
}
