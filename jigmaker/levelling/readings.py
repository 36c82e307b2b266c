"""What is measured on a trestle before its feet are levelled, as records; mm, feet round the corners as in `feet`.

Each of the three ways is a record of its own. Nothing is under a foot: 0; under a hanging foot: the gap.
"""

from jigmaker.errors import OutOfRange
from jigmaker.levelling.feet import FEET, Four, Soles, alternating
from jigmaker.record import dataclass

LOW_MM, HIGH_MM = 100.0, 3300.0
"""A top's height over the floor: a job's heights, and what may be left on the legs."""

MOST_WINDING_MM = 0.5
"""Battens out of one plane by more are told and levelled in the mean: about what winding sticks show. Common practice,
no source."""

THICKEST_MM = 100.0
"""Of anything that is put under a foot."""


@dataclass(frozen=True, slots=True)
class LevelledFirst:
    """Shims put under the feet until a level reads level along the top and across both its ends, then one height.

    top_mm: the floor to the top face. under_mm: what is under each foot.
    """

    top_mm: float
    under_mm: Four

    def __post_init__(self) -> None:
        """Refuse figures that no trestle gives; raises OutOfRange."""
        _refuse("the top's height", self.top_mm, LOW_MM, HIGH_MM)
        _refuse_each("the shim under {}", self.under_mm, 0.0, THICKEST_MM)

    @property
    def winding_mm(self) -> None:
        """Not to be seen in one height."""
        return None

    @property
    def lengths_mm(self) -> Four:
        """The top's level over each foot's lowest point."""
        first, second, third, fourth = (self.top_mm - under for under in self.under_mm)
        return first, second, third, fourth


@dataclass(frozen=True, slots=True)
class ByBattens:
    """A straight batten across the top at each end, long enough to reach over both feet.

    over_mm: the floor to the batten's underside, straight over where the foot touches. under_mm: as above.
    """

    over_mm: Four
    under_mm: Four = (0.0, 0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        """Refuse figures that no trestle gives; raises OutOfRange."""
        _refuse_each("the batten's height over {}", self.over_mm, LOW_MM, HIGH_MM)
        _refuse_each("what is under {}", self.under_mm, 0.0, THICKEST_MM)

    @property
    def winding_mm(self) -> float:
        """How far the battens are out of one plane, h1 - h2 + h3 - h4: the board's winding, or an error of reading."""
        return alternating(self.over_mm)

    @property
    def lengths_mm(self) -> Four:
        """The top over each foot's lowest point: each height less what is under the foot.

        A winding board can be levelled in the mean only: a body put on shims moves as one, and shims that followed each
        batten by itself would leave one foot in the air. So the heights of the plane nearest to the battens count then.
        """
        # Four heights of a rectangle's corners: the plane of least squares leaves +-w / 4 at them in turn, w being
        # their alternating sum, since that is the one part of four figures that no plane has.
        quarter = self.winding_mm / 4 if abs(self.winding_mm) > MOST_WINDING_MM else 0.0
        plane = (over - sign * quarter for over, sign in zip(self.over_mm, (1, -1, 1, -1), strict=True))
        first, second, third, fourth = (over - under for over, under in zip(plane, self.under_mm, strict=True))
        return first, second, third, fourth


@dataclass(frozen=True, slots=True)
class RockOnly:
    """The trestle on a flat floor, rocking: the key of the foot that hangs, and the gap under it."""

    hangs: str
    gap_mm: float

    def __post_init__(self) -> None:
        """Refuse a foot of another name and a gap that is none; raises OutOfRange."""
        if self.hangs not in [foot.key for foot in FEET]:
            *others, last = [foot.key for foot in FEET]
            raise OutOfRange(f"the foot that hangs is {self.hangs!r}, must be {', '.join(others)} or {last}")
        _refuse("the rocking gap", self.gap_mm, 0.0, THICKEST_MM)


Measured = LevelledFirst | ByBattens
Reading = LevelledFirst | ByBattens | RockOnly


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for: the finished height (None: the job's, or as high as the legs allow), the sheets in the block
    (None: as few as will do), and how the feet were sawn.
    """

    height_mm: float | None = None
    sheets: int | None = None
    soles: Soles = "angled"


def _refuse(name: str, value: float, low: float, high: float) -> None:
    if not low <= value <= high:
        raise OutOfRange(f"{name} is {value:.6g} mm, must be {low:g} to {high:g} mm")


def _refuse_each(name: str, values: Four, low: float, high: float) -> None:
    for foot, value in zip(FEET, values, strict=True):
        _refuse(name.format(foot.name), value, low, high)
