"""Words broken into lines of a width, by any font's measure. A figure stays with its unit."""

import re
from collections.abc import Callable, Iterable

from jigmaker.drawing.draft import WORDS_MM
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.stroke_table import GAP, GRID_HIGH

_BETWEEN = re.compile(r"\s+(?!mm\b|×|\d+/\d)")


def kept_together(words: str) -> list[str]:
    """The words; a figure with its unit or its fraction, and with the sign "×" after it, is one of them."""
    return _BETWEEN.split(words.strip()) if words.strip() else []


def wrapped(words: Iterable[str], room: float, width: Callable[[str], float], space: float) -> list[str]:
    """As many words in each line as the room holds; one that is wider has a line for itself.

    `width`: of one word; `space`: between two of them.
    """
    lines, used = list[str](), 0.0
    for word in words:
        wide = width(word)
        if lines and used + space + wide <= room:
            lines[-1], used = f"{lines[-1]} {word}", used + space + wide
        else:
            lines.append(word)
            used = wide
    return lines


def letters_wrapped(words: str, room_mm: float, height_mm: float = WORDS_MM) -> tuple[str, ...]:
    """Words in lines of single-stroke letters that are no wider than the room."""
    # Between two words stands a blank, and the gap between two signs before and after it.
    space = text_width(" ", height_mm) + 2 * GAP * height_mm / GRID_HIGH
    return tuple(wrapped(kept_together(words), room_mm, lambda word: text_width(word, height_mm), space))
