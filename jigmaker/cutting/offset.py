"""Exact offset of contours of lines and arcs: contour and distance in, the moved contour out. Any plane frame; mm.

Straight stays straight, an arc stays an arc of true radius, a circle a circle. shapely judges the result, it makes none
of it.
"""

from math import ceil, pi, sqrt

from jigmaker.cutting.figure import figure
from jigmaker.cutting.ring import Moved, moved_aside
from jigmaker.errors import TooNarrow
from jigmaker.geometry.outline import Arc, Circle, Contour, Outline
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.units import Unit

WIDEN = "widen it, or use a narrower tool"

_SAG_SHARE = 1e-3  # how far a chord may leave its arc where polygons judge, as a share of the distance moved


def offset(contour: Contour, distance: float, name: str) -> Contour:
    """The contour moved out by `distance` mm (> 0: the enclosed area grows; < 0: it shrinks), whichever way it runs.

    Where moving tears neighbours apart the result keeps a sharp mitre up to two tool widths (4 x distance) beyond the
    corner, then a flat square to the corner's bisector; an arc is led on to the mitre by its tangent. Where they
    overlap it keeps a sharp corner. Pieces that vanish inside a re-entrant corner (a fillet smaller than the distance)
    are dropped and their neighbours met. Under 1e-6 mm the contour is given back as it is. The result runs the same
    way and starts with the first piece that is left.

    Raises TooNarrow, with `name`, its width and the tool's (twice the distance), when a tool of that width cannot go
    everywhere along the contour: the result would cross itself, fall into several or lose a feature.
    """
    if abs(distance) < TOUCH_MM:
        return contour
    moved = _circle(contour, distance) if isinstance(contour, Circle) else _moved(contour, distance)
    if moved is None:
        raise TooNarrow(f"{narrow_words(contour, distance, name, 2 * abs(distance))}: {WIDEN}")
    return moved if isinstance(moved, Circle) else moved[0]


def traced_offset(outline: Outline, distance: float, name: str) -> Moved:
    """The outline as `offset` moves it, and the piece that each of its pieces was before. Raises TooNarrow."""
    moved = _moved(outline, distance)
    if moved is None:
        raise TooNarrow(f"{narrow_words(outline, distance, name, 2 * abs(distance))}: {WIDEN}")
    return moved


def can_follow(contour: Contour, distance: float) -> bool:
    """True when a tool twice the distance wide can go everywhere along the contour, on the side that `offset` takes."""
    return (
        abs(distance) < TOUCH_MM
        or (_circle(contour, distance) if isinstance(contour, Circle) else _moved(contour, distance)) is not None
    )


def narrow_words(contour: Contour, distance: float, name: str, needed: float, unit: Unit = "mm") -> str:
    """What is wrong with a contour that no tool `needed` mm wide can follow: its name and its width."""
    width = widest_tool(contour, distance)
    found = f"is {figure(width, unit)} {unit} wide at its narrowest" if width >= 0.005 else "has no width"
    return f"{name} {found}, the tool needs {figure(needed, unit)} {unit}"


def widest_tool(contour: Contour, distance: float) -> float:
    """Width in mm of the widest tool, up to twice the distance, that can follow the contour on that side."""
    # What a narrower tool can follow a wider one may not, and never the other way about: halving finds where it
    # changes.
    low, high = 0.0, abs(distance)
    sign = 1 if distance > 0 else -1
    for _ in range(24):
        middle = (low + high) / 2
        low, high = (middle, high) if can_follow(contour, sign * middle) else (low, middle)
    return 2 * low


def _circle(circle: Circle, distance: float) -> Circle | None:
    radius = circle.radius + distance
    return Circle(circle.centre, radius) if radius > TOUCH_MM else None


def _moved(outline: Outline, distance: float) -> Moved | None:
    """The outline moved; None unless it runs as before, does not cross itself and is nowhere nearer than the distance.

    What moves each piece with its neighbours cannot see pieces farther round that come in the way: this judges all.
    """
    import shapely

    # Outside an anticlockwise contour is to the right of its travel.
    moved = moved_aside(outline, -distance if outline.area > 0 else distance)
    if moved is None or moved[0].area * outline.area <= 0:
        return None
    # Judged on chords within `sag` of the arcs: of path and contour together they may come nearer by two sags, and a
    # third is left to rounding.
    sag = _SAG_SHARE * abs(distance)
    path = shapely.linearrings(moved[0].points(_chords_a_quarter(moved[0], sag)))
    if not path.is_simple:
        return None
    nominal = shapely.linearrings(outline.points(_chords_a_quarter(outline, sag)))
    shapely.prepare(path)  # dwithin on a prepared ring is indexed, distance is not
    return None if shapely.dwithin(path, nominal, abs(distance) - 3 * sag) else moved


def _chords_a_quarter(outline: Outline, sag: float) -> int:
    """Chords a quarter turn that stay within sag mm of every arc of the outline (at least 8, at most 1024)."""
    largest = max((s.radius for s in outline.segments if isinstance(s, Arc)), default=0.0)
    return min(1024, max(8, ceil(pi / 4 / sqrt(2 * sag / largest)))) if largest else 8
