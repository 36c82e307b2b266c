"""What readings of the coupon say about the machine: Readings in, MachineFound out, or which of them contradict; mm.

Every figure comes with the half width of an interval that holds the true one 19 times in 20: twice the standard
uncertainty (JCGM 100:2008, 6.2 and 6.3.3). Skew is positive when rising diagonals, lower left to upper right, are the
longer ones.
"""

from dataclasses import replace
from math import atan, cos, degrees, hypot, sqrt
from statistics import median

from jigmaker.coupon.first_coupon import STEP_MM, FirstCoupon
from jigmaker.coupon.forecast import gap_width
from jigmaker.coupon.least_squares import CRUSH, TURN_OVER, Solution, has_skew, mean_uncertainty, solve_machine
from jigmaker.coupon.lines import whole_error
from jigmaker.coupon.readings import Readings
from jigmaker.coupon.stations import stations
from jigmaker.errors import Contradiction
from jigmaker.parts.coupon_size import GAP_TAPER, figure
from jigmaker.record import dataclass
from jigmaker.units import fixed

COVERAGE = 2.0
LIMIT_SIGMAS = 3.0
"""A residual beyond this is no chance any more: 3 in 1000."""

_SPEAKS = 1e-6  # less of its variance than this left to a residual: no other reading checks it


@dataclass(frozen=True, slots=True)
class Estimate:
    """A figure and the half width of its 95 % interval, in the figure's own unit."""

    value: float
    within: float


@dataclass(frozen=True, slots=True)
class JointFound:
    """The slot to use for joints: its width as drawn and as cut, mm.

    taper_mm: width as cut on the marked face less that on the other, None when only one face was tried; taper_deg: of
    one wall.
    """

    slot_mm: float
    opening: Estimate
    clearance: Estimate
    taper_mm: Estimate | None
    taper_deg: float | None


@dataclass(frozen=True, slots=True)
class MachineFound:
    """The machine as measured. kerf: mean of x and y; kerf_apart: kerf in x less that in y, which is known better than
    either, because what is unknown of both is much the same; scales and skew are the machine's own, corrections undone.
    """

    kerf: Estimate
    kerf_x: Estimate
    kerf_y: Estimate
    kerf_apart: Estimate
    scale_x: Estimate
    scale_y: Estimate
    skew_deg: Estimate | None
    joint: JointFound | None


def machine_found(readings: Readings) -> MachineFound:
    """The machine behind the readings. Raises Contradiction, naming them, when they cannot all be right."""
    best = solve_machine(readings)
    fitted = _Fitted(readings, best)
    faults = [*fitted.slips(), *fitted.contradictions()]
    if faults:
        raise Contradiction(faults)
    guess, lines = best.guess, readings.lines
    scale_x, scale_y, skew_deg = whole_error(lines, guess.scale_x, guess.scale_y, guess.lean)
    # The fit gives the lean, tan s, and its uncertainty; of s itself it is ds = cos^2 s d(tan s).
    skew_within = degrees(COVERAGE * best.uncertainty(0, 0, 0, 0, 1) * cos(atan(guess.lean)) ** 2)
    return MachineFound(
        kerf=Estimate((guess.kerf_x_mm + guess.kerf_y_mm) / 2, COVERAGE * best.uncertainty(0.5, 0.5, 0, 0, 0)),
        kerf_x=Estimate(guess.kerf_x_mm, COVERAGE * best.uncertainty(1, 0, 0, 0, 0)),
        kerf_y=Estimate(guess.kerf_y_mm, COVERAGE * best.uncertainty(0, 1, 0, 0, 0)),
        kerf_apart=Estimate(guess.kerf_x_mm - guess.kerf_y_mm, COVERAGE * best.uncertainty(1, -1, 0, 0, 0)),
        scale_x=Estimate(scale_x, COVERAGE * best.uncertainty(0, 0, 1, 0, 0) * lines.scale_x),
        scale_y=Estimate(scale_y, COVERAGE * best.uncertainty(0, 0, 0, 1, 0) * lines.scale_y),
        skew_deg=Estimate(skew_deg, skew_within) if has_skew(readings) else None,
        joint=fitted.joint(),
    )


STOP_MM = 0.5
"""How far the place where an offcut stops can be told, as one standard deviation (common practice, no source)."""


@dataclass(frozen=True)
class _Fitted:
    """The readings, and the machine that fits them best."""

    readings: Readings
    best: Solution

    def joint(self) -> JointFound | None:
        """The wider of the slots that the two faces ask for: a joint must be entered on both."""
        if not self.readings.joints:
            return None
        guess, size, lines = self.best.guess, self.readings.size, self.readings.lines
        if isinstance(size, FirstCoupon):
            # Which slot is entered is known to a step: a rectangle.
            slots, spread = {face: median(values) for face, values in self.readings.joints.items()}, STEP_MM / sqrt(12)
            unknown = 0.0  # it is the slot that was tried, whatever another would do
        else:
            stops = {face: sum(values) / len(values) for face, values in self.readings.joints.items()}
            slots = {face: gap_width(size, lines, guess, stop) for face, stop in stops.items()}
            unknown = spread = mean_uncertainty(STOP_MM, 3) * GAP_TAPER
        slot = max(slots.values())
        across = guess.scale_x * guess.upright
        opening = (slot - lines.kerf_x_mm) * across + guess.kerf_x_mm
        off = COVERAGE * hypot(self.best.uncertainty(1, 0, slot, 0, 0), unknown)
        taper = None
        if len(slots) == 2:
            narrower_below = (slots["other_face"] - slots["marked_face"]) * across
            taper = Estimate(narrower_below, COVERAGE * spread * sqrt(2))
        return JointFound(
            slot_mm=slot,
            opening=Estimate(opening, off),
            clearance=Estimate(opening - self.readings.thickness_mm, off),
            taper_mm=taper,
            taper_deg=None if taper is None else degrees(atan(taper.value / 2 / self.readings.thickness_mm)),
        )

    def slips(self) -> list[str]:
        """Places of which one reading is far from both others: a slip of the hand or of the pen."""
        found = []
        guess = self.best.guess
        for place in stations(self.readings.size):
            # Two readings of one place differ by sqrt(2) standard deviations of one; of a disc that was measured in
            # three directions a crooked machine makes them differ besides.
            values = sorted(self.readings.taken.get(place.key, ()))
            if len(values) < 3:
                continue
            low, middle, high = values[0], median(values), values[-1]
            room = LIMIT_SIGMAS * sqrt(2) * max(self.readings.caliper_mm, place.strays_mm)
            if place.turned:
                by_scale = abs(guess.scale_x - guess.scale_y) + abs(guess.lean)
                room += abs(guess.kerf_x_mm - guess.kerf_y_mm) + place.drawn_mm * by_scale
            if max(high - middle, middle - low) > room + 1e-9:
                stray = high if high - middle > middle - low else low
                words = ", ".join(figure(value, self.readings.unit) for value in self.readings.taken[place.key])
                says = (
                    f"{place.name}: of {words} {self.readings.unit} the reading {figure(stray, self.readings.unit)} is"
                )
                found.append(f"{says} {figure(abs(stray - middle), self.readings.unit)} off; measure this place again")
        return found

    def contradictions(self) -> list[str]:
        """Places whose mean the others contradict by more than LIMIT_SIGMAS.

        Named are those without any one of which the rest agree; where no single one explains it, all that stray.
        """
        sigmas = _sigmas(self.best)
        stray = sorted((key for key, size in sigmas.items() if size > LIMIT_SIGMAS), key=lambda key: -sigmas[key])
        explain = []
        for key in stray:
            taken = {other: values for other, values in self.readings.taken.items() if other != key}
            rest = replace(self.readings, turn_over=None) if key == TURN_OVER else replace(self.readings, taken=taken)
            if max(_sigmas(solve_machine(rest)).values(), default=0.0) <= LIMIT_SIGMAS:
                explain.append(key)
        names = {place.key: place.name for place in stations(self.readings.size)} | {
            TURN_OVER: "turn-over test, opening"
        }
        found = []
        for key in explain or stray:
            read, others = self.best.read[key], self.best.read[key] - self.best.residual[key] / self.best.share[key]
            found.append(
                f"{names[key]}: read {figure(read, self.readings.unit)} {self.readings.unit}, but the other readings "
                f"say {figure(others, self.readings.unit)}: {fixed(sigmas[key], 1)} sigmas apart; measure it again"
            )
        return found


def _sigmas(best: Solution) -> dict[str, float]:
    """Each residual over its own standard uncertainty, as in the adjustment of surveys (Baarda 1968, from memory)."""
    return {
        key: abs(off) / (best.spread[key] * sqrt(best.share[key]))
        for key, off in best.residual.items()
        if key != CRUSH and best.share[key] > _SPEAKS
    }
