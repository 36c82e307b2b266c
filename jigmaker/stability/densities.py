"""How heavy wood is: species in, density out; kg/m3 at 12 % moisture, air-dry as in a heated room.

Specific gravities are those of the Wood Handbook (USDA Forest Products Laboratory, FPL-GTR-190, tables 5-3a and 5-5a):
ovendry mass over the volume at 12 % moisture, means of small clear specimens. Boards of a species differ by a tenth of
it and more; wet wood is heavier.
"""

from jigmaker.errors import OutOfRange

SPECIFIC_GRAVITY = {
    "eastern white pine": 0.35,
    "western white pine": 0.35,
    "Engelmann spruce": 0.35,
    "sugar pine": 0.36,
    "ponderosa pine": 0.40,
    "redwood": 0.40,
    "red pine": 0.46,
    "Douglas-fir": 0.48,
    "shortleaf pine": 0.51,
    "slash pine": 0.59,
    "white ash": 0.60,
    "yellow birch": 0.62,
    "red oak": 0.63,
    "sugar maple": 0.63,
    "beech": 0.64,
}
"""By species, lightest first."""

LIGHTEST = "eastern white pine"
"""Taken when nobody says which wood it is: the lighter a trestle is, the sooner it tips."""

MOISTURE = 0.12
_WATER_KG_M3 = 1000.0


def density_kg_m3(species: str) -> float:
    """Density at 12 % moisture: specific gravity x 1000 x 1.12. Raises OutOfRange for a species not in the table."""
    if species not in SPECIFIC_GRAVITY:
        raise OutOfRange(f'"{species}" is not in the table of woods; known are {", ".join(SPECIFIC_GRAVITY)}')
    return SPECIFIC_GRAVITY[species] * _WATER_KG_M3 * (1 + MOISTURE)
