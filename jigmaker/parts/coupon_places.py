"""Where the coupon's slots, windows and holes lie: CouponSize in, CouponPlaces out. Part frame of the coupon; mm.

Slots have 10 mm of wood on either side, or a wedge would bend it.
"""

from jigmaker.geometry.frames import Point
from jigmaker.parts.coupon_size import CouponSize
from jigmaker.record import dataclass

SLOTS_AT: dict[str, Point] = {"A": (19.5, 32.0), "B": (21.0, 16.5)}
"""The middle of each slot's thin end; A's wedge points down, B's to the left."""

SQUARE_LOW: Point = (8.0, 10.0)
WINDOWS_LOW: Point = (36.0, 32.0)
GAP_AT: Point = (78.0, 17.0)
_WEB_MM = 4.0

# The coupon as it lies on the bed: x to the right, y upward, the lower left corner cut off.
#
#     ______________________________     _______________
#    |                              |___|              |    A, B  slots for the two wedges, thin end down and left
#    |  o  A                    o       D           ___|    a, b  the windows that the wedges drop out of
#    |  E  \  /                 C                  |___     C     the gap that widens upward, for an offcut
#    |      ||    a \ /         | |                    |    D     two lengths in x and two in y: between outside edges
#    |      ||      |_|         | |            ( F )   |    E     four holes o on a square: its diagonals show skew
#    |      \/    b |>          | |                    |    F     the hole and the disc out of it
#    |                          | |                    |
#    |  o  B <====              |_|  o                 |
#     \________________________________________________|


@dataclass(frozen=True, slots=True)
class CouponPlaces:
    """Middles of the thin ends of the windows that wedges drop out of; the gap's straight wall at its narrow end;
    centres of the square's holes by name; centre of the disc's hole."""

    windows: dict[str, Point]
    gap: Point
    square: dict[str, Point]
    disc: Point


def lay_out_coupon(size: CouponSize) -> CouponPlaces:
    """Everything inside the coupon's outline: slots left and below, windows between, gap and disc on the right."""
    (x, y), (low_x, low_y) = WINDOWS_LOW, SQUARE_LOW
    half_a, half_b = size.window_ends("A")[1], size.window_ends("B")[1]
    right = GAP_AT[0] + (size.gap[0] + 0.6 if size.gap else 0.0)
    return CouponPlaces(
        windows={"B": (x, y + half_b), "A": (x + half_a, y + 2 * half_b + _WEB_MM)},
        gap=GAP_AT,
        square={
            "lower left": (low_x, low_y),
            "lower right": (low_x + size.square, low_y),
            "upper right": (low_x + size.square, low_y + size.square),
            "upper left": (low_x, low_y + size.square),
        },
        disc=((right + size.x_lengths[0]) / 2, 45.0),
    )
