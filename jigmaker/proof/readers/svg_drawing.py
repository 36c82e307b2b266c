"""The contours that an SVG's elements draw, in mm with y up, each on its layer; faults for what draws otherwise.

A layer is known by the names on the groups around a shape, which programs keep as titles, labels or ids, and by its
colour, where a program dropped the groups.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from jigmaker.proof.contours import Contours
from jigmaker.proof.faults import MOST_SHAPES, Faults, TooMuch
from jigmaker.proof.readers.chain import Vertices, drawn_through
from jigmaker.proof.readers.svg_page import LONGEST_TRANSFORM, SvgMatrix, SvgPage, page_of, transform_of
from jigmaker.proof.readers.svg_path import LONGEST_PATH, SHAPES, Chains, Disc, NotUnderstood, read_plain, shapes_of
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Numbers, Truths

DEEPEST = 64
"""Elements inside each other; programs that save drawings stay under a dozen."""

MOST_ELEMENTS = 200_000
"""Elements of every kind in one file."""

_SVG = "http://www.w3.org/2000/svg "
_GROUPS = ("g", "a")
_SILENT = ("title", "desc", "metadata", "defs", "style")
_MAY_HIDE = frozenset(("style", "display", "visibility", "clip-path", "mask"))
_REDRAW = "draw it as lines, arcs, circles or paths of them, or remove it"

_BEHIND = re.compile(r"(-[0-9]+)?(--.*)?$")
_NOT_ID = re.compile(r"[^A-Za-z0-9_.-]")
_NO_LETTER = re.compile(r"^(?![A-Za-z_])")  # XML: a name starts with a letter or a low line
_RGB = re.compile(r"rgb\(\s*([0-9]+)\s*,\s*([0-9]+)\s*,\s*([0-9]+)\s*\)")

# CSS Color 4, the sixteen oldest names: what programs write for plain colours.
_NAMED = {
    "black": "#000000",
    "silver": "#c0c0c0",
    "gray": "#808080",
    "grey": "#808080",
    "white": "#ffffff",
    "maroon": "#800000",
    "red": "#ff0000",
    "purple": "#800080",
    "fuchsia": "#ff00ff",
    "magenta": "#ff00ff",
    "green": "#008000",
    "lime": "#00ff00",
    "olive": "#808000",
    "yellow": "#ffff00",
    "navy": "#000080",
    "blue": "#0000ff",
    "teal": "#008080",
    "aqua": "#00ffff",
    "cyan": "#00ffff",
}


@dataclass(slots=True)
class Around:
    """An element that may hold shapes: its names, the innermost last, and its stroke colour."""

    title: str = ""
    label: str = ""
    id: str = ""
    stroke: str = ""


def colour_of(text: str) -> str:
    """A colour as "#rrggbb" in small letters; "" for what is no plain colour."""
    plain = text.strip().lower()
    if re.fullmatch("#[0-9a-f]{3}", plain):
        return "#" + "".join(digit * 2 for digit in plain[1:])
    if re.fullmatch("#[0-9a-f]{6}", plain):
        return plain
    if found := _RGB.fullmatch(plain):
        return "#" + "".join(f"{min(255, int(share[:4])):02x}" for share in found.groups())
    return _NAMED.get(plain, "")


def layer_of(around: Sequence[Around], stroke: str, layers: Mapping[str, str]) -> tuple[str, str]:
    """The shape's layer, and the layer that its colour stands for ("" when it stands for none).

    `layers` maps colours to layer names. Of the names on the groups, the innermost that is a known layer counts; else
    the colour; else the innermost name there is.
    """
    known = set(layers.values())
    by_colour = layers.get(colour_of(stroke), "")
    names = [name for each in reversed(around) for name in (each.title, each.label, each.id) if name]
    for name in names:
        # An id cannot hold every sign of a layer's name; a second group's number and the file's name stand behind it.
        written = (name, _BEHIND.sub("", name))
        by_id = [layer for layer in layers.values() if _NO_LETTER.sub("_", _NOT_ID.sub("_", layer)) in written]
        if name in known or by_id:
            return name if name in known else by_id[0], by_colour
    return by_colour or next(iter(names), ""), by_colour


class SvgShapes:
    """Collects shapes, notes and faults. Handlers take the parser's own calls."""

    def __init__(self, layers: Mapping[str, str], faults: Faults) -> None:
        self.notes: list[str] = []
        self.page: SvgPage | None = None
        self._layers = layers
        self._faults = faults
        self._around: list[Around] = []
        self._matrices: list[SvgMatrix] = []
        self._depth = 0
        self._skipped_from = 0  # depth at which a subtree that draws nothing began; 0 outside of one
        self._words: list[str] | None = None
        self._elements = 0
        # Of each element that draws its place for people, its layer and its plane, by number; then what it draws.
        self._places: list[str] = []
        self._layer_of: list[int] = []
        self._plane_of: list[int] = []
        self._names: dict[str, int] = {}
        self._planes: list[SvgMatrix] = []
        self._paths: list[tuple[int, str]] = []
        self._chains: list[tuple[int, bool, Numbers]] = []
        self._pieces = 0
        # Layers found inside the innermost group, by the shape's own attributes: a file has thousands of shapes and few
        # layers. Forgotten wherever the names around change.
        self._known: dict[tuple[str, str, str], tuple[str, str]] = {}

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """An element begins."""
        self._depth += 1
        self._elements += 1
        if self._depth > DEEPEST or self._elements > MOST_ELEMENTS:
            raise TooMuch(f"elements lie more than {DEEPEST} deep in each other, or are over {MOST_ELEMENTS}")
        if self._skipped_from:
            return
        space, _, kind = name.rpartition(" ")
        if self._depth == 1:
            self._open_root(kind, attributes)
        elif space and space + " " != _SVG:
            self._skipped_from = self._depth  # a program's own notes
        elif kind in _SILENT:
            self._open_silent(kind)
        elif self._is_shown(kind, attributes):
            self._open(kind, attributes)

    def end(self, name: str) -> None:
        """An element ends."""
        if self._skipped_from == self._depth:
            self._skipped_from = 0
            if self._words is not None:
                self._close_words(name.rpartition(" ")[2])
        elif not self._skipped_from and name.rpartition(" ")[2] in (*_GROUPS, "svg"):
            self._around.pop()
            self._matrices.pop()
            self._known.clear()
        self._depth -= 1

    def words(self, text: str) -> None:
        """Text between tags, kept where it is a title, a description or a style sheet."""
        if self._words is not None:
            self._words.append(text)

    def _open_root(self, kind: str, attributes: dict[str, str]) -> None:
        if kind != "svg":
            raise TooMuch("this is no SVG file: its root is no svg element")
        self.page = page_of(attributes, self._faults)
        self._around.append(Around())
        self._matrices.append(self.page.mm_from_user)

    def _open_silent(self, kind: str) -> None:
        self._skipped_from = self._depth
        if kind in ("title", "desc", "style"):
            self._words = []

    def _close_words(self, kind: str) -> None:
        # A title names the group that it stands in, the first one counts; in the root it is a note for people.
        text, self._words = "".join(self._words or ()).strip(), None
        if kind == "title" and len(self._around) > 1:
            self._around[-1].title = self._around[-1].title or text
            self._known.clear()
        elif kind == "style" and text:
            self._faults.add(102, "a style sheet is not understood: it may hide or recolour lines", _REDRAW)
        elif kind in ("title", "desc") and len(self._around) == 1:
            self.notes += [line for line in text.splitlines() if line.strip()]

    def _is_shown(self, kind: str, attributes: dict[str, str]) -> bool:
        """False, its subtree skipped with a fault, for what is hidden, cut off by a clip, or not understood."""
        # What one program hides or clips another one cuts: none of it is left out quietly.
        says = "" if kind in _GROUPS or kind in SHAPES else f"{kind[:40]} is not understood"
        if not says and not _MAY_HIDE.isdisjoint(attributes):
            style = attributes.get("style", "").replace(" ", "")
            if (
                attributes.get("display") == "none"
                or attributes.get("visibility", "visible") != "visible"
                or "display:none" in style
                or "visibility:hidden" in style
            ):
                says = f"a {kind} is hidden"
            elif "clip-path" in attributes or "mask" in attributes or "clip-path:" in style or "mask:" in style:
                says = f"a {kind} is clipped or masked"
        if says:
            self._faults.add(102, says, _REDRAW, kind)
            self._skipped_from = self._depth
        return not says

    def _open(self, kind: str, attributes: dict[str, str]) -> None:
        matrix = self._matrix(kind, attributes)
        if kind in _GROUPS:
            self._around.append(_around(attributes))
            self._matrices.append(matrix)
            self._known.clear()
            return
        self._draw(kind, attributes, matrix)

    def _matrix(self, kind: str, attributes: dict[str, str]) -> SvgMatrix:
        matrix = self._matrices[-1]
        if "transform" not in attributes:
            return matrix
        own = transform_of(attributes["transform"][:LONGEST_TRANSFORM])
        if own is None:
            self._faults.add(102, f"the transform of a {kind} is not understood", _REDRAW, kind)
            return matrix
        return matrix @ own

    def _draw(self, kind: str, attributes: dict[str, str], matrix: SvgMatrix) -> None:
        """Note an element; paths are read when all of them are known."""
        element = len(self._places)
        if element >= MOST_SHAPES:
            raise TooMuch(f"the file holds more than {MOST_SHAPES} lines")
        place = f"{kind} {element + 1}"
        self._places.append(place)
        self._layer_of.append(self._names.setdefault(self._layer(attributes, place), len(self._names)))
        if not self._planes or self._planes[-1] is not matrix:
            self._planes.append(matrix)
        self._plane_of.append(len(self._planes) - 1)
        # Thousands of paths are slow to read one by one; they are noted here, and read all at once, by arrays, where
        # they are plain.
        text = attributes.get("d", "") if kind == "path" else ""
        if text.strip() not in ("", "none") and len(text) <= LONGEST_PATH:
            self._paths.append((element, text))
        else:
            self._add(element, kind, attributes)

    def _add(self, element: int, kind: str, attributes: dict[str, str]) -> None:
        """The shapes of one element, with a fault when it has others than lines and arcs."""
        import numpy as np

        try:
            shapes = shapes_of(kind, attributes)
        except NotUnderstood as error:
            self._faults.add(102, str(error), _REDRAW, self._places[element])
            return
        for shape in shapes:
            if isinstance(shape, Disc):
                rows, closed = [(shape.x, shape.y, 0.0, shape.radius or float("nan"))], True
            else:
                rows, closed = [(*vertex, 0.0) for vertex in shape[0]], shape[1]
            self._chains.append((element, closed, np.array(rows)))
            self._pieces += len(rows)
        if self._pieces > 2 * MOST_SHAPES:
            raise TooMuch(f"the file holds more than {MOST_SHAPES} lines")

    def contours(self) -> Contours:
        """Everything drawn, in mm, in file order. Raises TooMuch."""
        import numpy as np

        plain = self._plain_paths()
        element = np.append(plain.path, [each for each, _, _ in self._chains]).astype(np.int64)
        closed = np.append(plain.closed, [each for _, each, _ in self._chains]).astype(bool)
        lengths = [len(rows) for _, _, rows in self._chains]
        owner = np.append(plain.owner, np.repeat(np.arange(len(lengths)) + len(plain.path), lengths)).astype(np.int64)
        with_radius = np.column_stack([plain.table, np.zeros(len(plain.table))])
        table = np.concatenate([with_radius, *(rows for _, _, rows in self._chains)])
        # Plain paths were read together, all else one by one: both are put back in the order of the file.
        order = np.argsort(element, kind="stable")
        rank = np.empty_like(order)
        rank[order] = np.arange(len(order))
        rows = np.argsort(rank[owner], kind="stable")
        found = self._placed(table[rows], rank[owner[rows]], element[order], closed[order])
        read = drawn_through(found, self._faults)
        if len(read.table) > MOST_SHAPES:
            raise TooMuch(f"the file holds more than {MOST_SHAPES} lines")
        return read

    def _plain_paths(self) -> Chains:
        """The paths' chains, by the numbers of their elements; where they are not all plain, none, and each by itself
        among the others."""
        import numpy as np

        plain = read_plain([text for _, text in self._paths]) if self._paths else None
        if plain is not None:
            elements = np.array([element for element, _ in self._paths], dtype=np.int64)
            return replace(plain, path=elements[plain.path])
        for element, text in self._paths:
            self._add(element, "path", {"d": text})
        return Chains.none()

    def _placed(self, table: Numbers, owner: Indices, element: Indices, closed: Truths) -> Vertices:
        """The vertices in mm with y up. Arcs and circles that a transform stretches are faults and become nothing."""
        import numpy as np

        plane = np.array(self._plane_of, dtype=np.int64)[element]
        figures = [(m.a, m.b, m.c, m.d, m.e, m.f, m.sense, m.scale) for m in self._planes]
        a, b, c, d, e, f, sense, scale = np.array(figures).reshape(-1, 8)[plane[owner]].T
        x, y, bulge, radius = table.T
        placed = np.stack([a * x + c * y + e, b * x + d * y + f, sense * bulge, scale * radius], axis=1)
        # A circle under an uneven scale is an ellipse, which no machine file has; lines may be stretched as they like.
        uneven = np.array([not matrix.is_even for matrix in self._planes], dtype=bool)
        stretched = sorted(set(owner[uneven[plane[owner]] & ((bulge != 0) | (radius != 0))].tolist()))
        places = [self._places[number] for number in element.tolist()]
        kept = np.ones(len(element), dtype=bool)
        kept[stretched] = False
        for number in stretched:
            self._faults.add(102, "an arc or circle is stretched by a transform", _REDRAW, places[number])
        layer = np.array(self._layer_of, dtype=np.int64)[element]
        found = Vertices(placed, owner, closed, tuple(self._names), layer, places)
        return found.only(kept) if stretched else found

    def _layer(self, attributes: dict[str, str], place: str) -> str:
        """The shape's layer; a fault when its group and its colour say different things."""
        key = (attributes.get("stroke", ""), attributes.get("style", ""), attributes.get("id", ""))
        if key not in self._known:
            own = replace(_around(attributes), label="")  # a label on a shape is its name, not its layer's
            around = [*self._around[1:], own]
            stroke = next((element.stroke for element in reversed(around) if element.stroke), "")
            self._known[key] = layer_of(around, stroke, self._layers)
        layer, by_colour = self._known[key]
        if by_colour and layer != by_colour:
            says = f'a shape on layer "{layer}" has the colour of layer "{by_colour}"'
            self._faults.add(116, says, "give it the colour of its own layer, or write the files again", place)
        return layer


def _around(attributes: dict[str, str]) -> Around:
    """Names and colour that an element carries; a label may stand in any program's namespace."""
    label = next((value for key, value in attributes.items() if key.rpartition(" ")[2] == "label"), "")
    stroke = attributes.get("stroke", "")
    for rule in attributes.get("style", "").split(";"):
        key, _, value = rule.partition(":")
        if key.strip() == "stroke":
            stroke = value.strip()
    return Around(label=label, id=attributes.get("id", ""), stroke=stroke)
