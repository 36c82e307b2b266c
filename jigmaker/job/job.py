"""The job: one design of trestle and how many of it, as asked. Millimetres and degrees; angles off the level."""

from dataclasses import dataclass

from jigmaker.units import Unit


@dataclass(frozen=True, slots=True)
class TopBoard:
    """The top board as measured, mm."""

    length_mm: float
    width_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class LegSection:
    """A leg's section (wide face by thickness) and the wood left on its head (horn) and foot (trim), mm."""

    width_mm: float
    thickness_mm: float
    horn_mm: float = 0.0
    trim_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class BraceSection:
    """A brace's depth (its height as it stands) and thickness, mm."""

    depth_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True)
class HousingFit:
    """clearance: added to the leg's width to get the housing's; reveal: how far the leg stands proud, mm."""

    clearance_mm: float
    reveal_mm: float = 0.0


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

    @property
    def slug(self) -> str:
        """The job's name as it stands in file names: lower case ASCII letters, digits and single hyphens."""
        from jigmaker.job.naming import slug_of

        return slug_of(self.name)
