"""The kit: every part for one trestle and one shop. Trestle and Shop in, Kit out; part frames, mm."""

from dataclasses import dataclass

from jigmaker.job.shop import Shop
from jigmaker.parts.part import Part, Setting
from jigmaker.trestle.records import Trestle


@dataclass(frozen=True, slots=True)
class Kit:
    """Every part to cut, in a stable order, and the settings of the jig as a whole (plate tilt, standoff, projection...).

    Part slugs are unique.
    """

    trestle: Trestle
    shop: Shop
    parts: tuple[Part, ...]
    settings: tuple[Setting, ...]
