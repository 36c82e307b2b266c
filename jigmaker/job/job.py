"""The job: one design of trestle and how many of it, as asked. Millimetres and degrees; angles off the level."""

import math
from dataclasses import dataclass

from jigmaker.job.naming import slug_of
from jigmaker.job.self_check import check_record
from jigmaker.units import Unit

FOOT_THROW_MM = 160.0
"""How far out a foot stands by custom: 900 high goes with 80 degrees, 600 with 75 (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class TopBoard:
    """The top board as measured, mm."""

    length_mm: float
    width_mm: float
    thickness_mm: float

    def __post_init__(self) -> None:
        """Refuse what the rules of [top] refuse; raises OutOfRange."""
        check_record(self, "top")


@dataclass(frozen=True, slots=True)
class LegSection:
    """A leg's section (wide face by thickness) and the wood left on its head (horn) and foot (trim), mm."""

    width_mm: float
    thickness_mm: float
    horn_mm: float = 0.0
    trim_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what the rules of [leg] refuse; raises OutOfRange."""
        check_record(self, "leg")


@dataclass(frozen=True, slots=True)
class BraceSection:
    """A brace's depth (its height as it stands) and thickness, mm."""

    depth_mm: float
    thickness_mm: float

    def __post_init__(self) -> None:
        """Refuse what the rules of [brace] refuse; raises OutOfRange."""
        check_record(self, "brace")


@dataclass(frozen=True, slots=True)
class HousingFit:
    """clearance: added to the leg's width to get the housing's; reveal: how far the leg stands proud, mm."""

    clearance_mm: float
    reveal_mm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse what the rules of [housing] refuse; raises OutOfRange."""
        check_record(self, "housing")


@dataclass(frozen=True, slots=True)
class Job:
    """A trestle as asked.

    rake_deg and splay_deg are bevel settings off the level (90 is plumb). inset_mm is the housing's distance from the
    board's end on the top arris, to the near wall. `angle_chosen` is True when the user left both angles out and they
    were chosen from the height; say it aloud. `unit` is the unit the user reads.
    """

    name: str
    unit: Unit
    trestles: int
    height_mm: float
    rake_deg: float
    splay_deg: float
    inset_mm: float
    top: TopBoard
    leg: LegSection
    brace: BraceSection
    housing: HousingFit
    angle_chosen: bool = False

    def __post_init__(self) -> None:
        """Refuse what the rules of [job] and [trestle] refuse; raises OutOfRange."""
        check_record(self, "job")
        check_record(self, "trestle")

    @property
    def slug(self) -> str:
        """The job's name as it stands in file names: lower case ASCII letters, digits and single hyphens."""
        return slug_of(self.name)


def angle_for_height(height_mm: float) -> float:
    """Rake and splay in degrees off the level for someone who gave none: the foot about FOOT_THROW_MM out.

    Held within 72 to 82, to the half degree, so that it can be set on a bevel.
    """
    angle_deg = math.degrees(math.atan(height_mm / FOOT_THROW_MM))
    return round(min(82.0, max(72.0, angle_deg)) * 2) / 2
