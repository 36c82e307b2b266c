"""Which font shows which sign in a PDF. Widths in parts of the font size.

Helvetica, which every reader of PDF carries, shows what WinAnsi has; Bitstream Vera, which comes with reportlab and is
embedded, some more Latin and mathematics; Symbol, which every reader carries too, Greek. An accented letter that none
of them has is put together from letter and accent. Whatever is left is shown as a box with a cross, never left out.
"""

import unicodedata
from functools import lru_cache
from itertools import groupby
from operator import attrgetter

from jigmaker.record import dataclass

PLAIN, BOLD = "Helvetica", "Helvetica-Bold"
_EMBEDDED = {PLAIN: ("Vera", "Vera.ttf"), BOLD: ("Vera-Bold", "VeraBd.ttf")}
_GREEK = "Symbol"
_NO_GLYPH = (b"\xad", b"\x7f")  # soft hyphen and delete: in the code page, but not in WinAnsi's glyphs

UNKNOWN_WIDTH = 0.62
"""Of the box that stands for a sign without a glyph, in parts of the type size."""
ACCENT_RISE = 0.195
"""How much higher an accent stands over a capital: Helvetica's capital height less its x-height, Adobe's metrics."""

# Combining marks (Unicode 0300 block) and the spacing sign that looks the same.
_ACCENTS = {
    "\u0300": "`",
    "\u0301": "´",
    "\u0302": "ˆ",
    "\u0303": "˜",
    "\u0304": "¯",
    "\u0306": "˘",
    "\u0307": "˙",
    "\u0308": "¨",
    "\u030a": "˚",
    "\u030b": "˝",
    "\u030c": "ˇ",
    "\u0327": "¸",
    "\u0328": "˛",
}
_BELOW = "¸˛"


@dataclass(frozen=True, slots=True)
class SignRun:
    """Signs of one font. `font` is None for one sign that no font shows; `accent` stands over or under the one sign.

    `reads` is what the run means where that is not its own text: a letter and accent that were put together.
    """

    font: str | None
    text: str
    width: float
    accent: "SignRun | None" = None
    rise: float = 0.0
    reads: str = ""


@lru_cache(maxsize=4096)
def runs(text: str, face: str) -> tuple[SignRun, ...]:
    """The text in glyphs; `face` is PLAIN or BOLD. Line ends and other controls become spaces."""
    joined: list[SignRun] = []
    glyphs = [_glyph(sign, face) for sign in unicodedata.normalize("NFC", text)]
    for (font, reads), run in groupby(glyphs, key=attrgetter("font", "reads")):
        alike = tuple(run)
        text, width = "".join(glyph.text for glyph in alike), sum(glyph.width for glyph in alike)
        joined += alike if reads else (SignRun(font, text, width),)
    return tuple(joined)


@lru_cache(maxsize=8192)
def width(text: str, face: str) -> float:
    """Width of the text in parts of the type size."""
    return sum(_glyph(sign, face).width for sign in unicodedata.normalize("NFC", text))


@lru_cache(maxsize=4096)
def _glyph(sign: str, face: str) -> SignRun:
    if unicodedata.category(sign) in ("Cc", "Zl", "Zp", "Zs"):
        sign = " "
    if (font := _font_with(sign, face)) is not None:
        return SignRun(font, sign, _advance(sign, font))
    # NFD takes a sign apart into its letter and combining marks. It is put together from letter and accent where it is
    # just these two and both have a glyph. Helvetica's accents stand over small letters; over capitals and letters as
    # high they are raised by the difference of their heights.
    parts = unicodedata.normalize("NFD", sign)
    if len(parts) == 2 and parts[1] in _ACCENTS:
        letter, accent = parts[0], _ACCENTS[parts[1]]
        font, over = _font_with(letter, face), _font_with(accent, face)
        if font is not None and over is not None:
            is_high = (letter.isupper() or letter in "bdfhklt") and accent not in _BELOW
            mark = SignRun(over, accent, _advance(accent, over))
            return SignRun(font, letter, _advance(letter, font), mark, ACCENT_RISE if is_high else 0.0, sign)
    return SignRun(None, "?", UNKNOWN_WIDTH, reads=sign)


def _font_with(sign: str, face: str) -> str | None:
    """The first font that shows the sign; None when none does."""
    if sign.encode("cp1252", "ignore") not in (b"", *_NO_GLYPH):
        return face
    name, _ = _EMBEDDED[face]
    if ord(sign) < 0xFFFE and ord(sign) in _embedded(face).face.charToGlyph:
        return name
    from reportlab.pdfbase.pdfmetrics import getFont

    try:
        sign.encode(getFont(_GREEK).encName)
    except UnicodeEncodeError:
        return None
    return _GREEK


@lru_cache(maxsize=2)
def _embedded(face: str):  # type: ignore[no-untyped-def]
    """The embedded font beside a face, known to reportlab from now on."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(*_EMBEDDED[face])
    registerFont(font)
    return font


def _advance(sign: str, font: str) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(sign, font, 1000)) / 1000
