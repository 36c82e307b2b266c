"""Where a housing's lines meet the board, and which way they run: what drawings measure from. Timber frame; mm."""

from jigmaker.geometry.vectors import Vector
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cotangent, tangent
from jigmaker.trestle.records import Trestle


@dataclass(frozen=True, slots=True)
class HousingPoints:
    """The housing at the board's end with this sign of x and the edge with this sign of y."""

    trestle: Trestle
    x: int
    y: int

    def on_arris(self, wall: str, face: str = "top") -> Vector:
        """Where the near or the far wall meets the arris of the top or the bottom face."""
        # Measured from the board's end: the near wall first, the far one the housing's width on the arris behind it. On
        # the bottom face both are nearer to the end, because the leg leans outward on its way down.
        top, housing = self.trestle.job.top, self.trestle.housing
        start = housing.start_top_mm if face == "top" else housing.start_bottom_mm
        start += 0.0 if wall == "near" else housing.width_on_arris_mm
        level = 0.0 if face == "top" else -top.thickness_mm
        return (self.x * (top.length_mm / 2 - start), self.y * top.width_mm / 2, level)

    def at_floor(self, wall: str, face: str = "top") -> Vector:
        """Where that wall meets the floor in that face."""
        housing = self.trestle.housing
        depth = housing.depth_top_mm if face == "top" else housing.depth_bottom_mm
        x, y, z = self.on_arris(wall, face)
        # In a face the wall's line is off square to the arris by the twist: depth in, depth * tan(twist) toward the
        # middle.
        twist = tangent(self.trestle.angles.edge_twist_deg)
        return (x - self.x * depth * twist, y - self.y * depth, z)

    @property
    def out_of_face(self) -> Vector:
        """Along a wall's line in a face of the board, from the floor out over the edge."""
        return (self.x * tangent(self.trestle.angles.edge_twist_deg), float(self.y), 0.0)

    @property
    def up_the_edge(self) -> Vector:
        """Along a wall's line on the board's edge, upward."""
        return (-self.x * cotangent(self.trestle.angles.edge_line_deg), 0.0, 1.0)

    @property
    def up_the_floor(self) -> Vector:
        """Along the floor in a plane square across the board, upward."""
        return (0.0, -self.y * cotangent(self.trestle.job.splay_deg), 1.0)

    @property
    def to_the_end(self) -> Vector:
        """Along the board toward the end at which the housing is."""
        return (float(self.x), 0.0, 0.0)

    @property
    def inward(self) -> Vector:
        """Across the board, away from the housing's edge."""
        return (0.0, float(-self.y), 0.0)

    @property
    def hand(self) -> str:
        """R or L, as the jig calls it."""
        return "R" if self.x == self.y else "L"
