"""Files opened in programs that people draw with: LibreCAD and Inkscape from Debian, without a window.

Skipped where a program is missing (apt-get install librecad inkscape); asked for by hand and not by .ci/run. LibreCAD
prints what it has read as PDF, which is measured; it rounds page and lines to a point, 0.35 mm.
"""

import io
import os
import shutil
import subprocess
from dataclasses import dataclass, replace

import ezdxf
import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from part_names import cut_file
from sample_drawings import DRAWN, dxf_of, picture_of
from sample_pictures import sample_picture

from jigmaker.papers.drawings.drawing_set import DRAWINGS
from jigmaker.units import MM_PER_INCH
from jigmaker.writers.dxf import write_dxf
from jigmaker.writers.svg import write_svg

needs_librecad = pytest.mark.skipif(shutil.which("librecad") is None, reason="no LibreCAD: apt-get install librecad")
needs_inkscape = pytest.mark.skipif(shutil.which("inkscape") is None, reason="no Inkscape: apt-get install inkscape")

POINT = 25.4 / 72
PROFILES = [cut_file(part) for part in ("plate", "end-bearer", "coupon")] + [
    "sheets/potting-bench-sheet-1-of-3-kerf-0.20.dxf"
]


@dataclass(frozen=True)
class Printed:
    """A page's size, how many lines are on it, and the box around them, mm."""

    size: tuple
    lines: int
    box: tuple


def printed(dxf, folder):
    """The page that LibreCAD prints of a DXF file, at the scale that the file itself asks for."""
    (folder / "x.dxf").write_bytes(dxf)
    there = {**os.environ, "QT_QPA_PLATFORM": "offscreen", "HOME": str(folder), "XDG_RUNTIME_DIR": str(folder)}
    command = ["librecad", "dxf2pdf", "x.dxf"]
    subprocess.run(command, cwd=folder, env=there, capture_output=True, timeout=60, check=True)
    (page,) = pypdfium2.PdfDocument((folder / "x.pdf").read_bytes())
    boxes = np.array([path.get_bounds() for path in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH])])
    box = np.concatenate([boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)]) * POINT
    return Printed(tuple(side * POINT for side in page.get_size()), len(boxes), tuple(box))


def stated(dxf):
    """(paper's size, box of what is drawn) as the file's own head states them, file units."""
    head = ezdxf.read(io.StringIO(dxf.decode("utf-8"))).header
    return head["$PLIMMAX"][:2], (*head["$EXTMIN"][:2], *head["$EXTMAX"][:2])


@needs_librecad
@pytest.mark.parametrize("name", PROFILES)
def test_librecad_opens_profiles_at_their_size(name, demo_files, tmp_path):
    """Page and lines to a point or two; arcs and bulges are in the box."""
    page, (size, box) = printed(demo_files[name], tmp_path), stated(demo_files[name])
    assert page.size == pytest.approx(size, abs=POINT)
    assert page.box == pytest.approx(box, abs=2 * POINT)


@needs_librecad
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_librecad_opens_r12_at_its_size(unit, tmp_path):
    """Inches as inches: 25.4 times smaller without the unit in the header."""
    picture, mm = replace(sample_picture(), width_mm=260.0), MM_PER_INCH if unit == "in" else 1.0
    dxf = write_dxf(picture, "R12", unit)
    page, (_, box) = printed(dxf, tmp_path), stated(dxf)
    assert page.size == pytest.approx((260, 90), abs=POINT)
    assert page.box == pytest.approx([mm * side for side in box], abs=2 * POINT)


def without_dimensions(dxf):
    """(the file less its DIMENSIONs, how many those were)."""
    document = ezdxf.read(io.StringIO(dxf.decode("utf-8")))
    gone = list(document.modelspace().query("DIMENSION"))
    for entity in gone:
        document.modelspace().delete_entity(entity)
    written = io.StringIO()
    document.write(written)
    return written.getvalue().encode(), len(gone)


@needs_librecad
@pytest.mark.parametrize(
    ("job", "name"), [*(("demo", name) for name in DRAWINGS), ("inches", "leg"), ("inches", "top-board")]
)
def test_librecad_shows_every_dimension(job, name, tmp_path):
    """The page at real size, inches too. DIMENSIONs taken out of the file take lines off the page: three each or more.

    The box is measured without them: LibreCAD puts some numbers where it likes, once even over the frame. Frame and
    centre marks reach farther than anything else.
    """
    dxf, mm = dxf_of(job, name), MM_PER_INCH if DRAWN[job].unit == "in" else 1.0
    page, (size, box) = printed(dxf, tmp_path), stated(dxf)
    assert page.size == pytest.approx([mm * side for side in size], abs=POINT)
    less, count = without_dimensions(dxf)
    rest = printed(less, tmp_path)
    assert page.lines - rest.lines >= 3 * count  # an arrow, a line, a digit
    wide = 0.7 / picture_of(job, name).scale
    assert rest.box == pytest.approx([mm * side for side in box], abs=2 * POINT + wide)


@needs_inkscape
@pytest.mark.parametrize("name", DRAWINGS)
def test_inkscape_sees_drawings_at_their_size(name, tmp_path):
    """The box of everything, lines at their width: frame and centre marks are 0.7 mm wide."""
    picture = picture_of("demo", name)
    assert inkscape_box(write_svg(picture), picture.height_mm, tmp_path) == pytest.approx(picture.bounds, abs=0.36)


@needs_inkscape
@pytest.mark.parametrize("name", [name.replace(".dxf", ".svg") for name in PROFILES])
def test_inkscape_sees_profiles_at_their_size(name, demo_files, tmp_path):
    """The box that the DXF file of the same name states; lines are 0.1 mm wide, twice that at a letter's points."""
    size, box = stated(demo_files[name.replace(".svg", ".dxf")])
    assert inkscape_box(demo_files[name], size[1], tmp_path) == pytest.approx(box, abs=0.2)


def inkscape_box(svg, height, folder):
    """(x low, y low, x high, y high) of the drawing, mm with y up; Inkscape tells pixels of 1/96 inch, y down."""
    (folder / "x.svg").write_bytes(svg)
    command = ["inkscape", "--query-all", "x.svg"]
    there = {**os.environ, "HOME": str(folder)}
    said = subprocess.run(command, cwd=folder, env=there, capture_output=True, timeout=60, check=True, text=True)
    x, y, wide, high = (float(word) * 25.4 / 96 for word in said.stdout.splitlines()[0].split(",")[1:])
    return (x, height - y - high, x + wide, height - y)
