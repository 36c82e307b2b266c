"""Cut files as SVG (UTF-8). mm.

One user unit is one millimetre. Paths carry their own fill, stroke and width; there is no transform, no style sheet and
nothing that is used twice. Elements: svg, title, desc, g, path, circle. A group holds consecutive shapes of one layer,
and Inkscape takes it for a layer.
"""

import re
from collections.abc import Sequence
from dataclasses import replace

from jigmaker.drawing.picture import Picture, PictureLayer, draw_shape
from jigmaker.errors import OutOfRange
from jigmaker.geometry.frames import Point
from jigmaker.geometry.strokes import Strokes
from jigmaker.record import dataclass
from jigmaker.units import text
from jigmaker.writers.svg_path import PathPen

# XML 1.0, production Char: what no escape can bring into a document.
_NOT_XML = re.compile("[^\t\n -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_ID = re.compile(r"[^A-Za-z0-9_.-]")

FILE_PLACES = 6

_UNIT_WORDS = "The numbers in this file are millimetres"
_HEAD = '<?xml version="1.0" encoding="utf-8"?>\n'


def write_svg(picture: Picture, name: str = "") -> bytes:
    """The picture as an SVG file, the same hand as the DXF. Same picture, same bytes.

    Shapes that have a name get it as their id, numbered, with the file's own `name` behind it: "plate-inner-2--bench".
    So the ids of several files stay apart when one page takes them in.

    The library makes document, groups and heads; the elements in the groups, of which there are thousands, are text.
    Raises OutOfRange for a shape on an undeclared layer.
    """
    pen = SvgPen(picture, name)
    for drawn in picture.shapes:
        pen.use_layer(drawn.layer)
        pen.shape_name = drawn.name
        draw_shape(drawn.shape, pen)
    pen.shape_name = ""
    replace(picture, shapes=()).draw(pen)
    # A line an element, for people who read or compare files; text between tags never holds a bare ">". The library's
    # document has an empty group for each run of a layer: between its head and its "</g>" go our elements.
    heads = _document(picture, pen.groups).replace("><", ">\n<").split("</g>")
    filled = [f"{head}{''.join(group.elements)}</g>" for head, group in zip(heads, pen.groups, strict=False)]
    return f"{_HEAD}{''.join(filled)}{heads[-1]}\n".encode()


def _document(picture: Picture, groups: Sequence["LayerRun"]) -> str:
    """The file with its groups empty but for their titles."""
    from svgwrite import Drawing
    from svgwrite.extensions import Inkscape

    width, height = text(picture.width_mm), text(picture.height_mm)
    drawing = Drawing(size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}", debug=False)
    drawing.elements.remove(drawing.defs)  # nothing is defined: an empty element only puzzles simple readers
    drawing.set_desc(title=_xml_text(picture.title), desc=_xml_text("\n".join([_UNIT_WORDS, *picture.notes])))
    inkscape = Inkscape(drawing)
    for group in groups:
        name = _xml_text(group.layer.name)
        drawing.add(inkscape.layer(label=name, id=group.id)).set_desc(title=name)
    written: str = drawing.tostring()
    return written


@dataclass(frozen=True, slots=True)
class LayerRun:
    """Consecutive shapes of one layer, each a line of text: an element."""

    id: str
    layer: PictureLayer
    elements: list[str]


class SvgPen(PathPen):
    """Draws into `groups`: one path or circle a shape, and one path for a table of strokes.

    Elements get an id where `shape_name` is set; behind every id stands the file's name.
    """

    shape_name = ""

    def __init__(self, picture: Picture, name: str = "") -> None:
        super().__init__(picture.height_mm, FILE_PLACES)
        self.groups: list[LayerRun] = []
        self._layers = {layer.name: layer for layer in picture.layers}
        self._behind = f"--{_NOT_ID.sub('_', name)}" if name else ""
        self._ids: set[str] = set()
        self._stroke = ""

    def use_layer(self, name: str) -> None:
        """What follows belongs to this layer: into its group, or a new group when another layer came between."""
        if name not in self._layers:
            raise OutOfRange(f'a shape lies on layer "{name}", which the picture does not declare; declare it')
        layer = self._layers[name]
        if self.groups and layer == self.groups[-1].layer:
            return
        plain = _NOT_ID.sub("_", name)
        plain = plain if plain[:1].isalpha() or plain[:1] == "_" else f"_{plain}"
        self.groups.append(LayerRun(self._new_id(plain), layer, []))
        dashes = f'stroke-dasharray="{" ".join(text(length) for length in layer.dashes)}" ' if layer.dashes else ""
        self._stroke = f'stroke="{layer.colour}" {dashes}stroke-width="{text(layer.width_mm)}" />\n'

    def close(self) -> None:
        """Write the contour closed."""
        super().close()
        self.end()

    def end(self) -> None:
        """Write the contour, or a table of them."""
        self.groups[-1].elements.append(f'<path d="{" ".join(self.words)}" fill="none" {self._own_id()}{self._stroke}')
        self.words = []

    def strokes(self, strokes: Strokes) -> None:
        """One path for all of them."""
        super().strokes(strokes)
        if self.words:
            self.end()

    def circle(self, centre: Point, radius: float) -> None:
        """A full circle."""
        x, y = self.placed(centre)
        figures = f'cx="{text(x)}" cy="{text(y)}" fill="none" {self._own_id()}r="{text(radius)}"'
        self.groups[-1].elements.append(f"<circle {figures} {self._stroke}")

    def _own_id(self) -> str:
        """The next element's attribute; numbered from 1, since there are many of most."""
        return f'id="{self._new_id(self.shape_name, "-1")}" ' if self.shape_name else ""

    def _new_id(self, plain: str, first: str = "") -> str:
        """An id never given out before: `first` behind the first of them, a number behind the others."""
        # Layers and shapes share one space of ids: a layer called "plate-2" must not meet the plate's second line.
        number, found = 1, f"{plain}{first}"
        while found in self._ids:
            number += 1
            found = f"{plain}-{number}"
        self._ids.add(found)
        return f"{found}{self._behind}"


def _xml_text(words: str) -> str:
    """Text that XML can carry; every character it cannot becomes U+FFFD."""
    return _NOT_XML.sub("\ufffd", words)
