"""The solver and its angle functions against printed charts, drawing-board rules and published worked examples."""

from math import atan, cos, degrees, radians, sin, tan

import pytest
from sample_jobs import a_job

from jigmaker.trestle import angles
from jigmaker.trestle.angle_table import angle_rows
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.solve import solve

INCH = 25.4

# Compound-angle chart printed in the owner's manuals of compound mitre saws (read in Ryobi TSS121, p. 32, and Craftsman
# 315.21212, p. 24): mitre of a mitred box of so many sides, sides at 0, 5 ... 90 degrees off the level; "-": illegible.
CHART_MITRES = {
    4: "45.00 44.89 44.56 44.01 43.22 42.19 40.89 39.32 37.45 35.26 32.73 29.84 26.57 22.91 18.88 14.51 9.85 4.98 0.00",
    5: "36.00 35.90 35.58 35.06 34.32 33.36 32.18 30.76 29.10 27.19 25.03 22.62 19.96 17.07 13.95 10.65 7.19 3.62 0.00",
    6: "30.00 29.91 29.62 29.15 28.48 27.62 26.57 25.31 23.86 22.21 20.36 18.32 16.10 13.71 11.17 - - - 0.00",
    7: "25.71 25.63 25.37 24.95 24.35 23.56 22.64 21.53 20.25 18.80 17.20 15.44 - - - - - - -",
    8: "22.50 22.42 22.19 21.81 21.27 20.58 19.73 18.74 17.60 16.32 14.91 13.36 - - - - - - -",
    9: "20.00 19.93 19.72 19.37 18.88 18.26 17.50 16.60 15.58 14.43 13.17 - - - - - - - -",
    10: "18.00 17.94 17.74 17.42 16.98 16.41 15.72 14.90 13.98 12.94 11.80 - - - - - - - -",
}
CHART_FOUR_SIDED_BEVELS = (
    "0.00 3.53 7.05 10.55 14.00 17.39 20.70 23.93 27.03 30.00 32.80 35.40 37.76 39.86 41.64 43.08 44.14 44.78 45.00"
)
PRINTED_TO_DEG = 0.0055
MISPRINT = (7, 25, 23.5791)  # printed 23.56 in both legible copies, 0.02 off the run of the chart's own column


def pitches(column):
    """(pitch, printed) of the legible rows of a column."""
    return [(5 * i, float(printed)) for i, printed in enumerate(column.split()) if printed != "-"]


def a_leg(rake, splay, height=720, top=(900, 200, 45), leg=(70, 32)):
    """A trestle whose angles are what matters."""
    return solve(a_job(height, (rake, splay), 140, top, leg, clearance=0))


@pytest.mark.parametrize(("pitch", "printed"), [row for row in pitches(CHART_MITRES[4]) if row[0] >= 60])
def test_a_single_angle_leg_is_sawn_to_the_four_sided_mitre(pitch, printed):
    """Rake and splay alike: the saw's mitre on the wide face is the four-sided box's at that pitch."""
    solved = a_leg(pitch, pitch).angles
    assert solved.saw_mitre_deg == pytest.approx(printed, abs=PRINTED_TO_DEG)
    assert solved.leg_face_deg == pytest.approx(90 - printed, abs=PRINTED_TO_DEG)
    assert solved.brace_end_deg == pytest.approx(90 - printed, abs=PRINTED_TO_DEG)


@pytest.mark.parametrize("sides", CHART_MITRES)
def test_the_chart_s_mitres_come_from_the_angle_functions(sides):
    """A box's corner is a leg: splay the pitch, rake the seam seen along one side; every legible row of the chart."""
    off = []
    for pitch, printed in pitches(CHART_MITRES[sides]):
        wanted = MISPRINT[2] if (sides, pitch) == MISPRINT[:2] else printed
        pitch = pitch or 1e-6  # a flat frame is the limit: a leg that lies level has no angles
        seam = degrees(atan(tan(radians(pitch)) / tan(radians(180 / sides))))
        if abs(angles.saw_mitre_deg(seam, pitch) - wanted) > PRINTED_TO_DEG:
            off.append((pitch, printed, angles.saw_mitre_deg(seam, pitch)))
    assert not off
    assert len(pitches(CHART_MITRES[sides])) >= 11


@pytest.mark.parametrize(("pitch", "bevel"), pitches(CHART_FOUR_SIDED_BEVELS))
def test_the_chart_s_bevel_is_half_the_corner_between_two_faces(pitch, bevel):
    """A wall sawn square across meets the floor as two sides of the box meet: at twice the bevel of their mitre."""
    assert 90 - angles.wedge_deg(pitch, pitch) == pytest.approx(2 * bevel, abs=2 * PRINTED_TO_DEG)
    if pitch >= 60:
        assert a_leg(pitch, pitch).angles.wall_deg == pytest.approx(2 * bevel, abs=2 * PRINTED_TO_DEG)


# Building Trades Pocketbook (about 1899), Hopper Bevels, Fig. 25: the drawn construction worked into figures; lean off
# plumb, face cut off square, tilt of a butt joint, angle between two sides inside the hopper.
HOPPER = [
    (5, 4.9811, 0.4352, 90.4352),
    (10, 9.8511, 1.7279, 91.7279),
    (12, 11.7451, 2.4775, 92.4775),
    (12.5, 12.2127, 2.6851, 92.6851),
    (14, 13.5998, 3.3552, 93.3552),
    (15, 14.5108, 3.8410, 93.8410),
    (20, 18.8817, 6.7177, 96.7177),
    (25, 22.9098, 10.2886, 100.2886),
    (30, 26.5651, 14.4775, 104.4775),
    (45, 35.2644, 30.0000, 120.0000),
    (60, 40.8934, 48.5904, 138.5904),
]


@pytest.mark.parametrize(("lean", "face", "tilt", "dihedral"), HOPPER)
def test_hopper_bevels(lean, face, tilt, dihedral):
    """Face cut, butt joint and dihedral of a hopper are a single-angle trestle's mitre, brace tilt and wall."""
    pitch = 90 - lean
    assert angles.saw_mitre_deg(pitch, pitch) == pytest.approx(face, abs=1e-4)
    assert angles.wedge_deg(pitch, pitch) == pytest.approx(tilt, abs=1e-4)
    if pitch >= 60:
        assert a_leg(pitch, pitch).angles.wall_deg == pytest.approx(180 - dihedral, abs=1e-4)


def test_half_a_regular_octahedron():
    """Its faces stand at 54.735610 and meet at 109.471221 (textbook value, from memory)."""
    assert 90 + angles.wedge_deg(54.735610, 54.735610) == pytest.approx(109.471221, abs=1e-5)


@pytest.mark.parametrize(("rake", "splay", "tilt"), [(80, 80, 1.727941), (70, 85, 1.708184), (85, 70, 1.708184)])
def test_two_slopes_that_differ(rake, splay, tilt):
    """Planes at two slopes, square in plan: cos of their angle is cos a cos b (computed from normals beforehand)."""
    assert a_leg(rake, splay).angles.brace_wedge_deg == pytest.approx(tilt, abs=1e-6)


def test_a_mitre_told_from_the_edge():
    """Popular Woodworking 119 (2000), p. 46: four sides 30 off the level, 49.1074 from the edge (cos 30 as 0.8660)."""
    assert angles.leg_face_deg(30, 30) == pytest.approx(49.1074, abs=0.001)


# Legs splayed two ways, by lean off plumb: true lean and length for 1 of height, computed beforehand from
# atan(hypot(tan a, tan b)) and its secant.
TWO_WAY = [
    (5, 5, 7.0532, 1.007625),
    (10, 5, 11.1357, 1.019189),
    (10, 10, 14.0019, 1.030622),
    (12, 8, 14.2957, 1.031955),
    (15, 10, 17.7842, 1.050185),
    (20, 15, 24.3212, 1.097393),
]


@pytest.mark.parametrize(("along", "across", "lean", "factor"), TWO_WAY)
def test_a_leg_splayed_two_ways(along, across, lean, factor):
    """Both leans together make the leg longer than either does alone; the length factor is 1 / cos of the true lean."""
    solved = a_leg(90 - along, 90 - across, height=1000)
    assert 90 - solved.angles.true_lean_deg == pytest.approx(lean, abs=1e-4)
    assert solved.leg.length_mm == pytest.approx(1000 * factor, abs=1e-3)
    assert solved.leg.length_mm * cos(radians(lean)) == pytest.approx(1000, abs=1e-2)


# A chapter on sawhorses in a carpentry textbook: gains 3/4 in deep at the top of a 1 1/2 in board, so deep at its
# bottom, for a leg that falls so many to 1. And a published plan (Popular Mechanics): 20 degrees, 1 in at the top.
GAINS = [
    ("textbook, narrow", 6, 1.5, 0.75, 1 / 2, 1e-6),
    ("textbook, wide", 4, 1.5, 0.75, 3 / 8, 1e-6),
    ("plan, 19/32 in", 1 / tan(radians(20)), 1.116, 1.0, 19 / 32, 1 / 128),
    ("plan, board 1 1/8 in", 1 / tan(radians(20)), 1.125, 1.0, 0.590, 0.001),
]


@pytest.mark.parametrize(("name", "fall", "board", "gain", "bottom", "near"), GAINS)
def test_published_gains(name, fall, board, gain, bottom, near):
    """A gain so deep in the top face is so deep in the bottom face, inches."""
    splay = degrees(atan(fall))
    leg = gain * INCH * sin(radians(splay))
    solved = a_leg(78, splay, top=(900, 200, board * INCH), leg=(70, leg)).housing
    assert solved.depth_top_mm / INCH == pytest.approx(gain, abs=1e-9)
    assert solved.depth_bottom_mm / INCH == pytest.approx(bottom, abs=near)


def test_a_gain_that_runs_out():
    """Framing-square text: sloping 7 in 24, a gain 3/4 in deep runs out 2 9/16 in down the side."""
    splay = degrees(atan(24 / 7))
    leg = 0.75 * INCH * sin(radians(splay))
    solved = a_leg(78, splay, top=(900, 200, (2 + 9 / 16) * INCH), leg=(70, leg))
    assert solved.housing.depth_bottom_mm == pytest.approx(0, abs=INCH / 128)
    assert 402 in [finding.code for finding in check_trestle(solved)]


def test_a_published_leg_length():
    """The same text: 24 in high, 7 in 24 one way (5 in 24 the other, worked back) takes a leg about 25 1/2 in long."""
    solved = a_leg(degrees(atan(24 / 5)), degrees(atan(24 / 7)), height=24 * INCH)
    assert solved.leg.length_mm / INCH == pytest.approx(25.5, abs=1 / 64)


# Slope 1 : n of published sawhorses and the lean off plumb printed for it: a plan with 1 : 2 3/4 and 1 : 4; a
# bench-builder's note and Fine Homebuilding (1997, sawhorse) with 3 in 12, to one decimal more.
SLOPES = [(2.75, 19.98), (4, 14.04), (12 / 3, 14.04)]


@pytest.mark.parametrize(("fall", "lean"), SLOPES)
def test_published_slopes(fall, lean):
    """A slope of 1 : n is told as the angle the plans print, and the angle as that slope."""
    solved = a_leg(degrees(atan(fall)), 78)
    rake = next(row for row in angle_rows(solved) if row.key == "rake")
    assert (rake.off_square_deg, rake.slope_n) == (lean, pytest.approx(fall))
    assert rake.rise_in_100 == pytest.approx(100 / fall)


def test_one_angle_is_not_every_angle():
    """At 75 both ways three saw settings differ, and at 80 the face angle is 80.149 (B-rep kernel, OpenCASCADE)."""
    solved = a_leg(75, 75).angles
    assert (solved.saw_mitre_deg, solved.saw_tilt_deg) == pytest.approx((14.511, 15), abs=5e-4)
    assert (solved.saw_mitre_on_edge_deg, solved.saw_tilt_on_edge_deg) == pytest.approx((15.471, 14.006), abs=5e-4)
    assert a_leg(80, 80).angles.leg_face_deg == pytest.approx(80.149, abs=5e-4)
