"""A page as HTML: Page in, bytes out (UTF-8). One file that needs no other; black on white, for A4 and Letter; mm.

Every word goes through html.escape. Pictures stand in the page as SVG.
"""

from html import escape

from jigmaker.drawing.page import BOX, Block, Caution, Facts, Figures, Heading, Links, Page, Steps, Table, Words
from jigmaker.drawing.picture import Picture
from jigmaker.units import text
from jigmaker.writers.svg import write_svg

# Margins of 12 mm leave 186 x 255 mm, which both A4 (210 x 297) and Letter (215.9 x 279.4) have.
_LOOK = """\
@page { margin: 12mm }
body { font: 9pt/1.25 Arial, Helvetica, sans-serif; color: #000; background: #fff; max-width: 186mm; margin: auto }
h1 { font-size: 14pt; margin: 0 0 2mm; border-bottom: 0.6mm solid #000 }
p, ol { margin: 1.5mm 0 }
ol { padding-left: 6mm }
table { border-collapse: collapse; width: 100%; margin: 2mm 0 }
th, td { text-align: left; vertical-align: middle; padding: 0.5mm 1.2mm; border-bottom: 0.2mm solid #000 }
th { border-bottom-width: 0.5mm }
tr { break-inside: avoid }
td.box { border: 0.3mm solid #000; width: 15mm; height: 6mm }
.figures { display: flex; justify-content: space-between; align-items: flex-end; gap: 4mm }
figure { margin: 1mm 0 }
figcaption { font-size: 8.5pt }
svg { display: block; width: 100%; height: auto }
"""


def write_html(page: Page) -> bytes:
    """The page as one HTML file. Same page, same bytes."""
    blocks = "\n".join(_block(block) for block in page.blocks)
    title = escape(page.title)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f"<title>{title}</title>\n<style>\n{_LOOK}</style>\n</head>\n<body>\n"
        f"<h1>{title}</h1>\n{blocks}\n</body>\n</html>\n"
    ).encode()


def _block(block: Block) -> str:
    match block:
        case Heading():
            return f"<h2>{escape(block.text)}</h2>"
        case Caution():
            return f'<p class="caution">{escape(block.text)}</p>'
        case Facts():
            return _table(Table(("", ""), block.rows))
        case Links():
            return "\n".join(f'<p><a href="{escape(link.name)}">{escape(link.words)}</a></p>' for link in block.items)
        case Words():
            return f"<p>{escape(block.text)}</p>"
        case Steps():
            return "<ol>\n" + "\n".join(f"<li>{escape(item)}</li>" for item in block.items) + "\n</ol>"
        case Table():
            return _table(block)
        case Figures():
            return _figures(block)


def _table(table: Table) -> str:
    head = "".join(f"<th>{escape(cell)}</th>" for cell in table.head)
    rows = "\n".join("<tr>" + "".join(_cell(cell) for cell in row) + "</tr>" for row in table.rows)
    return f"<table>\n<tr>{head}</tr>\n{rows}\n</table>"


def _cell(cell: str) -> str:
    return '<td class="box"></td>' if cell == BOX else f"<td>{escape(cell)}</td>"


def _figures(figures: Figures) -> str:
    shown = "\n".join(
        f'<figure style="width: {text(width, 2)}mm">\n{_svg(picture)}'
        f"<figcaption>{escape(words)}</figcaption>\n</figure>"
        for picture, width, words in figures.pictures
    )
    return f'<div class="figures">\n{shown}\n</div>'


def _svg(picture: Picture) -> str:
    """The picture's own SVG without the head of a file of its own."""
    written = write_svg(picture).decode("utf-8")
    return written[written.index("<svg") :]
