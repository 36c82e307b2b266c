"""The judge's DXF reader against files that the library writes: every version, unit and entity; faults for the rest."""

import io
from math import pi, tan

import ezdxf
import pytest
from part_names import cut_file
from small_folder import saved

from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.proof.readers.read_dxf import read_dxf

RECTANGLE = [(10, 10), (110, 10), (110, 60), (10, 60)]


def a_document(version="R2000", units=4):
    """An empty document with the layers CUT and Marks."""
    document = ezdxf.new(version, units=units)
    document.layers.add("CUT")
    document.layers.add("Marks")
    return document


def read(document, **more):
    """What the reader makes of a document: contours and findings."""
    file, findings = read_dxf("x.dxf", saved(document), **more)
    return file, findings


def drawn(version="R2000", units=4):
    """A rectangle with a round corner, a circle, an arc of 270 degrees and a line."""
    document = a_document(version, units)
    space, cut, mark = document.modelspace(), {"layer": "CUT"}, {"layer": "Marks"}
    corner = [(10, 10, 0), (110, 10, 0), (110, 50, tan(pi / 8)), (100, 60, 0), (10, 60, 0)]
    if version == "R12":
        space.add_polyline2d(corner, format="xyb", close=True, dxfattribs=cut)
    else:
        space.add_lwpolyline(corner, format="xyb", close=True, dxfattribs=cut)
    space.add_circle((40, 30), 5, dxfattribs=cut)
    space.add_arc((80, 30), 8, 45, 315, dxfattribs=mark)
    space.add_line((20, 20), (30, 25), dxfattribs=mark)
    return document


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"])
def test_every_version_reads_alike(version):
    """Area of 100 x 50 with one corner of radius 10: the rectangle, less the square, plus the quarter circle."""
    file, findings = read(drawn(version))
    assert findings == []
    outline, circle, arc, line = (contour.shape for contour in file.contours)
    assert isinstance(outline, Outline) and outline.area == pytest.approx(5000 - (100 - 25 * pi), abs=1e-6)
    assert circle == Circle((40, 30), 5)
    assert isinstance(arc, Stroke) and arc.length == pytest.approx(8 * 1.5 * pi, abs=1e-9)
    assert line == Stroke.from_points([(20, 20), (30, 25)])
    assert [contour.layer for contour in file.contours] == ["CUT", "CUT", "Marks", "Marks"]
    assert {"CUT", "Marks"} <= set(file.layers)


@pytest.mark.parametrize(("units", "unit", "size"), [(4, "mm", 100), (1, "in", 2540), (6, None, 100), (0, None, 100)])
def test_the_units_variable_sets_the_size(units, unit, size):
    """Of any unit but inches and millimetres the reader says that it knows none, and leaves the figures alone."""
    file, findings = read(drawn(units=units))
    assert findings == []
    assert file.unit == unit
    low_x, _, high_x, _ = file.contours[0].shape.bounds
    assert high_x - low_x == pytest.approx(size)


@pytest.mark.parametrize(
    ("comment", "unit"), [("1 drawing unit = 1 mm", "mm"), ("1 drawing unit = 1 inch (25.4 mm)", "in"), ("", None)]
)
def test_r12_takes_its_unit_from_the_comment(comment, unit):
    """As another program saves it, R12 has no variable for it."""
    file, findings = read_dxf("x.dxf", f"999\nDXF R12, {comment}\n".encode() + saved(drawn("R12")))
    assert findings == []
    assert file.unit == unit
    assert file.contours[1].shape.radius == pytest.approx(127 if unit == "in" else 5)


@pytest.mark.parametrize("version", ["R2010", "R2018"])
def test_a_written_file_saved_again_reads_the_same(version, demo_files):
    """By the library, in a later version: header, layers and every contour."""
    name = cut_file("plate")
    document = ezdxf.read(io.StringIO(demo_files[name].decode()))
    document.dxfversion = version
    before, none = read_dxf(name, demo_files[name])
    after, findings = read_dxf(name, saved(document))
    assert none == findings == []
    assert [(c.layer, c.shape) for c in after.contours] == [(c.layer, c.shape) for c in before.contours]
    assert (after.unit, after.measurement, after.layers) == (before.unit, before.measurement, before.layers)
    assert (after.width_mm, after.box_mm) == (before.width_mm, before.box_mm)


@pytest.mark.parametrize("explode", [False, True])
def test_lines_and_arcs_that_meet_are_one_contour(explode):
    """Two pieces of a chain may run against each other, and stand in any order."""
    document = drawn()
    space = document.modelspace()
    if explode:
        space[0].explode()
        pieces = [entity for entity in space if entity.dxf.layer == "CUT" and entity.dxftype() != "CIRCLE"]
        pieces[1].dxf.start, pieces[1].dxf.end = pieces[1].dxf.end, pieces[1].dxf.start
        space.entity_space.entities.reverse()
    file, findings = read(document)
    assert findings == []
    (outline,) = (contour for contour in file.contours if isinstance(contour.shape, Outline))
    assert abs(outline.shape.area) == pytest.approx(5000 - (100 - 25 * pi), abs=1e-4)
    assert outline.is_whole is not explode


def test_where_three_lines_meet_none_is_joined():
    """Nobody can say which of them go together."""
    document = a_document()
    for end in ((10, 0), (0, 10), (10, 10)):
        document.modelspace().add_line((5, 5), end, dxfattribs={"layer": "CUT"})
    file, findings = read(document)
    assert findings == []
    assert len(file.contours) == 3


def test_two_half_circles_are_a_circle():
    """However a program writes one."""
    document = a_document()
    document.modelspace().add_lwpolyline([(0, 5, 1), (10, 5, 1)], format="xyb", close=True, dxfattribs={"layer": "CUT"})
    file, _ = read(document)
    assert file.contours[0].shape == Circle((5, 5), 5)


def test_an_arc_of_over_half_a_turn_in_one_bulge_keeps_its_length():
    """A relief of 270 degrees is a bulge of tan(67.5 degrees)."""
    document = a_document()
    points = [(10, 5, tan(3 * pi / 8)), (5, 10, 0)]
    document.modelspace().add_lwpolyline(points, format="xyb", dxfattribs={"layer": "CUT"})
    file, _ = read(document)
    assert file.contours[0].shape.length == pytest.approx(5 * 1.5 * pi)
    assert file.contours[0].shape.bounds == pytest.approx((5, 5, 15, 15))


def test_layers_keep_their_spelling():
    """DXF knows no case, and writes letters outside its code page as \\U+xxxx before 2007."""
    document = a_document()
    document.layers.add("Öffnung Ω")
    document.modelspace().add_circle((5, 5), 2, dxfattribs={"layer": "öffnung ω".upper()})
    document.modelspace().add_circle((9, 9), 2, dxfattribs={"layer": "marks"})
    file, findings = read(document)
    assert findings == []
    assert [contour.layer for contour in file.contours] == ["Öffnung Ω", "Marks"]


UNKNOWN = [
    ("TEXT", lambda space: space.add_text("cut")),
    ("MTEXT", lambda space: space.add_mtext("cut")),
    ("SPLINE", lambda space: space.add_spline([(0, 0), (5, 5), (9, 0)])),
    ("ELLIPSE", lambda space: space.add_ellipse((5, 5), (5, 0), 0.5)),
    ("POINT", lambda space: space.add_point((5, 5))),
    ("SOLID", lambda space: space.add_solid([(0, 0), (5, 5), (9, 0)])),
    ("HATCH", lambda space: space.add_hatch()),
    ("INSERT", lambda space: space.add_blockref("PIECE", (5, 5))),
    ("space", lambda space: space.add_polyline3d([(0, 0, 0), (5, 5, 5)])),
    ("turned over", lambda space: space.add_circle((5, 5), 2, dxfattribs={"extrusion": (0, 0, -1)})),
    ("above or below", lambda space: space.add_line((0, 0, 5), (9, 9, 5))),
    ("invisible", lambda space: space.add_line((0, 0), (9, 9), dxfattribs={"invisible": 1})),
]


@pytest.mark.parametrize(("word", "add"), UNKNOWN, ids=[word for word, _ in UNKNOWN])
def test_what_is_not_understood_is_told(word, add):
    """Never left out quietly: a machine may cut it."""
    document = a_document()
    document.blocks.new("PIECE").add_line((0, 0), (5, 5))
    add(document.modelspace())
    file, findings = read(document)
    assert file.contours == ()
    assert [finding.code for finding in findings] == [102]
    assert word in findings[0].says and "line" in findings[0].at


def test_shapes_in_paper_space_are_told_and_windows_are_not():
    """A saved-again file has windows onto its paper; a shape there would not be cut from the model."""
    document = a_document("R2010")
    document.layout("Layout1").add_viewport((5, 5), (10, 10), (0, 0), 100)
    assert read(document)[1] == []
    document.layout("Layout1").add_circle((5, 5), 2)
    (finding,) = read(document)[1]
    assert finding.code == 102 and "paper space" in finding.says


@pytest.mark.parametrize(("off", "freeze"), [(True, False), (False, True)])
def test_a_layer_that_is_off_is_told(off, freeze):
    """A machine's program may leave it out."""
    document = a_document()
    layer = document.layers.get("CUT")
    _ = off and layer.off(), freeze and layer.freeze()
    (finding,) = read(document)[1]
    assert finding.code == 116 and "CUT" in finding.says


@pytest.mark.parametrize(
    ("points", "closed", "count"),
    [
        ([(0, 0), (9, 0), (9, 0), (9, 9)], True, 1),
        ([(0, 0), (9, 0), (9, 9), (0, 0)], True, 1),
        ([(5, 5), (5, 5)], False, 1),
    ],
)
def test_pieces_of_no_length_are_told(points, closed, count):
    """A repeated point, the first point repeated at the end of a closed contour, and a contour that is a point."""
    document = a_document()
    document.modelspace().add_lwpolyline(points, close=closed, dxfattribs={"layer": "CUT"})
    findings = read(document)[1]
    assert {finding.code for finding in findings} == {111}
    assert len(findings) >= count


@pytest.mark.parametrize(
    ("group", "value"), [("10", "nan"), ("20", "inf"), ("40", "1e300"), ("40", "-5"), ("40", "0"), ("10", "abc")]
)
def test_figures_that_cannot_be_are_told(group, value):
    """Each of them written where a circle has its centre or radius."""
    document = a_document()
    document.modelspace().add_circle((5.25, 5.5), 2.75, dxfattribs={"layer": "CUT"})
    number = {"10": "5.25", "20": "5.5", "40": "2.75"}[group]
    data = saved(document).replace(f"\n{number}\n".encode(), f"\n{value}\n".encode())
    file, findings = read_dxf("x.dxf", data)
    assert file.contours == ()
    assert [finding.code for finding in findings] == [103]


def test_a_line_there_and_back_encloses_nothing():
    """A closed polyline of two points is no opening: it stays an open line, also in two pieces that meet."""
    document = a_document()
    document.modelspace().add_lwpolyline([(5, 5), (9, 5)], close=True, dxfattribs={"layer": "CUT"})
    for ends in (((20, 20), (30, 20)), ((30, 20), (20, 20))):
        document.modelspace().add_line(*ends, dxfattribs={"layer": "CUT"})
    file, findings = read(document)
    assert findings == []
    assert [type(contour.shape) for contour in file.contours] == [Stroke, Stroke]
