"""A kit cut as [kit] and [[sheet]] ask: parts left out, no spares, a group from another sheet, off-cuts first."""

import json
import re

import pytest

from jigmaker.errors import DoesNotFit, JobError
from jigmaker.findings import cautions_in
from jigmaker.job.demo import demo_job_text
from jigmaker.job.edit import edit_file
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.sections import LEFT_OUT
from jigmaker.making.job_check import Source
from jigmaker.making.make import planned_files
from jigmaker.making.plan import plan
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.proof.prove import prove
from jigmaker.sheets.place import place
from jigmaker.writers.html import write_html

SHEETS = """[[sheet]]
material = "fibreboard"
thickness = 6.2
length = 500
width = 300
margin = 5
count = 2
for = ["foot block"]

[[sheet]]
material = "birch plywood"
thickness = 9.1
length = 300
width = 200
margin = 5
count = 1

"""


@pytest.fixture(scope="module")
def text(quick_shop):
    """The quick shop with three kinds of sheets, without spares and without all that can be left out."""
    sheets = quick_shop.replace("[sheet]", "[[sheet]]").replace("[machine]", f"{SHEETS}[machine]", 1)
    return f"{sheets}\n[kit]\nspares = false\nleave_out = {json.dumps(list(LEFT_OUT))}\n"


@pytest.fixture(scope="module")
def planned(text):
    """Its plan."""
    return plan(read_job(demo_job_text()), read_shop(text.encode()), Source(demo_job_text(), text.encode()))


@pytest.fixture(scope="module")
def files(planned, text):
    """Its files."""
    return planned_files(planned, Source(demo_job_text(), text.encode()))


def test_only_what_is_wanted_is_made_and_proves(planned, files):
    """No part that is left out, no spare; the jig routs right housings all the same."""
    parts = {part.slug: part for part in planned.kit.parts}
    assert not set(LEFT_OUT) & set(parts)
    assert {"plate", "bearer", "stop", "fence-or-back-strip", "foot-block-nose"} <= set(parts)
    assert all(part.pieces == part.needed for part in parts.values())
    report = prove(files)
    assert report.passed and report.figures, report.findings


def test_a_group_is_cut_from_its_own_sheet(planned, files):
    """Its thickness is in every part, in the settings made of it, and in the words of its sheet's file."""
    nose = next(part for part in planned.kit.parts if part.slug == "foot-block-nose")
    assert nose.thickness_mm == 6.2
    assert [s.value for s in nose.settings if s.name.startswith("scribing height")][:2] == pytest.approx([6.2, 12.4])
    of_it = [sheet for sheet in planned.sheets if sheet.stock and sheet.stock.material == "fibreboard"]
    assert {placed.part.assembly for sheet in of_it for placed in sheet.placed} == {"foot block"}
    name = next(name for name in files if f"-{of_it[0].name}-of-" in name and name.endswith(".svg"))
    assert b"fibreboard, 6.20 mm thick" in files[name]
    plate = next(part for part in planned.kit.parts if part.slug == "plate")
    assert plate.thickness_mm == 9.1


def test_gauges_from_another_sheet_are_right_on_it(quick_shop):
    """The depth gauge's tongue meets a floor that rises across it: a thinner one goes deeper, and the proof asks so."""
    text = quick_shop.replace("[sheet]", "[[sheet]]").replace("[machine]", f"{SHEETS}[machine]", 1)
    text = text.replace('"foot block"', '"gauges"')
    source = Source(demo_job_text(), text.encode())
    report = prove(planned_files(plan(read_job(demo_job_text()), read_shop(text.encode()), source), source))
    assert report.passed, report.findings


def test_an_off_cut_is_filled_first(planned):
    """It is small, and nothing that would go on it lies on a whole sheet while it has room: it is the first sheet."""
    first = planned.sheets[0]
    assert (first.length_mm, first.width_mm) == (300, 200)
    area = sum(placed.part.outline.area for placed in first.placed)
    assert area > 0.4 * 300 * 200


def test_a_gauge_left_out_is_a_caution_and_its_sheet_says_what_to_use(planned):
    """One a gauge on the screen; the coupon is none. On paper one line where the gauge would be used."""
    said = [finding.sentence() for finding in cautions_in(list(planned.cautions)) if finding.code == 216]
    assert len(said) == len(LEFT_OUT) - 1
    assert any("leg-gauge" in sentence and "caliper" in sentence for sentence in said)
    page = write_html(setup_document(Bench(planned.kit, planned.sheets), with_pictures=False)).decode()
    words = re.sub(r"<[^>]+>", "", page)
    for gauge in ("leg gauge", "projection gauge", "housing plug", "brace template", "taper gauge"):
        assert f"No {gauge} is in this kit: " in words


def test_too_few_sheets_are_told(planned, text):
    """With what does not go on them."""
    shop = read_shop(text.replace("count = 2", "count = 1").replace("length = 500", "length = 150").encode())
    with pytest.raises(DoesNotFit, match=r"foot block layer.*do not go on the 1 sheet that "):
        place(planned.kit.parts, shop)


KIT = [
    ('leave_out = ["plate"]', r"line \d+: kit\.leave_out names plate, which must be there"),
    ('leave_out = ["fence"]', "names fence, which must be there"),
    ('leave_out = ["end-bearer", "coupon"]', "names end-bearer, which must be there"),
    ('leave_out = ["stop"]', "names stop, which must be there"),
    ('leave_out = ["mask-foot"]', 'names "mask-foot", must be out of "coupon"'),
    ('leave_out = "coupon"', "must be a list of names"),
    ("spares = 1", "must be true or false"),
]


@pytest.mark.parametrize(("line", "words"), KIT)
def test_what_a_kit_needs_cannot_be_left_out(line, words, quick_shop):
    """With file, line, key and rule."""
    with pytest.raises(JobError, match=words):
        read_shop(f"{quick_shop}\n[kit]\n{line}\n".encode())


BAD_SHEETS = [
    (
        'for = ["foot block"]',
        "",
        r"line 13: sheet 2\.thickness is not that of the first sheet; say what is",
    ),
    ('"foot block"', '"plate"', r"line 18: sheet 2\.for names "),
    ("width = 300\n", "", "line 11: sheet 2 lacks width"),
    ("count = 1", "count = 0", r"sheet 3\.count is 0, must be a whole number from 1"),
    ("margin = 5\ncount = 1", "margin = 150\ncount = 1", r"sheet 3\.margin leaves nothing of the sheet"),
    ("[[sheet]]\n", '[[sheet]]\nfor = ["gauges"]\n', r"sheet\.for does not go with the first sheet"),
    (
        "count = 1\n",
        'for = ["gauges", "foot block"]\n',
        r'line 22: sheet 3\.thickness is not that of sheet 2, which is for "foot block" too; take "foot block"',
    ),
]


@pytest.mark.parametrize(("old", "new", "words"), BAD_SHEETS)
def test_a_faulty_sheet_is_told_with_its_line(old, new, words, text):
    """Further sheets are called by their number."""
    assert old in text
    with pytest.raises(JobError, match=words):
        read_shop(text.replace(old, new, 1).encode())


def test_the_first_of_several_sheets_is_edited(text):
    """As the coupon does it; the others stay."""
    changed = edit_file(text.encode(), {"sheet.thickness": "9.3", "sheet.thickness_spread": "0.2"})
    shop = read_shop(changed.replace(b"thickness = 9.1\nlength = 300", b"thickness = 9.3\nlength = 300"))
    assert (shop.sheet.thickness_mm, shop.sheet.thickness_spread_mm) == (9.3, 0.2)
    assert shop.further_sheets[0].thickness_mm == 6.2
