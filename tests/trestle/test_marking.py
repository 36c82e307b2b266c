"""Marking by hand against solids: every line between the housing's corners, and what one bevel leaves, in wood."""

from dataclasses import replace
from functools import cache
from math import cos, radians, sin, tan

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B
from trestle_on_solids import arris_point, board, cut, directions, farthest, finished_leg, housing, leg_sides

from jigmaker.geometry.vectors import add, cross, dot, scale, unit
from jigmaker.trestle.marking import marking, single_bevel
from jigmaker.trestle.solve import solve

REVEALED = replace(JOB_A, housing=replace(JOB_A.housing, reveal_mm=4.0))
LOOSE = replace(DEMO, rake_deg=86.0, housing=replace(DEMO.housing, clearance_mm=0.8))
PLUMB = [replace(DEMO, rake_deg=90.0), replace(DEMO, splay_deg=90.0)]
JOBS = [DEMO, JOB_A, JOB_B, REVEALED, LOOSE, *PLUMB]
ALL = pytest.mark.parametrize("job", JOBS)


def hand_sawn(job, far_moved=0.0, normal=None):
    """The housing with both walls parallel to one plane, by the marks on the top arris; far wall moved on by hand."""
    raked = directions(job)[3]
    normal = normal or raked
    corners = [p for p in housing(job).corners if p[1] > job.top.width_mm / 2 - 1e-6 and p[2] > -1e-6]
    near = max(corners)
    far = add(min(corners), (-far_moved, 0.0, 0.0))
    inner = leg_sides(job)[1]
    return cut(board(job), inner, (near, normal), (far, scale(normal, -1)))


@cache
def pushed_leg(job):
    """The leg with its near edge against a hand-sawn near wall on the top arris: clearance all at the far wall."""
    start = max(p[0] for p in housing(job).corners if p[1] > job.top.width_mm / 2 - 1e-6 and p[2] > -1e-6)
    return finished_leg(job).moved((start - arris_point(job)[0], 0.0, 0.0))


def jammed(leg, job, wood_less):
    """Volume of the leg that is still in the board's wood."""
    return leg.common(board(job).minus(wood_less)).volume


def by_place(lines):
    return {(line.face, line.end, line.wall): line for line in lines}


def ends_on_solid(job, line):
    """Where the line starts and ends on the housing of the -x end: distances from the -x end of the board."""
    half = job.top.length_mm / 2
    solid = housing(job)  # of the +x end: the nearer end is at +half
    z = -job.top.thickness_mm if line.face == "bottom face" else 0.0
    toward = 1 if line.wall == "near" else -1

    def at(is_on_edge, z):
        points = [p for p in solid.corners if abs(p[2] - z) < 1e-6]
        edge_y = job.top.width_mm / 2 - 1e-6
        points = [p for p in points if (p[1] > edge_y) == is_on_edge]
        return half - toward * max(toward * p[0] for p in points)

    if line.face == "edge":
        return at(True, 0.0), at(True, -job.top.thickness_mm)
    return at(True, z), at(False, z)


@ALL
def test_every_exact_line_runs_between_corners_of_the_housing(job):
    """From the datum end and, mirrored, from the other end."""
    length = job.top.length_mm
    for line in marking(solve(job)).exact:
        if line.wall == "floor":
            continue
        start, end = ends_on_solid(job, line)
        if line.end == "other end":
            start, end = length - start, length - end
        assert (line.from_datum_mm, line.to_datum_mm) == pytest.approx((start, end), abs=1e-6), line


@ALL
def test_angles_of_lines_are_those_between_their_ends(job):
    """Off its arris, from its own ends: down an edge over the board's thickness, into a face over the depth."""
    found = marking(solve(job))
    for line in found.exact + found.with_one_bevel:
        if line.wall == "floor":
            continue
        over = job.top.thickness_mm if line.face == "edge" else line.depth_mm
        aside = abs(line.to_datum_mm - line.from_datum_mm)
        assert aside == pytest.approx(over / tan(radians(line.angle_deg)) if line.angle_deg != 90 else 0, abs=1e-6)
        assert (line.leans == "square across") == (line.angle_deg == 90)
        if aside > 1e-6:  # toward the nearer end on an edge, toward the middle on a face
            toward_datum = line.to_datum_mm < line.from_datum_mm
            assert toward_datum == ((line.face == "edge") == (line.end == "datum end"))


@ALL
def test_gauges_reach_the_floor(job):
    """Depths in both faces from the solid's corners; floor lines run from wall to wall."""
    found = marking(solve(job))
    for gauge, z in zip(found.gauges, (0.0, -job.top.thickness_mm), strict=True):
        ys = [p[1] for p in housing(job).corners if abs(p[2] - z) < 1e-6]
        assert gauge.depth_mm == pytest.approx(max(ys) - min(ys), abs=1e-6)
        for end in ("datum end", "other end"):
            floor = by_place(found.exact)[gauge.face, end, "floor"]
            walls = [by_place(found.exact)[gauge.face, end, wall] for wall in ("near", "far")]
            assert [floor.from_datum_mm, floor.to_datum_mm] == pytest.approx([wall.to_datum_mm for wall in walls])
            assert floor.depth_mm == gauge.depth_mm


def test_three_angles_for_three_places():
    """Demo, as published with the geometry of such legs: 78.505 on the edge, 87.525 on both faces, 78 sawn square.

    tan of the edge line is tan 78 / sin2 78; tan of the face line's twist is cot 78 sin 78 cos 78, summed by hand.
    """
    found = marking(solve(DEMO))
    edge, face, rake = found.bevels
    assert tan(radians(edge.angle_deg)) == pytest.approx(tan(radians(78)) / sin(radians(78)) ** 2)
    assert tan(radians(90 - face.angle_deg)) == pytest.approx(cos(radians(78)) ** 2)
    assert (edge.angle_deg, face.angle_deg, rake.angle_deg) == pytest.approx((78.5046, 87.5248, 78), abs=1e-4)
    assert [line.step for line in found.exact] == sorted(line.step for line in found.exact)
    assert [len(found.exact), len(found.with_one_bevel)] == [16, 16]


@ALL
def test_one_bevel_s_lines_are_those_of_a_hand_sawn_housing(job):
    """Corners of the housing that a plane at the rake, square across the board, cuts by the same marks."""
    solid = hand_sawn(job)
    lines = by_place(marking(solve(job)).with_one_bevel)
    half = job.top.length_mm / 2
    bottom = [p for p in solid.corners if p[2] < 1e-6 - job.top.thickness_mm]
    found = {"near": half - max(p[0] for p in bottom), "far": half - min(p[0] for p in bottom)}
    for wall, start in found.items():
        assert lines["edge", "datum end", wall].to_datum_mm == pytest.approx(start, abs=1e-6)
        assert lines["bottom face", "datum end", wall].from_datum_mm == pytest.approx(start, abs=1e-6)
        assert lines["bottom face", "datum end", wall].to_datum_mm == pytest.approx(start, abs=1e-6)


@ALL
def test_the_gap_at_the_near_wall_is_the_wood_s(job):
    """Leg pushed to the near wall: nothing on the top arris, more on the bottom arris, most along the floor."""
    left = single_bevel(solve(job))
    low, edge_y = -job.top.thickness_mm, job.top.width_mm / 2
    walls = [p for p in hand_sawn(job).corners if p[0] > arris_point(job)[0] - job.leg.width_mm / 2]
    leg = [p for p in pushed_leg(job).common(board(job)).corners if p[0] > arris_point(job)[0] - job.leg.width_mm / 2]
    places = ((0.0, True, 0.0), (low, True, left.gap_bottom_mm), (0.0, False, left.gap_floor_mm))
    for z, is_on_edge, gap in (*places, (low, False, left.gap_floor_mm)):
        wall, edge = (
            max(p[0] for p in points if abs(p[2] - z) < 1e-6 and (p[1] > edge_y - 1e-6) == is_on_edge)
            for points in (walls, leg)
        )
        assert wall - edge == pytest.approx(gap, abs=1e-6)  # the wall stands nearer to the board's end


@ALL
def test_the_leg_goes_in_when_the_far_line_is_moved_on(job):
    """By the jam it goes in, by a hair less it does not; where clearance takes the jam, nothing is moved."""
    jam = single_bevel(solve(job)).jam_mm
    leg = pushed_leg(job)
    assert jammed(leg, job, hand_sawn(job, far_moved=jam + 1e-6)) < 1e-2
    if jam:
        assert jammed(leg, job, hand_sawn(job, far_moved=jam - 0.02)) > 0.05
    assert (jam == 0) == (job in (LOOSE, *PLUMB))


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B, REVEALED])
def test_the_leg_goes_in_when_its_far_edge_is_eased(job):
    """Planed from nothing at the reveal to `ease` at the inner arris, in a housing without clearance."""
    job = replace(job, housing=replace(job.housing, clearance_mm=0.0))
    left = single_bevel(solve(job))
    down, wide, edge, _ = directions(job)
    far = leg_sides(job)[3][0]
    start = add(far, scale(wide, -dot(add(far, scale(leg_sides(job)[0][0], -1)), wide) - job.housing.reveal_mm))
    for ease, fits in ((left.ease_mm + 1e-6, True), (left.ease_mm - 0.02, False)):
        depth = job.leg.thickness_mm - job.housing.reveal_mm
        slope = add(scale(wide, -depth), scale(edge, ease))
        plane = cross(slope, down)
        plane = unit(plane if dot(plane, edge) < 0 else scale(plane, -1))
        eased = cut(finished_leg(job), (start, plane))
        assert (jammed(eased, job, hand_sawn(job)) < 1e-2) == fits


@ALL
def test_lines_slanted_on_the_faces_leave_little(job):
    """Walls through an edge line at the rake and face lines slanted by tau: on the bottom arris what is told."""
    left = single_bevel(solve(job))
    a, slant = radians(job.rake_deg), radians(left.slant_deg)
    normal = unit(cross((cos(a), 0.0, -sin(a)), (-sin(slant), -cos(slant), 0.0)))
    normal = normal if normal[0] > 0 else scale(normal, -1)
    low, edge_y = -job.top.thickness_mm, job.top.width_mm / 2
    slanted = hand_sawn(job, normal=normal)

    def bottom(solid, is_on_edge):
        return max(p[0] for p in solid.corners if abs(p[2] - low) < 1e-6 and (p[1] > edge_y - 1e-6) == is_on_edge)

    for is_on_edge in (True, False):
        off = bottom(slanted, is_on_edge) - bottom(housing(job), is_on_edge)
        assert off == pytest.approx(left.slant_left_mm, abs=1e-6)
    top = [farthest([p for p in s.corners if p[2] > -1e-6], (0, -1, 0), (1, 0, 0)) for s in (slanted, housing(job))]
    assert top[0] == pytest.approx(top[1], abs=1e-6)  # on the top face nothing is left


def test_figures_of_the_demo_summed_by_hand():
    """Gap at the floor 32.7149 x tan 2.4752 deg = 1.4142; on the bottom arris 45 cot 78 cos2 78 = 0.4135."""
    left = single_bevel(solve(DEMO))
    assert left.gap_floor_mm == pytest.approx(32.7149 * 0.0432273, abs=1e-4)
    assert left.gap_bottom_mm == pytest.approx(45 * 0.2125566 * 0.0432273, abs=1e-5)
    # both lines of the bottom arris, 110.8484 and 110.4349 without clearance, lie that far apart
    assert left.gap_bottom_mm == pytest.approx(110.84843 - 110.43495, abs=1e-4)
    assert left.ease_mm == pytest.approx(1.4142 * sin(radians(78.25487)), abs=1e-4)


@ALL
def test_each_line_on_a_face_says_where_it_begins(job):
    """On the bottom face where the line on the edge has ended, on the top face where that one has begun too."""
    trestle = solve(job)
    for lines in (marking(trestle).exact, marking(trestle).with_one_bevel):
        on_edge = {(line.end, line.wall): line for line in lines if line.face == "edge" and line.wall != "floor"}
        for line in (line for line in lines if line.face != "edge" and line.wall != "floor"):
            edge = on_edge[line.end, line.wall]
            if line.why.startswith("from the end"):
                assert line.face == "bottom face" and line.from_datum_mm == pytest.approx(edge.to_datum_mm)
            else:
                assert line.face == "top face" and line.from_datum_mm == pytest.approx(edge.from_datum_mm)
