"""The machine found again from readings of its coupon: exactly from ideal ones, within what is stated from others."""

import random
from dataclasses import replace
from functools import cache
from math import radians, tan
from pathlib import Path

import coupon_trials
import pytest
import shapely
from cut_by_disc import cut
from measured_coupon import MIDDLE, SHOPS, affine, caliper, form_of, noisy
from sample_jobs import ideal_shop_text

from jigmaker.coupon.forecast import Guess, forecast
from jigmaker.coupon.least_squares import CRUSH_MM, solve_machine
from jigmaker.coupon.lines import Allowance
from jigmaker.coupon.machine_found import machine_found
from jigmaker.coupon.readings import Readings, TurnOver, read_form
from jigmaker.errors import Contradiction
from jigmaker.job.read import read_shop
from jigmaker.parts.coupon import coupon
from jigmaker.parts.coupon_size import coupon_size

SHOP, UNIT = SHOPS["laser"]
SIZE = coupon_size(SHOP, UNIT)
LINES = Allowance(0.2, 0.2)
TRUE = Guess(0.23, 0.23, 1.002, 0.999, tan(radians(0.3)), MIDDLE)
TRIALS = 200


def readings_of(taken, **changes):
    three = {key: (v,) * 3 if isinstance(v, float) else tuple(v) for key, v in taken.items()}
    plain = Readings("mm", SIZE, LINES, 9.1, 0.02, three, {})
    return replace(plain, **changes)


@cache
def ideal():
    return forecast(SIZE, LINES, TRUE)


@pytest.mark.parametrize(
    ("name", "off", "error", "compensation"),
    [
        ("laser", 0.03, (1.0, 1.0, 0.0), "included"),
        ("laser", -0.05, (1.002, 0.9985, 0.3), "included"),
        ("laser", 0.05, (1.001, 1.001, -0.3), "left out"),
        ("laser inch", 0.04, (1.002, 1.0, 0.3), "included"),
        ("cnc", 0.06, (0.999, 1.002, -0.3), "included"),
    ],
)
def test_ideal_readings_of_the_cut_coupon_give_the_machine_back(name, off, error, compensation):
    """Measured on the simulated pieces, through the form: kerf and scale to 1e-9 from the straight places; with all
    places, skew too, to what the judge's chords cost."""
    (shop, unit), kerf = SHOPS[name], SHOPS[name][0].machine.tool_mm + off
    measured = caliper(shop, unit, kerf, affine(*error), compensation)
    upright = {key: value for key, value in measured.items() if key[0] in "ABD"}
    asked = {"coupon__compensation": f'"{compensation}"'}
    every = machine_found(read_form(form_of(shop, unit, measured, **asked), "form.toml", shop))
    assert (every.kerf_x.value, every.kerf_y.value) == pytest.approx((kerf, kerf), abs=1e-4)
    assert (every.scale_x.value, every.scale_y.value) == pytest.approx(error[:2], abs=3e-6)
    assert every.skew_deg.value == pytest.approx(error[2], abs=2e-4)
    if not error[2]:  # without a diagonal the skew's cosine would go into the scale
        straight = machine_found(read_form(form_of(shop, unit, upright, **asked), "form.toml", shop))
        assert (straight.kerf_x.value, straight.kerf_y.value) == pytest.approx((kerf, kerf), abs=1e-9)
        assert (straight.scale_x.value, straight.scale_y.value) == pytest.approx(error[:2], abs=1e-11)
        assert straight.skew_deg is None


def test_ideal_readings_of_a_crooked_machine_give_the_kerf_to_the_last_digits():
    """All places, kerf in x and y apart."""
    guess = Guess(0.2, 0.29, 1.002, 0.998, tan(radians(-0.3)), MIDDLE)
    found = machine_found(readings_of(forecast(SIZE, LINES, guess)))
    assert (found.kerf_x.value, found.kerf_y.value) == pytest.approx((0.2, 0.29), abs=1e-9)
    assert found.skew_deg.value == pytest.approx(-0.3, abs=1e-9)
    assert found.kerf.value == pytest.approx(0.245, abs=1e-9)


@pytest.mark.parametrize("step", [0.01, 0.02])
def test_the_truth_lies_within_what_is_stated_19_times_in_20(step):
    """200 seeded coupons, each reading straying by 0.02 and rounded to the caliper's step; and the intervals are no
    wider than they must be: the truth leaves half of them often enough."""
    truth = (TRUE.kerf_x_mm, TRUE.kerf_y_mm, TRUE.scale_x, TRUE.scale_y, 0.3)
    inside, near = [0] * 5, [0] * 5
    for seed in range(TRIALS):
        draw = random.Random(seed)
        crush = draw.uniform(0, CRUSH_MM)
        taken = noisy(SIZE, LINES, replace(TRUE, crush_mm=crush), draw, step=step)
        best = solve_machine(readings_of(taken))
        assert best.guess.kerf_x_mm != TRUE.kerf_x_mm
        found = _unrefused(taken)
        for i, (each, value) in enumerate(zip(found, truth, strict=True)):
            inside[i] += abs(each.value - value) <= each.within
            near[i] += abs(each.value - value) <= each.within / 2
    assert min(inside) >= 0.95 * TRIALS
    assert max(near) <= 0.80 * TRIALS


def _unrefused(taken):
    """What is found, by hand where a chance of 3 sigmas would be refused: a refusal must not tidy up the count."""
    try:
        found = machine_found(readings_of(taken))
    except Contradiction:
        found = machine_found(readings_of(taken, caliper_mm=0.04))
        shrunk = [replace(f, within=f.within / 2) for f in (found.kerf_x, found.kerf_y, found.scale_x, found.scale_y)]
        return [*shrunk, replace(found.skew_deg, within=found.skew_deg.within / 2)]
    return [found.kerf_x, found.kerf_y, found.scale_x, found.scale_y, found.skew_deg]


def test_honest_readings_are_seldom_refused():
    """Ten places and thirty readings against 3 sigmas each: under one coupon in twelve."""
    refused = 0
    for seed in range(TRIALS):
        try:
            machine_found(readings_of(noisy(SIZE, LINES, TRUE, random.Random(seed))))
        except Contradiction:
            refused += 1
    assert refused <= TRIALS / 12


def test_readings_of_the_cut_coupon_with_noise():
    """The same on the pieces themselves, skew 0.3 as on a real machine: found within 0.02 degrees."""
    measured = caliper(SHOP, UNIT, 0.23, affine(1.002, 0.999, 0.3))
    draw = random.Random(1)
    taken = {key: [value + draw.gauss(0, 0.02) for _ in range(3)] for key, value in measured.items()}
    found = machine_found(read_form(form_of(SHOP, UNIT, taken), "form.toml", SHOP))
    assert found.skew_deg.value == pytest.approx(0.3, abs=found.skew_deg.within)
    assert found.skew_deg.within <= 0.0205
    assert found.kerf.value == pytest.approx(0.23, abs=found.kerf.within)
    assert found.kerf.within < 0.01


@pytest.mark.parametrize(
    ("key", "off", "named", "most"),
    [
        ("A_wedge", 3.0, "A, wedge: read", 1),
        ("D_long_y", 0.4, "D, long in Y: read", 1),
        ("E_rising", 0.5, "E, rising /: read", 2),
        ("F_hole", -0.3, "F, hole: read", 1),
    ],
)
def test_a_contradiction_is_refused_by_name(key, off, named, most):
    """One place wrong in all three readings: it is among those named, with what the others say it should be."""
    with pytest.raises(Contradiction, match="sigmas apart; measure it again") as refused:
        machine_found(readings_of(ideal() | {key: ideal()[key] + off}))
    lines = refused.value.faults
    assert lines[0].startswith(named)
    assert len(lines) <= most


def test_what_the_others_say_is_what_it_should_be():
    """A slip of 0.5 in a diagonal, which no other reading shares: the sentence holds the right figure."""
    with pytest.raises(Contradiction, match=f"E, rising /: .* the other readings say {ideal()['E_rising']:.1f}"):
        machine_found(readings_of(ideal() | {"E_rising": ideal()["E_rising"] + 0.5}, turn_over=_test_of(0.3)))


def _test_of(skew_deg, turned=False, leans=1):
    return TurnOver((2 * 80 * tan(radians(abs(skew_deg))),) * 3, 80.0, leans, turned)


def test_one_reading_far_from_its_two_neighbours_is_a_slip():
    """54.02, 54, 54.92: named with the stray one, whatever the mean says."""
    value = ideal()["D_long_x"]
    with pytest.raises(Contradiction, match=r"D, long in X: of .* the reading 145\.9\d is 0\.70 off"):
        machine_found(readings_of(ideal() | {"D_long_x": [value, value, value + 0.7]}))


def test_a_hole_may_differ_round_about_where_kerf_does():
    """Kerf 0.1 wider in y: three directions across the hole differ by 0.075, and that is no slip."""
    guess = replace(TRUE, kerf_x_mm=0.2, kerf_y_mm=0.35)
    said = forecast(SIZE, LINES, guess)
    middle = said["F_hole"]
    taken = said | {"F_hole": [middle - 0.075, middle + 0.0375, middle + 0.0375]}
    assert machine_found(readings_of(taken)).kerf_y.value == pytest.approx(0.35, abs=1e-6)


SIGNS = [("+ leaning right", 0.3, 1, False), ("- leaning left", -0.3, -1, False), ("+ turned", 0.3, -1, True)]


@pytest.mark.parametrize(("skew_deg", "leans", "turned"), [row[1:] for row in SIGNS], ids=[row[0] for row in SIGNS])
def test_the_turn_over_test_alone_gives_the_skew(skew_deg, leans, turned):
    """Without diagonals; a quarter turn on the bed changes the sign (see the witness corner)."""
    taken = forecast(SIZE, LINES, replace(TRUE, lean=tan(radians(skew_deg))))
    taken = {key: value for key, value in taken.items() if key[0] != "E"}
    found = machine_found(readings_of(taken, turn_over=_test_of(skew_deg, turned, leans)))
    assert found.skew_deg.value == pytest.approx(skew_deg, abs=1e-6)
    assert 0.02 < found.skew_deg.within < 0.06


def test_the_turn_over_test_helps_the_diagonals_and_catches_their_mix_up():
    """Together they know better; with the two diagonals exchanged they contradict each other."""
    alone = machine_found(readings_of(ideal()))
    both = machine_found(readings_of(ideal(), turn_over=_test_of(0.3)))
    assert both.skew_deg.within < alone.skew_deg.within
    swapped = ideal() | {"E_rising": ideal()["E_falling"], "E_falling": ideal()["E_rising"]}
    with pytest.raises(Contradiction, match="turn-over test, opening: read"):
        machine_found(readings_of(swapped, turn_over=_test_of(0.3)))


def test_a_second_coupon_on_corrected_files_adds_up():
    """Lines already bent for 0.28 degrees and 1.001: little is left, and the whole is what stands in the shop."""
    lines = Allowance(0.2, 0.2, 1.001, 1.001, 0.28)
    taken = forecast(SIZE, lines, Guess(0.2, 0.2, 1.0005, 1.0, tan(radians(0.02)), MIDDLE))
    found = machine_found(readings_of(taken, lines=lines))
    assert found.scale_x.value == pytest.approx(1.0005 * 1.001, abs=1e-9)
    assert found.skew_deg.value == pytest.approx(0.30, abs=2e-4)


@pytest.mark.parametrize(
    "assumed",
    [
        {"scale_x": 1.002, "scale_y": 0.999, "skew_deg": 0.28},
        {"tool_mm": 0.23, "kerf_x_mm": 0.2, "kerf_y_mm": 0.26},
        {"tool_mm": 0.23, "kerf_x_mm": 0.2, "kerf_y_mm": 0.26, "scale_x": 1.003, "scale_y": 1.003, "skew_deg": -0.2},
    ],
    ids=["bent", "directed", "both"],
)
def test_a_coupon_cut_from_corrected_files_gives_the_whole_error(assumed):
    """The files themselves, as the shop corrects them, cut on another machine and measured on the pieces: kerf, scales
    and skew of that machine. A hole may come out 0.01 mm out of round, which is 0.015 degrees over the square."""
    shop = replace(SHOP, machine=replace(SHOP.machine, **assumed))
    measured = caliper(shop, UNIT, 0.24, affine(1.001, 1.0005, 0.3))
    found = machine_found(read_form(form_of(shop, UNIT, measured), "form.toml", shop))
    assert (found.kerf_x.value, found.kerf_y.value) == pytest.approx((0.24, 0.24), abs=2e-3)
    assert (found.scale_x.value, found.scale_y.value) == pytest.approx((1.001, 1.0005), abs=3e-5)
    assert found.skew_deg.value == pytest.approx(0.3, abs=0.015)


@pytest.mark.parametrize(
    ("marked", "other", "slot", "taper"),
    [(25.0, 25.0, 9.15, 0.0), (25.0, 35.0, 9.25, 0.10), (30.0, 20.0, 9.2, -0.10)],
)
def test_joints_take_the_width_that_both_faces_let_in(marked, other, slot, taper):
    """8.9 mm wide at the narrow end, a hundredth more a millimetre; the wider of the two; the cut is narrower on the
    face on which the offcut stops the farther out."""
    guess = Guess(0.23, 0.23, 1.0, 1.0, 0.0, MIDDLE)
    stops = {"marked_face": (marked,) * 3, "other_face": (other,) * 3}
    joint = machine_found(readings_of(forecast(SIZE, LINES, guess), joints=stops)).joint
    ended = 0.03 / 2 / 100  # the narrow end was cut half of 0.03 farther down
    assert joint.slot_mm == pytest.approx(slot - ended, abs=1e-9)
    assert joint.opening.value == pytest.approx(slot - ended + 0.03)  # the kerf is that much wider than the lines say
    assert joint.clearance.value == pytest.approx(slot - ended + 0.03 - 9.1)
    assert joint.taper_mm.value == pytest.approx(taper)
    assert joint.taper_deg == pytest.approx(taper / 2 / 9.1 * 57.2958, abs=1e-4)
    assert joint.opening.within < 0.02


@pytest.mark.parametrize("name", ["laser", "cnc"])
@pytest.mark.parametrize("off", [-0.05, 0.0, 0.1])
def test_an_offcut_stops_where_the_gap_is_as_wide_as_it_is_thick(name, off):
    """A piece of the 9.1 sheet slid along the straight wall of the cut coupon: what is found of where it stops is its
    own thickness, and no play is left."""
    (shop, unit), width = SHOPS[name], SHOPS[name][0].machine.tool_mm
    body = cut(coupon(shop, unit), shop.machine, width + off).body
    gap = max(body.interiors, key=lambda ring: shapely.Polygon(ring).area)
    straight, low, _, high = gap.bounds
    stop, step = low, 16.0
    while step > 1e-7:
        tried = shapely.box(straight, stop + step, straight + 9.1, high - 5)
        stop += 0.0 if shapely.Polygon(gap).buffer(1e-9).contains(tried) else step
        step /= 2
    guess = Guess(width + off, width + off, 1.0, 1.0, 0.0, MIDDLE)
    size, lines = coupon_size(shop, unit), Allowance(width, width)
    stops = {"marked_face": (stop - low,) * 3}
    taken = {key: (value,) * 3 for key, value in forecast(size, lines, guess).items()}
    joint = machine_found(Readings(unit, size, lines, 9.1, 0.02, taken, stops)).joint
    assert joint.opening.value == pytest.approx(9.1, abs=1e-5)


FIRST = Path(__file__).parent.parent / "old_files" / "coupon_form_1.toml"


def test_a_form_of_the_first_coupon_still_reads():
    """Strips and comb: the figures that were found of it then, to the last digit that was printed."""
    found = machine_found(read_form(FIRST.read_bytes(), "form.toml", read_shop(ideal_shop_text())))
    assert (found.kerf_x.value, found.kerf_x.within) == pytest.approx((0.190172, 0.004663), abs=1e-6)
    assert (found.kerf_y.value, found.kerf_y.within) == pytest.approx((0.209863, 0.004761), abs=1e-6)
    assert (found.scale_x.value, found.scale_y.value) == pytest.approx((1.0011337, 1.0010760), abs=1e-7)
    assert (found.skew_deg.value, found.skew_deg.within) == pytest.approx((0.077207, 0.020138), abs=1e-6)
    joint = found.joint
    assert (joint.slot_mm, joint.opening.value, joint.taper_mm.within) == pytest.approx(
        (9.2, 9.200367, 0.0408), abs=1e-4
    )


GIVE = (0.0, 0.02)


def test_wedges_tell_no_less_than_strips_did():
    """Two hundred of either coupon, cut with a taper, edges giving way by up to 0.02, a wedge resting within 0.1: no
    figure is farther off than with strips, and every one lies within what is stated as often as it must."""
    (strips, _, refused_then), (wedges, held, refused_now) = (
        coupon_trials.trial(size, GIVE) for size in (coupon_trials.FIRST, coupon_trials.NEW)
    )
    assert all(now <= then for now, then in zip(wedges, strips, strict=True))
    assert min(held) >= 0.94
    assert refused_now < refused_then


@pytest.mark.parametrize("thickness", [3.0, 18.0])
@pytest.mark.parametrize("give", [(0.0, 0.0), (0.02, 0.02)])
def test_what_is_stated_holds_at_the_ends_of_what_was_assumed(give, thickness):
    """Edges that do not give way at all, and all by 0.02; thin sheets, which bend, and thick ones."""
    _, held, _ = coupon_trials.trial(coupon_trials.NEW, give, thickness, trials=100)
    assert min(held) >= 0.92
