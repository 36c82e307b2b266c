"""Check bars: whether the printer printed at full size, and what to do when it did not. mm as printed.

A bar of 100 mm and one of 4 in along both axes, each named by the key that corrects its direction.
"""

from jigmaker.drawing.draft import Draft
from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Stroke
from jigmaker.papers.full_size.pens import BARS
from jigmaker.papers.full_size.printer_paper import PrinterPaper
from jigmaker.units import MM_PER_INCH, text

BARS_MM = (136.0, 12.0)
"""Room for both bars and their names: along them and across them."""

_MM_BAR, _INCH_BAR = 100.0, 4 * MM_PER_INCH
_LEVELS = (7.5, 2.0)
_TICK_MM, _END_MM, _NAME_MM = 1.5, 3.0, 104.5


def draw_bars(draft: Draft, at: Point, turn_deg: float, key: str) -> None:
    """Both bars from `at`, running along x or, turned 90, along y."""
    frame = PlaneFrame(*at, turn_deg)
    for level, length, step, name in (
        (_LEVELS[0], _MM_BAR, 10.0, "100 mm"),
        (_LEVELS[1], _INCH_BAR, MM_PER_INCH, "4 in"),
    ):
        #    |                     |    ends longer than ticks
        #    | | | | | | | | | | | |
        #    |_____________________| 100 mm, scale_x
        count = round(length / step)
        draft.add(BARS, Stroke.from_points([(0.0, level), (length, level)]).placed(frame))
        for i in range(count + 1):
            high = _END_MM if i in (0, count) else _TICK_MM
            draft.add(BARS, Stroke.from_points([(i * step, level), (i * step, level + high)]).placed(frame))
        draft.words(f"{name}, {key}", frame.point((_NAME_MM, level)), turn_deg=turn_deg)


def bar_words(paper: PrinterPaper) -> tuple[str, ...]:
    """What to do with the bars, what the page is corrected for, and how to correct it."""
    stock = paper.stock
    scales = f"scale_x = {text(stock.scale_x, 4)}, scale_y = {text(stock.scale_y, 4)}"
    is_corrected = (stock.scale_x, stock.scale_y) != (1.0, 1.0)
    told = f"Drawn for a printer with {scales}." if is_corrected else f"Not corrected: {scales}."
    times = "; multiply it by the scale told here" if is_corrected else ""
    return (
        "Print at 100 %, never fitted to the page, then measure the bars, both ways.",
        f"{told} Bars off? Divide what you measure by what the bar is (99.5 / 100 is 0.995){times}, write it after the "
        "bar's key under [paper] in shop.toml, make and print again.",
    )
