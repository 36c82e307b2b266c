"""Templates: pictures at 1:1 with their lower left at (0, 0), and what they are made with. mm.

Its title is its name, its notes are sentences for laying it on: which face, which hand, from where.
"""

from collections.abc import Sequence
from functools import lru_cache

from jigmaker.drawing.draft import WORDS_MM, Draft, text_box
from jigmaker.drawing.picture import Label, Picture
from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.geometry.outline import Bounds, Outline, Stroke, bounds_of
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.papers.drawings.pens import DIMENSIONS
from jigmaker.papers.drawings.scaled_draft import ViewSide
from jigmaker.papers.full_size.pens import LAYERS

LINE_MM = 1.7 * WORDS_MM
"""From one line of words to the next."""

AIR_MM = 1.0
"""Between words and the border of a tile."""

_ARROW_MM, _HEAD_MM, _OFF_MM, _BESIDE_MM = 9.0, 3.0, 0.8, 2.0
_SHARE = 0.25


def template(name: str, words: Sequence[str], draft: Draft) -> Picture:
    """The draft moved to the lower left."""
    low_x, low_y, high_x, high_y = draft.bounds
    moved = draft.moved((-low_x, -low_y))
    return Picture(
        title=name,
        width_mm=high_x - low_x,
        height_mm=high_y - low_y,
        layers=LAYERS,
        shapes=tuple(moved.shapes),
        notes=tuple(words),
        labels=tuple(moved.labels),
    )


@lru_cache(maxsize=4096)
def label_box(label: Label) -> Bounds:
    """(x low, y low, x high, y high) of a label's words."""
    return text_box(label).bounds


def label_room(label: Label, picture: Picture) -> Bounds:
    """The box of a label with air round it, as far as the picture goes: so much must be on a tile that shows it."""
    low_x, low_y, high_x, high_y = label_box(label)
    return (
        max(0.0, low_x - AIR_MM),
        max(0.0, low_y - AIR_MM),
        min(picture.width_mm, high_x + AIR_MM),
        min(picture.height_mm, high_y + AIR_MM),
    )


def rectangle(box: Bounds) -> Outline:
    """A box as an outline, anticlockwise."""
    low_x, low_y, high_x, high_y = box
    return Outline.from_points([(low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)])


def halves(angle: str) -> tuple[str, str]:
    """An angle as papers/wording.py words it, its complement on a line of its own."""
    first, _, rest = angle.partition(" (")
    return first, f"({rest}"


def point_at(draft: Draft, side: ViewSide, words: str) -> None:
    """An arrow to that side of all that is drawn so far, and beside its shaft what the side is.

    It points at the longest straight line on that side, not at its middle, where tiles are likely to meet.
    """
    box = bounds_of(drawn.shape for drawn in draft.shapes)
    # A quarter along the longest straight piece that lies on that side of the box; the side's middle without one.
    # axis 1: a side that is level, above or below; axis 0: an upright one. `level` is where that side of the box lies.
    axis = 1 if side in ("below", "above") else 0
    level = box[axis] if side in ("below", "left") else box[axis + 2]
    chains = [drawn.shape for drawn in draft.shapes if isinstance(drawn.shape, Outline | Stroke)]
    pieces = [segment for chain in chains for segment in chain.segments if not segment.bulge]
    there = [s for s in pieces if max(abs(s.start[axis] - level), abs(s.end[axis] - level)) < TOUCH_MM]
    along = (box[1 - axis] + box[3 - axis]) / 2
    if there:
        longest = max(there, key=lambda s: round(s.length, 6))
        low, high = sorted((longest.start[1 - axis], longest.end[1 - axis]))
        along = low + _SHARE * (high - low)
    x, y = (along, level) if axis else (level, along)
    away_x, away_y = _AWAY[side]
    ends = [(x + away_x * far, y + away_y * far) for far in (_OFF_MM + _ARROW_MM, _OFF_MM)]
    draft.add(DIMENSIONS, *arrow_strokes(ends, _HEAD_MM))
    # Beside the shaft, level for an arrow that stands, upright for one that lies: clear of it and of the template.
    tail = ends[0]
    if away_y:
        low = min(tail[1], ends[1][1]) + (_ARROW_MM - WORDS_MM) / 2
        draft.words(words, (tail[0] + _BESIDE_MM, low))
    else:
        at = (tail[0] + (WORDS_MM if away_x > 0 else 0.0), tail[1] + _BESIDE_MM)
        draft.words(words, at, turn_deg=90.0)


_AWAY: dict[ViewSide, tuple[int, int]] = {"below": (0, -1), "above": (0, 1), "left": (-1, 0), "right": (1, 0)}
