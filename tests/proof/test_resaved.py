"""What other programs do to a file and a machine cuts all the same: cautions only. Then the same, a hair too far."""

import io
import json
import re
from collections import Counter

import ezdxf
import pytest
from ezdxf.addons import r12export
from ezdxf.math import Matrix44
from part_names import cut_file
from small_folder import (
    BEARER,
    edit_dxf,
    edit_kit,
    edit_text,
    mirrored_dxf,
    rehashed,
    sheet_folder,
    small_folder,
)

from jigmaker.findings import errors_in
from jigmaker.geometry.outline import Arc, Line
from jigmaker.proof.prove import prove

CHORD_MM = 0.002
DXF, SVG = cut_file(BEARER, "dxf"), cut_file(BEARER, "svg")
PAPER = "papers/potting-bench-sheet-1-names.svg"


@pytest.fixture(scope="module")
def folder(demo_files):
    """A folder of one sheet and the parts on it."""
    return sheet_folder(demo_files, BEARER)


def every(form, change):
    """An edit of every cut file of a form, by its text."""

    def edit(files):
        for name in [name for name in files if name.endswith(form)]:
            files[name] = change(files[name].decode()).encode()

    return edit


def by_library(change, write=lambda document, stream: document.write(stream)):
    """A change of a DXF's text by the library."""

    def edit(text):
        document = ezdxf.read(io.StringIO(text))
        change(document.modelspace())
        stream = io.StringIO()
        write(document, stream)
        return stream.getvalue()

    return edit


def rounded_dxf(places):
    """Coordinates, radii, angles and bulges written with fewer decimals."""
    group = re.compile(r"(?m)^( (?:10|20|11|21|40|42|50|51)\n)(-?[0-9]+\.[0-9]+)$")
    return lambda text: group.sub(lambda found: f"{found[1]}{float(found[2]):.{places}f}", text)


def rounded_svg(pattern):
    """Every figure of a path or circle written by another pattern."""
    figure = re.compile(r'(?<=[ "MLA])-?[0-9]+\.[0-9]+(?=[ "mZ])')
    return lambda text: figure.sub(lambda found: format(float(found[0]), pattern), text)


def exploded(space):
    """Polylines as loose lines and arcs, at the end of the file."""
    for polyline in list(space.query("LWPOLYLINE")):
        polyline.explode()


def in_chords(space):
    """Arcs of polylines as chords, as programs without bulges save them."""
    for polyline in list(space.query("LWPOLYLINE")):
        rows = polyline.get_points("xyb")
        following = rows[1:] + rows[:1] if polyline.closed else rows[1:]
        points = []
        for (x, y, bulge), (to_x, to_y, _) in zip(rows, following, strict=False):
            piece = Arc((x, y), (to_x, to_y), bulge) if bulge else Line((x, y), (to_x, to_y))
            points += piece.points(int(1.6 / (8 * CHORD_MM / piece.radius) ** 0.5) + 1 if bulge else 1)
        polyline.set_points(points + ([] if polyline.closed else [rows[-1][:2]]), format="xy")


def turned_round(space):
    """Closed polylines from another vertex, and run the other way."""
    for polyline in list(space.query("LWPOLYLINE")):
        if polyline.closed:
            rows = polyline.get_points("xyb")
            rows = [*rows[2:], *rows[:2]]
            back = [(x, y, -before) for (x, y, _), (_, _, before) in zip(rows, [rows[-1], *rows], strict=False)]
            polyline.set_points(back[::-1], format="xyb")


def shifted(space):
    """The drawing moved as a whole."""
    for entity in space:
        entity.translate(100, 70, 0)


def bulge_above_one(text):
    """Half circles as LibreCAD 2.2.0 writes them."""
    return re.sub(r"(?m)^( 42\n-?)1\.0$", r"\g<1>1.000000000000023", text)


def as_r12(document, stream):
    """By the library's own export, which knows no unit."""
    r12export.write(document, stream)


HARMLESS = {
    "DXF to four decimals": (every(".dxf", rounded_dxf(4)), set()),
    "DXF to three decimals": (every(".dxf", rounded_dxf(3)), set()),
    "SVG to eight digits": (every(".svg", rounded_svg(".8g")), set()),
    "SVG to four decimals": (every(".svg", rounded_svg(".4f")), set()),
    "exploded": (every(".dxf", by_library(exploded)), {109}),
    "arcs as chords": (every(".dxf", by_library(in_chords)), set()),
    "from another vertex, the other way": (every(".dxf", by_library(turned_round)), set()),
    "moved": (every(".dxf", by_library(shifted)), {113}),
    "half circles a hair over": (every(".dxf", bulge_above_one), set()),
    "R12 without a unit": (every(".dxf", by_library(lambda space: None, as_r12)), {104}),
}


@pytest.mark.parametrize("name", HARMLESS)
def test_what_other_programs_do_is_a_caution(name, folder):
    """One for each file that it was changed, and one for what differs."""
    edit, codes = HARMLESS[name]
    files = dict(folder)
    edit(files)
    changed = [name for name in folder if files[name] != folder[name]]
    assert len(changed) > 7
    findings = prove(files).findings
    files_by_code = {code: [f.part for f in findings if f.code == code] for code in {f.code for f in findings}}
    ours = {code: found for code, found in files_by_code.items() if code < 200}
    assert [f for f in errors_in(list(findings)) if f.code < 300 or f.code in (331, 332, 333, 334)] == []
    assert sorted(ours.pop(123)) == sorted(changed)
    assert set(ours) == codes
    assert all(len(set(found)) == len(found) for found in ours.values())


def test_chords_may_make_a_parts_box(demo_files):
    """A mask's box hangs on its round corners, whose chords stay up to 0.002 mm within them: cautions only."""
    files = small_folder(demo_files, ["mask-for-slot-r"])
    every(".dxf", by_library(in_chords))(files)
    findings = [each for each in prove(files).findings if each.code < 300 or each.code in (331, 332, 333, 334)]
    assert {(finding.code, finding.severity) for finding in findings} == {(123, "caution")}


def one_vertex(by):
    """One vertex of the end bearer's outline moved in its DXF."""

    def change(document):
        (outline,) = document.modelspace().query('LWPOLYLINE[layer=="OUTER"]')
        (x, y, bulge), *rest = outline.get_points("xyb")
        outline.set_points([(x + by, y, bulge), *rest], format="xyb")

    return lambda files: edit_dxf(files, DXF, change)


def found(files):
    """(code, file) of every error that is of files or of the cut."""
    return [(f.code, f.part) for f in errors_in(list(prove(files).findings)) if f.code < 300 or f.code == 331]


@pytest.mark.parametrize("by", [0.005, 0.3])
def test_the_first_fault_names_the_file_that_differs_and_by_how_much(by, folder):
    """DXF and SVG differ once, not a line at a time, and nothing else is told twice."""
    files = dict(folder)
    one_vertex(by)(files)
    errors = errors_in(list(prove(files).findings))
    first = next(finding for finding in errors if finding.code == 117)
    assert errors[0].part == first.part == DXF
    assert float(re.search(r"by up to ([0-9.]+) mm", first.says)[1]) == pytest.approx(by, rel=0.2)
    assert max(Counter((f.code, f.part, f.at) for f in errors).values()) == 1
    assert SVG not in {finding.part for finding in errors}


def scaled(by):
    """Every entity, as a program that takes the file for another unit saves it."""
    return by_library(lambda space: [entity.transform(Matrix44.scale(by, by, by)) for entity in space])


def without_hole(space):
    """The first opening is gone."""
    space.delete_entity(next(entity for entity in space if entity.dxf.layer == "INNER"))


SAID = [
    (scaled(25.4), f"its lines are 25.4 times as large as those in {SVG}: millimetres were taken for inches"),
    (scaled(1 / 25.4), f"its lines are 0.0394 times as large as those in {SVG}: inches were taken for millimetres"),
    (scaled(2), f"its lines are 2 times as large as those in {SVG}"),
    (
        by_library(lambda space: space.add_line((8, 8), (9, 9), dxfattribs={"layer": "MARK"})),
        "it has a line that is not",
    ),
    (by_library(without_hole), f"it lacks a line that is in {SVG}: "),
]


@pytest.mark.parametrize(("change", "says"), SAID, ids=["inches", "to inches", "doubled", "a line more", "a hole less"])
def test_what_a_hand_did_in_a_program_is_called_by_its_name(change, says, folder):
    """Another size, a line more, a line less: nobody has to guess it from places and figures."""
    files = dict(folder)
    files[DXF] = change(files[DXF].decode()).encode()
    (first,) = [finding for finding in prove(files).findings if finding.code == 117]
    assert first.part == DXF
    assert first.says.startswith(says)


def test_a_file_that_is_not_there_is_named_once(folder):
    """The place says which, the words say what."""
    files = {name: data for name, data in folder.items() if name != DXF}
    (said,) = [str(finding) for finding in prove(files).findings if finding.code == 122]
    assert said.count(DXF) == 1


def test_a_file_as_made_is_held_to_its_last_decimal(folder):
    """A tenth of a thousandth of a millimetre is what another program may do, and not what jigmaker writes."""
    files = dict(folder)
    one_vertex(0.0001)(files)
    assert found(files) == []
    rehashed(files)
    assert 117 in {code for code, _ in found(files)}


def test_rounded_lines_are_not_called_a_mirror_image(folder):
    """A part that is its own mirror image, to three decimals; and one that is turned over is called so."""
    files = dict(folder)
    every(".dxf", rounded_dxf(3))(files)
    assert 119 not in {finding.code for finding in prove(files).findings}
    mirrored_dxf(files, DXF)
    assert (119, DXF) in found(files)


@pytest.mark.parametrize("gone", ["svg", "dxf"])
def test_a_deleted_half_of_a_pair_is_told(gone, folder):
    """The file and its entries in kit.json taken out: nothing else misses it."""
    files = {name: data for name, data in folder.items() if name != cut_file(BEARER, gone)}

    def drop(kit):
        kit["files"].pop(cut_file(BEARER, gone))
        (bearer,) = (part for part in kit["parts"] if part["slug"] == BEARER)
        bearer["files"] = [file for file in bearer["files"] if file["name"] in files]

    edit_kit(files, drop)
    (fault,) = (finding for finding in prove(files).findings if finding.code == 122)
    assert fault.severity == "error" and gone.upper() in fault.says and "end bearer" in fault.says


def test_of_papers_it_is_said_that_they_cannot_be_judged(folder):
    """Nobody reads them, so nobody may say that they were judged."""
    files = {**folder, PAPER: b"<svg/>"}
    edit_kit(files, lambda kit: kit["files"].update({PAPER: "0" * 64}))
    edit_text(files, SVG, "</svg>", "<!-- mine --></svg>")
    said = {f.part: f.says for f in prove(files).findings if f.code == 123}
    assert "cannot be judged" in said[PAPER]
    assert "judged as it is now" in said[SVG]
    assert json.loads(files["kit.json"])["files"][PAPER] == "0" * 64
