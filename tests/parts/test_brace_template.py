"""The brace template against braces cut from solid by planes, straight from the job's keys."""

from dataclasses import replace
from functools import cache
from math import atan2, ceil, degrees, dist

import pytest
import shapely
from marks_on_parts import mark_faults, measured, unmeasured
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B
from trestle_on_solids import brace, directions, finished_leg, random_valid_jobs

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Outline
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import cross, dot, scale
from jigmaker.parts.bevel_flanks import share_flanks, wanted_uses
from jigmaker.parts.bevel_plate import bevel_plates
from jigmaker.parts.brace_template import brace_template_parts, check_brace_template, notch_of
from jigmaker.trestle.solve import solve

PLUMB = {
    f"{rake}/{splay}": replace(DEMO, rake_deg=float(rake), splay_deg=float(splay))
    for rake, splay in ((60, 60), (90, 78), (78, 90), (90, 90))
}
PROUD = replace(DEMO, housing=replace(DEMO.housing, reveal_mm=4.0))
JOBS = {"demo": DEMO, "a": JOB_A, "b": JOB_B, "proud": PROUD, "inch": replace(DEMO, unit="in"), **PLUMB}
MANY_JOBS = JOBS | {f"random {i}": job for i, job in enumerate(random_valid_jobs(seed=31, count=20))}


@cache
def template(name, length=600.0, width=400.0):
    """The template on a bed of this size, None when there is none."""
    parts = brace_template_parts(solve(MANY_JOBS[name]), on_bed(length, width))
    return parts[0] if parts else None


def on_bed(length, width):
    return replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=length, width_mm=width))


def face_frame(job):
    """The inside face of the +x brace: x across the board, y up the brace, z out of it toward the board's end."""
    raked = directions(job)[3]
    up = cross(raked, (0.0, 1.0, 0.0))
    up = up if up[2] > 0 else scale(up, -1)
    inside = min(brace(job).corners, key=lambda p: dot(p, raked))
    lowest = min(dot(p, up) for p in brace(job).corners if dot(p, raked) < dot(inside, raked) + 1e-6)
    origin = [dot(inside, raked) * r + lowest * u for r, u in zip(raked, up, strict=True)]
    return Frame(tuple(origin), cross(up, raked), up, raked)


def inside_face(job):
    """The outline of the brace's face that looks to the middle of the trestle, as a polygon in the face."""
    frame = face_frame(job)
    flat = [frame.inside(p) for p in brace(job).corners]
    return shapely.MultiPoint([p[:2] for p in flat if abs(p[2]) < 1e-6]).convex_hull


def drawn(part, shift):
    """The brace as the template shows it: a notch in the bottom edge is no part of it."""
    return shapely.affinity.translate(shapely.Polygon(part.outline.points()).convex_hull, shift)


@pytest.mark.parametrize("name", MANY_JOBS)
def test_the_template_is_the_braces_inside_face(name):
    """Corner by corner within 1e-6 mm, the template's middle on the trestle's."""
    wanted, part = inside_face(MANY_JOBS[name]), template(name, 3000.0, 1500.0)
    found = drawn(part, -part.outline.bounds[2] / 2)
    assert len(wanted.exterior.coords) == len(found.exterior.coords) == 5
    for one, other in ((wanted, found), (found, wanted)):
        corners = shapely.MultiPoint(other.exterior.coords)
        assert max(shapely.Point(p).distance(corners) for p in one.exterior.coords) < 1e-6


@pytest.mark.parametrize("name", JOBS)
def test_the_face_shown_is_the_one_that_touches_the_legs(name):
    """Pushed 0.1 toward the middle the brace meets both legs, pushed away neither."""
    job = JOBS[name]
    raked, one_leg = directions(job)[3], finished_leg(job)
    legs = one_leg.plus(one_leg.mirrored((0, 1, 0)))
    touching = brace(job).moved(scale(raked, -0.1)).common(legs)
    assert len(touching.pieces()) == 2
    assert brace(job).moved(scale(raked, 1e-6)).common(legs).volume < 1e-6


@pytest.mark.parametrize("name", MANY_JOBS)
def test_a_brace_sawn_square_along_the_template_has_wood_to_spare(name):
    """Top edge and ends are undercut, as marked: no corner of the brace stands out of the template's prism."""
    job, part = MANY_JOBS[name], template(name, 3000.0, 1500.0)
    frame = face_frame(job)
    at = Frame(frame.point((-part.outline.bounds[2] / 2, 0, -0.5)), frame.x_axis, frame.y_axis, frame.z_axis)
    shown = Outline.from_points([*drawn(part, 0.0).normalize().exterior.coords][:0:-1])
    sawn = Solid.prism(shown, [], job.brace.thickness_mm + 1).placed(at)
    assert brace(job).minus(sawn).volume < 1e-4


@pytest.mark.parametrize("name", ["demo", "a", "proud", "60/60"])
def test_half_a_template_turned_over_at_the_middle_is_the_whole(name):
    """On a bed too short for the whole: one end and the middle, the same corners."""
    whole, half = template(name), template(name, 160.0, 150.0)
    right = drawn(half, 0.0)
    both = right.union(shapely.affinity.scale(right, -1, 1, origin=(0, 0)))
    assert half.outline.bounds[2] == pytest.approx(whole.outline.bounds[2] / 2)
    assert both.symmetric_difference(drawn(whole, -whole.outline.bounds[2] / 2)).area < 1e-6
    assert "HALF" in " ".join(mark.text for mark in half.marks)
    assert mark_faults(half) == []
    assert all(measured(half, feature) == pytest.approx(feature.value, abs=1e-9) for feature in half.features)


@pytest.mark.parametrize(
    ("bed", "says"),
    [
        ((600.0, 400.0), None),
        ((160.0, 150.0), "its template shows one half"),
        ((100.0, 100.0), "no template of it is made"),
    ],
)
def test_a_bed_too_small_is_said(bed, says):
    """A caution, never silence: half a template, or none."""
    found = check_brace_template(solve(DEMO), on_bed(*bed))
    assert [f.severity for f in found] == ([] if says is None else ["caution"])
    assert all(says in f.sentence() for f in found)
    assert (template("demo", *bed) is None) == (bed == (100.0, 100.0))


WORDS = [
    ("demo", "THIS EDGE UNDER THE TOP"),
    ("demo", "ENDS 78.25° OFF LONG EDGE"),
    ("demo", "TOP EDGE 78.00° OFF THIS FACE, UNDERCUT"),
    ("demo", "ENDS 2.48° OFF UPRIGHT, UNDERCUT"),
    ("90/78", "TOP EDGE SQUARE TO THIS FACE"),
    ("90/78", "ENDS SQUARE TO THIS FACE"),
]


@pytest.mark.parametrize(("name", "words"), WORDS)
def test_what_is_marked(name, words):
    """Each angle with what it is off."""
    assert words in " ".join(mark.text for mark in template(name).marks)


@pytest.mark.parametrize("name", MANY_JOBS)
def test_marks_and_features(name):
    """Marks inside and clear of cuts, the most important there always; every piece measured from its coordinates."""
    part, end_deg = template(name, 3000.0, 1500.0), solve(MANY_JOBS[name]).angles.brace_end_deg
    assert mark_faults(part) == []
    assert "BRACE" in part.marks[0].text
    assert not unmeasured(part)
    for feature in part.features:
        assert measured(part, feature) == pytest.approx(feature.value, abs=1e-9), feature
    ends = {feature.name: feature.value for feature in part.features if feature.measure == "angle_deg"}
    assert (ends["left end"], ends["right end"]) == pytest.approx((end_deg, 180 - end_deg), abs=1e-9)


NOTCHED = ["demo", "b", "inch"]
"""Five angles, the last within 4 degrees of square."""


def test_a_fifth_angle_near_square_is_a_flank_of_the_template():
    """Where it would have a bevel plate to itself: never else, and there is one plate then."""
    for name, job in MANY_JOBS.items():
        trestle = solve(job)
        flanks = share_flanks(wanted_uses(trestle, DEMO_SHOP))
        plates = bevel_plates(trestle, DEMO_SHOP)[:-1]
        notch = notch_of(trestle, DEMO_SHOP)
        assert (notch is None) or (len(flanks) % 4 == 1 and notch.flank.angle_deg >= 86), name
        assert len(plates) == ceil((len(flanks) - (notch is not None)) / 4)
    assert [name for name in JOBS if notch_of(solve(JOBS[name]), DEMO_SHOP)] == ["demo", "b", "proud", "inch"]


@pytest.mark.parametrize("name", NOTCHED)
def test_the_flank_holds_its_angle_and_its_uses_stand_beside_it(name):
    """Off the bottom edge, the angle in the wood: measured from the corners; its uses are among the settings."""
    part, trestle = template(name), solve(JOBS[name])
    flank = notch_of(trestle, DEMO_SHOP).flank
    (start, end), edge = [
        next((s.start, s.end) for f in part.features if f.name == wanted for s in [part.outline.segments[f.pieces[0]]])
        for wanted in ("flank", "bottom edge")
    ]
    assert edge[1] == start
    wood = 180 - degrees(atan2(end[1] - start[1], end[0] - start[0]))
    assert wood == pytest.approx(flank.angle_deg, abs=1e-9)
    assert dist(start, end) >= 80
    assert dist(*edge) >= 80
    said = " ".join(mark.text for mark in part.marks)
    assert f"{flank.angle_deg:.2f}°" in said
    assert all(use.name.upper() in said for use in flank.uses)
    told = {setting.name: setting.value for setting in part.settings}
    assert all(told[use.name] == use.angle_deg for use in flank.uses)


def test_the_error_told_of_its_flank_is_worked_by_hand():
    """0.1 mm at both ends of 86.1 and of 125.0 mm: 0.133 and 0.092 degrees."""
    told = {setting.name: setting.value for setting in template("demo").settings}
    assert told["worst error, flank"] == pytest.approx(degrees(0.2 / 86.08 + 0.2 / 125.0), abs=2e-4)


@pytest.mark.parametrize("changes", [{"depth_mm": 90.0}, {"depth_mm": 100.0}])
def test_without_room_the_angle_has_a_plate(changes):
    """A narrow brace: nothing is lost."""
    trestle = solve(replace(DEMO, brace=replace(DEMO.brace, **changes)))
    assert notch_of(trestle, DEMO_SHOP) is None
    assert len(bevel_plates(trestle, DEMO_SHOP)) == 3
