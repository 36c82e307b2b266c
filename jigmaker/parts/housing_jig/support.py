"""Whether the router's base stands safely on the plate: plate and layout in, distances in mm out. Plate plane.

For a bush centre anywhere in the slot, what carries the base is the part of its disc that has plate under it. The
router cannot tip while its axis is inside the hull of that part; the least distance from the axis to the hull's edge is
the margin that hands, cable and hose may use up.
"""

from __future__ import annotations

from typing import Any

from jigmaker.parts.housing_jig.layout import JigLayout
from jigmaker.parts.housing_jig.plate import part_from_plate
from jigmaker.parts.part import Part

GRID = 25  # bush centres tried along and across the slot
LEAST_SUPPORT_MM = 25.0


def needed_support(layout: JigLayout) -> float:
    """25 mm, or a third of the base's radius if that is more."""
    return max(LEAST_SUPPORT_MM, layout.base_radius / 3)


def bush_centres(layout: JigLayout) -> list[tuple[float, float]]:
    """A grid over every place the bush's centre can be in slot R (for an L plate: mirrored), part frame."""
    low, high = layout.bush_travel
    side = layout.bush_radius / layout.slot_width * (layout.near_wall(0) - layout.far_wall(0))
    move, sign = part_from_plate(layout).point, -1 if layout.hands == "L" else 1
    centres = []
    for i in range(GRID):
        v = low + (high - low) * i / (GRID - 1)
        left, right = layout.far_wall(v) + side, layout.near_wall(v) - side
        centres += [move((sign * (left + (right - left) * j / (GRID - 1)), v)) for j in range(GRID)]
    return centres


def least_support(part: Part, layout: JigLayout) -> float:
    """The least margin over all bush centres, mm; negative when the axis leaves the hull."""
    import shapely

    plate = shapely.Polygon(part.outline.points(16), [hole.contour.points(16) for hole in part.holes])
    points = shapely.points(bush_centres(layout))
    hulls = shapely.convex_hull(shapely.intersection(shapely.buffer(points, layout.base_radius, quad_segs=16), plate))
    inside: Any = shapely.contains(hulls, points)
    distances = shapely.distance(points, shapely.boundary(hulls))
    return float(min(d if ok else -d for d, ok in zip(distances, inside, strict=True)))
