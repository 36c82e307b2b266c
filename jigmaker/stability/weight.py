"""What a trestle weighs and where its weight acts: Trestle and density in, Weight out. Timber frame; mm, mm3, kg."""

from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, cross, dot, scale, subtract
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import trestle_solids

_MM3_PER_M3 = 1e9


@dataclass(frozen=True, slots=True)
class Weight:
    """volume_mm3: of all wood, board with its housings, legs and braces; screws, glue and horns are not counted.

    centre: where the weight acts, timber frame. mass_kg: of all.
    """

    volume_mm3: float
    centre: Vector
    mass_kg: float


def weigh(trestle: Trestle, density: float) -> Weight:
    """All pieces of one density, kg/m3."""
    volume, moment = 0.0, (0.0, 0.0, 0.0)
    for solid in trestle_solids(trestle).values():
        own, centre = volume_and_centre(solid)
        volume, moment = volume + own, add(moment, scale(centre, own))
    return Weight(volume, scale(moment, 1 / volume), volume / _MM3_PER_M3 * density)


def volume_and_centre(solid: Solid) -> tuple[float, Vector]:
    """mm3, and the centre of volume in the solid's frame: the sum over tetrahedra from one point to every triangle."""
    mesh = solid.mesh()
    points = [(float(x), float(y), float(z)) for x, y, z in mesh.vert_properties[:, :3]]
    start = points[0]  # inside or on the body: far from it, rounding would grow
    volume, moment = 0.0, (0.0, 0.0, 0.0)
    for i, j, k in mesh.tri_verts:
        a, b, c = (subtract(points[n], start) for n in (int(i), int(j), int(k)))
        own = dot(a, cross(b, c)) / 6
        volume, moment = volume + own, add(moment, scale(add(a, add(b, c)), own / 4))
    return volume, add(start, scale(moment, 1 / volume))
