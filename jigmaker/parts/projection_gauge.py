"""The projection gauge, which sets the router's cutter: Trestle and Shop in, Part out. Part frame; mm.

A bridge that stands with its feet on the router's base, over bush and cutter: lowered out of the base, the cutter just
touches the ceiling. Feet and ceiling face the same way, so whatever width the cut has moves both alike: the recess is
right even when cut from a file without compensation.
"""

from math import sqrt

from jigmaker.geometry.tolerance import SHOP_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.corners import OutlineCorner, across, draw_outline
from jigmaker.parts.gauge_limits import AWAY_MM, BOX_WIDTH_MM, box_beside
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import Mark, Part, Setting
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.trestle.records import Trestle
from jigmaker.units import caliper_text

FOOT_MM = 25.0
LEAST_GAP_MM = 70.0
BESIDE_BUSH_MM = 25.0
"""From the bush to a foot: the plate that holds the bush may be screwed on proud of the base (common, no source)."""

ABOVE_MM = 20.0


def projection_gauge(trestle: Trestle, shop: Shop) -> Part:
    """The gauge, its recess exactly the jig's projection. No corner is relieved: nothing seats in one."""
    projection = lay_out_jigs(trestle, shop)[0].projection
    foot, gap = _foot_and_gap(shop)
    # Anticlockwise from the left foot's outer corner.
    length, height = 2 * foot + gap, projection + ABOVE_MM
    outline, pieces = draw_outline(
        [
            OutlineCorner((0.0, 0.0), "left foot"),
            OutlineCorner((foot, 0.0), "recess, left wall", "free"),
            OutlineCorner((foot, projection), "recess, ceiling", "recess"),
            OutlineCorner((foot + gap, projection), "recess, right wall", "free"),
            OutlineCorner((foot + gap, 0.0), "right foot"),
            OutlineCorner((length, 0.0), "right end", "free"),
            OutlineCorner((length, height), "upper edge", "free"),
            OutlineCorner((0.0, height), "left end", "free"),
        ]
    )
    why = "feet on the router's base, cutter lowered until it just touches; right whatever the cut's width"
    error = 2 * shop.machine.accuracy_mm
    off = f"feet and ceiling each out of place by {shop.machine.accuracy_words}, opposite ways: measure the recess"
    where = "router's base to the cutter's tip"
    return Part(
        name="projection gauge",
        slug="projection-gauge",
        assembly="gauges",
        hand="",
        needed=1,
        spares=0,
        thickness_mm=shop.sheet_for("projection-gauge", "gauges").thickness_mm,
        outline=outline,
        features=(
            *pieces,
            across(pieces, "left foot", "recess, ceiling", "recess over left foot", "recess", projection),
            across(pieces, "right foot", "recess, ceiling", "recess over right foot", "recess", projection),
            across(pieces, "recess, left wall", "recess, right wall", "gap", "free", gap),
            across(pieces, "left end", "right end", "length", "free", 2 * foot + gap),
            across(pieces, "left foot", "upper edge", "height", "free", projection + ABOVE_MM),
        ),
        marks=_marks(trestle, shop, projection, 2 * foot + gap),
        settings=(
            Setting("projection gauge, recess", projection, "mm", why, where),
            Setting("projection gauge, worst error", error, "mm", off, where),
        ),
    )


def _foot_and_gap(shop: Shop) -> tuple[float, float]:
    """Feet outside the bush's plate and, over their whole thickness, on the base: narrower on a small one.

    A base that the jig accepts is 84 mm wider than the bush and leaves them 6 mm or more.
    """
    #     ___________________
    #    |    ___________    |     ceiling: the projection above the feet, where the cutter's tip just touches
    #    |   |    gap    |   |     gap: clear of the bush's plate
    #    |___|           |___|     feet, on the router's base (it stands upside down)
    router, thickness = shop.router, shop.sheet_for("projection-gauge", "gauges").thickness_mm
    gap = max(LEAST_GAP_MM, router.bush_mm + 2 * BESIDE_BUSH_MM)
    longest = sqrt(router.base_mm**2 - thickness**2)
    return min(FOOT_MM, (longest - gap) / 2), gap


def _needs_box(shop: Shop) -> bool:
    """Feet and ceiling may each be off their place, opposite ways: felt in the housing's depth from SHOP_MM on."""
    return 2 * shop.machine.accuracy_mm > SHOP_MM


def _marks(trestle: Trestle, shop: Shop, projection: float, length: float) -> tuple[Mark, ...]:
    """Text and box stand in the bridge, over the recess."""
    low, high = projection + AWAY_MM, projection + ABOVE_MM - AWAY_MM
    right = length - AWAY_MM - (BOX_WIDTH_MM + AWAY_MM if _needs_box(shop) else 0.0)
    figure = caliper_text(projection, trestle.job.unit)
    words = words_of("projection-gauge", ["projection", "touch"], shop, projection=figure)
    lettered = fill_box(words, Box(AWAY_MM, low, right, high), 5.0)
    if not _needs_box(shop):
        return lettered
    return (*lettered, box_beside(lettered[0], high))
