"""R12 profiles in inches, of an old shop file, through the library's audit and GDAL: same layers, boxes, length."""

import io

import ezdxf
import pyogrio
import pytest
import shapely
from kit_cache import made
from sample_jobs import quick

from jigmaker.proof.readers.read_dxf import read_dxf

NAMES = [
    "parts/workshop-pair-plate-cut-1-finished-size.dxf",
    *(f"sheets/workshop-pair-sheet-1-of-2-cutter-0.125in-{operation}.dxf" for operation in ("inner", "outer")),
]


@pytest.fixture(scope="module")
def files(old_file):
    """The kit of a shop with a CNC router, a file an operation; without marks and notes."""
    return made(old_file("pair_job.toml"), quick(old_file("pair_shop.toml")).encode())


@pytest.mark.parametrize("name", NAMES)
def test_r12_files_open_alike(name, files, tmp_path):
    """Nothing to repair; GDAL's box, and its length of line by layer, are those of the judge's reader."""
    data, path = files[name], tmp_path / "x.dxf"
    path.write_bytes(data)
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    audit = document.audit()
    assert (document.dxfversion, audit.errors, audit.fixes) == ("AC1009", [], [])
    ours, findings = read_dxf(name, data)
    assert findings == []
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": 0.5})
    _, _, shapes, (layers, *_) = pyogrio.raw.read(path, columns=["Layer"])
    assert set(layers) == {contour.layer for contour in ours.contours}
    lines = shapely.from_wkb(shapes)
    boxes = [contour.shape.bounds for contour in ours.contours]
    wanted = [*(min(box[i] for box in boxes) for i in (0, 1)), *(max(box[i] for box in boxes) for i in (2, 3))]
    assert shapely.total_bounds(lines) * 25.4 == pytest.approx(wanted, abs=1e-2)
    for layer in sorted(set(layers)):
        seen = sum(line.length for line, of in zip(lines, layers, strict=True) if of == layer) * 25.4
        known = sum(contour.shape.length for contour in ours.contours if contour.layer == layer)
        assert seen == pytest.approx(known, rel=1e-4), layer
