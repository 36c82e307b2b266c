"""Drawings against solids cut by planes: every number measured anew; every word clear of every line; on its paper."""

import math
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely
from drawing_layout import collisions, outside, word_boxes
from jig_on_solids import body, plate_of, stop_x
from sample_drawings import CASES, DRAWN, document_of, dxf_of, kit_of, measured, picture_of, shown
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP
from trestle_on_solids import measured_angles, measured_brace, measured_foot, measured_housing, measured_leg

from jigmaker.geometry.outline import Circle, Outline
from jigmaker.geometry.vectors import dot
from jigmaker.job.shop import LegSaw, Paper
from jigmaker.papers.drawings.brace import brace_drawing
from jigmaker.papers.drawings.drawing_set import DRAWINGS, drawing_set
from jigmaker.papers.drawings.housing import housing_drawing
from jigmaker.papers.drawings.leg import leg_drawing
from jigmaker.papers.drawings.whole import trestle_drawing
from jigmaker.trestle.solve import solve
from jigmaker.writers.dxf_drawing import write_drawing_dxf

# Width and height in mm of paper as it is read: A4 and Letter standing, A3 and Tabloid lying (ISO 216, ASME Y14.1).
PAPERS = {"A4": (210.0, 297.0), "A3": (420.0, 297.0), "Letter": (215.9, 279.4), "Tabloid": (431.8, 279.4)}
SCALES = {"2:1": 2, "1:1": 1, "1:2": 1 / 2, "1:5": 1 / 5, "1:10": 1 / 10, "1:20": 1 / 20}
"""ISO 5455."""


def told(job, name, caption):
    """What a field of the title block says: the words next below its caption."""
    boxes = word_boxes(picture_of(job, name))
    (field,) = [box for words, box in boxes if words == caption and box.bounds[3] - box.bounds[1] < 2]
    left, low = field.bounds[0], field.bounds[1]
    below = [
        (low - box.bounds[3], words) for words, box in boxes if abs(box.bounds[0] - left) < 0.1 and box.bounds[3] < low
    ]
    return min(below)[1]


def floor_deg(housing, top):
    """The floor's line on the end, off the top face: it runs out from the depth in one face to that in the other."""
    return math.degrees(math.atan2(top.thickness_mm, housing["depth_top_mm"] - housing["depth_bottom_mm"]))


def expected_board(job):
    housing, angles, top = measured_housing(job), measured_angles(job), job.top
    lengths = [top.length_mm, top.width_mm, top.thickness_mm, housing["depth_top_mm"], housing["depth_bottom_mm"]]
    for start in (housing["start_top_mm"], housing["start_bottom_mm"]):
        near, far = start, start + housing["width_on_arris_mm"]
        lengths += [near, far, top.length_mm - far, top.length_mm - near]
    return lengths, [angles["edge_line_deg"], 90 - angles["edge_twist_deg"], floor_deg(housing, top)]


def expected_housing(job):
    housing, angles = measured_housing(job), measured_angles(job)
    start = housing["start_top_mm"]
    lengths = [start, start + housing["width_on_arris_mm"], job.top.thickness_mm]
    lengths += [housing[key] for key in ("depth_top_mm", "depth_bottom_mm", "width_mm", "depth_square_mm")]
    return lengths, [angles["edge_line_deg"], 90 - angles["edge_twist_deg"], floor_deg(housing, job.top)]


def expected_leg(job):
    leg, angles = measured_leg(job), measured_angles(job)
    lengths = [leg[key] for key in ("width_mm", "thickness_mm", "length_mm", "blank_mm")]
    lengths += [leg["cut_length_mm"]] if job.leg.horn_mm else []
    return lengths, [angles["leg_face_deg"], 90 - angles["leg_edge_deg"]]


def expected_brace(job):
    brace, angles = measured_brace(job), measured_angles(job)
    lengths = [brace[key] for key in ("top_mm", "bottom_mm", "depth_mm", "thickness_mm")]
    return lengths, [angles["brace_end_deg"], angles["brace_edge_deg"]]


def expected_trestle(job):
    foot, angles = measured_foot(job), measured_angles(job)
    lengths = [job.height_mm, job.inset_mm, job.top.length_mm, job.top.width_mm, *foot.values()]
    return lengths, [angles["rake_deg"], angles["splay_deg"]]


def expected_jig(job, kit):
    """Stop planes on the placed solids, plate and slot on its outline, standoff from its underside to the arris."""
    plate, frame, slot = plate_of(kit.parts, "R")
    low_x, low_y, high_x, high_y = plate.outline.bounds
    out = (0.0, math.sin(math.radians(job.splay_deg)), math.cos(math.radians(job.splay_deg)))
    heights = [dot(corner, out) for corner in body(plate).placed(frame).corners]
    stops = stop_x(kit.parts, "R") - stop_x(kit.parts, "L")
    return [stops, high_x - low_x, high_y - low_y, min(heights), slot_width(slot)], [job.splay_deg]


def slot_width(slot):
    """From one of the slot's two long walls square to the other."""
    straight = [s for s in slot.segments if not s.bulge]
    one, other = (s for s in straight if abs(s.end[1] - s.start[1]) > abs(s.end[0] - s.start[0]))
    (ax, ay), (bx, by), (px, py) = one.start, one.end, other.start
    return abs((bx - ax) * (py - ay) - (by - ay) * (px - ax)) / one.length


EXPECTED = {
    "trestle": expected_trestle,
    "top-board": expected_board,
    "housing": expected_housing,
    "leg": expected_leg,
    "brace": expected_brace,
}


def expected(job, name):
    """(lengths in mm, angles in degrees), sorted, measured without the solver."""
    found = expected_jig(DRAWN[job], kit_of(job)) if name == "housing-jig" else EXPECTED[name](DRAWN[job])
    return tuple(sorted(figures) for figures in found)


@pytest.mark.parametrize(("job", "name"), CASES)
def test_every_dimension_measures_the_solid(job, name):
    """DIMENSIONs of the DXF, measured between their own points, against solids: all of them, and no others."""
    lengths, angles = measured(job, document_of(job, name))
    told_lengths, told_angles = expected(job, name)
    assert lengths == pytest.approx(told_lengths, abs=1e-4)
    assert angles == pytest.approx(told_angles, abs=3e-4)  # two bulges of six decimals


def as_read(mm, unit, places):
    """Tenths or hundredths of a mm without trailing zeros, or inches to the nearest 64th."""
    if unit == "mm":
        return f"{round(mm, 6):.{places}f}".rstrip("0").removesuffix(".")
    whole, rest = divmod(round(mm / 25.4 * 64), 64)
    return " ".join(str(part) for part in (whole, Fraction(rest, 64)) if part)


@pytest.mark.parametrize(("job", "name"), CASES)
def test_what_is_shown_is_what_is_measured(job, name):
    """Numbers in the blocks, from the solids' figures; no DIMENSION has words typed over it."""
    document = document_of(job, name)
    lengths, angles = expected(job, name)
    places = 2 if name.startswith("housing") else 1
    wanted = [as_read(mm, DRAWN[job].unit, places) for mm in lengths] + [f"{deg:.2f}°" for deg in angles]
    if DRAWN[job].unit == "in" and name.startswith("housing"):
        # A 64th is more than the whole play of a leg in its housing: what fits is shown as a caliper reads it.
        housing_mm = measured_housing(DRAWN[job])["width_mm"]
        fit_mm = housing_mm if name == "housing" else slot_width(plate_of(kit_of(job).parts, "R")[2])
        wanted[wanted.index(as_read(fit_mm, "in", places))] = f"{fit_mm / 25.4:.4f}"
    assert shown(document) == sorted(wanted)
    assert {entity.dxf.text for entity in document.modelspace().query("DIMENSION")} == {""}


@pytest.mark.parametrize(("job", "name"), CASES)
def test_words_touch_nothing(job, name):
    """No word and no number lies on a line or on other words."""
    assert collisions(picture_of(job, name)) == []


@pytest.mark.parametrize(("job", "name"), CASES)
def test_everything_is_inside_the_frame(job, name):
    """20 mm of margin for filing at the left, 10 mm elsewhere (ISO 5457); paper and scale are those that are told."""
    picture, paper = picture_of(job, name), PAPERS[told(job, name, "paper")]
    assert told(job, name, "paper") == ("Letter" if DRAWN[job].unit == "in" else "A4")  # the shop's own
    assert (picture.width_mm, picture.height_mm) == paper
    assert outside(picture, (20.0, 10.0, paper[0] - 10, paper[1] - 10)) == []
    assert picture.scale == SCALES[told(job, name, "scale")]


@pytest.mark.parametrize(("job", "name"), [case for case in CASES if case[1] != "housing-jig"])
def test_dimensions_start_on_what_is_drawn(job, name):
    """Both ends of every length lie on a corner of an edge that the drawing shows, within a hundredth on paper."""
    picture = picture_of(job, name)
    strokes = [each.shape for each in picture.shapes if each.layer in ("EDGES", "HIDDEN", "DIMENSIONS")]
    corners = shapely.MultiPoint([point for stroke in strokes for point in stroke.points(4)])
    ends = [end for each in picture.dimensions if hasattr(each, "start") for end in (each.start, each.end)]
    assert max(corners.distance(shapely.Point(end)) for end in ends) < 0.01


@pytest.mark.parametrize("job", ["demo", "inches"])
def test_the_title_block_tells_what_is_needed(job):
    """Title, job, number, scale, unit, projection, paper, limits; first angle for mm, third for inches."""
    is_inch = DRAWN[job].unit == "in"
    for i, name in enumerate(DRAWINGS, 1):
        assert told(job, name, "drawing") == f"{i} of 6, kit {kit_of(job).number}"
        assert told(job, name, "job") == "Potting bench"
        assert told(job, name, "sizes in") == ("inches and 64ths" if is_inch else "millimetres")
        assert told(job, name, "projection") == ("third angle" if is_inch else "first angle")
        assert "unless said otherwise" in told(job, name, "limits")


@pytest.mark.parametrize("job", ["demo", "inches"])
def test_the_sign_of_projection_is_a_cut_cone(job):
    """ISO 5456-2, from memory: as long as its large end is wide, twice as wide there as at its small end; both ends are
    seen as rings beside it, in one line with it."""
    block = [
        each.shape for each in picture_of(job, "leg").shapes if each.layer == "EDGES" and each.shape.bounds[3] < 42
    ]
    rings = [shape for shape in block if isinstance(shape, Circle)]
    (cone,) = (shape for shape in block if isinstance(shape, Outline))
    low_x, low_y, high_x, high_y = cone.bounds
    small, large = sorted(2 * ring.radius for ring in rings)
    assert high_y - low_y == pytest.approx(large) == pytest.approx(high_x - low_x) == pytest.approx(2 * small)
    assert rings[0].centre == rings[1].centre and rings[0].centre[1] == pytest.approx((low_y + high_y) / 2)
    ends = (
        sorted(y for x, y in cone.corners if abs(x - low_x) < 1e-6),
        sorted(y for x, y in cone.corners if x > low_x + 1),
    )
    assert [round(end[1] - end[0], 6) for end in ends] == pytest.approx([small, large])


def test_first_and_third_angle_put_the_end_on_the_other_side():
    """ISO 5456-2: first angle shows at the right what is seen from the left; third angle shows it at the left."""
    places = {}
    for job, size in (("demo", "A3"), ("inches", "Tabloid")):
        boxes = dict(word_boxes(trestle_drawing(kit_of(job).trestle, Paper(size))))
        places[job] = boxes["end"].centroid.x - boxes["side"].centroid.x
        assert (boxes["from above"].centroid.y < boxes["side"].centroid.y) == (job == "demo")
    assert places["demo"] > 0 > places["inches"]


@pytest.mark.parametrize(("job", "size"), [("demo", "A4"), ("inches", "Letter")])
def test_small_paper_has_the_trestle_at_one_to_ten(job, size):
    """Side and end below each other; the view from above, which tells no size, is left out for that."""
    picture = trestle_drawing(kit_of(job).trestle, Paper(size))
    assert picture.scale == 0.1 and collisions(picture) == []
    assert {"side", "end"} < set(dict(word_boxes(picture))) and "from above" not in dict(word_boxes(picture))


def test_a_shallow_housing_s_depth_stands_clear_of_the_end():
    """At 1:5 a depth's number stands below its line, toward the words of the end's angle."""
    top, leg = replace(DEMO.top, length_mm=700.0, width_mm=95.0), replace(DEMO.leg, width_mm=95.0, thickness_mm=45.0)
    job = replace(DEMO, height_mm=500.0, rake_deg=76.0, splay_deg=76.0, top=top, leg=leg)
    picture = housing_drawing(solve(replace(job, housing=replace(DEMO.housing, reveal_mm=9.0))))
    boxes = dict(word_boxes(picture))
    assert picture.scale == 0.2 and boxes["25.88"].distance(boxes["off the top face"]) > 2.0


@pytest.mark.parametrize(("job", "name"), CASES)
def test_the_librarys_audit_has_nothing_to_repair(job, name):
    """Of every file."""
    audit = document_of(job, name).audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_drawn_again_it_is_the_same_bytes():
    """Every drawing of one job."""
    again = drawing_set(kit_of("inches"))
    assert {name: write_drawing_dxf(picture, "in") for name, picture in again.items()} == {
        name: dxf_of("inches", name) for name in again
    }


def test_a_word_on_a_line_is_found():
    """The check above can fail: every number moved onto its own dimension line."""
    picture = picture_of("demo", "leg")
    labels = tuple(replace(label, at=(label.at[0], label.at[1] + 3.0)) for label in picture.labels)
    assert len(collisions(replace(picture, labels=labels))) > 2


SAWS = {
    "hand": (LegSaw("hand"), "SAWN BY HAND IN THE LEG BOX", "THE BOARD NEVER TURNED"),
    # The demo's cradle, proved on solids of another kernel: swing 11.4849, slope 12.2489.
    "cradle": (LegSaw("plain", 70.0), "MITRE 11.48° OFF SQUARE (78.52° OFF THE FENCE)", "THE LEG TURNED BETWEEN"),
    "no cradle": (LegSaw("plain", 40.0), "BOTH ENDS MARKED WITH THE BEVEL,", "THE LEG TURNED BETWEEN"),
}


@pytest.mark.parametrize("saw", SAWS)
def test_leg_and_brace_are_told_as_the_shops_saw_makes_them(saw):
    """Where no saw tilts no drawing tells a blade's tilt; no word lies on a line or on another."""
    leg_saw, words, turned = SAWS[saw]
    shop = replace(HAND_SHOP, leg_saw=leg_saw)
    leg, brace = leg_drawing(solve(DEMO), shop), brace_drawing(solve(DEMO), shop)
    for picture in (leg, brace):
        said = [text.upper() for text, _ in word_boxes(picture)]
        assert not [text for text in said if "BLADE" in text or "UPRIGHT" in text]
        assert collisions(picture) == []
    said = [text.upper() for text, _ in word_boxes(leg)]
    assert words in said and any(text.endswith(turned) for text in said)
    assert "ENDS SAWN SQUARE TO THE INSIDE FACE, ALONG THEIR LINES" in [t.upper() for t, _ in word_boxes(brace)]
    tilting = [text.upper() for text, _ in word_boxes(leg_drawing(solve(DEMO), DEMO_SHOP))]
    assert "BLADE 12.00° OFF UPRIGHT (78.00° OFF THE TABLE)" in tilting
