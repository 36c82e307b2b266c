"""The projections that a plunge router's turret is set to, after the waste was sawn out. mm.

The saw leaves INSIDE_MM of wood at both walls and above the floor. The last stop is the projection; the one before it
leaves the floor to the last. Above them the cutter only trims the walls: so deep at once that it takes no more wood
than a full cut of PASS_MM does, width times depth at most cutter times PASS_MM.
"""

from math import ceil

from jigmaker.job.practice import PRACTICE
from jigmaker.parts.housing_jig.layout import JigLayout

PASS_MM, INSIDE_MM = PRACTICE["practice.pass"].mm, PRACTICE["practice.inside"].mm


def router_stops(layout: JigLayout, stops: int) -> tuple[float, ...]:
    """Projections from the shallowest to the last, mm; more than `stops` of them where so few would cut too much."""
    # Beside the walls the cutter takes INSIDE_MM of wood at the most; depth * INSIDE_MM <= cutter * PASS_MM bounds the
    # depth of one pass. Stops then divide what is above the floor evenly.
    depth, cutter = layout.depth_square, 2 * layout.cutter_radius
    floor = min(PASS_MM, depth)
    walls = depth - floor
    deepest = cutter * PASS_MM / INSIDE_MM
    count = max(stops - 1, ceil(walls / deepest - 1e-9)) if walls else 0
    above = layout.projection - depth
    return (*(above + walls * (i + 1) / count for i in range(count)), layout.projection)
