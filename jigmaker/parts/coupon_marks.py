"""What is scored on the coupon: its sizes and places in, Marks out. Part frame; mm.

A letter a station, a scale of kerf beside each slot, the sheet, and which way x and y run.
"""

from collections.abc import Iterator

from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.job.shop import Shop
from jigmaker.parts.coupon_places import SLOTS_AT, WINDOWS_LOW, CouponPlaces
from jigmaker.parts.coupon_size import GAP_TAPER, REST_MM, THROW, CouponSize, figure
from jigmaker.parts.marks import TEXT_MM, drawn_mark, line_mark, text_mark
from jigmaker.parts.part import Mark, Said
from jigmaker.parts.text_box import Box, fill_box
from jigmaker.units import MM_PER_INCH, Unit

AWAY_MM = 2.0  # marks keep this far from every cut
LETTER_MM = 5.0
ARROW_MM = 9.0
HEAD_MM = 2.5
TICKS = range(-2, 4)
TICK_MM, LONG_TICK_MM = 1.5, 3.0


def coupon_marks(size: CouponSize, places: CouponPlaces, shop: Shop, unit: Unit) -> tuple[Mark, ...]:
    """Every mark, in a stable order."""
    # In the upper right corner, whose sides are the two short lengths: their letter, the name, the sheet.
    (long_x, short_x), (long_y, short_y) = size.x_lengths, size.y_lengths
    left, top = long_x - short_x + AWAY_MM, long_y - AWAY_MM
    box = Box(left, long_y - short_y + AWAY_MM, long_x - AWAY_MM, top)
    thickness_mm = shop.sheet_for("coupon").thickness_mm
    sheet = Said(f"SHEET {figure(thickness_mm, unit)} {unit.upper()}", "sheet")
    marks = fill_box([Said("COUPON", "name"), sheet], box, LETTER_MM)
    # A letter a station, clear of all figures.
    (a_x, a_y), (b_x, b_y), slot = SLOTS_AT["A"], SLOTS_AT["B"], size.slot[1]
    (e_x, e_y), (f_x, f_y), off = places.square["upper left"], places.disc, size.square_hole / 2 + AWAY_MM
    stations = [("A", (a_x, a_y + slot + AWAY_MM)), ("B", (b_x - AWAY_MM, b_y - LETTER_MM / 2))]
    if size.gap:
        (x, y), (narrow, long) = places.gap, size.gap
        stations.append(("C", (x + (narrow + GAP_TAPER * long) / 2, y + long + AWAY_MM)))
    stations += [("E", (e_x, e_y - off - LETTER_MM)), ("F", (f_x, f_y + size.disc / 2 + AWAY_MM))]
    letters = [
        text_mark(Said(name, "station"), at, LETTER_MM, anchor="right" if name == "B" else "middle")
        for name, at in stations
    ]
    x, y = WINDOWS_LOW[0] + 2 * size.window_ends("A")[1] + 5.0, places.windows["A"][1] + 6.0
    arrows = []
    for name, tip, at in (
        ("X", (x + ARROW_MM, y), (x + ARROW_MM + 1.5, y - TEXT_MM / 2)),
        ("Y", (x, y + ARROW_MM), (x - 1, y + ARROW_MM + 1.5)),
    ):
        arrows += [drawn_mark(arrow_strokes([(x, y), tip], HEAD_MM), "axis arrow"), text_mark(Said(name, "axis"), at)]
    return (
        *_scale_marks(size, unit),
        *letters,
        *marks,
        text_mark(Said("D", "station"), (box.x_high, marks[0].at[1]), marks[0].height_mm, anchor="right"),
        *arrows,
    )


def _scale_marks(size: CouponSize, unit: Unit) -> Iterator[Mark]:
    """Where the wedge's thick end lies when the cut is as wide as the shop says: a long tick with that width; beside
    it ticks for a tenth of a millimetre or five thousandths of an inch more or less."""
    step = 0.1 if unit == "mm" else 0.005 * MM_PER_INCH
    away = size.slot_ends()[1] + AWAY_MM
    (a_x, a_y), (b_x, b_y) = SLOTS_AT["A"], SLOTS_AT["B"]
    for tick in TICKS:
        along = size.slot[1] - REST_MM - THROW * step * tick
        end = away + (TICK_MM if tick else LONG_TICK_MM)
        if size.tool + tick * step >= 0:
            yield line_mark([(a_x + away, a_y + along), (a_x + end, a_y + along)], fact="scale")
            yield line_mark([(b_x + along, b_y - away), (b_x + along, b_y - end)], fact="scale")
    said, along = Said(figure(size.tool, unit), "tool"), size.slot[1] - REST_MM
    beyond = away + LONG_TICK_MM + 0.8 + TEXT_MM
    yield text_mark(said, (a_x + beyond, a_y + along), turn_deg=90, anchor="middle")
    yield text_mark(said, (b_x + along, b_y - beyond), anchor="middle")
