"""Whole kits for shops that differ, made and read back: machine, guide, bed, DXF version and unit."""

import json
import re
from functools import cache
from pathlib import Path

import dxf_tags
import pytest
import svg_paths
from kit_cache import made
from sample_jobs import ideal_shop_text

from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_shop

TESTS = Path(__file__).parents[1]
LASER = 'kind = "laser"\nkerf = 0.20                 # full width of the cut, from a test cut in this sheet'
CNC = 'kind = "cnc"\ncutter = 3.175'
BEARING = (
    ("bush = 17 ", "bush = 12.7 "),
    ("cutter = 12\n", "cutter = 12.7\nblade = 38.1\nbearing_height = 6\n"),
    ("bush_length = 6 ", "# "),
)
INCLUDED = ('compensation = "both"', 'compensation = "included"')
ONE_HAND = ("length = 600", "length = 400")
BLANK = ('"score"', '"none"')  # most of a run goes into letters
R12 = ('"R2000"', '"R12"')

CHANGES = {
    "laser, bearing, one hand, R12": (*BEARING, ONE_HAND, R12, INCLUDED, BLANK),
    "cnc, bearing, two slots, blank": (*BEARING, (LASER, CNC), BLANK),
    "laser, bush, one hand, inches": (ONE_HAND, INCLUDED, BLANK),
    "demo, R12": (R12, INCLUDED, BLANK),
}
PAIR = "cnc, bush, two slots, inches, apart"
KITS = [PAIR, *CHANGES]
READ = [name for name in KITS if name != "demo, R12"]  # that one is compared with R2000 as a whole


def changed(text, changes):
    """The text with each (old, new) changed; each must be there."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


@cache
def kit(name):
    """Shop, and the files of the kit by name; made once."""
    if name == PAIR:
        job, shop = ((TESTS / where / "workshop_pair.toml").read_bytes() for where in ("jobs", "shops"))
        return read_shop(shop), made(job, shop)
    job, shop = demo_job_text(), changed(ideal_shop_text().decode(), CHANGES[name])
    if name.endswith(", inches"):
        job = re.sub(r"(?m)^(\w+) = ([0-9.]+)(?=\s)(?<!_deg)", _in_mm, job.decode()).encode()
        job = job.replace(b'units = "mm"', b'units = "in"')
        shop = re.sub(r"(?m)^(\w+) = ([0-9.]+)(?=\s)", _in_mm, shop).replace('units = "mm"', 'units = "in"')
    return read_shop(shop.encode()), made(job, shop.encode())


def _in_mm(found):
    """A bare number of a file as text in mm; counts and angles as they were."""
    key, number = found[1], found[2]
    return found[0] if key == "trestles" or key.endswith("_deg") else f"{key} = '{number} mm'"


def cut_names(files, form):
    """Names of the files for the machine; letters alone by themselves are looked at on the sheets only."""
    names = [name for name in files if name.startswith(("parts/", "sheets/")) and name.endswith(form)]
    return [name for name in names if not (name.startswith("parts/") and name.endswith(f"-mark{form}"))]


def box_of(shape, scale=1.0):
    """Layer, whether closed, and the box of corners (or circle) of a contour from either reader, mm."""
    if shape.circle and len(shape.circle) == 3:
        x, y, r = (value * scale for value in shape.circle)
        return shape.layer, shape.is_closed, (x - r, y - r, x + r, y + r)
    if hasattr(shape, "pieces"):
        points = [point for a, b, *_ in shape.pieces for point in (a, b)]
        xs, ys = [p.real for p in points], [p.imag for p in points]
    else:
        xs, ys = [[v[i] * scale for v in shape.vertices] for i in (0, 1)]
    return shape.layer, shape.is_closed, (min(xs), min(ys), max(xs), max(ys))


def finished_of(file, files):
    """The name of the file at finished size that goes with a compensated one."""
    stem = re.sub(r"-cutter-[0-9.]+svg$", "-finished-size.svg", file.rpartition("/")[2])
    return next(name for name in files if name.endswith(f"/{stem}"))


@pytest.mark.parametrize("name", READ)
def test_dxf_and_svg_are_one(name):
    """Every pair of files: the same shapes on the same layers in the same places, in the same order, none below 0.

    An arc by itself has no corners in DXF; it is only counted.
    """
    shop, files = kit(name)
    scale = 25.4 if shop.files.unit == "in" else 1.0
    names = {shop.layers[operation].name for operation in shop.layers}
    for file in cut_names(files, ".dxf"):
        drawn = dxf_tags.contours(files[file])
        shown = svg_paths.shapes(files[file.removesuffix(".dxf") + ".svg"])
        assert [(one.layer, one.is_closed) for one in drawn] == [(one.layer, one.is_closed) for one in shown]
        assert {one.layer for one in drawn} <= names
        assert {one.layer for one in drawn} <= set(dxf_tags.layers(files[file]))
        for one, other in zip(drawn, shown, strict=True):
            if one.kind != "ARC":
                box = box_of(one, scale)[2]
                assert box == pytest.approx(box_of(other)[2], abs=2e-5), file
                assert min(box) >= 0


@pytest.mark.parametrize("name", READ)
def test_the_unit_is_told(name):
    """A reference square is 50 mm or 2 in by the file's own numbers; header and comments of every file say the unit."""
    shop, files = kit(name)
    is_inch, squares = shop.files.unit == "in", 0
    for file in cut_names(files, ".dxf"):
        note = [one for one in dxf_tags.contours(files[file]) if one.layer == shop.layers["note"].name]
        for square in [one for one in note if one.is_closed]:
            _, _, (low_x, low_y, high_x, high_y) = box_of(square)
            assert (high_x - low_x, high_y - low_y) == pytest.approx((2, 2) if is_inch else (50, 50), abs=1e-6)
            squares += 1
        head = files[file].decode("ascii").partition("SECTION")[0]
        said = head.split("\n")[1::2]
        assert len(said) == len(set(said))  # nothing twice
        assert ("1 drawing unit = 1 inch" if is_inch else "1 drawing unit = 1 mm") in head
        assert ("Units: inches in DXF" if is_inch else "Units: millimetres") in head
        header = dxf_tags.header(files[file])
        assert (header["$INSUNITS"], header["$MEASUREMENT"]) == ((["1"], ["0"]) if is_inch else (["4"], ["1"]))
    assert squares
    for file in cut_names(files, ".svg"):
        assert b"numbers in this file are millimetres" in files[file]


def test_r12_draws_what_r2000_draws(demo_files):
    """Every file of the demo: POLYLINE in place of LWPOLYLINE, the same layer, colour, vertices and bulges."""
    _, files = kit("demo, R12")
    for file in cut_names(files, ".dxf"):
        old, new = dxf_tags.contours(files[file]), dxf_tags.contours(demo_files[file])
        new = [one for one in new if one.layer != "MARK"]
        assert {one.kind for one in old} <= {"POLYLINE", "LINE", "ARC", "CIRCLE"}
        for one, other in zip(old, new, strict=True):
            assert (one.layer, one.colour, one.is_closed) == (other.layer, other.colour, other.is_closed)
            flat = [value for vertex in (*one.vertices, one.circle) for value in vertex]
            assert flat == pytest.approx([v for vertex in (*other.vertices, other.circle) for v in vertex], abs=1e-6)


def test_inch_jobs_are_marked_in_fractions():
    """What is lettered on the parts for someone with an inch rule: fractions, and no millimetre anywhere."""
    for name in (PAIR, "laser, bush, one hand, inches"):
        marks = [mark["text"] for part in json.loads(kit(name)[1]["kit.json"])["parts"] for mark in part["marks"]]
        assert sum(bool(re.search(r'\d/(2|4|8|16|32|64)"', text)) for text in marks) > 1
        assert not [text for text in marks if re.search(r"\d MM\b", text.upper())]


def test_inch_files_are_millimetre_files_divided():
    """The one-handed plates of one bed, in inches and in mm: every coordinate divided by 25.4."""
    inch = kit("laser, bush, one hand, inches")[1]["parts/potting-bench-plate-l-cut-1-finished-size.dxf"]
    millimetre = svg_paths.shapes(
        kit("laser, bush, one hand, inches")[1]["parts/potting-bench-plate-l-cut-1-finished-size.svg"]
    )
    outer = next(one for one in dxf_tags.contours(inch) if one.layer == "OUTER")
    shown = next(one for one in millimetre if one.layer == "OUTER")
    for (x, y, _), (start, *_) in zip(outer.vertices, shown.pieces, strict=True):
        assert (x * 25.4, y * 25.4) == pytest.approx((start.real, start.imag), abs=2e-5)


def test_a_blank_kit_has_no_marks_and_its_picture_names_the_parts():
    """marking = "none": nothing on the mark layer; each sheet has a picture with lettering, not for cutting."""
    _, files = kit("cnc, bearing, two slots, blank")
    for file in cut_names(files, ".dxf"):
        assert "MARK" not in {one.layer for one in dxf_tags.contours(files[file])}
    sheets = [sheet["name"] for sheet in json.loads(files["kit.json"])["sheets"]]
    for sheet in sheets:
        picture = files[f"papers/potting-bench-{sheet}-names.svg"]
        assert b"<title>NOT FOR CUTTING" in picture
        assert len([one for one in svg_paths.shapes(picture) if one.layer == "names"]) > 50


def test_compensated_is_nominal_moved_by_half_the_tool():
    """Every circle and upright box of the CNC kit grows (outline) or shrinks (hole) by half the cutter on each side.

    Slanting and relieved contours are judged by sweeping, part by part, where the offset is tested.
    """
    _, files = kit("cnc, bearing, two slots, blank")
    told = 0
    for file in [name for name in cut_names(files, ".svg") if "finished-size" not in name]:
        nominal = files[finished_of(file, files)]
        cuts = [[s for s in svg_paths.shapes(data) if s.layer in ("INNER", "OUTER")] for data in (files[file], nominal)]
        for one, other in zip(*cuts, strict=True):
            if one.circle or _is_square(other):
                moved = 3.175 / 2 * (1 if one.layer == "OUTER" else -1)
                low_x, low_y, high_x, high_y = box_of(other)[2]
                grown = (low_x - moved, low_y - moved, high_x + moved, high_y + moved)
                assert box_of(one)[2] == pytest.approx(grown, abs=2e-6), file
                told += 1
    assert told > 50


def _is_square(shape):
    """Four straight sides along the axes."""
    return len(shape.pieces) == 4 and all(
        not radius and (abs((b - a).real) < 1e-9 or abs((b - a).imag) < 1e-9) for a, b, radius, _ in shape.pieces
    )
