"""Which paper and which scale: a drawing that can be put together at any scale in, the finished picture out; paper mm.

The largest scale of ISO 5455 at which it fits the shop's own paper is taken, if that is large enough to be read; else
the larger sheet of the same family is.
"""

from collections.abc import Callable

from jigmaker.drawing.picture import Picture
from jigmaker.job.shop import PaperSize
from jigmaker.papers.drawings.draft import Draft
from jigmaker.papers.drawings.pens import LAYERS
from jigmaker.papers.drawings.title_block import DrawingPaper, Head, draw_sheet, scale_text

SCALES = (2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100)
"""ISO 5455: the scales of drawings, those that timber needs."""

_LARGER: dict[PaperSize, PaperSize] = {"A4": "A3", "Letter": "Tabloid"}
_AIR_MM = 4.0  # between the frame and the nearest thing drawn

Composer = Callable[[float], Draft]


def finish(compose: Composer, head: Head, size: PaperSize, least: float) -> Picture:
    """The drawing on paper. `compose` gives it at a scale, lying anywhere; `least` is the smallest scale to be read.

    Where even the large sheet asks for a smaller scale, that is taken, on the shop's own paper if it fits that.
    """
    papers = [DrawingPaper(each) for each in (size, _LARGER.get(size)) if each is not None]
    tries = [(paper, scale) for paper in papers for scale in SCALES if scale >= least * 0.999]
    tries += [(paper, scale) for scale in SCALES if scale < least * 0.999 for paper in papers]
    drafts: dict[float, Draft] = {}
    for paper, scale in tries:
        draft = drafts[scale] if scale in drafts else drafts.setdefault(scale, compose(scale))
        if _fits(draft, paper) or (paper, scale) == tries[-1]:
            return _picture(draft, paper, head)
    raise AssertionError("the last try is always taken")


def _fits(draft: Draft, paper: DrawingPaper) -> bool:
    low_x, low_y, high_x, high_y = draft.bounds
    field = paper.field
    return high_x - low_x <= field[2] - field[0] - 2 * _AIR_MM and high_y - low_y <= field[3] - field[1] - 2 * _AIR_MM


def _picture(draft: Draft, paper: DrawingPaper, head: Head) -> Picture:
    """The draft in the middle of the field, with frame and title block."""
    (low_x, low_y, high_x, high_y), field = draft.bounds, paper.field
    middle = ((field[0] + field[2] - low_x - high_x) / 2, (field[1] + field[3] - low_y - high_y) / 2)
    placed = draft.moved(middle)
    draw_sheet(placed, paper, head)
    width, height = paper.page_mm
    return Picture(
        title=f"{head.job}: {head.title}",
        width_mm=width,
        height_mm=height,
        layers=LAYERS,
        shapes=tuple(placed.shapes),
        notes=(f"drawing {head.number}, scale {scale_text(draft.scale)} on {paper.size}",),
        labels=tuple(placed.labels),
        dimensions=tuple(placed.dimensions),
        scale=draft.scale,
    )
