"""Both coupons tried two hundred times, the one drawn now and the first one: run by hand, prints what each is off by.

.venv/bin/python tests/support/coupon_trials.py

A reading of the caliper strays by 0.02 mm, a wedge comes to rest within 0.1 mm of where it did before. One face of the
cut is up to 0.1 mm wider than the other; a caliper, a strip and a wedge that lies as it lay meet the narrow face. A
wedge may stand up to 0.3 mm proud. Two cut edges pushed together give way, by the same wherever wood meets wood: six
strips have five such places. A hand pushes a wedge with 5 N or less, which bends the wood beside its slot.
"""

import random
from math import radians, tan

from sample_jobs import DEMO_SHOP

from jigmaker.coupon.first_coupon import first_coupon
from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.least_squares import solve_machine
from jigmaker.coupon.lines import Allowance
from jigmaker.coupon.machine_found import COVERAGE, machine_found
from jigmaker.coupon.readings import Readings
from jigmaker.errors import Contradiction
from jigmaker.parts.coupon_size import coupon_size

NEW, FIRST = coupon_size(DEMO_SHOP, "mm"), first_coupon(DEMO_SHOP, "mm")
LINES = Allowance(0.2, 0.2)
FIGURES = ("kerf", "kerf_x", "kerf_y", "kerf_x - kerf_y", "scale_x", "scale_y", "skew_deg")
WEIGHTS = (
    (0.5, 0.5, 0, 0, 0, 0),
    (1, 0, 0, 0, 0, 0),
    (0, 1, 0, 0, 0, 0),
    (1, -1, 0, 0, 0, 0),
    (0, 0, 1, 0, 0, 0),
    (0, 0, 0, 1, 0, 0),
    (0, 0, 0, 0, 57.29578, 0),
)
TRIALS = 200
GIVES = {"nothing gives way": (0.0, 0.0), "edges give way by 0 to 0.02": (0.0, 0.02), "by 0.02": (0.02, 0.02)}


def beam_bend(force, long, wide, thick, modulus=6000.0):
    """Middle of a beam held at both ends, force spread along it: F L^3 / (384 E I) (strength of materials); mm, N."""
    return force * long**3 / (384 * modulus * thick * wide**3 / 12)


def measured(size, true, draw, give, thick=9.1):
    """Three readings of every place of a coupon cut by a machine `true`."""
    crush, taper, proud = draw.uniform(*give), draw.uniform(0.0, 0.1), draw.uniform(0.0, 0.3)
    bend = beam_bend(draw.uniform(0.0, 5.0), 50.0, 10.0, thick)
    more = (crush + taper / 2 * proud / thick + bend) if size is NEW else 0.0
    fields = (true.kerf_x_mm, true.kerf_y_mm, true.scale_x, true.scale_y, true.lean)
    ideal = forecast(size, LINES, Guess(*fields, more))
    taken = {}
    for key, value in ideal.items():
        stray, step = (0.1, 0.1) if "wedge" in key else (0.02, 0.01)
        value -= (size.strips - 1) * crush if key in ("A", "B") else 0.0
        taken[key] = tuple(round((value + draw.gauss(0, stray)) / step) * step for _ in range(3))
    return Readings("mm", size, LINES, thick, 0.02, taken, {})


def trial(size, give, thick=9.1, trials=TRIALS):
    """For every figure: root mean square of what it is off by, share of the truths within what is stated, and how many
    coupons were refused."""
    squares, inside, refused = [0.0] * len(FIGURES), [0] * len(FIGURES), 0
    for seed in range(trials):
        draw = random.Random(seed)
        kerf = draw.uniform(0.12, 0.32)
        scales = draw.uniform(0.998, 1.002), draw.uniform(0.998, 1.002)
        true = Guess(kerf, kerf + draw.uniform(-0.04, 0.04), *scales, tan(radians(draw.uniform(-0.3, 0.3))))
        readings = measured(size, true, draw, give, thick)
        best = solve_machine(readings)
        for i, weights in enumerate(WEIGHTS):
            fields = zip(
                weights,
                (best.guess.kerf_x_mm, best.guess.kerf_y_mm, best.guess.scale_x, best.guess.scale_y, best.guess.lean),
                (true.kerf_x_mm, true.kerf_y_mm, true.scale_x, true.scale_y, true.lean),
                strict=False,
            )
            off = sum(weight * (found - real) for weight, found, real in fields)
            squares[i] += off * off
            inside[i] += abs(off) <= COVERAGE * best.uncertainty(*weights)
        try:
            machine_found(readings)
        except Contradiction:
            refused += 1
    return [(square / trials) ** 0.5 for square in squares], [count / trials for count in inside], refused


if __name__ == "__main__":
    for thickness in (3.0, 9.1, 18.0):
        for words, bounds in GIVES.items():
            both = [trial(size, bounds, thickness) for size in (FIRST, NEW)]
            print(f"{thickness} mm, {words}: refused {both[0][2]}, {both[1][2]}")
            for j, name in enumerate(FIGURES):
                print(f"  {name:16}", *(f"{rms[j]:.5f} {held[j]:.2f} " for rms, held, _ in both))
