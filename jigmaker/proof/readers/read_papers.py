"""Papers as text in, the facts in them out: those of an HTML page with their names, a cut list's rows. No pictures.

Of a page only what bears a name is read; its pictures are lines, which nobody can read back.
"""

import csv
import re
from html import unescape
from io import StringIO

from jigmaker.proof.words.figures import Told, told_of

LARGEST_BYTES = 8_000_000
"""A page of papers has a tenth of that."""

_FACT = re.compile('<span data-fact="([^"<>]*)">([^<>]*)</span>')
_MOST_FACTS, _MOST_ROWS = 20_000, 2_000


class Unread(Exception):
    """A paper that cannot be read; the message says why."""


def facts_of_page(data: bytes) -> list[Told]:
    """Every fact of a page, in order: an element that bears its name and holds words alone. Raises Unread."""
    text = _text(data)
    count = text.count("data-fact")
    if count > _MOST_FACTS:
        raise Unread("holds more facts than any page of papers")
    found = [told_of(unescape(name), unescape(words)) for name, words in _FACT.findall(text)]
    if len(found) != count:
        raise Unread(f"holds {count - len(found)} facts in a form that cannot be read")
    return found


def rows_of_list(data: bytes) -> list[list[str]]:
    """The rows of a cut list, its head first. Raises Unread."""
    try:
        rows = list(csv.reader(StringIO(_text(data).removeprefix("\ufeff"), newline=""), strict=True))
    except csv.Error as error:
        raise Unread(f"is no list of rows: {error}") from None
    if len(rows) > _MOST_ROWS:
        raise Unread("has more rows than any cut list")
    return rows


def _text(data: bytes) -> str:
    if len(data) > LARGEST_BYTES:
        raise Unread(f"is over {LARGEST_BYTES // 1_000_000} MB large; no paper is")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        raise Unread("is not UTF-8") from None
