"""Screws against solids: every one in wood from head to tip, far from edges, feet and each other, on all four legs."""

from collections import Counter
from dataclasses import replace
from functools import cache
from math import cos, pi, radians, sin

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B, a_job
from trestle_on_solids import board, brace, directions, finished_leg, housing, leg_sides, random_valid_jobs

from jigmaker.geometry.segments import segment_gap
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, dot, length, scale, subtract, unit
from jigmaker.job.screw_sizes import gauge_mm, screw_sizes
from jigmaker.trestle.fixings import SEATS, fixings
from jigmaker.trestle.screw_places import brace_entry, brace_line
from jigmaker.trestle.solve import solve

INCHES = a_job(762, (76, 80), 127, (914.4, 139.7, 38.1), (76.2, 25.4), (101.6, 19.05), unit="in")
JOBS = [
    DEMO,
    JOB_A,
    JOB_B,
    INCHES,
    replace(DEMO, rake_deg=90.0),
    replace(DEMO, splay_deg=90.0),
    a_job(720, (84, 72), 120, (900, 130, 45), (70, 34), reveal=3.0),
    *[job for job in random_valid_jobs(seed=3, count=24) if not fixings(solve(job)).findings][:5],
]
PAIR = pytest.mark.parametrize("number", range(len(JOBS)))


def in_top(width, thickness, leg=(70, 32)):
    """The demo with another top board, and other legs."""
    return a_job(720, (78, 78), 120, (900, width, thickness), leg)


LEVEL, ONE, ONE_IN_THE_MIDDLE = in_top(120, 36), in_top(96, 36), in_top(120, 45, leg=(30, 32))
SPARSE = {"two at one height": LEVEL, "one": ONE, "one, short": in_top(81, 33), "one in the middle": ONE_IN_THE_MIDDLE}


def rod(screw, radius, start=0.0, end=None):
    """A 24-sided rod round the screw's line, from and to a depth below its head."""
    end = screw.length_mm if end is None else end
    side = unit(cross(screw.direction, (0.36, 0.48, 0.8)))
    other = cross(screw.direction, side)
    ring = [
        add(scale(side, radius * cos(radians(15 * k))), scale(other, radius * sin(radians(15 * k)))) for k in range(24)
    ]
    return Solid.hull([add(add(screw.at, scale(screw.direction, d)), p) for d in (start, end) for p in ring])


def ball(centre, radius):
    """Twelve points of a ball each way round, as a solid."""
    points = [
        (sin(radians(u)) * cos(radians(v)), sin(radians(u)) * sin(radians(v)), cos(radians(u)))
        for u in range(0, 181, 30)
        for v in range(0, 360, 30)
    ]
    return Solid.hull([add(centre, scale(p, radius)) for p in points])


def at_seat(solid, seat):
    for sign, normal in zip(seat, ((1, 0, 0), (0, 1, 0)), strict=True):
        solid = solid if sign == 1 else solid.mirrored(normal)
    return solid


@cache
def wood(number):
    """(board with its four housings, {seat: leg}, {seat: the brace of its end}), made once for each job."""
    job = JOBS[number]
    top = board(job)
    for seat in SEATS:
        top = top.minus(at_seat(housing(job), seat))
    return (
        top,
        {seat: at_seat(finished_leg(job), seat) for seat in SEATS},
        {seat: at_seat(brace(job), seat) for seat in SEATS},
    )


@cache
def found(number):
    return fixings(solve(JOBS[number]))


def outside(rod_, *solids):
    for solid in solids:
        rod_ = rod_.minus(solid)
    return rod_.volume


def test_the_jobs_have_full_patterns():
    """Sixteen screws each: two a leg, two an end of a brace, on each of the four legs."""
    assert len(JOBS) == 12
    for number in range(len(JOBS)):
        assert found(number).findings == ()
        counts = Counter((screw.seat, screw.joins) for screw in found(number).screws)
        assert counts == {(seat, joins): 2 for seat in SEATS for joins in ("leg to board", "brace to leg")}


@PAIR
def test_every_screw_is_in_wood_from_head_to_tip(number):
    """Leg screws in leg and board; brace screws in brace and leg, but for the gap of a flat brace."""
    top, legs, braces = wood(number)
    for screw in found(number).screws:
        radius = screw.diameter_mm / 2
        body = rod(screw, radius)
        if screw.joins == "leg to board":
            # the middle of a rod's side lies on the face it stands on; its rim is clear of it
            assert outside(body, legs[screw.seat], top) < 1e-3
            assert body.common(braces[screw.seat]).is_empty
        else:
            gap = solve(JOBS[number]).brace.gap_mm
            assert outside(body, braces[screw.seat], legs[screw.seat]) <= pi * radius**2 * gap + 1e-3
            assert body.common(top).is_empty


@PAIR
def test_a_leg_screw_keeps_12_mm_to_every_edge(number):
    """A rod of 12 mm round the line stays in the leg all the way through, and enters the board's edge wholly."""
    job = JOBS[number]
    top, legs, _ = wood(number)
    for screw in found(number).screws:
        if screw.joins == "leg to board":
            through = job.leg.thickness_mm
            assert outside(rod(screw, 11.999, 0.001, through - 0.001), legs[screw.seat]) < 1e-3
            assert outside(rod(screw, 11.999, through + 0.001, through + 0.002), top) < 1e-3


@PAIR
def test_a_leg_screw_is_square_to_the_floor_and_a_brace_screw_to_the_brace(number):
    """Directions from the job's keys alone."""
    job = JOBS[number]
    _, wide, _, raked = directions(job)
    for screw in found(number).screws:
        way = wide if screw.joins == "leg to board" else raked
        seated = (way[0] * screw.seat[0], way[1] * screw.seat[1], way[2])
        assert dot(screw.direction, seated) == pytest.approx(-1, abs=1e-12)


@PAIR
def test_tips_have_5_mm_of_wood_round_them_and_hold(number):
    """A ball round each tip stays in the piece that holds it; the screw is at least 25 mm in that piece."""
    top, legs, _ = wood(number)
    for screw in found(number).screws:
        holds = top if screw.joins == "leg to board" else legs[screw.seat]
        assert outside(ball(screw.tip, 4.999), holds) < 1e-3
        assert rod(screw, 1.0).common(holds).volume / rod(screw, 1.0).volume * screw.length_mm > 25 - 0.1


@PAIR
def test_no_two_screws_meet(number):
    """Every pair of rods, whichever legs they are in, leaves 5 mm of wood between."""
    screws = found(number).screws
    near = [s for s in screws if s.seat in ((1, 1), (1, -1))]
    bodies = [(s, rod(s, s.diameter_mm / 2)) for s in near]
    for k, (_, one) in enumerate(bodies):
        for _, other in bodies[k + 1 :]:
            assert one.gap(other, 50.0) >= 4.98
    assert all(s.at[0] * s.seat[0] > 100 for s in screws)  # the two ends are far apart


def test_screws_at_the_same_places_on_both_edges_would_meet():
    """The failing twin: the leg across the board marked as a mirror image, not as its neighbour."""
    leg = [s for s in fixings(solve(DEMO)).screws if s.seat == (1, 1) and s.joins == "leg to board"]
    gaps = [segment_gap((s.at, s.tip), tuple((x, -y, z) for x, y, z in (s.at, s.tip))) for s in leg]
    assert max(gaps) < 5


@PAIR
def test_nothing_of_metal_is_within_25_mm_of_a_foot(number):
    """The lowest point of every rod over the floor."""
    for screw in found(number).screws:
        low, _ = rod(screw, screw.diameter_mm / 2).bounds
        assert low[2] + JOBS[number].height_mm > 25


def screws_of(number, seat, joins):
    return {s.name: s for s in found(number).screws if (s.seat, s.joins) == (seat, joins)}


@PAIR
def test_marks_lead_to_the_leg_s_screws(number):
    """On the solid's corners: square to the head's line and to the named arris; both hands have the same two."""
    job = JOBS[number]
    _, wide, edge, _ = directions(job)
    heads = [p for p in finished_leg(job).corners if p[2] > -1e-6]
    outer = [p for p in heads if dot(p, wide) > max(dot(q, wide) for q in heads) - 1e-6]
    corner = {"near": max(outer, key=lambda p: dot(p, edge)), "far": min(outer, key=lambda p: dot(p, edge))}
    head_line = unit(subtract(corner["near"], corner["far"]))
    marks = {(mark.hand, mark.name): (mark.from_head_mm, mark.from_edge_mm) for mark in found(number).legs.marks}
    assert all(marks["R", name] == figures for (hand, name), figures in marks.items() if ("R", name) in marks)
    for mark in found(number).legs.marks:
        screw = screws_of(number, {"R": (1, 1), "L": (1, -1)}[mark.hand], "leg to board")[mark.name]
        from_corner = subtract((screw.at[0], abs(screw.at[1]), screw.at[2]), corner[mark.edge])
        assert length(cross(from_corner, head_line)) == pytest.approx(mark.from_head_mm, abs=1e-6)
        assert abs(dot(from_corner, edge)) == pytest.approx(mark.from_edge_mm, abs=1e-6)
        assert dot(from_corner, wide) == pytest.approx(0, abs=1e-6)
        # To someone who looks along -y at the +y leg, +x is at the left; on the -y leg it is at the right.
        is_left = (mark.edge == "near") == (mark.hand == "R")
        assert mark.side == ("left" if is_left else "right") == {"upper": "left", "lower": "right"}[mark.name]


@PAIR
def test_marks_lead_to_the_brace_s_screws(number):
    """On the solid's corners: square to the end line and to the top edge, in the brace's outer face."""
    job = JOBS[number]
    raked = directions(job)[3]
    ends = [p for p in brace(job).corners if p[1] > 0]
    face = max(dot(p, raked) for p in ends)
    low, high = sorted((p for p in ends if dot(p, raked) > face - 1e-6), key=lambda p: p[2])
    line = unit(subtract(high, low))
    screws = screws_of(number, (1, 1), "brace to leg")
    for mark in found(number).braces.marks:
        from_top = subtract(screws[mark.name].at, high)
        assert length(cross(from_top, line)) == pytest.approx(mark.from_end_mm, abs=1e-6)
        assert length(cross(from_top, (0, 1, 0))) == pytest.approx(mark.from_top_mm, abs=1e-6)
        assert dot(from_top, raked) == pytest.approx(0, abs=1e-6)


@PAIR
def test_brace_screws_keep_12_mm_to_the_edges_of_brace_and_leg(number):
    """A rod of 12 mm round the line stays in the brace, and meets the leg's edge in its middle."""
    job = JOBS[number]
    _, _, braces = wood(number)
    outer = leg_sides(job)[0]
    for screw in found(number).screws:
        if screw.joins == "brace to leg":
            assert outside(rod(screw, 11.99, 0.001, 0.002), braces[screw.seat]) < 1e-2
    for screw in (s for s in found(number).screws if s.seat == (1, 1) and s.joins == "brace to leg"):
        behind = add(screw.at, scale(screw.direction, job.brace.thickness_mm))
        beside = dot(subtract(outer[0], behind), outer[1])
        assert beside + 1 >= 12 and abs(beside - job.leg.thickness_mm / 2) < 1.7


CAUTIONS = [
    # what is changed in the demo, code, words
    ({"top": (900, 120, 30)}, 421, "no screw through a leg finds wood enough in the board"),
    ({"leg": (70, 13), "top": (900, 120, 23), "angles": (78, 88)}, 422, "keep only 10.5 mm to an edge, 12 mm is usual"),
    ({"top": (900, 88, 45)}, 423, "opposite ones leave no more room"),
    ({"leg": (30, 32)}, 424, "a leg 30 mm wide has room for one screw only"),
    ({"top": (900, 96, 36)}, 424, "only one screw a leg finds wood enough"),
    ({"brace": (20, 18)}, 425, "no screw through the brace finds wood enough"),
    ({"leg": (70, 20), "angles": (78, 84)}, 426, "a brace's screws keep only"),
    ({"leg": (29, 32)}, 427, "into a leg"),
    ({"brace": (30, 10)}, 428, "one screw only"),
]


@pytest.mark.parametrize(("changed", "code", "words"), CAUTIONS, ids=[str(row[1]) for row in CAUTIONS])
def test_what_gives_way_is_said(changed, code, words):
    """Never an error: a pattern gives way, and a caution says which rule."""
    plain = {"height": 720, "angles": (78, 78), "inset": 120, "top": (900, 120, 45), "leg": (70, 32)}
    job = a_job(**(plain | changed))
    said = {finding.code: finding for finding in fixings(solve(job)).findings}
    assert words in said[code].sentence()
    assert {finding.severity for finding in said.values()} == {"caution"}


def test_a_leg_that_takes_one_screw_has_it_at_different_heights_across_the_board():
    """In the middle of the leg, high on an R leg and low on an L leg."""
    job = a_job(720, (78, 78), 120, (900, 120, 45), (30, 32))
    screws = [s for s in fixings(solve(job)).screws if s.joins == "leg to board"]
    assert len(screws) == 4
    by_seat = {s.seat: s for s in screws}
    assert by_seat[1, 1].at[2] - by_seat[1, -1].at[2] > 9


@pytest.mark.parametrize("name", SPARSE)
def test_where_two_heights_find_no_room_fewer_do(name):
    """In wood from head to tip, 5 mm of wood round the tip and between any two; marks the same for R and L."""
    job = SPARSE[name]
    top, made = board(job), fixings(solve(job))
    for seat in SEATS:
        top = top.minus(at_seat(housing(job), seat))
    screws = [screw for screw in made.screws if screw.joins == "leg to board"]
    assert len(screws) == (8 if job is LEVEL else 4)
    for screw in screws:
        body = rod(screw, screw.diameter_mm / 2)
        assert outside(body, at_seat(finished_leg(job), screw.seat), top) < 1e-3
        assert outside(ball(screw.tip, 4.999), top) < 1e-3
        others = [rod(s, s.diameter_mm / 2) for s in screws if s is not screw and s.seat[0] == screw.seat[0]]
        assert all(body.gap(other, 50.0) >= 4.98 for other in others)
    hands = {hand: [m for m in made.legs.marks if m.hand == hand] for hand in "RL"}
    told = [{(m.side, m.from_head_mm, m.from_edge_mm) for m in marks} for marks in hands.values()]
    assert (told[0] == told[1]) is (job is not ONE_IN_THE_MIDDLE)


def test_two_screws_at_one_height_are_five_diameters_apart_along_the_grain():
    """EN 1995-1-1 table 8.2, drilled, along the grain, from memory: (4 + |cos a|) d. Too narrow legs have one screw."""
    screws = [s for s in fixings(solve(LEVEL)).screws if (s.seat, s.joins) == ((1, 1), "leg to board")]
    assert len({round(s.at[2], 9) for s in screws}) == 1
    assert abs(screws[0].at[0] - screws[1].at[0]) >= 5 * screws[0].diameter_mm
    narrow = fixings(solve(in_top(120, 36, leg=(40, 32))))
    assert len(narrow.legs.marks) == 2 and narrow.legs.marks[0].side == narrow.legs.marks[1].side == "left"


@pytest.mark.parametrize(("width", "count"), [(50.5, 2), (50.0, 1)])
def test_the_narrowest_leg_that_takes_two_at_one_height(width, count):
    """Both 13 mm from an edge (a quarter of the leg, in whole mm): 24.5 and 24 mm lie between them across the leg, and
    level, along the board's grain, that over sin 78.25: 25.02 and 24.51. Five diameters of a 5 mm screw are 25.
    """
    made = fixings(solve(in_top(120, 36, leg=(width, 32))))
    assert [mark.from_edge_mm for mark in made.legs.marks] == [13.0] * 2 * count
    assert made.legs.size.diameter_mm == 5.0


@pytest.mark.parametrize(("depth", "places"), [(24.0, [12.0]), (23.9, [])])
def test_the_narrowest_brace_that_takes_a_screw(depth, places):
    """12 mm to either long edge: a brace of 24 mm has it in the middle. Upright, it has no bevel that takes of that."""
    upright = replace(DEMO, rake_deg=90.0, brace=replace(DEMO.brace, depth_mm=depth))
    braces = fixings(solve(upright)).braces
    assert [mark.from_top_mm for mark in (braces.marks if braces else ())] == places


@pytest.mark.parametrize("thickness", [60, 75, 90])
def test_screws_enter_no_farther_apart_than_quarters_of_a_thick_board(thickness):
    """The middles of its two halves, to a millimetre: farther apart the arrises of the board are near, and wood that
    swells between two screws splits (common practice, no source).
    """
    job = in_top(160, thickness)
    screws = [screw for screw in fixings(solve(job)).screws if screw.joins == "leg to board"]
    depths = [-add(screw.at, scale(screw.direction, job.leg.thickness_mm))[2] for screw in screws]
    assert thickness / 4 <= min(depths) and max(depths) <= thickness * 3 / 4
    assert thickness * 3 / 4 - max(depths) < 1.0


def test_heights_of_the_pattern_lie_within_those_of_another_rule():
    """12 mm along the leg and 10 mm of board over the screw where it enters; 6 mm of board under a tip 25 mm in it.

    Common practice, no source; worked out by hand: 11.75 to 27.76 mm from the head's line for the demo.
    """
    for job, least, most in ((DEMO, 11.749, 27.756), (JOB_A, 11.892, 39.258), (JOB_B, 11.617, 21.266)):
        heights = sorted({mark.from_head_mm for mark in fixings(solve(job)).legs.marks})
        assert len(heights) == 2 and least <= heights[0] < heights[1] - 6 and heights[1] <= most


def test_screws_are_of_sizes_that_are_sold():
    """Gauge numbers in inches (ASME B18.6.1, from memory: No 8 is 0.164, No 10 is 0.190), pilots under the core."""
    assert gauge_mm(8) / 25.4 == pytest.approx(0.164) and gauge_mm(10) / 25.4 == pytest.approx(0.190)
    assert fixings(solve(DEMO)).legs.size.name == "5.0 × 70"
    assert fixings(solve(INCHES)).legs.size.name == 'No 8 × 2 1/4"'
    # DIN 7998, from memory: core of 3.5, 4.0, 4.5, 5.0 and 6.0 mm wood screws
    cores = {3.5: 2.4, 4.0: 2.8, 4.5: 3.1, 5.0: 3.5, 6.0: 4.2}
    for thickness in (12, 18, 25, 32, 50):
        for size in screw_sizes(thickness, "mm"):
            assert size.pilot_mm <= size.hardwood_pilot_mm < cores[size.diameter_mm] + 0.05
            assert size.diameter_mm < size.clearance_hole_mm <= size.diameter_mm + 0.5
    # Drill charts of the trade, common practice, no source: 3/32 in to 7/64 in under No 8 and No 10; 11/64, 13/64 over
    eight, ten = screw_sizes(20, "in")[0], screw_sizes(30, "in")[0]
    assert (eight.clearance_hole_mm / 25.4 * 64, ten.clearance_hole_mm / 25.4 * 64) == pytest.approx((11, 13))
    assert (eight.hardwood_pilot_mm / 25.4 * 64, ten.hardwood_pilot_mm / 25.4 * 64) == pytest.approx((6, 7))


SEGMENTS = [
    (((0, 0, 0), (10, 0, 0)), ((5, -5, 3), (5, 5, 3)), 3.0),
    (((0, 0, 0), (10, 0, 0)), ((14, 3, 0), (14, 9, 0)), 5.0),
    (((0, 0, 0), (10, 0, 0)), ((3, 4, 0), (7, 4, 0)), 4.0),
    (((0, 0, 0), (10, 0, 0)), ((5, -1, 0), (5, 1, 0)), 0.0),
    (((0, 0, 0), (10, 0, 0)), ((-3, 0, 4), (-9, 0, 4)), 5.0),
]


@pytest.mark.parametrize(("one", "other", "gap"), SEGMENTS)
def test_the_distance_of_two_segments(one, other, gap):
    """Inside both, at an end, parallel, crossing; either way round."""
    assert segment_gap(one, other) == pytest.approx(gap)
    assert segment_gap(other, one) == pytest.approx(gap)


@pytest.mark.parametrize("width", [70, 30])
def test_a_dry_leg_has_one_screw(width: float) -> None:
    """One for each leg, so that it can be undone, wide or narrow; the glued one has what it had."""
    job = replace(DEMO, leg=replace(DEMO.leg, width_mm=width))
    glued, dry = (fixings(solve(replace(job, housing=replace(job.housing, joint=kind)))) for kind in ("glued", "dry"))
    counted = [sum(screw.joins == "leg to board" for screw in found.screws) for found in (glued, dry)]
    assert counted == [8 if width == 70 else 4, 4]
    assert {screw.seat for screw in dry.screws} == {screw.seat for screw in glued.screws}
    assert 424 not in [finding.code for finding in dry.findings]


@PAIR
def test_a_braces_screw_meets_the_leg_in_its_near_edge(number):
    """Behind the brace, in the plane of the edge as the job's keys give it, straight in from where it was marked."""
    line = brace_line(solve(JOBS[number]), 30.0, 12.0)
    start, edge = leg_sides(JOBS[number])[2]
    way = subtract(brace_entry(solve(JOBS[number]), line), line.head)
    assert dot(subtract(add(line.head, way), start), edge) == pytest.approx(0, abs=1e-6)
    assert unit(way) == pytest.approx(line.direction) and length(way) >= JOBS[number].brace.thickness_mm - 1e-6


@pytest.mark.parametrize("thick", [18.0, 20.0, 22.0])
def test_in_a_thin_leg_a_braces_screw_is_marked_to_tenths_of_a_millimetre(thick):
    """As a vernier is set, no finer: where no place has 12 mm of wood beside it, the best one is not a round figure."""
    made = fixings(solve(replace(DEMO, leg=replace(DEMO.leg, thickness_mm=thick))))
    tenths = [mark.from_end_mm * 10 for mark in made.braces.marks]
    assert tenths == pytest.approx([round(number) for number in tenths], abs=1e-6)
