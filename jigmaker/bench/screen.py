"""Pictures for a page: lines, names and dimensions at places in pixels in, SVG text out; x right, y down.

Their words are real text, 16 px and never under 14, so that they can be read at any width, searched and spoken. Ink and
paper come from the page's style by class, never from an attribute, so that a dark page has dark pictures.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import field
from html import escape
from math import hypot
from textwrap import wrap
from typing import Literal

from jigmaker.drawing.projection import DrawnBody, chained
from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass

TextAnchor = Literal["start", "middle", "end"]

LINE_PX, TEXT_PX, COLUMN_SIGNS = 20, 16, 20
_HEAD_PX, _RING_PX = 12.0, 12.0


@dataclass(frozen=True, slots=True)
class ScreenSpot:
    """Where a drawing lies on the screen: scaled, turned upside down, shifted."""

    scale: float
    x: float
    y: float

    def point(self, p: Point) -> Point:
        """A point of the picture plane (mm, y up) on the screen."""
        return (self.x + self.scale * p[0], self.y - self.scale * p[1])


@dataclass(frozen=True, slots=True)
class ScreenName:
    """What a place is called, and its figure, if it has one; at: on the screen."""

    words: str
    figure: str
    at: Point
    side: Literal["left", "right"]


def fit(points: Iterable[Point], wide: float, high: float, left: float = 0.0, top: float = 0.0) -> ScreenSpot:
    """The spot in which these points fill a box of that size, in its middle."""
    xs, ys = zip(*points, strict=True)
    low_x, high_x, low_y, high_y = min(xs), max(xs), min(ys), max(ys)
    scale = min(wide / max(high_x - low_x, 1e-9), high / max(high_y - low_y, 1e-9))
    return ScreenSpot(
        scale,
        left + (wide - scale * (high_x - low_x)) / 2 - scale * low_x,
        top + (high - scale * (high_y - low_y)) / 2 + scale * high_y,
    )


@dataclass
class Screen:
    """Takes lines and words and becomes an SVG element."""

    wide: float
    high: float
    marks: list[str] = field(default_factory=list)

    def line(self, points: Sequence[Point], look: str = "thin", is_closed: bool = False) -> None:
        """A line through the points; look: "outline", "thin", "broken", "heavy" or "cut"."""
        way = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + ("Z" if is_closed else "")
        self.marks.append(f'<path class="{look}" d="{way}"/>')

    def bodies(
        self, drawn: Iterable[DrawnBody], spot: ScreenSpot, outline: str = "outline", inner: str = "thin"
    ) -> None:
        """Projected bodies; lines of one look are one path."""
        for look, pieces in ((outline, [b.outline for b in drawn]), (inner, [b.inner for b in drawn])):
            lines = [chain for each in pieces for chain in chained(each)]
            way = "".join(
                "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in map(spot.point, points)) for points in lines if points
            )
            if way:
                self.marks.append(f'<path class="{look}" d="{way}"/>')

    def words(self, words: str, at: Point, look: str = "", anchor: TextAnchor = "start") -> None:
        """A line of text, its baseline at the point."""
        name = f' class="{look}"' if look else ""
        self.marks.append(f'<text{name} text-anchor="{anchor}" x="{at[0]:.1f}" y="{at[1]:.1f}">{escape(words)}</text>')

    def heads(self, start: Point, end: Point) -> None:
        """A heavy line with an arrow head at both ends; where there is no room for two, from outside."""
        #   |<------>|     A head's point lies on the line's end, its two wings behind it, square to the line. (ux, uy)
        #   ->| |<-        goes from the point to the wings: into the line, or out of one that has no room for heads.
        long = hypot(end[0] - start[0], end[1] - start[1]) or 1.0
        is_short = long < 2.6 * _HEAD_PX
        for (x, y), (to_x, to_y) in ((start, end), (end, start)):
            ux, uy = (to_x - x) / long, (to_y - y) / long
            if is_short:
                ux, uy = -ux, -uy
                self.line([(x, y), (x + 2.2 * _HEAD_PX * ux, y + 2.2 * _HEAD_PX * uy)], "heavy")
            wing = 0.42 * _HEAD_PX
            base = (x + _HEAD_PX * ux, y + _HEAD_PX * uy)
            ring = [(x, y), (base[0] - wing * uy, base[1] + wing * ux), (base[0] + wing * uy, base[1] - wing * ux)]
            self.line(ring, "head", is_closed=True)
        if not is_short:
            cut = 0.6 * _HEAD_PX / long  # the heads end in points, which the heavy line would blunt
            (x, y), (to_x, to_y) = start, end
            ends = [(x + (to_x - x) * t, y + (to_y - y) * t) for t in (cut, 1 - cut)]
            self.line(ends, "heavy")

    def dot(self, at: Point) -> None:
        """Where a name's line ends."""
        self.marks.append(f'<circle class="head" cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="2.5"/>')

    def ring(self, letter: str, at: Point) -> None:
        """A letter in a ring, which a list explains."""
        self.marks.append(f'<circle class="ring" cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="{_RING_PX}"/>')
        self.words(letter, (at[0], at[1] + 5.5), "", "middle")

    def group(self, marks: Sequence[str], look: str, shows: str = "") -> None:
        """Marks together; shows: the field whose dimension this is, drawn while somebody is at it."""
        told = f' data-for="{escape(shows)}"' if shows else ""
        self.marks.append(f'<g class="{look}"{told}>{"".join(marks)}</g>')

    def names(self, names: Sequence[ScreenName], column: float) -> None:
        """Names in a column at either side, each beside its place, none on another."""
        # Names of a side go down it in the order of their places, so that no two of their lines cross.
        for side in ("left", "right"):
            held = sorted((name for name in names if name.side == side), key=lambda name: name.at[1])
            told = [[*wrap(n.words, COLUMN_SIGNS), *([n.figure] if n.figure else [])] for n in held]
            places = _apart([n.at[1] for n in held], [LINE_PX * (len(lines) + 0.4) for lines in told], self.high)
            x, anchor, away = (column, "end", -1) if side == "left" else (self.wide - column, "start", 1)
            for name, lines, y in zip(held, told, places, strict=True):
                self.line([(x - 5 * away, y), name.at], "thin")
                self.dot(name.at)
                low = y - LINE_PX * (len(lines) / 2 - 0.8)
                for i, words in enumerate(lines):
                    look = "figure" if name.figure and i == len(lines) - 1 else ""
                    self.words(words, (x, low + LINE_PX * i), look, "end" if anchor == "end" else "start")

    def rings(self, names: Sequence[ScreenName]) -> None:
        """Letters in rings at either side, in the order of the names."""
        for side in ("left", "right"):
            held = sorted((name.at[1], i) for i, name in enumerate(names) if name.side == side)
            places = _apart([y for y, _ in held], [2 * _RING_PX + 6] * len(held), self.high)
            for (_, i), y in zip(held, places, strict=True):
                x = _RING_PX + 1 if side == "left" else self.wide - _RING_PX - 1
                self.line([(x + (_RING_PX if side == "left" else -_RING_PX), y), names[i].at], "thin")
                self.dot(names[i].at)
                self.ring("ABCDEFGHIJKLMNOP"[i], (x, y))

    def svg(self, title: str, look: str) -> str:
        """The element, as wide as its place allows and no wider than it was drawn."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="picture {look}" role="img" aria-label="{escape(title)}" '
            f'viewBox="0 0 {self.wide:.0f} {self.high:.0f}" width="{self.wide:.0f}" height="{self.high:.0f}">'
            f"{''.join(self.marks)}</svg>"
        )


def _apart(wanted: list[float], sizes: list[float], high: float) -> list[float]:
    """Middles near those wanted, in order, each with room for its size, and all on the picture."""
    # Down first: each as high as it wants and no higher than the one above it lets it. What has been pushed out below
    # comes back up on the way up, and pushes up those above it in its turn.
    placed: list[float] = []
    below = 0.0
    for y, size in zip(wanted, sizes, strict=True):
        placed.append(max(y, below + size / 2))
        below = placed[-1] + size / 2
    above = high
    for i in range(len(placed) - 1, -1, -1):
        placed[i] = min(placed[i], above - sizes[i] / 2)
        above = placed[i] - sizes[i] / 2
    return placed
