"""Names hands, faces, ends and walls wherever a page says them, so that none is exchanged unseen.

What a job decides is a fact with a name of its own; these words stand in sentences that are the same for every job.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from jigmaker.drawing.page import (
    BOX,
    Block,
    Caution,
    Document,
    Facts,
    Figures,
    Heading,
    Page,
    Steps,
    Table,
    Text,
    Words,
)

WORDS = re.compile(
    r"\b(?:(?:[Tt]op|[Bb]ottom|[Ii]nside|[Oo]utside|[Oo]uter|[Ii]nner|[Ww]ide) faces?|[Nn]arrow edges?"
    r"|(?:[Nn]ear|[Ff]ar) (?:wall|end|edge|line|[RL]\b)s?|(?:[Dd]atum|[Oo]ther) end"
    r"|(?:[Tt]op|[Bb]ottom|[Ii]nner|[Oo]uter) arris(?:es)?|(?:low|high) end|right of all|above all|[RL])\b"
)
"""What is named "said." and the words."""


def with_names(shown: Page) -> Page:
    """The page with every such word named."""
    blocks = tuple(_block(block) for block in shown.blocks)
    return Page(_named(shown.title), blocks, tuple((_named(name), _named(value)) for name, value in shown.head))


def document_with_names(document: Document) -> Document:
    """Every page of it."""
    return replace(document, pages=tuple(with_names(page) for page in document.pages))


def _block(block: Block) -> Block:
    match block:
        case Heading() | Words() | Caution():
            return replace(block, text=_named(block.text))
        case Facts():
            return Facts(tuple((_named(name), _named(value)) for name, value in block.rows))
        case Steps():
            return Steps(_all(block.items))
        case Table():
            return Table(_all(block.head), tuple(_all(row) for row in block.rows))
        case Figures():
            return replace(block, pictures=tuple((one, width, _named(words)) for one, width, words in block.pictures))
    return block


def _all(cells: Sequence[str]) -> tuple[str, ...]:
    return tuple(_named(cell) for cell in cells)


def _named(words: str) -> str:
    """The words that stand outside of facts, named; BOX and words without any stay as they are."""
    # A word inside of a fact is judged with that fact. Both are given by their first sign and the one after their last.
    facts = getattr(words, "facts", ())
    found = [
        (each.start(), each.end(), f"said.{each[0]}")
        for each in WORDS.finditer(words)
        if not any(start < each.end() and each.start() < end for start, end, _ in facts)
    ]
    return words if words == BOX or not found else Text(words, tuple(sorted((*facts, *found))))
