"""A page without a format: a title and blocks in reading order; writers turn it into what is read or printed.

A Document is several pages in one file: pages of one HTML file, pages of one PDF.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.record import dataclass


class Text(str):
    """Words that say which of them are facts: (first sign, the one after the last, the fact's name), in their order.

    Wherever a page holds words it may hold a Text; a writer that has no use for facts reads it as the str that it is.
    """

    facts: tuple[tuple[int, int, str], ...]

    def __new__(cls, words: str, facts: tuple[tuple[int, int, str], ...] = ()) -> "Text":
        """The words with their facts."""
        made = super().__new__(cls, words)
        made.facts = facts
        return made


@dataclass(frozen=True, slots=True)
class Heading:
    """The heading of what follows on the page; `within` the part that the last heading opened."""

    text: str
    within: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph, which the writer breaks into lines."""

    text: str


@dataclass(frozen=True, slots=True)
class Caution:
    """One danger and what to do against it: stands out from all other words."""

    text: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Names with their values, read at a glance: the head of a sheet, the settings of a tool. A value may be BOX."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Steps:
    """Things to do one after another, numbered from 1."""

    items: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table. A cell of BOX is an empty box to write in."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Figures:
    """Pictures side by side, each with the width in mm at which it is printed and the words below it.

    `least`: to what share of their widths they may be printed smaller where that saves a sheet of paper; 1 is never.
    """

    pictures: tuple[tuple[Picture, float, str], ...]
    least: float = 1.0


@dataclass(frozen=True, slots=True)
class Link:
    """A file of the folder: its name relative to the page, with forward slashes, and what it is."""

    name: str
    words: str


@dataclass(frozen=True, slots=True)
class Links:
    """Files to open, in order. On paper only their names are left. `folded`: on a screen shown when asked for."""

    items: tuple[Link, ...]
    folded: bool = False


BOX = "\x00box"
"""The cell that is written in by hand."""

Block = Heading | Words | Caution | Facts | Steps | Table | Figures | Links


@dataclass(frozen=True, slots=True)
class Page:
    """What is read: its title, a head of names and values above everything else, and blocks."""

    title: str
    blocks: tuple[Block, ...]
    head: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Document:
    """Pages in one file, each starting on a sheet of paper of its own; `foot` stands below every one of them."""

    title: str
    pages: tuple[Page, ...]
    foot: str = ""
