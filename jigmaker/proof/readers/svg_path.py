"""What SVG's elements draw, as chains of vertices with bulges and circles, in their own plane (y down, user units).

A bulge here is positive for SVG's sweep flag 1, that is toward +y from +x; who maps the plane maps its sign. Paths of
plain moves, lines and arcs, as programs for cutting write them, are read together; others step by step.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import field
from typing import TYPE_CHECKING, Any

from jigmaker.proof.faults import MOST_SHAPES
from jigmaker.proof.readers.chain import figures
from jigmaker.proof.readers.svg_page import NUMBER
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from jigmaker.proof.contours import Indices, Numbers, Truths

_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7, "Z": 0}
_FLAGS = (3, 4)  # the two of an arc's figures that are one character each and need no blank after them
_ROUND = 1e-6  # share by which an arc's two radii may differ
_HALF_TURN = 2e-6
_QUARTER = 0.41421356237309503  # tan(90 degrees / 4)

LONGEST_PATH = 1_000_000
"""Characters of the longest path that is read."""

_STEP = re.compile(r"([MLHVCSQTAZmlhvcsqtaz])([^MLHVCSQTAZmlhvcsqtaz]*)")
_FIGURE = re.compile(r"[\s,]*([-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_BLANK = " \t\r\n\f,"
_PLAIN = "MLAZ"

SvgVertex = tuple[float, float, float]
Chain = tuple[list[SvgVertex], bool]
"""Vertices x, y, bulge of the piece that starts there; True when the chain is closed."""

SHAPES = frozenset(("path", "line", "circle", "ellipse", "rect", "polyline", "polygon"))
"""The elements that draw lines."""

Attributes = dict[str, str]


class NotUnderstood(Exception):
    """A path with something that the proof cannot turn into lines and arcs; says what."""


@dataclass(frozen=True, slots=True)
class Chains:
    """Chains of several paths: rows x, y, bulge; of each vertex its chain, of each chain its path and if it closes."""

    table: Numbers
    owner: Indices
    path: Indices
    closed: Truths

    @staticmethod
    def none() -> Chains:
        """What a file without plain paths has: no vertex, no chain."""
        import numpy as np

        nothing = np.zeros(0, dtype=np.int64)
        return Chains(np.zeros((0, 3)), nothing, nothing, np.zeros(0, dtype=bool))


def read_plain(texts: Sequence[str]) -> Chains | None:
    """Every chain of paths that hold nothing but M, L, A and Z with all their figures, parted by blanks or commas.

    None when there is any other thing in one of them.
    """
    import numpy as np

    # All words of all paths in one row; where the letters stand, and that each is followed by as many figures as it
    # takes, says whether everything is written out. Python reads "1_000" as a figure, SVG does not.
    text = " ".join(texts).replace(",", " ")
    if "_" in text or sum(text.count(letter) for letter in _PLAIN) > 3 * MOST_SHAPES:
        return None
    for letter in _PLAIN:
        text = text.replace(letter, f" {letter} ")
    words = text.split()
    at = np.flatnonzero([word in _COUNTS for word in words])
    letters = np.array([words[i] for i in at.tolist()], dtype="U1")
    counts = np.diff(at, append=len(words)) - 1
    wanted = np.select([letters == "A", letters == "Z"], [7, 0], 2)
    if not len(at) or at[0] or (counts != wanted).any() or not np.isin(letters, list(_PLAIN)).all():
        return None
    after_close = letters[1:][letters[:-1] == "Z"]
    if letters[0] != "M" or (after_close != "M").any():
        return None
    values = np.zeros(len(words))
    is_figure = np.ones(len(words), dtype=bool)
    is_figure[at] = False
    values[is_figure] = figures([word for word, is_one in zip(words, is_figure.tolist(), strict=True) if is_one])
    moves = np.array([each.count("M") for each in texts])
    if np.isnan(values).any() or moves.min() == 0 or not all(each.lstrip(_BLANK).startswith("M") for each in texts):
        return None
    return _chains(letters, at, counts, values, np.repeat(np.arange(len(texts)), moves))


def _chains(letters: Any, at: Indices, counts: Indices, values: Numbers, path: Indices) -> Chains | None:
    """The chains of checked commands; None for an arc of an ellipse or with a flag that is none."""
    import numpy as np

    # Each M begins a chain, and everything up to the next one belongs to it.
    chain = np.cumsum(letters == "M") - 1
    closes = letters == "Z"
    closed = np.zeros(len(path), dtype=bool)
    closed[chain[closes]] = True
    steps, chain = np.flatnonzero(~closes), chain[~closes]
    last = at[steps] + counts[steps]
    places = np.stack([values[last - 1], values[last]], axis=1)
    bulges = np.zeros(len(steps))
    arcs = np.flatnonzero(letters[steps] == "A")
    figure = values[at[steps[arcs], None] + np.arange(1, 6)]
    along, across = np.abs(figure[:, :2]).T
    if (np.abs(along - across) > _ROUND * np.maximum(np.maximum(along, across), 1.0)).any() or (
        along * across == 0
    ).any():
        return None
    if not np.isin(figure[:, 3:], (0, 1)).all():
        return None
    bulges[arcs - 1] = _bulges(places[arcs - 1], places[arcs], (along + across) / 2, figure[:, 3], figure[:, 4])
    # The bulge belongs to the vertex that the arc starts from, while SVG writes an arc with the point that it ends in.
    # A closed chain that has come back to its start is not closed by another piece; a move alone draws nothing.
    first = np.searchsorted(chain, np.arange(len(path)))
    end = np.searchsorted(chain, np.arange(len(path)), side="right")
    kept = np.ones(len(chain), dtype=bool)
    back = closed & (end - first > 1) & (places[first] == places[end - 1]).all(axis=1)
    kept[end[back] - 1] = False
    kept[first[end - first == 1]] = False
    drawn = np.flatnonzero(end - first > 1)
    owner = np.searchsorted(drawn, chain[kept])
    return Chains(np.column_stack([places, bulges])[kept], owner, path[drawn], closed[drawn])


def _bulges(start: Numbers, end: Numbers, radius: Numbers, large: Numbers, sweep: Numbers) -> Numbers:
    """Of arcs given by their radii.

    A radius too small for the chord is taken as half the chord (SVG 2, "Out-of-range elliptical arc parameters"); so is
    one too large by no more than rounding to six figures, for that alone would move a half turn's middle much.
    """
    import numpy as np

    # Half the chord over the radius is the sine of half the turn t; tan(t / 4) = sin(t / 2) / (1 + cos(t / 2)). The
    # large arc over the same chord turns by the rest of a full turn, and has the reciprocal bulge.
    share = np.hypot(*(end - start).T) / 2 / radius
    share = np.where(share < 1 - _HALF_TURN, share, 1.0)
    bulge = share / (1 + np.sqrt(1 - share * share))
    with np.errstate(divide="ignore"):
        bulge = np.where((large == 1) & (bulge > 0), 1 / bulge, bulge)
    found: Numbers = np.where(sweep == 1, bulge, -bulge)
    return found


@dataclass(slots=True)
class _Walk:
    """Where the pen is, and the chains drawn so far."""

    chains: list[Chain] = field(default_factory=list)
    vertices: list[tuple[float, float, float]] = field(default_factory=list)
    x: float = 0.0
    y: float = 0.0
    first: tuple[float, float] = (0.0, 0.0)

    def move(self, x: float, y: float) -> None:
        self.end()
        self.x, self.y, self.first = x, y, (x, y)

    def draw(self, x: float, y: float, bulge: float = 0.0) -> None:
        """On to (x, y)."""
        self.vertices.append((self.x, self.y, bulge))
        self.x, self.y = x, y

    def close(self) -> None:
        """Back to where the chain began."""
        if self.vertices:
            if (self.x, self.y) != self.first:
                self.vertices.append((self.x, self.y, 0.0))
            self.chains.append((self.vertices, True))
        self.vertices = []
        self.x, self.y = self.first

    def end(self) -> None:
        """Leave the chain open."""
        if self.vertices:
            self.chains.append(([*self.vertices, (self.x, self.y, 0.0)], False))
        self.vertices = []


def read_path(text: str) -> list[Chain]:
    """Every chain of the path. Raises NotUnderstood for curves and for faulty text."""
    if len(text) > LONGEST_PATH:
        raise NotUnderstood(f"a path of {len(text)} characters is too long")
    if text.lstrip(_BLANK)[:1] not in ("M", "m"):
        raise NotUnderstood("a path does not start with a move")
    walk = _Walk()
    for letter, written in _STEP.findall(text):
        count = _COUNTS.get(letter.upper())
        if count is None:
            raise NotUnderstood(f"a curve ({letter}) is not understood")
        for read in _repeats(written, letter, count):
            dx, dy = (walk.x, walk.y) if letter.islower() else (0.0, 0.0)
            match letter.upper():
                case "M":
                    walk.move(read[0] + dx, read[1] + dy)
                case "L":
                    walk.draw(read[0] + dx, read[1] + dy)
                case "H":
                    walk.draw(read[0] + dx, walk.y)
                case "V":
                    walk.draw(walk.x, read[0] + dy)
                case "A":
                    end = (read[5] + dx, read[6] + dy)
                    walk.draw(*end, _arc((walk.x, walk.y), end, read))
                case _:
                    walk.close()
            letter = {"M": "L", "m": "l"}.get(letter, letter)  # SVG 2, 9.3.3: pairs after a move are lines
    walk.end()
    return walk.chains


def _repeats(written: str, letter: str, count: int) -> list[list[float]]:
    """The figures after a command, as many sets of them as there are: SVG lets a command's letter be left out."""
    sets: list[list[float]] = []
    at, end = 0, len(written.rstrip(_BLANK))
    while at < end or not sets:
        read: list[float] = []
        for i in range(count):
            found = (_FLAG if count == 7 and i in _FLAGS else _FIGURE).match(written, at, end)
            if found is None:
                raise NotUnderstood(f"a figure of a path's {letter} is missing or is none")
            read.append(float(found[1]))
            at = found.end()
        if count == 0 and end:
            raise NotUnderstood("figures follow the end of a path")
        sets.append(read)
    return sets


def _arc(start: tuple[float, float], end: tuple[float, float], read: list[float]) -> float:
    """The bulge of an arc as SVG gives it. SVG 2, 9.5.1: a radius of 0 makes a straight line, a negative one counts as
    positive."""
    import numpy as np

    # rx, ry, turn, large, sweep, x, y: of a circle's arc the turn says nothing.
    along, across = abs(read[0]), abs(read[1])
    if along == 0 or across == 0:
        return 0.0
    if abs(along - across) > _ROUND * max(along, across, 1.0):
        raise NotUnderstood("an arc of an ellipse is not understood")
    one = [np.array([value]) for value in ((along + across) / 2, read[3], read[4])]
    return float(_bulges(np.array([start]), np.array([end]), *one)[0])


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle in the element's own plane, user units."""

    x: float
    y: float
    radius: float


def shapes_of(kind: str, attributes: Attributes) -> list[Chain | Disc]:
    """What an element, one of SHAPES, draws. Raises NotUnderstood, saying what."""

    def figures(*keys: str) -> list[float]:
        return [_figure(attributes, key) for key in keys]

    match kind:
        case "path":
            text = attributes.get("d", "")
            return [*read_path(text)] if text.strip() not in ("", "none") else []
        case "line":
            x0, y0, x1, y1 = figures("x1", "y1", "x2", "y2")
            return [([(x0, y0, 0.0), (x1, y1, 0.0)], False)]
        case "circle":
            return [Disc(*figures("cx", "cy", "r"))]
        case "ellipse":
            along, across = figures("rx", "ry")
            if abs(along - across) > _ROUND * max(abs(along), 1.0):
                raise NotUnderstood("an ellipse is not understood")
            return [Disc(*figures("cx", "cy", "rx"))]
        case "rect":
            return [(_rect(attributes, *figures("x", "y", "width", "height")), True)]
        case _:
            text = attributes.get("points", "")
            flat = [float(word) for word in NUMBER.findall(text)]
            if NUMBER.sub("", text).strip(" \t\r\n,") or len(flat) % 2 or len(flat) < 4:
                raise NotUnderstood("points are no list of pairs of figures")
            return [([(x, y, 0.0) for x, y in zip(flat[::2], flat[1::2], strict=True)], kind == "polygon")]


def _rect(attributes: Attributes, x: float, y: float, width: float, height: float) -> list[SvgVertex]:
    """SVG 2, 10.2: a corner radius not given is that of the other axis; neither is more than half the side."""
    if width <= 0 or height <= 0:
        raise NotUnderstood("a rect has no width or no height")
    given = [
        min(_figure(attributes, key), side / 2) for key, side in (("rx", width), ("ry", height)) if key in attributes
    ]
    radius = given[0] if given else 0.0
    if (len(given) == 2 and abs(given[0] - given[1]) > _ROUND) or radius > min(width, height) / 2 + _ROUND:
        raise NotUnderstood("a rect with elliptic corners is not understood")
    right, low = x + width, y + height
    if radius <= 0:
        return [(x, y, 0.0), (right, y, 0.0), (right, low, 0.0), (x, low, 0.0)]
    # Eight vertices, run as SVG runs them: clockwise on the screen; without the straight sides to which full rounding
    # leaves no length.
    corners = [(right - radius, y), (right, y + radius), (right, low - radius), (right - radius, low)]
    corners += [(x + radius, low), (x, low - radius), (x, y + radius), (x + radius, y)]
    vertices = [(*corner, _QUARTER if i % 2 == 0 else 0.0) for i, corner in enumerate(corners)]
    following = vertices[1:] + vertices[:1]
    return [a for a, b in zip(vertices, following, strict=True) if abs(a[0] - b[0]) + abs(a[1] - b[1]) > _ROUND]


def _figure(attributes: Attributes, key: str) -> float:
    """A figure in user units, 0 when not given; px is a user unit. Other units would need the page's scale."""
    text = attributes.get(key, "0").strip().removesuffix("px")
    if not NUMBER.fullmatch(text):
        raise NotUnderstood(f'{key}="{attributes[key][:20]}" is no plain figure')
    return float(text)
