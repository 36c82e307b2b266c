"""Which leg goes where: measured legs in; settings of the jig, strokes of the plane, hands, ends up and trestles out.

Widths are compared in whole micrometres. A leg has no hand, but its ends differ: end A is the head in an R housing, end
B in an L housing, so each leg has two widths to choose from, and half of all must go to each hand.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations, islice
from typing import TYPE_CHECKING, Any, Literal

from jigmaker.job.job import CLEARANCE_WINDOW_MM
from jigmaker.record import dataclass
from jigmaker.timber.readings import LegReading, TimberReadings
from jigmaker.trestle.records import Hand, Trestle

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Whole = NDArray[np.int64]

End = Literal["A", "B"]
HANDS: tuple[Hand, Hand] = ("R", "L")
ENDS: tuple[End, End] = ("A", "B")
"""By hand of the housing: its legs' upper end."""

THICKEST_TAPE_MM = 0.5
"""So much tape may lie on a wall of a slot; more gives way under the bush (common practice, no source)."""

MOST_SETTINGS = 16
"""More layers than this nobody counts right."""

ENTER_STEP_MM = 0.05

_NEVER = 10**6  # strokes that stand for "does not fit at all"


@dataclass(frozen=True, slots=True)
class LegPlace:
    """One leg: its hand and which end is up there, the trestle and foot; layers: the tape for its housing; strokes: of
    the plane off one edge; play: of its head in the housing, mm.
    """

    number: int
    hand: Hand
    end: End
    trestle: int
    foot: Literal["near", "far"]
    layers: int
    strokes: int
    play_mm: float


@dataclass(frozen=True, slots=True)
class Places:
    """Where every leg goes. layers: of tape, each setting once, none first; choices: (number of settings, strokes of
    all legs together) from one setting to as many as save any stroke; aside: numbers of the legs that fit no setting,
    planed or not. enter: the leg's width to enter in the job before the plate is cut, mm, and the settings and strokes
    that it then takes.
    """

    legs: tuple[LegPlace, ...]
    layers: tuple[int, ...]
    choices: tuple[tuple[int, int], ...]
    aside: tuple[int, ...]
    enter_mm: float
    enter_settings: int
    enter_strokes: int


@dataclass(frozen=True, slots=True)
class Tape:
    """How the slot can be narrowed, whole micrometres: width of the housing without tape, a layer, a stroke of the
    plane, and the least and the most play that a leg may read.
    """

    housing: int
    layer: int
    stroke: int
    least: int
    most: int

    @property
    def layers(self) -> range:
        """From none to as many as both walls take."""
        return range(min(MOST_SETTINGS, 2 * int(THICKEST_TAPE_MM * 1000 / self.layer) + 1))

    def strokes(self, legs: Sequence[LegReading]) -> "Whole":
        """Strokes that each setting asks of each leg in an R and in an L housing: [setting, leg, hand].

        0 where the leg fits; _NEVER where it is too narrow, or where planing jumps over the window.
        """
        import numpy as np

        # play = housing less tape less leg. What it lacks to the least play is planed off the leg, in whole strokes
        # (-(a // b) rounds a / b up); with them the play must not have jumped over the most.
        widths = np.array([[_micrometres(leg.end_a_mm), _micrometres(leg.end_b_mm)] for leg in legs])
        housings = self.housing - self.layer * np.array(self.layers)
        play = housings[:, None, None] - widths
        strokes = np.maximum(0, -((play - self.least) // self.stroke))
        return np.where(play + strokes * self.stroke <= self.most, strokes, _NEVER)


def tape_of(trestle: Trestle, readings: TimberReadings, width_mm: float) -> Tape:
    """The jig's slot for legs of that width and the window of the job's joint, drawn in by what the caliper strays."""
    low, high = CLEARANCE_WINDOW_MM[trestle.job.housing.joint]
    return Tape(
        _micrometres(width_mm + trestle.job.housing.clearance_mm),
        _micrometres(readings.tape_mm),
        _micrometres(readings.stroke_mm),
        _micrometres(low + readings.caliper_mm),
        _micrometres(high - readings.caliper_mm),
    )


def place_legs(trestle: Trestle, readings: TimberReadings, settings: int = 0) -> Places:
    """Places for a whole batch of measured legs; `settings`: how many at most, 0 for as few as save every stroke."""
    # By thickness, so that legs which go to either hand are dealt out thin and thick alike.
    sorted_legs = sorted(readings.legs, key=lambda leg: (leg.thickness_mm, leg.number))
    tape = tape_of(trestle, readings, trestle.job.leg.width_mm)
    strokes = tape.strokes(sorted_legs)
    # `found` has the best set of one setting, of two, ... A leg that fits in none costs _NEVER: sums stay comparable,
    # and what the others cost is what a sum leaves over whole _NEVERs.
    found = list(_choices(strokes))
    wanted = min(settings or len(found), len(found))
    _, chosen, in_r = found[wanted - 1]
    legs = sorted(_placed(sorted_legs, tape, strokes, chosen, in_r), key=lambda leg: leg.number)
    aside = tuple(leg.number for leg in legs if leg.strokes >= _NEVER)
    return Places(
        tuple(leg for leg in legs if leg.number not in aside),
        tuple(chosen[i] for i in range(len(chosen)) if any(leg.layers == chosen[i] for leg in legs)),
        tuple((number, int(each[0]) % _NEVER) for number, each in enumerate(found, 1)),
        aside,
        *_width_to_enter(trestle, readings),
    )


# Strokes of all legs together, the layers of each setting, and which legs go to R.
_Choice = tuple[int, tuple[int, ...], Any]


def _choices(strokes: "Whole") -> Iterator[_Choice]:
    """The fewest strokes for one setting, for two, ... up to the number from which further ones save none.

    Every set of settings is tried: with two widths to choose from for each leg no greedy rule is exact, and a slot
    takes only a few layers. A wide leg in a wide setting costs least, so each leg takes the best setting of the set.
    """
    least, _ = _shared_out(strokes.min(axis=0))
    for number in range(1, len(strokes) + 1):
        tried = (
            (*_shared_out(strokes[list(each)].min(axis=0)), each) for each in combinations(range(len(strokes)), number)
        )
        total, in_r, chosen = min(tried, key=lambda each: (each[0], each[2]))
        yield total, chosen, in_r
        if total == least:
            return


def _shared_out(costs: "Whole") -> tuple[int, Any]:
    """Half of the legs to R, half to L, so that all strokes together are fewest: those to R that it costs least more.

    Exact: changing two legs' hands for each other only ever adds to such a choice. Legs that do not care are dealt
    out in turn, by the order that they come in.
    """
    import numpy as np

    # Sum of all strokes = sum of costs in L + sum of `more` over the legs in R: least for the half with the least
    # `more`.
    more = costs[:, 0] - costs[:, 1]
    half = len(costs) // 2
    limit = np.sort(more)[half - 1] if half else 0
    in_r, even = more < limit, np.flatnonzero(more == limit)
    left = half - int(in_r.sum())
    turns = np.arange(len(even) + 1) * left // max(1, len(even))
    in_r[even[np.diff(turns) > 0]] = True
    return int(np.where(in_r, costs[:, 0], costs[:, 1]).sum()), in_r


def _placed(
    legs: Sequence[LegReading], tape: Tape, strokes: "Whole", chosen: tuple[int, ...], in_r: Any
) -> list[LegPlace]:
    """Each leg in the setting of the set that asks for fewest strokes, its play nearest to the middle of the window.

    Legs of a hand by thickness, two and two to a trestle, so that the four of a trestle stand proud alike.
    """
    seats: dict[int, tuple[int, Literal["near", "far"]]] = {}
    for hand in (True, False):
        of_hand = sorted((i for i in range(len(legs)) if bool(in_r[i]) is hand), key=lambda i: legs[i].thickness_mm)
        for turn, i in enumerate(of_hand):
            seats[i] = turn // 2 + 1, "near" if turn % 2 == 0 else "far"
    placed, middle = [], (tape.least + tape.most) / 2
    for i, leg in enumerate(legs):
        side = 0 if in_r[i] else 1
        width = _micrometres((leg.end_a_mm, leg.end_b_mm)[side])

        def play(layers: int, i: int = i, side: int = side, width: int = width) -> int:
            return int(tape.housing - layers * tape.layer - width + strokes[layers, i, side] * tape.stroke)

        # Of settings that ask for as few strokes, the one that leaves the leg in the middle of its window.
        layers = min(chosen, key=lambda k: (strokes[k, i, side], abs(play(k) - middle)))
        number, foot = seats[i]
        placed.append(
            LegPlace(
                leg.number,
                HANDS[side],
                ENDS[side],
                number,
                foot,
                layers,
                int(strokes[layers, i, side]),
                play(layers) / 1000,
            )
        )
    return placed


def _width_to_enter(trestle: Trestle, readings: TimberReadings) -> tuple[float, int, int]:
    """The width that makes the jig for these legs, with its settings and strokes: fewest strokes, then fewest settings,
    then one of them without tape and the most even play.
    """
    # Widths from a few steps under the narrowest end to a few over the widest: beyond them no leg fits any better.
    ends = [mm for leg in readings.legs for mm in (leg.end_a_mm, leg.end_b_mm)]
    low, high = (round(end(ends) / ENTER_STEP_MM) for end in (min, max))
    widths = [round(step * ENTER_STEP_MM, 2) for step in range(low - 4, high + 5)]
    tapes = {width: tape_of(trestle, readings, width) for width in widths}
    # With every setting at once no set of them takes fewer strokes; only widths that take the fewest are looked into.
    fewest = {width: _shared_out(tape.strokes(readings.legs).min(axis=0))[0] for width, tape in tapes.items()}
    best: tuple[tuple[int, int, int, float], float] | None = None
    for width in (width for width in widths if fewest[width] == min(fewest.values())):
        tape = tapes[width]
        strokes = tape.strokes(readings.legs)
        # All widths that are left take equally few strokes. One that needs more settings than the best so far is given
        # up as soon as it has tried as many: its strokes are then more, and it ranks behind.
        found = list(islice(_choices(strokes), best[0][1] if best else None))
        total, chosen, in_r = found[-1]
        legs = _placed(readings.legs, tape, strokes, chosen, in_r)
        middle = (tape.least + tape.most) / 2000
        uneven = sum(abs(leg.play_mm - middle) for leg in legs if leg.strokes < _NEVER)
        rank = (total, len(found), chosen[0], round(uneven, 6))
        if best is None or rank < best[0]:
            best = rank, width
    assert best
    return best[1], best[0][1], best[0][0] % _NEVER


def _micrometres(mm: float) -> int:
    return round(mm * 1000)
