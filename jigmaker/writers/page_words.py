"""What writers of pages agree on about words: which cells are figures, and which signs can be written at all."""

import re

SHORT, LONG = 24, 48
"""Signs: up to SHORT a value is set as large as a number; above LONG it is a sentence, and set like one."""

_NUMBER = re.compile(r'[±+−-]?\d(?:.{0,13}|[\d./ ×m"°]{0,23})')
# XML 1.0, production Char, which HTML shares: everything else cannot be brought into a document by any escape.
_UNPRINTABLE = re.compile("[^\t\n\r -\x7e\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def is_number(cell: str) -> bool:
    """True for a short figure, with sign, unit or limit: "28.10", "±0.1°", "508 mm × 231.3 mm"; it is set larger."""
    return _NUMBER.fullmatch(cell) is not None


def printable(words: str) -> str:
    """The words with a replacement sign, U+FFFD, for every control and every half of a pair."""
    return _UNPRINTABLE.sub("\ufffd", words)
