"""Gauges used in numbers: cutter under the bridge, legs into notches, plug into housings, before and after the cut."""

import re
from dataclasses import replace
from functools import cache
from math import radians, sin, sqrt, tan

import pytest
import shapely
from cut_by_disc import extent_on, left_after_cutting
from jig_on_solids import board, slab
from marks_on_parts import ink, mark_faults, measured, text_box, unmeasured
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B, a_job

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Circle
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, scale, unit
from jigmaker.job.shop import Machine
from jigmaker.parts.gauges import gauge_parts
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.trestle.solve import solve

INCH = replace(DEMO, unit="in", leg=replace(DEMO.leg, width_mm=69.85), top=replace(DEMO.top, width_mm=120.65))
TIGHT = replace(DEMO, housing=replace(DEMO.housing, clearance_mm=0.0))
PROUD = replace(DEMO, housing=replace(DEMO.housing, reveal_mm=4.0))
SMALL = a_job(400, (75, 75), 120, (900, 80, 30), (24, 20))
JOBS = {"demo": DEMO, "a": JOB_A, "b": JOB_B, "inch": INCH, "tight": TIGHT, "proud": PROUD, "small": SMALL}
MACHINES = {
    "laser": Machine("laser", 0.2),
    "fine laser": Machine("laser", 0.2, accuracy_mm=0.02),
    "cnc": Machine("cnc", 3.175),
    "fine cnc": Machine("cnc", 3.175, accuracy_mm=0.02),
    "coarse cnc": Machine("cnc", 3.175, accuracy_mm=0.3),
}
FINE = ("fine laser", "fine cnc")
CASES = [(job, machine) for job in JOBS for machine in MACHINES]

every_case = pytest.mark.parametrize(("name", "machine"), CASES)
both_files = pytest.mark.parametrize("compensation", ["included", "left out"])


@cache
def gauges(name, machine="laser"):
    """{slug: part} of one job on one machine."""
    shop = replace(DEMO_SHOP, machine=MACHINES[machine])
    return {part.slug: part for part in gauge_parts(solve(JOBS[name]), shop)}


def setting(part, name):
    return next(s.value for s in part.settings if s.name == f"{part.name}, {name}")


def left_on(part):
    return next((s.value for s in part.settings if s.name.endswith("left on to be dressed")), 0.0)


def dressed(part, tool=0.0):
    """The outline's material with the wood taken off along every straight piece that is marked to be dressed.

    A relief of a cutter shortens a wall by 2 r cos 45 at its corner: the file goes on to the notch's bottom.
    """
    material, over = shapely.Polygon(part.outline.points(64)), left_on(part)
    lines = [shapely.LineString([s.start, s.end]) for s in part.outline.segments if not s.bulge]
    more = sqrt(2) * (tool / 2 + 0.1) if tool > 1 else 0.0
    for place, turn_deg in told_to_dress(part):
        along = [line for line in lines if is_along(line, turn_deg) and line.length > 15]
        (x0, y0), (x1, y1) = min(along, key=place.distance).coords
        size = sqrt((x1 - x0) ** 2 + (y1 - y0) ** 2)
        ux, uy = (x1 - x0) / size * more, (y1 - y0) / size * more
        wall = shapely.LineString([(x0 - ux, y0 - uy), (x1 + ux, y1 + uy)])
        material = material.difference(wall.buffer(over, cap_style="flat", single_sided=True))
    return material


def told_to_dress(part):
    """Where a mark tells to dress, and how the wall runs there: an arrow's tip and square to it, words and along them.

    An arrow is a mark of two strokes, a shaft and a head that touches its end.
    """
    arrows = [tuple(mark.strokes) for mark in part.marks if not mark.text and len(mark.strokes) == 2]
    for shaft, _ in arrows:
        (x0, y0), (x1, y1) = shaft.segments[0].start, shaft.segments[-1].end
        assert min(abs(x1 - x0), abs(y1 - y0)) < 1e-9  # square to its wall
        yield shapely.Point(x1, y1), 0 if abs(x1 - x0) < abs(y1 - y0) else 90
    for mark in part.marks:
        if mark.text.startswith("DRESS") and not arrows:
            yield ink(mark), mark.turn_deg


def is_along(line, turn_deg):
    (x0, y0), (x1, y1) = line.coords
    return abs(x1 - x0) < 1e-9 if turn_deg == 90 else abs(y1 - y0) < 1e-9


# Projection gauge


@both_files
@every_case
def test_the_recess_is_the_projection_whichever_file_is_cut(name, machine, compensation):
    """Feet and ceiling face the same way: the kerf moves both alike, with compensation and without."""
    part, shop = gauges(name, machine)["projection-gauge"], replace(DEMO_SHOP, machine=MACHINES[machine])
    left = left_after_cutting(part, MACHINES[machine], compensation)
    low_x, low_y, high_x, high_y = left.bounds
    middle = (low_x + high_x) / 2
    ceiling, _ = extent_on(left, (middle, low_y - 1), (middle, high_y + 1))
    projection = lay_out_jigs(solve(JOBS[name]), shop)[0].projection
    for x in (low_x + 5, high_x - 5):
        foot, _ = extent_on(left, (x, low_y - 1), (x, high_y + 1))
        assert ceiling - foot == pytest.approx(projection, abs=1e-6)


@pytest.mark.parametrize(("name", "projection"), [("demo", 48.1), ("proud", 44.1)])
def test_projection_by_hand(name, projection):
    """Sheet 9.1, standoff 7, leg 32 less its reveal."""
    part = gauges(name)["projection-gauge"]
    assert setting(part, "recess") == pytest.approx(projection)
    assert part.outline.bounds[2:] == pytest.approx((120, projection + 20))


def bridge(part):
    """The gauge as it stands on the base: router's axis z, base at z = 0, over the middle."""
    half, thickness = part.outline.bounds[2] / 2, part.thickness_mm
    stands = Frame((-half, thickness / 2, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
    return Solid.prism(part.outline, [], thickness).placed(stands)


def disc(diameter, height):
    return Solid.prism(Circle((0.0, 0.0), diameter / 2), [], height)


@pytest.mark.parametrize(("base", "bush"), [(150, 17), (104, 20), (120, 30), (200, 40)])
def test_the_cutter_just_touches_and_the_feet_stand_on_the_base(base, bush):
    """Over the bush and the plate that holds it, both feet on the base over their whole thickness."""
    router = replace(DEMO_SHOP.hand_router, base_mm=base, bush_mm=bush)
    trestle, shop = solve(DEMO), replace(DEMO_SHOP, hand_router=router)
    part = gauge_parts(trestle, shop)[0]
    gauge, projection = bridge(part), lay_out_jigs(trestle, shop)[0].projection
    assert gauge.common(disc(router.cutter_mm, projection)).volume < 1e-6
    assert gauge.common(disc(router.cutter_mm, projection + 0.01)).volume > 0.5
    assert gauge.common(disc(bush, router.bush_length_mm).plus(disc(bush + 49.9, 4))).volume == 0
    on_base = gauge.kept_below((0, 0, 1), (0, 0, 1))
    assert on_base.minus(disc(base + 0.1, 2)).volume < 1e-6
    assert on_base.volume > 2 * 6 * part.thickness_mm


# Leg gauge


def enters(material, part, notch, width, depth):
    """True when a leg this wide, held as well as can be, goes `depth` into the notch from outside."""
    _, low, _, high = part.outline.bounds
    walls = [part.outline.segments[f.pieces[0]] for f in part.features if f.name == f"{notch}, left wall"]
    for aside in (-0.2, -0.1, -0.01, 0.0, 0.01, 0.1, 0.2):
        x = walls[0].start[0] + aside
        y = (high - depth, high + 50) if notch == "go" else (low - 50, low + depth)
        if material.intersection(shapely.box(x, y[0], x + width, y[1])).area < 1e-6:
            return True
    return False


@every_case
def test_a_leg_is_passed_by_go_and_stopped_by_no_go_inside_its_limits_only(name, machine):
    """25 deep or not even 0.5: the widest and the narrowest leg allowed, and a hair beyond either."""
    part, tool = gauges(name, machine)["leg-gauge"], MACHINES[machine].tool_mm
    job, material = JOBS[name], dressed(part, tool)
    width, clearance = job.leg.width_mm, job.housing.clearance_mm
    band = 2 * min(0.075, clearance / 2) if clearance else 0.1
    for leg, goes, stops in [
        (width, True, True),
        (width - band + 0.001, True, True),
        (width + 0.001, False, True),
        (width - band - 0.001, True, False),
    ]:
        assert enters(material, part, "go", leg, 25) == goes, leg
        assert enters(material, part, "no-go", leg, 0.5 if stops else 25) != stops, leg


@every_case
def test_the_side_notch_takes_the_leg_as_thick_as_asked(name, machine):
    """A leg of the job's thickness goes in to the bottom, one 0.01 thicker does not: its reveal would differ."""
    part, thickness = gauges(name, machine)["leg-gauge"], JOBS[name].leg.thickness_mm
    material, right = dressed(part, MACHINES[machine].tool_mm), part.outline.bounds[2]
    wall = next(part.outline.segments[f.pieces[0]] for f in part.features if f.name == "thickness, lower wall")
    y = wall.start[1]
    assert material.intersection(shapely.box(right - 25, y, right + 9, y + thickness)).area < 1e-6
    for aside in (-0.01, 0.0, 0.01):
        thicker = shapely.box(right - 25, y + aside, right + 9, y + aside + thickness + 0.01)
        assert material.intersection(thicker).area > 0.1


def test_a_square_leg_seats_in_every_notch_that_a_cutter_made():
    """Its corners find no wood to the last hundredth; without reliefs the cutter's fillets would hold it off."""
    part, machine = gauges("demo", "fine cnc")["leg-gauge"], MACHINES["fine cnc"]
    sharp = gauges("demo", "fine laser")["leg-gauge"]
    bare = replace(part, outline=sharp.outline, features=sharp.features)
    _, _, right, high = part.outline.bounds
    legs = [shapely.box(18, high - 25, 88, high), shapely.box(18, 0, 87.85, 25), shapely.box(right - 25, 42, right, 74)]
    for leg in legs:
        clear, held = (left_after_cutting(each, machine, "included").intersection(leg).area for each in (part, bare))
        assert clear < 1e-4
        assert held > 0.5  # two fillets of radius 1.59: (1 - pi/4) r r each


@pytest.mark.parametrize("name", JOBS)
@pytest.mark.parametrize("machine", ["laser", "cnc", "coarse cnc"])
def test_there_is_wood_to_dress_however_badly_the_machine_cuts(name, machine):
    """As cut, each wall up to the accuracy off its place: go is still too narrow for a leg, low too wide."""
    parts, worst = gauges(name, machine), 2 * MACHINES[machine].accuracy_mm
    width = {f.name: f.value for slug in ("leg-gauge", "housing-plug") for f in parts[slug].features}
    leg, plug = parts["leg-gauge"], parts["housing-plug"]
    for notch, limit in (("go", "go"), ("no-go", "no-go"), ("thickness", "thickness")):
        assert width[f"{notch}, opening"] + worst < setting(leg, limit)
    assert width["low, width"] - worst > setting(plug, "low")


@pytest.mark.parametrize(("clearance", "accuracy", "over"), [(0.15, 0.1, 0.3), (0.15, 0.075, 0.3), (0.15, 0.07, 0.0)])
def test_wood_is_left_on_when_the_limits_are_not_twice_the_accuracy_apart(clearance, accuracy, over):
    """0.15 apart: a machine good to 0.07 keeps them apart, one good to 0.075 just does not."""
    job = replace(DEMO, housing=replace(DEMO.housing, clearance_mm=clearance))
    shop = replace(DEMO_SHOP, machine=Machine("laser", 0.2, accuracy_mm=accuracy))
    parts = {part.slug: part for part in gauge_parts(solve(job), shop)}
    for slug in ("leg-gauge", "housing-plug"):
        assert left_on(parts[slug]) == pytest.approx(over)
        assert any("DRESS" in mark.text for mark in parts[slug].marks) == bool(over)


def test_the_no_go_end_is_known_without_marks():
    """Both outer corners of the no-go's jaws are cut off, 5 mm or more to be felt; the go's are sharp."""
    material = shapely.Polygon(gauges("demo", "fine laser")["leg-gauge"].outline.points())
    low_x, low_y, high_x, high_y = material.bounds
    for x in (low_x, high_x):
        assert material.distance(shapely.Point(x, low_y)) > 5 / sqrt(2)
        assert material.distance(shapely.Point(x, high_y)) < 1e-9


# Housing plug


def housed_board(job, width):
    """The board with a housing this wide for the (+x, +y) leg."""
    depth = job.leg.thickness_mm - job.housing.reveal_mm
    return board(job).minus(slab(job, width, depth, (width - job.leg.width_mm) / 2))


def pushed_in(job, flat, thickness, width, aside, how_far):
    """The plug flat on the floor of a housing `width` wide, slid down along the walls from the top face.

    flat: the plug's material. aside: from the far wall to its straight side. how_far: from the mouth at the near wall,
    the lower of the two, to its tip.
    """
    cot_a, cot_b = (1 / tan(radians(v)) for v in (job.rake_deg, job.splay_deg))
    down, out = unit((cot_a, cot_b, -1.0)), (0.0, sin(radians(job.splay_deg)), cot_b * sin(radians(job.splay_deg)))
    along = cross(out, scale(down, -1))  # from the far wall to the near one
    arris = (job.top.length_mm / 2 - job.inset_mm, job.top.width_mm / 2, 0.0)
    opened, depth = (width - job.leg.width_mm) / 2, job.leg.thickness_mm - job.housing.reveal_mm
    near = add(add(arris, scale(out, -depth)), scale(along, opened))
    mouth = add(near, scale(down, near[2] / -down[2]))
    tip = add(add(mouth, scale(along, aside - width)), scale(down, how_far))
    ring = [(x, y - flat.bounds[1]) for x, y in flat.exterior.coords[:-1]]
    return Solid.prism_of_points([ring], thickness).placed(Frame(tip, scale(down, -1), along, out))


def goes_in(job, part, width, how_far, end):
    """True when the plug, dressed, goes so far into a housing this wide, held as well as can be."""
    flat, housed = dressed(part), housed_board(job, width)
    x = 20 if end == "low" else flat.bounds[2] - 75
    low, high = extent_on(flat, (x, -1), (x, 300))
    aside = (width - (high - low)) / 2
    tries = [pushed_in(job, flat, part.thickness_mm, width, aside + by, how_far) for by in (-0.02, 0.0, 0.02)]
    return any(plug.common(housed).volume < 1e-3 for plug in tries)


@pytest.mark.parametrize("machine", ["laser", "fine laser"])
@pytest.mark.parametrize("name", JOBS)
def test_low_goes_into_every_housing_allowed_and_high_into_none(name, machine):
    """Low all its 45 in, high not 10: the narrowest and the widest housing allowed, and a hair beyond either."""
    part, job = gauges(name, machine)["housing-plug"], JOBS[name]
    wide, clearance = job.leg.width_mm + job.housing.clearance_mm, job.housing.clearance_mm
    half = min(0.075, clearance / 2) if clearance else 0.05
    for housing, low_goes, high_stops in [
        (wide - half, True, True),
        (wide + half - 0.001, True, True),
        (wide - half - 0.001, False, True),
        (wide + half, True, False),
    ]:
        assert goes_in(job, part, housing, 44.9, "low") == low_goes, housing
        assert goes_in(job, part, housing, 59.0, "high") != high_stops, housing


@both_files
@every_case
def test_the_step_from_low_to_high_survives_any_kerf(name, machine, compensation):
    """Both sides face the same way; the widths themselves are right only in a compensated file."""
    part, tool = gauges(name, machine)["housing-plug"], MACHINES[machine].tool_mm
    left = left_after_cutting(part, MACHINES[machine], compensation)
    spans = [extent_on(left, (x, -5), (x, 300)) for x in (20, part.outline.bounds[2] - 75)]
    low, high = (top - bottom for bottom, top in spans)
    assert high - low == pytest.approx(setting(part, "high") - setting(part, "low"), abs=1e-6)
    lost = 0.0 if compensation == "included" else tool
    assert low == pytest.approx(setting(part, "low") + left_on(part) - lost, abs=1e-6)


# Limits, marks, features


@pytest.mark.parametrize(
    ("clearance", "go", "no_go", "low", "high"),
    [(0.15, 70, 69.85, 70.075, 70.225), (0.1, 70, 69.9, 70.05, 70.15), (0.3, 70, 69.85, 70.225, 70.375)]
    + [(0.0, 70, 69.9, 69.95, 70.05)],
)
def test_limits_by_hand(clearance, go, no_go, low, high):
    """w, w - 2 e, w + c - e, w + c + e, with e = min(0.075, c/2), 0.05 without clearance; and the play that follows."""
    job = replace(DEMO, housing=replace(DEMO.housing, clearance_mm=clearance))
    parts = {part.slug: part for part in gauge_parts(solve(job), DEMO_SHOP)}
    leg, plug = parts["leg-gauge"], parts["housing-plug"]
    told = [setting(leg, "go"), setting(leg, "no-go"), setting(plug, "low"), setting(plug, "high")]
    assert told == pytest.approx([go, no_go, low, high])
    play = [s.value for s in plug.settings if s.name.endswith("play allowed")]
    assert play == pytest.approx([low - go, high - no_go])


WORDS = [
    ("demo", "leg-gauge", "GO 70 mm"),
    ("demo", "leg-gauge", "NO-GO 69.85 mm"),
    ("demo", "leg-gauge", "THICKNESS 32 mm"),
    ("demo", "housing-plug", "LOW 70.075 mm"),
    ("demo", "housing-plug", "HIGH 70.225 mm"),
    ("demo", "projection-gauge", "PROJECTION 48.1 mm"),
    ("demo", "depth-gauge", "TOP FACE LOW 30.581 mm"),  # (32 - 9.1 cos 78) / sin 78 - 0.2
    ("demo", "depth-gauge", "BOTTOM FACE HIGH 23.35 mm"),  # (32 - 45 cos 78) / sin 78 + 0.2
    ("inch", "leg-gauge", 'GO 2 3/4"'),
    ("inch", "leg-gauge", 'NO-GO 2.7441"'),  # 69.70 / 25.4
    ("inch", "housing-plug", 'HIGH 2.7589"'),  # 70.075 / 25.4
    ("inch", "projection-gauge", 'PROJECTION 1.8994"'),
    ("small", "housing-plug", "LOW 24.075 mm"),
]


@pytest.mark.parametrize(("name", "slug", "words"), WORDS)
def test_sizes_are_marked_as_they_are_read(name, slug, words):
    """Fractions where a rule reads them, decimals where only a caliper does."""
    assert words in " ".join(mark.text for mark in gauges(name)[slug].marks)


@pytest.mark.parametrize("name", ["demo", "inch", "small"])
def test_a_limit_is_the_first_thing_read_on_its_end_of_the_plug(name):
    """Then what that end must do: from above on the low end, from the left in the lines that run up the high end."""
    marks = [mark for mark in gauges(name)["housing-plug"].marks if mark.text]
    low = min((mark for mark in marks if mark.turn_deg == 0), key=lambda mark: (mark.at[0], -mark.at[1]))
    high = min((mark for mark in marks if mark.turn_deg == 90), key=lambda mark: mark.at[0])
    assert low.text.startswith("LOW") and high.text.startswith("HIGH")


@every_case
def test_a_box_waits_for_the_size_as_measured_where_the_machine_promises_none(name, machine):
    """One for the bridge, one for each notch, one for the plug (its step is sure); none from an accurate machine."""
    for slug, count in (("projection-gauge", 1), ("leg-gauge", 3), ("housing-plug", 1)):
        part = gauges(name, machine)[slug]
        boxes = [ink(mark).bounds for mark in part.marks if not mark.text and len(mark.strokes.pieces) == 4]
        assert len(boxes) == (0 if machine in FINE else count)
        for low_x, low_y, high_x, high_y in boxes:
            frame = shapely.box(low_x, low_y, high_x, high_y)
            blank = shapely.box(low_x + 0.1, low_y + 0.1, high_x - 0.1, high_y - 0.1)
            assert min(high_x - low_x, 2 * (high_y - low_y)) > 12
            assert not any(blank.intersects(ink(mark)) for mark in part.marks)
            # The line it belongs to, the one with a figure, is at most half as far as any other.
            far = sorted(
                (frame.distance(text_box(mark)), bool(re.search(r"\d", mark.text)))
                for mark in [m for m in part.marks if m.text]
            )
            assert far[0][1] and (len(far) == 1 or far[0][0] <= far[1][0] / 2 + 1e-9)


@every_case
def test_marks_are_inside_clear_and_apart(name, machine):
    """Shapely on the strokes of every gauge, from the smallest leg to the largest."""
    for part in gauges(name, machine).values():
        assert mark_faults(part) == []
        assert part.name.upper().split()[0] in " ".join(mark.text for mark in part.marks)


@every_case
def test_every_straight_piece_is_a_feature_with_the_right_figure(name, machine):
    """Features measured from the coordinates; a relief's two arcs belong to its corner."""
    for part in gauges(name, machine).values():
        assert not [i for _, i in unmeasured(part) if not part.outline.segments[i].bulge]
        for feature in part.features:
            assert measured(part, feature) == pytest.approx(feature.value, abs=1e-9), feature
