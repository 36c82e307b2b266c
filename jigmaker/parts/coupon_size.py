"""How large everything on the coupon is: Shop and unit in, CouponSize out; and what its readings mean. mm, degrees.

Words: a *wedge* is what drops out of a tapered window; put into a *slot* with the same taper it comes to rest the
farther on the wider the cut is. The *lines* are the contours as they stand in the file that was cut, moved by half a
kerf or not.
"""

from math import asin, ceil, degrees, sqrt

from jigmaker.errors import DoesNotFit
from jigmaker.job.shop import Shop
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit, fixed, length_text, mm_decimals

THROW = 30.0
"""The gap behind a wedge grows by so many times what the cut is wider: 3 mm for 0.1 mm."""

SLOPE = 1 / sqrt((THROW - 1) ** 2 - 1)
"""Tangent between a flank and the wedge's axis. Cuts wider by w move each flank of the wedge and of its slot w apart,
square to the flank: the wedge goes on by w / sin, and its end and the slot's part by w more; 1 / sin is THROW - 1."""

WEDGES_MM = {"A": 24.0, "B": 21.0}
"""Lengths of the wedges as a true machine cuts them: unlike, so that loose ones are told apart."""

REST_MM = 12.0
"""Gap behind the wedge on a machine that cuts as the shop says: a quarter of a millimetre of kerf less is still told,
and the inside jaws of a caliper still go in."""

# From a wedge at rest to the slot's thin end: a third of a millimetre of kerf more.
_BEFORE_MM = 13.0

LEAST_SLOT_MM = 6.0

GAP_TAPER = 1 / 100
"""The gap for an offcut widens so much along its length: 5 mm for 0.05 mm."""

_GAP_BELOW_MM, _GAP_ABOVE_MM = 0.2, 0.35  # from the sheet's thickness to the gap's ends
LEAST_STRAIGHT_MM = 0.4  # of the narrow end, between the corners that a cutter leaves round

WIDEST_CUT_MM = 6.5
"""With a wider cut the pieces do not fit into 150 x 100 mm any more."""

SQUARE_MM = 75.0

LENGTHS_MM: dict[Unit, tuple[tuple[float, float], tuple[float, float]]] = {
    "mm": ((145.0, 45.0), (98.0, 18.0)),
    "in": ((5.75 * MM_PER_INCH, 1.75 * MM_PER_INCH), (3.875 * MM_PER_INCH, 0.875 * MM_PER_INCH)),
}
"""Long and short in x, long and short in y. Their differences are round, so that the scale can be seen at once."""


@dataclass(frozen=True, slots=True)
class CouponSize:
    """Finished sizes of all that is measured on the coupon, and of what is between, mm.

    tool: width of the cut that the coupon is drawn for; slot: width of the wedges' slots at the thin end, and their
    length; gap: the same of the gap for an offcut of the sheet, None when the tool is too wide for one; x_lengths,
    y_lengths: long and short, each between two outside edges; square: between the centres of four holes, square_hole
    across; disc: across the hole and the disc out of it; notch: width of the two notches that end the short lengths.
    """

    tool: float
    slot: tuple[float, float]
    gap: tuple[float, float] | None
    x_lengths: tuple[float, float]
    y_lengths: tuple[float, float]
    square: float
    square_hole: float
    disc: float
    notch: float

    def slot_ends(self) -> tuple[float, float, float]:
        """Half widths of a slot at thin and thick end, and its length."""
        width, length = self.slot
        return width / 2, width / 2 + SLOPE * length, length

    def window_ends(self, wedge: str) -> tuple[float, float, float]:
        """The same of the window that a wedge drops out of, which is a cut wider than the wedge on every side."""
        length = WEDGES_MM[wedge]
        # A wedge as drawn for: its thick end as wide as its slot is REST_MM before that one's own thick end. The window
        # is a cut wider on all sides; along a flank that is tool x sqrt(1 + slope^2) across, as the cut is taken square
        # to the flank.
        thick = self.slot[0] / 2 + SLOPE * (self.slot[1] - REST_MM)
        wider = self.tool * sqrt(1 + SLOPE**2)
        return (
            thick - SLOPE * (length + self.tool) + wider,
            thick + SLOPE * self.tool + wider,
            length + 2 * self.tool,
        )


def coupon_size(shop: Shop, unit: Unit) -> CouponSize:
    """The coupon's sizes for a shop. Raises DoesNotFit when the machine's cut is wider than WIDEST_CUT_MM."""
    tool, thickness = shop.machine.tool_mm, shop.sheet_for("coupon").thickness_mm
    if tool > WIDEST_CUT_MM:
        most = length_text(WIDEST_CUT_MM, unit)
        raise DoesNotFit(f"the coupon has room for cuts up to {most} wide, the machine's is {length_text(tool, unit)}")
    narrow, wide = thickness - _GAP_BELOW_MM, thickness + _GAP_ABOVE_MM
    # A cutter leaves both corners of the gap's narrow end round; less than this between them is no wall to measure.
    spare = LEAST_STRAIGHT_MM if shop.machine.kind == "cnc" else 0.0
    x_lengths, y_lengths = LENGTHS_MM[unit]
    return CouponSize(
        tool=tool,
        slot=(max(LEAST_SLOT_MM, tool + 0.5), _half_up(REST_MM + WEDGES_MM["A"] + _BEFORE_MM + tool / 2)),
        gap=(narrow, (wide - narrow) / GAP_TAPER) if narrow >= tool + spare - 1e-9 else None,
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


def kerf_of_gap(tool: float, gap: float) -> float:
    """The true kerf on a machine of true scale, from the gap behind a wedge, mm; whatever the lines allow for.

    tool: the width that the coupon was drawn for. Lines moved by half a kerf or not, the window's and the slot's move
    alike, and only what the cut takes away tells.
    """
    return tool + (gap - REST_MM) / THROW


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
    """The next half millimetre; a form tells the width of the cut to a millionth."""
    return ceil(2 * mm - 1e-5) / 2
