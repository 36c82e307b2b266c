"""Text in, printed on whatever terminal there is; here all words leave the program.

A sign that the terminal's encoding lacks is spelled out; so is one that would steer the terminal, for words may come
from a file or a name that somebody else chose.
"""

import re
import shutil
import sys
from collections.abc import Iterable, Sequence
from textwrap import wrap

import click

from jigmaker.errors import CannotWrite
from jigmaker.signs import spelled

_SPELLED = str.maketrans(
    {"°": " deg", "×": "x", "±": "+/-", "Ø": "dia ", "½": "1/2", "¼": "1/4", "¾": "3/4", "′": "'", "″": '"', "’": "'"}
)

WIDTH, NARROWEST, NARROW = 100, 40, 60
"""Columns of the widest line; of the narrowest terminal that is heeded; and where labels get lines of their own."""

Cell = tuple[int, int, str]
"""Where words of a table start and end in their line, and the words."""

_CELL = re.compile(r"\S+(?: \S+)*")
_FIGURE = re.compile(r"\d[.,]\d|\d/\d|\d ?(mm|\"|°)")

# How a command begins that stands on a line of its own.
_TYPED = "jigmaker make "

_LONGEST = 5000  # signs; a path may have 4096


def say(lines: str | Iterable[str], to_stderr: bool = False, done: str = "") -> None:
    """Print a line, or several; a line end inside of one is spelled, for it can only come from a name.

    done: what has been done by then, "the kit is written". Where nothing can be printed CannotWrite says so.
    """
    # Every word of the program goes through here: signs that would steer the terminal are spelled, what its encoding
    # lacks is replaced, and a reader who has gone (head, less) is no fault of ours.
    stream = sys.stderr if to_stderr else sys.stdout
    plain = [spelled(line[:_LONGEST]) for line in ([lines] if isinstance(lines, str) else lines)]
    plain = plain if to_stderr else narrowed(plain, width())
    try:
        click.echo(printable("\n".join(plain), getattr(stream, "encoding", None) or "ascii"), err=to_stderr)
    except BrokenPipeError:  # whoever reads has read enough
        raise
    except OSError as error:
        if not done:
            raise
        raise CannotWrite(f"{done}; what there is to say of it could not be printed: {error.strerror}") from None


def width() -> int:
    """Columns to print in: as the terminal has, 40 to 100; 100 where it is none, so that files are always the same."""
    if sys.stdout is None or not sys.stdout.isatty():
        return WIDTH
    return max(NARROWEST, min(WIDTH, shutil.get_terminal_size((WIDTH, 24)).columns))


def narrowed(lines: Sequence[str], columns: int) -> list[str]:
    """Lines of tables folded to so many columns: a row's name, then each of its figures behind its column's heading."""
    if columns == WIDTH:
        return list(lines)
    told: list[str] = []
    headings: list[Cell] = []
    for line in lines:
        # A table's line is known by its look: cells stand at least two blanks apart, the first one names the row, and
        # a line of several cells without a figure is a heading, under whose words the figures below stand.
        cells = [(found.start(), found.end(), found[0]) for found in _CELL.finditer(line)]
        headings = headings if cells else []
        named = cells[: bool(cells and cells[0][0] <= 2)]
        if len(line) <= columns or line.lstrip().startswith(_TYPED):
            told.append(line)  # a command stands in one line, to be copied whole
        elif (len(cells) > 2 or headings) and not _FIGURE.search(line) and (cells[0][0] == 0 or cells[0][0] > 9):
            told += [words for _, _, words in named]
            # A further line of headings below: each is joined to the one that it stands under.
            for low, high, words in cells[len(named) :]:
                above = next((each for each in headings if each[0] < high and low < each[1]), None)
                if above:
                    headings = [each for each in headings if each is not above]
                    low, high, words = min(low, above[0]), max(high, above[1]), f"{above[2]} {words}"
                headings = [*headings, (low, high, words)]
        elif not headings:
            # A row without headings: as many cells as fit stay where they are, the others follow below them.
            fits = sum(end <= columns for _, end, _ in cells) if len(cells) > 2 else 0
            told += [line[: cells[fits - 1][1]]] if fits else []  # as it stands, for it may be a picture's
            told += _folded("  ".join(words for _, _, words in cells[fits:]), cells[0][0], columns)
        else:
            told += [line for start, _, words in named for line in _folded(words, start, columns)]
            for start, end, words in cells[len(named) :]:
                heading = next((f"{said}: " for low, high, said in headings if low < end and start < high), "")
                told += _folded(f"{heading}{words}", 4, columns)
    return told


def _folded(words: str, indent: int, columns: int) -> list[str]:
    first, rest = " " * min(indent, 4), " " * (min(indent, 4) + 2)
    return wrap(
        words,
        columns,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,  # a file's name, a kit's number
    )


def is_terminal() -> bool:
    """True when somebody can be asked; started by cron a program may have no input at all."""
    return sys.stdin is not None and sys.stdin.isatty()


def printable(words: str, encoding: str) -> str:
    """The words in signs that the encoding has."""
    # Only words that the encoding cannot hold are touched: a degree sign stays one wherever it can.
    try:
        words.encode(encoding)
    except UnicodeEncodeError:
        return words.translate(_SPELLED).encode(encoding, "replace").decode(encoding)
    return words


def row(label: str, *sentences: str, column: int = 16) -> list[str]:
    """A label and the sentences beside it, each starting a line of its own and folded to `width` columns."""
    lines: list[str] = []
    # Beside a label of 16 columns too little is left on a narrow terminal: there it stands on a line of its own.
    columns, above = width(), list[str]()
    if columns < NARROW and column:
        above, label, column = [label] if label.strip() else [], "", 2
    for sentence in sentences:
        lines += wrap(spelled(sentence), columns - column, break_long_words=False, break_on_hyphens=False)
    return above * bool(lines) + [f"{label if i == 0 else '':<{column}}{line}" for i, line in enumerate(lines)]
