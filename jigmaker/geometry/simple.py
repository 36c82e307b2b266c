"""Whether contours can bound one piece of a sheet: an outline and its openings in, what is wrong in words out.

Any plane frame; arcs are judged as chords, 64 a quarter turn.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

from jigmaker.geometry.outline import Contour


def crossings(outline: Contour, holes: Sequence[tuple[str, Contour]]) -> Iterator[str]:
    """Every contour that crosses or touches itself; then openings not inside the outline, and pairs that are not apart.

    holes: each with its name. Nothing comes out for a sound piece.
    """
    import shapely

    rings = [(name, shapely.linearrings(contour.points())) for name, contour in (("the outline", outline), *holes)]
    crossed = [name for name, ring in rings if not ring.is_simple]
    yield from (f"{name} crosses itself" for name in crossed)
    if crossed:
        return
    (_, outer), *inner = [(name, shapely.Polygon(ring)) for name, ring in rings]
    shapely.prepare(outer)
    yield from (f"{name} is not inside the outline" for name, hole in inner if not outer.contains_properly(hole))
    yield from (f"{one} and {two} are not apart" for (one, a), (two, b) in combinations(inner, 2) if a.intersects(b))
