"""Tape checks against solids: lengths between corners, then legs put wrong and every line measured again."""

from dataclasses import replace
from functools import cache
from math import cos, hypot, pi, radians, sin

import pytest
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B
from trestle_on_solids import board, directions, farthest, finished_leg

from jigmaker.first_off.tape_checks import line_change_mm, tape_checks
from jigmaker.first_off.tape_faults import FAULTS, SEAT_OF_FOOT, Wrong, feet_of, usual_errors
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.vectors import add, cross, dot, length, scale, subtract
from jigmaker.trestle.solve import solve

JOBS = [DEMO, JOB_A, JOB_B, replace(DEMO, housing=replace(DEMO.housing, reveal_mm=3.0))]
ALL = pytest.mark.parametrize("job", JOBS)
FEET = ("near R", "far L", "far R", "near L")
SEATS = {"near R": (1, 1), "far L": (-1, 1), "far R": (-1, -1), "near L": (1, -1)}
DEGREE = pi / 180


def turned_about(solid, pivot, axis, angle_deg):
    """The solid turned about a unit axis through a pivot, by the right-hand rule."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))

    def turn(v):
        return add(add(scale(v, c), scale(cross(axis, v), s)), scale(axis, dot(axis, v) * (1 - c)))

    axes = [turn(v) for v in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))]
    return solid.placed(Frame(subtract(pivot, turn(pivot)), *axes))


@cache
def right_leg(job):
    return finished_leg(job)


@cache
def wrong_leg(job, fault, amount):
    """The +x +y leg with one thing wrong: as the fault's words say it, from the job's keys."""
    leg = right_leg(job)
    down, wide, _, _ = directions(job)
    half = job.top.width_mm / 2
    if fault == "turned":
        # in the plane of the floor, about the middle of what is in the board; seen from outside +x is at the left
        inside = [p for p in leg.corners if p[2] > -1e-6 and dot(p, wide) > max(dot(q, wide) for q in leg.corners) - 1]
        pivot = add(scale(add(*inside), 0.5), scale(down, -job.top.thickness_mm / 2 / down[2]))
        return turned_about(leg, pivot, wide, -amount)
    if fault == "leaning":
        return turned_about(leg, (0.0, half, 0.0), (1.0, 0.0, 0.0), amount)
    by = {"deep": scale(wide, -amount), "start": (-amount, 0.0, 0.0), "long": scale(down, amount)}
    return leg.moved(by[fault])


@cache
def foot_of(job, seat, fault=None, amount=0.0):
    """The outer corner of the foot toward the board's end, on the solid."""
    leg = wrong_leg(job, fault, amount) if fault else right_leg(job)
    down, wide, edge, _ = directions(job)
    x, y, z = farthest(leg.corners, wide, edge, down)
    if fault:  # turned directions: the corner nearest to where it was
        right = foot_of(job, (1, 1))
        x, y, z = min(leg.corners, key=lambda p: length(subtract(p, right)))
    return x * seat[0], y * seat[1], z


def ends(job, line, wrong=None):
    """Both ends of a line, on solids; wrong: {foot: (fault, amount)}."""
    feet = {f: foot_of(job, SEATS[f], *(wrong or {}).get(f, ())) for f in FEET}
    (_, low, _), (far, high, top) = board(job).bounds
    assert (low, top) == (-high, 0)
    points = {f"foot {f}": p for f, p in feet.items()}
    points |= {f"top corner {f}": (SEATS[f][0] * far, SEATS[f][1] * high, top) for f in FEET}
    for name, x, (one, other) in (("near", far, ("near R", "near L")), ("far", -far, ("far L", "far R"))):
        points[f"top, {name} end"] = (x, 0.0, top)
        points[f"floor under {name} end"] = (x, 0.0, (feet[one][2] + feet[other][2]) / 2)
    return points[line.start_name], points[line.end_name]


def measured(job, line, wrong=None):
    return length(subtract(*ends(job, line, wrong)))


@ALL
def test_every_line_is_as_long_as_between_the_solid_s_corners(job):
    """Both ends by name, and the length between them; all lines of a check are alike."""
    checks = tape_checks(solve(job), DEMO_SHOP)
    assert [check.key for check in checks] == ["diagonals", "along", "across", "height", "through"]
    assert [len(check.lines) for check in checks] == [2, 2, 2, 2, 4]
    for check in checks:
        for line in check.lines:
            for named, expected in zip((line.start, line.end), ends(job, line), strict=True):
                assert named == pytest.approx(expected, abs=1e-6)
            assert line.wanted_mm == pytest.approx(check.wanted_mm, abs=1e-9)


def test_lengths_summed_by_hand():
    """Demo: 900 - 240 + 2 x 720 cot 78 = 966.081, 120 + 2 x 720 cot 78 = 426.081, and Pythagoras."""
    wanted = {check.key: check.wanted_mm for check in tape_checks(solve(DEMO), DEMO_SHOP)}
    through = (966.0815 / 2 + 450, 426.0815 / 2 + 60, 720)
    hand = {"diagonals": hypot(966.0815, 426.0815), "along": 966.0815, "across": 426.0815, "height": 720}
    assert wanted == pytest.approx({**hand, "through": hypot(*through)}, abs=1e-3)


@ALL
@pytest.mark.parametrize("fault", FAULTS)
def test_feet_move_as_the_solid_leg_does(job, fault):
    """Each fault on each leg, of a good size."""
    amount = 0.5 if fault in ("turned", "leaning") else 2.0
    for foot in FEET:
        moved = feet_of(solve(job), (Wrong(foot, fault, amount),))
        assert moved[foot] == pytest.approx(foot_of(job, SEATS[foot], fault, amount), abs=1e-6)
        others = [other for other in FEET if other != foot]
        assert all(moved[other] == pytest.approx(foot_of(job, SEATS[other])) for other in others)


def test_faults_go_the_way_that_their_words_say():
    """Toward the board's end, outward, inward, away from the end, down."""
    right = feet_of(solve(DEMO))
    ways = {"turned": (0, 1), "leaning": (1, 1), "deep": (1, -1), "start": (0, -1), "long": (2, -1)}
    for foot, (x, y) in SEAT_OF_FOOT.items():
        for fault, (axis, sign) in ways.items():
            moved = subtract(feet_of(solve(DEMO), (Wrong(foot, fault, 0.5),))[foot], right[foot])
            assert moved[axis] * sign * (x, y, 1)[axis] > 0.4, (foot, fault)


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B])
def test_a_check_sees_the_faults_that_it_names_and_no_others(job):
    """One leg put wrong on the solids: named faults change a line by a third of the foot's way, others do not."""
    for check in tape_checks(solve(job), DEMO_SHOP):
        for fault in FAULTS:
            amount = 0.3 if fault in ("turned", "leaning") else 1.0
            moved = length(subtract(foot_of(job, (1, 1), fault, amount), foot_of(job, (1, 1))))
            changes = [abs(measured(job, line, {"near R": (fault, amount)}) - line.wanted_mm) for line in check.lines]
            assert (max(changes) >= moved / 3) == (fault in check.sees), (check.key, fault)


def test_checks_tell_the_faults_of_the_demo_apart():
    """Each fault shows in a set of checks of its own kind: along, across or upward."""
    sees = {check.key: set(check.sees) for check in tape_checks(solve(DEMO), DEMO_SHOP)}
    assert sees == {
        "diagonals": {"turned", "leaning", "deep", "start"},
        "along": {"turned", "start"},
        "across": {"leaning", "deep"},
        "height": {"long"},
        "through": {"turned", "start", "long"},
    }


def changes(wrong):
    """{check: [change of each line]} on the demo's solids."""
    checks = tape_checks(solve(DEMO), DEMO_SHOP)
    return {check.key: [measured(DEMO, line, wrong) - line.wanted_mm for line in check.lines] for check in checks}


def test_one_end_pushed_across_shows_in_the_diagonals_alone():
    """Both legs of an end lean to one side: what "the feet are a parallelogram" says."""
    off = changes({"near R": ("leaning", 0.4), "near L": ("leaning", -0.4)})
    assert off["diagonals"][0] > 1.5 and off["diagonals"][1] < -1.5
    assert max(abs(c) for key in ("along", "across", "height") for c in off[key]) < 0.3


def test_a_trestle_that_leans_shows_in_the_last_check_alone():
    """All four legs turned the same way along the board: no other check sees it."""
    off = changes({f: ("turned", 0.4 * SEATS[f][0]) for f in FEET})
    # lines from A, C, B, D: feet A and D have gone out, B and C in
    assert [c > 1 for c in off["through"]] == [True, False, False, True]
    assert [c < -1 for c in off["through"]] == [False, True, True, False]
    # both feet of an end rise or sink a little with it
    assert max(abs(c) for key in ("diagonals", "along", "across") for c in off[key]) < 0.2 * max(off["through"])


def test_both_ends_alike_means_the_jig():
    """Every housing 1 mm too deep, as a wrong projection makes it: both ends narrower alike, the sides as they were."""
    off = changes(dict.fromkeys(FEET, ("deep", 1.0)))
    # each foot comes in by 1 mm square to the floor, of which sin 78 is across
    assert off["across"] == pytest.approx([-2 * sin(radians(78))] * 2, abs=1e-6)
    assert off["along"] == pytest.approx([0, 0], abs=1e-6)


def test_limits_hold_what_usual_errors_do():
    """Tape (0.5 mm up to a metre, 1 mm above) and the root of the squares of all usual errors, rounded up to 0.5 mm."""
    trestle = solve(DEMO)
    usual = usual_errors(trestle, DEMO_SHOP)
    # by hand: 2 x 0.1 mm over the slot's 90.491 mm, and over lugs 47 mm deep
    assert usual["turned"] * DEGREE == pytest.approx(0.2 / 90.491, rel=1e-4)
    assert usual["leaning"] * DEGREE == pytest.approx(0.2 / 47)
    for check in tape_checks(trestle, DEMO_SHOP):
        pair = (check.lines[0].start_name, check.lines[0].end_name)
        squares = sum(
            line_change_mm(trestle, pair, (Wrong(f, fault, usual[fault]),)) ** 2 for f in FEET for fault in FAULTS
        )
        tape = 1.0 if check.wanted_mm > 1000 else 0.5
        assert check.limit_mm - 0.5 < tape + squares**0.5 <= check.limit_mm
        assert check.limit_mm * 2 == int(check.limit_mm * 2)


def test_a_finer_machine_has_closer_limits():
    """And an inch job has them in 32nds of an inch."""
    fine = replace(DEMO_SHOP, machine=replace(DEMO_SHOP.machine, accuracy_mm=0.03))
    closer = [c.limit_mm for c in tape_checks(solve(DEMO), fine)]
    usual = [c.limit_mm for c in tape_checks(solve(DEMO), DEMO_SHOP)]
    assert all(a <= b for a, b in zip(closer, usual, strict=True)) and sum(closer) < sum(usual) - 3
    inches = [c.limit_mm / 25.4 * 32 for c in tape_checks(solve(replace(DEMO, unit="in")), DEMO_SHOP)]
    assert inches == pytest.approx([round(i) for i in inches])
