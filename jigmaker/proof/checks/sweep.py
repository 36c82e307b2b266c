"""What a round tool takes away and leaves, by areas. Any plane frame; mm.

By the offset of the solid kernel's cross section, on chords, true to 1e-8 mm; what makes the files offsets lines and
arcs by code of its own. The geometry library's own offset is not used: it first straightens a contour's hollows by a
hundredth of the distance, which is 0.03 mm with a cutter of 6 mm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from jigmaker.geometry.outline import Circle, Contour

if TYPE_CHECKING:
    from manifold3d import CrossSection
    from shapely import MultiPolygon, Polygon

PER_QUARTER = 64
_MITRE = 2.0  # not used by round joins
_LEAST_MM = 1e-6
_ROOM_MM = 0.1  # beyond what the tool can reach about a piece of wood
_FLAT_MM = 1e-5  # a point so near the straight line between its neighbours is none


def left_inside(outer: Contour, inner: Sequence[Contour], width: float) -> list[Polygon]:
    """The pieces that a disc leaves inside the outer line while its centre runs along all of them; of no width, what
    the lines themselves hold."""
    from manifold3d import CrossSection, OpType

    # The disc takes half its width inside the outer line, and half its width around every opening; what it encloses
    # there drops out. So the part is the outline moved in, less the openings moved out.
    kept = [_moved(outer, -width / 2), *(_moved(shape, width / 2) for shape in inner)]
    return _polygons(CrossSection.batch_boolean(kept, OpType.Subtract))


def shrunk(area: Polygon, width: float) -> Polygon:
    """Where the middle of a disc of this width can be without leaving the area; its largest piece, maybe empty."""
    import shapely

    return max(all_shrunk(area, width), key=lambda piece: piece.area, default=shapely.Polygon())


def all_shrunk(area: Polygon, width: float) -> list[Polygon]:
    """Every piece of where the middle of a disc of this width, mm, can be without leaving the area."""
    return _polygons(_offset(_section([area]), -width / 2))


def grown(area: Polygon, width: float) -> Polygon:
    """All that a disc of this width covers while its middle is anywhere in the area, without holes."""
    import shapely

    return shapely.Polygon(_polygons(_offset(_section([area]), width / 2))[0].exterior)


def reached(area: Polygon | MultiPolygon, width: float) -> MultiPolygon:
    """All that a disc of this width covers while it stays inside the area."""
    import shapely

    pieces = [piece for piece in shapely.get_parts(area) if piece.geom_type == "Polygon"]
    return shapely.MultiPolygon(_polygons(_offset(_offset(_section(pieces), -width / 2), width / 2)))


def _moved(shape: Contour, out_mm: float) -> CrossSection:
    """What a contour holds, its edge moved out. A circle's chords stay those of a circle."""
    from manifold3d import CrossSection

    if isinstance(shape, Circle):
        radius = shape.radius + out_mm
        return CrossSection([replace(shape, radius=radius).points(PER_QUARTER)] if radius > _LEAST_MM else [])
    return _offset(CrossSection([shape.points(PER_QUARTER)], _rule()), out_mm)


def _offset(section: CrossSection, out_mm: float) -> CrossSection:
    from manifold3d import JoinType

    return section.offset(out_mm, JoinType.Round, _MITRE, 4 * PER_QUARTER) if out_mm else section


def _section(areas: Iterable[Polygon]) -> CrossSection:
    from manifold3d import CrossSection

    # Even-odd: a ring inside a ring is a hole, whichever way either runs.
    rings = [ring for area in areas for ring in (area.exterior, *area.interiors)]
    return CrossSection([list(ring.coords)[:-1] for ring in rings], _rule())


def _rule() -> Any:
    from manifold3d import FillRule

    return FillRule.EvenOdd


def _polygons(section: CrossSection) -> list[Polygon]:
    """The separate pieces, each with its holes, without the points that round joins add between chords of an arc."""
    import shapely

    found = []
    for piece in section.simplify(_FLAT_MM).decompose():
        rings = sorted(map(shapely.LinearRing, piece.to_polygons()), key=lambda ring: not ring.is_ccw)
        if rings:  # a speck smaller than what is flat leaves none
            found.append(shapely.Polygon(rings[0], rings[1:]))
    return found


def beyond_fillets(wood: Polygon, nominal: Polygon, tool: float, within: float) -> Polygon:
    """Of one piece of wood outside the part: what a round tool of this diameter could have reached.

    A point's wood is the tool's fault alone when no place of the tool that covers the point spares the part. Wood up to
    `within` from a fillet is the fillet's.
    """
    import shapely

    low_x, low_y, high_x, high_y = wood.bounds
    room = tool + _ROOM_MM
    # Nothing farther off than the tool is wide can keep the tool from here: only this window is worked out.
    window = (low_x - room, low_y - room, high_x + room, high_y + room)
    waste = shapely.box(*window).difference(shapely.clip_by_rect(nominal, *window))
    fillets = waste.difference(reached(waste, tool))
    return wood.difference(fillets.buffer(within, join_style="mitre"))
