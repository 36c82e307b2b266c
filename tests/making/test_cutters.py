"""Every cutter that a shop owns, in every sheet: a kit that is made and proves, or a refusal before any work.

Cutters as sold in millimetres and inches, plywood as sold; common practice, no source. Only a cutter that does not go
into a mortise, which is as wide as the sheet is thick and 0.1 mm, with 0.2 mm to spare is refused.

All cells are planned, and their parts held to what the layout promises of their wood. Four are made and proved from
their files: those in which every dimension that grows with the cutter has grown. JIGMAKER_CUTTERS=all makes all.
"""

import os
from dataclasses import replace
from functools import cache
from itertools import combinations, product

import pytest
import shapely
from marks_on_parts import mark_faults
from random_kits import texts_of
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, a_job
from spoil_files import files_of, light_plan

from jigmaker.errors import JobError
from jigmaker.findings import errors_in
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import Chisel, HandRouter, KitChoices, Machine
from jigmaker.job.templates import new_shop_text
from jigmaker.making import plan as planning
from jigmaker.making.cuttable import check_cuttable
from jigmaker.making.job_check import Source, check_job
from jigmaker.parts.check import check_kit
from jigmaker.parts.kit import make_kit
from jigmaker.parts.router_rules import widest_cutter
from jigmaker.proof.prove import prove
from jigmaker.trestle.solve import solve

CUTTERS = (3.0, 3.175, 4.0, 5.0, 6.0, 6.35, 8.0, 10.0, 12.0)
SHEETS = (9.0, 12.0, 15.0, 18.0, 19.05)
REFUSED = {(10.0, 9.0): 8.9, (12.0, 9.0): 8.9, (12.0, 12.0): 11.9}
"""(cutter, sheet) to the widest cutter that goes, by the rule above: sheet + 0.1 - 0.2."""

GROWN = (
    (6.35, 12.0),  # shoulders over the tenons, sides of the masks; an inch shop's commonest set-up
    (8.9, 9.0),  # bites beside the mortises' ends, and all that they need: lands, webs, tenons; the widest that goes
    (11.9, 12.0),  # the same, larger
    (12.0, 19.05),  # the largest bites in corners: seats, necks, standoff; dowels, windows, gauges
)
CELLS = list(product(CUTTERS, SHEETS))
MADE = [cell for cell in CELLS if cell not in REFUSED] if os.environ.get("JIGMAKER_CUTTERS") == "all" else GROWN


def test_the_shop_template_says_which_cutters_suit():
    """Nine tenths of the sheet's thickness, from 6 mm up; the hand router's is one that plunges."""
    said = new_shop_text()
    assert "a CNC machine's cutter, its diameter: at most 0.9 of the sheet's thickness" in said
    assert "a straight one that may be plunged" in said
    assert all(widest_cutter(shop_of(3.0, sheet)) >= 0.9 * sheet for sheet in (6.0, 6.35, *SHEETS, 30.0))


def shop_of(cutter, sheet):
    """A CNC router with this cutter; a hand router whose cutter reaches through the sheet into the demo's housing."""
    return replace(
        DEMO_SHOP,
        sheet=replace(DEMO_SHOP.sheet, thickness_mm=sheet, length_mm=1220, width_mm=610),
        machine=Machine("cnc", cutter, compensation="included", marking="none"),
        hand_router=HandRouter(150, 17, 12, sheet + DEMO.leg.thickness_mm + 12, bush_length_mm=sheet - 3),
    )


HAND_CELLS = ((6.35, 12.0), (8.9, 9.0), (11.9, 12.0), (12.0, 15.0), (12.0, 19.05), ("kerf", 9.0))
"""Of those for saw and chisel: cutters that change what grows, the widest that go, and the widest kerf."""


def hand_shop_of(cutter, sheet):
    """The same for saw and chisel, which have no slot that a cutter must go into: their saw runs along a cheek."""
    machine = Machine("laser", 1.0, compensation="included", marking="none") if cutter == "kerf" else None
    return replace(
        shop_of(3.0 if machine else cutter, sheet),
        **({"machine": machine} if machine else {}),
        hand_router=None,
        hand_saw=replace(HAND_SHOP.hand_saw, depth_mm=110),
        chisel=Chisel(180),
        kit=KitChoices(also=()),
    )


@cache
def read(cutter, sheet, shop_of=shop_of):
    """(job, shop, source) as read from files."""
    job_text, shop_text = texts_of(DEMO, shop_of(cutter, sheet))
    shop_text += b"" if b"[kit]" in shop_text else b'[kit]\nalso = ["clamping wedges", "leaning wedges"]\n'
    return read_job(job_text), read_shop(shop_text), Source(job_text, shop_text)


@pytest.mark.parametrize(("cutter", "sheet"), [cell for cell in CELLS if cell not in REFUSED])
def test_the_kit_can_be_cut_and_keeps_its_wood(cutter, sheet):
    """No error, every contour simple and wide enough, and webs as wide as the layout promises."""
    job, shop, _ = read(cutter, sheet)
    assert errors_in(check_job(job, shop)) == []
    kit = make_kit(solve(job), shop)
    assert check_cuttable(kit) == []
    for part in kit.parts:
        web = dict(part.least_wood_mm).get("web")
        contours = [part.outline, *(hole.contour for hole in part.holes)] if web else []
        rings = [shapely.LinearRing(contour.points(16)) for contour in contours]
        assert all(one.distance(two) > web - 0.02 for one, two in combinations(rings, 2)), part.slug


@pytest.mark.parametrize(("cutter", "sheet"), HAND_CELLS)
def test_guides_for_saw_and_chisel_are_cut_with_it(cutter, sheet):
    """No error, every contour simple, all letters clear of what is cut, and from the written files all housings come
    out, each with its leg in it."""
    job, shop, source = read(cutter, sheet, hand_shop_of)
    assert errors_in(check_job(job, shop)) == []
    kit = make_kit(solve(job), shop)
    assert check_cuttable(kit) == []
    assert [fault for part in kit.parts for fault in mark_faults(part)] == []
    files, _ = files_of(light_plan(job, shop, source), source)
    report = prove(files)
    assert errors_in(list(report.findings)) == []
    assert [each.hand for each in report.figures.housings] == ["R", "R", "L", "L"]


@pytest.mark.parametrize(("cutter", "sheet"), GROWN)
def test_marks_stay_clear_of_what_has_grown(cutter, sheet):
    """Nothing is scored within 1.5 mm of a bite or a wider hole, on a plate for both hands and on one for each."""
    shop = shop_of(cutter, sheet)
    for length in (1220, 470):
        kit = make_kit(solve(DEMO), replace(shop, sheet=replace(shop.sheet, length_mm=length)))
        assert [fault for part in kit.parts for fault in mark_faults(part)] == []


STEEP = a_job(675.9, (65.0, 60.0), 168.4, (1374.5, 111.4, 45.7), (71.9, 31.2), unit="in")
UPRIGHT = a_job(460, (65.0, 90.0), 164, (1214, 169, 36.2), (99.8, 35.3), clearance=0.0, reveal=2.0)
STRAINED = [
    # On a steep plate a foot's mortise comes near to the mask's cord hole.
    (STEEP, shop_of(4.96, 20.12), HandRouter(180, 12, 8, 64.59, bush_length_mm=17)),
    # On an upright board a bite in an end bearer's seat lies over the one beside its lug.
    (UPRIGHT, shop_of(6.2, 12.0), HandRouter(150, 20, 6, 54.2, bush_length_mm=9)),
]


@pytest.mark.parametrize(("job", "shop", "router"), STRAINED)
def test_webs_and_necks_of_odd_jobs(job, shop, router):
    """Such as were found among drawn ones: nothing is refused, and a bearer's neck is the one promised, not less."""
    kit = make_kit(solve(job), replace(shop, hand_router=router))
    assert errors_in(check_kit(kit.trestle, kit.shop)) == []
    assert check_cuttable(kit) == []
    for part in kit.parts:
        neck = dict(part.least_wood_mm).get("neck", 0.0)
        shrunk = shapely.Polygon(part.outline.points(64))
        for _ in range(4):
            shrunk = shrunk.buffer(-(neck - 0.02) / 8, quad_segs=16)
        assert sum(piece.area > 0.5 for piece in shapely.get_parts(shrunk)) == 1, part.slug


@pytest.mark.parametrize(("cutter", "sheet"), REFUSED)
def test_a_cutter_that_does_not_go_is_refused_before_any_work(cutter, sheet, monkeypatch):
    """File, line, key, value, the rule and the widest cutter that goes, before parts are drawn or placed."""
    job, shop, source = read(cutter, sheet)
    for work in ("make_kit", "place", "single_part_sheet"):
        monkeypatch.setattr(planning, work, None)
    with pytest.raises(JobError) as caught:
        planning.plan(job, shop, source)
    (sentence,) = str(caught.value).splitlines()
    line = source.shop_text.decode().splitlines().index(f'cutter = "{cutter} mm"') + 1
    assert sentence.startswith(
        f"shop.toml line {line}: machine.cutter: the machine's cutter, {cutter:g} mm, is too wide"
    )
    assert f"mortises are {sheet + 0.1:g} mm wide and must be 0.2 mm wider than it" in sentence
    assert f"cut the kit with {REFUSED[cutter, sheet]:g} mm or less" in sentence


@pytest.mark.parametrize("sheet", [9.0, 12.0])
def test_a_little_more_than_the_widest_is_refused(sheet):
    """The widest that goes is made below; 0.05 mm more is not."""
    job, shop, _ = read(round(sheet - 0.05, 2), sheet)
    assert [finding.code for finding in errors_in(check_job(job, shop))] == [204]


@pytest.mark.parametrize(("cutter", "sheet"), MADE)
def test_the_kit_is_made_and_proves(cutter, sheet):
    """From its written files: cut, assembled, routed, and nothing found."""
    job, shop, source = read(cutter, sheet)
    files, _ = files_of(light_plan(job, shop, source), source)
    assert errors_in(list(prove(files).findings)) == []
