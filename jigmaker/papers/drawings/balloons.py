"""Item numbers in circles, with leaders that end on the items. Paper frame; mm."""

from collections.abc import Sequence
from math import hypot

from jigmaker.drawing.draft import Draft
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Circle
from jigmaker.papers.drawings.pens import DIMENSIONS, NUMBERS

RADIUS_MM, APART_MM = 3.6, 10.0
_DOT_MM, _LETTER_MM = 0.4, 3.5


def draw_balloons(draft: Draft, targets: Sequence[tuple[int, Point]], level: float) -> None:
    """Circles in a row on that level, in the order of their targets from left to right, so that no leaders cross.

    Every leader ends in a dot on its item.
    """
    # Where targets stand closer than circles may, circles are pushed to the right.
    ordered = sorted(targets, key=lambda each: each[1])
    places: list[float] = []
    for _, (x, _) in ordered:
        places.append(max([x, *(place + APART_MM for place in places[-1:])]))
    for (number, target), x in zip(ordered, places, strict=True):
        size = hypot(target[0] - x, target[1] - level)
        start = (x + (target[0] - x) * RADIUS_MM / size, level + (target[1] - level) * RADIUS_MM / size)
        draft.add(DIMENSIONS, Circle((x, level), RADIUS_MM), Circle(target, _DOT_MM))
        draft.line([start, target], DIMENSIONS)
        draft.words(str(number), (x, level - _LETTER_MM / 2), "middle", _LETTER_MM, NUMBERS)
