"""How many trial housings to expect: trestle and shop in, shares out; mm, degrees."""

from math import atan2, degrees, sqrt
from typing import Any

from jigmaker.first_off.first_off import causes_of
from jigmaker.job.practice import BUSH_MM, CUTTER_MM, PRACTICE
from jigmaker.job.shop import Shop
from jigmaker.parts.gauge_limits import gauge_limits
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.record import dataclass
from jigmaker.timber.draws import Draws
from jigmaker.timber.spreads import FOLLOW_MM
from jigmaker.trestle.records import Trestle

KERF_MM = 0.01
"""How far the coupon leaves the kerf unknown, as one standard deviation."""

CHANGED_RIGHT = 0.98
"""The share of housings that are right after one change (common practice, no source)."""

_DRAWN = 1 << 17


@dataclass(frozen=True, slots=True)
class FirstOffs:
    """right: the share of first housings that need no change; width, depths: that are right in that alone. expected:
    how many housings in scrap each hand takes, the right one counted.
    """

    right: float
    width: float
    depths: float
    expected: float


def first_offs(trestle: Trestle, shop: Shop, seed: int) -> FirstOffs:
    """By how far the machine cuts a slot, bush, cutter, projection, stop and the scrap's edge may be off, each within
    its limit, and what the first-off's own table says that a housing shows of it.
    """
    import numpy as np

    layout, accuracy = lay_out_jigs(trestle, shop)[0], shop.machine.accuracy_mm
    draws = Draws(seed, 10**6)  # a chunk of its own, apart from those of the forecast
    # A line is turned by what its ends are off over its length: the slot over the way that the bush runs in it, the
    # fence over the depth of the lugs that it stands on.
    slot_deg = degrees(atan2(accuracy, layout.slot_rear - layout.slot_front))
    fence_deg = degrees(atan2(accuracy * sqrt(2), layout.lug_depth))

    def even(half: float) -> Any:
        return draws.even(_DRAWN) * half

    # The housing's width: both walls of the slot, the kerf that the coupon left, how far a bush follows, then cutter
    # and bush by caliper; a bearing on the cutter has no bush.
    guide = even(accuracy) + even(accuracy) + draws.normal(_DRAWN) * KERF_MM - abs(draws.normal(_DRAWN) * FOLLOW_MM)
    guide += even(CUTTER_MM) + even(0.0 if shop.router.is_bearing_guided else BUSH_MM)
    off = {
        "projection": even(PRACTICE["limit.projection"].mm),
        "guide": guide,
        "stop": even(accuracy),
        "edge": even(PRACTICE["limit.edge_square"].mm),
        "tilt": even(fence_deg),
        "turn": even(slot_deg),
    }
    # Every cause moves five figures of the housing, straight in proportion to how far it is off: width, two depths and
    # two starts. Their sums are judged, the width by the plug's band, depths and starts by the set-up sheet's limits.
    figures = np.zeros((5, _DRAWN))
    for cause in causes_of(trestle):
        amount = np.asarray(off[cause.setting], dtype=np.float64)
        if len(cause.signs) == 1:  # the edge shows in another figure by the way that it is off
            amount = np.where(np.sign(amount) == cause.signs[0], amount, 0.0)
        figures += np.array(cause.answers)[:, None] * amount
    width, depths, starts = abs(figures[0]), abs(figures[1:3]).max(axis=0), abs(figures[3:]).max(axis=0)
    in_band = width <= gauge_limits(trestle, shop).half_band_mm
    right = [in_band, depths <= PRACTICE["limit.depth"].mm, starts <= PRACTICE["limit.start"].mm]
    both = int(np.count_nonzero(right[0] & right[1] & right[2])) / _DRAWN
    alone = [int(np.count_nonzero(each)) / _DRAWN for each in right]
    return FirstOffs(both, alone[0], alone[1], 1 + (1 - both) / CHANGED_RIGHT)
