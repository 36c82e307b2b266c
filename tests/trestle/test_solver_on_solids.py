"""The solver against solids cut by planes from the job's keys alone: every field of every record, random jobs."""

from dataclasses import asdict, fields, replace
from math import cos, radians, sin

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B, a_job
from trestle_on_solids import (
    directions,
    finished_leg,
    leg_as_cut,
    measured_angles,
    measured_brace,
    measured_foot,
    measured_housing,
    measured_leg,
    named_corners,
    random_valid_jobs,
)

from jigmaker.geometry.vectors import cross, dot, length, scale, subtract
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.solve import solve

NEAR_MM = 1e-6
NEAR_MM3 = 1e-3  # a surface of 2e4 mm2 moved by half a NEAR_MM
NEAR_DEG = 1e-7

PLUMB = [
    a_job(720, angles, 120, (900, 120, 45), (70, 32), reveal=reveal)
    for angles in ((90, 90), (90, 72), (72, 90))
    for reveal in (0.0, 3.0)
]
JOBS = [DEMO, JOB_A, JOB_B, *PLUMB, *random_valid_jobs(seed=19, count=111)]
MEASURED = {
    "angles": (measured_angles, NEAR_DEG),
    "leg": (measured_leg, NEAR_MM),
    "housing": (measured_housing, NEAR_MM),
    "brace": (measured_brace, NEAR_MM),
    "foot": (measured_foot, NEAR_MM),
}


def test_the_jobs_are_as_various_as_they_should_be():
    """A third have rake and splay 5 degrees or more apart, some are plumb, some have a reveal, none is at fault."""
    apart = [job for job in JOBS if abs(job.rake_deg - job.splay_deg) >= 5]
    assert len(JOBS) >= 100 and len(apart) >= len(JOBS) / 3
    assert sum(90 in (job.rake_deg, job.splay_deg) for job in JOBS) > 10
    assert sum(job.housing.reveal_mm > 5 for job in JOBS) > 10
    assert not [f for job in JOBS for f in check_trestle(solve(job)) if f.severity == "error"]


@pytest.mark.parametrize("number", range(len(JOBS)))
def test_every_field_is_what_the_solids_measure(number):
    """Each record's fields, by enumeration: one that no solid measures fails here."""
    job = JOBS[number]
    trestle = solve(job)
    off = {}
    for name, (measure, near) in MEASURED.items():
        figures, solved = measure(job), asdict(getattr(trestle, name))
        assert set(figures) == set(solved)
        for key, value in solved.items():
            within = NEAR_MM3 if key == "volume_mm3" else near
            if not abs(value - figures[key]) <= within:
                off[key] = (value, figures[key])
    assert not off, job


def test_every_record_of_a_trestle_is_measured():
    """A record added to the trestle must get its measure."""
    assert set(MEASURED) == {field.name for field in fields(solve(DEMO))} - {"job"}


@pytest.mark.parametrize("number", range(len(JOBS)))
def test_leg_corners_are_the_solid_s(number):
    """Eight corners in the stated order, and the three directions of the leg."""
    job = JOBS[number]
    trestle = solve(job)
    at = named_corners(finished_leg(job), job)
    order = [("outer", "near"), ("outer", "far"), ("inner", "far"), ("inner", "near")]
    wanted = [at[side, way, end] for end in ("head", "foot") for side, way in order]
    for corner, expected in zip(leg_corners(trestle), wanted, strict=True):
        assert corner == pytest.approx(expected, abs=NEAR_MM)
    for way, expected in zip(leg_directions(trestle), directions(job)[:3], strict=True):
        assert way == pytest.approx(expected, abs=1e-12)


SAW = {
    # which face lies down: (where "down" points for the +x +y leg, mitre, tilt, the way the far end of the cut swings)
    "wide": (1, "saw_mitre_deg", "saw_tilt_deg", 1),
    "narrow": (2, "saw_mitre_on_edge_deg", "saw_tilt_on_edge_deg", -1),
}


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B])
@pytest.mark.parametrize("lying", SAW)
def test_the_saw_picture_is_the_solid_s(job, lying):
    """Head to the left, outer wide face or near narrow edge down: the plane of the printed cut is the leg's end."""
    face, mitre_key, tilt_key, swing = SAW[lying]
    right, down = directions(job)[0], directions(job)[face]
    up, far = scale(down, -1), cross(scale(down, -1), right)
    mitre = swing * getattr(solve(job).angles, mitre_key)
    tilt = getattr(solve(job).angles, tilt_key)
    # On the table: x to the right, toward the foot; y away from the sawyer; z up. The blade's top leans to the left.
    kerf = (sin(radians(mitre)), cos(radians(mitre)), 0.0)
    square_to_kerf = (-cos(radians(mitre)), sin(radians(mitre)), 0.0)
    blade = tuple(
        sin(radians(tilt)) * s + cos(radians(tilt)) * u for s, u in zip(square_to_kerf, (0, 0, 1), strict=True)
    )
    head = [p for (_, _, end), p in named_corners(finished_leg(job), job).items() if end == "head"]
    for corner in head[1:]:
        on_table = tuple(dot(subtract(corner, head[0]), axis) for axis in (right, far, up))
        assert dot(on_table, cross(kerf, blade)) == pytest.approx(0, abs=NEAR_MM)


def at_other_end(p):
    """The mirror image at the other end of the board."""
    return (-p[0], p[1], p[2])


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B, JOBS[12]])
def test_a_leg_turned_end_for_end_is_the_leg_of_the_other_hand(job):
    """With its other wide face out it fills the place of its mirror image corner for corner: the leg has no hand."""
    corners = leg_as_cut(job).corners
    down, wide, edge, _ = directions(job)
    centre = tuple(sum(c) / 8 for c in zip(*corners, strict=True))
    # Where the leg's own directions go: its foot up the mirrored leg, its outer face in, its near edge to the far side.
    turned = [scale(at_other_end(way), -1) for way in (down, wide, edge)]
    assert dot(cross(turned[0], turned[1]), turned[2]) == pytest.approx(dot(cross(down, wide), edge))  # no mirror
    for corner in corners:
        a, b, c = (dot(subtract(corner, centre), way) for way in (down, wide, edge))
        placed = [m + a * u + b * v + c * w for m, u, v, w in zip(at_other_end(centre), *turned, strict=True)]
        assert min(length(subtract(placed, at_other_end(p))) for p in corners) < NEAR_MM


@pytest.mark.parametrize("number", range(9, 29))
def test_the_judge_tells_rake_from_splay(number):
    """The failing twin: solved with rake and splay changed over, every group of figures is off."""
    job = JOBS[number]
    if abs(job.rake_deg - job.splay_deg) < 1:
        job = replace(job, rake_deg=70.0, splay_deg=80.0)
    swapped = solve(replace(job, rake_deg=job.splay_deg, splay_deg=job.rake_deg))
    for name, (measure, near) in MEASURED.items():
        solved = asdict(getattr(swapped, name))
        assert [key for key, figure in measure(job).items() if abs(figure - solved[key]) > 1e3 * near], name


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B, *PLUMB[1:3]])
def test_a_row_of_legs_is_sawn_from_one_board(job):
    """Shifted along the board by along_per_leg, a leg's head lies on the foot of the one before."""
    at = named_corners(leg_as_cut(job), job)
    shift = scale(directions(job)[0], solve(job).leg.along_per_leg_mm)
    for side in ("outer", "inner"):
        for way in ("near", "far"):
            head = tuple(p + s for p, s in zip(at[side, way, "head"], shift, strict=True))
            assert head == pytest.approx(at[side, way, "foot"], abs=NEAR_MM)
