"""The page map: how tiles lie together, and which of them this page is. Page frame; mm."""

from jigmaker.drawing.draft import Draft
from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Bounds, Outline, piece
from jigmaker.papers.full_size.pens import CUT, HERE, MAP
from jigmaker.papers.full_size.template import rectangle
from jigmaker.papers.full_size.tiling import Tiling

_LEAST_MM = 0.8  # what comes out smaller than that is left out


def draw_map(draft: Draft, box: Bounds, picture: Picture, tiling: Tiling, here: tuple[int, int]) -> None:
    """The template's closed lines and all windows, as large as the box allows, at its upper right; a cross is here."""
    share = min((box[2] - box[0]) / picture.width_mm, (box[3] - box[1]) / picture.height_mm)
    low = (box[2] - share * picture.width_mm, box[3] - share * picture.height_mm)

    def at(p: Point) -> Point:
        return (low[0] + share * p[0], low[1] + share * p[1])

    for contour in (drawn.shape for drawn in picture.shapes if drawn.layer == CUT and isinstance(drawn.shape, Outline)):
        if max(contour.bounds[2] - contour.bounds[0], contour.bounds[3] - contour.bounds[1]) * share > _LEAST_MM:
            draft.add(MAP, Outline(tuple(piece(at(s.start), at(s.end), s.bulge) for s in contour.segments)))
    for column in range(len(tiling.columns)):
        for row in range(len(tiling.rows)):
            window = tiling.window(column, row)
            small = (*at(window[:2]), *at(window[2:]))
            draft.add(MAP, rectangle(small))
            if (column, row) == here:
                draft.add(HERE, rectangle(small))
                low_x, low_y, high_x, high_y = small
                draft.line([(low_x, low_y), (high_x, high_y)], MAP)
                draft.line([(low_x, high_y), (high_x, low_y)], MAP)
