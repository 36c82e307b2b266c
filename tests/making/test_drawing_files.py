"""The drawings among a job's files: which there are, under which names, in which unit."""

import io
from dataclasses import replace

import ezdxf
import pytest
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.making.paper_files import drawing_files
from jigmaker.making.plan import Plan
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

NAMES = ("trestle", "top-board", "housing", "leg", "brace", "housing-jig")


@pytest.mark.parametrize(("unit", "code"), [("mm", 4), ("in", 1)])
def test_every_drawing_is_there_three_times(unit, code):
    """As DXF in the job's own unit ($INSUNITS: 1 inch, 4 millimetre), as SVG and as PDF."""
    job = replace(DEMO, unit=unit)
    files = drawing_files(Plan(job, DEMO_SHOP, make_kit(solve(job), DEMO_SHOP), (), (), ()))
    stems = [f"papers/drawings/potting-bench-{name}" for name in NAMES]
    assert list(files) == [f"{stem}.{ending}" for stem in stems for ending in ("dxf", "svg", "pdf")]
    for stem in stems:
        assert ezdxf.read(io.StringIO(files[f"{stem}.dxf"].decode("utf-8"))).header["$INSUNITS"] == code
        assert files[f"{stem}.svg"].startswith(b"<?xml")
        assert files[f"{stem}.pdf"].startswith(b"%PDF")
