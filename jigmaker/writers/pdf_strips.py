"""What stands on a sheet from top to bottom: strips, each with its height and a way to draw it; text broken into lines.

Millimetres. A strip is drawn from its upper left corner and is never broken; a block becomes as many as can be parted.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from jigmaker.drawing.wrapping import kept_together, wrapped
from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH
from jigmaker.writers.pdf_brush import Brush
from jigmaker.writers.pdf_fonts import BOLD, PLAIN, width

BODY_MM = (186.0, 255.0)
"""Width and height that A4 and Letter share when both keep margins of 12 mm."""
FULL_MM = BODY_MM[0]


@dataclass(frozen=True, slots=True)
class Strip:
    """`above` is the space before it, which falls away at the top of a sheet; `keeps` holds it to the next strip.

    `again` is drawn before it where it comes first on a sheet: the head of the table that goes on.
    """

    height: float
    draw: Callable[[Brush, Point], None]
    above: float = 0.0
    keeps: bool = False
    again: tuple["Strip", ...] = ()


@dataclass(frozen=True, slots=True)
class Type:
    """Font size (pt), leading (mm), weight."""

    size_pt: float
    line: float
    bold: bool = False

    def width(self, words: str) -> float:
        """Of one line, mm."""
        return width(words, BOLD if self.bold else PLAIN) * self.size_pt * MM_PER_INCH / 72

    def lines(self, words: str, room: float) -> list[str]:
        """The words in lines no wider than the room, mm; a word that is wider itself is parted. At least one line."""
        pieces = list[str]()
        for kept in kept_together(words):
            # A figure parts from its unit, and then a word within itself, only where the room is too narrow for them.
            apart = [kept] if self.width(kept) <= room else kept.split()
            pieces += [piece for word in apart for piece in self._parted(word, room)]
        return wrapped(pieces, room, self.width, self.width(" ")) or [""]

    def _parted(self, word: str, room: float) -> list[str]:
        """The word in pieces that fit the room: as a rule one."""
        if self.width(word) <= room:
            return [word]
        pieces = [""]
        for sign in word:
            if pieces[-1] and self.width(pieces[-1] + sign) > room:
                pieces.append("")
            pieces[-1] += sign
        return pieces

    def write(self, brush: Brush, at: Point, lines: Sequence[str], white: bool = False) -> None:
        """Lines under one another, from the upper left corner of the first; capitals stand in the middle of a line."""
        capital = 0.718 * self.size_pt * MM_PER_INCH / 72
        for i, line in enumerate(lines):
            baseline = at[1] - i * self.line - (self.line + capital) / 2
            brush.words((at[0], baseline), line, self.size_pt, self.bold, white)


TITLE = Type(17, 7.2, bold=True)
HEADING = Type(11.5, 5.0, bold=True)
BODY = Type(10, 4.2)
NUMBER = Type(11, 4.2, bold=True)
"""Figures to set and to check by."""
STRONG = Type(10, 4.2, bold=True)
CAPTION = Type(9, 3.7)
LABEL = Type(8, 3.3)
"""Names in the head of a sheet, and the foot."""


def words_strips(words: str, kind: Type = BODY, above: float = 1.6) -> list[Strip]:
    """A paragraph, a strip a line; neither its first nor its last line stands alone on a sheet."""
    lines = kind.lines(words, FULL_MM)
    strips = [Strip(kind.line, line_drawer(kind, line)) for line in lines]
    strips[0] = replace(strips[0], above=above)
    for i in {0, len(lines) - 2} & set(range(len(lines) - 1)):
        strips[i] = replace(strips[i], keeps=True)
    return strips


def line_drawer(kind: Type, *lines: str, indent: float = 0.0) -> Callable[[Brush, Point], None]:
    """Draws lines, moved to the right by the indent."""
    return lambda brush, at: kind.write(brush, (at[0] + indent, at[1]), lines)


def heading_strip(words: str) -> list[Strip]:
    """A heading with a rule from its end to the margin; it stays with what follows."""
    lines = HEADING.lines(words, FULL_MM)
    height = len(lines) * HEADING.line

    def draw(brush: Brush, at: Point) -> None:
        HEADING.write(brush, at, lines)
        end, level = at[0] + HEADING.width(lines[-1]) + 2.5, at[1] - height + HEADING.line / 2
        if end < at[0] + FULL_MM - 5:
            brush.line((end, level), (at[0] + FULL_MM, level), 0.35)

    return [Strip(height, draw, above=2.4, keeps=True)]


def caution_strips(words: str) -> list[Strip]:
    """A frame with a black bar and an exclamation mark; one of many lines goes on in another frame."""
    bar, pad = 9.0, 1.6
    lines = STRONG.lines(words, FULL_MM - bar - 5)

    def framed(part: list[str]) -> Strip:
        height = max(len(part) * STRONG.line + 2 * pad, bar)

        def draw(brush: Brush, at: Point) -> None:
            brush.box((at[0], at[1] - height), (FULL_MM, height), 0.6)
            brush.block((at[0], at[1] - height), (bar, height))
            sign = Type(20, height, bold=True)
            sign.write(brush, (at[0] + (bar - sign.width("!")) / 2, at[1]), ["!"], white=True)
            text_high = len(part) * STRONG.line
            STRONG.write(brush, (at[0] + bar + 2.5, at[1] - (height - text_high) / 2), part)

        return Strip(height, draw, above=2.4)

    return [framed(part) for part in parts_of(lines, 18)]


def steps_strips(items: Sequence[str]) -> list[Strip]:
    """Numbered from 1, the numbers bold in a margin of their own; a step of up to eight lines stays together."""
    indent = 3.0 + STRONG.width(f"{len(items)}.")

    def step(number: str, lines: list[str]) -> Strip:
        def draw(brush: Brush, at: Point) -> None:
            STRONG.write(brush, at, [number])
            BODY.write(brush, (at[0] + indent, at[1]), lines)

        return Strip(len(lines) * BODY.line, draw, above=0.9)

    strips: list[Strip] = []
    for number, item in enumerate(items, 1):
        first, *others = parts_of(BODY.lines(item, FULL_MM - indent), 8)
        strips += [step(f"{number}.", first), *(step("", part) for part in others)]
    return strips


def parts_of(lines: list[str], most: int) -> list[list[str]]:
    """The lines in portions of `most` lines."""
    return [lines[i : i + most] for i in range(0, len(lines), most)]
