"""The coupon as it was first made, with rows of strips and a comb of slots: Shop and unit in, FirstCoupon out; mm.

None is drawn any more. Forms of those that were cut still read: two *stacks* of strips pushed together gave the kerf,
and the narrowest slot that an offcut entered the play of joints. All else was measured as it is today.
"""

from math import ceil, floor

from jigmaker.geometry.lettering import text_width
from jigmaker.job.shop import Shop
from jigmaker.parts.coupon_size import LENGTHS_MM, figure
from jigmaker.record import dataclass
from jigmaker.units import Unit

STEP_MM = 0.05

_MIDDLE_MM = 0.05  # the comb's middle slot over the sheet's thickness
_MOST_SLOTS, _COMB_ROOM_MM, _LEAST_TOOTH_MM, _LETTERS_MM = 9, 121.0, 4.5, 3.5
_MOST_STRIPS, _STRIPS_ROOM_MM, _LEAST_STRIP_MM = 6, 64.0, 9.0
_SQUARE_MM = 70.0


@dataclass(frozen=True, slots=True)
class FirstCoupon:
    """Finished sizes, mm: strips pieces across x and as many across y, each strip wide; slots: the comb's widths,
    rising; the others as in CouponSize.
    """

    strips: int
    strip: float
    slots: tuple[float, ...]
    x_lengths: tuple[float, float]
    y_lengths: tuple[float, float]
    square: float
    square_hole: float
    disc: float

    @property
    def stack(self) -> float:
        """All strips of one direction as drawn."""
        return self.strips * self.strip


def first_coupon(shop: Shop, unit: Unit) -> FirstCoupon:
    """What was drawn for a shop."""
    tool = shop.machine.tool_mm
    strip = max(_LEAST_STRIP_MM, _half_up(2 * tool + 5))
    web = 3.0 if shop.machine.kind == "cnc" else 2.0
    x_lengths, y_lengths = LENGTHS_MM[unit]
    # The slots' widths: as many as went in with a figure over each, none too narrow to cut.
    thickness = shop.sheet.thickness_mm
    for count in range(_MOST_SLOTS, 0, -2):
        widths = [round(thickness + _MIDDLE_MM + STEP_MM * (i - count // 2), 6) for i in range(count)]
        label = max(text_width(figure(width, unit), _LETTERS_MM) for width in widths)
        pitch = max(widths[-1] + _LEAST_TOOTH_MM, label + 1.2)
        if (count - 1) * pitch + widths[-1] <= _COMB_ROOM_MM:
            break
    spare = 0.2 if shop.machine.kind == "cnc" else 0.0
    return FirstCoupon(
        strips=min(_MOST_STRIPS, floor((_STRIPS_ROOM_MM + web) / (strip + web))),
        strip=strip,
        slots=tuple(width for width in widths if width >= shop.machine.tool_mm + spare),
        x_lengths=x_lengths,
        y_lengths=y_lengths,
        square=_SQUARE_MM,
        square_hole=max(5.0, _half_up(tool + 0.5)),
        disc=max(20.0, _half_up(2 * tool + 14)),
    )


def _half_up(mm: float) -> float:
    """The next half millimetre; a form tells the width of the cut to a millionth."""
    return ceil(2 * mm - 1e-5) / 2
