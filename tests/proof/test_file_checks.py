"""Each fault of a file is found under its code, and the demo has none: a row spoils one thing and names its code."""

import re
from dataclasses import replace

import pytest
from part_names import cut_file, finished_file
from small_folder import (
    BEARER,
    STRIP,
    edit_dxf,
    edit_kit,
    edit_shape,
    edit_text,
    mirrored_dxf,
    mirrored_svg,
    moved_path,
    named,
    on_layer,
    rehashed,
    sheet_folder,
    small_folder,
    svg_shapes,
)

from jigmaker.findings import cautions_in, errors_in
from jigmaker.proof.checks.file_checks import check_files
from jigmaker.proof.codes import FILE_CODES
from jigmaker.proof.readers.read_folder import read_folder

DXF, SVG = cut_file(STRIP, "dxf"), cut_file(STRIP, "svg")
SHEET_DXF = "sheets/potting-bench-sheet-*-kerf-0.20.dxf"
SHEET_SVG = "sheets/finished-size/potting-bench-sheet-*-finished-size.svg"


def judged(files):
    """All findings of reading the folder and checking its files."""
    folder, findings = read_folder(files)
    return findings + (check_files(folder) if folder else [])


def dxf(name, change):
    """An edit of one DXF by the library."""
    return lambda files: edit_dxf(files, name, change)


def text(name, old, new, count=1):
    """An edit of one file's text."""
    return lambda files: edit_text(files, name, old, new, count)


def shape(name, layer, number, change):
    """An edit of one element of an SVG."""
    return lambda files: edit_shape(files, name, layer, number, change)


def outline(document):
    """The outer contour of a part's DXF."""
    (found,) = on_layer(document, "OUTER")
    return found


def hole(document):
    """The first round hole of a DXF."""
    return next(entity for entity in on_layer(document, "INNER") if entity.dxftype() == "CIRCLE")


def square(document):
    """The reference square: the note's first entity."""
    return on_layer(document, "NOTE")[0]


def set_point(entity, number, dx=0.0, dy=0.0):
    """Move one vertex of a polyline."""
    points = entity.get_points("xyb")
    x, y, bulge = points[number]
    points[number] = (x + dx, y + dy, bulge)
    entity.set_points(points, format="xyb")


def repeat_point(entity):
    """Write one vertex of a polyline twice."""
    points = entity.get_points("xyb")
    entity.set_points([points[0], *points], format="xyb")


def open_up(entity):
    """Take away the closed flag."""
    entity.closed = False


def to_lines(document):
    """The outline as loose lines, as some programs save it."""
    outline(document).explode()


def moved_all(document, dx):
    """Everything shifted along x."""
    for entity in document.modelspace():
        entity.translate(dx, 0, 0)


def outer_first(document):
    """The outline before everything else, as programs that sort by layer name may have it."""
    found = outline(document)
    document.modelspace().unlink_entity(found)
    document.modelspace().entity_space.entities.insert(0, found)


def wider(document):
    """The reference square a hundredth larger: what a scale of 1.0002 does."""
    set_point(square(document), 1, dx=0.01)
    set_point(square(document), 2, dx=0.01)


def onto_part(document):
    """The reference square onto the first of the parts."""
    x, y, _ = on_layer(document, "OUTER")[0].get_points("xyb")[0]
    from_x, from_y, _ = square(document).get_points("xyb")[0]
    square(document).translate(x + 2 - from_x, y + 2 - from_y, 0)


def onto_edge(document):
    """A hole moved onto the outline."""
    x, y, _ = outline(document).get_points("xyb")[0]
    hole(document).dxf.center = (x, y + 20)


def beside(document):
    """A hole moved off the part."""
    x, y, _ = outline(document).get_points("xyb")[0]
    hole(document).dxf.center = (x - 5, y + 20)


def twice(document, entity):
    """The same entity a second time."""
    document.modelspace().add_entity(entity.copy())


def both(*edits):
    """Several edits, one after the other."""

    def change(files):
        for edit in edits:
            edit(files)

    return change


def same_as_nominal(files):
    """Compensated files that hold the nominal lines: the kerf left out where the name says that it is in."""
    for form in ("dxf", "svg"):
        files[cut_file(STRIP, form)] = files[finished_file(STRIP, form)]


def mirrored_throughout(files):
    """A part turned over in all its files alike."""
    for name in (cut_file, finished_file):
        mirrored_dxf(files, name(BEARER, "dxf"))
        mirrored_svg(files, name(BEARER, "svg"))


def without_hole(files):
    """A hole taken out of every file of a part alike."""
    for name in (cut_file, finished_file):
        edit_dxf(files, name(STRIP, "dxf"), lambda document: document.modelspace().delete_entity(hole(document)))
        text = files[name(STRIP, "svg")].decode()
        circle = next(each for each in svg_shapes(text, "INNER") if each.startswith("<circle"))
        files[name(STRIP, "svg")] = text.replace(circle, "").encode()


def inner_as_outer(document):
    """A hole on the layer of the outlines."""
    hole(document).dxf.layer = "OUTER"


def switched_off(document):
    """The layer of the holes switched off."""
    document.layers.get("INNER").off()


def scaled_svg(factor, unit="mm", name=SVG):
    """The page's size multiplied, its viewBox kept."""

    def change(files):
        for key in ("width", "height"):
            size = float(re.search(rf'<svg[^>]* {key}="([0-9.]+)mm"'.encode(), files[named(files, name)])[1])
            edit_text(files, name, f' {key}="[0-9.]+mm"', f' {key}="{size * factor:.6f}{unit}"')

    return change


in_pixels = scaled_svg(96 / 25.4, "px")


def set_header(name, value):
    """Another value for a header variable."""

    def change(document):
        document.header[name] = value

    return change


def add(method, *arguments, **more):
    """One more entity."""
    return lambda document: getattr(document.modelspace(), method)(*arguments, **more)


NOTE = {"layer": "NOTE", "color": 8}
SQUARE = [(20, 20), (70, 20), (70, 70), (20, 70)]
IN_PART = {"layer": "INNER", "color": 5}

CASES = [
    (101, "a DXF cut short", lambda files: files.update({DXF: files[DXF][: len(files[DXF]) * 3 // 4]})),
    (101, "an SVG cut short", lambda files: files.update({SVG: files[SVG][: len(files[SVG]) // 2]})),
    (102, "a TEXT in the note", dxf(DXF, add("add_text", "cut me", dxfattribs=NOTE))),
    (102, "a SPLINE", dxf(DXF, add("add_spline", [(30, 30), (40, 45), (60, 30)], dxfattribs=IN_PART))),
    (102, "an extrusion turned over", dxf(DXF, lambda document: setattr(hole(document).dxf, "extrusion", (0, 0, -1)))),
    (102, "a curve in an SVG", shape(SVG, "OUTER", 0, lambda old: old.replace(" L", " Q0 0 ", 1))),
    (102, "a text in an SVG", text(SVG, "</svg>", "<text x='1' y='1'>cut me</text></svg>")),
    (103, "nan for a coordinate", text(DXF, r"(?<=AcDbCircle\n 10\n)[0-9.]+", "nan")),
    (103, "infinity in an SVG", text(SVG, r' r="[0-9.]+"', ' r="1e999"')),
    (104, "metres", dxf(DXF, set_header("$INSUNITS", 6))),
    (104, "inches in a shop of millimetres", dxf(DXF, set_header("$INSUNITS", 1))),
    (104, "pixels", in_pixels),
    (105, "imperial measurement", dxf(DXF, set_header("$MEASUREMENT", 0))),
    (106, "no viewBox", text(SVG, r'viewBox="[^"]*"', "")),
    (106, "a page stretched one way", text(SVG, r' width="[0-9.]+mm"', ' width="500mm"')),
    (106, "millimetres taken for inches", scaled_svg(25.4)),
    (
        107,
        "a square that kit.json does not tell of",
        dxf(DXF, add("add_lwpolyline", SQUARE, close=True, dxfattribs=NOTE)),
    ),
    (108, "an open outline", dxf(DXF, lambda document: open_up(outline(document)))),
    (109, "an outline in loose lines", dxf(DXF, to_lines)),
    (110, "a hole twice", dxf(DXF, lambda document: twice(document, hole(document)))),
    (110, "an outline twice", dxf(DXF, lambda document: twice(document, outline(document)))),
    (111, "a point twice", dxf(DXF, lambda document: repeat_point(outline(document)))),
    (112, "an outline across itself", dxf(DXF, lambda document: set_point(outline(document), 0, dx=500, dy=5))),
    (112, "a hole across the outline", dxf(DXF, onto_edge)),
    (113, "everything too far left", dxf(DXF, lambda document: moved_all(document, -20))),
    (113, "everything too far right", dxf(DXF, lambda document: moved_all(document, 20))),
    (114, "a hole beside its part", dxf(DXF, beside)),
    (115, "the outline first", dxf(DXF, outer_first)),
    (116, "a hole on no layer of the shop's", dxf(DXF, lambda document: setattr(hole(document).dxf, "layer", "0"))),
    (116, "a layer switched off", dxf(DXF, switched_off)),
    (116, "a hole in the marks' colour", shape(SVG, "INNER", 1, lambda old: old.replace("#3f7f7f", "#a57c00"))),
    (117, "a vertex moved by 0.004", shape(SVG, "OUTER", 0, lambda old: moved_path(old, 0.004))),
    (117, "a vertex written 0.00002 off", both(shape(SVG, "OUTER", 0, lambda o: moved_path(o, 0.00002)), rehashed)),
    (117, "a hole on the outlines' layer", dxf(DXF, inner_as_outer)),
    (118, "the kerf left out", same_as_nominal),
    (118, "a vertex moved by 0.05", dxf(DXF, lambda document: set_point(outline(document), 0, dx=0.05))),
    (119, "an SVG turned over", lambda files: mirrored_svg(files, cut_file(BEARER, "svg"))),
    (119, "a part turned over in all its files", mirrored_throughout),
    (120, "a hole dropped from all files", without_hole),
    (122, "a file missing", lambda files: files.pop(DXF)),
    (122, "a file more", lambda files: files.update({"parts/copy.dxf": files[DXF]})),
    (123, "a file changed", text(SVG, "</svg>", "<!-- mine --></svg>")),
    (124, "kit.json cut short", lambda files: files.update({"kit.json": files["kit.json"][:5000]})),
    (126, "an older kit", text("kit.json", "jigmaker kit 2", "jigmaker kit 1")),
    (124, "another job", text("job.toml", "height = 720", "height = 721")),
    (124, "a shop that cannot be", text("shop.toml", "kerf = 0.20", "kerf = -1")),
    (125, "extents of nowhere", text(DXF, r"(?<=\$EXTMAX\n 10\n)[0-9.]+", "9000.0")),
]

SHEET_CASES = [
    (107, "a square 0.01 too wide", dxf(SHEET_DXF, wider)),
    (107, "no square", dxf(SHEET_DXF, lambda document: document.modelspace().delete_entity(square(document)))),
    (107, "millimetres taken for inches", scaled_svg(25.4, name=SHEET_SVG)),
    (107, "96 for 90 dpi", scaled_svg(96 / 90, name=SHEET_SVG)),
    (107, "a square on the part", dxf(SHEET_DXF, onto_part)),
    (121, "a hole of a piece moved", dxf(SHEET_DXF, lambda document: hole(document).translate(0.5, 0, 0))),
    (121, "a mark gone", shape(SHEET_SVG, "MARK", 0, lambda old: "")),
    (121, "a piece told elsewhere", lambda files: edit_kit(files, shift_piece)),
    (119, "a whole sheet turned over", lambda files: mirrored_sheet(files)),
]


def mirrored_sheet(files):
    """A sheet turned over in both of its compensated files."""
    mirrored_dxf(files, SHEET_DXF)
    mirrored_svg(files, SHEET_DXF.replace(".dxf", ".svg"))


def shift_piece(kit):
    """One piece of the sheet half a millimetre to the right in kit.json."""
    kit["sheets"][0]["pieces"][0]["x_mm"] += 0.5


@pytest.fixture(scope="module")
def two_parts(demo_files):
    """A folder of two parts without sheets."""
    return small_folder(demo_files, (STRIP, BEARER))


@pytest.fixture(scope="module")
def with_sheet(demo_files):
    """A folder of one sheet and the parts on it."""
    return sheet_folder(demo_files)


@pytest.mark.parametrize("name", ["two_parts", "with_sheet"])
def test_a_folder_as_made_has_no_finding(name, request):
    """Not even a caution."""
    assert judged(request.getfixturevalue(name)) == []


@pytest.mark.parametrize(("code", "what", "edit"), CASES, ids=[f"{code} {what}" for code, what, _ in CASES])
def test_a_fault_is_found_under_its_code(code, what, edit, two_parts):
    """And the finding says which file, what is wrong and what to do."""
    files = dict(two_parts)
    edit(files)
    found = [finding for finding in judged(files) if finding.code == code]
    assert found, what
    assert all(finding.part and finding.says and finding.do for finding in found)


@pytest.mark.parametrize(("code", "what", "edit"), SHEET_CASES, ids=[f"{code} {what}" for code, what, _ in SHEET_CASES])
def test_a_fault_of_a_sheet_is_found_under_its_code(code, what, edit, with_sheet):
    """Pieces are held to their own files and to where kit.json places them."""
    files = dict(with_sheet)
    edit(files)
    assert code in {finding.code for finding in judged(files)}, what


def test_every_code_of_files_is_raised_by_some_case():
    """A code in the table that nothing raises would be an empty promise."""
    assert {code for code, _, _ in CASES + SHEET_CASES} == set(FILE_CODES)


@pytest.mark.parametrize(
    ("edit", "code"),
    [
        (text(SVG, "</svg>", "<!-- mine --></svg>"), 123),
        (dxf(DXF, to_lines), 109),
        (dxf(DXF, lambda document: None), 123),
        (in_pixels, 104),
    ],
    ids=["a comment", "loose lines", "saved again", "pixels"],
)
def test_what_a_machine_cuts_the_same_is_only_a_caution(edit, code, two_parts):
    """A file that another program saved again still proves."""
    files = dict(two_parts)
    edit(files)
    findings = judged(files)
    assert errors_in(findings) == []
    assert code in {finding.code for finding in cautions_in(findings)}


def test_loose_lines_that_the_shop_asks_for_are_no_caution(two_parts):
    """[files] contours = "line and arc": what other kits are warned of is then as it was made."""
    files = dict(two_parts)
    dxf(DXF, to_lines)(files)
    folder, _ = read_folder(files)
    choices = replace(folder.shop.files, contours="line and arc")
    wanted = replace(folder, shop=replace(folder.shop, files=choices))
    assert {finding.code for finding in check_files(folder)} == {109}
    assert check_files(wanted) == []
