"""What tips a trestle: Trestle and its wood in, footprint, weight and the loads and pushes that lift a foot out.

Timber frame; mm, degrees, kg, N. Plain statics of a stiff body on a stiff, flat floor: feet do not slide, joints do
not give. That a load does not tip the trestle says nothing about whether wood and joints bear it.
"""

from typing import Literal

from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.stability.densities import LIGHTEST, density_kg_m3
from jigmaker.stability.weight import Weight, weigh
from jigmaker.trestle.angles import cosine, sine
from jigmaker.trestle.leg import leg_corners
from jigmaker.trestle.records import Trestle

SLOPES_DEG = (0.0, 2.0, 5.0)
"""Of the floor: level, a paved yard that drains, a garden path. Common practice, no source."""

GRAVITY_M_S2 = 9.80665  # standard acceleration of free fall, 3rd General Conference on Weights and Measures, 1901

Way = Literal["end", "side"]


@dataclass(frozen=True, slots=True)
class Tipping:
    """Tipping over one line between two feet, the floor falling toward it by slope_deg.

    way: over the two feet of an "end", by a load at the middle of the board's end, or over those of a "side", by a load
    at the middle of the board's edge. load_kg: what lifts the two other feet, None when no load there does, 0 when the
    trestle tips by itself. push_n: along the floor, at the height of the top, toward the line.
    """

    way: Way
    slope_deg: float
    load_kg: float | None
    push_n: float


@dataclass(frozen=True, slots=True)
class Stability:
    """footprint: the feet's outer corners in plan, from near R anticlockwise; its sides are the lines of tipping.

    end_mm, side_mm: how far the board's end and edge stand inside these lines (below 0: outside) on a level floor.
    slenderness: height over the lesser spread of the feet. species: the wood that all was weighed as.
    """

    species: str
    weight: Weight
    footprint: tuple[Point, Point, Point, Point]
    end_mm: float
    side_mm: float
    slenderness: float
    tippings: tuple[Tipping, ...]


def stability_of(trestle: Trestle, species: str = LIGHTEST, slopes_deg: tuple[float, ...] = SLOPES_DEG) -> Stability:
    """How a trestle of this wood stands. Raises OutOfRange for a species that is not in the table."""
    weight = weigh(trestle, density_kg_m3(species))
    corner = footprint_corner(trestle)
    top = trestle.job.top
    ways: tuple[tuple[Way, float, float], ...] = (
        ("end", corner[0], top.length_mm / 2),
        ("side", corner[1], top.width_mm / 2),
    )
    x, y = corner
    return Stability(
        species=species,
        weight=weight,
        footprint=((x, y), (-x, y), (-x, -y), (x, -y)),
        end_mm=x - top.length_mm / 2,
        side_mm=y - top.width_mm / 2,
        slenderness=trestle.job.height_mm / (2 * min(corner)),
        tippings=tuple(
            _tipping(trestle, weight, way, line, reach, slope_deg)
            for way, line, reach in ways
            for slope_deg in slopes_deg
        ),
    )


def footprint_corner(trestle: Trestle) -> Point:
    """The outermost corner of the foot near R in plan, from the trestle's middle, mm."""
    x, y, _ = leg_corners(trestle)[4]
    return x, y


def _tipping(trestle: Trestle, weight: Weight, way: Way, line: float, reach: float, slope_deg: float) -> Tipping:
    """Moments about the line: the weight holds, load and push overturn.

    A force straight down at height h over the floor and at distance r from the middle turns about a line at distance e
    with (e - r) cos(slope) - h sin(slope) for an arm: above 0 it holds the trestle down, below 0 it overturns it.
    """
    #
    #       r  |F           e  the line of tipping, out from the middle; r where the force acts, h high
    #      +---+--.         on a floor that falls by s the weight's line leans toward e by h tan s
    #      |   |h  \        arm = (e - r) cos s - h sin s
    #     -+---+----e--     (s = 0: simply e - r)
    height = trestle.job.height_mm
    holds = _arm(line, weight.centre[2] + height, slope_deg)
    overturns = -_arm(line - reach, height, slope_deg)
    held = max(0.0, weight.mass_kg * holds)
    return Tipping(
        way=way,
        slope_deg=slope_deg,
        load_kg=None if overturns <= 0 < held else held / overturns if held else 0.0,
        push_n=held * GRAVITY_M_S2 / height,
    )


def _arm(inside: float, height: float, slope_deg: float) -> float:
    return inside * cosine(slope_deg) - height * sine(slope_deg)
