"""The paper in the shop's printer, upright or lying, and where on it may be drawn; mm as they come out of the printer.

A printer that stretches gives more or less than what is drawn, so its page is reckoned as large as it comes out.
"""

from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Bounds
from jigmaker.job.shop import PAPER_MM, Paper, PaperSize
from jigmaker.record import dataclass

EDGE_MM = 8.0
"""Nothing is drawn nearer to the paper's edge: printers do not reach it (common practice, no source)."""

_LIKE: dict[PaperSize, PaperSize] = {"A4": "Letter", "Letter": "A4", "A3": "Tabloid", "Tabloid": "A3"}


@dataclass(frozen=True, slots=True)
class PrinterPaper:
    """The shop's paper as it is read: upright, or lying on its long side."""

    stock: Paper
    lies: bool

    @property
    def page_mm(self) -> Point:
        """Width and height as drawn."""
        return self._read(self.stock.page_mm)

    @property
    def printed(self) -> Point:
        """Length that comes out over length drawn, along x and y; the shop gives scales for an upright page."""
        return self._read((self.stock.scale_x, self.stock.scale_y))

    @property
    def scale_names(self) -> tuple[str, str]:
        """The keys that correct x and y."""
        return ("scale_y", "scale_x") if self.lies else ("scale_x", "scale_y")

    @property
    def field(self) -> Bounds:
        """All of it but the edges."""
        return self._field((0.0, 0.0))

    @property
    def shared_field(self) -> Bounds:
        """What also gets printed on the like paper of the other family, A4 or Letter, wherever that puts the page."""
        return self._field(self.lost_on_other)

    @property
    def other(self) -> PaperSize:
        """The like paper of the other family."""
        return _LIKE[self.stock.size]

    @property
    def lost_on_other(self) -> Point:
        """How far the like paper of the other family is short of this one, along x and y; 0 where it is not."""
        own, other = self.stock.page_mm, PAPER_MM[self.other]
        return self._read((max(0.0, own[0] - other[0]), max(0.0, own[1] - other[1])))

    def _field(self, less: Point) -> Bounds:
        (width, height), (x, y) = self.page_mm, self.printed
        low = (EDGE_MM + less[0], EDGE_MM + less[1])
        return (low[0] * x, low[1] * y, (width - low[0]) * x, (height - low[1]) * y)

    def _read(self, upright: Point) -> Point:
        return upright[::-1] if self.lies else upright
