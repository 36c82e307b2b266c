"""Single-stroke lettering: text and a place in, open strokes out, in any plane frame; mm, degrees.

Capitals, digits and signs come from the stroke table. Small letters are shown as capitals, accented capitals are put
together from letter and accent, fractions from small figures. A sign that is not known becomes a box with a cross.
"""

import unicodedata
from collections.abc import Sequence
from functools import lru_cache
from math import atan2, ceil, cos, degrees, hypot, radians, sin, tan
from typing import TYPE_CHECKING, Literal

from jigmaker.errors import OutlineError
from jigmaker.geometry.frames import Point, cos_sin
from jigmaker.geometry.outline import Arc, Bounds, Line, Segment, Stroke, bounds_of, box_of
from jigmaker.geometry.stroke_table import ACCENTS, GAP, GRID_HIGH, SAME_AS, SIGNS, UNKNOWN
from jigmaker.geometry.strokes import Strokes
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.geometry.strokes import Ints

Anchor = Literal["left", "middle", "right"]

_SHARE_LEFT = {"left": 0.0, "middle": 0.5, "right": 1.0}
_FIGURE = 0.55  # height of a fraction's figures; the bar takes the middle
_GRID_PLACES = 9
_BOX = "\ufffd"  # stands for every unknown sign
_HEAD_SLOPE = 0.35  # half width of an arrow head over its length


@dataclass(frozen=True, slots=True, eq=False)
class Glyph:
    """One sign on the grid of the stroke table: its width, and its strokes with y up and the baseline at 0.

    A sign has one glyph, which is equal to itself alone.
    """

    width: float
    strokes: tuple[Stroke, ...]


def write_text(
    text: str, at: Point, height_mm: float, turn_deg: float = 0.0, anchor: Anchor = "left"
) -> tuple[Stroke, ...]:
    """One line of text as open strokes; `at` is the left end, middle or right end of its baseline, mm.

    height_mm is the height of a capital. turn_deg turns the line anticlockwise about `at`. Blank text has no strokes.
    Raises OutlineError when height_mm is not above 0.
    """
    return letter_table(text, at, height_mm, turn_deg, anchor).strokes()


@lru_cache(maxsize=1024)
def letter_table(text: str, at: Point, height_mm: float, turn_deg: float = 0.0, anchor: Anchor = "left") -> Strokes:
    """The strokes of write_text as one table, without an object for each. A page is lettered once for all its files."""
    import numpy as np

    if not height_mm > 0:
        raise OutlineError(f"letters are {height_mm} mm high, must be above 0")
    # All letters at once: where each begins is the sum of the steps before it, and a row of the table is moved there,
    # turned and put in its place by the same few sums as every other row.
    (line, own, steps), size = _line(text), height_mm / GRID_HIGH
    lefts = np.cumsum([-_SHARE_LEFT[anchor] * text_width(text, height_mm), *(step * size for step in steps)])
    x, y = lefts[own] + size * line.pieces[:, 0:4:2], size * line.pieces[:, 1:4:2]
    cosine, sine = cos_sin(turn_deg)
    pieces = line.pieces.copy()
    pieces[:, 0:4:2] = at[0] + cosine * x - sine * y
    pieces[:, 1:4:2] = at[1] + sine * x + cosine * y
    return line.with_pieces(pieces)


def level_bounds(text: str, at: Point, height_mm: float, anchor: Anchor = "left") -> Bounds | None:
    """The box round the strokes of write_text for level letters, without the strokes; None where it has none."""
    left, size = -_SHARE_LEFT[anchor] * text_width(text, height_mm), height_mm / GRID_HIGH
    boxes = []
    for glyph in _glyphs(text):
        if box := _table(glyph)[1]:
            low_x, low_y, high_x, high_y = (size * bound for bound in box)
            boxes.append((at[0] + (left + low_x), at[1] + low_y, at[0] + (left + high_x), at[1] + high_y))
        left += (glyph.width + GAP) * size
    return box_of(boxes) if boxes else None


@lru_cache(maxsize=1024)
def _line(text: str) -> tuple[Strokes, "Ints", list[float]]:
    """The strokes of all glyphs over one another, on their grid; which glyph each piece is of, (n, 1); from the left of
    each to the left of the next."""
    import numpy as np

    glyphs = _glyphs(text)
    tables = [_table(glyph)[0] for glyph in glyphs]
    own = np.repeat(np.arange(len(glyphs)), [len(table.contour) for table in tables])
    return Strokes.joined(tables), own[:, None], [glyph.width + GAP for glyph in glyphs]


@lru_cache(maxsize=1024)
def _table(glyph: Glyph) -> tuple[Strokes, Bounds | None]:
    """A glyph's strokes and the box round them, on its grid; no box for a blank."""
    table = Strokes.of(glyph.strokes)
    return table, table.bounds if glyph.strokes else None


@lru_cache(maxsize=4096)
def text_width(text: str, height_mm: float) -> float:
    """From the left end to the right end of a line of text, mm; spaces at its ends count."""
    glyphs = _glyphs(text)
    return (sum(glyph.width for glyph in glyphs) + GAP * max(0, len(glyphs) - 1)) * height_mm / GRID_HIGH


def unknown_characters(text: str) -> tuple[str, ...]:
    """The characters that write_text can only show as a box with a cross, each once, in order."""
    unknown = [sign for sign in unicodedata.normalize("NFC", text) if _names(sign) is None]
    return tuple(dict.fromkeys(unknown))


def arrow_strokes(points: Sequence[Point], head_mm: float) -> tuple[Stroke, ...]:
    """A line through the points, and an open arrow head of length head_mm at its end, mm.

    Raises OutlineError for fewer than two points, for equal neighbours and for a head that is not above 0.
    """
    if not head_mm > 0:
        raise OutlineError(f"an arrow head is {head_mm} mm long, must be above 0")
    shaft = Stroke.from_points(points)
    (x, y), (ux, uy) = shaft.segments[-1].end, shaft.segments[-1].end_direction
    back, side = head_mm, head_mm * _HEAD_SLOPE
    left = (x - back * ux - side * uy, y - back * uy + side * ux)
    right = (x - back * ux + side * uy, y - back * uy - side * ux)
    return shaft, Stroke.from_points([left, (x, y), right])


def _glyphs(text: str) -> list[Glyph]:
    """The line's glyphs from left to right. NFC first: a letter and its accent may come as two characters."""
    found: list[Glyph] = []
    for sign in unicodedata.normalize("NFC", text):
        found += [_glyph(name) for name in _names(sign) or (_BOX,)]
    return found


@lru_cache(maxsize=1024)
def _names(sign: str) -> tuple[str, ...] | None:
    """The known signs by which one character is shown; None when there are none."""
    if unicodedata.category(sign) == "Zs":
        return (" ",)
    capitals = "".join(SAME_AS.get(c, c) for c in unicodedata.normalize("NFC", sign.upper()))
    for capital in capitals:
        if capital not in SIGNS and _fraction(capital) is None and _accented(capital) is None:
            return None
    return tuple(capitals)


def _fraction(sign: str) -> tuple[str, str] | None:
    """Numerator and denominator of a character such as ¾."""
    if not unicodedata.decomposition(sign).startswith("<fraction>"):
        return None
    over, _, under = unicodedata.normalize("NFKC", sign).partition("⁄")
    return (over, under) if over.isdigit() and under.isdigit() else None


def _accented(sign: str) -> tuple[str, str] | None:
    """Letter and accent of a character such as Å, when both are in the table."""
    letter, accent = unicodedata.normalize("NFD", sign)[:1], unicodedata.normalize("NFD", sign)[1:]
    return (letter, accent) if letter in SIGNS and accent in ACCENTS else None


@lru_cache(maxsize=1024)
def _glyph(name: str) -> Glyph:
    """The glyph of a known sign, or the box with a cross for any other."""
    if name in SIGNS:
        return _read_row(*SIGNS[name])
    if (parts := _fraction(name)) is not None:
        return _fraction_glyph(*parts)
    if (parts := _accented(name)) is not None:
        # The accent over the middle of the letter; the cell grows when the accent is the wider.
        letter = _glyph(parts[0])
        accent = _read_row(0.0, ACCENTS[parts[1]])
        low, _, high, _ = bounds_of(accent.strokes)
        width = max(letter.width, 2 * max(-low, high))
        letters = tuple(_moved(stroke, 1.0, ((width - letter.width) / 2, 0.0)) for stroke in letter.strokes)
        return Glyph(width, letters + tuple(_moved(stroke, 1.0, (width / 2, 0.0)) for stroke in accent.strokes))
    return _read_row(*UNKNOWN)


def _fraction_glyph(over: str, under: str) -> Glyph:
    """Small figures on both sides of a slanting bar."""
    strokes: list[Stroke] = []
    x = 0.0
    for figures, y in ((over, GRID_HIGH * (1 - _FIGURE)), (under, 0.0)):
        for figure in figures:
            glyph = _glyph(figure)
            strokes += [_moved(stroke, _FIGURE, (x, y)) for stroke in glyph.strokes]
            x += (glyph.width + GAP) * _FIGURE
        if figures is over:
            bar = x - GAP * _FIGURE
            strokes.append(Stroke.from_points([(bar - 0.75, 0.0), (bar + 3.25, GRID_HIGH)]))
            x = bar + 2.5
    return Glyph(x - GAP * _FIGURE, tuple(strokes))


def _read_row(width: float, row: str) -> Glyph:
    """A row of the stroke table as a glyph; the notation is told at the head of the table."""
    strokes = []
    for text in row.split("|"):
        if words := text.split():
            here, pieces = _read_point(words[0]), list[Segment]()
            for word in words[1:]:
                pieces += _turned(here, word) if word.startswith("@") else [Line(here, _read_point(word))]
                here = pieces[-1].end
            strokes.append(Stroke(tuple(pieces)))
    return Glyph(width, tuple(strokes))


def _read_point(word: str) -> Point:
    centre, _, polar = word.partition("<")
    x, y = (float(number) for number in centre.split(","))
    if not polar:
        return (x, y)
    turn_deg, radius = (float(number) for number in polar.split("*"))
    return _on_circle((x, y), radius, turn_deg)


def _turned(start: Point, word: str) -> list[Segment]:
    """The arcs from start round the centre in the word "@x,y:turn", none of them over half a turn."""
    at, _, turn = word[1:].partition(":")
    centre, turn_deg = _read_point(at), float(turn)
    # An arc object turns by half a turn at most: what turns farther is cut into equal steps, each of the bulge
    # tan(step/4).
    dx, dy = start[0] - centre[0], start[1] - centre[1]
    count = ceil(abs(turn_deg) / 180)
    step_deg, first_deg, radius = turn_deg / count, degrees(atan2(dy, dx)), hypot(dx, dy)
    stops = [start] + [_on_circle(centre, radius, first_deg + step_deg * (i + 1)) for i in range(count)]
    if abs(turn_deg) == 360:
        stops[-1] = start
    return [Arc(stops[i], stops[i + 1], tan(radians(step_deg) / 4)) for i in range(count)]


def _on_circle(centre: Point, radius: float, turn_deg: float) -> Point:
    """Rounded, so that a quarter turn ends on the grid and not beside it."""
    x, y = centre[0] + radius * cos(radians(turn_deg)), centre[1] + radius * sin(radians(turn_deg))
    return (round(x, _GRID_PLACES), round(y, _GRID_PLACES))


def _moved(stroke: Stroke, size: float, by: Point) -> Stroke:
    """The stroke scaled about the origin, then shifted."""
    return Stroke(stroke.mapped(lambda p: (p[0] * size + by[0], p[1] * size + by[1])))
