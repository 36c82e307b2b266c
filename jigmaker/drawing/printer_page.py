"""A page as it goes to a printer that may stretch: a picture of what is to lie on the paper, and the printer's error.

Picture frame, mm as measured on the print; the writer of the page divides by `printed`, so that the print is right.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.errors import OutOfRange
from jigmaker.geometry.frames import Point
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.record import dataclass


@dataclass(frozen=True, slots=True)
class PrinterPage:
    """`picture`: what is to be measured on the print, its lower left the page's. `page_mm`: the paper, as it is read.

    `printed`: length that comes out of the printer over length drawn, along the page's x and y. Raises OutOfRange for a
    picture that is larger than what comes out.
    """

    picture: Picture
    page_mm: Point
    printed: Point = (1.0, 1.0)

    def __post_init__(self) -> None:
        sizes = (self.picture.width_mm, self.picture.height_mm)
        out = tuple(side * printed for side, printed in zip(self.page_mm, self.printed, strict=True))
        if any(size > side + TOUCH_MM for size, side in zip(sizes, out, strict=True)):
            raise OutOfRange(
                f'picture "{self.picture.title}" is {sizes[0]} x {sizes[1]} mm, larger than the {out[0]} x {out[1]} mm '
                "that its page comes out as; take larger paper"
            )
