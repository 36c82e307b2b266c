"""What goes wrong by how much in a batch: trestle, shop and readings in, a spread for each source out; mm, radians.

Where a limit is all that is known, the error is spread evenly within it (JCGM 100:2008, 4.3.7).
"""

from dataclasses import replace
from math import radians, sqrt
from typing import Any

from jigmaker.job.shop import Shop
from jigmaker.levelling.trim import HEAD_MM, LEG_TO_LEG_MM, SAW_DEG, STOP_MM, WINDING_MM
from jigmaker.parts.gauge_limits import gauge_limits
from jigmaker.parts.housing_saw.layout import guided_mm
from jigmaker.record import dataclass
from jigmaker.timber.places import Places
from jigmaker.timber.readings import TimberReadings
from jigmaker.trestle.records import Trestle

PLANED_MM, BOUGHT_MM = 0.10, 1.0
"""Spread of legs planed in one run (common practice, no source); limit of planed timber up to 100 mm wide as sold
(EN 336, class T2, quoted at second hand)."""

SKEW_MM, WALL_SKEW_MM, FOLLOW_MM = 0.05, 0.03, 0.03
"""Spread of a leg out of square over its thickness; limit of the cutter out of square to the router's base over as
much; spread of a bush that is not hard on its wall. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Spreads:
    """Every source. Evenly within plus and minus: housing (width as left by the first-off, each hand's), width_even,
    wall_skew, slot_turn, fence, mitre, tilt, length (the stop), winding. By standard deviation: width_bell, skew,
    follow (only ever narrower), leg_length, head. mean_width: of the legs, off the job's. is_pressed: along the near
    wall; else a leg lies anywhere in its play.
    """

    mean_width: float
    width_even: float
    width_bell: float
    skew: float
    wall_skew: float
    housing: float
    follow: float
    slot_turn: float
    fence: float
    mitre: float
    tilt: float
    length: float
    leg_length: float
    head: float
    winding: float
    is_pressed: bool


def spreads_of(trestle: Trestle, shop: Shop, readings: TimberReadings, places: Places | None) -> Spreads:
    """Those of a batch: legs as measured, with the caliper's share only, or as they are dressed."""
    limits, accuracy = gauge_limits(trestle, shop), shop.machine.accuracy_mm
    wall, lug = guided_mm(trestle, shop)
    mean, even, bell = {
        "gauged": (-limits.half_band_mm, limits.half_band_mm, 0.0),
        "planed": (0.0, 0.0, PLANED_MM),
        "bought": (0.0, BOUGHT_MM, 0.0),
    }[readings.dressed]
    # A leg whose width was read is known but for the caliper, whose reading strays by 1.96 standard deviations in 95 of
    # 100 cases; so are boards that were measured.
    if places:
        mean, even, bell = 0.0, 0.0, readings.caliper_mm / 1.96
    return Spreads(
        mean_width=mean,
        width_even=even,
        width_bell=bell,
        skew=SKEW_MM,
        wall_skew=WALL_SKEW_MM,
        housing=limits.half_band_mm,
        follow=FOLLOW_MM,
        slot_turn=accuracy / wall,
        fence=accuracy * sqrt(2) / lug,
        mitre=radians(SAW_DEG),
        tilt=radians(SAW_DEG),
        length=STOP_MM,
        leg_length=LEG_TO_LEG_MM[1],
        head=HEAD_MM[1],
        winding=0.0 if readings.boards else WINDING_MM,
        is_pressed=readings.is_pressed,
    )


REMEDIES: dict[str, tuple[str, ...]] = {
    "press every leg along the wall nearer the board's end while it is fixed": ("is_pressed",),
    "plane the boards out of winding": ("winding",),
    "set every head flush with the top face to a hair": ("head",),
    "keep the bush hard on the slot's wall": ("follow",),
    "plane the legs square": ("skew",),
    "gauge every leg to one width": ("width_even", "width_bell"),
    "measure each hand's first housing and set its width right": ("housing",),
    "square the cutter to the router's base": ("wall_skew",),
    "true the walls of the slots to their line": ("slot_turn",),
    "true the jig's fence to its plate": ("fence",),
    "set the length stop right": ("length",),
    "saw all legs to one length": ("leg_length",),
    "set the saw's two angles right": ("mitre", "tilt"),
}
"""What can be done, and which sources it takes away altogether."""

SAWN = {
    "keep the bush hard on the slot's wall": "keep the saw flat on the guide's cheeks",
    "square the cutter to the router's base": "saw and pare both walls square to the floor",
    "true the walls of the slots to their line": "true the guide's cheeks to their line",
    "true the jig's fence to its plate": "true the guide's fence to its plates",
}
"""What is done in place of it by a shop that saws its housings and has no router."""


def without(spreads: Spreads, sources: tuple[str, ...]) -> Spreads:
    """The same with some sources taken away."""
    taken: dict[str, Any] = {name: True if name == "is_pressed" else 0.0 for name in sources}
    return replace(spreads, **taken)
