"""The coupon's reading form to print, on one page of A4 or Letter. User's unit."""

from jigmaker.coupon.stations import INSIDE, TIMES, stations
from jigmaker.drawing.page import BOX, Figures, Page, Table, Words
from jigmaker.job.shop import Shop
from jigmaker.papers.coupon_pictures import signs_of_skew, where_to_measure
from jigmaker.parts.coupon import coupon
from jigmaker.parts.coupon_size import coupon_size, figure
from jigmaker.parts.witness import DRAWN_MM
from jigmaker.units import Unit, length_text

_WHERE_MM, _SIGNS_MM = 112.0, 36.0


def reading_form(shop: Shop, unit: Unit) -> Page:
    """What to measure, with which tool, three times each. Raises DoesNotFit when the cut is too wide for a coupon."""
    part, size, boxes = coupon(shop, unit), coupon_size(shop, unit), (BOX,) * TIMES
    tool = "kerf" if shop.machine.kind == "laser" else "cutter"
    drawn = f"{tool} {figure(shop.machine.tool_mm, unit)}, sheet {figure(shop.sheet.thickness_mm, unit)}"
    lead = Words(
        f"Cut one coupon, unturned on the bed, from {shop.sheet.material} ({drawn} {unit}); pencil A and B on the "
        "wedges as they lie. On a flat table put each into its slot, as it lay, and push with one finger until it "
        f"stops. Measure every place {TIMES} times: take the piece up and set the caliper anew each time."
    )
    below = "Marks in sight, cut-off corner lower left. C: slide a narrow offcut along the straight wall, gently."
    signs = (signs_of_skew(), _SIGNS_MM, "The sign of skew.")
    figures = Figures(((where_to_measure(part, size), _WHERE_MM, below), signs))
    rows = [(each.name, f"{each.tool}: {each.how}", figure(each.drawn_mm, unit), *boxes) for each in stations(size)]
    if size.gap:
        rows += [
            (f"C, {face}", f"{INSIDE}: narrow end to offcut, {up}", "", *boxes)
            for face, up in (("marked face", "marks up"), ("other face", "marks down"))
        ]
    how = f"caliper: between the two lines' far ends, {length_text(DRAWN_MM[unit], unit)} from their common point"
    rows.append(("Turn-over test", how, "", *boxes))
    table = Table(("place", "with what, and how", f"drawn, {unit}", "1", "2", "3"), tuple(rows))
    closing = (
        f"Which file was cut: [  ] with {tool} in its name   [  ] finished-size.   Added by the machine's own "
        f"program: ______ {unit}.   Turn-over test, if made: the line drawn with the marks in sight leans [  ] "
        "right [  ] left; the plate lay [  ] unturned [  ] quarter turn.",
        "Copy the figures into form.toml, then: jigmaker coupon --read form.toml. Drawn sizes are no targets. "
        "Where a wedge does not come to rest, mend the width of the cut in the shop file and cut again.",
    )
    return Page("Coupon: reading form", (lead, figures, table, *map(Words, closing)))
