"""Pictures at full size as PDF: 1 mm of a picture is 1 mm on the page, y up.

The picture's lower left is the page's lower left. Coordinates of shapes read back within 0.0001 mm.
"""

from collections.abc import Sequence

from jigmaker.drawing.picture import Picture
from jigmaker.errors import OutOfRange
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_pen import draw_picture


def write_picture_pdf(picture: Picture, page_mm: tuple[float, float] | None = None) -> bytes:
    """One picture on one page, its own size or page_mm wide and high. Raises OutOfRange when it is larger than that."""
    return write_pictures_pdf((picture,), picture.title, page_mm)


def write_pictures_pdf(
    pictures: Sequence[Picture], title: str, page_mm: tuple[float, float] | None = None
) -> bytes:  # fmt: skip
    """A page for each picture, in order; same pictures, same bytes.

    Every page is page_mm wide and high, or as large as its own picture. Each has its picture's title in the reader's
    list of contents. Raises OutOfRange for no pictures, and for one that is larger than its page.
    """
    if not pictures:
        raise OutOfRange("a PDF has no pages, must have at least one picture")
    for picture in pictures:
        if page_mm and (picture.width_mm > page_mm[0] + TOUCH_MM or picture.height_mm > page_mm[1] + TOUCH_MM):
            raise OutOfRange(
                f'picture "{picture.title}" is {picture.width_mm} x {picture.height_mm} mm, '
                f"larger than its page of {page_mm[0]} x {page_mm[1]} mm; take larger paper"
            )
    brush = Brush(title, page_mm or (pictures[0].width_mm, pictures[0].height_mm))
    for number, picture in enumerate(pictures, 1):
        brush.size(page_mm or (picture.width_mm, picture.height_mm))
        brush.mark(picture.title, f"page-{number}")
        draw_picture(brush, picture)
        brush.next_page()
    return brush.finish()
