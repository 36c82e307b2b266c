"""Readers that have nothing to do with jigmaker see in the written files what the judge sees: six of them.

GDAL (pyogrio), svgelements, resvg and ezdxf's audit come with the test extra. The two from npm need node and are
installed by .ci/run, which sets JIGMAKER_STRANGERS=required: then a stranger that is missing fails the tests.
"""

import io
import json
import math
import os
import re
import shutil
import subprocess
from itertools import pairwise
from pathlib import Path

import ezdxf
import pyogrio
import pytest
import resvg_py
import shapely
from kit_cache import made
from part_names import cut_file, finished_file
from png_pixels import pixels
from sample_jobs import ideal_shop_text
from svgelements import SVG, Circle
from svgelements import Path as SvgPath

from jigmaker.geometry.outline import Circle as Disc
from jigmaker.geometry.outline import Outline
from jigmaker.job.demo import demo_job_text
from jigmaker.proof.readers.read_dxf import read_dxf
from jigmaker.proof.readers.read_svg import read_svg

FOLDER = Path(__file__).parent.parent / "strangers"
REQUIRED = os.environ.get("JIGMAKER_STRANGERS") == "required"
NPM = ("dxf", "dxf-parser")
PARTS = ("stop", "end-bearer", "fence-or-back-strip", "mask-for-slot-l", "coupon")
NAMES = [cut_file(part) for part in PARTS] + ["sheets/potting-bench-sheet-3-of-3-kerf-0.20.dxf"]


def node_reason():
    """Why the strangers from npm cannot be asked here; "" when they can."""
    if shutil.which("node") is None:
        return "node is not installed"
    missing = [name for name in NPM if not (FOLDER / "node_modules" / name).is_dir()]
    return f"{', '.join(missing)} not installed: npm install --prefix tests/strangers" if missing else ""


needs_node = pytest.mark.skipif(bool(node_reason()) and not REQUIRED, reason=node_reason() or "there")


@pytest.fixture(scope="module")
def r12_files():
    """The demo as R12 in inches, without nominal files and marks."""
    shop = (
        ideal_shop_text().replace(b'compensation = "both"', b'compensation = "included"').replace(b'"score"', b'"none"')
    )
    head, files = shop.split(b"[files]")
    millimetres = re.sub(rb"(?m)^(\w+ = )([0-9.]+)", rb'\1"\2 mm"', head)
    files = files.replace(b'"R2000"', b'"R12"').replace(b'"mm"', b'"in"')
    shop = millimetres + b"[files]" + files
    return made(demo_job_text(), shop)


def asked(stranger, files, names, folder):
    """What a reader from npm makes of some files."""
    assert not node_reason(), node_reason()
    paths = []
    for name in names:
        paths.append(folder / Path(name).name)
        paths[-1].write_bytes(files[name])
    command = ["node", str(FOLDER / "read.cjs"), stranger, *map(str, paths)]
    return json.loads(subprocess.run(command, capture_output=True, check=True, text=True).stdout)


def lengths(contours, unit_mm):
    """Layer, length and lower left of each contour a stranger read, mm, sorted: arcs by its own bulges and angles."""
    return sorted((c["layer"], round(_length(c) * unit_mm, 4)) for c in contours)


def _length(contour):
    if "circle" in contour:
        return 2 * math.pi * contour["circle"][2]
    if "arc" in contour:
        _, _, radius, first, last = contour["arc"]
        return radius * math.radians((last - first) % 360)
    points = contour["vertices"] + contour["vertices"][: 1 if contour["closed"] else 0]
    return sum(_piece(a, b) for a, b in pairwise(points))


def _piece(a, b):
    chord = math.dist(a[:2], b[:2])
    return chord if not a[2] else abs(4 * math.atan(a[2])) * chord * (1 + a[2] ** 2) / (4 * abs(a[2]))


def cut_lengths(contours):
    """The same of what the judge read, cut layers only: there no contour is put together from several."""
    cut = [contour for contour in contours if contour.layer in ("INNER", "OUTER")]
    return sorted((contour.layer, round(contour.shape.length, 4)) for contour in cut)


def almost(one, two, within):
    """Equal layers, and figures within so many mm."""
    assert [layer for layer, _ in one] == [layer for layer, _ in two]
    assert [figure for _, figure in one] == pytest.approx([figure for _, figure in two], abs=within)


@needs_node
@pytest.mark.parametrize("stranger", NPM)
def test_readers_from_npm_see_the_same_lines(stranger, demo_files, tmp_path):
    """Units, closed contours, vertex for vertex with bulges, circles; and of marks and notes the whole length."""
    for name, found in zip(NAMES, asked(stranger, demo_files, NAMES, tmp_path), strict=True):
        file, _ = read_dxf(name, demo_files[name])
        assert (found["units"], found["measurement"]) in ((4, 1), (4, None))
        cut = [contour for contour in found["contours"] if contour["layer"] in ("INNER", "OUTER")]
        assert all("circle" in contour or contour["closed"] for contour in cut)
        almost(lengths(cut, 1), cut_lengths(file.contours), 2e-4)
        for contour, ours in zip(cut, (c for c in file.contours if c.layer in ("INNER", "OUTER")), strict=True):
            if isinstance(ours.shape, Outline):
                corners = [tuple(vertex[:2]) for vertex in contour["vertices"]]
                assert [math.dist(*pair) < 1e-6 for pair in zip(corners, ours.shape.corners, strict=True)]
        total = sum(length for _, length in lengths(found["contours"], 1))
        assert total == pytest.approx(sum(contour.shape.length for contour in file.contours), abs=0.05)


@needs_node
@pytest.mark.parametrize("stranger", NPM)
def test_readers_from_npm_see_the_same_lines_in_r12_and_inches(stranger, r12_files, tmp_path):
    """Old polylines, and a unit of 25.4 mm: 1 for inches, 0 for imperial, by the DXF reference of later versions."""
    names = [name for name in r12_files if name.endswith(".dxf")][:4]
    for name, found in zip(names, asked(stranger, r12_files, names, tmp_path), strict=True):
        file, findings = read_dxf(name, r12_files[name])
        assert findings == [] and file.unit == "in"
        assert (found["units"], found["measurement"]) == (1, 0)
        cut = [contour for contour in found["contours"] if contour["layer"] in ("INNER", "OUTER")]
        assert cut
        almost(lengths(cut, 25.4), cut_lengths(file.contours), 2e-3)


@pytest.mark.parametrize("name", NAMES)
def test_gdal_sees_the_same_areas(name, demo_files, tmp_path, monkeypatch):
    """Every closed line on a cut layer as a polygon of short chords, against the judge's exact area."""
    path = tmp_path / "x.dxf"
    path.write_bytes(demo_files[name])
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": 0.5, "DXF_CLOSED_LINE_AS_POLYGON": "FALSE"})
    _, _, geometries, (layers, *_) = pyogrio.raw.read(path, columns=["Layer"])
    rings = [shapely.Polygon(shapely.get_coordinates(shapely.from_wkb(each))) for each in _cut(geometries, layers)]
    file, _ = read_dxf(name, demo_files[name])
    ours = [abs(contour.shape.area) for contour in file.contours if contour.layer in ("INNER", "OUTER")]
    assert sorted(ring.area for ring in rings) == pytest.approx(sorted(ours), rel=2e-5, abs=1e-3)


def _cut(geometries, layers):
    return [each for each, layer in zip(geometries, layers, strict=True) if layer in ("INNER", "OUTER")]


@pytest.mark.parametrize("name", [name.replace(".dxf", ".svg") for name in NAMES])
def test_svgelements_sees_the_same_boxes(name, demo_files):
    """The box of every run of a path and of every circle in pixels of 1/96 inch, against the judge's in mm, y up."""
    stranger = SVG.parse(io.BytesIO(demo_files[name]))
    file, _ = read_svg(name, demo_files[name])
    elements = [element for element in stranger.elements() if isinstance(element, SvgPath | Circle)]
    runs = [run for each in elements for run in (each.as_subpaths() if isinstance(each, SvgPath) else [each])]
    seen = [SvgPath(run).bbox() for run in runs]
    mm, height = 25.4 / 96, file.height_mm
    boxes = sorted((x0 * mm, height - y1 * mm, x1 * mm, height - y0 * mm) for x0, y0, x1, y1 in seen)
    ours = sorted(contour.shape.bounds for contour in file.contours if contour.is_whole)
    near = [min(max(abs(a - b) for a, b in zip(box, other, strict=True)) for other in boxes) for box in ours]
    assert len(boxes) >= len(ours) > 0
    assert max(near) < 1e-3


@pytest.mark.parametrize("part", ["stop", "end-bearer", "mask-for-slot-l"])
def test_resvg_renders_the_nominal_area(part, demo_files):
    """Outline filled black, openings white, five dots a millimetre: as much black as kit.json tells of the part.

    Grey dots on the edge are true to a hundredth of a millimetre or better; a kerf of 0.2 would be ten times that.
    """
    svg = demo_files[finished_file(part, "svg")].decode()
    for layer, fill in (("OUTER", "#000000"), ("INNER", "#ffffff")):
        group = re.search(rf"<title>{layer}</title>.*?</g>", svg, re.DOTALL)[0]
        filled = re.sub(r'fill="none" stroke="[^"]*"|stroke="[^"]*"', f'fill="{fill}" stroke="none"', group)
        svg = svg.replace(group, re.sub(r'fill="none"', "", filled))
    outer = re.search(r'<g id="OUTER.*?</g>', svg, re.DOTALL)[0]
    drawn = outer + "".join(re.findall(r'<g id="INNER.*?</g>', svg, re.DOTALL))
    page = re.search(r"<svg[^>]*>", svg)[0] + drawn + "</svg>"
    picture = pixels(bytes(resvg_py.svg_to_bytes(svg_string=page, background="#ffffff", dpi=127)))
    black = float((255 - picture[:, :, 0].astype(float)).sum()) / 255 / 25
    file, _ = read_svg("x.svg", page.encode())
    around = sum(contour.shape.length for contour in file.contours)
    assert black == pytest.approx(told_area(demo_files, part), abs=0.01 * around)


def told_area(files, part):
    """Outline less holes as kit.json tells them, by the trapezium rule and circular segments."""
    told = next(each for each in json.loads(files["kit.json"])["parts"] if each["slug"] == part)
    return _area(told["outline"]) - sum(_area(hole) for hole in told["holes"])


def _area(told):
    if "radius_mm" in told:
        return Disc(tuple(told["centre_mm"]), told["radius_mm"]).area
    rows = told["vertices_mm"]
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(rows, rows[1:] + rows[:1], strict=True):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            turn, radius = 4 * math.atan(bulge), math.hypot(x1 - x0, y1 - y0) * (1 + bulge**2) / (4 * abs(bulge))
            total += radius**2 * (turn - math.sin(turn)) / 2
    return abs(total)


@pytest.mark.parametrize("name", NAMES)
def test_the_librarys_audit_has_nothing_to_repair(name, demo_files):
    """Nor in the same file saved again as R2018."""
    document = ezdxf.read(io.StringIO(demo_files[name].decode()))
    for version in ("R2000", "R2018"):
        document.dxfversion = version
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], [])


def test_the_strangers_that_were_asked(record_property):
    """The report of the test run lists them with their versions; where they are required none is missing."""
    from importlib.metadata import version

    asked_here = {name: version(name) for name in ("pyogrio", "svgelements", "resvg-py", "ezdxf")}
    if not node_reason():
        packages = [FOLDER / "node_modules" / name / "package.json" for name in NPM]
        asked_here |= {f"npm {path.parent.name}": json.loads(path.read_text("utf-8"))["version"] for path in packages}
    record_property("strangers", asked_here)
    assert len(asked_here) == 6 or not REQUIRED, node_reason()
