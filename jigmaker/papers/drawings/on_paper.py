"""Which paper and which scale: a drawing that can be put together at any scale in, the finished picture out; paper mm.

The shop's own paper is taken and the largest scale of ISO 5455 at which the drawing fits it, its views beside each
other as the method of projection has them or, where that is too wide, one below the other under their names.
"""

from collections.abc import Callable

from jigmaker.drawing.picture import Picture
from jigmaker.job.shop import PaperSize
from jigmaker.papers.drawings.draft import Draft
from jigmaker.papers.drawings.pens import LAYERS
from jigmaker.papers.drawings.title_block import DrawingPaper, Head, draw_sheet, scale_text

SCALES = (2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100)
"""ISO 5455: the scales of drawings, those that timber needs."""

_AIR_MM = 4.0  # between the frame and the nearest thing drawn

Composer = Callable[[float, bool], Draft]
"""Draws at a scale, all its views in their places or those beside the main one below it (True); lying anywhere."""


def finish(compose: Composer, head: Head, size: PaperSize) -> Picture:
    """The drawing on paper of that size."""
    paper, tries = DrawingPaper(size), [(scale, is_below) for scale in SCALES for is_below in (False, True)]
    for scale, is_below in tries:
        draft = compose(scale, is_below)
        if _fits(draft, paper) or (scale, is_below) == tries[-1]:
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
