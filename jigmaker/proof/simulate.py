"""The cut in numbers: the folder's files in, parts as they come off the machine and findings out. Part frames; mm.

A disc as wide as the kerf or cutter is swept along the lines that were read and taken out of the sheet; what stays
inside the outer line, less what drops out of the openings, is the part. Of a file at nominal size the contours
themselves are the part. A bridge counts as sawn off flush.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import dist
from typing import TYPE_CHECKING

from jigmaker.findings import Finding
from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.proof.compare import check_cut, nominal_of
from jigmaker.proof.records import CutPart, Folder, ReadContour, ToldFile, ToldPart

if TYPE_CHECKING:
    from shapely import Polygon

PER_QUARTER = 64
_BRIDGE_MM = 0.01  # a bridge may be this much narrower than asked
_PAIR_MM = 60.0  # the two ends of a bridge's gap are never farther apart


@dataclass(frozen=True, slots=True)
class Lines:
    """What a machine follows to cut one piece: rings of points, outermost first, and findings on how they close."""

    outer: list[Polygon]
    inner: list[Polygon]
    findings: list[Finding]


def cut_parts(folder: Folder) -> tuple[list[CutPart], list[Finding]]:
    """Every part by every set of its files, those with the tool's width included first; and what is wrong with them."""
    parts: list[CutPart] = []
    findings: list[Finding] = []
    for told in folder.kit.parts:
        nominal = nominal_of(told)
        for files in sorted(file_sets(told.files), key=lambda files: files[0].compensation != "included"):
            cut, found = _cut_part(told, files, folder)
            findings += found
            if cut is not None:
                parts.append(cut)
                findings += check_cut(cut, nominal, files[0], folder.shop.machine)
    return parts, findings


def file_sets(files: tuple[ToldFile, ...]) -> list[list[ToldFile]]:
    """Files that are cut together: one file, or one for each operation; of one form and compensation."""
    sets: dict[tuple[str, str], list[ToldFile]] = {}
    for file in files:
        sets.setdefault((file.form, file.compensation), []).append(file)
    return list(sets.values())


def contours_of(files: list[ToldFile], folder: Folder, operation: str) -> list[ReadContour]:
    """All contours of an operation, by its layer's name, from the files that were read."""
    layers = {layer.name for key, layer in folder.shop.layers.items() if key == operation}
    read = [folder.files[file.name] for file in files if file.name in folder.files]
    return [contour for file in read for contour in file.contours if contour.layer in layers]


def lines_of(files: list[ToldFile], folder: Folder) -> Lines:
    """The files' closed lines as polygons; bridges closed straight across."""
    import shapely

    name, findings = files[0].name, list[Finding]()
    outer = contours_of(files, folder, "outer")
    rings = [c.shape.points(PER_QUARTER) for c in outer if isinstance(c.shape, Outline | Circle)]
    strokes = [c.shape for c in outer if isinstance(c.shape, Stroke)]
    if strokes:
        closed, findings = closed_over_bridges(strokes, name, files[0].tool_mm, folder.shop.machine.bridge_width_mm)
        rings += closed
    inner = contours_of(files, folder, "inner")
    for contour in inner:
        if isinstance(contour.shape, Stroke):
            do = "close the line, or write the files again"
            findings.append(Finding(256, "an opening is cut along an open line", do, part=name, at=contour.place))
    holes = [c.shape.points(PER_QUARTER) for c in inner if isinstance(c.shape, Outline | Circle)]
    polygons = [[shapely.Polygon(ring) for ring in rings if len(ring) > 2] for rings in (rings, holes)]
    return Lines([p for p in polygons[0] if p.is_valid], [p for p in polygons[1] if p.is_valid], findings)


def closed_over_bridges(
    strokes: list[Stroke], file: str, tool_mm: float, wanted_mm: float
) -> tuple[list[list[tuple[float, float]]], list[Finding]]:
    """Open strokes chained end to nearest end into rings, each gap a bridge whose wood is the gap less the tool."""
    left = [stroke.points(PER_QUARTER) for stroke in strokes]
    rings: list[list[tuple[float, float]]] = []
    findings: list[Finding] = []
    while left:
        ring = left.pop(0)
        while True:
            here = ring[-1]
            # The chain's own start is one of the ends that may be nearest; then the ring is closed.
            nearest = min(left, key=lambda run: min(dist(here, run[0]), dist(here, run[-1])), default=None)
            home = dist(here, ring[0])
            if nearest is None or home <= min(dist(here, nearest[0]), dist(here, nearest[-1])):
                findings += _bridge_findings(home, file, here, tool_mm, wanted_mm)
                break
            left.remove(nearest)
            run = nearest if dist(here, nearest[0]) <= dist(here, nearest[-1]) else nearest[::-1]
            findings += _bridge_findings(dist(here, run[0]), file, here, tool_mm, wanted_mm)
            ring = ring + run
        rings.append(ring)
    return rings, findings


def _bridge_findings(
    gap: float, file: str, at: tuple[float, float], tool_mm: float, wanted_mm: float
) -> Iterator[Finding]:
    wood = gap - tool_mm
    if wanted_mm - _BRIDGE_MM <= wood and gap <= _PAIR_MM:
        return
    says = f"the outline's lines leave {wood:.2f} mm of wood between their ends, a bridge has {wanted_mm:.2f} mm"
    place = f"at {at[0]:.3f}, {at[1]:.3f}"
    do = "write the files again, or set machine.bridge_width to what the bridges should have"
    yield Finding(255, says, do, "shop machine.bridge_width", file, f"{wood:.3f} mm", f"{wanted_mm:.3f} mm", at=place)


def left_of(outer: Polygon, inner: list[Polygon], tool_mm: float) -> Polygon | None:
    """The piece that the tool leaves inside an outer line; None when it leaves nothing or falls into several."""
    import shapely

    swept = [line.exterior.buffer(tool_mm / 2, quad_segs=PER_QUARTER) for line in (outer, *inner)] if tool_mm else []
    left = shapely.difference(outer, shapely.union_all([*inner, *swept]))
    pieces = [piece for piece in shapely.get_parts(left) if piece.area > 1e-3]
    return pieces[0] if len(pieces) == 1 else None


def _cut_part(told: ToldPart, files: list[ToldFile], folder: Folder) -> tuple[CutPart | None, list[Finding]]:
    from shapely.affinity import translate

    name = files[0].name
    lines = lines_of(files, folder)
    if not any(file.name in folder.files for file in files):
        return None, []
    tool = folder.shop.machine.tool_mm if files[0].compensation == "included" else 0.0
    left = left_of(lines.outer[0], lines.inner, tool) if len(lines.outer) == 1 else None
    if left is None:
        why = (
            f"it has {len(lines.outer)} closed outlines" if len(lines.outer) != 1 else "it falls apart, or is all waste"
        )
        says = f"{told.name} cannot be cut by this file: {why}"
        return None, [*lines.findings, Finding(334, says, "write the files again with jigmaker make", part=name)]
    low_x, low_y, _, _ = left.bounds
    return CutPart(told, name, translate(left, -low_x, -low_y)), lines.findings
