"""Three kits written to DXF and SVG, with what the tool should follow beside each file; and one reader for both, mm.

The demo with the kerf and without; a CNC kit in inches as R12, marks scored; a bearing-guided kit, a plate for each
hand, as R12 in mm. Of each some parts, by themselves and together on sheets; all marks on the demo's, some on others.
"""

from cmath import rect
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from math import atan, ceil, cos, pi, radians, sin, sqrt, tan

import dxf_tags
import svg_paths
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_sheet import CutSheet
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import FileChoices, Machine
from jigmaker.making.cut_files import CutFile, cut_files
from jigmaker.making.plan import Plan
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.trestle.solve import solve

_SLUGS = {
    "demo": ("bearer", "foot-block-layer", "leg-gauge"),
    "cnc, inches, R12": ("plate", "bearer", "coupon"),
    "bearing, one hand, R12": ("plate-r", "plate-l"),
}

KITS = {
    "demo": (DEMO, DEMO_SHOP),
    "cnc, inches, R12": (
        replace(DEMO, unit="in"),
        replace(DEMO_SHOP, machine=Machine("cnc", 3.175, compensation="included"), files=FileChoices("R12", "in")),
    ),
    "bearing, one hand, R12": (
        DEMO,
        replace(
            BEARING_SHOP,
            sheet=replace(BEARING_SHOP.sheet, length_mm=400),
            machine=Machine("laser", 0.2, compensation="included"),
            files=FileChoices("R12", "mm"),
        ),
    ),
}


@dataclass(frozen=True)
class Line:
    """One contour as read, in mm: points, the bulge of the piece that starts at each, or a circle (x, y, radius)."""

    layer: str
    is_closed: bool
    points: tuple[complex, ...]
    bulges: tuple[float, ...]
    circle: tuple[float, float, float] | None = None

    @property
    def pieces(self):
        """(start, end, bulge) of every piece, the closing one included."""
        points = [*self.points, self.points[0]] if self.is_closed and self.points else self.points
        return [(a, b, bulge) for (a, b), bulge in zip(pairwise(points), self.bulges, strict=False)]

    def dots(self, per_quarter=16):
        """The contour as (x, y) points, near enough to judge what lies in what."""
        if self.circle:
            x, y, r = self.circle
            n = 4 * per_quarter
            return [(x + r * cos(radians(360 * i / n)), y + r * sin(radians(360 * i / n))) for i in range(n)]
        found = [dot for piece in self.pieces for dot in _dots(*piece, per_quarter)]
        return [(p.real, p.imag) for p in found + ([] if self.is_closed else [self.points[-1]])]


@dataclass(frozen=True)
class WrittenKit:
    """A plan, its files, and for each file the sheet as the tool should follow it."""

    plan: Plan
    files: tuple[CutFile, ...]
    cuts: dict[tuple[str, str], CutSheet]

    def cut(self, file):
        """What the file should hold."""
        return self.cuts[file.sheet, file.compensation]

    def offset_mm(self, file):
        """How far lines should have moved: half of what the tool takes away, nothing in a nominal file."""
        return self.plan.shop.machine.tool_mm / 2 if file.compensation == "included" else 0.0

    def layer(self, operation):
        """The layer's name in this shop."""
        return self.plan.shop.layers[operation].name

    def of(self, form):
        """The files of one format."""
        return [file for file in self.files if file.name.endswith(form)]

    def part_files(self, form):
        """(part, file) for every part's own files of one format."""
        parts = {part.slug: part for part in self.plan.kit.parts}
        return [(parts[file.sheet], file) for file in self.of(form) if file.sheet in parts]


@cache
def written_kit(name):
    """One of the KITS, written once a process."""
    job, shop = KITS[name]
    kit = make_kit(solve(job), shop)
    marks = slice(None if name == "demo" else 8)  # most of the time goes into letters
    parts = (replace(part, marks=part.marks[marks]) for part in kit.parts if part.slug in _SLUGS[name])
    kit = replace(kit, parts=tuple(parts))
    own = tuple(single_part_sheet(part, shop.machine.tool_mm) for part in kit.parts)
    plan = Plan(job, shop, kit, own, place(kit.parts, shop), ())
    files = cut_files(plan)
    sheets = {sheet.name: sheet for sheet in (*plan.part_sheets, *plan.sheets)}
    wanted = dict.fromkeys((file.sheet, file.compensation) for file in files)
    return WrittenKit(plan, files, {key: compensate(sheets[key[0]], shop.machine, key[1]) for key in wanted})


@cache
def entities(file):
    """The DXF file's entities as its reader gives them, file units."""
    return tuple(dxf_tags.contours(file.data))


def head(data):
    """The DXF file up to its entities: comments, header, tables."""
    return data.partition(b"  0\nSECTION\n  2\nENTITIES\n")[0]


@cache
def drawn(file):
    """Every contour of the file, closed or open, in file order."""
    if file.name.endswith("dxf"):
        unit = unit_mm(file.data)
        return tuple(_from_entity(one, unit) for one in entities(file))
    return tuple(_from_shape(one) for one in svg_paths.shapes(file.data))


def unit_mm(data):
    """What one drawing unit is, as the file's header says it: 4 mm, 1 inch."""
    return {"4": 1.0, "1": 25.4}[dxf_tags.header(head(data))["$INSUNITS"][0]]


def _from_entity(one, unit):
    if one.kind == "CIRCLE":
        return Line(one.layer, True, (), (), tuple(value * unit for value in one.circle))
    if one.kind == "ARC":
        x, y, r, first, last = one.circle
        ends = [complex(x + r * cos(radians(turn)), y + r * sin(radians(turn))) * unit for turn in (first, last)]
        return Line(one.layer, False, tuple(ends), (tan(radians((last - first) % 360) / 4),))
    points = tuple(complex(x, y) * unit for x, y, _ in one.vertices)
    return Line(one.layer, one.is_closed, points, tuple(bulge for _, _, bulge in one.vertices))


def _from_shape(one):
    if one.circle:
        return Line(one.layer, True, (), (), one.circle)
    points = [start for start, _, _, _ in one.pieces]
    bulges = tuple(_bulge(abs(b - a), r) * (1 if is_anticlockwise else -1) for a, b, r, is_anticlockwise in one.pieces)
    return Line(one.layer, one.is_closed, tuple(points if one.is_closed else [*points, one.pieces[-1][1]]), bulges)


def _bulge(chord, radius):
    """tan of a quarter of the turn: rise over half the chord."""
    return (radius - sqrt(max(0.0, radius**2 - chord**2 / 4))) / (chord / 2) if radius else 0.0


def _dots(start, end, bulge, per_quarter):
    """Points on a piece from start up to, not including, end."""
    if not bulge:
        return [start]
    centre = (start + end) / 2 + 1j * (end - start) * (1 - bulge**2) / (4 * bulge)
    turn = 4 * atan(bulge)
    n = max(1, ceil(abs(turn) / (pi / 2) * per_quarter - 1e-6))
    return [centre + (start - centre) * rect(1, turn * i / n) for i in range(n)]


def lines_of(cut):
    """Operation and shape of every line of a cut sheet, the strokes of its marks one by one."""
    for contour in cut.contours:
        for shape in contour.shape if isinstance(contour.shape, Strokes) else (contour.shape,):
            yield contour.operation, shape
