"""Pages as HTML: one file that needs no other and no script. mm.

Every word goes through html.escape. Pictures stand in the page as SVG. Links lead to files beside the page. A Document
shows its pages one below another; printed, each starts on a sheet of its own. The look is the same for all.
"""

from collections.abc import Sequence
from html import escape
from urllib.parse import quote

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
from jigmaker.units import text
from jigmaker.writers.html_look import LOOK
from jigmaker.writers.html_pictures import svg_element
from jigmaker.writers.page_words import LONG, is_number, printable

_SLACK = 5  # signs by which one of two lines may be longer than the other
_SHORT = 38  # signs of a name and value that take half a page
_LONG_WORD = 20  # signs of a word that may be parted in a table
_LONG_PAGE = 6  # headings from which a page opens with steps to them
_TOP = 2  # level of the headings of a page that is a file of its own
_WIDE = 4  # columns from which a table is stacked where it is narrow


def write_html(shown: Page | Document) -> bytes:
    """The page, or all pages of the document, as one HTML file. Same page, same bytes."""
    if isinstance(shown, Page):
        # A long page begins with its headings, each a step to its place.
        names = [block.text for block in shown.blocks if isinstance(block, Heading) and not block.within]
        steps = "".join(f'<li><a href="#{_place(name)}">{_said(name)}</a></li>\n' for name in names)
        jumps = f'<nav aria-label="On this page">\n<ul class="jumps">\n{steps}</ul>\n</nav>\n'
        heads = f"<h1>{_said(shown.title)}</h1>\n{_head(shown.head)}{jumps if len(names) >= _LONG_PAGE else ''}"
        body = f"<main>\n{heads}{_blocks(shown.blocks, 2)}</main>\n"
    else:
        # Title and contents, which are left out on paper, then the pages.
        count = len(shown.pages)
        contents = "".join(
            f'<li><a href="#sheet-{number}">{_said(page.title)}</a></li>\n'
            for number, page in enumerate(shown.pages, 1)
        )
        foot = f'<p class="where foot">{_said(shown.foot)}</p>\n' if shown.foot else ""
        sheets = "".join(
            f'<section class="sheet" id="sheet-{number}">\n<header>\n<h2>{_said(page.title)}</h2>\n'
            f'<p class="where">{_said(shown.title)} · page {number} of {count}</p>\n</header>\n'
            f"{_head(page.head)}{_blocks(page.blocks, 3)}{foot}</section>\n"
            for number, page in enumerate(shown.pages, 1)
        )
        nav = f'<nav aria-label="Sheets">\n<ol class="contents">\n{contents}</ol>\n</nav>\n' if count > 1 else ""
        body = f'<h1 class="cover">{_said(shown.title)}</h1>\n{nav}<main>\n{sheets}</main>\n'
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{_plain(shown.title)}</title>\n<style>\n{LOOK}</style>\n</head>\n<body>\n{body}</body>\n</html>\n"
    ).encode("utf-8", "replace")


def _place(heading: str) -> str:
    """A heading's name in addresses."""
    return escape(quote("-".join(heading.lower().split()), safe=""))


def _blocks(blocks: Sequence[Block], level: int) -> str:
    """`level` is that of the headings, one below the page's title."""
    return "".join(f"{_block(block, level)}\n" for block in blocks)


def _block(block: Block, level: int) -> str:
    match block:
        case Heading():
            if block.within:
                return f"<h{level + 1}>{_said(block.text)}</h{level + 1}>"
            place = f' id="{_place(block.text)}"' if level == _TOP else ""
            return f'<h{level} class="part"{place}>{_said(block.text)}</h{level}>'
        case Words():
            return f"<p>{_said(block.text)}</p>"
        case Caution():
            return f'<p class="caution" role="note"><span>{_said(block.text)}</span></p>'
        case Facts():
            # In two columns, read downwards, where each is short and the page is not narrow.
            is_short = len(block.rows) > 2 and all(len(name) + len(value) <= _SHORT for name, value in block.rows)
            rows = ""
            for name, value in block.rows:
                kind, cell = ' class="long"' if len(value) > LONG else "", f"<dd>{_said(value)}</dd>"
                if value == BOX:
                    kind, cell = "", '<dd class="box"></dd>'
                rows += f"<div{kind}><dt>{_said(name)}</dt>{cell}</div>\n"
            return f'<dl class="facts{" short" if is_short else ""}">\n{rows}</dl>'
        case Steps():
            return '<ol class="steps">\n' + "".join(f"<li>{_said(item)}</li>\n" for item in block.items) + "</ol>"
        case Table():
            return _table(block)
        case Figures():
            shown = "".join(
                f'<figure style="width: {text(width, 2)}mm">\n{svg_element(picture)}'
                f"<figcaption>{_said(words)}</figcaption>\n</figure>\n"
                for picture, width, words in block.pictures
            )
            return f'<div class="figures">\n{shown}</div>'
        case Links():
            # "./" keeps a name with a colon from being taken for another kind of address.
            links = [(quote(link.name), f"{_said(link.words)}<span>{_said(link.name)}</span>") for link in block.items]
            items = "".join(f'<li><a href="./{escape(at)}">{said}</a></li>\n' for at, said in links)
            # A list; one that is folded opens with a touch, without a script.
            shown = f'<ul class="files">\n{items}</ul>'
            if not block.folded:
                return shown
            return f"<details>\n<summary>{len(block.items)} files</summary>\n{shown}\n</details>"


def _head(head: Sequence[tuple[str, str]]) -> str:
    cells = ""
    for name, value in head:
        # At least as wide as two lines of the value need, or one of the name; `ch` is the width of a figure.
        wide = len(name) if value == BOX else max(len(value) // 2 + _SLACK, len(name))
        cell = '<dd class="box"></dd>' if value == BOX else f"<dd>{_said(value)}</dd>"
        cells += f'<div style="flex-basis: {wide}ch"><dt>{_said(name)}</dt>{cell}</div>\n'
    return f'<dl class="head">\n{cells}</dl>\n' if cells else ""


def _table(table: Table) -> str:
    wide = ' class="wide"' if max([len(table.head), *(len(row) for row in table.rows)]) >= _WIDE else ""
    names = "".join(f'<th scope="col"{_parted(cell)}>{_said(cell)}</th>' for cell in table.head)
    head = f"<thead>\n<tr>{names}</tr>\n</thead>\n" if any(table.head) else ""
    rows = ""
    for row in table.rows:
        # Each cell carries its column's name, which is shown before it where the table is stacked.
        columns = [*table.head, *("",) * (len(row) - len(table.head))]
        named = [f' data-name="{_plain(name)}"' if name else "" for name in columns]
        cells = ""
        for cell, name in zip(row, named, strict=False):
            kind = ' class="number"' if is_number(cell) else _parted(cell)
            # Where the table is stacked a cell is a flex box: a fact must not become a box of its own beside its
            # sentence.
            said = f"<span>{_said(cell)}</span>" if getattr(cell, "facts", ()) else _said(cell)
            cells += f'<td class="box"{name}></td>' if cell == BOX else f"<td{kind}{name}>{said}</td>"
        rows += f"<tr>{cells}</tr>\n"
    return f"<table{wide}>\n{head}<tbody>\n{rows}</tbody>\n</table>"


def _parted(cell: str) -> str:
    """Cells with an endless word may be broken anywhere; all others only between words."""
    return ' class="long"' if any(len(word) > _LONG_WORD for word in cell.split()) else ""


def _said(words: str) -> str:
    """Text as HTML can carry it; a fact stands in an element that bears its name."""
    # A fact is (start, end, name) in the text; the words between facts are written as they are.
    said, at = "", 0
    for start, end, name in getattr(words, "facts", ()):
        fact = f'<span data-fact="{escape(name)}">{_plain(words[start:end])}</span>'
        said, at = f"{said}{_plain(words[at:start])}{fact}", end
    return said + _plain(words[at:])


def _plain(words: str) -> str:
    return escape(printable(words))
