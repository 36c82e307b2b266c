"""A leg pressed along its near wall, seen from outside the board's edge: R housing. Paper mm.

The play is drawn many times too wide, or nobody would see it.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.geometry.frames import Point
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN, Canvas
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.trestle.records import Trestle

_WIDE_MM, _COLUMN_MM, _HIGHEST_MM = 74.0, 40.0, 44.0
_PLAY = 0.09  # drawn, in widths of the leg
_BELOW = 0.7  # leg drawn below the board, in thicknesses of the board
_BEYOND = 0.6  # board drawn beyond the housing, in widths of the leg


def press_picture(trestle: Trestle) -> Picture:
    """Board's edge with its end, both walls of the housing, the leg against the near one, the play at the far one."""
    canvas, housing, thick = Canvas(), trestle.housing, trestle.job.top.thickness_mm
    wide, low = housing.width_on_arris_mm, -thick * (1 + _BELOW)
    far_end = housing.start_top_mm + wide * (1 + _BEYOND)
    scale = min(_WIDE_MM / far_end, _HIGHEST_MM / -low)

    def at(off_near: float, down: float) -> Point:
        """Paper; the board's end is at the left, as one sees it who faces the edge of an R housing."""
        # A wall runs toward the board's end on its way down: by (start top - start bottom) over the board's thickness.
        runs = (housing.start_top_mm - housing.start_bottom_mm) / thick
        return scale * (housing.start_top_mm + off_near - runs * -down), scale * down

    def on_board(x: float, down: float) -> Point:
        return scale * x, scale * down

    canvas.line([on_board(far_end, 0), on_board(0, 0), on_board(0, -thick), on_board(far_end, -thick)], OUTLINE)
    leg = wide * (1 - _PLAY)
    canvas.line([at(0, 0), at(0, low), at(leg, low), at(leg, 0), at(0, 0)], OUTLINE)
    canvas.line([at(wide, 0), at(wide, -thick)], BROKEN)
    canvas.arrow([at(0.85 * leg, -0.45 * thick), at(0.18 * leg, -0.45 * thick)], OUTLINE)
    canvas.line([at(leg, 0), at(leg, -thick)], THIN)
    names = (
        NameLabel("board's end", on_board(0, -0.5 * thick), "left"),
        NameLabel("near wall: the leg touches it all along", at(0, -0.25 * thick), "left"),
        NameLabel("press this way", at(0.5 * leg, -0.45 * thick), "right"),
        NameLabel(
            "far wall: all the play is here (drawn much too wide)", at(wide * (1 - _PLAY / 2), -0.8 * thick), "right"
        ),
    )
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("A leg pressed along its near wall")
