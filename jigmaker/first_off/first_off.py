"""Readings of a scrap's first housing in, the setting that is off and what to change out; timber frame, mm, degrees.

How each setting shows in the five figures is taken from the exact housing, a small step to either side. The fewest
settings that explain what was read are named; where two explanations fit alike, both are, the more usual one first.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from typing import Literal

from jigmaker.first_off.first_off_words import words_of
from jigmaker.first_off.housing_settings import HousingFigures, Settings, housing_reading
from jigmaker.geometry.tolerance import SHOP_MM
from jigmaker.record import dataclass
from jigmaker.trestle.records import Hand, Trestle

SettingName = Literal["projection", "guide", "stop", "edge", "tilt", "turn"]


@dataclass(frozen=True, slots=True)
class FirstOff:
    """The first housing of one hand in a scrap: each figure as read, less what was wanted, mm."""

    hand: Hand
    off: HousingFigures


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """One setting that is off. hands: in whose housings it shows. off: as found less as it should be, change: what to
    add to the setting, both in mm, or in degrees for tilt and turn.

    rank: 1 for the explanation to try first; findings of one rank belong together, another rank is another explanation
    of the same readings. left_mm: the largest figure that the explanation leaves unexplained.
    """

    setting: SettingName
    hands: str
    off: float
    rank: int
    left_mm: float
    says: str = ""
    do: str = ""

    @property
    def change(self) -> float:
        """What to add to the setting, in its own unit."""
        return 0.0 - self.off

    @property
    def unit(self) -> Literal["mm", "deg"]:
        """The unit of off and change."""
        return "deg" if self.setting in ("tilt", "turn") else "mm"


@dataclass(frozen=True, slots=True)
class Cause:
    """A setting moved one way: its field, how each figure answers to 1 of it, and the signs that it can have.

    answers: in the order of `Reading`, mm for each mm or degree.
    """

    setting: SettingName
    field: str
    answers: tuple[float, ...]
    signs: tuple[int, ...] = (1, -1)


def diagnose(
    trestle: Trestle, readings: Sequence[FirstOff], read_to_mm: float = SHOP_MM, guide: str = "bush"
) -> tuple[Diagnosis, ...]:
    """What is off, by rank; () when every reading is within what can be read.

    guide: what follows the slot, "bush" or "bearing". read_to: how far a reading may stray by itself, over 0. Where
    no set of settings explains all, the set that explains most is given, with what it leaves.
    """
    found = []
    for one in readings:
        # Every smallest set of settings that explains the readings of one hand.
        figures = one.off.figures()
        if max(abs(figure) for figure in figures) > read_to_mm:
            for rank, (amounts, left) in enumerate(_explanations(causes_of(trestle), figures, read_to_mm), 1):
                found += [Diagnosis(cause.setting, one.hand, amount, rank, left) for cause, amount in amounts]
    told = []
    for each in sorted(_both_hands(trestle, found, read_to_mm), key=lambda d: d.rank):
        says, do = words_of(trestle, each.setting, each.off, guide)
        told.append(replace(each, says=says, do=do))
    return tuple(told)


def causes_of(trestle: Trestle) -> tuple[Cause, ...]:
    """In the order of how often they happen; the edge shows in one figure or the other, by the way it is off."""
    return (
        _cause(trestle, "projection", "projection_mm", 0.1),
        _cause(trestle, "guide", "guide_mm", 0.1),
        _cause(trestle, "stop", "stop_mm", 0.1),
        replace(_cause(trestle, "edge", "edge_mm", 0.1, is_one_way=True), signs=(1,)),
        replace(_cause(trestle, "edge", "edge_mm", -0.1, is_one_way=True), signs=(-1,)),
        _cause(trestle, "tilt", "tilt_deg", 0.1),
        _cause(trestle, "turn", "turn_deg", 0.1),
    )


def _cause(trestle: Trestle, setting: SettingName, field: str, step: float, is_one_way: bool = False) -> Cause:
    """The change of each figure over a step, from one side or from both."""
    there = housing_reading(trestle, Settings(**{field: step}))
    here = housing_reading(trestle, Settings() if is_one_way else Settings(**{field: -step}))
    width = step if is_one_way else 2 * step
    return Cause(setting, field, tuple(figure / width for figure in there.less(here).figures()))


_Explanation = tuple[list[tuple[Cause, float]], float]


def _explanations(causes: Sequence[Cause], figures: Sequence[float], read_to: float) -> list[_Explanation]:
    """All sets of the least number of settings that leave no more than can be read; else what leaves the least."""
    import numpy as np

    best: list[_Explanation] = []
    wanted = np.array(figures)
    for number in range(1, 6):
        sound: list[_Explanation] = []
        for chosen in combinations(causes, number):
            # An edge off square and a tilted plate look nearly alike: one of the two is enough to explain what both do.
            if sum(cause.setting in ("edge", "tilt") for cause in chosen) > 1:
                continue
            # By least squares, how much of each setting and what that leaves unexplained: five figures, each a sum of
            # what the settings do to it. No explanation is a setting off in a way that it cannot be, nor one whose
            # whole effect could not be read.
            columns = np.array([cause.answers for cause in chosen]).T
            amounts = np.linalg.lstsq(columns, wanted, rcond=None)[0]
            told = [(cause, float(amount)) for cause, amount in zip(chosen, amounts, strict=True)]
            if all(
                (1 if amount > 0 else -1) in cause.signs
                and max(abs(answer * amount) for answer in cause.answers) > read_to
                for cause, amount in told
            ):
                sound.append((told, float(abs(columns @ amounts - wanted).max())))
        enough = [one for one in sound if one[1] <= read_to + 1e-9]
        if enough:
            # Halves of what can be read: of two that differ by less, the more usual one comes first.
            return sorted(enough, key=lambda one: round(one[1] / read_to))
        best = sorted([*best, *sound], key=lambda one: one[1])[:1]
    return best


def _both_hands(trestle: Trestle, found: list[Diagnosis], read_to: float) -> Iterator[Diagnosis]:
    """What both hands say alike is said once, with the mean."""

    def is_same(one: Diagnosis, other: Diagnosis) -> bool:
        """The same setting in the same explanation, off by the same as far as can be read."""
        if (one.setting, one.rank) != (other.setting, other.rank) or one.hands == other.hands:
            return False
        ways = [each for each in causes if each.setting == one.setting and (1 if one.off > 0 else -1) in each.signs]
        return max(abs(answer) for answer in ways[0].answers) * abs(one.off - other.off) <= 2 * read_to

    rest, causes = list(found), causes_of(trestle) if found else ()
    while rest:
        one = rest.pop(0)
        twin = next((each for each in rest if is_same(one, each)), None)
        if twin is None:
            yield one
            continue
        rest.remove(twin)
        off = (one.off + twin.off) / 2
        yield replace(one, hands="R and L", off=off, left_mm=max(one.left_mm, twin.left_mm))
