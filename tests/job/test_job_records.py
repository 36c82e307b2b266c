"""The records of job and shop refuse what the readers refuse."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from jigmaker.errors import OutOfRange
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.job import BraceSection, HousingFit, LegSection, TopBoard
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import FileChoices, HandRouter, Layer, Machine, SheetMaterial

JOB = read_job(demo_job_text())
SHOP = read_shop(demo_shop_text())
MARK, OUTER = SHOP.layers["mark"], SHOP.layers["outer"]

IMPOSSIBLE: list[tuple[Callable[[], object], str]] = [
    (lambda: TopBoard(900, 120, 0), r"top\.thickness_mm is 0, must be 15 to 150 mm"),
    (lambda: TopBoard(math.nan, 120, 45), r"top\.length_mm is nan, must be 200 to 6000 mm"),
    (lambda: LegSection(7, 32), r"leg\.width_mm is 7, must be 20 to 200 mm"),
    (lambda: LegSection(70, 32, horn_mm=-1), r"leg\.horn_mm is -1, must be 0 to 200 mm"),
    (lambda: BraceSection(True, 18), r"brace\.depth_mm is True, must be 20 to 400 mm"),
    (lambda: HousingFit(2.5), r"housing\.clearance_mm is 2\.5, must be 0 to 2 mm"),
    (lambda: HousingFit(0.2, joint="bolted"), r"housing\.joint is \"bolted\", must be \"glued\" or \"dry\""),
    (lambda: replace(JOB, rake_deg=59.9), r"trestle\.rake_deg is 59\.9, must be 60 to 90 degrees"),
    (lambda: replace(JOB, splay_deg=math.inf), r"trestle\.splay_deg is inf, must be 60 to 90 degrees"),
    (lambda: replace(JOB, rake_deg=None), r"trestle\.rake_deg is None, must be 60 to 90 degrees"),
    (lambda: replace(JOB, trestles=1.5), r"job\.trestles is 1\.5, must be a whole number from 1 to 1000"),
    (lambda: replace(JOB, name=" "), r"job\.name is empty"),
    (lambda: replace(JOB, name=5), r"job\.name is 5, must be text"),
    (lambda: replace(JOB, unit="cm"), r'job\.unit is "cm", must be "mm" or "in"'),
    (lambda: SheetMaterial("ply", 9.1, 600, 400, 200), r"sheet\.margin leaves nothing of the sheet"),
    (lambda: Machine("laser", 3), r"machine\.tool_mm is 3, must be 0\.01 to 1 mm"),
    (lambda: Machine("cnc", 0.2), r"machine\.tool_mm is 0\.2, must be 1 to 12 mm"),
    (lambda: Machine("knife", 0.2), r'machine\.kind is "knife", must be "laser" or "cnc"'),  # type: ignore[arg-type]
    (lambda: HandRouter(150, 17, 12, 55), r"hand_router lacks bush_length"),
    (lambda: HandRouter(150, 17, 12, 55, 6, bush_bore_mm=0), r"hand_router\.bush_bore_mm is 0, must be 3 to 60 mm"),
    (lambda: Layer("6/mm", "#000000", 0.1), r'layers\.name is "6/mm", must be 1 to 255'),
    (lambda: Layer("CUT", "black", 0.1), r'layers\.colour is "black", must be a colour'),
    (lambda: Layer("CUT", "#000000", 0.1, write=1), r"layers\.write is 1, must be True or False"),  # type: ignore[arg-type]
    (lambda: FileChoices("R14"), r'files\.dxf is "R14", must be "R2000" or "R12"'),  # type: ignore[arg-type]
    (lambda: Machine("laser", 0.2, kerf_x_mm=0.2), r"machine\.kerf_x needs kerf_y beside it"),
    (lambda: Machine("laser", 0.2, kerf_x_mm=0.25, kerf_y_mm=0.3), r"machine\.kerf must lie between"),
    (lambda: Machine("laser", 0.2, kerf_x_mm=0.31, kerf_y_mm=0.1), r"machine\.kerf_x is more than 3 times kerf_y"),
    (lambda: Machine("cnc", 6, kerf_x_mm=0.25, kerf_y_mm=0.3), r'machine\.kerf_x goes with kind = "laser"'),
    (lambda: Machine("laser", 0.2, scale_x=1.03), r"machine\.scale_x is 1\.03, must be 0\.98 to 1\.02"),
    (lambda: Machine("laser", 0.2, scale_y=math.nan), r"machine\.scale_y is nan, must be 0\.98 to 1\.02"),
    (lambda: Machine("laser", 0.2, skew_deg=-1.1), r"machine\.skew_deg is -1\.1, must be -1 to 1 degrees"),
    (lambda: replace(SHOP, layers={}), r"layers are , must be mark, inner, outer, bridge, note"),
    (
        lambda: replace(SHOP, layers={**SHOP.layers, "note": replace(MARK, width_mm=0.2)}),
        r'layers\.note\.name is "MARK", the layer of mark too; give both one colour and one width',
    ),
    (
        lambda: replace(SHOP, layers={**SHOP.layers, "outer": replace(OUTER, write=False)}),
        r"layers\.outer\.write is false, must be true",
    ),
    (
        lambda: replace(SHOP, files=FileChoices("R12"), layers={**SHOP.layers, "mark": replace(MARK, name="Mark")}),
        r'layers\.mark\.name is "Mark", but R12 has capitals only; write "MARK"',
    ),
]


@pytest.mark.parametrize(("make", "words"), IMPOSSIBLE, ids=[words[:30] for _, words in IMPOSSIBLE])
def test_a_record_outside_its_rules_cannot_exist(make: Callable[[], object], words: str) -> None:
    """Making a record with a value that the file's rules refuse raises OutOfRange with the rule."""
    with pytest.raises(OutOfRange, match=words):
        make()


def test_all_faults_of_a_record_at_once() -> None:
    """A record with three values out of range says all three."""
    with pytest.raises(OutOfRange, match="width_mm") as caught:
        LegSection(0, 0, -5)
    assert len(caught.value.faults) == 3
