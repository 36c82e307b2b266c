"""Corrected lines, judged by cutting them on the machine that they were made for: every edge must come out true."""

from dataclasses import replace
from functools import cache
from math import atan, cos, dist, pi, radians, sin, tan

import numpy as np
import pytest
import shapely
from cutting.crooked_machine import bent, edge_errors, material
from plain_parts import box, hole_box, on_bed, plain_part
from sample_jobs import DEMO, DEMO_SHOP
from shapely.affinity import translate

from jigmaker.cutting.arcs import arcs_along
from jigmaker.cutting.bridge_places import bridge_places
from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.correction import corrected
from jigmaker.cutting.cut_picture import cut_picture
from jigmaker.geometry.outline import Arc, Circle, Outline, Stroke, bounds_of
from jigmaker.geometry.strokes import Strokes
from jigmaker.job.shop import Machine
from jigmaker.parts.coupon_size import skew_of_diagonals_deg
from jigmaker.parts.kit import make_kit
from jigmaker.parts.marks import text_mark
from jigmaker.parts.part import Hole
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.trestle.solve import solve

IDEAL = Machine("laser", 0.2)
CROOKED = Machine("laser", 0.2, skew_deg=0.3, scale_x=1.002, scale_y=0.999)
LEFT = replace(CROOKED, skew_deg=-0.3)
DIRECTED = replace(IDEAL, kerf_x_mm=0.15, kerf_y_mm=0.25)
WORST = Machine("laser", 0.2, kerf_x_mm=0.25, kerf_y_mm=0.15, scale_x=0.98, scale_y=1.02, skew_deg=-1.0)
CNC = Machine("cnc", 3.0, skew_deg=0.3, scale_x=1.002)
MACHINES = {"crooked": CROOKED, "left": LEFT, "directed": DIRECTED, "worst": WORST}

TRUE_MM = 0.003
"""Chords within 0.002 mm, and the judge's own rounding."""

ODD = plain_part(
    "odd plate",
    Outline.from_rounded([(0, 0), (140, 0), (120, 80), (30, 90)], 6.0),
    (hole_box("slot", 60, 12, (30, 20)), Hole("peg", Circle((85, 55), 8)), Hole("pin", Circle((60, 60), 0.6))),
    (text_mark("TOP", (40, 45)),),
)


@cache
def kit():
    """The demo's parts, made for a laser."""
    return make_kit(solve(DEMO), replace(DEMO_SHOP, machine=IDEAL)).parts


@cache
def kit_part(slug, kind="laser"):
    """A part of the demo's kit."""
    shop = replace(DEMO_SHOP, machine=IDEAL if kind == "laser" else replace(CNC, skew_deg=0, scale_x=1))
    return next(part for part in make_kit(solve(DEMO), shop).parts if part.slug.startswith(slug))


def worst_mm(sheet, machine, lines_for=None):
    """How far the worst edge is off when the machine cuts lines that were made for another."""
    cut = compensate(sheet, lines_for or machine, "included")
    return max(error.off_mm for error in edge_errors(cut, sheet.placed[0], machine).values())


@pytest.mark.parametrize("machine", MACHINES.values(), ids=MACHINES)
@pytest.mark.parametrize("turn_deg", [0, 90, 180, 270])
def test_a_part_comes_out_true_however_it_lies(machine: Machine, turn_deg: float) -> None:
    """Every straight edge of an odd plate is where it belongs, at quarter turns on the bed."""
    assert worst_mm(on_bed(ODD, turn_deg), machine) < TRUE_MM


def begun_in_a_round(outline):
    """The same contour, each arc in two halves, from the middle of every round in turn."""
    pieces = []
    for each in outline.segments:
        if isinstance(each, Arc):
            # An arc's middle lies half a chord times the bulge, tan(turn / 4), to the right of its chord.
            (ax, ay), (bx, by), rise = each.start, each.end, each.bulge
            middle, half = ((ax + bx + rise * (by - ay)) / 2, (ay + by - rise * (bx - ax)) / 2), tan(atan(rise) / 2)
            pieces += [Arc(each.start, middle, half), Arc(middle, each.end, half)]
        else:
            pieces.append(each)
    starts = [i for i, each in enumerate(pieces) if isinstance(each, Arc) and isinstance(pieces[i - 1], Arc)]
    assert len(starts) == 4
    return [Outline((*pieces[i:], *pieces[:i])) for i in starts]


def test_a_contour_may_begin_in_the_middle_of_a_round() -> None:
    """Bent as arcs that go on into one another, it is the same closed line wherever it is begun."""
    (whole,) = compensate(on_bed(plain_part("board", ODD.outline), 0), CROOKED, "included").contours
    for outline in begun_in_a_round(ODD.outline):
        (turned,) = compensate(on_bed(plain_part("board", outline), 0), CROOKED, "included").contours
        one, other = (shapely.Polygon(each.shape.points(64)) for each in (whole, turned))
        assert one.symmetric_difference(other).area < TRUE_MM * ODD.outline.length
        assert len(turned.shape.segments) <= len(whole.shape.segments) + 1


@pytest.mark.parametrize("machine", MACHINES.values(), ids=MACHINES)
def test_areas_are_those_of_the_part(machine: Machine) -> None:
    """Arcs and circles too: what is left has the part's area and the hole's, and lies on it."""
    sheet = on_bed(ODD, 90)
    cut = compensate(sheet, machine, "included")
    left = material(cut, machine)
    holes = [abs(hole.contour.area) for hole in ODD.holes]
    assert left.area == pytest.approx(ODD.outline.area - sum(holes), abs=0.002 * ODD.outline.length)
    assert len(left.interiors) == len(holes)


@pytest.mark.parametrize(("kind", "machine"), [("laser", CROOKED), ("laser", LEFT), ("cnc", CNC)])
def test_bevel_plate_of_a_crooked_machine(kind: str, machine: Machine) -> None:
    """0.3 degrees out of square: every flank within 0.02 degrees; without correction the worst is out by more."""
    part = kit_part("bevel-plate", kind)
    numbers = {("outer", piece) for f in part.features if f.kind == "flank" for piece in f.pieces}
    sheet = single_part_sheet(part, machine.tool_mm)
    turned = []
    for assumed in (machine, replace(machine, skew_deg=0.0, scale_x=1.0, scale_y=1.0)):
        errors = edge_errors(compensate(sheet, assumed, "included"), sheet.placed[0], machine)
        assert len(numbers) >= 4
        assert numbers <= set(errors)
        turned.append(max(abs(errors[number].turned_deg) for number in numbers))
    assert turned[0] < 0.02
    assert turned[1] > 0.2


@pytest.mark.parametrize("turn_deg", [0, 90])
def test_slot_of_the_plate_from_a_crooked_machine(turn_deg: float) -> None:
    """Both walls of the slots within 0.01 mm, so the opening within 0.02; without correction it is off by more."""
    part = kit_part("plate")
    walls = {(f.contour, piece) for f in part.features if f.kind == "slot_wall" for piece in f.pieces}
    sheet = on_bed(part, turn_deg)
    errors = edge_errors(compensate(sheet, CROOKED, "included"), sheet.placed[0], CROOKED)
    assert len(walls) >= 4
    assert max(errors[wall].off_mm for wall in walls) < 0.01
    assert max(abs(errors[wall].turned_deg) for wall in walls) < 0.02
    plain = edge_errors(compensate(sheet, IDEAL, "included"), sheet.placed[0], CROOKED)
    assert max(plain[wall].off_mm for wall in walls) > 0.1


def _reversed(machine: Machine) -> Machine:
    return replace(machine, skew_deg=-machine.skew_deg, scale_x=1 / machine.scale_x, scale_y=1 / machine.scale_y)


@pytest.mark.parametrize("lines_for", [IDEAL, _reversed(CROOKED), replace(CROOKED, skew_deg=0.0)])
def test_no_or_a_wrong_correction_is_seen(lines_for: Machine) -> None:
    """The judge is no judge unless it sees a correction that is missing, reversed or half."""
    assert worst_mm(on_bed(ODD, 0), CROOKED, lines_for) > 0.05


def test_a_correction_applied_twice_is_seen() -> None:
    """As far off as none at all."""
    sheet = on_bed(ODD, 0)
    twice = corrected(compensate(sheet, CROOKED, "included"), CROOKED)
    assert max(error.off_mm for error in edge_errors(twice, sheet.placed[0], CROOKED).values()) > 0.05


def test_kerf_swapped_between_x_and_y_is_seen() -> None:
    """A cut 0.15 wide in x and 0.25 in y: lines for the two swapped are off by the difference's half."""
    swapped = replace(DIRECTED, kerf_x_mm=0.25, kerf_y_mm=0.15)
    assert worst_mm(on_bed(ODD, 0), DIRECTED, swapped) == pytest.approx(0.05, abs=TRUE_MM)
    assert worst_mm(on_bed(ODD, 0), DIRECTED, IDEAL) == pytest.approx(0.025, abs=TRUE_MM)


@pytest.mark.parametrize("skew_deg", [-1.0, -0.3, 0.05, 0.3, 1.0])
def test_skew_has_the_coupons_sign(skew_deg: float) -> None:
    """The diagonals of a square that the machine makes tell its skew as the coupon does; corrected, they tell none."""
    machine = replace(IDEAL, skew_deg=skew_deg)
    for lines_for, told in ((IDEAL, skew_deg), (machine, 0.0)):
        cut = compensate(on_bed(plain_part("square", box(60, 60)), 0), lines_for, "included")
        ring = material(cut, machine).exterior
        a, b, c, d = (
            min(ring.coords, key=lambda p, k=k: p[0] * k[0] + p[1] * k[1]) for k in ((1, 1), (-1, 1), (-1, -1), (1, -1))
        )
        assert skew_of_diagonals_deg(dist(a, c), dist(d, b), 0.0) == pytest.approx(told, abs=1e-3)


def test_an_ideal_machine_changes_nothing() -> None:
    """The same record, and kerfs that hardly differ count as one."""
    cut = compensate(on_bed(ODD, 0), IDEAL, "included")
    assert corrected(cut, IDEAL) is cut
    assert (cut.correction, cut.cut_width_mm) == (None, None)
    near = replace(IDEAL, kerf_x_mm=0.19, kerf_y_mm=0.21)
    assert compensate(on_bed(ODD, 0), near, "included") == cut


def test_nominal_lines_are_not_bent_and_say_so() -> None:
    """They go through a program that moves them; the caption tells that nothing else was done."""
    sheet = on_bed(ODD, 0)
    cut = compensate(sheet, WORST, "left out")
    assert cut == replace(compensate(sheet, IDEAL, "left out"), tool_mm=WORST.tool_mm)
    notes = cut_picture(cut, replace(DEMO_SHOP, machine=WORST), "Sample: odd plate").notes
    assert "Not corrected for the machine's scale and skew" in notes


def _curves(cut):
    shapes = {contour.name: contour.shape for contour in cut.contours}
    arcs = sum(isinstance(piece, Arc) for piece in shapes["outer"].segments)
    return isinstance(shapes["peg"], Circle), isinstance(shapes["pin"], Circle), arcs


CURVES = [
    (replace(IDEAL, scale_x=1.002, scale_y=1.002), (True, True, 4), False),
    (CROOKED, (False, True, 4), True),
    (replace(IDEAL, skew_deg=0.1), (True, True, 4), True),
    (DIRECTED, (False, False, 6), True),
    (WORST, (False, False, 8), True),
]


@pytest.mark.parametrize(("machine", "curves", "is_told"), CURVES)
def test_circles_stay_where_they_may(machine: Machine, curves: tuple[bool, bool, int], is_told: bool) -> None:
    """One scale keeps circles; a skew s puts a radius r out of round by about r tan(s) / 2: 0.02 for 8, 0.0013 for 0.5.
    Nothing becomes chords: a quarter turn of 6 mm is one arc, or two on the worst machine."""
    cut = compensate(on_bed(ODD, 0), machine, "included")
    assert _curves(cut) == curves
    assert all(len(contour.shape.segments) <= 12 for contour in cut.contours if isinstance(contour.shape, Outline))
    notes = cut_picture(cut, replace(DEMO_SHOP, machine=machine), "Sample: odd plate").notes
    assert any("Curves are arcs within 0.005 mm" in note for note in notes) == is_told


@pytest.mark.parametrize("turn_deg", [0, 90])
@pytest.mark.parametrize("machine", MACHINES.values(), ids=MACHINES)
def test_curves_come_out_within_what_is_promised(machine: Machine, turn_deg: float) -> None:
    """What another judge cuts along the lines: a hole within 0.01 mm of round if it is drawn as a circle, all other
    curves, corners rounded by 6 mm and the peg's hole, within 0.005 mm."""
    sheet = on_bed(ODD, turn_deg)
    cut = compensate(sheet, machine, "included")
    left, frame = material(cut, machine), sheet.placed[0].sheet_from_part
    moved = (0, 0) if cut.correction is None else (cut.correction.moved_x_mm, cut.correction.moved_y_mm)
    left = translate(left, *(-by for by in bent(shapely.Point(moved), machine).coords[0]))
    drawn = {contour.name: contour.shape for contour in cut.contours}
    for hole in ODD.holes[1:]:
        x, y = frame.point(hole.contour.centre)
        ring = min(left.interiors, key=lambda ring: shapely.Polygon(ring).centroid.distance(shapely.Point(x, y)))
        off = max(abs(dist(at, (x, y)) - hole.contour.radius) for at in ring.coords)
        assert off < (0.01 if isinstance(drawn[hole.name], Circle) else 0.005) + 5e-4
    corners = ODD.outline.placed(frame)
    curves = [shapely.LineString([*arc.points(256), arc.end]) for arc in corners.segments if isinstance(arc, Arc)]
    assert len(curves) == 4
    for curve in curves:
        off = max(left.exterior.distance(shapely.Point(at)) for at in curve.coords)
        assert off < 0.005 + 5e-4


def _can_be_one_arc(points) -> bool:
    """Whether one of many circles through both ends lies within 0.005 mm of all points between them."""
    (ax, ay), (bx, by) = points[0], points[-1]
    chord = dist(points[0], points[-1])
    rises = np.linspace(-0.45, 0.45, 4001) * chord
    rises = rises[np.abs(rises) > 1e-9]
    up = rises / 2 - chord**2 / (8 * rises)  # of the centre, over the middle of the chord
    across, along = ((by - ay) / chord, (ax - bx) / chord), np.array(points[1:-1])
    centres = np.array([(ax + bx) / 2 + up * across[0], (ay + by) / 2 + up * across[1]])
    radii = np.hypot(up, chord / 2)
    off = np.abs(np.hypot(along[:, 0, None] - centres[0], along[:, 1, None] - centres[1]) - radii)
    return bool((off.max(axis=0) < 0.005).any())


@pytest.mark.parametrize(("radius", "strain"), [(8, 0.0026), (8, 0.03), (40, 0.01), (60, 0.005)])
def test_arcs_are_the_fewest(radius: float, strain: float) -> None:
    """Of all ways to put arcs between 41 points on half an ellipse: the shortest way over those that one arc can go."""
    turns = [0.3 + pi * i / 40 for i in range(41)]
    points = [(radius * (1 + strain) * cos(t), radius * (1 - strain) * sin(t)) for t in turns]
    fewest = [0] + [len(points)] * (len(points) - 1)
    for b in range(1, len(points)):
        reached = [fewest[a] for a in range(b) if b == a + 1 or _can_be_one_arc(points[a : b + 1])]
        fewest[b] = min(reached) + 1
    assert len(arcs_along(points, 0.005)) == fewest[-1]


def _arcs(strokes):
    return [piece for stroke in strokes for piece in stroke.segments if isinstance(piece, Arc)]


@pytest.mark.parametrize("turn_deg", [0, 90])
@pytest.mark.parametrize("machine", MACHINES.values(), ids=MACHINES)
def test_letters_keep_their_arcs(machine: Machine, turn_deg: float) -> None:
    """Capitals 20 mm high: no arc becomes chords, and what the machine makes lies within 0.05 mm of the letters."""
    mark = text_mark("SO8 R", (30, 30), 20.0)
    sheet = on_bed(plain_part("sign", box(200, 80), marks=(mark,)), turn_deg)
    cut = compensate(sheet, machine, "included")
    frame = sheet.placed[0].sheet_from_part
    (drawn,) = [list(c.shape) for c in cut.contours if c.operation == "mark"]
    assert len(_arcs(drawn)) >= len(_arcs(mark.strokes)) > 10
    assert sum(len(s.segments) for s in drawn) < 2 * sum(len(s.segments) for s in mark.strokes)
    lines = shapely.MultiLineString([stroke.points(64) for stroke in drawn])
    moved = (0, 0) if cut.correction is None else (-cut.correction.moved_x_mm, -cut.correction.moved_y_mm)
    made = bent(translate(lines, *moved), machine)
    wanted = shapely.MultiLineString([stroke.placed(frame).points(64) for stroke in mark.strokes])
    assert made.hausdorff_distance(wanted) < 0.05 + 1e-3


def test_marks_are_bent_too() -> None:
    """A scored line 200 mm up the bed leans back by 200 sin(0.3 degrees)."""
    line = Stroke.from_points([(30, 0), (30, 200)])
    part = plain_part("tall", box(60, 220), marks=(replace(text_mark("I", (30, 10)), strokes=Strokes.of([line])),))
    machine = replace(IDEAL, skew_deg=0.3)
    cut = compensate(on_bed(part, 0), machine, "included")
    mark = next(contour.shape for contour in cut.contours if contour.operation == "mark")
    ((x0, y0, x1, y1, _),) = mark.pieces.tolist()
    assert (x0 - x1, y1 - y0) == pytest.approx((200 * sin(radians(0.3)) / cos(radians(0.3)), 200), abs=1e-9)


@pytest.mark.parametrize("skew_deg", [-1.0, 1.0])
def test_nothing_comes_below_zero_and_the_page_holds_all(skew_deg: float) -> None:
    """A tall part close to the left margin, alone and placed on a bed with the smallest margin."""
    machine = Machine("laser", 0.2, skew_deg=skew_deg, scale_x=0.98, scale_y=0.98)
    shop = replace(DEMO_SHOP, machine=machine, sheet=replace(DEMO_SHOP.sheet, margin_mm=0, length_mm=400, width_mm=900))
    part = plain_part("tall", box(60, 890))
    for sheet in (single_part_sheet(part, 0.2), *place((part,), shop)):
        cut = compensate(sheet, machine, "included")
        low_x, low_y, high_x, high_y = bounds_of(contour.shape for contour in cut.contours)
        picture = cut_picture(cut, shop, "Sample: tall")
        assert min(low_x, low_y) > 0.5
        assert (picture.width_mm >= high_x, picture.height_mm >= high_y) == (True, True)
    assert cut.correction.moved_x_mm == 0.0  # the bed has left room


@pytest.mark.parametrize("machine", [IDEAL, CROOKED, WORST])
def test_the_reference_square_reads_fifty(machine: Machine) -> None:
    """It tells the file's scale and is never cut, so nothing bends it."""
    sheet = replace(on_bed(ODD, 0), length_mm=1000.0, width_mm=1000.0)
    picture = cut_picture(
        compensate(sheet, machine, "included"), replace(DEMO_SHOP, machine=machine), "Sample: odd plate"
    )
    square = next(s.shape for s in picture.shapes if s.layer == "NOTE" and isinstance(s.shape, Outline))
    low_x, low_y, high_x, high_y = square.bounds
    assert (high_x - low_x, high_y - low_y) == (50.0, 50.0)


def test_the_caption_tells_both() -> None:
    """Kerf in x and y, scales and skew stand in the file."""
    shop = replace(DEMO_SHOP, machine=WORST)
    notes = cut_picture(compensate(on_bed(ODD, 0), WORST, "included"), shop, "Sample: odd plate").notes
    assert "Kerf x 0.25, y 0.15 included: lines moved half of it" in notes
    assert "Corrected for scale x 0.98, y 1.02, skew -1 deg" in notes


def test_bridges_of_a_directed_kerf_leave_their_wood() -> None:
    """Each gap is the bridge and one cut's width along the edge: 0.15 in x, 0.25 in y."""
    part = kit_part("plate")
    machine = replace(DIRECTED, bridges=4)
    cut = compensate(on_bed(part, 0), machine, "included")
    strokes = [contour.shape for contour in cut.contours if contour.operation == "outer"]
    assert len(strokes) > 1
    for one in strokes:
        end = one.segments[-1].end
        start = min((stroke.segments[0].start for stroke in strokes), key=lambda p: dist(p, end))
        gap = (abs(start[0] - end[0]), abs(start[1] - end[1]))
        assert gap in (pytest.approx((6.15, 0.0), abs=1e-6), pytest.approx((0.0, 6.25), abs=1e-6))


@pytest.mark.parametrize("turn_deg", [0, 90])
@pytest.mark.parametrize("bridges", [3, 8])
def test_no_bridge_is_lost_where_the_cut_is_not_round(turn_deg: float, bridges: int) -> None:
    """Every place gets its gap, on every part of the kit and however it lies; a bridge close to a corner fits too."""
    machine = replace(DIRECTED, bridges=bridges)
    for part in kit():
        cut = compensate(on_bed(part, turn_deg), machine, "included")
        strokes = [each for each in cut.contours if each.operation == "outer" and isinstance(each.shape, Stroke)]
        assert len(strokes) == len(bridge_places(part, machine)), part.slug
