"""A page without a format: a title and blocks in reading order; writers turn it into what is read or printed."""

from dataclasses import dataclass

from jigmaker.drawing.picture import Picture


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph."""

    text: str


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
    """Pictures side by side, each with the width in mm at which it is printed and the words below it."""

    pictures: tuple[tuple[Picture, float, str], ...]


BOX = "\x00box"
"""The cell that is written in by hand."""

Block = Words | Steps | Table | Figures


@dataclass(frozen=True, slots=True)
class Page:
    """What is read: its title and blocks."""

    title: str
    blocks: tuple[Block, ...]
