"""What a round tool cannot help leaving in re-entrant corners: wood left over and the finished part in, areas out.

Part frame; mm. A point's wood is the tool's fault alone when no place of the tool that covers the point spares the
part. That is asked exactly, about each piece of wood for itself: the geometry library's own offset first straightens
hollows by a hundredth of the distance, so that it would let pass 0.03 mm beside a cutter of 6 mm.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.proof.sweep import outline_of, swept

if TYPE_CHECKING:
    from shapely import Polygon

_ROOM_MM = 0.1  # beyond what the tool can reach about a piece of wood
_LEAST_MM2 = 1e-9


def beyond_fillets(wood: Polygon, nominal: Polygon, tool: float, within: float) -> Polygon:
    """Of one piece of wood outside the part: what a round tool of this diameter could have reached.

    Wood up to `within` from a fillet is the fillet's.
    """
    import shapely

    low_x, low_y, high_x, high_y = wood.bounds
    room = tool + _ROOM_MM
    window = (low_x - room, low_y - room, high_x + room, high_y + room)
    waste = shapely.box(*window).difference(shapely.clip_by_rect(nominal, *window))
    fillets = waste.difference(_reached(waste, tool))
    return wood.difference(fillets.buffer(within, join_style="mitre"))


def _reached(waste: Polygon, tool: float) -> Polygon:
    """All that the tool's disc covers while it stays inside the waste."""
    import shapely

    middles = shapely.difference(waste, _along_edges(waste, tool))
    return shapely.union(middles, _along_edges(middles, tool))


def _along_edges(area: Polygon, tool: float) -> Polygon:
    """The tool's way with its middle on every edge of the area."""
    import shapely

    polygons = [piece for piece in shapely.get_parts(area) if piece.geom_type == "Polygon" and piece.area > _LEAST_MM2]
    rings = [shapely.Polygon(ring) for piece in polygons for ring in (piece.exterior, *piece.interiors)]
    outlines = [outline for outline in map(outline_of, rings) if outline is not None]
    return shapely.union_all([swept(outline, tool) for outline in outlines])
