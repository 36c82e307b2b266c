"""The trestle's feet from above, with the lines over which it tips. Plan, x to the right; mm.

The near end, with the board's datum mark, lies at the right. Everything is drawn to one scale.
"""

from itertools import pairwise

from jigmaker.drawing.draft import LINE_STEP
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Outline
from jigmaker.levelling.feet import FEET
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, SMALL_MM, THIN, Canvas, Spot
from jigmaker.papers.wording import rule_text
from jigmaker.stability.stability import stability_of
from jigmaker.trestle.leg import leg_corners
from jigmaker.trestle.records import Trestle
from jigmaker.units import Unit

_LONG_MM, _HIGH_MM = 130.0, 110.0  # the most that feet and board take on the paper
_AWAY_MM, _CROSS_MM, _MARK_MM = 6.0, 3.0, 4.0
_NAME_MM = 1.2  # between a foot and its name
_WORDS_MM = 170.0


def footprint_picture(trestle: Trestle) -> Picture:
    """Feet, board, lines of tipping and the place where the weight acts, with both spreads of the feet."""
    stand, unit = stability_of(trestle), trestle.job.unit
    (x, y), canvas = stand.footprint[0], Canvas()
    spot = Spot(min(_LONG_MM / max(2 * x, trestle.job.top.length_mm), _HIGH_MM / (2 * y)))
    corners = [spot.point(p) for p in stand.footprint]
    for a, b in pairwise([*corners, corners[0]]):
        canvas.line([a, b], BROKEN)
    # The soles: seen from below, as a leg's corners run, two of the four come out clockwise.
    soles = {foot: [spot.point((foot.x * px, foot.y * py)) for px, py, _ in leg_corners(trestle)[4:]] for foot in FEET}
    for sole in soles.values():
        twice_area = sum(a[0] * b[1] - a[1] * b[0] for a, b in pairwise([*sole, sole[0]]))
        canvas.add(OUTLINE, Outline.from_points(sole if twice_area > 0 else sole[::-1]))
    # The board over the feet, thin, with the mark of its near end.
    half_length, half_width = trestle.job.top.length_mm / 2, trestle.job.top.width_mm / 2
    low, high = spot.point((-half_length, -half_width)), spot.point((half_length, half_width))
    ring = [low, (high[0], low[1]), high, (low[0], high[1])]
    canvas.add(THIN, Outline.from_points(ring))
    canvas.line([(high[0], _MARK_MM / 2), (high[0] - _MARK_MM, 0.0), (high[0], -_MARK_MM / 2)])
    canvas.words("board", (low[0] + 0.3 * (high[0] - low[0]), -SMALL_MM / 2), "middle")
    canvas.line([(-_CROSS_MM, 0.0), (_CROSS_MM, 0.0)], OUTLINE)
    canvas.line([(0.0, -_CROSS_MM), (0.0, _CROSS_MM)], OUTLINE)
    canvas.words("weight", (_CROSS_MM + 1.0, -SMALL_MM / 2))
    # Each foot's name toward the middle of the board, within the sole's inner corner: clear of the lines of tipping.
    for foot, sole in soles.items():
        in_x, in_y = (min(side * p[axis] for p in sole) - _NAME_MM for axis, side in enumerate((foot.x, foot.y)))
        base = foot.y * in_y - (SMALL_MM if foot.y > 0 else 0.0)
        canvas.words(foot.name, (foot.x * in_x, base), "right" if foot.x > 0 else "left")
    _spreads(canvas, corners, (rule_text(2 * x, unit), rule_text(2 * y, unit)))
    left, at, _, _ = canvas.bounds
    at -= 2 * LINE_STEP * SMALL_MM
    for sentence in (
        "Seen from above; the mark is on the near end. The trestle tips over the broken lines.",
        f"The board's end is {_inside(stand.end_mm, unit)} its line, the edge {_inside(stand.side_mm, unit)} its own.",
    ):
        lines = letters_wrapped(sentence, _WORDS_MM)
        canvas.words(lines, (left, at))
        at -= LINE_STEP * SMALL_MM * len(lines)
    return canvas.picture("Where the feet stand, and the lines over which the trestle tips")


def _spreads(canvas: Canvas, corners: list[Point], words: tuple[str, str]) -> None:
    """Along below, across at the left, each between the feet's outer corners."""
    (x, y), _, (low_x, low_y), _ = corners
    below, left = low_y - _AWAY_MM, canvas.bounds[0] - _AWAY_MM
    canvas.span((low_x, below), (x, below))
    canvas.span((left, low_y), (left, y))
    for end in (low_x, x):
        canvas.line([(end, low_y - 1.0), (end, below - 1.0)])
    for end in (low_y, y):
        canvas.line([(low_x - 1.0, end), (left - 1.0, end)])
    canvas.words(words[0], (0.0, below + 1.0), "middle")
    canvas.words(words[1], (left - 1.5, -SMALL_MM / 2), "right")


def _inside(mm: float, unit: Unit) -> str:
    shown = rule_text(abs(mm), unit)
    if shown.split()[0].rstrip('"') == "0":
        return "over"
    return f"{shown} {'inside' if mm > 0 else 'outside'}"
