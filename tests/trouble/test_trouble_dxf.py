"""What goes wrong with DXF files in other programs, looked for in every file of three kits by readers of our own."""

from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from dxf_tags import contours, header, layers, tags
from trouble.written_kits import KITS, drawn, entities, head, lines_of, unit_mm, written_kit

from jigmaker.cutting.cut_picture import cut_picture
from jigmaker.writers.dxf import write_dxf

SHORTEST_MM = 0.05
SHORTEST_STROKE_MM = 0.04  # the smallest piece of a letter

every_kit = pytest.mark.parametrize("name", KITS)


@every_kit
def test_a_part_has_its_size_in_the_unit_that_the_file_declares(name):
    """A metre in the header where millimetres were drawn makes a jig a thousand times too large."""
    kit = written_kit(name)
    unit = 25.4 if kit.plan.shop.files.unit == "in" else 1.0
    for part, file in kit.part_files("dxf"):
        (outer,) = [line for line in drawn(file) if line.layer == kit.layer("outer")]
        low_x, low_y, high_x, high_y = shapely.LinearRing(outer.dots(64)).bounds
        grown = 2 * kit.offset_mm(file)
        assert unit_mm(file.data) == unit
        if part.slug.startswith(("plate", "coupon", "foot-block")):  # square ends: no tip reaches further than the kerf
            nominal = [size + grown for size in part.outline.bounds[2:]]
            assert (high_x - low_x, high_y - low_y) == pytest.approx(nominal, abs=1e-4), file.name


@every_kit
def test_only_kinds_that_every_reader_knows_and_one_entity_a_contour(name):
    """Loose lines, splines, blocks, texts and hatches are dropped, exploded or cut by one program or another."""
    kit = written_kit(name)
    polyline = "LWPOLYLINE" if kit.plan.shop.files.dxf == "R2000" else "POLYLINE"
    for file in kit.of("dxf"):
        wanted = [(kit.layer(operation), operation != "mark") for operation, _ in lines_of(kit.cut(file))]
        found = [one for one in entities(file) if one.layer != kit.layer("note")]
        assert [(one.layer, one.is_closed) for one in found] == wanted, file.name
        assert {one.kind for one in found if one.is_closed} <= {polyline, "CIRCLE"}
        assert {one.kind for one in found if not one.is_closed} <= {polyline, "LINE", "ARC"}


@every_kit
def test_layer_and_colour_say_the_same(name):
    """Operators sort by the one or by the other: each entity has both, its layer's, and nothing lies on layer 0."""
    kit = written_kit(name)
    for file in kit.of("dxf"):
        table = layers(head(file.data))
        seen = {(one.layer, one.colour) for one in entities(file)}
        assert seen == {(layer, int(table[layer][62])) for layer, _ in seen}, file.name
        assert {layer for layer, _ in seen} <= {layer.name for layer in kit.plan.shop.layers.values()}
        assert len({colour for _, colour in seen}) == len(seen)


@pytest.mark.parametrize("name", ["demo", "cnc, inches, R12"])
def test_holes_are_circles_of_the_size_that_is_left_after_the_cut(name):
    """A hole of many short sides is refused by cutting services and comes out small."""
    kit, found = written_kit(name), 0
    for part, file in kit.part_files("dxf"):
        holes = [hole.contour.radius for hole in part.holes if hasattr(hole.contour, "radius")]
        radii = sorted(line.circle[2] for line in drawn(file) if line.circle and line.layer == kit.layer("inner"))
        assert radii == pytest.approx([r - kit.offset_mm(file) for r in sorted(holes)], abs=2e-5), file.name
        found += len(radii)
    assert found


@every_kit
def test_no_piece_is_too_short_and_no_arc_too_long(name):
    """Programs stop at lengths of nothing, repeated vertices and circles without radius; some misread arcs past 180."""
    kit = written_kit(name)
    for file in kit.of("dxf"):
        for line in drawn(file):
            shortest = SHORTEST_STROKE_MM if line.layer == kit.layer("mark") else SHORTEST_MM
            assert all(abs(end - start) >= shortest for start, end, _ in line.pieces), (file.name, line)
            assert all(abs(bulge) <= 1 for bulge in line.bulges)
            assert line.circle is None or line.circle[2] >= shortest


@every_kit
def test_contours_close_on_a_vertex_of_their_own(name):
    """The closed flag is set and the first point not written again, so that a rectangle has four vertices."""
    kit = written_kit(name)
    for file in kit.of("dxf"):
        closed = [one for one in entities(file) if one.is_closed and not one.circle]
        assert closed
        for one in closed:
            points = [vertex[:2] for vertex in one.vertices]
            assert len(points) >= 3 and all(a != b for a, b in pairwise([*points, points[0]])), file.name
        squares = [one for one in closed if one.layer == kit.layer("note")]
        assert [len(square.vertices) for square in squares] in ([], [4])


@every_kit
def test_nothing_is_drawn_twice(name):
    """A line that lies on another is cut twice and burns; nobody sees it on the screen."""
    for file in written_kit(name).of("dxf"):
        pieces = shapely.linestrings([piece for line in drawn(file) for piece in pairwise(_ring(line))])
        one, other = shapely.STRtree(pieces).query(pieces, predicate="dwithin", distance=0.01)
        one, other = one[one < other], other[one < other]
        shared = shapely.length(
            shapely.intersection(pieces[one], shapely.buffer(pieces[other], 0.01, cap_style="flat"))
        )
        assert len(pieces) > 100 and [str(pieces[i]) for i in one[shared > 0.1]] == [], file.name


def _ring(line):
    dots = line.dots(4)
    return [*dots, dots[0]] if line.is_closed else dots


@every_kit
def test_no_file_opens_blank(name):
    """The header's extents are the drawing's box, and the first view shows all of it."""
    for file in written_kit(name).of("dxf"):
        unit, found = unit_mm(file.data), header(head(file.data))
        dots = [dot for line in drawn(file) for dot in line.dots(8)]
        (low_x, low_y), (high_x, high_y) = map(min, zip(*dots, strict=True)), map(max, zip(*dots, strict=True))
        extents = [float(value) * unit for key in ("$EXTMIN", "$EXTMAX") for value in found[key]]
        assert extents == pytest.approx([low_x, low_y, 0, high_x, high_y, 0], abs=0.02), file.name
        view = _first_view(tags(head(file.data)))
        middle_x, middle_y, height, aspect = (float(view[code]) for code in (12, 22, 40, 41))
        assert middle_y - height / 2 <= low_y / unit and middle_y + height / 2 >= high_y / unit
        assert middle_x - height * aspect / 2 <= low_x / unit and middle_x + height * aspect / 2 >= high_x / unit


def _first_view(written):
    start = written.index((2, "*Active"))
    return dict(reversed(written[start : start + 40]))


@every_kit
def test_no_part_is_turned_over_in_space(name):
    """An extrusion downward, as left by a library's mirror, shows the part the wrong way round in half the readers."""
    for file in written_kit(name).of("dxf"):
        lines = file.data.partition(b"\nENTITIES\n")[2].splitlines()
        assert not {b"210", b"220", b"230"} & set(lines[::2]), file.name


def test_the_left_plate_is_the_mirror_of_the_right_one():
    """Vertex by vertex, arcs bent the other way: both hands are the same jig."""
    kit = written_kit("bearing, one hand, R12")
    right, left = ({one.layer: [] for one in entities(file)} for file in _plates(kit))
    for plate, file in zip((right, left), _plates(kit), strict=True):
        for line in drawn(file):
            if line.is_closed and line.layer != kit.layer("note"):
                plate[line.layer].append(line)
    outer, mirror = right[kit.layer("outer")][0], left[kit.layer("outer")][0]
    width = sum(f(p.real for p in outer.points) for f in (min, max))
    for layer in (kit.layer("inner"), kit.layer("outer")):
        turned = sorted(_mirrored_vertices(line, width) for line in right[layer])
        assert turned == sorted(_rounded_vertices(line.points, line.bulges) for line in left[layer])
    assert outer.points != mirror.points


def _plates(kit):
    return [file for part, file in kit.part_files("dxf") if part.slug in ("plate-r", "plate-l")]


def _mirrored_vertices(line, width):
    points = [complex(width - p.real, p.imag) for p in reversed(line.points)]
    bulges = [*reversed(line.bulges[:-1]), line.bulges[-1]]
    return _rounded_vertices(points, bulges)


def _rounded_vertices(points, bulges):
    """Vertices from the lowest left one on, rounded so that the last decimal decides nothing."""
    found = [(round(p.real, 4), round(p.imag, 4), round(b, 4) + 0.0) for p, b in zip(points, bulges, strict=True)]
    start = found.index(min(found))
    return found[start:] + found[:start]


@pytest.mark.parametrize("name", ["cnc, inches, R12", "bearing, one hand, R12"])
def test_the_oldest_dialect_holds_the_same_contours(name):
    """R12 has no light polylines, and a file with them opens empty: layer, colour and vertices are R2000's."""
    kit = written_kit(name)
    for file in [file for _, file in kit.part_files("dxf")][:2]:
        shop = kit.plan.shop
        newer = write_dxf(cut_picture(kit.cut(file), shop, "x"), "R2000", shop.files.unit)
        cut = [one for one in entities(file) if one.layer != kit.layer("note")]
        wanted = [one for one in contours(newer) if one.layer != kit.layer("note")]
        assert [replace(one, kind="") for one in cut] == [replace(one, kind="") for one in wanted]
        assert {one.kind for one in cut} != {one.kind for one in wanted}


@every_kit
def test_words_stand_in_comments_in_plain_letters(name):
    """A degree sign or an accent in another code page is rubbish, and a text entity is cut or lost."""
    kit = written_kit(name)
    for file in kit.of("dxf"):
        assert file.data.isascii()
        said = [value for code, value in tags(head(file.data)) if code == 999]
        assert any("1 drawing unit = 1" in line for line in said)
        assert any("included: lines moved" in line or "Finished size: no" in line for line in said), file.name
