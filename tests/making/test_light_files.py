"""How light the cut files of whole kits are: entities and lifts counted in what the code makes; page and sizes."""

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import dxf_tags
import pytest
import svg_paths
from pytest import approx

from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.cut_files import cut_files
from jigmaker.making.job_check import Source
from jigmaker.making.plan import plan

TESTS = Path(__file__).parent.parent


@cache
def made(name: str):
    """The plan of one of the two kits in outputs/, and the files of its sheets and of two parts by name."""
    job, shop = {
        "demo": (demo_job_text(), demo_shop_text()),
        "pair": tuple((TESTS / folder / "workshop_pair.toml").read_bytes() for folder in ("jobs", "shops")),
    }[name]
    planned = plan(read_job(job), read_shop(shop), Source(job, shop))
    few = tuple(sheet for sheet in planned.part_sheets if sheet.name in ("plate", "bearer"))
    machine = replace(planned.shop.machine, compensation="included")
    light = replace(planned, part_sheets=few, shop=replace(planned.shop, machine=machine))
    return planned, {file.name: file for file in cut_files(light)}


def test_the_demos_sheets_have_at_most_2500_entities() -> None:
    """Marks, holes, outlines and squares of its three sheets together, by the entities in the DXF."""
    _, files = made("demo")
    sheets = [file for name, file in files.items() if name.startswith("sheets/potting") and name.endswith(".dxf")]
    assert len(sheets) == 3
    assert sum(len(dxf_tags.contours(file.data)) for file in sheets) <= 2500


def test_the_routers_sheets_have_under_1200_lifts() -> None:
    """Each stroke of a mark is one: the tool goes down before it and up after it."""
    planned, files = made("pair")
    layer = planned.shop.layers["mark"].name
    marks = [file for name, file in files.items() if re.search(r"sheets/.*-mark\.dxf", name)]
    lifts = sum(one.layer == layer for file in marks for one in dxf_tags.contours(file.data))
    assert len(marks) == 2 and 0 < lifts < 1200


def test_an_id_says_part_and_operation_and_is_given_once() -> None:
    """Of every shape in every SVG of two kits, as if one page took them all in."""
    seen = list[str]()
    for name in ("demo", "pair"):
        planned, files = made(name)
        slugs = "|".join([*(part.slug for part in planned.kit.parts), "reference-square", "screw-place"])
        for file in (file for file in files.values() if file.name.endswith(".svg")):
            page = svg_paths.root(file.data)
            drawn = [e.attrib["id"] for e in page.iter() if e.tag.endswith(("}path", "}circle"))]
            shape = rf"({slugs})-(mark|inner|bridge|outer|note)-\d+--{re.escape(Path(file.name).stem)}"
            assert drawn and [each for each in drawn if not re.fullmatch(shape, each)] == []
            seen += [e.attrib["id"] for e in page.iter() if "id" in e.attrib]
    assert len(set(seen)) == len(seen) > 500


@pytest.mark.parametrize("name", ["demo", "pair"])
def test_the_page_is_the_sheet(name: str) -> None:
    """SVG page and DXF limits, of whole sheets to the bed's own size; nothing lies beyond, with the note or without."""
    planned, files = made(name)
    scale = 25.4 if planned.shop.files.unit == "in" else 1.0
    whole = {sheet.name: (sheet.length_mm, sheet.width_mm) for sheet in (*planned.sheets, *planned.part_sheets)}
    for file in files.values():
        if file.name.endswith(".svg"):
            page = svg_paths.root(file.data).attrib["viewBox"].split()
            assert [float(size) for size in page] == approx([0, 0, *whole[file.sheet]], abs=1e-6), file.name
            continue
        head = dxf_tags.header(file.data)
        assert [float(v) * scale for v in head["$LIMMAX"]] == approx(whole[file.sheet], abs=2e-5), file.name
        drawn = [float(v) * scale for v in (*head["$EXTMIN"][:2], *head["$EXTMAX"][:2])]
        assert min(drawn[:2]) >= 0 and drawn[2] <= whole[file.sheet][0] and drawn[3] <= whole[file.sheet][1]


@pytest.mark.parametrize("name", ["demo", "pair"])
def test_the_size_that_a_file_names_is_that_of_its_lines(name: str) -> None:
    """Of the plate's own file: the box of its outer lines, cut's width and correction in it, to two or four places."""
    planned, files = made(name)
    unit = planned.shop.files.unit
    for file in files.values():
        if file.sheet != "plate" or not file.name.endswith(".dxf") or "outer" not in file.operations:
            continue
        (said,) = re.findall(rf"plate: ([0-9.]+) {unit} over its lines, left to right", file.data.decode())
        layer = planned.shop.layers["outer"].name
        xs = [vertex[0] for one in dxf_tags.contours(file.data) if one.layer == layer for vertex in one.vertices]
        assert max(xs) - min(xs) == approx(float(said), abs=0.0051 if unit == "mm" else 0.000051)
