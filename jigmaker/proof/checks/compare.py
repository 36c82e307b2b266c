"""A part as cut, held against what was wanted. Part frame; mm.

Both ways: nothing that belongs to the part may be missing, and nothing may be left but the fillets that a round tool
cannot help leaving in re-entrant corners.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.findings import Finding
from jigmaker.geometry.outline import Circle, Outline
from jigmaker.job.shop import Machine
from jigmaker.proof.checks.machine_error import (
    ARC_MM,
    ROUND_MM,
    most_stretched,
    round_width_mm,
    stretched_area,
    unstretched,
)
from jigmaker.proof.checks.sweep import beyond_fillets
from jigmaker.proof.faults import FILES_AGAIN
from jigmaker.proof.records import CutPart, DeclaredFile, DeclaredPart

if TYPE_CHECKING:
    from shapely import Point, Polygon

EDGE_MM = 0.002
"""An edge of the simulated cut may lie this far from where it belongs."""

PER_QUARTER = 64
CUTTER_SPARE_MM = 0.2  # a cutter needs this much more than its own width
_WHOLE_MM = 0.01  # a ring moved as a whole is so to this much
_SLIVER_MM2 = 1e-6  # chords and the files' last decimal leave slivers of 1e-8; 0.01 mm off over 1 mm is 1e-2


def nominal_of(declared: DeclaredPart) -> Polygon:
    """The finished part as kit.json declares it, part frame; PER_QUARTER chords a quarter turn for arcs."""
    import shapely

    holes = [shapely.linearrings(contour.points(PER_QUARTER)) for _, contour in declared.holes]
    return shapely.Polygon(shapely.linearrings(declared.outline.points(PER_QUARTER)), holes)


def check_cut(
    cut: CutPart, nominal: Polygon, file: DeclaredFile, machine: Machine, turn_deg: float = 0.0
) -> list[Finding]:
    """Everything that is wrong with one part as cut by one file; the file says whether the tool is in its lines.

    turn_deg: how the piece lay on the bed.
    """
    import shapely

    is_included = file.compensation == "included"
    tool = machine.widest_cut_mm if is_included else 0.0
    # Openings that the tool does not fit into.
    needed = machine.tool_mm + (CUTTER_SPARE_MM if machine.kind == "cnc" else 0.0)
    key = "shop machine.kerf" if machine.kind == "laser" else "shop machine.cutter"
    narrow = []
    for name, contour in cut.declared.holes if tool else ():
        if shapely.polygons(contour.points(PER_QUARTER)).buffer(-(needed - 0.01) / 2, join_style="mitre").is_empty:
            says = f'the opening "{name}" of {cut.declared.name} is narrower than the tool, {needed:.2f} mm'
            narrow.append(Finding(251, says, "use a narrower tool", key, cut.declared.name, at=name))
    if narrow:
        return narrow
    if len(cut.material.interiors) != len(nominal.interiors):
        says = (
            f"{cut.declared.name} has {len(cut.material.interiors)} openings, kit.json tells {len(nominal.interiors)}"
        )
        return [Finding(332, says, FILES_AGAIN, part=cut.file)]
    # Where most is missing, and where most is left that should not be. Where a tool swept (not the lines are the part)
    # it may leave its fillets.
    sweeping = machine if is_included else None

    #    |<- EDGE ->|<- EDGE ->|    The cut edge must lie between the two: nothing of the part shrunk by EDGE_MM may be
    #    shrunk   nominal   grown   missing, nothing may be left outside of the part grown by it.
    missing = _moved_edges(nominal, -EDGE_MM).difference(cut.material)
    extra = cut.material.difference(_moved_edges(nominal, EDGE_MM))
    if sweeping is not None and (sweeping.is_corrected or sweeping.is_directed):
        curves = _beside_curves(cut.declared, sweeping.widest_cut_mm)
        missing, extra = missing.difference(curves), extra.difference(curves)
    if sweeping is not None and not extra.is_empty:
        extra = shapely.union_all([_beyond_fillets(wood, nominal, sweeping, turn_deg) for wood in _pieces(extra)])
    missing, extra = _worst(missing), _worst(extra)
    if missing is None and extra is None:
        return []
    return _deviation_findings(cut, nominal, tool, missing, extra)


def _beyond_fillets(wood: Polygon, nominal: Polygon, machine: Machine, turn_deg: float) -> Polygon:
    """What of a piece of wood the tool could have reached; asked where the tool is round."""
    # A tool that cuts wider along x than along y is no disc: the question is asked where it is one, and the answer
    # brought back.
    if not machine.is_directed:
        return beyond_fillets(wood, nominal, machine.tool_mm, EDGE_MM)
    plane_wood, plane_nominal = (stretched_area(area, machine, turn_deg) for area in (wood, nominal))
    within = EDGE_MM * most_stretched(machine)
    left = beyond_fillets(plane_wood, plane_nominal, round_width_mm(machine), within)
    return unstretched(left, machine, turn_deg)


def _beside_curves(declared: DeclaredPart, tool: float) -> Polygon:
    """Where a part from a crooked machine may be off by more than along its straight edges.

    Also beside the end of a curve, as far as a tool reaches that is still on the curve.
    """
    import shapely

    bands = []
    for contour in (declared.outline, *(hole for _, hole in declared.holes)):
        # A crooked machine has no arcs that fit: curves may be off by what the correction may use, straight edges may
        # not.
        if isinstance(contour, Circle):
            ring = shapely.linearrings(contour.points(PER_QUARTER))
            bands.append(ring.buffer(ROUND_MM + EDGE_MM))
        elif arcs := [each for each in contour.segments if each.bulge]:
            ring = shapely.linearrings(contour.points(PER_QUARTER))
            curves = shapely.MultiLineString([[*arc.points(PER_QUARTER), arc.end] for arc in arcs])
            bands.append(ring.intersection(curves.buffer(tool)).buffer(ARC_MM + EDGE_MM))
    return shapely.union_all(bands)


def _moved_edges(nominal: Polygon, out_mm: float) -> Polygon:
    """The part with every edge moved out; by so little that the library's own rounding is nothing."""
    return nominal.buffer(out_mm, join_style="mitre", mitre_limit=10)


def _pieces(area: Polygon) -> list[Polygon]:
    """The separate areas of an area, without those too small to be wood."""
    import shapely

    return [piece for piece in shapely.get_parts(area) if piece.area > _SLIVER_MM2]


def _worst(area: Polygon) -> Point | None:
    """A point inside the largest piece; None when there is nothing but slivers."""
    pieces = _pieces(area)
    return max(pieces, key=lambda piece: piece.area).representative_point() if pieces else None


def _deviation_findings(
    cut: CutPart, nominal: Polygon, tool: float, missing: Point | None, extra: Point | None
) -> list[Finding]:
    """What the deviation is: lines moved as a whole when every ring is off alike, else the edge that is off."""
    import shapely

    if tool and (moved := _moved_finding(cut, nominal, tool)) is not None:
        return [moved]
    where = missing if missing is not None else extra
    assert where is not None  # one of the two is why we are here
    # How far the two boundaries are apart about the place.
    about = where.buffer(5.0)
    corners = [shapely.Point(at) for ring in (cut.material.exterior, *cut.material.interiors) for at in ring.coords]
    off = max(point.distance(nominal.boundary) for point in [where, *filter(about.contains, corners)])
    name = nearest_piece(cut.declared, (where.x, where.y))
    left = "lacks wood" if missing is not None else "has wood left"
    says = f"{cut.declared.name} {left} at {name}: {off:.3f} mm off"
    do = "write the files again with jigmaker make, or set the line back"
    place = f"{name}, at {where.x:.3f}, {where.y:.3f}"
    # Closing the part by the tool's width fills its re-entrant corners, where the tool leaves some wood by being round.
    filled = nominal.buffer(tool, quad_segs=PER_QUARTER).buffer(-tool, quad_segs=PER_QUARTER) if tool else nominal
    is_in_corner = missing is None and filled.contains(where) and not nominal.contains(where)
    return [Finding(254 if is_in_corner else 331, says, do, "", cut.file, f"{off:.4f} mm", f"{EDGE_MM} mm", at=place)]


def _moved_finding(cut: CutPart, nominal: Polygon, tool: float) -> Finding | None:
    """Lines that should be half the tool away from the part and are elsewhere, all alike; None when they are not.

    An edge moved out by m along the whole perimeter p adds m p to the area; whether all moved by that, the shape says.
    """
    from shapely.affinity import translate

    #     ___________
    #    |  _______  |  m     Every edge moved out by m: the strip that is added is m wide and as long as the perimeter;
    #    | |       | |        what its corners add is of the order of m squared.
    #    | |_______| |
    #    |___________|
    perimeter = nominal.exterior.length + sum(ring.length for ring in nominal.interiors)
    moved = (cut.material.area - nominal.area) / perimeter
    grown = nominal.buffer(moved, join_style="mitre", mitre_limit=10)
    if abs(moved) <= EDGE_MM or grown.is_empty or grown.geom_type != "Polygon":
        return None
    low_x, low_y, _, _ = grown.bounds
    apart = translate(grown, -low_x, -low_y).symmetric_difference(cut.material).area / perimeter
    if apart >= max(_WHOLE_MM / 10, abs(moved) / 4):
        return None
    stands = tool / 2 + moved
    key = "shop machine.compensation"
    value, limit = f"{stands:.4f} mm", f"{tool / 2:.4f} mm"
    if abs(stands + tool / 2) < _WHOLE_MM:
        says = f"{cut.declared.name}: the lines run on the wrong side of the contour"
        return Finding(253, says, "move outlines out and openings in by half the tool", key, cut.file, value, limit)
    if abs(stands) < _WHOLE_MM:
        says = f"{cut.declared.name}: the tool's width is not in the lines, though the file says so"
    elif abs(stands - tool) < _WHOLE_MM:
        says = f"{cut.declared.name}: the tool's width is in the lines twice"
    else:
        says = f"{cut.declared.name}: the lines stand {stands:.3f} mm off the part, half the tool is {tool / 2:.3f} mm"
    do = "write the files again with the tool's width as measured"
    return Finding(252, says, do, key, cut.file, value, limit)


def nearest_piece(declared: DeclaredPart, at: tuple[float, float]) -> str:
    """The name of the feature nearest to a place, or the contour's."""
    import shapely

    point, best = shapely.Point(at), (float("inf"), "the outline")
    contours: dict[str, Outline | Circle] = {"outer": declared.outline, **dict(declared.holes)}
    for feature in declared.features:
        contour = contours.get(feature.contour)
        if contour is None or len(feature.pieces) > 1:
            continue
        if isinstance(contour, Circle):
            line = shapely.linearrings(contour.points(16))
        elif feature.pieces and feature.pieces[0] < len(contour.segments):
            segment = contour.segments[feature.pieces[0]]
            line = shapely.LineString([*segment.points(16), segment.end])
        else:
            continue
        best = min(best, (point.distance(line), feature.name))
    return best[1]
