"""What leg gauge and housing plug let pass, and how a gauge is marked with it: Trestle and Shop in; mm.

Legs and housings are each held to a band 2 e wide, legs from w - 2 e to w, housings from w + c - e to w + c + e, so
that any leg of the batch goes into any housing with c - e to c + 3 e of play (w leg width, c clearance).
"""

from dataclasses import dataclass

from jigmaker.geometry.lettering import text_width
from jigmaker.job.shop import Shop
from jigmaker.parts.marks import TEXT_MM, line_mark, text_mark
from jigmaker.parts.part import Mark, Setting
from jigmaker.trestle.records import Trestle

WIDEST_HALF_BAND_MM = 0.075
HALF_BAND_WITHOUT_PLAY_MM = 0.05
"""With no clearance to share out; a tight leg is then pressed in."""

LEFT_ON_MM = 0.3
SURE_TO_DRESS_MM = 0.1
"""Wood that must be left to dress away however badly the machine cuts within its accuracy."""

BOX_HEIGHT_MM = 6.5
WORD = "MEASURED"
BLANK_MM = 16.0  # a figure written by hand
INSIDE_MM = 1.5  # between the box's lines and the word in it
AWAY_MM = 1.8  # marks keep this far from every cut


@dataclass(frozen=True, slots=True)
class Limits:
    """half_band_mm: half the band that a gauge allows (e). left_on_mm: how much a gauge is cut over, to be dressed away
    by hand and caliper; 0 when the machine's accuracy keeps the two limits apart. The limits themselves follow.
    """

    leg_width_mm: float
    clearance_mm: float
    half_band_mm: float
    left_on_mm: float

    @property
    def go_mm(self) -> float:
        """The widest leg allowed."""
        return self.leg_width_mm

    @property
    def no_go_mm(self) -> float:
        """The narrowest leg allowed."""
        return self.leg_width_mm - 2 * self.half_band_mm

    @property
    def low_mm(self) -> float:
        """The narrowest housing allowed."""
        return self.leg_width_mm + self.clearance_mm - self.half_band_mm

    @property
    def high_mm(self) -> float:
        """The widest housing allowed."""
        return self.leg_width_mm + self.clearance_mm + self.half_band_mm


def gauge_limits(trestle: Trestle, shop: Shop) -> Limits:
    """The limits of this job on this machine. Two limits are kept apart when 2 e is more than twice its accuracy."""
    clearance, accuracy = trestle.job.housing.clearance_mm, shop.machine.accuracy_mm
    half = min(WIDEST_HALF_BAND_MM, clearance / 2) if clearance else HALF_BAND_WITHOUT_PLAY_MM
    over = 0.0 if 2 * half > 2 * accuracy else max(LEFT_ON_MM, 2 * accuracy + SURE_TO_DRESS_MM)
    return Limits(trestle.job.leg.width_mm, clearance, half, over)


def left_on_setting(gauge: str, limits: Limits, where: str) -> tuple[Setting, ...]:
    """How much wood is left on a gauge and why; nothing when it is cut to size."""
    if not limits.left_on_mm:
        return ()
    why = (
        "the limits lie closer together than twice the machine's accuracy: dress by hand to the size marked, measure it"
    )
    return (Setting(f"{gauge}, left on to be dressed", limits.left_on_mm, "mm", why, where),)


def measured_box(x: float, y: float) -> tuple[Mark, Mark]:
    """A blank box for the size as measured, its lower left corner at (x, y), the word inside at its left.

    Its last side is a stroke of its own: a closed line on the mark layer could be taken for an opening to cut out.
    """
    word = text_mark(WORD, (x + INSIDE_MM, y + (BOX_HEIGHT_MM - TEXT_MM) / 2))
    right, top = x + box_width(), y + BOX_HEIGHT_MM
    return line_mark([(x, y), (right, y), (right, top), (x, top)], [(x, top), (x, y)]), word


def box_width() -> float:
    """Width of a measured_box, mm."""
    return text_width(WORD, TEXT_MM) + 2 * INSIDE_MM + BLANK_MM
