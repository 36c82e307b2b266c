"""jigmaker explain: a topic in, its page of the guide on the screen out; pages are Markdown, in jigmaker/explain."""

from __future__ import annotations

import re
import shutil
from textwrap import wrap

import click

from jigmaker.errors import UsageError

TOPICS = (
    "files",
    "coupon",
    "heights",
    "sizes",
    "boards",
    "timber",
    "levelling",
    "paper",
    "page",
    "commands",
    "programs",
    "geometry",
    "words",
)
"""In the order in which they are wanted; each is a Markdown file. A new page is a file and one word here."""

# Columns of a table under which folding makes it hard to read.
_LEAST = 32


@click.command("explain", short_help="Print a page of the guide.")
@click.argument("topic", required=False)
def command(topic: str | None) -> None:
    """Print a page of the guide; without TOPIC, what pages there are."""
    from jigmaker.cli.speech import WIDTH, row, say

    if topic is None:
        titles = {name: page(name).partition("\n")[0].removeprefix("# ") for name in TOPICS}
        say([line for name, title in titles.items() for line in row(name, title)])
        return
    if topic not in TOPICS:
        from difflib import get_close_matches

        near = get_close_matches(topic, TOPICS, n=1, cutoff=0.75)
        meant = f' "{near[0]}" may be meant;' if near else ""
        # A word of the trade is no page, and pages tell of it: those that use it most come first.
        word = rf"\b{re.escape(topic.removesuffix('s'))}s?\b"
        told = {name: len(re.findall(word, page(name), re.IGNORECASE)) for name in TOPICS}
        most = sorted((name for name in TOPICS if told[name]), key=lambda name: -told[name])[:3]
        if most and not near and len(topic) > 2:
            meant = f" the word stands in {', '.join(most)};"
        raise UsageError(f'there is no page "{topic[:40]}";{meant} there are {", ".join(TOPICS)}')
    say(laid_out(page(topic), min(WIDTH, shutil.get_terminal_size((WIDTH, 24)).columns)))


def page(topic: str) -> str:
    """A page as it lies in the package: Markdown."""
    from importlib.resources import files

    return (files("jigmaker") / "explain" / f"{topic}.md").read_text("utf-8")


def laid_out(markdown: str, width: int) -> list[str]:
    """The page's lines for a screen so many columns wide: its paragraphs folded, its tables in columns."""
    lines: list[str] = []
    # Of Markdown the pages use headings, paragraphs, points with an asterisk, tables and fenced examples, and blank
    # lines between them: a block is told by its first sign.
    blocks = markdown.rstrip("\n").split("\n\n")
    while blocks:
        block = blocks.pop(0)
        while block.count("```") % 2:  # a blank line inside of an example
            block += "\n\n" + blocks.pop(0)
        if block.startswith("|"):
            lines += _table(block.split("\n"), width)
        elif block.startswith("```"):
            lines += [line for line in block.split("\n") if not line.startswith("```")]
        else:
            for point in block.replace("\n* ", "\n\n* ").split("\n\n"):
                lines += folded(point, width, after="  " if point.startswith("* ") else "")
        lines.append("")
    return lines[:-1]


def _table(rows: list[str], width: int) -> list[str]:
    """A table in columns, the widest folded into what the others leave; where that is little, cell under cell."""
    # A bar within a cell is written "\|": a NUL, which no page has, stands for it while the row is split.
    cells = [[cell.strip() for cell in row.strip("|").replace("\\|", "\0").split("|")] for row in rows if row[1] != "-"]
    # Only the widest column is folded; the others keep their longest cell, and two blanks part each from the next.
    widths = [max(len(row[i]) for row in cells) for i in range(len(cells[0]))]
    widest = widths.index(max(widths))
    left = width - (sum(widths) - widths[widest] + 2 * (len(widths) - 1))
    widths[widest] = min(widths[widest], left)
    lines: list[str] = []
    for row in cells:
        if left < _LEAST:
            lines += [line for i, cell in enumerate(row) for line in folded(cell, width, "  " if i else "")]
            continue
        for i, words in enumerate(folded(row[widest], left) or [""]):
            shown = [words if j == widest else cell if i == 0 else "" for j, cell in enumerate(row)]
            lines.append("  ".join(f"{cell:<{room}}" for cell, room in zip(shown, widths, strict=True)).rstrip())
    return [line.replace("\0", "|") for line in lines]


def folded(words: str, width: int, indent: str = "", after: str = "") -> list[str]:
    """Words in lines; one that is longer than a line stays whole. after: sets in the lines after the first."""
    return wrap(
        " ".join(words.split()),
        width,
        initial_indent=indent,
        subsequent_indent=indent + after,
        break_long_words=False,
        break_on_hyphens=False,
    )
