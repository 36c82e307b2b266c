"""Bevel plates: every flank against angles found by vectors from rake and splay; lengths, marks, strips, budget."""

import re
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from functools import cache
from itertools import islice, product
from math import atan2, cos, degrees, dist, pi, radians, sin, tan

import pytest
import shapely
from marks_on_parts import ink, mark_faults, measured, polygon, text_box, unmeasured
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B, random_jobs

from jigmaker.errors import DoesNotFit
from jigmaker.geometry.vectors import cross, dot, unit
from jigmaker.parts.bevel_plate import bevel_plates, check_bevel_plates
from jigmaker.parts.brace_template import notch_of
from jigmaker.trestle.solve import solve


def leaning(rake_deg, splay_deg, **changes):
    return replace(DEMO, rake_deg=float(rake_deg), splay_deg=float(splay_deg), **changes)


JOBS = {
    "demo": DEMO,
    "a": JOB_A,
    "b": JOB_B,
    "60/60": leaning(60, 60),
    "90/78": leaning(90, 78),
    "78/90": leaning(78, 90),
    "90/90": leaning(90, 90),
    "89.9/60": leaning(89.9, 60),
    "89.97/90": leaning(89.97, 90),
    "inch": leaning(78, 80, unit="in"),
    "inch 90/90": leaning(90, 90, unit="in"),
    **{f"random {i}": job for i, job in enumerate(islice(random_jobs(seed=31), 40))},
}
CORNER_AT = {"lower left": 0, "lower right": 1, "upper right": 6, "upper left": 7}


@cache
def made(name):
    parts = bevel_plates(solve(JOBS[name]), DEMO_SHOP)
    return parts[:-1], parts[-1]


def between(one, other):
    """Acute angle between two lines, or two planes given by normals."""
    across = cross(unit(one), unit(other))
    return degrees(atan2(dot(across, across) ** 0.5, abs(dot(unit(one), unit(other)))))


def angles_by_vectors(job):
    """Each use's angle from planes and lines of the leg at the +x end, +y side; timber frame."""
    a, b = radians(job.rake_deg), radians(job.splay_deg)
    along, across, up = (1, 0, 0), (0, 1, 0), (0, 0, 1)
    axis = (cos(a) / sin(a), cos(b) / sin(b), -1)
    wide = (0, sin(b), cos(b))
    narrow = cross(axis, wide)
    brace = (sin(a), 0, cos(a))
    return {
        "rake": between((axis[0], 0, -1), along),
        "splay": between((0, axis[1], -1), across),
        "leg face": between(cross(wide, up), axis),
        "leg edge": between(cross(narrow, up), axis),
        "brace end": between(cross(brace, wide), across),
        "board edge": between(cross(narrow, across), along),
        "board faces": between(cross(narrow, up), along),
        "saw blade": between(wide, up),
        "brace top edge": between(brace, up),
    }


SEEN = {
    "rake": "seen from the trestle's side",
    "splay": "seen from the trestle's end",
    "leg face": "across a leg's wide face",
    "leg edge": "across a leg's narrow edge",
    "brace end": "across a brace's face",
    "board edge": "on the board's edge",
    "board faces": "on the board's top and bottom face",
    "saw blade": "blade for a leg's end cuts",
    "brace top edge": "along a brace's top edge",
}
"""Where the angle is seen: the plane in which `angles_by_vectors` takes its lines. Out of rake, the x and z of the
leg's axis, one looks across the trestle; out of splay, y and z, along it."""


@pytest.mark.parametrize("name", ["demo", "a", "89.9/60"])
def test_every_use_says_where_its_angle_is_seen(name):
    """In the words beside the figure on the sheet."""
    told = {setting.name: setting.why for plate in made(name)[0] for setting in plate.settings}
    for use in SEEN.keys() & told.keys():
        assert SEEN[use] in told[use].partition(";")[0], use
    assert len(SEEN.keys() & told.keys()) >= 7


def corner_angle(plate, corner):
    """Inside angle at a corner of a reference edge, from the coordinates alone."""
    corners = plate.outline.corners
    i = CORNER_AT[corner]
    (x, y), before, after = corners[i], corners[i - 1], corners[(i + 1) % len(corners)]
    turn = atan2(before[1] - y, before[0] - x) - atan2(after[1] - y, after[0] - x)
    return degrees(turn % (2 * pi))


def uses_of(plate):
    """(use, corner of its flank, angle told in the settings)."""
    for setting in plate.settings:
        found = re.search(r"; flank (.+)$", setting.frame)
        if found:
            yield setting.name, found[1], setting.value


@pytest.mark.parametrize("name", JOBS)
def test_every_use_finds_its_angle_at_the_corner_it_names(name):
    """The first use of a flank to 1e-5 degrees, a use that shares it within 0.05; nothing is left out."""
    wanted, seen = angles_by_vectors(JOBS[name]), set()
    for plate in made(name)[0]:
        taken = set()
        for use, corner, told in uses_of(plate):
            expected = 90.0 if use.startswith("true square") else wanted[use]
            limit = 0.05 if corner in taken else 1e-5
            assert told == pytest.approx(expected, abs=1e-9), use
            assert abs(corner_angle(plate, corner) - expected) < limit, use
            taken.add(corner)
            seen.add(use)
        assert taken == set(CORNER_AT)
    notch = notch_of(solve(JOBS[name]), DEMO_SHOP)  # its uses are on the brace template
    assert seen == {*wanted} - {use.name for use in (notch.flank.uses if notch else ())} | {
        u for u in seen if "square" in u
    }


@pytest.mark.parametrize(
    ("name", "flanks", "plates"),
    [("demo", 4, 1), ("a", 7, 2), ("b", 4, 1), ("90/90", 1, 1), ("60/60", 5, 2)],
)
def test_flanks_are_as_many_as_the_different_angles(name, flanks, plates):
    """Counted by hand from the angles to 0.05, less one near square that would want a plate of its own; corners left
    over are true squares."""
    cut = made(name)[0]
    squares = sum(use.startswith("true square") for plate in cut for use, _, _ in uses_of(plate))
    assert (4 * len(cut) - squares, len(cut)) == (flanks, plates)


@pytest.mark.parametrize(("splay", "shares"), [(78.03, True), (78.06, False)])
def test_angles_closer_than_a_twentieth_degree_share_a_flank_and_say_so(splay, shares):
    """A setting that is not the flank's own stands on the plate with its own figure."""
    plates = bevel_plates(solve(leaning(78, splay)), DEMO_SHOP)[:-1]
    corner = {use: (plate.name, at) for plate in plates for use, at, _ in uses_of(plate)}
    words = " ".join(mark.text for plate in plates for mark in plate.marks)
    assert (corner["rake"] == corner["splay"]) is shares
    assert ("RAKE, SPLAY (78.03°) OFF LEVEL" in words) is shares


@pytest.mark.parametrize("name", JOBS)
def test_flanks_are_long_and_edges_parallel(name):
    """At least 150 mm from the corner to the notch on a full-sized bed, and both reference edges level."""
    for plate in made(name)[0]:
        corners = plate.outline.corners
        for at, end in ((1, 2), (6, 5), (7, 8), (0, 11)):
            assert dist(corners[at], corners[end]) >= 150
        assert corners[0][1] == corners[1][1] == 0
        assert corners[6][1] == corners[7][1]
        assert polygon(plate).is_valid


@pytest.mark.parametrize("name", JOBS)
def test_every_piece_is_a_feature_with_the_right_figure(name):
    """Features measured from the coordinates; flanks to 1e-5 degrees."""
    plates, strip = made(name)
    for part in (*plates, strip):
        assert not unmeasured(part)
        for feature in part.features:
            limit = 1e-5 if feature.kind == "flank" else 1e-9
            assert measured(part, feature) == pytest.approx(feature.value, abs=limit), feature


@pytest.mark.parametrize("name", JOBS)
def test_marks_are_inside_clear_and_apart(name):
    """Shapely on the strokes; the middle of the plate stays free for the witness corner and its name."""
    plates, strip = made(name)
    for part in (*plates, strip):
        assert mark_faults(part) == []
    for plate in plates:
        x, y = (side / 2 for side in plate.outline.bounds[2:])
        middle = shapely.box(x - 10, y - 50, x + 10, y + 50)
        marks = [mark for mark in plate.marks if mark.text != "WITNESS"]
        assert not any(middle.intersects(text_box(mark) if mark.text else ink(mark)) for mark in marks)


@pytest.mark.parametrize("name", JOBS)
def test_marks_say_the_angle_its_complement_and_every_use(name):
    """What is printed adds up to 90 exactly, a square aside, and no use is dropped for lack of room."""
    for plate in made(name)[0]:
        words = " ".join(mark.text for mark in plate.marks)
        big = [mark for mark in plate.marks if mark.height_mm == 7]
        printed = Counter(Decimal(mark.text.removesuffix("°")) for mark in big)
        off = Counter(90 - Decimal(found) for found in re.findall(r"([\d.]+)° OFF SQUARE", words))
        assert sum(printed.values()) == 4
        del printed[Decimal("90.00")]
        assert printed == off
        for use, _, _ in uses_of(plate):
            assert use.split(",")[0].upper() in words


@pytest.mark.parametrize(("name", "rise", "run_mm"), [("demo", "100 mm", 21.256), ("inch", '12"', 64.787)])
def test_rise_and_run_prove_the_rake_with_a_rule(name, rise, run_mm):
    """100 cot 78 = 21.256 and 304.8 cot 78 = 64.787, from a table of cotangents (cot 78 = 0.212557)."""
    (run,) = [s for s in made(name)[0][0].settings if s.name == "run, flank lower left"]
    assert run.value == pytest.approx(run_mm, abs=5e-4) and f"on a rise of {rise} square to it" in run.why


def test_the_angle_stands_beside_its_own_flank():
    """Each large figure is nearer to the flank whose angle it is than to any other."""
    for plate in made("a")[0]:
        corners = plate.outline.corners
        for mark in (mark for mark in plate.marks if mark.height_mm == 7):
            nearest = min(CORNER_AT, key=lambda c: text_box(mark).distance(shapely.Point(corners[CORNER_AT[c]])))
            assert float(mark.text.removesuffix("°")) == pytest.approx(corner_angle(plate, nearest), abs=0.0051)


@pytest.mark.parametrize("name", JOBS)
def test_stock_strips_lie_flush_behind_and_stand_out_past_no_flank(name):
    """Two a plate, behind it, inside its outline and on its reference edges."""
    plates, strip = made(name)
    assert strip.needed == len(strip.placements) == 2 * len(plates)
    for i, place in enumerate(strip.placements):
        plate = plates[i // 2]
        shift = plate.placements[0].assembly_from_part.origin[0]
        corners = [place.assembly_from_part.point((*corner, 0)) for corner in strip.outline.corners]
        lying = shapely.Polygon([(x - shift, y) for x, y, _ in corners])
        assert shapely.Polygon(plate.outline.points()).buffer(1e-9).contains(lying)
        assert lying.bounds[1] == 0 if i % 2 == 0 else lying.bounds[3] == plate.outline.bounds[3]
        assert place.assembly_from_part.point((0, 0, strip.thickness_mm))[2] == -strip.thickness_mm


def test_a_strip_as_long_as_the_edge_would_stand_out():
    """The failing twin: 20 mm up, a flank of 78 has come in by 4 mm."""
    plate = made("demo")[0][0]
    full = shapely.box(0, 0, plate.outline.bounds[2], 20)
    assert full.difference(polygon(plate)).area == pytest.approx(20 * 20 / 2 * (1 / tan(radians(78)) * 2), rel=0.05)


def test_the_error_told_is_the_worst_of_all_ways_to_miss():
    """Ends of flank and reference edge moved by the accuracy in 24 directions each: the most they turn is told."""
    plate, e = made("demo")[0][0], DEMO_SHOP.machine.accuracy_mm
    told = next(s.value for s in plate.settings if s.name == "worst error, flank lower left")
    moves = [(e * cos(i * pi / 12), e * sin(i * pi / 12)) for i in range(24)]
    corners = plate.outline.corners

    def worst(start, end):
        turned = [
            atan2(end[1] + q[1] - start[1] - p[1], end[0] + q[0] - start[0] - p[0])
            - atan2(end[1] - start[1], end[0] - start[0])
            for p, q in product(moves, moves)
        ]
        return degrees(max(abs(t) for t in turned))

    assert worst(corners[0], corners[11]) + worst(corners[0], corners[1]) == pytest.approx(told, rel=0.01)


def with_sheet(**changes):
    return replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, **changes))


def test_a_small_bed_gets_shorter_flanks_and_a_caution():
    """Down to 100 mm, and the caution tells what is lost."""
    shop = with_sheet(length_mm=250, width_mm=220)
    plates = bevel_plates(solve(DEMO), shop)[:-1]
    corners = plates[0].outline.corners
    assert 100 <= dist(corners[0], corners[11]) < 150
    assert max(plates[0].outline.bounds) <= 240
    assert [(f.severity, f.limit) for f in check_bevel_plates(solve(DEMO), shop)] == [("caution", "150 mm")]
    assert check_bevel_plates(solve(DEMO), DEMO_SHOP) == []


def test_a_bed_too_small_for_any_plate_is_refused():
    """One sentence with both sizes, as an error and as a finding."""
    shop = with_sheet(length_mm=180, width_mm=180)
    with pytest.raises(DoesNotFit, match=r"smallest bevel plate is 208 mm x 158 mm, the bed takes 169.8 mm x 169.8 mm"):
        bevel_plates(solve(DEMO), shop)
    assert [f.severity for f in check_bevel_plates(solve(DEMO), shop)] == ["error"]


def test_a_wide_cutter_passes_the_notches():
    """A 12 mm cutter: the notches between the flanks stay wider than it."""
    shop = replace(DEMO_SHOP, machine=replace(DEMO_SHOP.machine, kind="cnc", tool_mm=12))
    plate = bevel_plates(solve(DEMO), shop)[0]
    widths = [f.value for f in plate.features if f.name.endswith("notch, width")]
    assert len(widths) == 2
    assert min(widths) > 12
