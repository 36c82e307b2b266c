"""The d attribute of an SVG path in, chains of vertices with bulges out, in the path's own plane (y down).

A bulge here is positive for SVG's sweep flag 1, that is toward +y from +x; who maps the plane maps its sign.
"""

import re
from dataclasses import dataclass, field

from jigmaker.proof.chain import Vertex, arc_vertices

_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7, "Z": 0}
_FLAGS = (3, 4)  # the two of an arc's figures that are one character each and need no blank after them
_ROUND = 1e-6  # share by which an arc's two radii may differ

LONGEST_PATH = 1_000_000
"""Characters of the longest path that is read."""

_STEP = re.compile(r"([MLHVCSQTAZmlhvcsqtaz])([^MLHVCSQTAZmlhvcsqtaz]*)")
_FIGURE = re.compile(r"[\s,]*([-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_BLANK = " \t\r\n\f,"


class NotUnderstood(Exception):
    """A path with something that the judge cannot turn into lines and arcs; says what."""


@dataclass(slots=True)
class _Walk:
    """Where the pen is, and the chains drawn so far."""

    chains: list[tuple[list[Vertex], bool]] = field(default_factory=list)
    vertices: list[Vertex] = field(default_factory=list)
    x: float = 0.0
    y: float = 0.0
    first: tuple[float, float] = (0.0, 0.0)

    def move(self, x: float, y: float) -> None:
        self.end()
        self.x, self.y, self.first = x, y, (x, y)

    def draw(self, x: float, y: float, before: list[Vertex]) -> None:
        """On to (x, y) by way of the vertices, which start where the pen is."""
        self.vertices += before
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


def read_path(text: str) -> list[tuple[list[Vertex], bool]]:
    """Every chain of the path, with True when it is closed. Raises NotUnderstood for curves and for faulty text."""
    if len(text) > LONGEST_PATH:
        raise NotUnderstood(f"a path of {len(text)} characters is too long")
    if text.lstrip(_BLANK)[:1] not in ("M", "m"):
        raise NotUnderstood("a path does not start with a move")
    walk = _Walk()
    for letter, written in _STEP.findall(text):
        count = _COUNTS.get(letter.upper())
        if count is None:
            raise NotUnderstood(f"a curve ({letter}) is not understood")
        words = written.split()
        if len(words) == count and "_" not in written and "," not in written:
            try:
                _step(walk, letter, [float(word) for word in words])
                continue
            except ValueError:
                pass  # figures that share no blank, such as 1-2
        for figures in _repeats(written, letter, count):
            _step(walk, letter, figures)
            letter = {"M": "L", "m": "l"}.get(letter, letter)  # SVG 2, 9.3.3: pairs after a move are lines
    walk.end()
    return walk.chains


def _repeats(written: str, letter: str, count: int) -> list[list[float]]:
    """The figures after a command, as many sets of them as there are: SVG lets a command's letter be left out."""
    sets: list[list[float]] = []
    at, end = 0, len(written.rstrip(_BLANK))
    while at < end or not sets:
        figures: list[float] = []
        for i in range(count):
            found = (_FLAG if count == 7 and i in _FLAGS else _FIGURE).match(written, at, end)
            if found is None:
                raise NotUnderstood(f"a figure of a path's {letter} is missing or is none")
            figures.append(float(found[1]))
            at = found.end()
        if count == 0 and end:
            raise NotUnderstood("figures follow the end of a path")
        sets.append(figures)
    return sets


def _step(walk: _Walk, letter: str, figures: list[float]) -> None:
    """One command carried out."""
    dx, dy = (walk.x, walk.y) if letter.islower() else (0.0, 0.0)
    here = (walk.x, walk.y, 0.0)
    match letter.upper():
        case "M":
            walk.move(figures[0] + dx, figures[1] + dy)
        case "L":
            walk.draw(figures[0] + dx, figures[1] + dy, [here])
        case "H":
            walk.draw(figures[0] + dx, walk.y, [here])
        case "V":
            walk.draw(walk.x, figures[0] + dy, [here])
        case "A":
            end = (figures[5] + dx, figures[6] + dy)
            walk.draw(*end, _arc((walk.x, walk.y), end, figures))
        case _:
            walk.close()


def _arc(start: tuple[float, float], end: tuple[float, float], figures: list[float]) -> list[Vertex]:
    """SVG 2, 9.5.1: a radius of 0 makes a straight line, a negative one counts as positive."""
    along, across = abs(figures[0]), abs(figures[1])
    if along == 0 or across == 0:
        return [(*start, 0.0)]
    if abs(along - across) > _ROUND * max(along, across, 1.0):
        raise NotUnderstood("an arc of an ellipse is not understood")
    return arc_vertices(start, end, (along + across) / 2, figures[3] == 1, 1 if figures[4] == 1 else -1)
