"""Drawings as strangers read them: same size, same layers, every dimension there. GDAL, npm dxf, svgelements, resvg."""

import io
import json
import os
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import numpy as np
import pyogrio
import pytest
import resvg_py
import shapely
from PIL import Image
from sample_drawings import DRAWN, document_of, dxf_of, picture_of
from svgelements import SVG, Circle
from svgelements import Path as SvgPath

from jigmaker.drawing.dimension import LinearDimension
from jigmaker.papers.drawings.drawing_set import DRAWINGS
from jigmaker.units import MM_PER_INCH
from jigmaker.writers.svg import write_svg

STRANGERS = Path(__file__).parent.parent / "strangers"
HAS_NODE = shutil.which("node") is not None and (STRANGERS / "node_modules" / "dxf").is_dir()
REQUIRED = os.environ.get("JIGMAKER_STRANGERS") == "required"
"""npm's readers are required where .ci/run says so."""

CASES = [*(("demo", name) for name in DRAWINGS), ("inches", "housing")]
AS_SVG = [("demo", "leg"), ("demo", "housing-jig")]


def file_box(job, picture):
    """(x low, y low, x high, y high) of what is drawn but letters, in the file's unit at real size."""
    bare = [stroke for each in picture.dimensions for stroke in each.lines]
    boxes = np.array([shape.bounds for shape in [*(drawn.shape for drawn in picture.shapes), *bare]])
    paper_mm = picture.scale * (MM_PER_INCH if DRAWN[job].unit == "in" else 1.0)
    return np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)]) / paper_mm


@pytest.mark.parametrize(("job", "name"), CASES)
def test_the_librarys_audit_has_nothing_to_repair(job, name):
    """Nor in the same file saved again as R2018."""
    document = document_of(job, name)
    for version in ("R2018", "R2000"):
        document.dxfversion = version
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], [])


@pytest.mark.parametrize(("job", "name"), CASES)
def test_gdal_sees_size_layers_words_and_dimensions(job, name, tmp_path):
    """The box of all lines; the layers; every label, and every dimension's number."""
    picture, path = picture_of(job, name), tmp_path / "x.dxf"
    path.write_bytes(dxf_of(job, name))
    # Without the encoding GDAL goes by the code page in the head, which the library writes and R2007 has no use for.
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": 0.5, "DXF_ENCODING": "UTF-8"})
    head, _, shapes, columns = pyogrio.raw.read(path, encoding="utf-8")
    pyogrio.set_gdal_config_options({"DXF_ENCODING": None})
    told = dict(zip(head["fields"], columns, strict=True))
    lines = [shape for shape in shapely.from_wkb(shapes) if shape.geom_type == "LineString"]
    wanted = file_box(job, picture)
    assert shapely.total_bounds(lines) == pytest.approx(wanted, abs=2e-5 * wanted.max())  # arcs come as chords
    assert set(told["Layer"]) == {layer.name for layer in picture.layers}
    seen = Counter(words for words in told["Text"] if words)
    assert Counter(dimension.text for dimension in picture.dimensions) <= seen
    assert seen.total() == len(picture.labels) + len(picture.dimensions)


@pytest.mark.skipif(not HAS_NODE and not REQUIRED, reason="node or its dxf is not installed")
def test_the_second_reader_from_npm_sees_the_same(tmp_path):
    """Unit, extents and layers; a DIMENSION for each length, its number where ours stands; angles as words."""
    paths = [tmp_path / f"{job}-{name}.dxf" for job, name in CASES]
    for path, case in zip(paths, CASES, strict=True):
        path.write_bytes(dxf_of(*case))
    command = ["node", str(STRANGERS / "drawings.cjs"), *map(str, paths)]
    told = json.loads(subprocess.run(command, capture_output=True, check=True, text=True).stdout)
    for (job, name), found in zip(CASES, told, strict=True):
        picture, counts = picture_of(job, name), found["counts"]
        assert (found["units"], found["measurement"]) == ((1, 0) if DRAWN[job].unit == "in" else (4, 1))
        lengths = [each for each in picture.dimensions if isinstance(each, LinearDimension)]
        low, high = found["extents"]
        assert [*low, *high] == pytest.approx(file_box(job, picture), abs=1e-5)
        assert set(counts) <= {layer.name for layer in picture.layers}
        of_kind = Counter({layer: kinds.get("DIMENSION", 0) for layer, kinds in counts.items()})
        assert +of_kind == Counter(length.layer for length in lengths)
        words = len(picture.labels) + len(picture.dimensions) - len(lengths)
        assert sum(kinds.get("TEXT", 0) for kinds in counts.values()) == words
        assert len(set(map(tuple, found["places"]))) == len(lengths)


@pytest.mark.parametrize(("job", "name"), AS_SVG)
def test_readers_of_svg_see_the_same_page_and_box(job, name):
    """svgelements: page and box of all strokes, mm. resvg at four dots a millimetre: ink up to the frame, none beyond.

    The outermost lines are 0.7 mm wide: half of that lies outside the box.
    """
    picture = picture_of(job, name)
    written = write_svg(picture)
    stranger = SVG.parse(io.BytesIO(written))
    mm, height = 25.4 / 96, picture.height_mm
    assert (stranger.width * mm, stranger.height * mm) == pytest.approx((picture.width_mm, height), abs=1e-3)
    boxes = np.array([each.bbox() for each in stranger.elements() if isinstance(each, SvgPath | Circle)]) * mm
    seen = (boxes[:, 0].min(), height - boxes[:, 3].max(), boxes[:, 2].max(), height - boxes[:, 1].min())
    assert seen == pytest.approx(picture.bounds, abs=1e-3)
    png = bytes(resvg_py.svg_to_bytes(svg_string=written.decode(), background="#ffffff", dpi=101.6))
    dots = np.asarray(Image.open(io.BytesIO(png)))
    assert dots.shape[1::-1] == pytest.approx((4 * picture.width_mm, 4 * height), abs=1)
    rows, columns = np.nonzero(dots[:, :, 0] < 128)
    inked = (columns.min() / 4, height - (rows.max() + 1) / 4, (columns.max() + 1) / 4, height - rows.min() / 4)
    assert inked == pytest.approx(picture.bounds, abs=0.35 + 0.25)
