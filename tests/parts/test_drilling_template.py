"""The drilling template on solids: on legs of both hands its holes are the trestle's screws, and wrong use shows."""

from dataclasses import replace
from functools import cache
from itertools import combinations

import pytest
import shapely
from marks_on_parts import mark_faults, text_box
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, JOB_A, JOB_B, a_job, random_jobs
from template_on_solids import bodies, hole_places, leg_here, plate, timber_from_template, turned_over, whole

from jigmaker.findings import errors_in
from jigmaker.geometry.segments import segment_gap
from jigmaker.geometry.simple import crossings
from jigmaker.geometry.vectors import length, subtract
from jigmaker.job.shop import KitChoices, Machine
from jigmaker.parts.drilling_template import check_drilling_template, drilling_template_parts, lay_out_template
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.fixings import fixings
from jigmaker.trestle.solve import solve

SHOP = replace(DEMO_SHOP, kit=KitChoices(also=("drilling template",)))
CNC = replace(SHOP, sheet=replace(SHOP.sheet, thickness_mm=12.0), machine=Machine("cnc", 6.35))
NOTHING_MM3 = 1e-3
RANDOM_JOBS = 8

HORNED = replace(DEMO, leg=replace(DEMO.leg, horn_mm=6.0, trim_mm=20.0), housing=replace(DEMO.housing, reveal_mm=2.0))
ONE = a_job(720, (78, 78), 120, (900, 96, 36), (70, 32))
LEVEL = a_job(720, (78, 78), 120, (900, 120, 36), (70, 32))
NARROW = a_job(720, (78, 78), 120, (900, 120, 45), (31, 32))
CASES = {
    "demo": (DEMO, SHOP),
    "a": (JOB_A, SHOP),
    "b": (JOB_B, SHOP),
    "60/86": (replace(DEMO, rake_deg=60, splay_deg=86), SHOP),
}
CASES |= {"90/75": (replace(DEMO, rake_deg=90, splay_deg=75), SHOP), "horn": (HORNED, SHOP), "cnc": (DEMO, CNC)}
CASES |= {"one screw": (ONE, SHOP), "at one height": (LEVEL, SHOP)}
CASES |= {f"random {i}": i for i in range(RANDOM_JOBS)}
every_case = pytest.mark.parametrize("name", CASES)


@cache
def drawn_jobs():
    """Random jobs whose legs take screws, and on which the template finds room."""
    kept = []
    for job in random_jobs(seed=41):
        trestle = solve(job)
        if not errors_in(check_trestle(trestle)) and drilling_template_parts(trestle, SHOP):
            kept.append((job, SHOP))
        if len(kept) == RANDOM_JOBS:
            return kept
    raise AssertionError("unreachable")


@cache
def made(name):
    """(job, shop, layout, the template's parts)."""
    job, shop = drawn_jobs()[CASES[name]] if isinstance(CASES[name], int) else CASES[name]
    trestle = solve(job)
    return job, shop, lay_out_template(trestle, shop), drilling_template_parts(trestle, shop)


@every_case
def test_its_pieces_go_together_and_lie_on_the_leg(name):
    """Nothing overlaps, none is in the leg; plate and both strips touch it: 0.02 mm nearer they bite."""
    job, _, _, parts = made(name)
    found, leg = bodies(parts), leg_here(job)
    assert [part.slug for part in parts] == [f"drilling-template-{s}" for s in ("plate", "head-strip", "side-strip")]
    assert all(one.common(other).volume < NOTHING_MM3 for one, other in combinations(found.values(), 2))
    toward = {"plate": (0, 0, -0.02), "head strip": (0, -0.02, 0), "side strip": (0.02, 0, 0)}
    for label, solid in found.items():
        assert solid.common(leg).volume < NOTHING_MM3
        by = toward[label.removeprefix("drilling template ")]
        assert solid.moved(by).common(leg).volume > 0.01


@every_case
def test_it_is_its_own_mirror_image_in_the_plates_middle_plane(name):
    """So turned over it lies on a leg of the other hand as it does on this one; no kernel's noise is as large."""
    _, shop, _, parts = made(name)
    body = whole(parts)
    other = turned_over(body, shop.sheet.thickness_mm)
    assert body.minus(other).volume < 1e-5 and other.minus(body).volume < 1e-5


@every_case
def test_its_holes_are_the_trestles_screws_on_both_hands(name):
    """The middle of every hole at a screw's head, and every screw at a hole; opposite screws 4 mm apart and more."""
    job, _, _, parts = made(name)
    frame, screws = timber_from_template(job), fixings(solve(job)).screws
    of_legs = [screw for screw in screws if screw.joins == "leg to board" and screw.seat[0] == 1]
    for hand, y in (("R", 1), ("L", -1)):
        heads = [screw.at for screw in of_legs if screw.seat[1] == y]
        middles = [frame.point(place) for place in hole_places(parts, hand)]
        assert len(middles) == len(heads) > 0
        for x, across, z in middles:
            assert min(length(subtract((x, y * across, z), head)) for head in heads) < 1e-9
    for one, other in combinations(of_legs, 2):
        if one.seat != other.seat:
            assert segment_gap((one.at, one.tip), (other.at, other.tip)) - one.diameter_mm >= 4


WRONG = {"demo": (27.9, 3.40), "a": (18.6, 5.16), "b": (34.0, 2.95)}
"""Worked out on solids, mm: by how much a side strip 70 mm long, measured from the head, gapes on a leg of the other
hand when the template is not turned over; by how much nearer to the head its holes come on the inner face.
"""


@pytest.mark.parametrize("name", WRONG)
def test_a_wrong_hand_and_a_wrong_face_show(name):
    """The strip gapes at its foot; at the head there is no gap, and the arris touches."""
    job, shop, lay, parts = made(name)
    gape, nearer = WRONG[name]
    assert 2 * 70 * sine(lay.face_deg) * cosine(lay.face_deg) == pytest.approx(gape, abs=0.05)
    assert lay.nearer == pytest.approx(nearer, abs=0.01)
    body, leg, cot = whole(parts), leg_here(job), cotangent(job.splay_deg)
    # The leg for the other hand: its mirror image, the left edge now running down to the right.
    other = leg.mirrored((1, 0, 0)).moved((job.leg.width_mm / lay.rise, 0, 0))
    side = next(solid for label, solid in bodies(parts).items() if "side" in label)
    foot = side.kept_below((0, -lay.length + 0.01, 0), (0, 1, 0))
    # Moved level until its upper end, 6 mm down the edge, touches; then its foot is as far off as the gape, square to
    # the edge.
    touching, level = 2 * 6 * lay.lie, lay.gape / lay.rise
    assert side.moved((touching, 0, 0)).common(other).volume < NOTHING_MM3
    assert side.moved((touching + 0.05, 0, 0)).common(other).volume > NOTHING_MM3
    assert foot.moved((touching + level - 0.05, 0, 0)).common(other).volume < NOTHING_MM3
    assert foot.moved((touching + level + 0.05, 0, 0)).common(other).volume > NOTHING_MM3
    # On the inner face, the other side up: moved up the leg until the strip meets the head's long arris.
    seated = body.moved((lay.nearer * lay.lie / lay.rise, lay.nearer, -job.leg.thickness_mm - shop.sheet.thickness_mm))
    assert seated.common(leg).volume < NOTHING_MM3
    assert seated.moved((0, -0.02, 0)).common(leg).volume > 0.01
    arris = job.leg.thickness_mm * cot
    assert lay.gap + lay.nearer == pytest.approx(arris)  # so the strip's face lies at the arris: no gap
    assert lay.gap == pytest.approx(lay.lip * cot) and lay.gap > 3


@every_case
def test_three_millimetres_of_wood_are_left_everywhere(name):
    """Between two contours, and in every neck; every letter is in the wood."""
    _, _, _, parts = made(name)
    for part in parts:
        rings = [shapely.LinearRing(c.points(16)) for c in (part.outline, *(hole.contour for hole in part.holes))]
        assert all(one.distance(other) >= 2.999 for one, other in combinations(rings, 2)), part.name
        wood = shapely.Polygon(rings[0], rings[1:])
        assert wood.buffer(-1.4).geom_type == "Polygon"
        assert mark_faults(part) == []


@every_case
def test_it_says_what_must_be_known_to_use_it(name):
    """Drill, kit number and which face is whose; on both lips whose head it is, and that a gap must show."""
    _, _, lay, parts = made(name)
    on_plate, on_strip = ([mark.fact for mark in part.marks] for part in parts[:2])
    assert {"kit", "prick" if lay.only_pricks else "drill"} <= set(on_plate)
    assert ("face" in on_plate) is lay.has_hand
    wanted = ["hand" if lay.has_hand else "head", *(["gap"] if lay.gap >= 0.5 else [])]
    assert set(on_strip) == set(wanted) and {0.0, 180.0} == {mark.turn_deg for mark in parts[1].marks}


def test_what_stands_on_it():
    """Each hole's hand beside it, and on the lip that stands up the hand that it is set for: read both ways up."""
    _, _, _, parts = made("demo")
    words = [[(mark.text, mark.turn_deg) for mark in part.marks] for part in parts]
    assert [text for text, _ in words[0]][-3:] == ["KIT AAA-AAA", "DRILL 5.5 mm", "DRILLING TEMPLATE"]
    assert ("THIS FACE FOR R", 0.0) in words[0]
    turned = [(text, turn) for text, turn in words[1] if text.startswith("HEAD")]
    assert turned == [("HEAD OF LEGS IN R", 0.0), ("HEAD OF LEGS IN L", 180.0)]
    assert [turn for text, turn in words[1] if text == "NO GAP: TURN LEG OVER"] == [0.0, 180.0]
    part = plate(parts)
    for hole in part.holes:
        near = min(
            (mark for mark in part.marks if mark.fact == "hand"),
            key=lambda m: shapely.Point(m.at).distance(shapely.Point(hole.contour.centre)),
        )
        assert near.text == hole.name.split()[1]


THIN_LEGS = (  # height, lean, board's width and thickness, leg, sheet, unit
    (500, (80, 88), (90, 25), (38, 20), 9.1, "mm"),
    (500, (80, 82), (80, 40), (38, 18), 6.35, "in"),
    (300, (70, 78), (100, 32), (40, 16), 9.1, "in"),
    (700, (70, 85), (80, 38), (38, 25), 6.0, "mm"),
)


@pytest.mark.parametrize(("height", "lean", "top", "leg", "sheet", "unit"), THIN_LEGS)
def test_on_thin_legs_a_plate_keeps_its_hand_its_drill_and_its_number(height, lean, top, leg, sheet, unit):
    """The lines lean with its edges, as far inside the left one as inside the right; no letter lies on a cut."""
    job = a_job(height, lean, 100, (760, *top), leg, (60, 15), unit=unit)
    shop = replace(SHOP, sheet=replace(SHOP.sheet, thickness_mm=sheet))
    part = plate(drilling_template_parts(solve(job), shop))
    assert {"face", "kit", "drill"} <= {mark.fact for mark in part.marks}
    assert mark_faults(part) == []
    letters = [mark for mark in part.marks if mark.fact == "hand"]
    # Each beside its own hole, nearer to it by far than to another, and none where a hole serves both hands.
    assert len(letters) == sum(len(hole.name.split()[1]) == 1 for hole in part.holes)
    for mark in letters:
        middle = text_box(mark).centroid
        near, other = sorted(part.holes, key=lambda hole: middle.distance(shapely.Point(hole.contour.centre)))[:2]
        assert near.name.split()[1] == mark.text
        assert middle.distance(shapely.Point(other.contour.centre)) > 1.3 * middle.distance(
            shapely.Point(near.contour.centre)
        )


@pytest.mark.parametrize("width", [44.0, 52.0, 70.0])
@pytest.mark.parametrize("cutter", [3.0, 8.0, 10.0])
def test_its_far_edge_shows_the_legs_arris_or_keeps_three_millimetres_beside_a_hole(width, cutter):
    """6 mm inside the leg's far arris, or less, so that 3 mm of wood are left to the hole nearest to it (shapely)."""
    job = replace(DEMO, leg=replace(DEMO.leg, width_mm=width))
    shop = replace(SHOP, machine=Machine("cnc", cutter))
    part, lay = plate(drilling_template_parts(solve(job), shop)), lay_out_template(solve(job), shop)
    (piece,) = (f.pieces[0] for f in part.features if f.name == "far edge")
    far = shapely.LineString([part.outline.segments[piece].start, part.outline.segments[piece].end])
    webs = [far.distance(shapely.Point(hole.contour.centre)) - hole.contour.radius for hole in part.holes]
    # The edge and the leg's arris run alike: what lies between both is the same beside every hole.
    seen = width - max(hole.e for hole in lay.holes) - min(webs) - lay.hole / 2
    assert (seen == pytest.approx(6.0) and min(webs) > 3.0) or (seen < 6.0 and min(webs) == pytest.approx(3.0))


REFUSED = {
    "narrow leg": (NARROW, {}, "no room for a tenon along the head"),
    "thin leg": (
        replace(DEMO, leg=replace(DEMO.leg, thickness_mm=13)),
        {"machine": Machine("cnc", 12.0)},
        "lips too low",
    ),
    "wide cutter": (JOB_B, {"machine": Machine("cnc", 6.35)}, "too little wood round its holes"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_where_it_finds_no_room_it_is_refused_or_left_out(name):
    """An error where it is asked for; a caution, and a kit without it, in a shop that has it by itself."""
    job, changes, words = REFUSED[name]
    asked = replace(SHOP, **changes)
    (finding,) = check_drilling_template(solve(job), asked)
    assert finding.code == 365 and finding.severity == "error" and words in finding.sentence()
    by_itself = replace(HAND_SHOP, **changes)
    (finding,) = check_drilling_template(solve(job), by_itself)
    assert finding.severity == "caution"
    assert drilling_template_parts(solve(job), by_itself) == ()


def test_only_a_kit_that_wants_it_has_it():
    """By itself a shop that saws its housings; any other one that asks for it; none whose legs take no screws."""
    trestle = solve(DEMO)
    assert drilling_template_parts(trestle, DEMO_SHOP) == ()
    assert len(drilling_template_parts(trestle, HAND_SHOP)) == 3
    assert drilling_template_parts(trestle, replace(HAND_SHOP, kit=KitChoices(also=()))) == ()
    unscrewed = solve(a_job(720, (78, 78), 120, (900, 120, 26), (70, 32)))
    assert drilling_template_parts(unscrewed, SHOP) == ()
    (finding,) = check_drilling_template(unscrewed, SHOP)
    assert finding.severity == "caution" and "no screw goes through a leg" in finding.sentence()
    assert make_kit(trestle, SHOP).number != make_kit(trestle, DEMO_SHOP).number


CUTTERS = ((3.175, 9.0), (6.35, 12.0), (8.0, 12.0), (8.0, 19.05), (10.0, 15.0))


@pytest.mark.parametrize(("cutter", "sheet"), CUTTERS)
def test_a_wide_cutter_makes_holes_for_the_next_drill(cutter, sheet):
    """No contour crosses itself; the hole goes to the cutter, and a drill of whole millimetres to the hole."""
    shop = replace(SHOP, sheet=replace(SHOP.sheet, thickness_mm=sheet), machine=Machine("cnc", cutter))
    parts = drilling_template_parts(solve(DEMO), shop)
    for part in parts:
        assert list(crossings(part.outline, [(hole.name, hole.contour) for hole in part.holes])) == []
        assert mark_faults(part) == []
    diameters = {round(2 * hole.contour.radius, 6) for hole in plate(parts).holes}
    assert diameters == {5.6} if cutter < 5.4 else min(diameters) > cutter and (min(diameters) - 0.1) % 1 < 1e-6
    # A hole wider than the screws' only pricks their middles, and says so.
    told = " ".join(mark.text for mark in plate(parts).marks if mark.fact in ("drill", "prick"))
    wide = f"PRICK WITH {min(diameters) - 0.1:.0f} mm, DRILL 5.5 mm"
    assert told == ("DRILL 5.5 mm" if cutter < 5.4 else wide)
