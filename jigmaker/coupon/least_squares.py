"""Readings of the coupon in, the machine that fits all of them best out, with its covariance; mm, tangents.

Weighted least squares over the means of each place, by Gauss and Newton from the machine that the file was made for.
"""

from math import sqrt
from typing import TYPE_CHECKING

from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.readings import Readings
from jigmaker.coupon.stations import stations
from jigmaker.parts.coupon_size import CouponSize
from jigmaker.record import dataclass

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

TURN_OVER = "turn_over"
"""Key of the turn-over test among the readings; its figure is the opening, below 0 for a negative skew."""

OPENING_MM = 0.1
"""How far the opening of two knife or pencil lines can be read (common practice, no source)."""

CRUSH = "crush"
"""Key of what is known beforehand of the crush: as if it had been read once."""

CRUSH_MM = 0.02
"""The most by which two cut edges that a hand pushes together give way (common practice, no source); as good as
anything down to 0. The middle is taken, with as much for its standard uncertainty, so that what is stated holds at both
ends too."""

FIELDS = ("kerf_x_mm", "kerf_y_mm", "scale_x", "scale_y", "lean", "crush_mm")

_STEP = 1e-4
_ROUNDS = 30
_STILL = 1e-14


@dataclass(frozen=True, slots=True)
class Solution:
    """The best machine; `covariance` of its FIELDS in their order, with zeros for what nobody measured.

    By key: `read` the mean, `spread` its standard uncertainty, `residual` read less forecast, `share` the part of the
    variance that the fit leaves to the residual: 0 where no other reading says anything about this one. mm.
    """

    guess: Guess
    covariance: tuple[tuple[float, ...], ...]
    read: dict[str, float]
    spread: dict[str, float]
    residual: dict[str, float]
    share: dict[str, float]

    def uncertainty(self, *weights: float) -> float:
        """The standard uncertainty of a weighted sum of the FIELDS."""
        rows = range(len(weights))
        return sqrt(max(0.0, sum(weights[i] * self.covariance[i][j] * weights[j] for i in rows for j in rows)))


def mean_uncertainty(one_reading_mm: float, count: int) -> float:
    """Standard uncertainty of the mean of so many readings, mm.

    One reading strays by one_reading_mm, which more readings average away; a step of that size does not average away:
    a rectangle's share, step / sqrt(12) (JCGM 100:2008, 4.3.7 and F.2.2.1).
    """
    return one_reading_mm * sqrt(1 / count + 1 / 12)


def means(readings: Readings) -> tuple[dict[str, float], dict[str, float]]:
    """(mean, its standard uncertainty) of every place by key, then of turn-over test and crush; mm."""
    # Each reading weighs by how well it is known. The crush is no reading: it enters as what is known of it beforehand,
    # with an uncertainty of its own.
    strays = {place.key: max(readings.caliper_mm, place.strays_mm) for place in stations(readings.size)}
    read = {key: sum(values) / len(values) for key, values in readings.taken.items()}
    spread = {key: mean_uncertainty(strays[key], len(values)) for key, values in readings.taken.items()}
    if (test := readings.turn_over) is not None:
        read[TURN_OVER] = test.sign * sum(test.openings) / len(test.openings)
        spread[TURN_OVER] = mean_uncertainty(max(OPENING_MM, readings.caliper_mm), len(test.openings))
    if isinstance(readings.size, CouponSize):
        read[CRUSH], spread[CRUSH] = CRUSH_MM / 2, CRUSH_MM / 2
    return read, spread


def has_skew(readings: Readings) -> bool:
    """True when something that was measured shows the skew."""
    return bool({"E_rising", "E_falling"} & readings.taken.keys()) or readings.turn_over is not None


def solve_machine(readings: Readings) -> Solution:
    """The machine that fits best. Its lean is 0 where nothing shows it, its crush 0 where nothing was pushed together
    that must not give way."""
    import numpy as np

    read, spread = means(readings)
    free = [0, 1, 2, 3, *([4] if has_skew(readings) else []), *([5] if CRUSH in read else [])]
    weights = np.array([1 / spread[key] for key in read])
    at = np.array([readings.lines.kerf_x_mm, readings.lines.kerf_y_mm, 1.0, 1.0, 0.0, 0.0])
    for _ in range(_ROUNDS):
        # Gauss-Newton: readings less forecast are nearly slopes x step, each row in units of its own uncertainty; the
        # step is the least-squares solution, taken until nothing moves. The forecast is nearly linear, so few rounds
        # do.
        slopes = _slopes(readings, at, list(read))[:, free] * weights[:, None]
        off = (np.array(list(read.values())) - _forecast(readings, at, list(read))) * weights
        step = np.linalg.lstsq(slopes, off, rcond=None)[0]
        at[free] += step
        if np.abs(step).max() < _STILL:
            break
    return _solution(readings, at, slopes, read, spread, free)


def _solution(
    readings: Readings,
    at: "Array",
    slopes: "Array",
    read: dict[str, float],
    spread: dict[str, float],
    free: list[int],
) -> Solution:
    import numpy as np

    # With rows in units of their uncertainty the covariance of the fitted fields is (J^T J)^-1; `left` is 1 less the
    # leverage j (J^T J)^-1 j^T of each row: the part of its variance that the fit leaves in its residual.
    inner = np.linalg.inv(slopes.T @ slopes)
    covariance = np.zeros((len(FIELDS), len(FIELDS)))
    covariance[np.ix_(free, free)] = inner
    said = dict(zip(read, _forecast(readings, at, list(read)), strict=True))
    left = 1 - np.einsum("ij,jk,ik->i", slopes, inner, slopes)
    return Solution(
        guess=Guess(*(float(value) for value in at)),
        covariance=tuple(tuple(float(cell) for cell in row) for row in covariance),
        read=read,
        spread=spread,
        residual={key: read[key] - float(said[key]) for key in read},
        share={key: max(0.0, float(share)) for key, share in zip(read, left, strict=True)},
    )


def _forecast(readings: Readings, at: "Array", keys: list[str]) -> "Array":
    import numpy as np

    guess = Guess(*(float(value) for value in at))
    said = forecast(readings.size, readings.lines, guess)
    if readings.turn_over is not None:
        said[TURN_OVER] = 2 * readings.turn_over.length_mm * guess.lean
    said[CRUSH] = guess.crush_mm
    return np.array([said[key] for key in keys])


def _slopes(readings: Readings, at: "Array", keys: list[str]) -> "Array":
    """How every forecast changes with every field: central differences, good to the last digits but a few."""
    import numpy as np

    columns = []
    for i in range(len(FIELDS)):
        step = np.zeros(len(FIELDS))
        step[i] = _STEP
        columns.append((_forecast(readings, at + step, keys) - _forecast(readings, at - step, keys)) / (2 * _STEP))
    return np.array(columns).T
