"""Bridges of wood across the cut: how many, how wide, where, and nothing else changed; swept by shapely."""

from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from plain_parts import box, plain_part
from sample_variants import VARIANTS

from jigmaker.cutting.bridge_places import bridge_places
from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.holding import bridge_findings
from jigmaker.geometry.outline import Outline, Stroke
from jigmaker.job.shop import Machine
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import place, single_part_sheet
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


def test_nominal_files_stay_closed():
    """A program that moves the lines needs closed outlines, and leaves bridges of its own; it is said so."""
    parts, machine = kit_with("cnc, bush, two slots", 4, 6.0)
    for part in parts:
        contours = compensate(single_part_sheet(part, machine.tool_mm), machine, "left out").contours
        assert [type(c.shape) for c in contours if c.operation == "outer"] == [Outline]
    (finding,) = bridge_findings(parts, replace(machine, compensation="left out"))
    assert (finding.code, finding.severity) == (211, "caution")


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


def test_what_cannot_be_held_is_named():
    """Few bridges and none are two cautions with the parts' names; without bridges asked for nothing is said."""
    parts, machine = kit_with("cnc, bush, two slots", 4, 6.0)
    few, none = bridge_findings(parts, machine)
    assert {few.code, none.code} == {210}
    assert "stock strip 2" in few.says
    assert "bevel plate" in none.says and "foot pad" in none.says
    assert "plate, " not in none.says.partition("bevel")[0]
    assert bridge_findings(parts, replace(machine, bridges=0)) == []


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


def test_a_part_without_free_edges_is_cut_as_ever():
    """Nothing is known of its edges, so none may carry a bridge."""
    part = plain_part("plain", box(100, 60))
    machine = Machine("cnc", 6.0, bridges=4)
    assert bridge_places(part, machine) == ()
    assert cut(part, machine) == cut(part, replace(machine, bridges=0))
