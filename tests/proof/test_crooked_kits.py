"""Whole kits for crooked machines, made and proved; their written files cut by another judge; wrong ones found out.

The other judge is cutting/crooked_machine.py: shapely alone, bent by the machine's own two equations.
"""

import re
from dataclasses import replace
from functools import cache
from types import SimpleNamespace

import pytest
import shapely
from cutting.crooked_machine import bent, edge_errors
from sample_jobs import ideal_shop_text
from shapely.affinity import translate

from jigmaker.findings import errors_in
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.make import planned_files
from jigmaker.making.plan import Plan, plan
from jigmaker.parts.kit import make_kit
from jigmaker.proof.prove import prove
from jigmaker.proof.readers.read_folder import read_folder
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.sheets.sheet import PlacedPart
from jigmaker.trestle.solve import solve

JOB = demo_job_text()
CROOKED = "scale_x = 1.002\nscale_y = 0.998\nskew_deg = 0.3"
REVERSED = "scale_x = 0.998\nscale_y = 1.002\nskew_deg = -0.3"
TWICE = "scale_x = 1.004\nscale_y = 0.996\nskew_deg = 0.6"
DIRECTED = f"{CROOKED}\nkerf_x = 0.16\nkerf_y = 0.24"
CANCELLING = "scale_x = 1.013\nkerf_x = 0.166\nkerf_y = 0.234"
"""Small holes are drawn as circles: what the wider cut in y and the scale in x do to them nearly cancels."""
LEFT_IN_INCHES = "scale_x = 0.999\nscale_y = 1.001\nskew_deg = -0.3\nbridges = 2"

PLACED_MM, TURNED_DEG = 0.01, 0.02
"""How true an edge must come out: a slot's two walls within 0.02 mm together, a flank within 0.02 degrees."""


def shop_text(lines: str, in_inches: bool = False) -> bytes:
    """The demo's shop with more lines in [machine]; no marks, no nominal files; in inches R12, a file an operation."""
    text = ideal_shop_text().decode().replace('compensation = "both"', 'compensation = "included"')
    text = text.replace('"score"', '"none"')
    if in_inches:
        text = re.sub(r"(?m)^(\w+) = ([0-9.]+)(?=\s)", r"\1 = '\2 mm'", text.replace('units = "mm"', 'units = "in"'))
        text = text.replace('"R2000"', '"R12"\noperations = "apart"')
    text = text.replace("[hand_router]", f"{lines}\n\n[hand_router]")
    return f"{text}\n[layers.note]\nwrite = false\n".encode()


@cache
def kit_files(lines: str, in_inches: bool = False) -> dict[str, bytes]:
    """Every file of the demo's kit for a machine; parts by themselves at finished size only."""
    text = shop_text(lines, in_inches).replace(b'parts = "both"\n', b"")
    source = Source(JOB, text)
    return planned_files(plan(read_job(JOB), read_shop(text), source), source)


@cache
def report(lines: str, in_inches: bool = False):
    """What the proof says of them."""
    return prove(kit_files(lines, in_inches))


WHOLE = {
    "kerf in x and y, millimetres": (DIRECTED, False),
    "kerf and scale that cancel": (CANCELLING, False),
    "leaning left, inches, R12, apart": (LEFT_IN_INCHES, True),
}


@pytest.mark.parametrize(("lines", "in_inches"), WHOLE.values(), ids=WHOLE)
def test_a_whole_kit_for_a_crooked_machine_proves(lines: str, in_inches: bool) -> None:
    """From job and shop to the routed housings: nothing found, and every leg has half the clearance on either side."""
    files = kit_files(lines, in_inches)
    assert any("-corrected-outer.dxf" in name for name in files) == in_inches
    said = report(lines, in_inches)
    assert errors_in(list(said.findings)) == []
    assert len(said.figures.housings) == 4
    for housing in said.figures.housings:
        assert (housing.near_gap_mm, housing.far_gap_mm) == pytest.approx((0.075, 0.075), abs=2e-3)


@cache
def cut_files_read():
    """The folder as read, and the parts by slug as they were meant."""
    folder, findings = read_folder(kit_files(DIRECTED))
    assert folder is not None
    assert findings == []
    shop = read_shop(shop_text(DIRECTED))
    return folder, {part.slug: part for part in make_kit(solve(read_job(JOB)), shop).parts}


def errors_of(slug: str, sheet, frame):
    """How far every long straight edge of one piece on a sheet is off, by the other judge, along the lines as read."""
    folder, parts = cut_files_read()
    machine, piece = folder.shop.machine, PlacedPart(parts[slug], frame)
    told = next(file for file in sheet.files if file.form == "dxf")
    outline = shapely.Polygon(piece.part.outline.placed(frame).points(16))
    made = {
        contour: translate(
            bent(shapely.Polygon(contour.shape.points(16)), machine), *(-moved for moved in told.moved_mm)
        )
        for contour in folder.files[told.name].contours
    }
    inner = [c for c, area in made.items() if c.layer == "INNER" and outline.contains(area.centroid)]
    outer = [c for c, area in made.items() if c.layer == "OUTER" and area.hausdorff_distance(outline) < 1]
    assert (len(inner), len(outer)) == (len(piece.part.holes), 1)
    correction = SimpleNamespace(moved_x_mm=told.moved_mm[0], moved_y_mm=told.moved_mm[1])
    return edge_errors(SimpleNamespace(contours=[*inner, *outer], correction=correction), piece, machine)


def test_every_flank_and_slot_wall_of_the_written_files_comes_out_true() -> None:
    """Of bevel plates and jig plate where they lie on their sheets, cut by a machine 0.3 degrees out of square."""
    folder, parts = cut_files_read()
    kinds = {"flank": 0, "slot_wall": 0}
    for sheet, slug, frame in [(each, *piece) for each in folder.kit.sheets for piece in each.pieces]:
        told = [feature for feature in parts[slug].features if feature.kind in kinds]
        edges = {(feature.contour, piece) for feature in told for piece in feature.pieces}
        errors = errors_of(slug, sheet, frame) if edges else {}
        assert edges <= set(errors)
        assert all(errors[edge].off_mm < PLACED_MM for edge in edges)
        assert all(abs(errors[edge].turned_deg) < TURNED_DEG for edge in edges)
        for feature in told:
            kinds[feature.kind] += 1
    assert kinds["flank"] >= 4
    assert kinds["slot_wall"] >= 4


def test_pieces_turned_a_quarter_turn_on_the_bed_come_out_true() -> None:
    """Every long edge of the first three such pieces on the sheets."""
    folder, _ = cut_files_read()
    turned = [(slug, sheet, at) for sheet in folder.kit.sheets for slug, at in sheet.pieces if at.turn_deg % 180]
    for slug, sheet, frame in turned[:3]:
        errors = errors_of(slug, sheet, frame)
        assert len(errors) >= 4
        assert max(error.off_mm for error in errors.values()) < PLACED_MM
    assert len(turned) >= 3


FEW = ("bevel-plate", "end-bearer")


@cache
def few_codes(lines: str, told: str):
    """By part, the codes from 252 on that name one of its files or itself; files for one machine, told for another."""
    text = shop_text(lines)
    job, shop = read_job(JOB), read_shop(text)
    kit = make_kit(solve(job), shop)
    parts = tuple(part for part in kit.parts if part.slug in FEW)
    singles = tuple(single_part_sheet(part, shop.machine.tool_mm) for part in parts)
    planned = Plan(job, shop, replace(kit, parts=parts), singles, place(parts, shop), ())
    findings = prove(planned_files(planned, Source(JOB, shop_text(told)))).findings
    return {
        part.slug: {f.code for f in findings if f.code > 251 and (f"-{part.slug}-" in f.part or f.part == part.name)}
        for part in parts
    }


WRONG = {"missing": "", "reversed": REVERSED, "twice": TWICE}


@pytest.mark.parametrize("lines", WRONG.values(), ids=WRONG)
def test_a_wrong_correction_fails_at_the_cut_pieces(lines: str) -> None:
    """Not only files that differ: each piece, cut on the machine that the shop tells of, is off at its edges."""
    right, wrong = few_codes(CROOKED, CROOKED), few_codes(lines, CROOKED)
    for slug in FEW:
        assert 331 in wrong[slug] - right[slug], slug
