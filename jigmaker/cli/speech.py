"""Text in, printed on whatever terminal there is; here all words leave the program.

A sign that the terminal's encoding lacks is spelled out; so is one that would steer the terminal, for words may come
from a file or a name that somebody else chose.
"""

import sys
from collections.abc import Iterable
from textwrap import wrap

import click

from jigmaker.errors import CannotWrite
from jigmaker.signs import spelled

_SPELLED = str.maketrans(
    {"°": " deg", "×": "x", "±": "+/-", "Ø": "dia ", "½": "1/2", "¼": "1/4", "¾": "3/4", "′": "'", "″": '"', "’": "'"}
)

WIDTH = 100
"""Columns of the widest line."""

_LONGEST = 5000  # signs; a path may have 4096


def say(lines: str | Iterable[str], to_stderr: bool = False, done: str = "") -> None:
    """Print a line, or several; a line end inside of one is spelled, for it can only come from a name.

    done: what has been done by then, "the kit is written". Where nothing can be printed CannotWrite says so.
    """
    stream = sys.stderr if to_stderr else sys.stdout
    plain = [spelled(line[:_LONGEST]) for line in ([lines] if isinstance(lines, str) else lines)]
    try:
        click.echo(printable("\n".join(plain), getattr(stream, "encoding", None) or "ascii"), err=to_stderr)
    except BrokenPipeError:  # whoever reads has read enough
        raise
    except OSError as error:
        if not done:
            raise
        raise CannotWrite(f"{done}; what there is to say of it could not be printed: {error.strerror}") from None


def is_terminal() -> bool:
    """True when somebody can be asked; started by cron a program may have no input at all."""
    return sys.stdin is not None and sys.stdin.isatty()


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
        lines += wrap(spelled(sentence), WIDTH - column, break_long_words=False, break_on_hyphens=False)
    return [f"{label if i == 0 else '':<{column}}{line}" for i, line in enumerate(lines)]
