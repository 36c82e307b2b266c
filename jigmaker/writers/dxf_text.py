"""Text of a DXF file: the comments at its head, words in 7-bit ASCII, and every real number as six plain decimals."""

import re
import textwrap
import unicodedata
from functools import lru_cache

from jigmaker.drawing.picture import Picture
from jigmaker.units import Unit, text

# R12 readers take 255 characters a line.
_LINE = 240

_SAID_AS = {
    "°": " deg",
    "±": "+/-",
    "×": "x",
    "Ø": "dia ",
    "ø": "dia ",
    "⌀": "dia ",
    "ß": "ss",
    "Æ": "AE",
    "æ": "ae",
    "Œ": "OE",
    "œ": "oe",
    "Ł": "L",
    "ł": "l",
    "–": "-",
    "—": "-",
    "−": "-",
    "’": "'",
    "‘": "'",
    "“": '"',
    "”": '"',
    "⁄": "/",
}

_CODE_PAGE = "cp1252"  # $DWGCODEPAGE ANSI_1252
_NOT_ASCII = re.compile(r"[^\x00-\x7f]")

# DXF reference, "Group Code Value Types": the codes whose value is a real number, as they stand in a file.
_REAL_NUMBERS = (*range(10, 60), *range(110, 150), *range(210, 240), *range(460, 470), *range(1010, 1060))
_REAL_CODES = frozenset(f"{code:>3}" for code in _REAL_NUMBERS)

_UNIT_WORDS: dict[Unit, str] = {"mm": "1 drawing unit = 1 mm", "in": "1 drawing unit = 1 inch (25.4 mm)"}


def comments(picture: Picture, version: str, unit: Unit) -> str:
    """Title, version, unit and notes as 999 comments, to stand before the first section.

    R12 knows no variable for the unit, so a comment states it, for people and for readers that follow the standard.
    """
    notes = [note for note in picture.notes if note != picture.title]  # which may head them where they are drawn
    said = [picture.title, f"DXF {version}, {_UNIT_WORDS[unit]}", *notes]
    return "".join(f"999\n{line}\n" for words in said for line in textwrap.wrap(plain_ascii(words), _LINE))


def plain_ascii(words: str) -> str:
    """Words in printable 7-bit ASCII: signs spelled out, accents dropped, anything else "?"."""
    # A fraction keeps its distance from the whole number before it: 2¾ is 2 3/4, not 23/4.
    signs = [
        " " + unicodedata.normalize("NFKD", sign).replace("⁄", "/")
        if unicodedata.decomposition(sign).startswith("<fraction>")
        else _SAID_AS.get(sign, sign)
        for sign in words
    ]
    # NFKD parts letters from their accents, which are then dropped: "ä" is written as "a".
    spelled = unicodedata.normalize("NFKD", "".join(signs))
    kept = (sign for sign in spelled if not unicodedata.combining(sign))
    return "".join(sign if " " <= sign <= "~" else " " if sign.isspace() else "?" for sign in kept)


def file_bytes(written: str) -> bytes:
    r"""A whole file: other signs than ASCII, which layer names may hold, by the code page that its header names.

    What that lacks is spelled \U+5916, as DXF does from R2000 on.
    """
    return _NOT_ASCII.sub(_in_code_page, written).encode(_CODE_PAGE)


def _in_code_page(found: re.Match[str]) -> str:
    try:
        found[0].encode(_CODE_PAGE)
    except UnicodeEncodeError:
        return f"\\U+{ord(found[0]):04X}"
    return found[0]


def plain_numbers(written: str) -> str:
    """The DXF text with every real number rounded to six decimals: no exponent, no "-0"."""
    lines = written.split("\n")
    # Group codes and values take turns.
    lines[1::2] = [
        _real(value) if code in _REAL_CODES else value for code, value in zip(lines[::2], lines[1::2], strict=False)
    ]
    return "\n".join(lines)


def real(value: float) -> str:
    """A real number as it stands in a file: at most six decimals, at least one."""
    written = text(value)
    return written if "." in written else f"{written}.0"


@lru_cache(maxsize=4096)
def _real(written: str) -> str:
    return real(float(written))
