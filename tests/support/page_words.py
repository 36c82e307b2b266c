"""All words of a page, block by block, for tests that look for what a page says and must not say."""

from collections.abc import Iterator

from jigmaker.drawing.page import (
    BOX,
    Block,
    Caution,
    Document,
    Facts,
    Figures,
    Heading,
    Links,
    Page,
    Steps,
    Table,
    Words,
)


def words_of(page: Page) -> Iterator[str]:
    """Title, head and every cell, step and sentence, each by itself; labels of pictures too."""
    yield page.title
    yield from _rows(page.head)
    for block in page.blocks:
        yield from _block_words(block)


def text_of(page: Page) -> str:
    """All words of the page, a line each."""
    return "\n".join(words_of(page))


def document_text(document: Document) -> str:
    """All words of all pages."""
    return "\n".join(text_of(page) for page in document.pages)


def table_of(page: Page, head: str) -> Table:
    """The page's table whose first heading is this one."""
    return next(block for block in page.blocks if isinstance(block, Table) and block.head[0] == head)


def cautions_of(page: Page) -> list[str]:
    """The page's cautions."""
    return [block.text for block in page.blocks if isinstance(block, Caution)]


def _rows(rows: tuple[tuple[str, ...], ...]) -> Iterator[str]:
    yield from (cell for row in rows for cell in row if cell != BOX)


def _block_words(block: Block) -> Iterator[str]:
    match block:
        case Heading() | Words() | Caution():
            yield block.text
        case Facts():
            yield from _rows(block.rows)
        case Steps():
            yield from block.items
        case Table():
            yield from _rows((block.head, *block.rows))
        case Figures():
            for picture, _, below in block.pictures:
                # A label may be broken over lines.
                yield from (picture.title, below, " ".join(label.text for label in picture.labels))
        case Links():
            yield from (word for link in block.items for word in (link.name, link.words))
