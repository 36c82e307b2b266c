"""What goes wrong between a file and the machine: kerf, order, sheets, a scale that nobody checks.

Three kits, both formats. A tool of the stated width is run along the written lines; what is left must be the parts.
"""

from collections import Counter
from dataclasses import replace
from itertools import combinations
from math import dist

import pytest
import shapely
from dxf_tags import tags
from sample_jobs import DEMO, DEMO_SHOP
from svg_paths import NAMESPACE, root
from trouble.written_kits import KITS, drawn, head, written_kit

from jigmaker.cutting.compensate import compensate
from jigmaker.geometry.lettering import write_text
from jigmaker.job.shop import Machine
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import single_part_sheet
from jigmaker.trestle.solve import solve

CHORDS = 32
APART_MM = 1.99
"""Pieces lie the tool's width and 2 mm apart at least, so their paths 2 mm; placing rounds."""

every_kit = pytest.mark.parametrize("name", KITS)
both_forms = pytest.mark.parametrize("form", ["dxf", "svg"])


def cut_lines(kit, file):
    """The closed contours that are cut, in file order."""
    return [line for line in drawn(file) if line.is_closed and line.layer != kit.layer("note")]


@every_kit
@both_forms
def test_what_the_tool_leaves_is_the_part(name, form):
    """Added on the wrong side, or once instead of on both, the kerf makes every slot loose and every tenon thin."""
    kit = written_kit(name)
    for part, file in kit.part_files(form):
        radius, (sheet,) = kit.offset_mm(file), [s for s in kit.plan.part_sheets if s.name == part.slug]
        shapes = {line: shapely.Polygon(line.dots(CHORDS)) for line in cut_lines(kit, file)}
        outer = [shape for line, shape in shapes.items() if line.layer == kit.layer("outer")]
        inner = [shape for line, shape in shapes.items() if line.layer == kit.layer("inner")]
        left = outer[0].difference(shapely.union_all(inner))
        swept = shapely.union_all([shape.exterior for shape in shapes.values()]).buffer(
            radius or 1e-9, quad_segs=CHORDS
        )
        left, frame = left.difference(swept), sheet.placed[0].sheet_from_part
        wanted = shapely.Polygon(
            part.outline.placed(frame).points(CHORDS),
            [hole.contour.placed(frame).points(CHORDS) for hole in part.holes],
        )
        assert left.geom_type == "Polygon", file.name
        # at best: a round tool leaves its own fillet in every corner that it cannot reach into
        at_best = wanted.buffer(radius, quad_segs=CHORDS).buffer(-radius, quad_segs=CHORDS)
        assert left.symmetric_difference(at_best).area <= 0.5, file.name


def test_the_kerf_rounds_no_corner_and_adds_none():
    """A rectangle with the kerf in it is still a rectangle: as many pieces as in the nominal file, as in the part."""
    kit, seen = written_kit("demo"), 0
    for form in ("dxf", "svg"):
        pairs = {}
        for part, file in kit.part_files(form):
            pieces = [len(line.pieces) for line in cut_lines(kit, file)]
            nominal = sorted(len(getattr(shape, "segments", ())) for shape in _contours(part))
            assert sorted(pieces) == nominal, file.name
            pairs.setdefault(part.slug, []).append(pieces)
        seen += sum(one == other for one, other in pairs.values())
    assert seen == 2 * len(kit.plan.kit.parts)


def _contours(part):
    return [part.outline, *(hole.contour for hole in part.holes)]


@pytest.mark.parametrize("thickness_mm", [6.0, 6.35, 9.1, 12.2, 12.7])
def test_slots_follow_the_thickness_that_was_measured(thickness_mm):
    """A slot for the sheet's nominal thickness lets the tenon fall out: drawn, it is thickness + play - kerf wide."""
    sheet = replace(DEMO_SHOP.sheet, thickness_mm=thickness_mm)
    router = replace(DEMO_SHOP.hand_router, bush_length_mm=thickness_mm - 2)
    shop = replace(DEMO_SHOP, sheet=sheet, hand_router=router)
    plate = next(part for part in make_kit(solve(DEMO), shop).parts if part.slug == "plate")
    cut = compensate(single_part_sheet(plate, 0.2), shop.machine, "included")
    names = {f.contour for f in plate.features if f.kind == "mortise" and f.name.endswith(", width")}
    widths = [min(piece.length for piece in one.shape.segments) for one in cut.contours if one.name in names]
    assert len(widths) > 3
    assert widths == pytest.approx([thickness_mm + sheet.joint_clearance_mm - 0.2] * len(widths), abs=1e-9)


@pytest.mark.parametrize("name", ["cnc, inches, R12", "bearing, one hand, R12"])
def test_only_a_round_cutter_asks_for_reliefs(name):
    """A square tenon does not go into a mortise with round corners; a beam needs no relief and gets none."""
    kit = written_kit(name)
    is_laser = kit.plan.shop.machine.kind == "laser"
    plates = [part for part in kit.plan.kit.parts if part.slug.startswith("plate")]
    for plate in plates:
        names = {f.contour for f in plate.features if f.kind == "mortise"}
        mortises = [hole.contour for hole in plate.holes if hole.name in names]
        assert len(mortises) > 3
        for mortise in mortises:
            arcs = [s for s in mortise.segments if s.bulge]
            assert (len(mortise.segments), len(arcs)) == (4, 0) if is_laser else len(arcs) >= 4
            corners = _true_corners(mortise)
            room = shapely.Polygon(mortise.points(CHORDS))
            tool = kit.plan.shop.machine.tool_mm / 2
            reached = room.buffer(-tool, quad_segs=CHORDS).buffer(tool, quad_segs=CHORDS) if not is_laser else room
            assert max(reached.distance(shapely.Point(corner)) for corner in corners) <= 0.01


def _true_corners(mortise):
    """Where the straight walls of a mortise meet, reliefs or not."""
    walls = [s for s in mortise.segments if not s.bulge]
    long = [s for s in walls if s.length > 2]
    lines = [shapely.LineString([_beyond(s.end, s.start), _beyond(s.start, s.end)]) for s in long]
    found = [a.intersection(b) for a, b in combinations(lines, 2)]
    return [(p.x, p.y) for p in found if not p.is_empty]


def _beyond(start, end, by=20.0):
    length = dist(start, end)
    return tuple(b + (b - a) / length * by for a, b in zip(start, end, strict=True))


@every_kit
@both_forms
def test_marks_come_first_then_holes_then_outlines(name, form):
    """Cut loose first, a part drops or shifts, and its holes land elsewhere; many machines keep the file's order."""
    kit = written_kit(name)
    for file in kit.of(form):
        order = [line.layer for line in drawn(file) if line.layer != kit.layer("note")]
        assert order == sorted(order, key=[kit.layer(o) for o in ("mark", "inner", "outer")].index), file.name
        shapes = shapely.polygons([shapely.LinearRing(line.dots(8)) for line in cut_lines(kit, file)])
        around, inside = shapely.STRtree(shapes).query(shapes, predicate="contains_properly")
        assert len(around) == sum(line.layer == kit.layer("inner") for line in cut_lines(kit, file))
        assert all(inside < around), file.name


@every_kit
@both_forms
def test_a_sheet_holds_every_piece_once_and_apart(name, form):
    """Copies are lost or merged, or parts lie over each other: each piece's contours are there, no outlines meet."""
    kit = written_kit(name)
    placed, pieces = Counter(), {part.slug: part.pieces for part in kit.plan.kit.parts}
    for file in (file for file in kit.of(form) if file.name.startswith("sheets") and file.compensation == "included"):
        (sheet,) = [sheet for sheet in kit.plan.sheets if sheet.name == file.sheet]
        outer = [shapely.Polygon(line.dots(8)) for line in cut_lines(kit, file) if line.layer == kit.layer("outer")]
        inner = [line for line in cut_lines(kit, file) if line.layer == kit.layer("inner")]
        assert (len(outer), len(inner)) == (len(sheet.placed), sum(len(piece.part.holes) for piece in sheet.placed))
        assert all(one.distance(other) >= APART_MM for one, other in combinations(outer, 2)), file.name
        placed.update(piece.part.slug for piece in sheet.placed)
    assert placed == pieces


@every_kit
@both_forms
def test_a_square_of_a_stated_size_in_the_waste_tells_the_scale(name, form):
    """Many programs ignore a file's unit; a square of 50 mm or 2 in, off every part, shows it before the cut.

    Where the sheet's waste has no room for it the file names a part and the size of its lines instead.
    """
    kit = written_kit(name)
    size, words = (50.8, "2 in") if kit.plan.shop.files.unit == "in" else (50.0, "50 mm")
    for file in kit.of(form):
        note = [line for line in drawn(file) if line.layer == kit.layer("note")]
        squares = [line for line in note if line.is_closed]
        if not squares:  # a router's file may have crosses for screws all the same
            assert "over its lines, left to right" in file.data.decode()
            continue
        (square,) = squares
        assert [abs(b - a) for a, b, _ in square.pieces] == pytest.approx([size] * 4, abs=3e-5), file.name
        x, y = min(p.real for p in square.points), min(p.imag for p in square.points)
        figure = write_text(words, (x + size / 2, y + size / 2 - 3), 6, anchor="middle")
        there = [p for line in note for p in line.points]
        starts = [complex(*stroke.segments[0].start) for stroke in figure]
        assert all(min(abs(start - p) for p in there) < 1e-3 for start in starts), file.name
        assert not any(
            x - 2 < px < x + size + 2 and y - 2 < py < y + size + 2
            for line in cut_lines(kit, file)
            for px, py in line.dots(64)
        )


STATED = {
    "demo": {
        "included": "Kerf 0.20 included: lines moved 0.10",
        "left out": "Finished size: no kerf in this file",
    },
    # 3.175 mm are an eighth of an inch by definition
    "cnc, inches, R12": {
        "included": "Cutter 0.1250 included: lines moved 0.0625",
        "left out": "Finished size: no cutter in this file",
    },
    "bearing, one hand, R12": {
        "included": "Kerf 0.20 included: lines moved 0.10",
        "left out": "Finished size: no kerf in this file",
    },
}


@every_kit
def test_every_file_says_what_was_done_about_the_tools_width(name):
    """Full width or half, moved already or not: guessed wrongly it is taken off twice, or by double."""
    kit = written_kit(name)
    for file in kit.files:
        if file.name.endswith("dxf"):
            said = "\n".join(value for code, value in tags(head(file.data)) if code == 999)
        else:
            said = root(file.data).findtext(f"{NAMESPACE}desc") or ""
        assert STATED[name][file.compensation] in said, file.name
        assert ("finished-size" in file.name) == (file.compensation == "left out")


def test_a_feature_lost_to_the_tool_is_an_error_with_its_name():
    """Offsetting programs drop a hole narrower than the tool in silence; here each one is told, and nothing is made."""
    kit = written_kit("demo")
    sheet = next(sheet for sheet in kit.plan.part_sheets if sheet.name == "foot-block-layer")
    holes = [hole.name for hole in sheet.placed[0].part.holes]
    with pytest.raises(ValueError, match=r"foot-block-layer: hole") as caught:
        compensate(sheet, Machine("cnc", 12.0), "included")
    assert holes and all(f'hole "{hole}" is ' in str(caught.value) for hole in holes)
