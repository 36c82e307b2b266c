"""The files that a kit has when nothing more is asked for: parts at finished size, sheets as the machine takes them.

Each fault of a sheet is found by the parts that lie on it, and by cutting it in numbers.
"""

import json

import pytest
from part_names import finished_file
from small_folder import (
    BEARER,
    edit_dxf,
    edit_kit,
    edit_shape,
    mirrored_dxf,
    mirrored_svg,
    named,
    on_layer,
    sheet_folder,
)

from jigmaker.proof.checks.file_checks import check_files
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.sheets import sheet_findings
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.readers.read_folder import read_folder
from jigmaker.proof.use.fit import as_machined

DXF = "sheets/potting-bench-sheet-*-kerf-0.20.dxf"
SVG = DXF.replace(".dxf", ".svg")


@pytest.fixture(scope="module")
def usual(demo_files):
    """One sheet with the kerf in its lines and its parts at finished size, as if the shop had asked for no more."""
    files = sheet_folder(demo_files, BEARER)
    kit = json.loads(files["kit.json"])
    for owners, kind in ((kit["parts"], "left out"), (kit["sheets"], "included")):
        for owner in owners:
            owner["files"] = [file for file in owner["files"] if file["compensation"] == kind]
    kept = {file["name"] for owner in (*kit["parts"], *kit["sheets"]) for file in owner["files"]}
    kit["files"] = {name: data for name, data in kit["files"].items() if name in kept or "/" not in name}
    told = json.dumps(kit).encode()
    return {"kit.json": told, **{name: data for name, data in files.items() if name in kit["files"]}}


def judged(files):
    """Everything that is said of files and cuts."""
    folder, findings = read_folder(files)
    return findings + check_files(folder) + list(sheet_findings(folder, CutBefore()))


def test_they_have_no_finding(usual):
    """Not even a caution."""
    assert judged(usual) == []


def test_what_is_put_together_comes_off_the_sheet(usual):
    """Parts are judged as the tool leaves them: every one of these was cut with the kerf."""
    folder, _ = read_folder(usual)
    on_sheets = []
    list(sheet_findings(folder, CutBefore(), on_sheets))
    own, _ = cut_parts(folder)
    first = {}
    for cut in as_machined(own, on_sheets):
        first.setdefault(cut.declared.slug, cut)
    assert set(first) == {part["slug"] for part in json.loads(usual["kit.json"])["parts"]}
    assert all(cut.is_machined and cut.file == named(usual, DXF) for cut in first.values())


def moved(layer, by, number=0):
    """An entity of a layer moved along x."""
    return lambda document: on_layer(document, layer)[number].translate(by, 0, 0)


def added(layer):
    """A small square in the waste."""
    square = [(575, 20), (585, 20), (585, 30), (575, 30)]
    return lambda document: document.modelspace().add_lwpolyline(square, close=True, dxfattribs={"layer": layer})


def stray(layer):
    """A line of two points across the sheet, as a hand that slips leaves it."""
    return lambda document: document.modelspace().add_line((5, 5), (300, 300), dxfattribs={"layer": layer})


def removed(layer):
    """A contour gone."""
    return lambda document: document.modelspace().delete_entity(on_layer(document, layer)[0])


def sheet(change):
    """An edit of the sheet's DXF."""
    return lambda files: edit_dxf(files, DXF, change)


def shift_piece(kit):
    """One piece of the sheet told half a millimetre to the right."""
    kit["sheets"][0]["pieces"][0]["x_mm"] += 0.5


def turned_over(files):
    """The whole sheet, in both files."""
    mirrored_dxf(files, DXF)
    mirrored_svg(files, SVG)


FAULTS = [
    (118, "an outline moved", sheet(moved("OUTER", 0.01))),
    (118, "a hole moved", sheet(moved("INNER", 0.01))),
    (118, "a piece told elsewhere", lambda files: edit_kit(files, shift_piece)),
    (118, "the sheet turned over", turned_over),
    (118, "a hole gone", sheet(removed("INNER"))),
    (121, "an outline that is none of the kit's", sheet(added("OUTER"))),
    (121, "an opening that is none of the kit's", sheet(added("INNER"))),
    (108, "a line left among the outlines", sheet(stray("OUTER"))),
    (108, "a line left among the openings", sheet(stray("INNER"))),
    (121, "a mark gone", lambda files: edit_shape(files, SVG, "MARK", 0, lambda old: "")),
    (121, "a mark moved", sheet(moved("MARK", 0.01))),
    (121, "a mark more", sheet(added("MARK"))),
    (
        120,
        "a part at finished size that is another",
        lambda files: edit_dxf(files, finished_file("end-bearer"), moved("INNER", 1)),
    ),
]


@pytest.mark.parametrize(("code", "what", "edit"), FAULTS, ids=[what for _, what, _ in FAULTS])
def test_a_fault_is_found(code, what, edit, usual):
    """Under the code of what it is."""
    files = dict(usual)
    edit(files)
    assert code in {finding.code for finding in judged(files)}, what
