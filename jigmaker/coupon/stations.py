"""What is measured on the coupon: its sizes in, Stations out, in the order of the form; finished sizes in mm.

A station is one place with one tool. Letters A to F are scored on the coupon; the keys are those of the reading form.
"""

from jigmaker.coupon.first_coupon import FirstCoupon
from jigmaker.parts.coupon_size import REST_MM, CouponSize
from jigmaker.record import dataclass

TIMES = 3
"""So often is every place measured."""

OUTSIDE, INSIDE = "outside jaws", "inside jaws"

SEAT_MM = 0.1
"""How far the place where a wedge comes to rest strays from one time to the next, as one standard deviation (common
practice, no source)."""


@dataclass(frozen=True, slots=True)
class Station:
    """One place to measure: its key in the form, its name, its finished size, the tool and how to hold it.

    `needed` stations give kerf and scale; without the others less is found. A `turned` one is measured in three
    directions a sixth of a turn apart, so that its readings may differ where the machine's kerf in x and y does.
    strays_mm: how far one reading strays from the next, where that is more than the caliper does.
    """

    key: str
    name: str
    drawn_mm: float
    tool: str
    how: str
    needed: bool = True
    turned: bool = False
    strays_mm: float = 0.0


def stations(size: CouponSize | FirstCoupon) -> tuple[Station, ...]:
    """The stations whose reading is a length, in the order of the form."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    turn = "60° further round each time"
    # The square's two diagonals, over the holes' far sides.
    far = size.square * 2**0.5 + size.square_hole
    how = "to {} hole, far sides: the largest"
    if isinstance(size, FirstCoupon):
        over = f"the {size.strips} {{}} strips side by side, over all"
        narrow = (
            Station("A", "A, stack of X strips", size.stack, OUTSIDE, over.format("longer")),
            Station("B", "B, stack of Y strips", size.stack, OUTSIDE, over.format("shorter")),
        )
    else:
        narrow = (
            Station("A_wedge", "A, wedge", REST_MM, INSIDE, "behind the longer wedge", strays_mm=SEAT_MM),
            Station("B_wedge", "B, wedge", REST_MM, INSIDE, "behind the shorter wedge", strays_mm=SEAT_MM),
        )
    return (
        *narrow,
        Station("D_long_x", "D, long in X", long_x, OUTSIDE, "left edge to right edge, low down"),
        Station("D_short_x", "D, short in X", short_x, OUTSIDE, "top notch, right side, to right edge"),
        Station("D_long_y", "D, long in Y", long_y, OUTSIDE, "bottom edge to top edge, far right"),
        Station("D_short_y", "D, short in Y", short_y, OUTSIDE, "right notch, upper side, to top edge"),
        Station("E_rising", "E, rising /", far, INSIDE, "lower left " + how.format("upper right"), needed=False),
        Station("E_falling", "E, falling \\", far, INSIDE, "upper left " + how.format("lower right"), needed=False),
        Station("F_hole", "F, hole", size.disc, INSIDE, f"across, {turn}", needed=False, turned=True),
        Station("F_disc", "F, disc", size.disc, OUTSIDE, f"across, {turn}", needed=False, turned=True),
    )


def station(size: CouponSize | FirstCoupon, key: str) -> Station:
    """The station of a key that this coupon is known to have."""
    return next(each for each in stations(size) if each.key == key)
