"""What is scored on bearers, stop and strips: layout and shop in, Marks out. Part frame, mm, letters upright.

Boxes are found in the bearer plane (q rearward, y up out of the worked edge) and moved by the part's own origin.
"""

from jigmaker.geometry.frames import Point
from jigmaker.geometry.shape_number import WIDEST
from jigmaker.job.shop import Shop
from jigmaker.parts.housing_jig.layout import BOLT_HOLE_MM, BOLT_UP_MM, LUG_MM, JigLayout
from jigmaker.parts.mark_list import words_of
from jigmaker.parts.part import Mark
from jigmaker.parts.text_box import Box, fill_box

AWAY_MM = 3.0  # marks keep this far from every edge
BITE_MM = 6.0  # and this far from edges where a CNC router leaves relief bites

_WIDER_MM = 12.0  # how far a lug's box reaches into the arm beside it


def bearer_marks(layout: JigLayout, shop: Shop, origin: Point) -> tuple[Mark, ...]:
    """In the front lug: which side the fence is on, what the part is."""
    low = -layout.sheet - LUG_MM - _WIDER_MM
    box = Box(low, _arm_line(layout, low, -layout.sheet - LUG_MM, 4), -layout.sheet - BITE_MM, _seat_line(layout, low))
    return fill_box(words_of("bearer", ["fence", "name"], shop), _in_part(box, origin), 5.0)


def end_bearer_marks(layout: JigLayout, shop: Shop, origin: Point) -> tuple[Mark, ...]:
    """In the front lug, above the bolt hole."""
    low = layout.front_bolt - LUG_MM / 2 - _WIDER_MM / 2
    over_bolt = -layout.lug_depth + BOLT_UP_MM + _bolt(layout) + AWAY_MM
    floor = max(over_bolt, _arm_line(layout, low, layout.front_bolt - 12, 34))
    box = Box(low, floor, -0.5 - BITE_MM, _seat_line(layout, low))
    return fill_box(words_of("end-bearer", ["fence", "name"], shop), _in_part(box, origin), 5.0)


def stop_marks(layout: JigLayout, shop: Shop, origin: Point) -> tuple[Mark, ...]:
    """Between the two bolts, below the window."""
    away = _bolt(layout) + AWAY_MM
    box = Box(layout.front_bolt + away, -layout.lug_depth + AWAY_MM, layout.rear_bolt - away, -5.0 - AWAY_MM)
    return fill_box(words_of("stop", ["name", "kit", "right", "left"], shop, kit=WIDEST), _in_part(box, origin), 5.0)


def strip_marks(layout: JigLayout, shop: Shop) -> tuple[Mark, ...]:
    """In the free band below the lugs, where jaws or clamps hold."""
    width = layout.strip_high - layout.strip_low
    high = layout.strip_depth - layout.lug_depth - AWAY_MM
    words = words_of("fence-or-back-strip", ["name", "clamps"], shop)
    return fill_box(words, Box(2 * AWAY_MM, AWAY_MM, width - 2 * AWAY_MM, high), 6.0)


def _bolt(layout: JigLayout) -> float:
    """Radius of a bolt's hole."""
    return layout.bites.least_hole(BOLT_HOLE_MM)


def _in_part(box: Box, origin: Point) -> Box:
    return box.moved(-origin[0], -origin[1])


def _arm_line(layout: JigLayout, q: float, lug_q: float, in_by: float) -> float:
    """Lowest y for a mark at q: above the slanting lower edge from the lug's foot to the arm's front end."""
    end = layout.bearer_point(layout.plate_front + in_by, layout.standoff - 12)
    share = (lug_q - q) / (lug_q - end[0])
    return -layout.lug_depth + share * (end[1] + layout.lug_depth) + AWAY_MM


def _seat_line(layout: JigLayout, q: float) -> float:
    """Highest y for a mark from q rearward: below the plate's underside."""
    at_arris = layout.bearer_point(0.0, layout.standoff)
    far = layout.bearer_point(100.0, layout.standoff)
    slope = (far[1] - at_arris[1]) / (far[0] - at_arris[0])
    return at_arris[1] + (q - at_arris[0]) * slope - BITE_MM
