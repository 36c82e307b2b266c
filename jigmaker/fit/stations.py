"""What is measured on the coupon: CouponSize in, Stations out, in the order of the form; finished sizes in mm.

A station is one place with one tool. Letters A to F are scored on the coupon; the keys are those of the reading form.
"""

from dataclasses import dataclass

from jigmaker.parts.coupon_size import CouponSize

TIMES = 3
"""So often is every place measured."""

OUTSIDE, INSIDE, OFFCUT = "outside jaws", "inside jaws", "offcut of the sheet"


@dataclass(frozen=True, slots=True)
class Station:
    """One place to measure: its key in the form, its name, its finished size, the tool and how to hold it.

    `needed` stations give kerf and scale; without the others less is found. A `turned` one is measured in three
    directions a sixth of a turn apart, so that its readings may differ where the machine's kerf in x and y does.
    """

    key: str
    name: str
    drawn_mm: float
    tool: str
    how: str
    needed: bool = True
    turned: bool = False


def stations(size: CouponSize) -> tuple[Station, ...]:
    """The stations whose reading is a length, in the order of the form."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    return (
        Station("A", "A, stack of X strips", size.stack, OUTSIDE, _stack_words(size, "longer")),
        Station("B", "B, stack of Y strips", size.stack, OUTSIDE, _stack_words(size, "shorter")),
        Station("D_long_x", "D, long in X", long_x, OUTSIDE, "left edge to right edge, low down"),
        Station("D_short_x", "D, short in X", short_x, OUTSIDE, "top notch, right side, to right edge"),
        Station("D_long_y", "D, long in Y", long_y, OUTSIDE, "bottom edge to top edge, far right"),
        Station("D_short_y", "D, short in Y", short_y, OUTSIDE, "right notch, upper side, to top edge"),
        *_corner_stations(size),
        *_disc_stations(size),
    )


def station(size: CouponSize, key: str) -> Station:
    """The station of a key that this coupon is known to have."""
    return next(each for each in stations(size) if each.key == key)


def _stack_words(size: CouponSize, which: str) -> str:
    return f"the {size.strips} {which} strips side by side, over all"


def _corner_stations(size: CouponSize) -> tuple[Station, ...]:
    """The square's two diagonals, over the holes' far sides."""
    far = size.square * 2**0.5 + size.square_hole
    how = "to {} hole, far sides: the largest"
    return (
        Station("E_rising", "E, rising /", far, INSIDE, "lower left " + how.format("upper right"), needed=False),
        Station("E_falling", "E, falling \\", far, INSIDE, "upper left " + how.format("lower right"), needed=False),
    )


def _disc_stations(size: CouponSize) -> tuple[Station, ...]:
    turn = "60° further round each time"
    return (
        Station("F_hole", "F, hole", size.disc, INSIDE, f"across, {turn}", needed=False, turned=True),
        Station("F_disc", "F, disc", size.disc, OUTSIDE, f"across, {turn}", needed=False, turned=True),
    )
