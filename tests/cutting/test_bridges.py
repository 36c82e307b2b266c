"""Bridges of wood across the cut: how many, how wide, where, and nothing else changed; swept by shapely."""

from dataclasses import replace
from itertools import combinations, pairwise
from math import hypot, radians, tan

import pytest
import shapely
import shapely.affinity
from plain_parts import CNC, LASER, box, plain_part, shop_with
from sample_variants import VARIANTS

from jigmaker.cutting.bridge_places import BridgePlace, bridge_places
from jigmaker.cutting.bridges import marked
from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.cut_picture import cut_picture
from jigmaker.cutting.holding import bridge_findings, bridges_end_in_one, holdings
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Outline, Stroke
from jigmaker.job.shop import Machine
from jigmaker.parts.corners import round_hole
from jigmaker.parts.kit import make_kit
from jigmaker.parts.part import Feature
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.sheets.sheet import PlacedPart, Sheet
from jigmaker.trestle.solve import solve

CASES = [
    ("laser, bush, two slots", 2, 3.0),
    ("cnc, bearing, one hand", 4, 8.0),
    ("cnc with a 6 mm cutter", 3, 6.0),
    ("sheet 1/2 in", 1, 6.0),
]


def kit_with(shop_name, count, width):
    """A variant's parts and its machine, asked for so many bridges."""
    job, shop = VARIANTS[shop_name]
    machine = replace(shop.machine, bridges=count, bridge_width_mm=width)
    return make_kit(solve(job), shop).parts, machine


def cut(part, machine):
    """The contours of the part's own file."""
    return compensate(single_part_sheet(part, machine.tool_mm), machine, "included").contours


def outer(contours):
    """The lines of the outline's cut, in order; a closed one as a ring."""
    shapes = [contour.shape for contour in contours if contour.operation == "outer"]
    return [
        shapely.LineString(s.points(256)) if isinstance(s, Stroke) else shapely.LinearRing(s.points(256))
        for s in shapes
    ]


def left_open(part, machine):
    """The stretches of the closed path that the bridges leave out."""
    (whole,) = outer(cut(part, replace(machine, bridges=0)))
    ends = outer(cut(part, machine))
    return [shapely.LineString([one.coords[-1], two.coords[0]]) for one, two in pairwise([*ends, ends[0]])], whole


@pytest.mark.parametrize(("shop_name", "count", "width"), CASES)
def test_a_part_hangs_by_its_bridges(shop_name, count, width):
    """What the tool leaves of its own closed cut is so many bridges, so wide at their narrowest, from part to sheet."""
    parts, machine = kit_with(shop_name, count, width)
    held = [part for part in parts if bridge_places(part, machine)]
    assert len(held) > len(parts) / 3
    for part in held:
        lines, (ring,) = outer(cut(part, machine)), outer(cut(part, replace(machine, bridges=0)))
        swept = shapely.union_all([line.buffer(machine.tool_mm / 2, quad_segs=64) for line in lines])
        wood = shapely.get_parts(ring.buffer(machine.tool_mm / 2, quad_segs=64).difference(swept.buffer(1e-6)))
        bridges = [piece for piece in wood if piece.area > 1e-3]
        assert len(bridges) == len(bridge_places(part, machine)) <= count, part.name
        ends = [(one.coords[-1], two.coords[0]) for one, two in pairwise([*lines, lines[0]])]
        for one, two in ends:
            assert shapely.Point(one).distance(shapely.Point(two)) - machine.tool_mm == pytest.approx(width, abs=1e-6)
        sheet = shapely.box(*ring.bounds).buffer(20, join_style="mitre")
        left = [piece for piece in shapely.get_parts(sheet.difference(swept)) if piece.area > 1e-3]
        assert len(left) == 1, part.name


@pytest.mark.parametrize(("shop_name", "count", "width"), CASES)
def test_bridges_keep_clear_of_what_is_depended_on(shop_name, count, width):
    """No gap nearer than 5 mm to a working edge, tenon, mortise or hole: edges not marked free, arcs, every hole."""
    parts, machine = kit_with(shop_name, count, width)
    for part in parts:
        if not bridge_places(part, machine):
            continue
        gaps, _ = left_open(part, machine)
        frame = single_part_sheet(part, machine.tool_mm).placed[0].sheet_from_part
        outline = part.outline.placed(frame)
        free = {f.pieces[0] for f in part.features if (f.contour, f.measure, f.kind) == ("outer", "angle_deg", "free")}
        kept = [shapely.LineString([*s.points(64), s.end]) for i, s in enumerate(outline.segments) if i not in free]
        kept += [shapely.LinearRing(hole.contour.placed(frame).points()) for hole in part.holes]
        for gap in gaps:
            assert gap.length == pytest.approx(width + machine.tool_mm, abs=1e-6)
            assert all(gap.distance(line) >= 5.0 for line in kept), part.name
            assert gap.distance(shapely.LinearRing(outline.points())) == pytest.approx(machine.tool_mm / 2, abs=1e-6)


@pytest.mark.parametrize(("shop_name", "count", "width"), CASES)
def test_a_bridge_leads_to_the_sheet_and_not_to_another_arm_of_its_part(shop_name, count, width):
    """Straight ahead of a gap, out of the outline as wide as the bridge is, the part itself does not stand again."""
    parts, machine = kit_with(shop_name, count, width)
    for part in parts:
        if not bridge_places(part, machine):
            continue
        frame = single_part_sheet(part, machine.tool_mm).placed[0].sheet_from_part
        body = shapely.Polygon(part.outline.placed(frame).points(64))
        for gap in left_open(part, machine)[0]:
            (ax, ay), (bx, by) = gap.coords
            out = [(by - ay) / gap.length, (ax - bx) / gap.length]
            if body.distance(shapely.Point((ax + bx) / 2 + out[0], (ay + by) / 2 + out[1])) < machine.tool_mm / 2:
                out = [-out[0], -out[1]]
            ahead = [(x + out[0] * 2000, y + out[1] * 2000) for x, y in ((bx, by), (ax, ay))]
            assert shapely.Polygon([(ax, ay), (bx, by), *ahead]).intersection(body).area < 1e-6, part.name


def test_nothing_else_is_changed():
    """Marks and inner cuts are the same, and path and gaps together are the closed path."""
    parts, machine = kit_with("cnc with a 6 mm cutter", 3, 5.0)
    for part in parts:
        closed, opened = cut(part, replace(machine, bridges=0)), cut(part, machine)
        assert [c for c in closed if c.operation != "outer"] == [c for c in opened if c.operation != "outer"]
        if bridge_places(part, machine):
            gaps, whole = left_open(part, machine)
            assert sum(line.length for line in outer(opened)) + sum(gap.length for gap in gaps) == pytest.approx(
                whole.length, abs=1e-6
            )
            assert whole.buffer(1e-6).contains(shapely.union_all([*outer(opened), *gaps]))


def test_finished_size_stays_closed_and_says_where_bridges_go():
    """A line as long as the bridge square across the outline at each place, half of it outside, clear of what works."""
    parts, machine = kit_with("cnc, bush, two slots", 4, 6.0)
    for part in parts:
        contours = compensate(single_part_sheet(part, machine.tool_mm), machine, "left out").contours
        assert [type(c.shape) for c in contours if c.operation == "outer"] == [Outline]
        (outline,) = (shapely.LinearRing(c.shape.points()) for c in contours if c.operation == "outer")
        marks = [shapely.LineString(c.shape.points()) for c in contours if c.operation == "bridge"]
        assert len(marks) == len(bridge_places(part, machine))
        assert [c.operation for c in contours[len(contours) - len(marks) :]] == ["bridge"] * len(marks)
        for mark in marks:
            assert mark.length == pytest.approx(6.0, abs=1e-9)
            assert mark.interpolate(3.0).distance(outline) < 1e-9
            assert shapely.Polygon(outline).intersection(mark).length == pytest.approx(3.0, abs=1e-9)
            turned = shapely.affinity.rotate(mark, 90, origin="centroid")
            assert turned.intersection(outline.buffer(1e-6)).length == pytest.approx(6.0, abs=1e-3)


def test_marks_stay_on_the_sheet():
    """Where less than half a bridge lies between outline and sheet's edge, more of the mark lies inside."""
    outline = Outline.from_points([(1, 1), (101, 1), (101, 61), (1, 61)])
    places = [BridgePlace(0, 50.0), BridgePlace(1, 30.0)]
    low, right = (shapely.LineString(stroke.points()) for stroke in marked(outline, places, 8.0, (200.0, 100.0)))
    assert low.bounds == pytest.approx((51, 0.1, 51, 8.1))
    assert right.bounds == pytest.approx((97, 31, 105, 31))


@pytest.mark.parametrize(("shop_name", "count", "width"), CASES)
def test_a_bridge_s_mark_stands_clear_of_scored_lines(shop_name, count, width):
    """Lines to saw on run to the edge that a strip hangs by: a mark along one could not be told from it."""
    parts, machine = kit_with(shop_name, count, width)
    for part in parts:
        lines = [
            shapely.LineString([p[:2], p[2:4]]) for mark in part.marks if not mark.text for p in mark.strokes.pieces
        ]
        for spot in bridge_places(part, machine):
            edge = part.outline.segments[spot.piece]
            (x, y), (ux, uy) = edge.start, edge.start_direction
            at = (x + ux * spot.along_mm, y + uy * spot.along_mm)
            own = shapely.LineString([at, (at[0] - uy * width / 2, at[1] + ux * width / 2)])
            assert all(own.distance(line) > 1.0 for line in lines), part.slug


def test_pads_and_the_taper_gauge_hang_on_bridges():
    """A pad works by its thickness, the gauge by slope and floor edge: its bridges are on the grip, clear of both."""
    for count, cutter in ((3, 3.175), (3, 6.0)):
        job, shop = VARIANTS["cnc, bush, two slots"]
        machine = replace(shop.machine, tool_mm=cutter, bridges=count)
        parts = {part.slug: part for part in make_kit(solve(job), replace(shop, machine=machine)).parts}
        assert len(bridge_places(parts["foot-pad"], machine)) >= 2
        gauge = parts["taper-gauge"]
        named = {f.pieces[0]: f.name for f in gauge.features if f.measure == "angle_deg"}
        assert {named[place.piece] for place in bridge_places(gauge, machine)} == {"grip, upper edge"}


def test_pieces_on_a_sheet_hang_as_by_themselves():
    """However a piece is turned; and what its bridges end in is a bridge wide at least."""
    job, shop = VARIANTS["cnc, bush, two slots"]
    shop = replace(shop, machine=replace(shop.machine, bridges=2, bridge_width_mm=8.0))
    for sheet in place(make_kit(solve(job), shop).parts, shop):
        wanted = sum(max(1, len(bridge_places(placed.part, shop.machine))) for placed in sheet.placed)
        lines = outer(compensate(sheet, shop.machine, "included").contours)
        assert len(lines) == wanted
        shapes = [shapely.Polygon(p.part.outline.placed(p.sheet_from_part).points()) for p in sheet.placed]
        least = min(one.distance(two) for i, one in enumerate(shapes) for two in shapes[:i])
        assert least >= shop.machine.tool_mm * 2 + 8.0 - 1e-3


def test_only_parts_with_bridges_keep_room_for_them():
    """A bridge and two cuts beside every piece that has some; the cutter's width and 2 mm between two without."""
    job, shop = VARIANTS["cnc, bush, two slots"]
    shop = replace(shop, machine=replace(shop.machine, bridges=2, bridge_width_mm=8.0))
    parts = make_kit(solve(job), shop).parts
    held = {part.slug for part in parts if bridge_places(part, shop.machine)}
    cut, near = shop.machine.tool_mm, []
    for sheet in place(parts, shop, held):
        shapes = [
            (p.part.slug in held, shapely.Polygon(p.part.outline.placed(p.sheet_from_part).points()))
            for p in sheet.placed
        ]
        for i, (one_held, one) in enumerate(shapes):
            for other_held, other in shapes[:i]:
                is_wide = one_held or other_held
                assert one.distance(other) >= (cut * 2 + 8.0 if is_wide else cut + 2.0) - 1e-3
                near += [] if is_wide else [one.distance(other)]
        assert bridges_end_in_one(sheet, shop.machine)
    assert min(near) < cut * 2 + 8.0 - 1


def test_a_bridge_must_not_end_in_waste_that_lies_alone():
    """A strip walled in by four boards whose cuts meet has its bridges in an island; with one board away it has not."""
    strip = next(part for part in kit_with("cnc, bush, two slots", 0, 6.0)[0] if part.slug == "pad-strip")
    machine = Machine("cnc", 6.0, bridges=2)
    long, wide = strip.outline.bounds[2:]
    walls = [((0, 0), (long + 60, 30)), ((0, wide + 68), (long + 60, 30))]
    walls += [((0, 32), (11, wide + 34)), ((long + 49, 32), (11, wide + 34))]
    boards = [PlacedPart(plain_part("board", box(*size)), PlaneFrame(20 + x, 20 + y)) for (x, y), size in walls]
    inside = PlacedPart(strip, PlaneFrame(50, 70))
    for placed, is_firm in (((inside, *boards), False), ((inside, *boards[1:]), True)):
        assert bridges_end_in_one(Sheet("sheet-1", long + 120, wide + 160, placed), machine) is is_firm


def test_what_cannot_be_held_is_named():
    """Few bridges and none are two cautions with the parts' names, and what holds the latter."""
    parts, machine = kit_with("cnc, bush, two slots", 4, 6.0)
    few, none = bridge_findings(holdings(parts, machine), machine)
    assert {few.code, none.code} == {210}
    counted = {part.name: len(outer(cut(part, machine))) if bridge_places(part, machine) else 0 for part in parts}
    told = few.says.split("nothing depends on: ")[1].split(", ")
    assert told == [f"{name} {count}" for name, count in counted.items() if 0 < count < 4] and "stock strip 2" in told
    assert {each[-1] for each in told} >= {"1", "2"}  # lines of the cut part: as many as what holds it
    screwed, taped = none.says.split("by double-sided tape: ")
    assert "by a screw and washer through a round hole of their own: bevel plate" in screwed
    assert "mask for slot R, mask for slot L, mask foot (4)" in taped and "coupon" in taped
    assert "foot pad" not in none.says and "taper gauge" not in none.says
    (asked,) = bridge_findings(holdings(parts, replace(machine, bridges=0)), replace(machine, bridges=0))
    assert "no bridges are asked for" in asked.says and "foot pad (4)" in asked.says
    assert bridge_findings(holdings(parts, LASER), LASER) == []


def test_a_screw_goes_through_a_round_hole_that_is_far_from_the_cut():
    """4 to 12 mm wide, its middle a cutter's width and 10 mm from the path, which runs half a cutter outside."""
    machine = Machine("cnc", 6.0)
    for diameter, in_mm, how in ((6.0, 13.0, "screw"), (6.0, 12.9, "tape"), (3.9, 40.0, "tape"), (13.0, 40.0, "tape")):
        hole, _ = round_hole("hole", (in_mm, 50.0), diameter)
        (held,) = holdings([plain_part("board", box(200, 100), (hole,))], machine)
        assert (held.bridges, held.how) == (0, how), (diameter, in_mm)


@pytest.mark.parametrize("shop_name", ["cnc, bush, two slots", "cnc with a 6 mm cutter"])
def test_screws_lie_in_the_waste_out_of_the_cutters_reach(shop_name):
    """Crosses of 5 mm, all of each a cutter's width and 10 mm off the paths, which run half a cutter outside."""
    job, shop = VARIANTS[shop_name]
    tool, found = shop.machine.tool_mm, []
    for sheet in place(make_kit(solve(job), shop).parts, shop):
        cut = compensate(sheet, shop.machine, "included")
        crosses = [drawn.shape for drawn in cut_picture(cut, shop, "t").shapes if drawn.layer == "NOTE"]
        crosses = [shapely.LineString(c.points()) for c in crosses if isinstance(c, Stroke)]
        found += cut.screws_at
        assert len(crosses) == 2 * len(cut.screws_at)
        paths = shapely.union_all(outer(cut.contours))
        placed = [p.part.outline.placed(p.sheet_from_part) for p in sheet.placed]
        pieces = shapely.union_all([shapely.Polygon(outline.points()) for outline in placed])
        for line in crosses:
            assert line.length == pytest.approx(5.0)
            assert line.distance(paths) >= tool + 10.0 and not line.intersects(pieces)
        apart = [hypot(a[0] - b[0], a[1] - b[1]) for a, b in combinations(cut.screws_at, 2)]
        assert min(apart, default=150) >= 150
    assert found  # a full sheet may have none


@pytest.mark.parametrize("size", [(300, 200), (420, 300), (640, 380), (900, 260), (500, 500)])
def test_screws_keep_off_the_reference_square(size):
    """On sheets of waste: the square as drawn, 50 mm, is measured: no cross is nearer than to a path."""
    shop = shop_with(CNC)
    sheet = Sheet("sheet-1", *size, (PlacedPart(plain_part("plate", box(100, 50)), PlaneFrame(20, 20)),))
    cut = compensate(sheet, shop.machine, "included")
    drawn = [drawn.shape for drawn in cut_picture(cut, shop, "t").shapes if drawn.layer == shop.layers["note"].name]
    (square,) = (shapely.Polygon(shape.points()) for shape in drawn if isinstance(shape, Outline))
    crosses = [shapely.LineString(shape.points()) for shape in drawn if isinstance(shape, Stroke)]
    assert len(crosses) >= 4 and square.area == pytest.approx(2500)
    assert all(line.distance(square) >= CNC.tool_mm + 10.0 for line in crosses)


@pytest.mark.parametrize(("kind", "way"), [("cnc", 1), ("laser", -1)])
def test_holes_run_one_way_round(kind, way):
    """A router's run anticlockwise, as a circle of a DXF does: also those that a crooked machine makes outlines of."""
    parts, machine = kit_with("cnc, bush, two slots" if kind == "cnc" else "laser, bush, two slots", 0, 6.0)
    for bent in (machine, replace(machine, scale_x=1.01, skew_deg=0.5)):
        for part in parts:
            contours = compensate(single_part_sheet(part, 10.0), bent, "included").contours
            holes = [c.shape for c in contours if c.operation == "inner" and isinstance(c.shape, Outline)]
            assert all(hole.area * way > 0 for hole in holes)
            assert all(c.shape.area > 0 for c in contours if c.operation == "outer")


def test_bridges_go_evenly_round():
    """On a strip that nothing depends on: one in the middle of each side, or a quarter of the way round apart."""
    (strip,) = (part for part in kit_with("laser, bush, two slots", 0, 6.0)[0] if part.slug == "pad-strip")
    around = strip.outline.length
    starts = [sum(segment.length for segment in strip.outline.segments[:i]) for i in range(4)]
    for count in (1, 2, 4):
        places = bridge_places(strip, Machine("laser", 0.2, bridges=count))
        spots = sorted(starts[spot.piece] + spot.along_mm for spot in places)
        steps = [(b - a) % around for a, b in pairwise([*spots, spots[0]])] if count > 1 else [around]
        assert min(steps) == pytest.approx(around / count, rel=0.05)


def held_by(outline, free):
    """Where a part hangs by one bridge of 5 mm, cut by a 6 mm cutter, if nothing depends on that piece alone."""
    feature = Feature("edge", "free", "outer", (free,), "angle_deg", 0.0)
    machine = Machine("cnc", 6.0, bridges=1, bridge_width_mm=5.0)
    return bridge_places(replace(plain_part("board", outline), features=(feature,)), machine)


@pytest.mark.parametrize(("long", "places"), [(21.01, 1), (20.9, 0)])
def test_the_least_edge_that_a_part_hangs_by(long, places):
    """The bridge, half a cutter at either side, and 5 mm to the edges at both ends: 21 mm."""
    assert len(held_by(box(long, 60), 2)) == places


@pytest.mark.parametrize(("seen", "places"), [(23.01, 1), (22.99, 0)])
def test_a_bridge_has_no_arm_of_its_part_before_it(seen, places):
    """A slot's free wall, half shut by an arm: beside it the sheet is `seen` straight ahead. 5 mm to the corner, 11 for
    bridge and cuts, and the arm's own cut, 6, with 1 mm of wood: 23 mm.
    """
    arm = 100 - seen
    corners = [(0, 0), (100, 0), (100, 20), (20, 20), (20, 80), (arm, 80), (arm, 100), (0, 100)]
    spots = held_by(Outline.from_points(corners), 2)
    assert [spot.along_mm for spot in spots] == [pytest.approx(5 + 11 / 2, abs=0.01)] * places


@pytest.mark.parametrize("kerfs", [(0.9, 0.5), (0.5, 0.9)])
def test_every_place_is_left_open_by_a_beam_that_is_not_round(kerfs):
    """In a trough with walls at 50 degrees the path's corners lie where half widths across wall and floor put them: a
    floor so short that a bridge just fits must not lose it there.
    """
    machine = Machine("laser", 0.7, bridges=3, bridge_width_mm=3.0, kerf_x_mm=kerfs[0], kerf_y_mm=kerfs[1])
    features = tuple(Feature(f"edge {i}", "free", "outer", (i,), "angle_deg", 0.0) for i in (3, 4, 5))
    on_floor = set()
    for half in (2.1, 2.2, 2.3, 2.4, 2.6):
        top = half + 30 / tan(radians(50))
        corners = [(-99, 0), (99, 0), (99, 60), (top, 60), (half, 30), (-half, 30), (-top, 60), (-99, 60)]
        part = replace(plain_part("trough", Outline.from_points(corners)), features=features)
        places = bridge_places(part, machine)
        on_floor.add(4 in [spot.piece for spot in places])
        assert len(outer(cut(part, machine))) == len(places)
    assert on_floor == {True, False}


def test_one_bridge_stands_in_the_middle_of_the_longest_free_edge():
    """Of the sides of a board of 40 by 100 mm, of which nothing depends on the lower and on the right one."""
    features = tuple(Feature(f"edge {i}", "free", "outer", (i,), "angle_deg", 0.0) for i in (0, 1))
    (spot,) = bridge_places(
        replace(plain_part("board", box(40, 100)), features=features), Machine("cnc", 6.0, bridges=1)
    )
    assert (spot.piece, spot.along_mm) == (1, pytest.approx(50.0, abs=3.0))


def test_a_part_without_free_edges_is_cut_as_ever():
    """Nothing is known of its edges, so none may carry a bridge."""
    part = plain_part("plain", box(100, 60))
    machine = Machine("cnc", 6.0, bridges=4)
    assert bridge_places(part, machine) == ()
    assert cut(part, machine) == cut(part, replace(machine, bridges=0))
