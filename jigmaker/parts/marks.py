"""Marks scored on a part: text or points in, Mark out. Part frame; mm, degrees."""

from collections.abc import Sequence

from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.lettering import Anchor, letter_table, text_width
from jigmaker.geometry.outline import Stroke
from jigmaker.geometry.strokes import Strokes
from jigmaker.parts.part import Mark

TEXT_MM = 3.5
"""Least height of letters that a laser scores and a maker reads at arm's length."""

_SHARE_LEFT = {"left": 0.0, "middle": 0.5, "right": 1.0}


def text_mark(text: str, at: Point, height_mm: float = TEXT_MM, turn_deg: float = 0.0, anchor: Anchor = "left") -> Mark:
    """Text in single-stroke letters; `at` is the left end, middle or right end of its baseline, part frame, mm.

    turn_deg turns it anticlockwise about `at`. The Mark's own `at` is always the left end of the baseline.
    """
    turned = PlaneFrame(at[0], at[1], turn_deg)
    left = turned.point((-_SHARE_LEFT[anchor] * text_width(text, height_mm), 0.0))
    return Mark(
        text, left, height_mm, turn_deg, letter_table(text, left, height_mm, turn_deg), getattr(text, "fact", "")
    )


def line_mark(*lines: Sequence[Point], fact: str = "") -> Mark:
    """Plain scored lines, each through its own points in order, as one mark; part frame, mm."""
    return drawn_mark([Stroke.from_points(points) for points in lines], fact)


def drawn_mark(strokes: Sequence[Stroke], fact: str = "") -> Mark:
    """Strokes of any kind as one mark, such as an arrow, by what it is in mark_list; part frame, mm."""
    return Mark("", strokes[0].segments[0].start, 0.0, 0.0, Strokes.of(strokes), fact)
