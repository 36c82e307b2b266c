"""What a round tool cannot help leaving in re-entrant corners: wood left over and the finished part in, areas out.

Part frame; mm. A point's wood is the tool's fault alone when no place of the tool that covers the point spares the
part. That is asked about each piece of wood for itself.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigmaker.proof.checks.sweep import reached

if TYPE_CHECKING:
    from shapely import Polygon

_ROOM_MM = 0.1  # beyond what the tool can reach about a piece of wood


def beyond_fillets(wood: Polygon, nominal: Polygon, tool: float, within: float) -> Polygon:
    """Of one piece of wood outside the part: what a round tool of this diameter could have reached.

    Wood up to `within` from a fillet is the fillet's.
    """
    import shapely

    low_x, low_y, high_x, high_y = wood.bounds
    room = tool + _ROOM_MM
    window = (low_x - room, low_y - room, high_x + room, high_y + room)
    waste = shapely.box(*window).difference(shapely.clip_by_rect(nominal, *window))
    fillets = waste.difference(reached(waste, tool))
    return wood.difference(fillets.buffer(within, join_style="mitre"))
