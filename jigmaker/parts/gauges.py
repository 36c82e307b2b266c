"""The gauges that make a batch repeatable: Trestle and Shop in, Parts out. Part frames; mm.

Projection gauge for the router's cutter, leg gauge for what goes into a housing, housing plug and
depth gauge for the housing's width and depth.
"""

from jigmaker.job.shop import Shop
from jigmaker.parts.depth_gauge import depth_gauge
from jigmaker.parts.housing_plug import housing_plug
from jigmaker.parts.leg_gauge import leg_gauge
from jigmaker.parts.part import Part
from jigmaker.parts.projection_gauge import projection_gauge
from jigmaker.trestle.records import Trestle


def gauge_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """One piece of each gauge."""
    makers = (projection_gauge, leg_gauge, housing_plug, depth_gauge)
    return tuple(make(trestle, shop) for make in makers if shop.routs_housings or make is not projection_gauge)
