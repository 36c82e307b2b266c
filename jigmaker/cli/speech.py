"""Text in, printed on whatever terminal there is: a sign that its encoding lacks is spelled out instead."""

import sys
from textwrap import wrap

import click

_SPELLED = str.maketrans(
    {"°": " deg", "×": "x", "±": "+/-", "Ø": "dia ", "½": "1/2", "¼": "1/4", "¾": "3/4", "′": "'", "″": '"', "’": "'"}
)

WIDTH = 100
"""Columns of the widest line."""


def say(words: str, to_stderr: bool = False) -> None:
    """Print a line or more."""
    stream = sys.stderr if to_stderr else sys.stdout
    click.echo(printable(words, getattr(stream, "encoding", None) or "ascii"), err=to_stderr)


def printable(words: str, encoding: str) -> str:
    """The words in signs that the encoding has."""
    try:
        words.encode(encoding)
    except UnicodeEncodeError:
        return words.translate(_SPELLED).encode(encoding, "replace").decode(encoding)
    return words


def row(label: str, *sentences: str, column: int = 16) -> list[str]:
    """A label and the sentences beside it, each starting a line of its own and folded to WIDTH columns."""
    lines: list[str] = []
    for sentence in sentences:
        lines += wrap(sentence, WIDTH - column, break_long_words=False, break_on_hyphens=False)
    return [f"{label if i == 0 else '':<{column}}{line}" for i, line in enumerate(lines)]
