"""Leg wraps and housing strips against solids cut by planes: every line where the kernel's corners are."""

from dataclasses import replace

import pytest
import shapely
from drawing_layout import word_boxes
from full_size_pages import CASES, kit_of, templates_of
from sample_jobs import DEMO, HAND_SHOP
from trestle_on_solids import (
    directions,
    housing,
    leg_as_cut,
    measured_angles,
    measured_housing,
    named_corners,
)

from jigmaker.geometry.outline import Outline, Stroke
from jigmaker.geometry.vectors import cross, dot, length, scale, subtract
from jigmaker.job.job import Size
from jigmaker.job.shop import HousingWork
from jigmaker.papers.full_size.full_size_set import full_size_set
from jigmaker.papers.full_size.leg_ends import leg_ends
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

ROUND = [("outer", "near"), ("outer", "far"), ("inner", "far"), ("inner", "near"), ("outer", "near")]
"""The arrises as the wrap meets them from left to right, each face seen from outside, head up."""


def to_half(mm):
    """As a rule is read, and as the set-up sheets tell the same length: to half a millimetre."""
    return f"{round(2 * mm) / 2:g}"


def strokes(picture, layer):
    return [each.shape for each in picture.shapes if each.layer == layer and isinstance(each.shape, Stroke)]


def points(stroke):
    return [stroke.segments[0].start, *(segment.end for segment in stroke.segments)]


def frame_of(picture):
    """The rectangle that is cut out."""
    return next(each.shape for each in picture.shapes if isinstance(each.shape, Outline)).bounds


@pytest.mark.parametrize("case", list(CASES))
@pytest.mark.parametrize("end", ["head", "foot"])
def test_the_wraps_line_is_the_legs_end(case, end):
    """Along the leg and round it, corner by corner of the leg as it is cut, horn and trim still on it."""
    job = CASES[case][0]
    corners, up = named_corners(leg_as_cut(job), job), scale(directions(job)[0], -1)
    wrap = templates_of(case)["leg-ends"][0 if end == "head" else 1]
    (line,) = [stroke for stroke in strokes(wrap, "CUT") if len(stroke.segments) == 4]
    rises = [dot(corners[(*arris, end)], up) for arris in ROUND]
    assert [y - points(line)[0][1] for _, y in points(line)] == pytest.approx([r - rises[0] for r in rises], abs=1e-6)
    wide, thick = job.leg.width_mm, job.leg.thickness_mm
    places = [x - points(line)[0][0] for x, _ in points(line)]
    assert places == pytest.approx([0, wide, wide + thick, 2 * wide + thick, 2 * (wide + thick)], abs=1e-6)


def test_faces_go_round_the_leg_to_the_right():
    """Who looks at the outer face from outside, the head up, has the board's end left and the far arris right."""
    job = CASES["demo"][0]
    down, wide, _, _ = directions(job)
    to_the_right = cross(scale(down, -1), wide)
    corners = named_corners(leg_as_cut(job), job)
    assert dot(subtract(corners["outer", "far", "foot"], corners["outer", "near", "foot"]), to_the_right) > 60


def test_horn_and_trim_are_sawn_later():
    """A second line, so far from the first on the leg's side; 5 mm of horn below it, 25 mm of trim above it."""
    for wrap, off in zip(templates_of("horn and trim")["leg-ends"], (-5.0, 25.0), strict=True):
        (now,) = [stroke for stroke in strokes(wrap, "CUT") if len(stroke.segments) == 4]
        (later,) = strokes(wrap, "LATER")
        moved = [b[1] - a[1] for a, b in zip(points(now), points(later), strict=True)]
        assert moved == pytest.approx([off] * 5, abs=1e-9)
    assert [strokes(wrap, "LATER") for wrap in templates_of("demo")["leg-ends"]] == [[], []]


@pytest.mark.parametrize("case", list(CASES))
def test_the_wrap_tells_the_solids_angles(case):
    """On wide faces and on narrow edges, off the arris, each with its complement."""
    angles = measured_angles(CASES[case][0])
    for wrap in templates_of(case)["leg-ends"]:
        told = told_on(wrap)
        for deg in (angles["leg_face_deg"], 90 - angles["leg_edge_deg"]):
            shown = round(deg, 2)
            assert told.count(f"{shown:.2f}° off the leg's arris") >= 2
            assert told.count(f"({90 - shown:.2f}° off square)") >= 2


def told_on(picture):
    return [label.text for label in picture.labels]


def on_strip(job, corner, sign):
    """A corner of the +x +y housing on the unfolded board: x from the board's end, y from the fold at the top arris."""
    x, y, z = corner
    from_end, into, thickness = job.top.length_mm / 2 - x, job.top.width_mm / 2 - y, job.top.thickness_mm
    if into > 1e-6:
        return (-sign * from_end, -into if z > -1e-6 else thickness + into)
    return (-sign * from_end, -z)


@pytest.mark.parametrize("case", list(CASES))
@pytest.mark.parametrize(("number", "sign"), [(0, 1), (1, -1)])
def test_the_strips_corners_are_the_housings(case, number, sign):
    """All eight, folded out, from the board's end: at the right on R, at the left on L."""
    job = CASES[case][0]
    strip = templates_of(case)["housing-strips"][number]
    box, folds = frame_of(strip), sorted(points(stroke)[0][1] for stroke in strokes(strip, "FOLDS"))
    end = box[2] if sign > 0 else box[0]
    assert folds[1] - folds[0] == pytest.approx(job.top.thickness_mm, abs=1e-9)
    walls = [stroke for stroke in strokes(strip, "CUT") if len(stroke.segments) == 3]
    drawn = sorted((x - end, y - folds[0]) for wall in walls for x, y in points(wall))
    solid = sorted(on_strip(job, corner, sign) for corner in housing(job).corners)
    assert len(drawn) == 8
    for one, other in zip(_sorted(drawn), _sorted(solid), strict=True):
        assert one == pytest.approx(other, abs=1e-6)


def _sorted(corners):
    return sorted(corners, key=lambda p: (round(p[1], 4), round(p[0], 4)))


def test_the_strip_tells_distances_and_angles():
    """Published for this job: start 119.92 and 110.77, depths 32.71 and 23.15, edge line 78.50, faces 87.52."""
    found = measured_housing(CASES["demo"][0])
    for strip in templates_of("demo")["housing-strips"]:
        told = [label.text for label in strip.labels]
        for start, depth in (("start_top_mm", "depth_top_mm"), ("start_bottom_mm", "depth_bottom_mm")):
            assert f"near wall at the fold: {to_half(found[start])} mm from the end" in told
            assert f"floor: {to_half(found[depth])} mm from the fold" in told
        assert told.count("walls 78.50° off the top arris (11.50° off square)") == 1
        assert told.count("walls 87.52° off the arris (2.48° off square)") == 2


def test_a_strip_does_not_fit_the_other_hand():
    """R and L are mirror images and no other: turned half a turn, R's lines are not L's."""
    r, other = templates_of("demo")["housing-strips"]
    lines = [sorted(round(x, 3) for stroke in strokes(p, "CUT") for x, _ in points(stroke)) for p in (r, other)]
    assert lines[0] != lines[1]
    assert [name.title for name in (r, other)] == ["housing strip R", "housing strip L"]


def test_the_length_from_line_to_line_is_the_legs():
    """As told on both wraps."""
    corners = named_corners(leg_as_cut(CASES["demo"][0]), CASES["demo"][0])
    along = length(subtract(corners["outer", "near", "foot"], corners["outer", "near", "head"]))
    for wrap in templates_of("demo")["leg-ends"]:
        assert f"along any arris: {to_half(along)} mm." in " ".join(wrap.notes)
    assert kit_of("demo").trestle.leg.cut_length_mm == pytest.approx(along, abs=1e-6)


def test_the_legs_of_every_size_are_told():
    """One line for all of them, and a length for each: by the slope of an arris, sqrt(1 + 2 cot² 78) = 1.0442."""
    job = replace(DEMO, further_sizes=(Size(2, 600.0, 900.0),))
    said = [" ".join(wrap.notes) for wrap in leg_ends(solve(job))]
    assert all("All legs of a size alike" in words for words in said)
    assert all("along any arris: size 720 mm: 752 mm; size 600 mm: 626.5 mm." in words for words in said)


def test_gauges_of_a_kit_without_a_jig_are_parts_of_none():
    """Their pages are headed by what they are."""
    sawn = replace(HAND_SHOP, housing_work=HousingWork("saw and chisel"))
    pages = full_size_set(make_kit(solve(DEMO), sawn))["jig-parts"]
    said = " ".join(label.text for page in pages for label in page.picture.labels).lower()
    assert "gauges" in said and "jig" not in said


@pytest.mark.parametrize("case", list(CASES))
def test_a_strip_is_cut_out_beyond_everything_on_it(case):
    """The paper that is left reaches a finger's breadth beyond both floors and the far wall, holds all words, and ends
    in the board's end, where the housing's lines stop short of it."""
    for strip in templates_of(case)["housing-strips"]:
        low_x, low_y, high_x, high_y = frame_of(strip)
        corners = [p for each in strokes(strip, "CUT") for p in points(each)]
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        assert min(ys) - low_y > 9.9 and high_y - max(ys) > 9.9
        assert min(min(xs) - low_x, high_x - max(xs)) > 9.9
        inside = shapely.box(low_x, low_y, high_x, high_y)
        on_it = [(words, box) for words, box in word_boxes(strip) if not words.startswith("datum")]
        assert on_it and [words for words, box in on_it if not inside.contains(box)] == []
