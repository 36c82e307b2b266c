"""kit.json and the folder round it: everything told is read, and what is missing or wrong is told with its path."""

import json
import math
from dataclasses import replace

import pytest
from small_folder import BEARER, STRIP, edit_kit, edit_text, small_folder

from jigmaker.geometry.outline import Circle
from jigmaker.proof.readers.read_folder import operations_of, read_folder
from jigmaker.proof.readers.read_kit import read_kit


@pytest.fixture(scope="module")
def files(demo_files):
    """A folder of two parts without sheets."""
    return small_folder(demo_files, (STRIP, BEARER))


def test_the_kit_is_read_whole(demo_files):
    """Counts by the file itself; a hole, a feature, a setting and a placement by value."""
    kit, findings = read_kit(demo_files["kit.json"])
    plain = json.loads(demo_files["kit.json"])
    assert findings == []
    assert [part.slug for part in kit.parts] == [part["slug"] for part in plain["parts"]]
    assert [len(sheet.pieces) for sheet in kit.sheets] == [len(sheet["pieces"]) for sheet in plain["sheets"]]
    assert kit.hashes == plain["files"]
    assert ("slot width", 75.15, "mm") in kit.settings
    plate = kit.parts[0]
    assert dict(plate.holes).keys() >= {"slot R", "slot L"}
    assert next(feature.value for feature in plate.features if feature.name == "slot R, opening") == 75.15
    assert plate.placements[0].frame.origin == pytest.approx(plain["parts"][0]["placements"][0]["origin_mm"])
    assert any(isinstance(hole, Circle) for part in kit.parts for _, hole in part.holes)
    assert {file.compensation for file in plate.files} == {"included", "left out"}


def drop(*path):
    """An edit that takes a key away."""

    def change(kit):
        for key in path[:-1]:
            kit = kit[key]
        del kit[path[-1]]

    return change


def put(value, *path):
    """An edit that puts a value in."""

    def change(kit):
        for key in path[:-1]:
            kit = kit[key]
        kit[path[-1]] = value

    return change


FAULTS = [
    (drop("schema"), "schema"),
    (put("something else 9", "schema"), "schema"),
    (drop("parts"), "parts"),
    (put({}, "parts"), "parts"),
    (drop("parts", 0, "slug"), "parts[0].slug"),
    (put(7, "parts", 1, "name"), "parts[1].name"),
    (put("X", "parts", 0, "hand"), "parts[0].hand"),
    (put(-1, "parts", 0, "needed"), "parts[0].needed"),
    (put(True, "parts", 0, "spares"), "parts[0].spares"),
    (put("9.1", "parts", 0, "thickness_mm"), "parts[0].thickness_mm"),
    (put(1e300, "parts", 0, "thickness_mm"), "parts[0].thickness_mm"),
    (put([0, 0], "parts", 0, "outline", "vertices_mm", 1), "parts[0].outline.vertices_mm[1]"),
    (put([0, 0, "0"], "parts", 0, "outline", "vertices_mm", 1), "parts[0].outline.vertices_mm[1][2]"),
    (put([[1, 1, 0], [1, 1, 0]], "parts", 0, "outline", "vertices_mm"), "parts[0].outline"),
    (put([], "parts", 0, "outline", "vertices_mm"), "parts[0].outline"),
    (put({"centre_mm": [0, 0], "radius_mm": 5}, "parts", 0, "outline"), "parts[0].outline"),
    (put(0, "parts", 1, "holes", 0, "radius_mm"), "parts[1].holes[0]"),
    (put("nowhere", "parts", 0, "features", 0, "contour"), "parts[0].features[0].contour"),
    (put([999], "parts", 0, "features", 0, "pieces"), "parts[0].features[0].pieces"),
    (drop("parts", 0, "features", 0, "angle_deg"), "parts[0].features[0]"),
    (put([0, 0, 2], "parts", 0, "placements", 0, "x_axis"), "parts[0].placements[0]"),
    (put("up", "parts", 0, "placements", 0, "state"), "parts[0].placements[0].state"),
    (put("x.exe", "parts", 0, "files", 0, "name"), "parts[0].files[0].name"),
    (put("twice", "parts", 0, "files", 0, "compensation"), "parts[0].files[0].compensation"),
    (put(["engrave"], "parts", 0, "files", 0, "operations"), "parts[0].files[0].operations"),
    (put([{"name": "sheet-1"}], "sheets"), "sheets[0]"),
    (put(5, "files"), "files"),
    (put([{}] * 1001, "sheets"), "sheets"),
    (put([{}] * 21, "parts", 0, "placements"), "parts[0].placements"),
    (lambda kit: kit["parts"][0].update(files=kit["parts"][0]["files"] * 2), "parts"),
    (lambda kit: kit["parts"][0].update(files=kit["parts"][0]["files"] * 20), "parts[0].files"),
    (put("x" * 1001, "parts", 0, "name"), "parts[0].name"),
    (put({str(n): "" for n in range(1001)}, "files"), "files"),
]


@pytest.mark.parametrize(("change", "path"), FAULTS, ids=[f"{i} {path}" for i, (_, path) in enumerate(FAULTS)])
def test_a_fault_of_the_kit_is_told_with_its_path(change, path, files):
    """One finding, and no kit: half of one would only make more findings."""
    edited = dict(files)
    edit_kit(edited, change)
    kit, findings = read_kit(edited["kit.json"])
    assert kit is None
    assert [finding.code for finding in findings] == [124]
    assert findings[0].at.startswith(path)


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "no JSON"),
        (b"[1, 2", "no JSON"),
        (b"[]", "group"),
        (b"\xff\xfe", "UTF-8"),
        (b'{"schema": NaN}', "NaN"),
        (b'{"schema": 1e999}', "too large"),
        (b"[" * 99_000, "deep"),
        (b'{"job": {"height_mm": 1' + b"0" * 400 + b"}}", "too large a number"),
        (b'{"job": {"height_mm": 1' + b"0" * 5000 + b"}}", "too large a number"),
        (b"[" * 100_001, "over 100000 groups"),
    ],
)
def test_what_is_no_kit_at_all_is_told(data, word):
    """In one finding."""
    kit, (finding,) = read_kit(data)
    assert kit is None
    assert finding.code == 124 and word in finding.says


def test_every_part_with_a_fault_is_told(files):
    """Not only the first."""
    edited = dict(files)
    edit_kit(edited, lambda kit: (put("", "parts", 0, "needed")(kit), put("", "parts", 1, "needed")(kit)))
    _, findings = read_kit(edited["kit.json"])
    assert [finding.at for finding in findings] == ["parts[0].needed", "parts[1].needed"]


def test_the_folder_is_read_whole(files):
    """Job, shop, figures and each cut file; layers by the shop's map, whatever case DXF gives them."""
    folder, findings = read_folder(files)
    assert findings == []
    assert (folder.job.height_mm, folder.shop.machine.tool_mm) == (720, 0.2)
    assert folder.numbers["angles_deg"]["splay"] == 78
    assert math.isclose(folder.numbers["leg"]["length_mm"], 751.82639, abs_tol=1e-4)
    assert sorted(folder.files) == sorted(name for name in files if name.endswith((".dxf", ".svg")))
    told = folder.kit.parts[0].files[0]
    lines = folder.files[told.name].lines
    assert set(lines.names) == {"MARK", "INNER", "OUTER"}
    strange = tuple("0" if name == "OUTER" else name.lower() for name in lines.names)
    file = replace(folder.files[told.name], lines=replace(lines, names=strange))
    read = {
        lines.names[i]: int(number)
        for i, number in zip(lines.layer, operations_of(file, told, folder.shop), strict=True)
    }
    assert read == {"MARK": 0, "INNER": 1, "OUTER": -1}


@pytest.mark.parametrize("name", ["job.toml", "shop.toml", "kit.json"])
def test_without_job_shop_or_kit_nothing_is_judged(name, files):
    """And the one that is missing is named."""
    folder, findings = read_folder({key: data for key, data in files.items() if key != name})
    assert folder is None
    assert [(finding.code, finding.part) for finding in findings] == [(122, name)]


def test_missing_changed_and_strange_files_are_told(files):
    """Missing is an error, changed and unlisted are cautions; a file that cannot be read is not there for the judge."""
    edited = dict(files) | {"parts/other.svg": b"<svg/>"}
    names = [name for name in edited if name.endswith(".dxf")]
    edited.pop(names[0])
    edited[names[1]] = b"broken"
    folder, findings = read_folder(edited)
    assert {(finding.code, finding.severity, finding.part) for finding in findings} == {
        (122, "error", names[0]),
        (123, "caution", names[1]),
        (101, "error", names[1]),
        (122, "caution", "parts/other.svg"),
    }
    assert names[0] not in folder.files and names[1] not in folder.files


@pytest.mark.parametrize(
    ("name", "old", "new", "path"),
    [
        ("job.toml", "height = 720", "height = 700", "job.height_mm"),
        ("job.toml", "width = 70 ", "width = 71 ", "job.leg.width_mm"),
        ("shop.toml", "bush = 17 ", "bush = 16 ", "shop.hand_router.bush_mm"),
        ("shop.toml", '"R2000"', '"R12"', "shop.files.dxf"),
    ],
)
def test_a_job_or_shop_changed_after_making_is_told(name, old, new, path, files):
    """Its files are another job's then. A comment more is no change."""
    edited = dict(files)
    edit_text(edited, name, old, new)
    _, findings = read_folder(edited)
    assert [finding.at for finding in findings if finding.code == 124] == [path]
    commented = dict(files) | {name: files[name] + b"\n# mine\n"}
    assert {finding.code for finding in read_folder(commented)[1]} == {123}


def test_faulty_figures_are_told(files):
    """numbers.json is read like kit.json."""
    edited = dict(files)
    edit_text(edited, "numbers.json", '"splay": 78', '"splay": "78"')
    folder, findings = read_folder(edited)
    assert folder.numbers == {}
    assert any(finding.code == 124 and "angles_deg.splay" in finding.says for finding in findings)
