"""Whether the router's base is carried everywhere along a slot (507). Plate's part frame; mm.

What carries the base is the part of its disc that has plate under it; the router cannot tip while its axis is inside
the hull of that part. The least distance from the axis to the hull's edge must be 25 mm, or a third of the radius.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.proof.use.jig import JigAsCut
from jigmaker.units import fixed

GRID = 9
LEAST_MM = 25.0


def base_findings(jig: JigAsCut, hand: str) -> Iterator[Finding]:
    """An error when the base can tip, or reaches beyond the plate's edge."""
    import numpy as np
    import shapely

    radius, plate, region = jig.shop.router.base_mm / 2, jig.plate(hand), jig.bush_region(hand)
    least, wanted = -radius, max(LEAST_MM, radius / 3)
    if not region.is_empty:
        # On a grid over all places of the axis; of the disc at each, what lies on the plate, and how far inside that
        # part's hull the axis is.
        low_x, low_y, high_x, high_y = region.bounds
        xs, ys = np.meshgrid(np.linspace(low_x, high_x, GRID), np.linspace(low_y, high_y, GRID))
        points = shapely.points(xs.ravel(), ys.ravel())
        points = points[shapely.covers(region.buffer(1e-6), points)]
        coarse = shapely.simplify(plate.cut.material, 0.05)
        #      .--.    hull of what lies on the plate; the router tips when its axis leaves it.
        #    _/ *  \____   *: the axis, over the slot; how far inside it is, square to the hull's edge, is the support.
        #   |  \slot|   |  Outside the hull it counts as negative.
        hulls = shapely.convex_hull(shapely.intersection(shapely.buffer(points, radius, quad_segs=16), coarse))
        distances = shapely.distance(points, shapely.boundary(hulls))
        least = float(np.where(shapely.contains(hulls, points), distances, -distances).min())
    if least >= wanted - 0.05:
        return
    says = f"the base is carried by {fixed(least, 1)} mm at the least along slot {hand}, must be {fixed(wanted, 1)} mm"
    do = "use a smaller bush or a wider base plate"
    value, limit = f"{fixed(least, 2)} mm", f"{fixed(wanted, 2)} mm"
    yield Finding(507, says, do, "shop hand_router.base", plate.declared.name, value, limit, at=f"slot {hand}")
