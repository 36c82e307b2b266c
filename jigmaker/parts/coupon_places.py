"""Where the coupon's windows and holes lie: CouponSize in, CouponPlaces out. Part frame of the coupon; mm."""

from dataclasses import dataclass

from jigmaker.geometry.frames import Point
from jigmaker.parts.coupon_size import CouponSize

SQUARE_LOW: Point = (7.0, 22.0)
X_STRIPS_AT: Point = (6.0, 29.0)
Y_STRIPS_AT: Point = (84.0, 20.0)
DISC_LOW_MM = 26.0  # its lowest point: its name stands below it


@dataclass(frozen=True, slots=True)
class CouponPlaces:
    """Lower left corners of the strips' windows, centres of the square's holes by name, centre of the disc's hole."""

    x_strips: tuple[Point, ...]
    y_strips: tuple[Point, ...]
    square: dict[str, Point]
    disc: Point


def lay_out_coupon(size: CouponSize) -> CouponPlaces:
    """Everything inside the coupon's outline: square and strips across x on the left, strips across y and disc right of
    them."""
    step = size.strip + size.web
    (x, y), (low_x, low_y), (column, row) = X_STRIPS_AT, SQUARE_LOW, Y_STRIPS_AT
    right = column + size.y_strip_length
    return CouponPlaces(
        x_strips=tuple((x + i * step, y) for i in range(size.strips)),
        y_strips=tuple((column, row + i * step) for i in range(size.strips)),
        square={
            "lower left": (low_x, low_y),
            "lower right": (low_x + size.square, low_y),
            "upper right": (low_x + size.square, low_y + size.square),
            "upper left": (low_x, low_y + size.square),
        },
        disc=((right + size.x_lengths[0]) / 2, DISC_LOW_MM + size.disc / 2),
    )
