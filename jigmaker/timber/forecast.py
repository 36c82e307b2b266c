"""How a batch will come out: trestle, shop and readings in, shares and spreads as built out, before levelling; mm.

A million trestles are drawn, batch by batch, for what a batch shares (a slot, a stop, a saw) does not average out in
it. All that is kept of them are counts in bins of whole numbers, so that no figure depends on the order of a sum.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from jigmaker.job.practice import BY_HAND_MM, MALLET_MM
from jigmaker.job.shop import Shop
from jigmaker.levelling.trim import Trim, least_trim
from jigmaker.record import dataclass
from jigmaker.timber.built import BuiltFigures, built, draw_errors, frame_of
from jigmaker.timber.draws import Draws
from jigmaker.timber.first_offs import FirstOffs, first_offs
from jigmaker.timber.places import Places
from jigmaker.timber.readings import TimberReadings
from jigmaker.timber.spreads import REMEDIES, SAWN, Spreads, spreads_of, without
from jigmaker.trestle.records import Trestle

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Counts = NDArray[np.int64]

SEED, TRESTLES, TERM_TRESTLES, CHUNK = 20, 1_000_000, 60_000, 6_000
"""Trestles drawn for the forecast, and for what each remedy would change; trestles at a time, so that all of a chunk's
numbers stay near the processor."""

LEAST_GAIN_MM, LEAST_GAIN = 0.08, 0.01
"""A remedy that changes less is not told: nobody would see it."""

_BINS_A_MM, _WIDEST_MM = 250, 40  # whole numbers: bins of 0.004 mm


@dataclass(frozen=True, slots=True)
class Shares:
    """Of all legs: in by hand, with a mallet, not in; loose counts those of the first that rattle. whole_trestles,
    whole_batches: with every leg in.
    """

    by_hand: float
    mallet: float
    not_in: float
    loose: float
    whole_trestles: float
    whole_batches: float


@dataclass(frozen=True, slots=True)
class Remedy:
    """What one remedy changes when it takes its source of error away altogether: share of legs in by hand, rock that 19
    of 20 keep under, and how much too short the shortest leg of 19 of 20 batches is at most; before and after.
    """

    do: str
    by_hand: tuple[float, float]
    rock_mm: tuple[float, float]
    too_short_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Forecast:
    """Legs that do not go in count as without play. gap: housing less leg at 2.5, 50, 97.5 %; feet: how much farther
    below the top the lowest corner of a sole is than asked, at the same; apart: the four feet of a trestle among
    themselves, and rock: how far the fourth foot hangs, each at 50 and 95 %. too_short: of the shortest leg of a
    batch, 95 %.
    """

    trestles: int
    is_measured: bool
    is_pressed: bool
    legs: Shares
    gap_mm: tuple[float, float, float]
    feet_mm: tuple[float, float, float]
    apart_mm: tuple[float, float]
    rock_mm: tuple[float, float]
    too_short_mm: float
    trim: Trim
    first_offs: FirstOffs | None
    remedies: tuple[Remedy, ...]


def forecast(
    trestle: Trestle, shop: Shop, readings: TimberReadings, places: Places | None = None, trestles: int = 0
) -> Forecast:
    """The forecast for legs in their places, or for legs dressed as the readings say; `trestles`: to draw for it, 0 for
    as many as TRESTLES says.
    """
    import numpy as np

    trestles = trestles or TRESTLES
    # Measured legs in their places, each with its own play; a leg that fits nowhere is replaced by one that fits.
    play = winding = None
    if places:
        play = np.full((trestle.job.trestles, 4), trestle.job.housing.clearance_mm, np.float32)
        for leg in places.legs:
            corner = (0 if leg.hand == "R" else 1) + (0 if leg.foot == "near" else 2)
            play[leg.trestle - 1, corner] = leg.play_mm
    if readings.boards:
        winding = np.array([board.winding_mm for board in readings.boards], np.float32)
    frame, spreads = frame_of(trestle, play, winding), spreads_of(trestle, shop, readings, places)
    tally = tallied(frame, spreads, trestles)
    too_short = -tally.quantile("shortest", 0.05)
    return Forecast(
        trestles=tally.trestles,
        is_measured=places is not None,
        is_pressed=spreads.is_pressed,
        legs=tally.shares(),
        gap_mm=(tally.quantile("gap", 0.025), tally.quantile("gap", 0.5), tally.quantile("gap", 0.975)),
        feet_mm=(tally.quantile("feet", 0.025), tally.quantile("feet", 0.5), tally.quantile("feet", 0.975)),
        apart_mm=(tally.quantile("apart", 0.5), tally.quantile("apart", 0.95)),
        rock_mm=(tally.quantile("rock", 0.5), tally.quantile("rock", 0.95)),
        too_short_mm=too_short,
        trim=least_trim(trestle, shop, too_short),
        first_offs=first_offs(trestle, shop, SEED) if shop.routs_housings else None,
        remedies=_remedies(frame, spreads, min(trestles, TERM_TRESTLES), {} if shop.routs_housings else SAWN),
    )


@dataclass
class Tally:
    """Counts of what was drawn: trestles, batches, legs of each kind, and a histogram of each figure."""

    trestles: int
    batches: int
    counts: dict[str, int]
    histograms: "dict[str, Counts]"

    def quantile(self, name: str, share: float) -> float:
        """The figure under which that share of all lies, mm; within a bin as if its counts were spread evenly."""
        import numpy as np

        # A histogram in place of a million figures: a quantile is found to a bin, and within it in proportion.
        counts = self.histograms[name]
        below = np.cumsum(counts)
        wanted = share * float(below[-1])
        bin_ = int(np.searchsorted(below, wanted))
        before = float(below[bin_ - 1]) if bin_ else 0.0
        return (bin_ + (wanted - before) / float(counts[bin_])) / _BINS_A_MM - _WIDEST_MM

    def shares(self) -> Shares:
        """Of legs, trestles and batches."""
        legs, counts = 4 * self.trestles, self.counts
        return Shares(
            counts["by hand"] / legs,
            (counts["in"] - counts["by hand"]) / legs,
            1 - counts["in"] / legs,
            counts["loose"] / legs,
            counts["trestles"] / self.trestles,
            counts["batches"] / self.batches,
        )


def tallied(frame: BuiltFigures, spreads: Spreads, trestles: int, seed: int = SEED) -> Tally:
    """So many trestles, or a few more, drawn in whole batches. A seed gives the same numbers on every machine."""
    import numpy as np

    batches = -(-trestles // frame.trestles)
    a_chunk, many = max(1, CHUNK // frame.trestles), 2 * _WIDEST_MM * _BINS_A_MM
    counts = dict.fromkeys(("in", "by hand", "loose", "trestles", "batches"), 0)
    histograms: dict[str, Any] = {}
    for chunk, start in enumerate(range(0, batches, a_chunk)):
        errors = draw_errors(frame, spreads, Draws(seed, chunk), min(a_chunk, batches - start))
        drawn = built(frame, errors, spreads.is_pressed)
        goes_in: Any = drawn.gap >= np.float32(MALLET_MM)
        counts["in"] += int(np.count_nonzero(goes_in))
        counts["by hand"] += int(np.count_nonzero(drawn.gap >= np.float32(BY_HAND_MM)))
        counts["loose"] += int(np.count_nonzero(drawn.gap > np.float32(frame.loose)))
        whole = goes_in.all(axis=2)
        counts["trestles"] += int(np.count_nonzero(whole))
        counts["batches"] += int(np.count_nonzero(whole.all(axis=1)))
        # Of four feet the least and the most, written out corner by corner: numpy reduces short axes slowly.
        low = drawn.lowest
        least, most = (f(f(low[..., 0], low[..., 1]), f(low[..., 2], low[..., 3])) for f in (np.minimum, np.maximum))
        of_each = {"gap": drawn.gap, "feet": low, "apart": most - least, "rock": drawn.rock}
        for name, figures in {**of_each, "shortest": least.min(axis=1)}.items():
            # Whatever lies beyond the widest bin is counted in it: no quantile that is told lies there.
            bins = ((figures + np.float32(_WIDEST_MM)) * np.float32(_BINS_A_MM)).astype(np.int32).ravel()
            found = np.bincount(bins.clip(0, many - 1), minlength=many)
            histograms[name] = histograms.get(name, 0) + found
    return Tally(batches * frame.trestles, batches, counts, histograms)


def _remedies(frame: BuiltFigures, spreads: Spreads, trestles: int, instead: Mapping[str, str]) -> tuple[Remedy, ...]:
    """What each would change, on the same draws, the one that lessens rock most first; too little is left out."""
    from dataclasses import replace

    # The same seed gives each remedy the same numbers, those of a source that is taken away too: what differs is what
    # the remedy does, and not another draw. So few trestles are enough to tell them apart.
    before = _score(tallied(frame, spreads, trestles))
    found = []
    for do, sources in REMEDIES.items():
        # A measured winding stands in the frame; taken away it is drawn again, from a spread that `without` made 0.
        changed, still = without(spreads, sources), frame
        if sources == ("winding",) and frame.winding is not None:
            still = replace(frame, winding=None)
        if changed == spreads and still is frame:
            continue
        if frame.play is not None and "width_bell" in sources:
            continue  # what is left of the width is the caliper's
        after = _score(tallied(still, changed, trestles))
        remedy = Remedy(instead.get(do, do), *((round(a, 6), round(b, 6)) for a, b in zip(before, after, strict=True)))
        gains = (remedy.rock_mm[0] - remedy.rock_mm[1], remedy.too_short_mm[0] - remedy.too_short_mm[1])
        if max(gains) >= LEAST_GAIN_MM or remedy.by_hand[1] - remedy.by_hand[0] >= LEAST_GAIN:
            found.append(remedy)
    return tuple(sorted(found, key=lambda each: (each.rock_mm[1], -each.by_hand[1])))


def _score(tally: Tally) -> tuple[float, float, float]:
    """By hand, rock, too short: what a remedy is for."""
    return tally.shares().by_hand, tally.quantile("rock", 0.95), -tally.quantile("shortest", 0.05)
