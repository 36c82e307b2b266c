"""What is scored on the coupon: its sizes and places in, Marks out. Part frame; mm.

Each station's letter, what it is for, its figures, the sum for the kerf, the sheet, and which way x and y run.
"""

from collections.abc import Iterator

from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.job.shop import Shop
from jigmaker.parts.coupon_places import DISC_LOW_MM, SQUARE_LOW, X_STRIPS_AT, Y_STRIPS_AT, CouponPlaces
from jigmaker.parts.coupon_size import COMB_LOW_MM, STRIPS_ROOM_MM, CouponSize, figure
from jigmaker.parts.marks import TEXT_MM, text_mark
from jigmaker.parts.part import Mark
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.units import Unit

AWAY_MM = 2.0  # marks keep this far from every cut
ARROW_MM = 14.0
HEAD_MM = 3.0
ABOVE_SLOT_MM = 1.6


def coupon_marks(size: CouponSize, places: CouponPlaces, shop: Shop, unit: Unit, comb_depth: float) -> tuple[Mark, ...]:
    """Every mark, in a stable order."""
    return (
        *_comb_marks(size, unit, comb_depth + ABOVE_SLOT_MM),
        *_square_marks(size),
        *_strip_marks(size, unit),
        *_disc_marks(size, places, unit),
        *_length_marks(size, unit),
        *_title(size, shop, unit),
    )


def _comb_marks(size: CouponSize, unit: Unit, y: float) -> Iterator[Mark]:
    """Each slot's width above it, and the comb's letter left of the first."""
    if size.slots:
        yield text_mark("C", (3.5, y))
    for i, width in enumerate(size.slots):
        yield text_mark(figure(width, unit), (COMB_LOW_MM + i * size.pitch + width / 2, y), anchor="middle")


def _square_marks(size: CouponSize) -> Iterator[Mark]:
    """An E beside each hole, inward, so that the square is seen."""
    (x, y), off = SQUARE_LOW, size.square_hole / 2 + AWAY_MM
    for up in (y, y + size.square):
        yield text_mark("E", (x + off, up - TEXT_MM / 2))
        yield text_mark("E", (x + size.square - off, up - TEXT_MM / 2), anchor="right")


def _strip_marks(size: CouponSize, unit: Unit) -> Iterator[Mark]:
    """How many strips there are and what they add up to, one station below its windows, the other right of them."""
    stack = figure(size.stack, unit)
    right = Y_STRIPS_AT[0] + size.y_strip_length + AWAY_MM
    middle = SQUARE_LOW[0] + size.square / 2
    yield text_mark(f"A  {size.strips} STRIPS X: {stack}", (middle, SQUARE_LOW[1] - TEXT_MM / 2), anchor="middle")
    low = DISC_LOW_MM + size.disc + AWAY_MM
    high = size.y_lengths[0] - size.y_lengths[1] - size.notch - AWAY_MM
    yield from fill_box(
        [f"B  {size.strips} STRIPS Y: {stack}"], Box(right, low, size.x_lengths[0] - AWAY_MM, high), 4.0
    )


def _disc_marks(size: CouponSize, places: CouponPlaces, unit: Unit) -> Iterator[Mark]:
    yield text_mark(
        f"F  Ø{figure(size.disc, unit)}", (places.disc[0], DISC_LOW_MM - AWAY_MM - TEXT_MM), anchor="middle"
    )


def _length_marks(size: CouponSize, unit: Unit) -> tuple[Mark, ...]:
    """In the upper right corner, whose sides are the two short lengths."""
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    low = Y_STRIPS_AT[1] + STRIPS_ROOM_MM + AWAY_MM
    box = Box(long_x - short_x + AWAY_MM, low, long_x - AWAY_MM, long_y - AWAY_MM)
    lines = [f"D  X {_pair(long_x, short_x, unit)}", f"Y {_pair(long_y, short_y, unit)}"]
    return fill_box(lines, box, 4.0)


def _pair(long: float, short: float, unit: Unit) -> str:
    return f"{figure(long, unit)}, {figure(short, unit)}"


def _title(size: CouponSize, shop: Shop, unit: Unit) -> Iterator[Mark]:
    """Name, sheet, the sum for the kerf, and two arrows from their common start."""
    low = X_STRIPS_AT[1] + size.x_strip_length + AWAY_MM
    yield from _arrows((X_STRIPS_AT[0], low + 3.0))
    box = Box(X_STRIPS_AT[0] + ARROW_MM + 9, low, Y_STRIPS_AT[0] - AWAY_MM, size.y_lengths[0] - 10)
    sheet = f"SHEET {figure(shop.sheet.thickness_mm, unit)} {unit.upper()}"
    sums = ["A, B: KERF =", f"({figure(size.stack, unit)} - STACK) / {size.strips}", "- KERF IN THE LINES"]
    yield from fill_box(["COUPON", sheet, *sums], box, 5.0)


def _arrows(start: Point) -> Iterator[Mark]:
    (x, y) = start
    for name, tip, at in (
        ("X", (x + ARROW_MM, y), (x + ARROW_MM + 2, y - TEXT_MM / 2)),
        ("Y", (x, y + ARROW_MM), (x - 1, y + ARROW_MM + 1.5)),
    ):
        yield Mark("", start, 0.0, 0.0, arrow_strokes([start, tip], HEAD_MM))
        yield text_mark(name, at)
