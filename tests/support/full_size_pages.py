"""Full-size paper of sample jobs, made once, and what another reader finds on it; mm as measured on the print."""

import math
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from io import StringIO
from itertools import pairwise

import ezdxf
import ezdxf.path
import shapely
from pdf_pages import read_pdf
from sample_drawings import DRAWN
from sample_jobs import DEMO_SHOP
from sample_variants import JOBS

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_picture import cut_picture
from jigmaker.job.shop import Paper
from jigmaker.papers.full_size.full_size_set import full_size_set
from jigmaker.papers.full_size.full_size_set import templates as templates_of_kit
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import single_part_sheet
from jigmaker.trestle.solve import solve
from jigmaker.writers.dxf import write_dxf
from jigmaker.writers.pdf_printer_pages import write_printer_pages_pdf

STRETCHED = Paper("Letter", 1.004, 0.997)
CASES = {
    "demo": (DRAWN["demo"], Paper("A4")),
    "large": (DRAWN["A"], STRETCHED),
    "inches": (JOBS["inches"], Paper("Tabloid")),
    "60/60": (JOBS["60/60"], Paper("Letter")),
    "horn and trim": (DRAWN["reveal, horn and trim"], Paper("A3", 0.99, 1.01)),
    "B": (DRAWN["B"], Paper("A4")),
    "90/78": (JOBS["90/78"], Paper("A4")),
}
"""Job and printer. The large board's shop has a sheet large enough for a plate with both slots."""

DOTS_A_MM = 2.5


@cache
def kit_of(case):
    job, paper = CASES[case]
    sheet = replace(DEMO_SHOP.sheet, length_mm=1200.0, width_mm=600.0) if case == "large" else DEMO_SHOP.sheet
    return make_kit(solve(job), replace(DEMO_SHOP, sheet=sheet, paper=paper))


@cache
def pages_of(case):
    """PrinterPages by group."""
    return full_size_set(kit_of(case))


@cache
def templates_of(case):
    """Pictures at 1:1 by group."""
    return templates_of_kit(kit_of(case))


@cache
def printed(case, group):
    """The group's pages as printed and read."""
    paper = CASES[case][1]
    return [Print(page, paper) for page in read_pdf(write_printer_pages_pdf(pages_of(case)[group], group))]


class Print:
    """One page: what its printer, which stretches, makes of every path but letters; `reach` of all is as drawn.

    Straight lines once more by themselves, as (start, end, width).
    """

    def __init__(self, page, paper):
        self.size, self.words = page.size, page.words
        scales = (paper.scale_x, paper.scale_y)
        self.stretch = scales if self.size[0] < self.size[1] else scales[::-1]
        paths, self._page = page.unmoved_paths(), page
        self.paths = [([self._out(p) for p in _points(path)], round(path.width, 3)) for path in paths]
        self.lines = [(*points, width) for points, width in self.paths if len(points) == 2]

    def _out(self, at):
        return (at[0] * self.stretch[0], at[1] * self.stretch[1])

    @property
    def reach(self):
        """(x low, y low, x high, y high) of all that is painted, within a dot."""
        rows = self._page.pixels(DOTS_A_MM * 25.4 / 72)[:, :, 0] < 200
        ys, xs = rows.any(axis=1).nonzero()[0], rows.any(axis=0).nonzero()[0]
        edges = (xs[0], len(rows) - 1 - ys[-1], xs[-1] + 1, len(rows) - ys[0])
        return tuple(edge / DOTS_A_MM for edge in edges)

    def bars(self, axis):
        """Lengths over 60 mm of fine straight lines along an axis."""
        along = [
            (abs(b[axis] - a[axis]), abs(b[1 - axis] - a[1 - axis])) for a, b, width in self.lines if width == 0.25
        ]
        return sorted(length for length, across in along if across < 1e-4 and length > 60)

    def crosses(self):
        """Middles of registration crosses: two finest lines, 6 mm long, square to each other."""
        fine = [(a, b) for a, b, width in self.lines if width == 0.18 and abs(math.dist(a, b) - 6) < 0.001]
        middles = Counter((round((a[0] + b[0]) / 2, 3), round((a[1] + b[1]) / 2, 3)) for a, b in fine)
        return [middle for middle, count in middles.items() if count == 2]


def _points(path):
    """A path's ends, its curves by 17 points each."""
    curves, points, handles = iter(path.curves), [], 0
    for kind, at in path.pieces:
        if kind != "bezier":
            points.append(at)
        elif (handles := handles + 1) % 3 == 0:
            points += [_on_curve(next_curve, i / 16) for next_curve in (next(curves),) for i in range(1, 17)]
    return points


def _on_curve(curve, t):
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return tuple(sum(w * place[axis] for w, place in zip(weights, curve, strict=True)) for axis in (0, 1))


def registered(tiles):
    """Where each tile belongs, as shifts from its page to the first one's: by name and by crosses, nothing else.

    A neighbour's crosses nearest to the common side are laid on this tile's; they must agree within 0.002 mm.
    """
    found = {re.search(r"tile ([A-Z])(\d)", tile.words).groups(): tile.crosses() for tile in tiles}
    shifts = {("A", "1"): (0.0, 0.0)}
    for column, row in list(found):  # row by row from the upper left
        for name, axis, side in ((chr(ord(column) + 1), row), 0, max), ((column, chr(ord(row) + 1)), 1, min):
            if name in found:
                shifts[name] = _beyond(shifts[column, row], found[column, row], found[name], axis, side)
    return [shifts[name] for name in found]


def _beyond(shift, crosses, others, axis, side):
    """Where a neighbour belongs whose crosses on the other side are these on this side."""
    near = side(p[axis] for p in crosses), (min if side is max else max)(p[axis] for p in others)
    pair = [
        sorted(p for p in places if abs(p[axis] - at) < 0.01)
        for places, at in zip((crosses, others), near, strict=True)
    ]
    ways = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(*pair, strict=True)]
    assert len(ways) >= 2 and all(math.dist(way, ways[0]) < 2e-3 for way in ways)
    return tuple(shift[i] + sum(way[i] for way in ways) / len(ways) for i in (0, 1))


def joined(tiles, width=0.35):
    """All lines of that width on all tiles where they come to lie when cross is laid on cross."""
    lines = []
    for tile, (dx, dy) in zip(tiles, registered(tiles), strict=True):
        lines += [[(x + dx, y + dy) for x, y in points] for points, w in tile.paths if w == width and len(points) > 1]
    return shapely.MultiLineString(lines)


@cache
def nominal(case, slug):
    """The part's outline and holes at finished size as its DXF has them, a point at most every 0.5 mm."""
    kit = kit_of(case)
    part = next(part for part in kit.parts if part.slug == slug)
    cut = compensate(single_part_sheet(part), kit.shop.machine, "left out", "mm")
    document = ezdxf.read(StringIO(write_dxf(cut_picture(cut, kit.shop, slug)).decode("ascii")))
    points = []
    for entity in document.modelspace():
        if entity.dxf.layer in ("INNER", "OUTER"):
            ring = [(p.x, p.y) for p in ezdxf.path.make_path(entity).flattening(0.0005)]
            points += [p for a, b in pairwise(ring) for p in _between(a, b)]
    return points


def _between(a, b):
    count = max(1, math.ceil(math.dist(a, b) / 0.5))
    return [(a[0] + (b[0] - a[0]) * i / count, a[1] + (b[1] - a[1]) * i / count) for i in range(count)]
