"""The judge's SVG reader: every shape, unit and transform as drawing programs write them; faults for all the rest."""

import io
from math import pi

import pytest
from part_names import cut_file
from svgelements import SVG as Rewriter

from jigmaker.geometry.outline import Circle, Outline, Stroke
from jigmaker.proof.readers.read_svg import read_svg

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60">'
COLOURS = {"#ff7f00": "MARK", "#007fff": "INNER", "#000000": "OUTER", "#808080": "NOTE"}


def read(body, head=HEAD, layers=None):
    """What the reader makes of some elements: file and findings."""
    return read_svg("x.svg", f"{head}{body}</svg>".encode(), layers)


def one(body, **more):
    """The only contour of some elements."""
    file, findings = read(body, **more)
    assert findings == []
    (contour,) = file.contours
    return contour.shape


def flat(points):
    """The figures of some points in a row."""
    return [figure for point in points for figure in point]


TRIANGLE = Outline.from_points([(10, 50), (30, 50), (30, 30)])


@pytest.mark.parametrize(
    "path",
    [
        "M10 10 L30 10 L30 30 Z",
        "M10,10L30,10L30,30z",
        "m10 10 l20 0 l0 20 z",
        "M10 10 30 10 30 30Z",
        "m10 10 20 0 0 20z",
        "M10 10H30V30Z",
        "m10 10h20v20z",
        "M 1e1 10.0 L 3.e1 10 , 30 30 Z",
        "M+10+10L30 10 30 30Z",
        "M10 10 L30 10 L30 30 L10 10 Z",
    ],
)
def test_a_path_reads_however_it_is_written(path):
    """Absolute, relative, without blanks, without letters, with exponents: a triangle, y turned up on a page of 60."""
    shape = one(f'<path d="{path}"/>')
    assert flat(shape.corners) == pytest.approx(flat(TRIANGLE.corners))


@pytest.mark.parametrize(
    ("path", "points"),
    [
        ("M10 10L20-5-6.5.5", [(10, 50), (20, 65), (-6.5, 59.5)]),
        ("M10 10 20 20", [(10, 50), (20, 40)]),
        ("M5 5h10m0 10h10", None),
    ],
)
def test_open_paths_are_strokes(path, points):
    """Figures may stand side by side without a blank; a second move starts a second contour."""
    file, findings = read(f'<path d="{path}"/>')
    assert findings == []
    assert all(isinstance(contour.shape, Stroke) for contour in file.contours)
    if points:
        assert flat(file.contours[0].shape.points()) == pytest.approx(flat(points))
    else:
        assert len(file.contours) == 2


@pytest.mark.parametrize(
    "path",
    ["M10 30 A20 20 0 0 1 50 30", "M10 30 A20 20 0 01 50 30", "M10 30a20 20 0 0140 0", "M10 30A5 5 0 0,1 50 30"],
)
def test_arcs_read_with_flags_glued_and_radii_too_small(path):
    """Flag 1 sweeps from left over the top in SVG's plane: half a circle of radius 20, top at y 50 with y up."""
    shape = one(f'<path d="{path}"/>')
    assert shape.length == pytest.approx(20 * pi)
    assert shape.bounds == pytest.approx((10, 30, 50, 50))


def test_a_large_arc_takes_the_long_way():
    """Three quarters of a circle, in two pieces."""
    shape = one('<path d="M50 30 A20 20 0 1 1 30 10"/>')
    assert shape.length == pytest.approx(1.5 * pi * 20)


@pytest.mark.parametrize(
    "body",
    [
        '<circle cx="30" cy="20" r="8"/>',
        '<ellipse cx="30" cy="20" rx="8" ry="8"/>',
        '<path d="M38 20 A8 8 0 0 1 22 20 A8 8 0 0 1 38 20 Z"/>',
        '<path d="M38 20 A8 8 0 0 0 30 12 A8 8 0 0 0 22 20 A8 8 0 0 0 30 28 A8 8 0 0 0 38 20"/>',
        '<rect x="22" y="12" width="16" height="16" rx="8"/>',
        '<circle r="8" transform="translate(30 20)"/>',
        '<g transform="translate(30,20)"><g transform="rotate(30)"><circle r="4" transform="scale(2)"/></g></g>',
        '<circle cx="30" cy="20" r="8" transform="rotate(90 30 20)"/>',
        '<circle cx="20" cy="30" r="8" transform="matrix(0 1 1 0 0 0)"/>',
    ],
)
def test_a_circle_reads_however_it_is_written(body):
    """Also as arcs, and through transforms that keep it round."""
    shape = one(body)
    assert isinstance(shape, Circle)
    assert (*shape.centre, shape.radius) == pytest.approx((30, 40, 8))


@pytest.mark.parametrize(
    "body",
    [
        '<rect x="10" y="10" width="40" height="20"/>',
        '<polygon points="10,10 50,10 50,30 10,30"/>',
        '<polyline points="10 10 50 10 50 30 10 30 10 10"/>',
        '<path d="M10 10h40v20h-40z"/>',
        '<line x1="10" y1="10" x2="50" y2="10"/><path d="M50 30V10M50 30H10"/><line x1="10" y1="30" x2="10" y2="10"/>',
    ],
)
def test_a_rectangle_reads_however_it_is_written(body):
    """Loose lines that meet are one contour."""
    shape = one(body)
    assert isinstance(shape, Outline)
    assert abs(shape.area) == pytest.approx(800)
    assert shape.bounds == pytest.approx((10, 30, 50, 50))


def test_a_rounded_rectangle_has_arcs():
    """Area less what four corners of radius 5 lose."""
    shape = one('<rect x="10" y="10" width="40" height="20" rx="5"/>')
    assert abs(shape.area) == pytest.approx(800 - (100 - 25 * pi))


def test_a_mirror_turns_arcs_the_other_way():
    """What turned left turns right, and nothing else changes."""
    body = '<path d="M10 30 A20 20 0 0 1 50 30 L50 40 Z"/>'
    plain = one(body)
    turned = one(f'<g transform="translate(100 0) scale(-1 1)">{body}</g>')
    assert turned.area == pytest.approx(-plain.area)
    assert turned.bounds == pytest.approx((50, 20, 90, 50))


@pytest.mark.parametrize(
    ("size", "box", "unit"),
    [
        ('width="100mm" height="60mm"', "0 0 100 60", "mm"),
        ('width="10cm" height="6cm"', "0 0 100 60", "mm"),
        ('width="3.93700787in" height="2.36220472in"', "0 0 100 60", "in"),
        ('width="377.952756" height="226.771654"', "0 0 100 60", None),
        ('width="377.952756px" height="226.771654px"', "0 0 100 60", None),
    ],
)
def test_the_page_says_how_large_a_unit_is(size, box, unit):
    """CSS: an inch is 25.4 mm and 96 pixels. A line of 40 is 40 mm long in each of these."""
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="{box}">'
    file, findings = read('<path d="M10 10H50"/>', head=head)
    assert findings == []
    assert file.unit == unit
    assert file.contours[0].shape.length == pytest.approx(40, abs=1e-4)


def test_a_view_box_may_start_anywhere_and_be_in_other_units():
    """Twice as many units as millimetres, shifted."""
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="-20 10 200 120">'
    file, findings = read('<path d="M0 30H80"/>', head=head)
    assert findings == []
    assert flat(file.contours[0].shape.points()) == pytest.approx([10, 50, 50, 50])
    assert file.scale == 0.5


@pytest.mark.parametrize(
    ("head", "word"),
    [
        ('<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm">', "viewBox"),
        ('<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 60">', "no size"),
        ('<svg xmlns="http://www.w3.org/2000/svg" width="100%" height="60%" viewBox="0 0 100 60">', "no size"),
        ('<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="70mm" viewBox="0 0 100 60">', "as wide as"),
        ('<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 nan 60">', "viewBox"),
    ],
)
def test_a_page_without_scale_is_told(head, word):
    """Its lines are read all the same."""
    file, findings = read('<path d="M10 10H50"/>', head=head)
    assert [finding.code for finding in findings] == [106]
    assert word in findings[0].says
    assert len(file.contours) == 1


@pytest.mark.parametrize(
    "body",
    [
        '<g id="x1"><title>INNER</title>{}</g>',
        '<g id="INNER">{}</g>',
        '<g id="INNER-2">{}</g>',
        '<g xmlns:v="http://example.org/v" v:label="INNER" id="g7">{}</g>',
        '<g id="INNER"><g id="g9">{}</g></g>',
        '<g stroke="#007FFF">{}</g>',
        '<g style="fill:none;stroke:rgb(0, 127, 255)">{}</g>',
    ],
)
def test_the_layer_is_found_by_title_label_id_or_colour(body):
    """Programs keep different ones of them."""
    file, findings = read(body.format('<circle r="5" cx="9" cy="9"/>'), layers=COLOURS)
    assert findings == []
    assert file.contours[0].layer == "INNER"


def test_a_group_and_a_colour_that_disagree_are_told():
    """Whoever sorts by colour would cut it otherwise than whoever sorts by layer."""
    _, findings = read('<g id="OUTER"><circle r="5" stroke="#ff7f00"/></g>', layers=COLOURS)
    assert [finding.code for finding in findings] == [116]


UNKNOWN = [
    '<path d="M0 0 C1 1 2 2 3 3"/>',
    '<path d="M0 0 q1 1 2 2"/>',
    '<path d="M0 0 A5 6 0 0 1 9 9"/>',
    '<path d="M0 0 L1"/>',
    '<path d="L1 1"/>',
    '<path d="M0 0 L1mm 2mm"/>',
    '<path d="M0 0 Z 5"/>',
    '<path d="M0 0 L1_0 2"/>',
    '<polyline points="1,2mm"/>',
    '<polygon points="1 2 3"/>',
    "<text>cut</text>",
    '<image href="x.png"/>',
    '<use href="#x"/>',
    "<svg/>",
    '<ellipse rx="5" ry="6"/>',
    '<rect width="5" height="9" rx="1" ry="2"/>',
    '<rect width="0" height="9"/>',
    '<circle r="5mm"/>',
    '<circle r="5" transform="scale(2 1)"/>',
    '<circle r="5" transform="skewX(10)"/>',
    '<circle r="5" transform="spin(10)"/>',
    '<circle r="5" display="none"/>',
    '<g style="display: none"><circle r="5"/></g>',
    '<circle r="5" visibility="hidden"/>',
    '<g clip-path="url(#c)"><circle r="5"/></g>',
    "<style>path { display: none }</style>",
    '<foreignObject><circle r="5"/></foreignObject>',
]


@pytest.mark.parametrize("body", UNKNOWN)
def test_what_is_not_understood_is_told(body):
    """Never left out quietly."""
    _, findings = read(body)
    assert [finding.code for finding in findings] == [102]


def test_what_draws_nothing_is_passed_over():
    """Titles, definitions nobody uses, and the notes of programs in their own namespace."""
    body = '<title>A</title><desc>B</desc><metadata><x/></metadata><defs><path d="M0 0C1 1 2 2 3 3"/></defs>'
    body += '<view xmlns="http://example.org/v"><circle r="3"/></view><style></style>'
    file, findings = read(body)
    assert findings == []
    assert file.contours == ()
    assert file.notes == ("A", "B")


@pytest.mark.parametrize("reify", [True, False])
@pytest.mark.parametrize("name", ["plate", "bevel-plate"])
def test_a_written_file_rewritten_by_a_stranger_reads_the_same(name, reify, demo_files, tmp_path):
    """In pixels, with a matrix on every path: within 0.001 mm, for it writes its scale to six figures."""
    data = demo_files[cut_file(name, "svg")]
    Rewriter.parse(io.BytesIO(data), reify=reify).write_xml(str(tmp_path / "again.svg"))
    before, _ = read_svg("x.svg", data, COLOURS)
    after, findings = read_svg("x.svg", (tmp_path / "again.svg").read_bytes(), COLOURS)
    assert findings == []
    assert len(after.contours) == len(before.contours)
    for one_, two in zip(before.contours, after.contours, strict=True):
        assert one_.layer == two.layer
        assert two.shape.bounds == pytest.approx(one_.shape.bounds, abs=1e-3)
