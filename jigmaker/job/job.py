"""The job: one design of trestle and how many of it, as asked. Millimetres and degrees; angles off the level."""

import math
from dataclasses import field, replace
from typing import Literal

from jigmaker.errors import OutOfRange
from jigmaker.job.agreement import timber_faults
from jigmaker.job.naming import slug_of
from jigmaker.job.rules import section_of
from jigmaker.job.sections import JOB
from jigmaker.job.self_check import check_record
from jigmaker.job.toml import FileText
from jigmaker.record import dataclass
from jigmaker.units import Unit, length_text

LEAN_ONE_IN = (4, 5, 6)
"""Slopes for someone who gave none, out : up. 1 in 4 and 1 in 6 are published for trestles; 1 in 5 is common practice,
no source.
"""

MOST_OUT_MM = 200.0
"""How far a foot's outer corner may stand out from its own head before it is stumbled over. Common practice, no source.
"""

LEAST_HALF_SPREAD = 0.22
"""Half the narrower foot spread over the height: under this a trestle is easily tipped. Common practice, no source."""


Joint = Literal["glued", "dry"]

CLEARANCE_MM: dict[Joint, float] = {"glued": 0.15, "dry": 0.5}
"""The clearance of a job that gives none: thin glue and a leg that goes in by hand; or a leg that must come out again
after the wood has swollen. Common practice, no source.
"""

CLEARANCE_WINDOW_MM: dict[Joint, tuple[float, float]] = {"glued": (0.03, 0.3), "dry": (0.3, 1.0)}
"""Under the first a leg jams, over the second it rattles, or the glue has a gap to fill. Common practice, no source."""


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
    """clearance: added to the leg's width to get the housing's; reveal: how far the leg stands proud, mm. joint: glued,
    or dry for a leg that comes out again.
    """

    clearance_mm: float
    reveal_mm: float = 0.0
    joint: Joint = "glued"

    def __post_init__(self) -> None:
        """Refuse what the rules of [housing] refuse; raises OutOfRange."""
        check_record(self, "housing")


@dataclass(frozen=True, slots=True)
class Timber:
    """The legs' wood and its moisture, as they are worked and where they will stand: in percent of the dry weight, or
    by the air's temperature (degrees Celsius) and relative humidity (percent).
    """

    species: str
    moisture_now: float | None = None
    temperature_now_c: float | None = None
    humidity_now: float | None = None
    moisture_later: float | None = None
    temperature_later_c: float | None = None
    humidity_later: float | None = None

    def __post_init__(self) -> None:
        """Refuse what the rules of [timber] refuse, by themselves and together; raises OutOfRange."""
        check_record(self, "timber")
        rules = section_of(JOB, "timber").rules
        if faults := timber_faults({rule.key: getattr(self, rule.field) for rule in rules}):
            raise OutOfRange([f"{key} {fault}" for key, fault in faults.items()])


@dataclass(frozen=True, slots=True)
class Size:
    """How many trestles of one size: their height and the length of their top boards, mm."""

    trestles: int
    height_mm: float
    top_length_mm: float

    def __post_init__(self) -> None:
        """Refuse what the rules of [[size]] refuse; raises OutOfRange."""
        check_record(self, "size")


@dataclass(frozen=True, slots=True)
class Job:
    """A trestle as asked, and further sizes of it that the same jig serves.

    rake_deg and splay_deg are bevel settings off the level (90 is plumb). inset_mm is the housing's distance from the
    board's end on the top arris, to the near wall. `angle_chosen` is True when the user left both angles out and they
    were chosen from the height (`lean_for`); say it aloud. `timber`: None where nothing is said of it. `unit` is the
    unit the user reads. `read_from` is the file that says all this, None for a job made in code; jobs are equal
    whatever file they come from.

    `trestles`, `height_mm` and the top's length are those of the first size; `further_sizes` are the others, in the
    order of the file. Angles, inset and sections are the same for all.
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
    timber: Timber | None = None
    further_sizes: tuple[Size, ...] = ()
    read_from: FileText | None = field(default=None, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Refuse what the rules of [job] and [trestle] refuse; raises OutOfRange."""
        check_record(self, "job")
        check_record(self, "trestle")

    @property
    def slug(self) -> str:
        """The job's name as it stands in file names: lower case ASCII letters, digits and single hyphens."""
        return slug_of(self.name)

    @property
    def sizes(self) -> tuple[Size, ...]:
        """Every size, one for a plain job."""
        return (Size(self.trestles, self.height_mm, self.top.length_mm), *self.further_sizes)

    @property
    def all_trestles(self) -> int:
        """How many trestles there are of all sizes together."""
        return sum(size.trestles for size in self.sizes)

    @property
    def highest_mm(self) -> float:
        """The height of the highest size."""
        return max(size.height_mm for size in self.sizes)

    @property
    def shortest_top_mm(self) -> float:
        """The length of the shortest top board: the jig must find room on it too."""
        return min(size.top_length_mm for size in self.sizes)

    @property
    def size_names(self) -> tuple[str, ...]:
        """What each size is called, "size 762 mm"; with the length of its top where another is as high."""
        heights = [f"size {length_text(size.height_mm, self.unit)}" for size in self.sizes]
        return tuple(
            f"{height}, top {length_text(size.top_length_mm, self.unit)}" if heights.count(height) > 1 else height
            for height, size in zip(heights, self.sizes, strict=True)
        )

    @property
    def high(self) -> str:
        """The finished heights as they are told: "762 mm", or "762 mm / 650 mm"."""
        return " / ".join(dict.fromkeys(length_text(size.height_mm, self.unit) for size in self.sizes))

    def of_size(self, index: int) -> "Job":
        """The job of one size alone, by its place in `sizes`."""
        size = self.sizes[index]
        top = replace(self.top, length_mm=size.top_length_mm)
        return replace(self, trestles=size.trestles, height_mm=size.height_mm, top=top, further_sizes=())


def lean_for(height_mm: float, reveal_mm: float = 0.0) -> tuple[int, float]:
    """(n, angle in degrees off the level) of the lean of 1 in n, rake and splay alike, for someone who gave none.

    The first of LEAN_ONE_IN, each to the half degree so that it can be set on a bevel, with which the foot's outer
    corner stands MOST_OUT_MM or less out from its own head; the steepest for a trestle that is too high for all.
    Whether the feet then stand wide enough for the height is told by the checks of the stance.
    """
    # A leg that leans a off the level runs out h cot a over its height h, and its outer corner stands r / sin a further
    # out where the leg stands proud of the board by the reveal r.
    for one_in in LEAN_ONE_IN:
        angle_deg = round(math.degrees(math.atan(one_in)) * 2) / 2
        lean = math.radians(angle_deg)
        if height_mm / math.tan(lean) + reveal_mm / math.sin(lean) <= MOST_OUT_MM:
            break
    return one_in, angle_deg
