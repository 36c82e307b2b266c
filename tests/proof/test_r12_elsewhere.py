"""R12 profiles in inches, as they lie in outputs/, through the library's audit and GDAL: same layers, boxes, length."""

import io
from pathlib import Path

import ezdxf
import pyogrio
import pytest
import shapely

from jigmaker.proof.read_dxf import read_dxf

FOLDER = Path(__file__).parent.parent.parent / "outputs" / "workshop-pair"
FILES = sorted([*(FOLDER / "cut").glob("*-pair-plate-*.dxf"), *(FOLDER / "sheets").glob("*-sheet-1-*in-*er.dxf")])


def test_there_are_files():
    """One an operation of a part, and what is cut of a sheet."""
    assert len(FILES) == 5


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_r12_files_open_alike(path):
    """Nothing to repair; GDAL's box, and its length of line by layer, are those of the judge's reader."""
    data = path.read_bytes()
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    audit = document.audit()
    assert (document.dxfversion, audit.errors, audit.fixes) == ("AC1009", [], [])
    ours, findings = read_dxf(path.name, data)
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
