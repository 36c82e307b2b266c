"""The lines of an R housing on the board's end, its faces folded out flat about the worked edge. mm.

Unfolded plane: as the operator sees the board clamped edge up. Origin at the board's end on the top arris; x to the
right, so the board lies at x < 0; y up. The edge lies from y = 0 (top arris) to y = thickness (bottom arris), the top
face folded down below it, the bottom face folded up above it.
"""

from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.trestle.angles import tangent
from jigmaker.trestle.records import Trestle


@dataclass(frozen=True, slots=True)
class Unfolded:
    """Corners of the housing on the three faces. Each pair: near wall (toward the board's end), far wall.

    top_floor, top_arris, bottom_arris, bottom_floor: from the housing's floor in the top face over the edge to its
    floor in the bottom face.
    """

    top_floor: tuple[Point, Point]
    top_arris: tuple[Point, Point]
    bottom_arris: tuple[Point, Point]
    bottom_floor: tuple[Point, Point]
    thickness: float

    @property
    def rows(self) -> tuple[tuple[Point, Point], ...]:
        """The four pairs from bottom to top."""
        return (self.top_floor, self.top_arris, self.bottom_arris, self.bottom_floor)

    def wall(self, far: bool, inside_mm: float = 0.0) -> list[Point]:
        """The line of a wall over all three faces, floor to floor; inside_mm moves it into the housing, along x."""
        shift = inside_mm if far else -inside_mm
        return [(pair[far][0] + shift, pair[far][1]) for pair in self.rows]


def unfold(trestle: Trestle) -> Unfolded:
    """The lines of the R housing as cut, clearance included."""
    # The edge in its true shape between the arrises at y = 0 and y = thickness; the top face folded out below it, the
    # bottom face above. A wall goes on over all three, and x is 0 at the board's end, at the right:
    #
    #             ______          floor in the bottom face
    #            /     /
    #    -------/-----/------|    bottom arris, y = thickness
    #          /     /       |
    #         / far / near   |    edge
    #    ----/-----/---------|    top arris, y = 0
    #       |     |          |
    #       |_____|               floor in the top face
    #
    # On a face a wall runs off square by the edge's twist, so at a depth it is depth * tan(twist) nearer to the middle.
    housing, thickness = trestle.housing, trestle.job.top.thickness_mm
    turn = tangent(trestle.angles.edge_twist_deg)
    wide = housing.width_on_arris_mm

    def pair(start: float, y: float) -> tuple[Point, Point]:
        return (-start, y), (-start - wide, y)

    return Unfolded(
        pair(housing.start_top_mm + housing.depth_top_mm * turn, -housing.depth_top_mm),
        pair(housing.start_top_mm, 0.0),
        pair(housing.start_bottom_mm, thickness),
        pair(housing.start_bottom_mm + housing.depth_bottom_mm * turn, thickness + housing.depth_bottom_mm),
        thickness,
    )
