"""Every picture of the bench for kits of all kinds: on its page, legible, unmirrored, in the user's unit; paper mm."""

import math
import re
from dataclasses import replace
from functools import cache

import pytest
import shapely
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, HAND_SHOP, JOB_A
from sample_variants import JOBS, SHOPS

from jigmaker.geometry.outline import Circle, bounds_of
from jigmaker.geometry.solid import Solid
from jigmaker.job.shop import LegSaw
from jigmaker.papers.pictures.brace import brace_picture
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN
from jigmaker.papers.pictures.first_off import first_off_picture
from jigmaker.papers.pictures.gluing import gluing_picture
from jigmaker.papers.pictures.horn import horn_picture
from jigmaker.papers.pictures.jig_bodies import on_plate, slot_corners
from jigmaker.papers.pictures.jig_exploded import jig_exploded_picture
from jigmaker.papers.pictures.jig_on_board import beside_each_other, feed, jig_on_board_picture, operator_view
from jigmaker.papers.pictures.leaning_back import leaning_back_picture
from jigmaker.papers.pictures.leg_box import leg_box_apart_picture, leg_box_picture
from jigmaker.papers.pictures.leg_turning import leg_turning_picture
from jigmaker.papers.pictures.levelling import levelling_bodies, levelling_picture
from jigmaker.papers.pictures.press import press_picture
from jigmaker.papers.pictures.router_set import router_set_picture
from jigmaker.papers.pictures.saw import saw_picture
from jigmaker.papers.pictures.saw_out_waste import saw_out_waste_picture
from jigmaker.papers.pictures.stock import stock_picture
from jigmaker.papers.pictures.tape_checks import tape_checks_picture
from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.papers.pictures.words import words_picture
from jigmaker.parts.kit import make_kit
from jigmaker.parts.leg_saw.leg_saw import leg_saw_parts
from jigmaker.trestle.solve import solve

CASES = {
    "demo": (DEMO, DEMO_SHOP),
    "a, bearing": (JOB_A, BEARING_SHOP),
    "inches": (JOBS["inches"], DEMO_SHOP),
    "90/78, one hand": (JOBS["90/78"], SHOPS["laser, bush, one hand"]),
    "78/90, cnc": (JOBS["78/90"], SHOPS["cnc, bush, two slots"]),
}
PICTURES = {
    "trestle": lambda kit: trestle_picture(kit.trestle),
    "jig on board R": lambda kit: jig_on_board_picture(kit, "R"),
    "jig on board L": lambda kit: jig_on_board_picture(kit, "L"),
    "jig on board, pair, R": lambda kit: beside_each_other(kit, "R"),
    "jig on board, pair, L": lambda kit: beside_each_other(kit, "L"),
    "jig exploded": jig_exploded_picture,
    "leg flat": lambda kit: saw_picture(kit.trestle, "leg flat"),
    "leg on edge": lambda kit: saw_picture(kit.trestle, "leg on edge"),
    "brace end": lambda kit: saw_picture(kit.trestle, "brace end"),
    "leg turning": lambda kit: leg_turning_picture(kit.trestle),
    "saw out waste": lambda kit: saw_out_waste_picture(kit.trestle),
    "first-off": lambda kit: first_off_picture(kit.trestle),
    "levelling": levelling_picture,
    "tape checks": tape_checks_picture,
    "brace": lambda kit: brace_picture(kit.trestle),
    "router set": router_set_picture,
    "gluing": lambda kit: gluing_picture(kit.trestle),
    "horn": lambda kit: horn_picture(kit.trestle),
    "press": lambda kit: press_picture(kit.trestle),
    "leaning back": leaning_back_picture,
    "words": lambda kit: words_picture(kit.trestle),
    "stock": lambda kit: stock_picture(kit.trestle),
    "leg box": lambda kit: leg_box_picture(with_leg_box(kit)),
    "leg box apart": lambda kit: leg_box_apart_picture(with_leg_box(kit)),
}


def with_leg_box(kit):
    """The kit's trestle and machine, its legs sawn by hand."""
    shop = replace(kit.shop, hand_saw=HAND_SHOP.hand_saw, leg_saw=LegSaw("hand"))
    return replace(kit, shop=shop, parts=leg_saw_parts(kit.trestle, shop))


MM_CASES = [case for case in CASES if case != "inches"]
ALL = [(case, name) for case in MM_CASES for name in PICTURES]
WIDEST_MM = 180.0
ANGLE = re.compile(r"(\d+\.\d\d)° off [a-z' ]+ \((\d+\.\d\d)° off [a-z' ]+\)")


@cache
def kit_of(case):
    job, shop = CASES[case]
    return make_kit(solve(job), shop)


@cache
def picture_of(case, name):
    return PICTURES[name](kit_of(case))


def boxes(picture):
    """The box round the letters of each label."""
    return [shapely.box(*bounds_of(label.strokes)) for label in picture.labels]


def lines(picture, *layers):
    return [
        shapely.LineString(drawn.shape.points(8))
        for drawn in picture.shapes
        if drawn.layer in layers and not isinstance(drawn.shape, Circle)
    ]


def words_of(picture):
    """All words in one line, as they follow each other in their blocks."""
    return " ".join(label.text for label in picture.labels)


@pytest.mark.parametrize(("case", "name"), ALL)
def test_everything_is_on_the_page(case, name):
    """Several lines and a name, a page no wider than the paper's text, nothing beyond its edges."""
    picture = picture_of(case, name)
    low_x, low_y, high_x, high_y = picture.bounds
    assert min(low_x, low_y) >= 1.9
    assert high_x <= picture.width_mm - 1.9 and high_y <= picture.height_mm - 1.9
    assert picture.width_mm <= WIDEST_MM
    assert len(picture.shapes) >= 8 and picture.labels and picture.title


@pytest.mark.parametrize(("case", "name"), ALL)
def test_words_can_be_read(case, name):
    """Level letters 2.5 mm or higher that no other words and no line runs through."""
    picture = picture_of(case, name)
    assert {label.turn_deg for label in picture.labels} == {0.0}
    assert min(label.height_mm for label in picture.labels) >= 2.5
    assert in_the_way(picture) == []


def in_the_way(picture):
    """Words that other words or a line run through, or nearly."""
    found, drawn = boxes(picture), shapely.union_all(lines(picture, OUTLINE, THIN, BROKEN))
    over = [i for i, box in enumerate(found) if any(box.intersects(other) for other in found[:i])]
    over += [i for i, box in enumerate(found) if drawn.distance(box) < 0.2]
    return [picture.labels[i].text for i in over]


def test_words_in_the_way_are_found():
    """The check above can fail: a word moved on to another, and one moved on to a line."""
    picture = picture_of("demo", "brace")
    first, second, *rest = picture.labels
    on_words = replace(second, at=first.at)
    assert in_the_way(replace(picture, labels=(first, on_words, *rest))) == [second.text]
    on_line = replace(first, at=picture.shapes[0].shape.segments[0].start)
    assert in_the_way(replace(picture, labels=(on_line, second)))[:1] == [first.text]


@pytest.mark.parametrize(("case", "name"), ALL)
def test_lines_are_black_and_of_two_widths(case, name):
    """Outlines of 0.5 mm, thin lines of 0.25: legible in black and white at arm's length."""
    picture = picture_of(case, name)
    used = {drawn.layer for drawn in picture.shapes}
    widths = {layer.name: layer.width_mm for layer in picture.layers}
    assert {layer.colour for layer in picture.layers} == {"#000000"}
    assert OUTLINE in used and {widths[name] for name in used} <= {0.5, 0.25}


@pytest.mark.parametrize(("case", "name"), ALL)
def test_angles_are_told_twice(case, name):
    """Every angle says what it is off, with its complement; the two add up to 90 as printed."""
    words = words_of(picture_of(case, name))
    pairs = ANGLE.findall(words)
    assert 2 * len(pairs) == words.count("°")
    assert [float(a) + float(b) for a, b in pairs] == [90.0] * len(pairs)


@pytest.mark.parametrize("name", PICTURES)
def test_an_inch_job_reads_in_inches(name):
    """No millimetre on any picture of a job in inches; the same picture in mm has no inch sign."""
    assert " mm" not in words_of(picture_of("inches", name))
    assert '"' not in words_of(picture_of("demo", name))


@pytest.mark.parametrize("name", PICTURES)
def test_same_kit_same_picture(name):
    """Made again it is the same, to the last digit."""
    assert PICTURES[name](kit_of("demo")) == picture_of("demo", name)


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("leg flat", "mitre 11.75° off square (78.25° off the fence), far end toward the foot"),
        ("leg flat", "blade 12.00° off upright (78.00° off the table), top toward the head"),
        ("brace end", "mitre 11.75° off square (78.25° off the fence), far end toward the brace"),
        ("brace end", "blade 2.48° off upright (87.52° off the table), top toward the waste"),
        ("saw out waste", "78.50° off the top arris (11.50° off square)"),
        ("brace", "78.00° off the face (12.00° off square)"),
        ("trestle", "top board 900 mm × 120 mm × 45 mm"),
        ("first-off", "start, bottom arris: 111 mm"),
    ],
)
def test_the_demo_says_its_figures(name, wanted):
    """Figures of the check job, worked out by hand from 78 and 78 degrees and measured on solids in other tests."""
    assert wanted in words_of(picture_of("demo", name))


@pytest.mark.parametrize("case", ["demo", "90/78, one hand"])
def test_each_hand_has_its_own_picture(case):
    """R and L: other lines, other words; the stop at the operator's right for R, at the left for L."""
    right, left = (picture_of(case, f"jig on board {hand}") for hand in "RL")
    assert right.shapes != left.shapes
    assert "stop at your right" in words_of(right) and "stop at your left" in words_of(left)
    for hand, picture in (("R", right), ("L", left)):
        stop = next(label for label in picture.labels if label.text.startswith("stop at"))
        assert (stop.at[0] > picture.width_mm / 2) == (hand == "R")


@pytest.mark.parametrize("case", ["demo", "a, bearing", "90/78, one hand"])
@pytest.mark.parametrize("hand", ["R", "L"])
def test_the_feed_runs_clockwise_where_the_bush_can_go(case, hand):
    """Clockwise as the operator sees it, within the slot less the bush's radius: common practice, no source."""
    kit = kit_of(case)
    corners = slot_corners(kit, hand)
    view = operator_view(hand)
    seen = shapely.LinearRing([view.point(on_plate(kit, hand, p)) for p in corners])
    assert not seen.is_ccw
    plate = next(part for part in kit.parts if f"slot {hand}" in {hole.name for hole in part.holes})
    slot = shapely.Polygon(plate.contour(f"slot {hand}").points(64))
    reach = slot.buffer(-kit.shop.hand_router.bush_mm / 2, join_style="mitre", mitre_limit=20)
    assert shapely.Polygon(corners).symmetric_difference(reach).area < 0.01 * reach.area
    way = shapely.LineString(feed(corners))
    assert reach.contains(way) and reach.exterior.distance(way) > 1.0
    assert not shapely.LinearRing([view.point(on_plate(kit, hand, p)) for p in feed(corners)[:4]]).is_ccw


@pytest.mark.parametrize("case", MM_CASES)
def test_the_nose_is_at_the_leg(case):
    """In the levelling picture nose and leg touch, no layer and no pencil is in the wood, all stand on the floor."""
    bodies = {body.name: body.solid for body in levelling_bodies(kit_of(case))}
    leg, floor = bodies.pop("leg"), bodies.pop("floor")
    assert bodies["foot block nose"].gap(leg, 10.0) == pytest.approx(0, abs=0.5)
    assert max(leg.common(solid).volume for solid in bodies.values()) < 60.0  # the pencil's rim
    assert Solid.union([leg, *bodies.values()]).bounds[0][2] == pytest.approx(floor.bounds[1][2], abs=1e-6)


@pytest.mark.parametrize("case", MM_CASES)
def test_pictures_are_of_a_size_for_files(case):
    """Collinear runs are one stroke: no picture has more than 500 lines."""
    assert max(len(picture_of(case, name).shapes) for name in PICTURES) < 500


def test_sections_of_thick_timber_leave_room_below_them():
    """A board no wider than its legs are: drawn as wide as the demo's, its sections would take half a sheet."""
    high = picture_of("demo", "stock").height_mm
    thick = replace(
        DEMO,
        top=replace(DEMO.top, width_mm=95.0),
        leg=replace(DEMO.leg, width_mm=95.0, thickness_mm=45.0),
        housing=replace(DEMO.housing, reveal_mm=9.0),
    )
    assert stock_picture(solve(thick)).height_mm < high + 2.0


def test_the_first_off_is_measured_where_its_figures_are():
    """Arrows from a leader's end both ways, at the scale of the board's edge (45 mm between the folds), are as long as
    the demo's width 70.15 (leg and clearance), starts 119.92 and 110.77 and depths 32.71 and 23.15, by plane cuts on
    solids; so both starts end at the near wall."""
    picture = picture_of("demo", "first-off")
    strokes = [drawn.shape.points(1) for drawn in picture.shapes if drawn.layer == THIN]
    dots = [drawn.shape.centre for drawn in picture.shapes if isinstance(drawn.shape, Circle)]
    edge = max(line[0][1] for line in strokes[:4]) - min(line[0][1] for line in strokes[:4])
    lengths = []
    for dot in dots:
        ways = [line for line in strokes if len(line) == 2 and math.dist(line[0], dot) < 1e-6]
        assert len(ways) == 2
        lengths.append(sum(math.dist(*line) for line in ways) * DEMO.top.thickness_mm / edge)
    assert sorted(lengths) == pytest.approx([23.15, 32.71, 70.15, 110.77, 119.92], abs=0.2)


def test_the_scrap_under_the_router_is_the_boards():
    """Its edge is one plane, cut by its housing: by hand it falls by cot 78 * cos 78.25 = 0.0433 across the slot. Wood
    is left below the floor."""
    ring = lines(picture_of("demo", "router set"), OUTLINE)[0]
    upper = {round(x, 6): max(y for px, y in ring.coords if abs(px - x) < 1e-6) for x, _ in ring.coords}
    left, near, far, right = sorted(upper.items())
    for (ax, ay), (bx, by) in ((left, near), (near, far), (far, right)):
        assert (by - ay) / (bx - ax) == pytest.approx(-0.0433, abs=5e-4)
    floor = sorted({round(y, 6) for _, y in ring.coords})[1]
    assert shapely.Polygon(ring).is_valid and ring.bounds[1] < floor - 2.0


@pytest.mark.parametrize("hand", ["R", "L"])
def test_a_picture_of_the_jig_alone_names_everything(hand):
    """Whoever sees one hand only, as in the index, reads all names; beside R's picture L's has what differs."""
    alone, second = (words_of(picture_of("demo", name)) for name in (f"jig on board {hand}", "jig on board, pair, L"))
    for name in ("stop at your", "top face toward", "two clamps from", "router, parked", "feed", "plate", "fence on"):
        assert name in alone, name
    assert "two clamps" not in second and "stop at your left" in second


@pytest.mark.parametrize("case", MM_CASES)
def test_face_and_section_of_the_brace_stand_apart(case):
    """Side by side, as high as each other: one scale, and room for a name between them."""
    face, section = lines(picture_of(case, "brace"), OUTLINE)[:2]
    assert section.bounds[0] - face.bounds[2] > 5.0
    assert section.bounds[3] - section.bounds[1] == pytest.approx(face.bounds[3] - face.bounds[1], rel=0.2)


@pytest.mark.parametrize("case", MM_CASES)
def test_the_leg_box_names_all_its_pieces(case):
    """Apart: both walls, both strips, the bottom; at work: leg, wall, saw. Without tilt a brace's ends are square."""
    apart, at_work = (words_of(picture_of(case, name)).lower() for name in ("leg box apart", "leg box"))
    assert apart.count("strip") == 2 and all(name in apart for name in ("far wall", "near wall", "bottom"))
    assert all(name in at_work for name in ("leg:", "near wall", "hand saw"))
    assert "blade" not in words_of(brace_picture(kit_of(case).trestle, is_tilted=False)).lower()
