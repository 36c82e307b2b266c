"""How large everything on the coupon is: Shop and unit in, CouponSize out; and what its readings mean. mm, degrees.

Words: a *stack* is a row of strips pushed together; the *lines* are the contours as they stand in the file that was
cut, moved by half a kerf or not.
"""

from dataclasses import dataclass
from math import asin, ceil, degrees, floor

from jigmaker.errors import DoesNotFit
from jigmaker.geometry.lettering import text_width
from jigmaker.job.shop import Shop
from jigmaker.parts.marks import TEXT_MM
from jigmaker.units import MM_PER_INCH, Unit, fixed, length_text, mm_decimals

STEP_MM = 0.05
MIDDLE_MM = 0.05
"""The comb's middle slot over the sheet's thickness: a joint wants play, not interference."""

MOST_SLOTS = 9
COMB_LOW_MM = 14.0  # the first slot's left wall; the sharp end teeth stay wide enough for a caliper's jaw
COMB_ROOM_MM = 121.0
LEAST_TOOTH_MM = 4.5

STRIPS_ROOM_MM = 64.0
MOST_STRIPS = 6
LEAST_STRIP_MM = 9.0
LONGER_MM = 3.0
"""Strips across x are this much longer than those across y, so that loose ones are told apart."""

WIDEST_CUT_MM = 6.5
"""With a wider cut the pieces do not fit into 150 x 100 mm any more."""

SQUARE_MM = 70.0

_LENGTHS_MM: dict[Unit, tuple[tuple[float, float], tuple[float, float]]] = {
    "mm": ((145.0, 45.0), (98.0, 18.0)),
    "in": ((5.75 * MM_PER_INCH, 1.75 * MM_PER_INCH), (3.875 * MM_PER_INCH, 0.875 * MM_PER_INCH)),
}
"""Long and short in x, long and short in y. Their differences are round, so that the scale can be seen at once."""


@dataclass(frozen=True, slots=True)
class CouponSize:
    """Finished sizes of all that is measured on the coupon, and of the gaps between, mm.

    strips pieces across x and as many across y, each strip wide, x_strip_length or y_strip_length long, web apart;
    slots: the comb's widths, rising, pitch apart; x_lengths, y_lengths: long and short, each between two outside
    edges; square: between the centres of four holes, square_hole across; disc: across the hole and the disc out of it;
    notch: width of the two notches that end the short lengths.
    """

    strips: int
    strip: float
    x_strip_length: float
    y_strip_length: float
    web: float
    slots: tuple[float, ...]
    pitch: float
    x_lengths: tuple[float, float]
    y_lengths: tuple[float, float]
    square: float
    square_hole: float
    disc: float
    notch: float

    @property
    def stack(self) -> float:
        """All strips of one direction as drawn without any kerf in the lines, mm."""
        return self.strips * self.strip


def coupon_size(shop: Shop, unit: Unit) -> CouponSize:
    """The coupon's sizes for a shop. Raises DoesNotFit when the machine's cut is wider than WIDEST_CUT_MM."""
    tool = shop.machine.tool_mm
    if tool > WIDEST_CUT_MM:
        most = length_text(WIDEST_CUT_MM, unit)
        raise DoesNotFit(f"the coupon has room for cuts up to {most} wide, the machine's is {length_text(tool, unit)}")
    strip = max(LEAST_STRIP_MM, _half_up(2 * tool + 5))
    y_strip_length = max(22.0, _half_up(2 * tool + 12))
    web = 3.0 if shop.machine.kind == "cnc" else 2.0
    slots, pitch = _comb(shop, unit)
    x_lengths, y_lengths = _LENGTHS_MM[unit]
    return CouponSize(
        strips=min(MOST_STRIPS, floor((STRIPS_ROOM_MM + web) / (strip + web))),
        strip=strip,
        x_strip_length=y_strip_length + LONGER_MM,
        y_strip_length=y_strip_length,
        web=web,
        slots=slots,
        pitch=pitch,
        x_lengths=x_lengths,
        y_lengths=y_lengths,
        square=SQUARE_MM,
        square_hole=max(5.0, _half_up(tool + 0.5)),
        disc=max(20.0, _half_up(2 * tool + 14)),
        notch=max(8.0, tool + 2),
    )


def figure(mm: float, unit: Unit) -> str:
    """A size as a caliper shows it: millimetres to two places or the third there is, inches to three."""
    return fixed(mm, mm_decimals(mm)) if unit == "mm" else fixed(mm / MM_PER_INCH, 3)


def kerf_of_stack(drawn: float, measured: float, strips: int, in_the_lines: float = 0.0) -> float:
    """The true kerf, mm: of the stack's strips each has lost one, and what the lines gave away already is taken off.

    `drawn` is the stack at finished size, `in_the_lines` the kerf that the cut file allows for (0 for a nominal file
    cut as it is). A strip has two sides and each is half a cut deep: n pieces are n kerfs short, not n - 1. Where the
    machine's scale is off, give drawn and in_the_lines times that scale.
    """
    return (drawn - measured) / strips - in_the_lines


def scale_of_lengths(drawn: tuple[float, float], measured: tuple[float, float]) -> float:
    """True size over drawn size in one direction, from a long and a short length between outside edges, mm.

    Both are wrong by the same kerf, so that it leaves their difference untouched.
    """
    return (measured[0] - measured[1]) / (drawn[0] - drawn[1])


def skew_of_diagonals_deg(rising: float, falling: float, kerf: float) -> float:
    """Skew s of the machine in degrees, x' = x + y tan s: positive when its y axis leans toward +x.

    rising: from the lower left hole to the upper right one, over the holes' far sides; falling: from upper left to
    lower right; kerf: the true one; mm. Less the kerf both are what the skew made of diagonals of one length, for the
    lines of the holes are bent with all else. With r and f for them and side a of their square:
    r^2 - f^2 = 4 a^2 tan s and r^2 + f^2 = 2 a^2 (2 + tan^2 s); the quotient is sin s but for a term in tan^3 s.
    """
    r, f = rising - kerf, falling - kerf
    return degrees(asin((r * r - f * f) / (r * r + f * f)))


def _half_up(mm: float) -> float:
    """The next half millimetre."""
    return ceil(2 * mm - 1e-9) / 2


def _comb(shop: Shop, unit: Unit) -> tuple[tuple[float, ...], float]:
    """The slots' widths and their pitch: as many as fit, evenly about the middle; a slot too narrow to cut is left out.

    The pitch leaves room for each slot's figure above it.
    """
    thickness = shop.sheet.thickness_mm
    for count in range(MOST_SLOTS, 0, -2):
        widths = [round(thickness + MIDDLE_MM + STEP_MM * (i - count // 2), 6) for i in range(count)]
        label = max(text_width(figure(width, unit), TEXT_MM) for width in widths)
        pitch = max(widths[-1] + LEAST_TOOTH_MM, label + 1.2)
        if (count - 1) * pitch + widths[-1] <= COMB_ROOM_MM:
            break
    spare = 0.2 if shop.machine.kind == "cnc" else 0.0
    return tuple(width for width in widths if width >= shop.machine.tool_mm + spare), pitch
