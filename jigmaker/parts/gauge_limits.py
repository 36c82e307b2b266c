"""What leg gauge and housing plug let pass, and how a gauge is marked with it: Trestle and Shop in; mm.

Legs and housings are each held to a band 2 e wide, legs from w - 2 e to w, housings from w + c - e to w + c + e, so
that any leg of the batch goes into any housing with c - e to c + 3 e of play (w leg width, c clearance).
"""

from jigmaker.geometry.lettering import text_width
from jigmaker.job.shop import Shop
from jigmaker.parts.marks import line_mark
from jigmaker.parts.part import Mark, Setting
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle

WIDEST_HALF_BAND_MM = 0.075
HALF_BAND_WITHOUT_PLAY_MM = 0.05
"""With no clearance to share out; a tight leg is then pressed in."""

LEFT_ON_MM = 0.3
SURE_TO_DRESS_MM = 0.1
"""Wood that must be left to dress away however badly the machine cuts within its accuracy."""

BOX_HEIGHT_MM = 6.5
BOX_WIDTH_MM = 19.0
"""Room for a figure written by hand."""

BOX_GAP_MM = 0.9  # from a box to the line whose figure it is for; to any other line twice as far or more
BOX_OPEN_MM = 0.3
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
    # With a leg w, a clearance c and half a band e:
    #
    #     legs                 housings
    #     no-go     go         low       high
    #     |---2 e---|          |---2 e---|
    #     w - 2 e   w          w + c - e w + c + e
    #               |<-------->|  least play c - e, which e <= c / 2 keeps above 0; most play c + 3 e
    #
    # Both limits of a gauge are cut by the same machine: out by its accuracy in opposite ways they still differ while 2
    # e is more than twice that.
    half = min(WIDEST_HALF_BAND_MM, clearance / 2) if clearance else HALF_BAND_WITHOUT_PLAY_MM
    over = 0.0 if 2 * half > 2 * accuracy else max(LEFT_ON_MM, 2 * accuracy + SURE_TO_DRESS_MM)
    return Limits(trestle.job.leg.width_mm, clearance, half, over)


def left_on_setting(gauge: str, limits: Limits, where: str) -> tuple[Setting, ...]:
    """How much wood is left on a gauge and why; nothing when it is cut to size."""
    if not limits.left_on_mm:
        return ()
    why = (
        "the limits lie closer together than twice the machine's accuracy: dress by hand to the size marked, measure "
        "it and write it in the box beside it"
    )
    return (Setting(f"{gauge}, left on to be dressed", limits.left_on_mm, "mm", why, where),)


def box_beside(line: Mark, highest: float) -> Mark:
    """A box right behind an upright line of words, its middle on theirs unless it would reach above `highest`."""
    right = line.at[0] + text_width(line.text, line.height_mm) + BOX_GAP_MM
    return measured_box(right, min(highest - BOX_HEIGHT_MM, line.at[1] + (line.height_mm - BOX_HEIGHT_MM) / 2))


def measured_box(x: float, y: float) -> Mark:
    """A blank box for the size as measured, its lower left corner at (x, y), BOX_WIDTH_MM x BOX_HEIGHT_MM.

    One line that stops short of where it began: a closed one could be taken for an opening to cut out.
    """
    right, top = x + BOX_WIDTH_MM, y + BOX_HEIGHT_MM
    return line_mark([(x, y), (right, y), (right, top), (x, top), (x, y + BOX_OPEN_MM)], fact="box")
