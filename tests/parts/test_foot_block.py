"""The foot block pushed against legs on solids, pads under feet, the taper gauge against its scale."""

import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import islice, product
from math import cos, dist, radians, sin, tan

import pytest
import shapely
from marks_on_parts import ink, mark_faults, measured, polygon, unmeasured
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B, random_jobs

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Outline
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, scale
from jigmaker.job.shop import Machine
from jigmaker.parts.foot_block import foot_block_parts
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
    "inch": leaning(78, 80, unit="in"),
}
MANY_JOBS = JOBS | {f"random {i}": job for i, job in enumerate(islice(random_jobs(seed=57), 40))}
LAYERS = (1, 2, 3, 4, 5)


@cache
def parts_of(name, sheet=9.1):
    shop = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, thickness_mm=sheet))
    return {part.slug: part for part in foot_block_parts(solve(MANY_JOBS[name]), shop)}


def foot_sides(job):
    """The foot's two sides at the floor as vectors: along the wide face, and through the leg to its inner face."""
    a, b = radians(job.rake_deg), radians(job.splay_deg)
    axis, wide = (cos(a) / sin(a), cos(b) / sin(b), -1), (0, sin(b), cos(b))
    narrow = cross(axis, wide)
    line = cross(narrow, (0, 0, 1))
    # The wide face's level line runs along x; a width w, square to the axis, takes w / sin(their angle) of it.
    sine = dist((0, 0, 0), cross(axis, (1, 0, 0))) / dist((0, 0, 0), axis)
    through = scale(line, -job.leg.thickness_mm / sin(b) / line[1])
    return (job.leg.width_mm / sine, 0, 0), through, scale(axis, -1)


def leg(job, lifted=0.0):
    """The lowest 150 mm of the leg at the +x end, +y side; the foot's outer near corner at x = y = 0."""
    along, through, up = foot_sides(job)
    foot = [(0, 0, lifted), add((0, 0, lifted), along), add((0, 0, lifted), through)]
    foot.append(add(foot[1], through))
    return Solid.hull(foot + [add(corner, scale(up, 150)) for corner in foot])


def faces(job):
    """(name, middle of the face at the floor, horizontal direction out of it) of all four faces."""
    along, through, _ = foot_sides(job)
    out = (-through[1], through[0])  # turned a quarter: square to the narrow edge's level line
    size = dist((0, 0), out)
    end = (out[0] / size, out[1] / size) if out[0] > 0 else (-out[0] / size, -out[1] / size)
    middle = scale(add(along, through), 0.5)
    half_along, half_through = scale(along, 0.5), scale(through, 0.5)
    return [
        ("outer", add(middle, scale(half_through, -1)), (0.0, 1.0)),
        ("inner", add(middle, half_through), (0.0, -1.0)),
        ("far end", add(middle, half_along), end),
        ("near end", add(middle, scale(half_along, -1)), (-end[0], -end[1])),
    ]


def at_height(middle, job, height):
    return add(middle, scale(foot_sides(job)[2], height))


def approach(middle, out, askew_deg, away):
    """The block's frame, its nose tip `away` from the middle of the face, pushed along -out turned by askew_deg."""
    c, s = cos(radians(askew_deg)), sin(radians(askew_deg))
    toward = (-(out[0] * c - out[1] * s), -(out[0] * s + out[1] * c), 0.0)
    side = (-toward[1], toward[0], 0.0)
    tip = add((middle[0], middle[1], 0.0), scale(toward, -away))
    return tip, Frame((0.0, 0.0, 0.0), toward, side, (0.0, 0.0, 1.0))


def solids(parts, layers, nose_outline=None):
    """(nose beyond the body, body of all layers), part frame, on the floor."""
    nose, plain = parts["foot-block-nose"], parts["foot-block-layer"]
    thickness, outline = nose.thickness_mm, nose_outline or nose.outline
    whole = Solid.prism(outline, [], thickness).moved((0, 0, (layers - 1) * thickness))
    block = Solid.block((0, 0, 0), (*plain.outline.bounds[2:], layers * thickness))
    return whole.minus(block), block


def touch(moving, target, frame, tip_in_part, tip):
    """How far the moving solid, its tip set back 60 mm from `tip`, can go along the frame's x before it touches."""
    start = add(add(tip, scale(frame.direction(tip_in_part), -1)), scale(frame.x_axis, -60))
    placed = moving.placed(Frame(start, frame.x_axis, frame.y_axis, frame.z_axis))
    low, high = 0.0, 120.0
    for _ in range(18):
        middle = (low + high) / 2
        hit = placed.moved(scale(frame.x_axis, middle)).common(target).volume > 1e-6
        low, high = (low, middle) if hit else (middle, high)
    return low, placed


def pushed(job, parts, layers, askew_deg, face, outline=None, lifted=0.0):
    """(how far the nose goes, how far the body would go) against one face; mm."""
    _, middle, out = face
    nose, body = solids(parts, layers, outline)
    height = max(layers * parts["foot-block-nose"].thickness_mm - lifted, 0.0)
    tip, frame = approach(at_height(middle, job, height), out, askew_deg, 0.0)
    reach = (outline or parts["foot-block-nose"].outline).bounds[2]
    target = leg(job, lifted)
    return [touch(part, target, frame, (reach, 30.0, 0.0), tip)[0] for part in (nose, body)]


@pytest.mark.parametrize("name", JOBS)
def test_the_nose_meets_the_leg_before_the_body_at_every_height(name):
    """All four faces, leaning in and out, square and 10 degrees off either way: the body stays 1 mm clear or more."""
    job, parts = JOBS[name], parts_of(name)
    for layers, askew, face in product(LAYERS, (-10, 0, 10), faces(job)):
        nose, body = pushed(job, parts, layers, askew, face)
        assert body > nose + 1, (layers, askew, face[0])


@pytest.mark.parametrize("name", ["demo", "a", "b", "60/60"])
def test_the_knife_reaches_over_the_nose(name):
    """Square to a face the nose's top stands off at most one sheet times the cotangent of the flatter angle."""
    job, parts = JOBS[name], parts_of(name)
    flattest = min(job.rake_deg, job.splay_deg)
    for layers, face in product(LAYERS, faces(job)):
        nose, _ = pushed(job, parts, layers, 0, face)
        assert -0.01 <= 60 - nose <= 9.1 / tan(radians(flattest)) + 0.01


def test_a_nose_without_its_spare_reach_lets_the_body_touch():
    """The failing twin: h cot b alone, pushed 10 degrees askew at full height, and the body's corner is in the way."""
    parts = parts_of("demo")
    reach = 45.5 / tan(radians(78))
    short = Outline.from_points([(0, 0), (80, 0), (80 + reach, 26), (80 + reach, 34), (80, 60), (0, 60)])
    nose, body = pushed(DEMO, parts, 5, 10, faces(DEMO)[0], short)
    assert body <= nose + 0.5


def test_nose_length_of_three_jobs():
    """h_max cot(min) + 30 tan 10 + 2 by hand: 17.0, 20.3 and 19.5 mm."""
    lengths = [parts_of(name)["foot-block-nose"].outline.bounds[2] - 80 for name in ("demo", "a", "b")]
    assert lengths == pytest.approx([16.96, 20.34, 19.48], abs=0.01)


@pytest.mark.parametrize("sheet", [6.0, 9.1, 12.2])
def test_scribing_heights_are_whole_sheets_to_the_noses_top(sheet):
    """The stack's own placements carry the nose's top face to the greatest height told."""
    parts = parts_of("demo", sheet)
    nose, plain = parts["foot-block-nose"], parts["foot-block-layer"]
    told = [s.value for s in nose.settings if s.name.startswith("scribing height")]
    assert told == pytest.approx([sheet * count for count in LAYERS])
    tops = [place.assembly_from_part.origin[2] + sheet for part in (plain, nose) for place in part.placements]
    assert tops == pytest.approx(told)
    assert plain.needed == 4


@pytest.mark.parametrize("turned", ["over along", "over across", "end for end"])
def test_a_turned_layer_does_not_go_on_the_dowels(turned):
    """At least one dowel then meets wood: no hole of the turned layer is nearer than a dowel's width."""
    turns = {
        "over along": lambda x, y: (x, 60 - y),
        "over across": lambda x, y: (80 - x, y),
        "end for end": lambda x, y: (80 - x, 60 - y),
    }
    for slug in ("foot-block-nose", "foot-block-layer"):
        centres = [hole.contour.centre for hole in parts_of("demo")[slug].holes]
        assert len(centres) == 2
        misses = [min(dist(turns[turned](*at), other) for other in centres) for at in centres]
        assert max(misses) > 6.1


@pytest.mark.parametrize(("cutter", "dowel"), [(3.175, 6), (6.35, 8), (8.5, 10), (10.5, 12), (12.0, 16)])
def test_dowels_are_of_a_rod_that_is_sold(cutter, dowel):
    """6, 8, 10, 12 and 16 mm (common practice, no source), the first over the cutter; the hole 0.1 mm wider."""
    shop = replace(DEMO_SHOP, machine=Machine("cnc", cutter))
    layer = next(part for part in foot_block_parts(solve(DEMO), shop) if part.slug == "foot-block-layer")
    assert [2 * hole.contour.radius for hole in layer.holes] == pytest.approx([dowel + 0.1] * 2)


@pytest.mark.parametrize("name", MANY_JOBS)
def test_pads_lie_inside_the_foot(name):
    """Set in the middle of the foot's parallelogram, clear of every edge, and never over 60 mm."""
    job, pad = MANY_JOBS[name], parts_of(name)["foot-pad"]
    along, through, _ = foot_sides(job)
    foot = shapely.Polygon([(0, 0), along[:2], add(along, through)[:2], through[:2]])
    _, _, long, deep = pad.outline.bounds
    x, y = foot.centroid.coords[0]
    lying = shapely.box(x - long / 2, y - deep / 2, x + long / 2, y + deep / 2)
    assert foot.contains(lying)
    assert foot.boundary.distance(lying) >= 1.4
    assert max(long, deep) <= 60
    assert (pad.needed, pad.spares) == (3, 1)


def pad_under(job, long, deep):
    along, through, _ = foot_sides(job)
    x, y, _ = scale(add(along, through), 0.5)
    return Solid.block((x - long / 2, y - deep / 2, 0), (x + long / 2, y + deep / 2, 9.1))


@pytest.mark.parametrize(("size", "stopped_at"), [((60, 28), []), ((60, 60), [4, 5])])
def test_the_block_comes_up_to_a_leg_on_its_pad(size, stopped_at):
    """With the nose against the outer face a pad inside the foot is never in the way; 60 x 60 stops the high stacks."""
    parts, stopped = parts_of("demo"), []
    assert parts["foot-pad"].outline.bounds[2:] == (60, 28)
    _, middle, out = faces(DEMO)[0]
    for layers in LAYERS[1:]:
        nose, _ = pushed(DEMO, parts, layers, 0, faces(DEMO)[0], lifted=9.1)
        _, body = solids(parts, layers)
        tip, frame = approach(at_height(middle, DEMO, (layers - 1) * 9.1), out, 0, 0.0)
        reach = parts["foot-block-nose"].outline.bounds[2]
        to_pad, _ = touch(body, pad_under(DEMO, *size), frame, (reach, 30.0, 0.0), tip)
        stopped += [layers] if to_pad < nose else []
    assert stopped == stopped_at


def thickness_at(gauge, x):
    """The gauge's height at x, from its outline."""
    return shapely.Polygon(gauge.outline.points()).intersection(shapely.LineString([(x, -1), (x, 20)])).length


def figure_mm(text):
    """A mark's figure in mm: "7", or "5/16" of an inch."""
    return float(Fraction(text) * Fraction(254, 10)) if "/" in text else float(text)


def readings(part):
    """(figure in mm, x of the nearest score, dots under a figure left aside, to its ends or its middle)."""
    boxes = [ink(mark).bounds for mark in part.marks if not mark.text]
    scores = [low_x for low_x, low_y, high_x, high_y in boxes if low_x == high_x and high_y - low_y > 1.5]
    for mark in part.marks:
        if re.match(r"\d", mark.text):
            low, _, high, _ = ink(mark).bounds
            yield (
                figure_mm(mark.text),
                min(scores, key=lambda x: min(abs(x - at) for at in (low, (low + high) / 2, high))),
            )


@pytest.mark.parametrize(("name", "figures"), [("demo", range(2, 12)), ("inch", [25.4 * k / 16 for k in range(1, 8)])])
def test_the_taper_gauge_reads_what_it_is_thick(name, figures):
    """Laid under its scale: 3.0 where it is 3.00 thick, and so at every figure of gauge and scale."""
    parts = parts_of(name)
    gauge, found = parts["taper-gauge"], dict(readings(parts["taper-scale"]))
    assert sorted(found) == pytest.approx(list(figures))
    for told, x in [*found.items(), *readings(gauge)]:
        assert thickness_at(gauge, x) == pytest.approx(told, abs=1e-9)
    assert thickness_at(gauge, 40) == pytest.approx(3.0, abs=1e-9)
    told = {setting.name: setting.value for setting in gauge.settings}
    assert told["taper of the gauge"] == pytest.approx(2.862405, abs=1e-6)  # atan 0.05
    assert told["thin end"] == pytest.approx(thickness_at(gauge, 0.0)) and told["thick end"] > max(figures)


def test_scores_stand_every_ten_millimetres():
    """1 in 20: half a millimetre of thickness each, from 1.5 to 11."""
    boxes = [ink(mark).bounds for mark in parts_of("demo")["taper-scale"].marks if not mark.text]
    scores = sorted(low for low, _, high, _ in boxes if low == high)
    assert scores == pytest.approx(range(10, 210, 10))


@pytest.mark.parametrize(("name", "is_over"), [("demo", False), ("inch", True)])
def test_a_figure_stands_right_of_its_score_where_there_is_room(name, is_over):
    """Of 10 mm from score to score a figure of millimetres takes less than half; "7/16" takes more than the 7.9 mm of a
    sixty-fourth, so it stands left of its score, over shorter ones.
    """
    marks = [mark for mark in parts_of(name)["taper-gauge"].marks if re.match(r"\d", mark.text)]
    said = [(ink(mark).bounds, (figure_mm(mark.text) - 1) * 20) for mark in marks]
    assert len(said) > 1
    assert all(high < x if is_over else x < low < high < x + 10 for (low, _, high, _), x in said)


def test_the_gauge_lies_under_the_line_on_its_scale():
    """Placed against the scale its slope falls on the scored line, flush below and at the thick end."""
    parts = parts_of("demo")
    gauge, scale_part = parts["taper-gauge"], parts["taper-scale"]
    shift = [part.placements[0].assembly_from_part.origin[:2] for part in (gauge, scale_part)]
    assert shift[0] == shift[1]
    line = max((ink(mark) for mark in scale_part.marks if not mark.text), key=lambda lines: lines.length)
    assert line.hausdorff_distance(line.intersection(shapely.Polygon(gauge.outline.points()).buffer(1e-9))) < 1e-6
    assert line.distance(shapely.Polygon(gauge.outline.points()).boundary) < 1e-9
    assert polygon(scale_part).bounds[2] == polygon(gauge).bounds[2]


@pytest.mark.parametrize("name", JOBS)
def test_marks_are_inside_clear_and_apart(name):
    """Shapely on the strokes of every part, in millimetres and in inches."""
    for part in parts_of(name).values():
        assert mark_faults(part) == []
        assert part.marks


@pytest.mark.parametrize("name", MANY_JOBS)
def test_every_piece_is_a_feature_with_the_right_figure(name):
    """Features measured from the coordinates."""
    for part in parts_of(name).values():
        assert not unmeasured(part)
        for feature in part.features:
            assert measured(part, feature) == pytest.approx(feature.value, abs=1e-9), feature
