"""Every drawing of the sample jobs, drawn and written once for all tests: trestles of all kinds, mm and inches."""

import io
import re
from dataclasses import replace
from functools import cache
from math import atan, degrees

import ezdxf
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B
from sample_variants import JOBS

from jigmaker.job.shop import Paper
from jigmaker.papers.drawings.drawing_set import DRAWINGS
from jigmaker.parts.gauge_limits import gauge_limits
from jigmaker.parts.kit import Kit, make_kit
from jigmaker.trestle.solve import solve
from jigmaker.writers.dxf_drawing import write_drawing_dxf

DRAWN = {
    "demo": DEMO,
    "A": JOB_A,
    "B": JOB_B,
    "inches": JOBS["inches"],
    "90/78": JOBS["90/78"],
    "reveal, horn and trim": replace(JOBS["horn and trim"], housing=JOBS["reveal 6"].housing),
}
WITH_JIG = ("demo", "inches", "90/78")
CASES = [(job, name) for job in DRAWN for name in DRAWINGS if name != "housing-jig" or job in WITH_JIG]


@cache
def kit_of(job):
    """The kit of a job by its name here, in a shop with the job's own paper; without parts where no jig is drawn."""
    paper = Paper("Letter" if DRAWN[job].unit == "in" else "A4")
    trestle, shop = solve(DRAWN[job]), replace(DEMO_SHOP, paper=paper)
    return (
        make_kit(trestle, shop)
        if job in WITH_JIG
        else Kit(trestle, shop, (), (), (), gauge_limits(trestle, shop), "AAA-AAA")
    )


@cache
def picture_of(job, name):
    """One of a job's drawings, numbered as in the set."""
    kit = kit_of(job)
    return DRAWINGS[name](kit, f"{[*DRAWINGS].index(name) + 1} of {len(DRAWINGS)}, kit {kit.number}")


@cache
def dxf_of(job, name):
    """The same as DXF."""
    return write_drawing_dxf(picture_of(job, name), DRAWN[job].unit)


@cache
def document_of(job, name):
    """That file as ezdxf reads it."""
    return ezdxf.read(io.StringIO(dxf_of(job, name).decode("utf-8")))


def measured(job, document):
    """(lengths in mm, angles in degrees): DIMENSIONs measure themselves between their own points, arcs are drawn.

    An angle's arc is a polyline of two bulges, on the layer of the dimensions.
    """
    unit_mm = 25.4 if DRAWN[job].unit == "in" else 1.0
    found = list(document.modelspace().query("DIMENSION"))
    lengths = [entity.get_measurement() * unit_mm for entity in found if entity.dimtype == 0]
    assert len(lengths) == len(found)
    lines = document.modelspace().query("LWPOLYLINE[layer=='DIMENSIONS']")
    bulges = [[bulge for _, _, bulge in line.get_points("xyb")] for line in lines]
    return sorted(lengths), sorted(sum(4 * degrees(atan(bulge)) for bulge in arc) for arc in bulges if any(arc))


def shown(document):
    """What the blocks of the DIMENSIONs say, and the numbers of drawn angles."""
    spaces = [entity.get_geometry_block() for entity in document.modelspace().query("DIMENSION")]
    texts = [text for space in spaces for text in space.query("TEXT")]
    texts += [text for text in document.modelspace().query("TEXT") if re.fullmatch(r"[0-9.]+°", text.dxf.text)]
    return sorted(text.plain_text() for text in texts)
