"""Drawings in other hands: SVG and PDF show the same strokes as the picture; a reader from npm measures the DXF."""

import json
import os
import re
import shutil
import subprocess
from collections import Counter
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely
from pdf_pages import read_pdf
from sample_drawings import DRAWN, document_of, dxf_of, measured, picture_of

from jigmaker.drawing.measure import PiecePen
from jigmaker.papers.drawings.drawing_set import DRAWINGS
from jigmaker.writers.pdf_pictures import write_picture_pdf
from jigmaker.writers.svg import write_svg

STRANGERS = Path(__file__).parent.parent / "strangers"
HAS_NODE = shutil.which("node") is not None and (STRANGERS / "node_modules" / "dxf-parser").is_dir()
REQUIRED = os.environ.get("JIGMAKER_STRANGERS") == "required"


class Starts(PiecePen):
    """Where every contour starts, in drawing order."""

    def __init__(self):
        super().__init__()
        self.places = []
        self.circles = 0

    def move_to(self, at):
        super().move_to(at)
        self.places.append(at)

    def add_piece(self, segment):
        """Nothing."""

    def add_circle(self, circle):
        self.circles += 1


def starts_of(picture):
    pen = Starts()
    picture.draw(pen)
    return np.array(pen.places), pen.circles


@pytest.mark.parametrize("name", DRAWINGS)
def test_svg_shows_the_same_strokes(name):
    """As many lines and circles, each starting where the picture's contour does; y turned over; a label is a path."""
    picture = picture_of("demo", name)
    places, circles = starts_of(picture)
    written = write_svg(picture).decode()
    paths = " ".join(re.findall(r' d="([^"]*)"', written))
    found = np.array(re.findall(r"M(\S+) (\S+)", paths), dtype=float)
    found[:, 1] = picture.height_mm - found[:, 1]
    assert found.shape == places.shape
    assert np.abs(found - places).max() < 1e-5
    assert written.count("<circle") == circles
    assert f'viewBox="0 0 {picture.width_mm:g} {picture.height_mm:g}"' in written


@pytest.mark.parametrize("name", DRAWINGS)
def test_pdf_shows_the_same_strokes(name):
    """On paper of the drawing's own size; starts of all contours, as another reader finds them. Letters, which are
    drawn once and set wherever they are wanted, within 0.0025 mm.
    """
    picture = picture_of("demo", name)
    (page,) = read_pdf(write_picture_pdf(picture))
    places, circles = starts_of(picture)
    moves = [at for path in page.paths() for kind, at in path.pieces if kind == "move"]
    assert len(moves) == len(places) + circles
    found = shapely.MultiPoint(moves)
    assert max(found.distance(shapely.Point(place)) for place in places) < 2.5e-3
    lines, _ = starts_of(replace(picture, labels=(), dimensions=()))
    assert max(found.distance(shapely.Point(place)) for place in lines) < 1e-3


@pytest.mark.skipif(not HAS_NODE and not REQUIRED, reason="node or its dxf-parser is not installed")
@pytest.mark.parametrize("job", ["demo", "inches"])
def test_a_reader_from_npm_measures_the_same(job, tmp_path):
    """Lengths from the points of each DIMENSION, angles as words; blocks are in the file, no words typed over them."""
    paths = [tmp_path / f"{name}.dxf" for name in DRAWINGS]
    for path, name in zip(paths, DRAWINGS, strict=True):
        path.write_bytes(dxf_of(job, name))
    command = ["node", str(STRANGERS / "dimensions.cjs"), *map(str, paths)]
    told = json.loads(subprocess.run(command, capture_output=True, check=True, text=True).stdout)
    unit_mm, code = (25.4, 1) if DRAWN[job].unit == "in" else (1.0, 4)
    for name, found in zip(DRAWINGS, told, strict=True):
        lengths, angles = measured(job, document_of(job, name))
        seen = found["dimensions"]
        assert sorted(d["length"] * unit_mm for d in seen if "length" in d) == pytest.approx(lengths, abs=1e-4)
        assert Counter(word for word in found["words"] if re.fullmatch(r"[0-9.]+°", word)) == Counter(
            f"{angle:.2f}°" for angle in angles
        )
        assert found["units"] == code
        assert {d["block"] for d in seen} <= set(found["blocks"])
        assert {d["text"] for d in seen} == {""}
