"""Jobs and shops for tests, built as records: the demo, two more of other proportions, and seeded random ones."""

import random
import re
from collections.abc import Iterator
from dataclasses import replace

from jigmaker.job.demo import demo_shop_text
from jigmaker.job.job import BraceSection, HousingFit, Job, LegSection, TopBoard
from jigmaker.job.shop import (
    Chisel,
    FileChoices,
    HandRouter,
    HandSaw,
    HousingWork,
    Layer,
    Machine,
    SheetMaterial,
    Shop,
)

LAYERS = {
    "mark": Layer("MARK", "#a57c00", 0.1),
    "inner": Layer("INNER", "#3f7f7f", 0.1),
    "outer": Layer("OUTER", "#5f007f", 0.1),
    "bridge": Layer("BRIDGE", "#7f001f", 0.1),
    "note": Layer("NOTE", "#9f7fff", 0.1),
}

DEMO_SHOP = Shop(
    SheetMaterial("birch plywood", 9.1, 600, 400, 5),
    Machine("laser", 0.2, compensation="both"),
    HandRouter(150, 17, 12, 55, bush_length_mm=6),
    FileChoices(parts="both"),
    LAYERS,
)


def ideal_shop_text() -> bytes:
    """The demo's shop.toml, asking for all kinds of files."""
    text = re.sub(r"(?m)^compensation = .*$", 'compensation = "both"', demo_shop_text().decode())
    return text.replace("[files]", '[files]\nparts = "both"').encode()


HAND_SHOP = replace(
    DEMO_SHOP,
    housing_work=HousingWork("both"),
    hand_saw=HandSaw(plate_mm=0.8, kerf_mm=1.0, depth_mm=75, back_mm=6, length_mm=300),
    chisel=Chisel(140),
)
"""The demo's shop, in which housings are sawn and pared as well."""

HAND_TOOLS = "\n[hand_saw]\nplate = 0.8\nkerf = 1.0\ndepth = 75\nback = 6\nlength = 300\n[chisel]\nblade = 140\n"
"""Its saw and chisel, as a shop file has them."""
SAW_AND_CHISEL = f'\n[housing_work]\nby = "saw and chisel"\n{HAND_TOOLS}'

BEARING_SHOP = replace(DEMO_SHOP, hand_router=HandRouter(150, 12.7, 12.7, 55, blade_mm=38.1, bearing_height_mm=6))


def a_job(height, angles, inset, top, leg, brace=(110, 18), clearance=0.15, reveal=0.0, name="Sample", unit="mm"):
    """A job from plain figures: angles (rake, splay), top (length, width, thickness), leg (width, thickness)."""
    return Job(
        name,
        unit,
        6,
        height,
        *angles,
        inset,
        TopBoard(*top),
        LegSection(*leg),
        BraceSection(*brace),
        HousingFit(clearance, reveal),
    )


DEMO = a_job(720, (78, 78), 120, (900, 120, 45), (70, 32), name="Potting bench")
JOB_A = a_job(800, (82, 74), 150, (1240, 170, 60), (96, 34))
JOB_B = a_job(540, (75, 75), 60, (760, 138, 40), (82, 27))


def random_jobs(seed: int) -> Iterator[Job]:
    """Endless trestles of all proportions, rake and splay drawn apart; not all of them can be made."""
    draw = random.Random(seed)
    while True:
        rake, splay = draw.uniform(60, 90), draw.uniform(60, 90)
        yield a_job(
            draw.uniform(400, 1000),
            (draw.choice((rake, rake, rake, 90.0)), draw.choice((splay, splay, splay, 90.0))),
            draw.uniform(60, 220),
            (draw.uniform(650, 1500), draw.uniform(100, 200), draw.uniform(25, 60)),
            (draw.uniform(45, 110), draw.uniform(20, 45)),
            clearance=draw.choice((0.0, 0.1, 0.15, 0.3)),
            reveal=draw.choice((0.0, 0.0, 2.0, 4.0)),
        )


def quick(shop_text: bytes) -> str:
    """A shop without what takes long: most of a run goes into letters. Its files are the usual ones."""
    text = shop_text.decode().replace('parts = "both"\n', "")
    text = text.replace('compensation = "both"', 'compensation = "included"').replace('"score"', '"none"')
    assert "included" in text and "none" in text
    return text + "\n[layers.note]\nwrite = false\n"


def small(shop_text: bytes) -> str:
    """The quick shop with what a kit can do without left out, for what does not depend on the parts."""
    left_out = '["projection-gauge", "leg-gauge", "housing-plug", "depth-gauge", "pad-strip", "coupon"]'
    return f"{quick(shop_text)}\n[kit]\nspares = false\nleave_out = {left_out}\n"
