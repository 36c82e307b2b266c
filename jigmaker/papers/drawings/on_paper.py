"""Puts a drawing on the shop's paper at the largest scale that fits. Page frame; paper mm.

The shop's own paper is taken and the largest scale of ISO 5455 at which the drawing fits it, its views beside each
other as the method of projection has them or, where that is too wide, one below the other under their names; a view
without sizes is left out where the others are then larger.
"""

from collections.abc import Callable
from itertools import product

from jigmaker.drawing.picture import Picture
from jigmaker.job.shop import PaperSize
from jigmaker.papers.drawings.pens import LAYERS
from jigmaker.papers.drawings.scaled_draft import ScaledDraft
from jigmaker.papers.drawings.title_block import DrawingPaper, Head, draw_frame, scale_text

SCALES = (2.0, 1.0, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100)
"""ISO 5455: the scales of drawings, those that timber needs."""

_AIR_MM = 4.0  # between the frame and the nearest thing drawn

BESIDE, BELOW, FEWER = 0, 1, 2
"""Ways to lay views out: all in their places; those beside the main one below it; below, and only views with sizes."""

Composer = Callable[[float, int], ScaledDraft]
"""Draws at a scale in one of these ways; lying anywhere."""


def finish(compose: Composer, head: Head, size: PaperSize, ways: tuple[int, ...] = (BESIDE, BELOW)) -> Picture:
    """The drawing on paper of that size, its views laid out in the first of these ways that the scale allows."""
    paper = DrawingPaper(size)
    for scale, way in product(SCALES, ways):
        draft = compose(scale, way)
        (low_x, low_y, high_x, high_y), field = draft.bounds, paper.field
        room_x, room_y = field[2] - field[0] - 2 * _AIR_MM, field[3] - field[1] - 2 * _AIR_MM
        if high_x - low_x <= room_x and high_y - low_y <= room_y:
            break
    # In the middle of the field; at the smallest scale also where it does not fit.
    placed = draft.moved(((field[0] + field[2] - low_x - high_x) / 2, (field[1] + field[3] - low_y - high_y) / 2))
    draw_frame(placed, paper, head)
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
