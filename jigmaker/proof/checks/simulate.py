"""The cut in numbers: parts as they come off the machine, by each of the folder's files. Part frames; mm.

A disc as wide as the kerf or cutter is swept along the lines that were read and taken out of the sheet; what stays
inside the outer line, less what drops out of the openings, is the part. Of a file at nominal size the contours
themselves are the part. A bridge counts as sawn off flush.
"""

from __future__ import annotations

from dataclasses import replace
from math import dist, hypot
from typing import TYPE_CHECKING

from jigmaker.findings import Finding
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Contour, Line, Outline, Stroke
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import OPERATIONS, Machine, Operation
from jigmaker.progress import counted
from jigmaker.proof.checks.compare import check_cut, nominal_of
from jigmaker.proof.checks.machine_error import as_cut, round_width_mm, stretched, unstretched
from jigmaker.proof.checks.measured import missing_finding
from jigmaker.proof.checks.places import hangs_on_curves
from jigmaker.proof.checks.rings import Run, reversed_run
from jigmaker.proof.checks.same_lines import CutBefore, line_table
from jigmaker.proof.checks.sweep import PER_QUARTER, left_inside
from jigmaker.proof.contours import ReadContour
from jigmaker.proof.faults import AGAIN
from jigmaker.proof.readers.read_folder import operations_of
from jigmaker.proof.records import CutPart, DeclaredFile, DeclaredPart, Folder
from jigmaker.record import dataclass

if TYPE_CHECKING:
    from shapely import Polygon

_BRIDGE_MM = 0.02  # a bridge may be this much narrower than asked
_ASIDE_MM = 0.01  # a bridge's two ends lie on one straight line to this
_PAIR_MM = 60.0  # the two ends of a bridge's gap are never farther apart


@dataclass(frozen=True, slots=True)
class CutLines:
    """What a machine follows to cut pieces: closed contours, and findings on how they close."""

    outer: list[Contour]
    inner: list[Contour]
    findings: list[Finding]


def cut_parts(folder: Folder, before: CutBefore | None = None) -> tuple[list[CutPart], list[Finding]]:
    """Every part by every set of its files, those with the tool's width included first; and what is wrong with them.

    Lines that are the same in several files are cut once; `before` remembers them for others.
    """
    before = CutBefore() if before is None else before
    parts: list[CutPart] = []
    findings: list[Finding] = []
    for declared in counted("proving cuts", folder.kit.parts):
        nominal = nominal_of(declared)
        for files in included_first(declared.files):
            if not any(file.name in folder.files for file in files):
                continue
            lines = lines_of(files, folder)
            findings += lines.findings
            is_changed = any(file.name in folder.changed for file in files)
            machine = folder.shop.machine
            cut, found = cut_piece(declared, nominal, lines, files[0], machine, before, is_changed=is_changed)
            findings += found
            parts += [cut] if cut is not None else []
    return parts, findings


def included_first(files: tuple[DeclaredFile, ...]) -> list[list[DeclaredFile]]:
    """Files that are cut together, one file or one for each operation, of one form and compensation; those with the
    tool's width in their lines first."""
    sets: dict[tuple[str, str], list[DeclaredFile]] = {}
    for file in files:
        sets.setdefault((file.form, file.compensation), []).append(file)
    return sorted(sets.values(), key=lambda files: files[0].compensation != "included")


def contours_of(files: list[DeclaredFile], folder: Folder, operation: Operation) -> list[ReadContour]:
    """All contours of an operation from the files that were read."""
    read = [(declared, folder.files[declared.name]) for declared in files if declared.name in folder.files]
    wanted = OPERATIONS.index(operation)
    return [
        file.lines.contour(number)
        for declared, file in read
        for number, of in enumerate(operations_of(file, declared, folder.shop).tolist())
        if of == wanted
    ]


def lines_of(files: list[DeclaredFile], folder: Folder) -> CutLines:
    """The files' closed contours as the machine runs them; bridges closed straight across."""
    name, machine, findings = files[0].name, folder.shop.machine, list[Finding]()
    # Only closed lines cut something out. An open inner one is a fault; open outer ones may be what bridges leave.
    inner = contours_of(files, folder, "inner")
    for contour in inner:
        if isinstance(contour.shape, Stroke):
            says, do = "an opening is cut along an open line", "close the line, or write the files again"
            findings.append(Finding(256, says, do, part=name, at=contour.place))
    read = [contour.shape for contour in contours_of(files, folder, "outer")]
    holes = [contour.shape for contour in inner]
    if files[0].compensation == "included" and machine.is_corrected:
        # Where the machine's tool really goes; moved_mm was added when the lines were bent for it.
        back = PlaneFrame(-files[0].moved_mm[0], -files[0].moved_mm[1])
        read, holes = ([as_cut(shape.placed(back), machine) for shape in shapes] for shapes in (read, holes))
    strokes = [shape for shape in read if isinstance(shape, Stroke)]
    rings, gaps = closed_over_bridges(strokes, name, machine, files[0].tool_mm) if strokes else ([], [])
    closed: list[Contour] = [shape for shape in read if not isinstance(shape, Stroke)]
    return CutLines(closed + rings, [shape for shape in holes if not isinstance(shape, Stroke)], findings + gaps)


def closed_over_bridges(
    strokes: list[Stroke], file: str, machine: Machine, tool_mm: float
) -> tuple[list[Contour], list[Finding]]:
    """Open strokes chained over straight gaps into outlines; each gap a bridge whose wood is the gap less the tool.

    Where the machine's tool really goes: a scale off 1 makes the gap in the file wider or narrower. tool_mm: the tool's
    width when it is in the lines, else 0.

    On a sheet the end of another piece's line may be nearer than the far side of a bridge, but not straight ahead.
    """
    # From the end of each line to what lies straight ahead of it, until that is the line's own start.
    left: list[Run] = [stroke.segments for stroke in strokes]
    rings: list[Contour] = []
    findings: list[Finding] = []
    while left:
        ring = left.pop(0)
        while True:
            here = ring[-1].end
            ahead = _ahead(ring, [run for each in left for run in (each, reversed_run(each))])
            # A bridge's wood is what the tool's width, in this direction, leaves of the gap.
            ends, gap = (here, ahead[0].start), dist(here, ahead[0].start)
            way = [(b - a) / gap for a, b in zip(*ends, strict=True)] if gap > TOUCH_MM else [1.0, 0.0]
            in_x, in_y = machine.cut_width_mm if tool_mm else (0.0, 0.0)
            wood, wanted_mm = gap - hypot(in_x * way[0], in_y * way[1]), machine.bridge_width_mm
            if wanted_mm - _BRIDGE_MM > wood or gap > _PAIR_MM:
                says = f"the outline's lines leave {wood:.2f} mm of wood between their ends, "
                says += f"a bridge has {wanted_mm:.2f} mm"
                place = f"at {here[0]:.3f}, {here[1]:.3f}"
                do = "write the files again, or set machine.bridge_width to what the bridges should have"
                key, value, limit = "shop machine.bridge_width", f"{wood:.3f} mm", f"{wanted_mm:.3f} mm"
                findings.append(Finding(255, says, do, key, file, value, limit, at=place))
            ring += (Line(*ends),) if gap > TOUCH_MM else ()
            if ahead[0].start == ring[0].start:
                break
            left = [each for each in left if each != ahead and reversed_run(each) != ahead]
            ring += ahead
        rings.append(Outline(ring))
    return rings, findings


def _ahead(ring: Run, runs: list[Run]) -> Run:
    """The run, the chain itself among them, that goes on straight ahead of the chain's end; else the nearest one."""
    (x, y), (ux, uy) = ring[-1].end, ring[-1].end_direction

    def way(run: Run) -> tuple[bool, float]:
        (sx, sy), (vx, vy) = run[0].start, run[0].start_direction
        along, aside = (sx - x) * ux + (sy - y) * uy, (sx - x) * uy - (sy - y) * ux
        is_straight = (
            abs(aside) < _ASIDE_MM and along > 0 and abs(ux * vy - uy * vx) < _ASIDE_MM and ux * vx + uy * vy > 0
        )
        return not is_straight, dist((x, y), (sx, sy))

    return min([ring, *runs], key=way)


def left_of(outer: Contour, inner: list[Contour], machine: Machine | None) -> Polygon | None:
    """The piece that the tool leaves inside an outer line; None when it leaves nothing or falls into several.

    machine: whose tool goes along the lines; None when the lines themselves are the part.
    """
    if machine is None or not machine.is_directed:
        return _left(outer, inner, machine.tool_mm if machine is not None else 0.0)
    # A tool that cuts wider along x than along y is a disc in a plane stretched by as much: swept there and brought
    # back.
    ring, *rings = (stretched(shape, machine) for shape in (outer, *inner))
    assert not isinstance(ring, Stroke)
    left = _left(ring, [each for each in rings if not isinstance(each, Stroke)], round_width_mm(machine))
    return None if left is None else _sound(unstretched(left, machine))


def _left(outer: Contour, inner: list[Contour], width: float) -> Polygon | None:
    """What a disc of this width leaves; of no width, what the lines themselves hold."""
    import shapely

    # Lines that cross themselves enclose no one area: what the kernel would make of them says nothing.
    shapes = [shapely.polygons(shape.points(PER_QUARTER)) for shape in (outer, *inner)]
    if not shapely.is_valid(shapes).all():
        return None
    pieces = [piece for piece in left_inside(outer, inner, width) if piece.area > 1e-3]
    return pieces[0] if len(pieces) == 1 else None


def _sound(area: Polygon) -> Polygon:
    """The area itself; where moving it has made hairs of 1e-12 mm cross, without them."""
    import shapely

    if area.is_valid:
        return area
    # A hair makes it a collection of lines and of several polygons, which are one level further down.
    pieces = shapely.get_parts(shapely.get_parts(shapely.make_valid(area)))
    return max((piece for piece in pieces if piece.geom_type == "Polygon"), key=lambda piece: piece.area)


def cut_piece(
    declared: DeclaredPart,
    nominal: Polygon,
    lines: CutLines,
    file: DeclaredFile,
    machine: Machine,
    before: CutBefore,
    turn_deg: float = 0.0,
    is_changed: bool = False,
) -> tuple[CutPart | None, list[Finding]]:
    """One piece of a part as the lines of a file make it, in its part frame, and what is wrong with it.

    turn_deg: how the piece lies on its sheet. is_changed: another program may have saved the file. What was found along
    the same lines before is not reported again.
    """
    from shapely.affinity import rotate, translate

    if not nominal.is_valid:
        says = f"kit.json tells lines of {declared.name} that cross or touch each other"
        return None, [missing_finding(declared.name, says)]
    widths = machine.cut_width_mm if file.compensation == "included" else (0.0, 0.0)
    way = (*widths, turn_deg % 180 if machine.is_corrected or machine.is_directed else 0.0)
    # The same lines for the same finished shape give the same piece: most pieces are on several sheets and in two
    # forms.
    table = line_table(lines.outer[0], lines.inner, turn_deg) if len(lines.outer) == 1 else None
    known = before.find(declared, way, table) if table is not None else None
    if known is not None:
        return replace(known, declared=declared, file=file.name, is_changed=is_changed), []
    # The tool leaves one piece inside one outline; everything else is no part that could be measured.
    left = left_of(lines.outer[0], lines.inner, machine if any(widths) else None) if len(lines.outer) == 1 else None
    if left is None:
        why = (
            f"it has {len(lines.outer)} closed outlines" if len(lines.outer) != 1 else "it falls apart, or is all waste"
        )
        says = f"{declared.name} cannot be cut by this file: {why}"
        return None, [Finding(334, says, AGAIN, part=file.name)]
    turned = rotate(left, -turn_deg, origin=(0, 0)) if turn_deg else left
    # The piece with its box at the origin, as finished parts have it. A crooked machine, or a program that makes chords
    # of arcs, may put curves off: if the box hangs on them, it says less than the middle of the convex hull, which
    # fillets do not change.
    (x, y), (low_x, low_y) = (0.0, 0.0), turned.bounds[:2]
    has_moved_curves = is_changed or (any(widths) and (machine.is_corrected or machine.is_directed))
    if has_moved_curves and hangs_on_curves(declared.outline):
        (x, y), (low_x, low_y) = (area.convex_hull.centroid.coords[0] for area in (nominal, turned))
    material = _sound(translate(turned, x - low_x, y - low_y))
    cut = CutPart(declared, file.name, material, any(widths), is_changed)
    findings = check_cut(cut, nominal, file, machine, turn_deg)
    before.keep(way, table, cut)
    return cut, findings
