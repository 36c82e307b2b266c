"""What the model says a caliper reads, against the coupon cut by a disc and measured on what is left."""

from math import radians, tan

import pytest
from measured_coupon import SHOPS, affine, caliper

from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.lines import Allowance, whole_error
from jigmaker.parts.coupon_size import coupon_size, kerf_of_gap

CHORDS_MM = 2e-4
"""What circles lose that the judge draws in chords."""

CASES = [
    ("laser", 0.0, 1.0, 1.0, 0.0, "included"),
    ("laser", 0.03, 1.002, 0.9985, 0.3, "included"),
    ("laser", -0.05, 0.998, 1.001, -0.5, "included"),
    ("laser", 0.1, 1.001, 1.001, 0.1, "left out"),
    ("laser inch", 0.04, 1.002, 1.0, 0.3, "included"),
    ("cnc", 0.06, 0.999, 1.002, -0.3, "included"),
]


@pytest.mark.parametrize("crush", [0.0, 0.02])
@pytest.mark.parametrize(("name", "off", "scale_x", "scale_y", "skew_deg", "compensation"), CASES)
def test_the_model_reads_what_the_cut_coupon_measures(name, off, scale_x, scale_y, skew_deg, compensation, crush):
    """Every place: straight ones to 1e-9, round ones to what chords cost."""
    (shop, unit), kerf = SHOPS[name], SHOPS[name][0].machine.tool_mm
    measured = caliper(shop, unit, kerf + off, affine(scale_x, scale_y, skew_deg), compensation, crush)
    in_lines = kerf if compensation == "included" else 0.0
    guess = Guess(kerf + off, kerf + off, scale_x, scale_y, tan(radians(skew_deg)), crush)
    said = forecast(coupon_size(shop, unit), Allowance(in_lines, in_lines), guess)
    assert said.keys() == measured.keys()
    for key, value in measured.items():
        assert said[key] == pytest.approx(value, abs=CHORDS_MM if key[0] in "EF" else 1e-9), key


@pytest.mark.parametrize("compensation", ["included", "left out"])
@pytest.mark.parametrize("off", [-0.1, 0.0, 0.1, 0.2])
def test_a_wedge_goes_on_by_thirty_times_the_kerf_whatever_the_lines_allow_for(off, compensation):
    """A tenth of a millimetre is 3 mm, from the nominal file as from the other."""
    shop, unit = SHOPS["laser"]
    measured = caliper(shop, unit, 0.2 + off, affine(1, 1, 0), compensation, crush=0.0)
    for key in ("A_wedge", "B_wedge"):
        assert measured[key] == pytest.approx(12 + 30 * off, abs=1e-9)
        assert kerf_of_gap(0.2, measured[key]) == pytest.approx(0.2 + off, abs=1e-10)


def test_which_diagonal_is_longer_gives_the_sign():
    """A machine whose y axis leans toward +x: the rising diagonal is the longer one, as on the printed form, by
    the tangent of 0.3 degrees times 75 sqrt(2) + 4.8."""
    shop, unit = SHOPS["laser"]
    leaning = caliper(shop, unit, 0.2, affine(1, 1, 0.3))
    assert leaning["E_rising"] - leaning["E_falling"] == pytest.approx(0.5805, abs=0.001)


@pytest.mark.parametrize(
    ("before", "true"),
    [((1.002, 0.999, 0.3), (1.001, 1.0005, 0.28)), ((0.99, 1.0, -1.0), (0.995, 1.002, 0.5))],
)
def test_errors_put_together(before, true):
    """Lines bent by the inverse of one machine, cut on another: what is left and what was assumed give the true one."""
    (a, b, _, d, *_), (p, q, _, r, *_) = affine(*before), affine(*true)
    left_x, left_y = p / a, r / d
    lean = (q - p * b / a) / d / left_y  # true map times the inverse of the assumed one, worked by hand
    lines = Allowance(0.2, 0.2, *before)
    assert whole_error(lines, left_x, left_y, lean) == pytest.approx(true, abs=1e-9)
