"""A Shop in, out come the coupon's cut files and its reading form as named bytes; nothing is written to the disk here.

Lengths in the unit of the shop's files.
"""

from jigmaker.coupon.form_text import form_text
from jigmaker.job.shop import Shop
from jigmaker.making.cut_files import lone_files
from jigmaker.papers.coupon_pictures import where_to_measure
from jigmaker.papers.reading_form import reading_form
from jigmaker.parts.coupon import coupon
from jigmaker.parts.coupon_size import coupon_size, figure
from jigmaker.sheets.place import single_part_sheet
from jigmaker.units import fixed
from jigmaker.writers.html import write_html
from jigmaker.writers.svg import write_svg

FORM, PAPER, PICTURE = "form.toml", "form.html", "where.svg"


def coupon_files(shop: Shop) -> dict[str, bytes]:
    """The cut files, then the form to fill in, to print and its picture. Raises DoesNotFit, TooNarrow."""
    unit = shop.files.unit
    part = coupon(shop, unit)
    notes = tuple(
        f"{each.name}: {f'{fixed(each.value, 2)}°' if each.unit == 'deg' else figure(each.value, unit)}, {each.why}"
        for each in part.settings
    )
    sheet = single_part_sheet(part, shop.machine.widest_cut_mm)
    return {
        **{cut.name: cut.data for cut in lone_files(sheet, shop, "Coupon", notes, "coupon")},
        FORM: form_text(shop, unit).encode(),
        PAPER: write_html(reading_form(shop, unit)),
        PICTURE: write_svg(where_to_measure(part, coupon_size(shop, unit))),
    }
