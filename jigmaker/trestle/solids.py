"""The trestle as solids: a solved trestle in; board with its housings, four legs and two braces out. Timber frame; mm.

Made from the solver's closed formulas, for pictures and whoever measures the whole. The proof has solids of its own.
"""

from itertools import product

from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, scale
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle

SEATS: tuple[tuple[str, int, int], ...] = (("+x+y", 1, 1), ("-x+y", -1, 1), ("-x-y", -1, -1), ("+x-y", 1, -1))
"""Name of a leg's place, and the signs of its x and y. +x+y and -x-y stand in R housings, the others in L housings."""

_FAR_MM = 200.0  # beyond the board, so that a housing goes through both its faces


def trestle_solids(trestle: Trestle, finished: bool = True) -> dict[str, Solid]:
    """Every piece where it stands, by name: "top board", "leg +x+y" (and -x+y, -x-y, +x-y), "brace +x", "brace -x".

    `finished` False leaves horn and trim on the legs. The board has its four housings, clearance included.
    """
    leg, housing, brace = leg_solid(trestle, finished), housing_solid(trestle), brace_solid(trestle)
    top = board_solid(trestle).minus(Solid.union([at_seat(housing, x, y) for _, x, y in SEATS]))
    legs = {f"leg {place}": at_seat(leg, x, y) for place, x, y in SEATS}
    return {"top board": top, **legs, "brace +x": brace, "brace -x": at_seat(brace, -1, 1)}


def at_seat(solid: Solid, x: int, y: int) -> Solid:
    """A solid given for the +x +y leg at the place with these signs: its mirror image in x, in y or in both."""
    turned = solid if x == 1 else solid.mirrored((1.0, 0.0, 0.0))
    return turned if y == 1 else turned.mirrored((0.0, 1.0, 0.0))


def board_solid(trestle: Trestle) -> Solid:
    """The top board without housings."""
    top = trestle.job.top
    half_length, half_width = top.length_mm / 2, top.width_mm / 2
    return Solid.block((-half_length, -half_width, -top.thickness_mm), (half_length, half_width, 0.0))


def leg_solid(trestle: Trestle, finished: bool = True) -> Solid:
    """The +x +y leg where it stands; with horn and trim, both measured along the leg, when not `finished`."""
    corners, (down, _, _) = leg_corners(trestle), leg_directions(trestle)
    leg = trestle.job.leg
    horn, trim = (0.0, 0.0) if finished else (leg.horn_mm, leg.trim_mm)
    head = [add(corner, scale(down, -horn)) for corner in corners[:4]]
    return Solid.hull([*head, *(add(corner, scale(down, trim)) for corner in corners[4:])])


def housing_solid(trestle: Trestle) -> Solid:
    """A bar as wide as the +x +y housing, its inner face on the housing's floor: what the board has to lose.

    It reaches beyond both faces of the board and beyond its edge; clearance opens both walls alike.
    """
    job, (down, wide, edge) = trestle.job, leg_directions(trestle)
    outer_near, opened = leg_corners(trestle)[0], job.housing.clearance_mm / 2
    depths = (-job.leg.thickness_mm, job.leg.thickness_mm)
    walls = (opened, -job.leg.width_mm - opened)
    reach = job.top.thickness_mm + _FAR_MM
    return Solid.hull(
        [
            add(outer_near, add(scale(wide, out), add(scale(edge, side), scale(down, along))))
            for out, side, along in product(depths, walls, (-reach, reach))
        ]
    )


def brace_solid(trestle: Trestle) -> Solid:
    """The brace at the +x end: flat on the legs' two outer arrises, tight under the board, ends flush with the legs."""
    job, (x, y, z) = trestle.job, leg_corners(trestle)[0]
    s, c = sine(job.rake_deg), cosine(job.rake_deg)
    out, under = job.brace.thickness_mm, -job.top.thickness_mm
    top = (x + (z - under) * cotangent(job.rake_deg), under)
    bottom = (top[0] + job.brace.depth_mm * c, top[1] - job.brace.depth_mm * s)
    section = (top, bottom, (bottom[0] + out * s, bottom[1] + out * c), (top[0] + out / s, under))
    corners: list[Vector] = []
    for at_x, at_z in section:
        reach = y + (z - at_z) * cotangent(job.splay_deg)
        corners += [(at_x, reach, at_z), (at_x, -reach, at_z)]
    return Solid.hull(corners)
