"""An SVG element's attributes in, chains of vertices and circles in its own plane out (y down, user units)."""

from dataclasses import dataclass

from jigmaker.proof.readers.svg_path import Chain, NotUnderstood, read_path
from jigmaker.proof.readers.svg_plane import NUMBER

_QUARTER = 0.41421356237309503  # tan(90 degrees / 4)
_ROUND = 1e-6

SHAPES = frozenset(("path", "line", "circle", "ellipse", "rect", "polyline", "polygon"))
"""The elements that draw lines."""

Attributes = dict[str, str]
Vertex = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle in the element's own plane."""

    x: float
    y: float
    radius: float


def shapes_of(kind: str, attributes: Attributes) -> list[Chain | Disc]:
    """What an element, one of SHAPES, draws. Raises NotUnderstood, saying what."""

    def figures(*keys: str) -> list[float]:
        return [_figure(attributes, key) for key in keys]

    match kind:
        case "path":
            text = attributes.get("d", "")
            return [*read_path(text)] if text.strip() not in ("", "none") else []
        case "line":
            x0, y0, x1, y1 = figures("x1", "y1", "x2", "y2")
            return [([(x0, y0, 0.0), (x1, y1, 0.0)], False)]
        case "circle":
            return [Disc(*figures("cx", "cy", "r"))]
        case "ellipse":
            along, across = figures("rx", "ry")
            if abs(along - across) > _ROUND * max(abs(along), 1.0):
                raise NotUnderstood("an ellipse is not understood")
            return [Disc(*figures("cx", "cy", "rx"))]
        case "rect":
            return [(_rect(attributes, *figures("x", "y", "width", "height")), True)]
        case _:
            text = attributes.get("points", "")
            flat = [float(word) for word in NUMBER.findall(text)]
            if NUMBER.sub("", text).strip(" \t\r\n,") or len(flat) % 2 or len(flat) < 4:
                raise NotUnderstood("points are no list of pairs of figures")
            return [([(x, y, 0.0) for x, y in zip(flat[::2], flat[1::2], strict=True)], kind == "polygon")]


def _rect(attributes: Attributes, x: float, y: float, width: float, height: float) -> list[Vertex]:
    """SVG 2, 10.2: a corner radius not given is that of the other axis; neither is more than half the side."""
    if width <= 0 or height <= 0:
        raise NotUnderstood("a rect has no width or no height")
    given = [
        min(_figure(attributes, key), side / 2) for key, side in (("rx", width), ("ry", height)) if key in attributes
    ]
    radius = given[0] if given else 0.0
    if (len(given) == 2 and abs(given[0] - given[1]) > _ROUND) or radius > min(width, height) / 2 + _ROUND:
        raise NotUnderstood("a rect with elliptic corners is not understood")
    right, low = x + width, y + height
    if radius <= 0:
        return [(x, y, 0.0), (right, y, 0.0), (right, low, 0.0), (x, low, 0.0)]
    # Eight vertices, run as SVG runs them: clockwise on the screen; without the straight sides to which full rounding
    # leaves no length.
    corners = [(right - radius, y), (right, y + radius), (right, low - radius), (right - radius, low)]
    corners += [(x + radius, low), (x, low - radius), (x, y + radius), (x + radius, y)]
    vertices = [(*corner, _QUARTER if i % 2 == 0 else 0.0) for i, corner in enumerate(corners)]
    following = vertices[1:] + vertices[:1]
    return [a for a, b in zip(vertices, following, strict=True) if abs(a[0] - b[0]) + abs(a[1] - b[1]) > _ROUND]


def _figure(attributes: Attributes, key: str) -> float:
    """A figure in user units, 0 when not given; px is a user unit. Other units would need the page's scale."""
    text = attributes.get(key, "0").strip().removesuffix("px")
    if not NUMBER.fullmatch(text):
        raise NotUnderstood(f'{key}="{attributes[key][:20]}" is no plain figure')
    return float(text)
