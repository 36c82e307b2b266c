"""How wood takes up damp and swells: air and moisture in, change of a leg's width out. mm, degrees Celsius.

Moisture is in percent of the wood's dry weight. Means of a species: a single board may well move a third more or less.
"""

from jigmaker.errors import OutOfRange
from jigmaker.record import dataclass

SOFTWOOD = "softwood"

COEFFICIENTS: dict[str, tuple[float, float]] = {
    "coast Douglas-fir": (0.00165, 0.00267),
    "red oak": (0.00158, 0.00369),
    "white oak": (0.00180, 0.00365),
    "white ash": (0.00169, 0.00274),
    "American beech": (0.00190, 0.00431),
    "sugar maple": (0.00165, 0.00353),
    "yellow birch": (0.00256, 0.00338),
}
"""Radial and tangential change of size for 1 % of moisture, by species, the oaks as sold ("commercial"): Wood Handbook,
FPL-GTR-190, table 13-5."""

RANGE = 6.0, 14.0
"""Between these moistures the coefficients hold (the same page)."""

SOFTWOOD_RANGE = 8.0, 19.0
"""Between these the line for softwood lumber was measured (FPL-RP-489)."""

_EMC_WARMTH_C, _EMC_HUMIDITY = (-1.1, 132.2), (5.0, 95.0)  # as far as the handbook's own table 4-2 goes


@dataclass(frozen=True, slots=True)
class Movement:
    """Change of a width, mm, below 0 where it shrinks: of boards whose rings run with the wide face (tangential), which
    move most, and with the narrow face (radial); one figure for softwood lumber, which is sold as the log gives it.
    """

    most_mm: float
    least_mm: float


def equilibrium_moisture(temperature_c: float, humidity: float) -> float:
    """The moisture that wood comes to in air of that warmth and relative humidity (percent), after weeks or months.

    Hailwood and Horrobin's equation with the coefficients of the Wood Handbook, FPL-GTR-190, equation 4-5: a fit, up to
    0.9 % off the handbook's own table. Raises OutOfRange for air that the table does not cover.
    """
    (cold, warm), (dry, damp) = _EMC_WARMTH_C, _EMC_HUMIDITY
    if not (cold <= temperature_c <= warm and dry <= humidity <= damp):
        raise OutOfRange(
            f"what moisture wood takes from air of {temperature_c:g} C and {humidity:g} % humidity is not known: the "
            f"Wood Handbook's table goes from {cold:g} to {warm:g} C and from {dry:g} to {damp:g} %"
        )
    # t in degrees Celsius and h from 0 to 1, as the handbook has them; the result is in percent.
    t, h = temperature_c, humidity / 100
    weight = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    # Water bound to the wood in one layer, and water dissolved in it.
    bound = (k1 * k * h + 2 * k1 * k2 * (k * h) ** 2) / (1 + k1 * k * h + k1 * k2 * (k * h) ** 2)
    return 1800 / weight * (k * h / (1 - k * h) + bound)


def known_species(species: str) -> str:
    """The species as the tables name it, however it is written in capitals. Raises OutOfRange for one not in them."""
    found = {name.lower(): name for name in (SOFTWOOD, *COEFFICIENTS)}.get(species.strip().lower())
    if found is None:
        raise OutOfRange(
            f'how "{species}" swells is not known here: known are {SOFTWOOD} (sawn softwood lumber) and '
            f"{', '.join(COEFFICIENTS)}"
        )
    return found


def width_change(species: str, width_mm: float, now: float, later: float) -> Movement:
    """What a width becomes larger by on the way from one moisture to another.

    Hardwoods: size x coefficient x change of moisture. Softwood lumber: the shrinkage of the width from green is
    6.031 - 0.215 M percent (FPL-RP-489), and both sizes are shares of the green one. Raises OutOfRange beyond what was
    measured.
    """
    # Both moistures must lie where the line was measured: beyond it wood does not go on along it, and above fibre
    # saturation, some 30 %, it does not swell at all.
    name = known_species(species)
    low, high = SOFTWOOD_RANGE if name == SOFTWOOD else RANGE
    for moisture in (now, later):
        if not low <= moisture <= high:
            raise OutOfRange(
                f"how {name} moves at {moisture:.1f} % moisture is not known here: what was measured goes from "
                f"{low:g} to {high:g} %"
            )
    # Both widths are shares of the green one, which nobody knows: their ratio is what the width is multiplied by.
    if name == SOFTWOOD:
        grown = width_mm * ((100 - _shrunk(later)) / (100 - _shrunk(now)) - 1)
        return Movement(grown, grown)
    radial, tangential = (width_mm * coefficient * (later - now) for coefficient in COEFFICIENTS[name])
    return Movement(tangential, radial)


def _shrunk(moisture: float) -> float:
    """Percent of the green width that softwood lumber has lost."""
    return 6.031 - 0.215 * moisture
