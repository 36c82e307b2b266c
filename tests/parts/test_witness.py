"""The witness corner on shapes: lines drawn, plate turned over, drawn again; the opening tells the skew and flanks."""

import re
from dataclasses import replace
from functools import cache
from math import atan2, degrees, radians, tan

import pytest
import shapely
from marks_on_parts import mark_faults, measured
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B
from shapely.affinity import affine_transform, rotate, scale

from jigmaker.job.shop import Machine
from jigmaker.parts.bevel_plate import bevel_plates
from jigmaker.parts.witness import DRAWN_MM, WINDOW, flank_error_deg, skew_of_opening_deg
from jigmaker.trestle.solve import solve

JOBS = {
    "demo": DEMO,
    "a": JOB_A,
    "b": JOB_B,
    "60/60": replace(DEMO, rake_deg=60.0, splay_deg=60.0),
    "90/78": replace(DEMO, rake_deg=90.0),
    "90/90": replace(DEMO, rake_deg=90.0, splay_deg=90.0),
    "inch": replace(DEMO, unit="in"),
}
SKEWS = (-1.0, -0.3, 0.0, 0.05, 0.3, 1.0)
FLANKS = {"lower left": (0, 11), "lower right": (1, 2), "upper left": (7, 8), "upper right": (6, 5)}
"""(corner on the reference edge, corner at the notch) of each flank, by their number in the outline."""


@cache
def plates(name, shop=DEMO_SHOP):
    return bevel_plates(solve(JOBS[name]), shop)[:-1]


def sheared(shape, skew_deg):
    """As a machine out of square cuts it: x' = x + y tan s."""
    return affine_transform(shape, (1, tan(radians(skew_deg)), 0, 1, 0, 0))


def window(plate):
    return shapely.Polygon(next(hole.contour.points() for hole in plate.holes if hole.name == WINDOW))


def long_side(shape):
    """The window's left long side from its lower end, as two points."""
    corners = sorted(shape.exterior.coords[:-1])
    return sorted(corners[:2], key=lambda p: p[1])


def opening(plate, skew_deg, length):
    """Both lines drawn along the same side from the same point of a batten y = 0; how far apart they end.

    The plate lies with its lower reference edge on the batten, then turned over about the vertical, shifted back.
    """
    cut = sheared(window(plate), skew_deg)
    turned = scale(cut, -1, 1, origin=(0, 0))
    drawn = []
    for start, end in (long_side(cut), sorted(turned_side(turned), key=lambda p: p[1])):
        drawn.append((end[0] - start[0]) / (end[1] - start[1]) * length)
    return drawn[0] - drawn[1]


def turned_side(shape):
    """The same side on the turned plate: it lies right now."""
    return sorted(shape.exterior.coords[:-1])[2:]


def inside_angles(plate):
    """The angle inside each corner on a reference edge, from the outline's coordinates."""
    corners, found = plate.exterior.coords, {}
    for corner, (i, j) in FLANKS.items():
        other = corners[{0: 1, 1: 0, 6: 7, 7: 6}[i]]
        (x, y), (to_x, to_y) = corners[i], corners[j]
        turn = atan2(to_y - y, to_x - x) - atan2(other[1] - y, other[0] - x)
        found[corner] = abs((degrees(turn) + 180) % 360 - 180)
    return found


@pytest.mark.parametrize("skew_deg", SKEWS)
@pytest.mark.parametrize("name", JOBS)
def test_the_opening_of_the_two_lines_gives_the_skew(name, skew_deg):
    """Exact on a sheared plate; its sign is which way the first line leans."""
    length = DRAWN_MM[JOBS[name].unit]
    opened = opening(plates(name)[0], skew_deg, length)
    assert skew_of_opening_deg(abs(opened), length) == pytest.approx(abs(skew_deg), abs=1e-9)
    assert opened * skew_deg >= 0


def test_the_opening_is_twice_what_one_line_is_off():
    """0.3 degrees over 80 mm: a line is 0.42 off, the two 0.84 apart; halving is what the failing twin forgets."""
    opened = opening(plates("demo")[0], 0.3, 80.0)
    assert opened == pytest.approx(0.838, abs=1e-3)
    assert degrees(atan2(opened, 80.0)) == pytest.approx(0.6, abs=1e-4)


@pytest.mark.parametrize("skew_deg", SKEWS)
@pytest.mark.parametrize("name", JOBS)
def test_the_table_tells_what_the_shear_does_to_each_flank(name, skew_deg):
    """Every flank of a sheared outline, measured from its corners; both edges stay level."""
    for plate in plates(name):
        corners = sheared(shapely.Polygon(plate.outline.points()), skew_deg).exterior.coords
        for corner, (i, j) in FLANKS.items():
            drawn = next(f.value for f in plate.features if f.name == f"flank {corner}")
            (x, y), (to_x, to_y) = sorted((corners[i], corners[j]), key=lambda p: p[1])
            cut_deg = degrees(atan2(to_y - y, to_x - x))
            assert flank_error_deg(skew_deg, drawn) == pytest.approx(drawn - cut_deg, abs=2e-5)
        assert corners[0][1] == corners[1][1]


@pytest.mark.parametrize("flank_deg", [30, 60, 78, 90, 101.5, 120, 150])
def test_the_error_is_the_skew_times_sine_squared(flank_deg):
    """d(cot) = tan s, so d(angle) = s sin^2 to first order: at 0.01 degrees within 1e-5; the sine alone is not it."""
    sine = rotate(shapely.Point(1, 0), flank_deg, origin=(0, 0)).y
    found = flank_error_deg(0.01, flank_deg) / 0.01
    assert found == pytest.approx(sine**2, abs=2e-4)
    if flank_deg in (30, 150):
        assert found != pytest.approx(sine, abs=0.1)


def test_a_true_square_errs_by_the_whole_skew():
    """The witness stands where skew shows most; at 78 degrees 0.957 of it is left."""
    assert flank_error_deg(0.3, 90) == pytest.approx(0.3, abs=1e-12)
    assert flank_error_deg(0.3, 78) == pytest.approx(0.3 * 0.9568, abs=5e-4)


@pytest.mark.parametrize("name", JOBS)
def test_the_first_plate_carries_the_corner_and_the_others_do_not(name):
    """Legs along and square to the reference edges, the long one 90, all in the plate's free middle."""
    first, *others = plates(name)
    assert all(hole.name != WINDOW for plate in others for hole in plate.holes)
    x, y = first.outline.bounds[2] / 2, first.outline.bounds[3] / 2
    low_x, low_y, high_x, high_y = window(first).bounds
    assert high_y - low_y == pytest.approx(90)
    assert x - 10 < low_x < high_x < x + 10
    assert y - 50 < low_y < high_y < y + 50
    angles = [f for f in first.features if f.contour == WINDOW and f.measure == "angle_deg"]
    assert sorted(measured(first, f) for f in angles) == [0, 0, 90, 90]
    assert mark_faults(first) == []
    assert [mark.text for plate in plates(name) for mark in plate.marks].count("WITNESS") == 1


@pytest.mark.parametrize("name", JOBS)
def test_the_settings_hold_the_table(name):
    """Openings of 0.1, 0.2, 0.5 and 1 mm; each row's skew and its four flank errors read back and sheared again."""
    first = plates(name)[0]
    length = DRAWN_MM[JOBS[name].unit]
    rows = [s for s in first.settings if s.name.startswith("skew when the lines open")]
    assert len(rows) == 4
    for row, opened in zip(rows, (0.1, 0.2, 0.5, 1.0), strict=True):
        assert opening(first, row.value, length) == pytest.approx(opened, abs=1e-9)
        told = dict(re.findall(r"(\w+ (?:left|right)) ([-+][\d.]+)°", row.why))
        assert set(told) == set(FLANKS)
        cut = inside_angles(sheared(shapely.Polygon(first.outline.points()), row.value))
        for corner, drawn in inside_angles(shapely.Polygon(first.outline.points())).items():
            assert float(told[corner]) == pytest.approx(cut[corner] - drawn, abs=6e-4)


def test_a_small_bed_and_a_wide_cutter_leave_the_corner_whole():
    """Plate for a 250 x 220 bed; a 12 mm cutter passes the window and leaves 76 straight between its fillets."""
    small = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=250, width_mm=220))
    wide = replace(DEMO_SHOP, machine=Machine("cnc", 12.0))
    for shop in (small, wide):
        plate = bevel_plates(solve(DEMO), shop)[0]
        hole = window(plate)
        assert mark_faults(plate) == []
        others = [shapely.Polygon(h.contour.points()) for h in plate.holes if h.name != WINDOW]
        assert all(hole.distance(other) > 5 for other in others)
        assert shapely.Polygon(plate.outline.points()).buffer(-5).contains(hole)
    width = hole.bounds[2] - hole.bounds[0]
    assert width >= 12.2
