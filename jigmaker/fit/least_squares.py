"""Readings of the coupon in, the machine that fits all of them best out, with its covariance; mm, tangents.

Weighted least squares over the means of each place, by Gauss and Newton from the machine that the file was made for.
"""

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING

from jigmaker.fit.forecast import Guess, forecast
from jigmaker.fit.readings import Readings

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[tuple[int, ...], np.dtype[np.float64]]

TURN_OVER = "turn_over"
"""Key of the turn-over test among the readings; its figure is the opening, below 0 for a negative skew."""

OPENING_MM = 0.1
"""How far the opening of two knife or pencil lines can be read (common practice, no source)."""

FIELDS = ("kerf_x_mm", "kerf_y_mm", "scale_x", "scale_y", "lean")

_STEP = 1e-4
_ROUNDS = 30
_STILL = 1e-14


@dataclass(frozen=True, slots=True)
class Solution:
    """The best machine; `covariance` of its FIELDS in their order, with zeros for a lean that nobody measured.

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
        rows = range(len(FIELDS))
        return sqrt(max(0.0, sum(weights[i] * self.covariance[i][j] * weights[j] for i in rows for j in rows)))


def mean_uncertainty(one_reading_mm: float, count: int) -> float:
    """Standard uncertainty of the mean of so many readings, mm.

    One reading strays by one_reading_mm, which more readings average away; a step of that size does not average away:
    a rectangle's share, step / sqrt(12) (JCGM 100:2008, 4.3.7 and F.2.2.1).
    """
    return one_reading_mm * sqrt(1 / count + 1 / 12)


def means(readings: Readings) -> tuple[dict[str, float], dict[str, float]]:
    """(mean, its standard uncertainty) of every place by key, the turn-over test last; mm."""
    read = {key: sum(values) / len(values) for key, values in readings.taken.items()}
    spread = {key: mean_uncertainty(readings.caliper_mm, len(values)) for key, values in readings.taken.items()}
    if (test := readings.turn_over) is not None:
        read[TURN_OVER] = test.sign * sum(test.openings) / len(test.openings)
        spread[TURN_OVER] = mean_uncertainty(max(OPENING_MM, readings.caliper_mm), len(test.openings))
    return read, spread


def has_skew(readings: Readings) -> bool:
    """True when something that was measured shows the skew."""
    return bool({"E_rising", "E_falling"} & readings.taken.keys()) or readings.turn_over is not None


def solve_machine(readings: Readings) -> Solution:
    """The machine that fits best. Its lean is 0 where nothing shows it."""
    import numpy as np

    read, spread = means(readings)
    count = len(FIELDS) if has_skew(readings) else len(FIELDS) - 1
    weights = np.array([1 / spread[key] for key in read])
    at = np.array([readings.lines.kerf_x_mm, readings.lines.kerf_y_mm, 1.0, 1.0, 0.0])
    for _ in range(_ROUNDS):
        slopes = _slopes(readings, at, list(read))[:, :count] * weights[:, None]
        off = (np.array(list(read.values())) - _forecast(readings, at, list(read))) * weights
        step = np.linalg.lstsq(slopes, off, rcond=None)[0]
        at[:count] += step
        if np.abs(step).max() < _STILL:
            break
    return _solution(readings, at, slopes, read, spread)


def _solution(
    readings: Readings, at: "Array", slopes: "Array", read: dict[str, float], spread: dict[str, float]
) -> Solution:
    import numpy as np

    inner = np.linalg.inv(slopes.T @ slopes)
    covariance = np.zeros((len(FIELDS), len(FIELDS)))
    covariance[: len(inner), : len(inner)] = inner
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
