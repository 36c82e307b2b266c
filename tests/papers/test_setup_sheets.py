"""The set-up sheets: what each says, and that nothing on them can be misread."""

import re
from dataclasses import replace

import pytest
from page_words import cautions_of, document_text, table_of, text_of, words_of
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.drawing.page import Document, Page
from jigmaker.job.job import Job
from jigmaker.job.shop import Machine, Shop
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

pytestmark = pytest.mark.xdist_group("sheets")
"""Its fixtures are dear: one worker makes them for all."""

INCH = replace(DEMO, unit="in")
INCH_SHOP = replace(DEMO_SHOP, files=replace(DEMO_SHOP.files, unit="in"))
CNC = replace(DEMO_SHOP, machine=Machine("cnc", 3.0))
KITS: dict[str, tuple[Job, Shop]] = {
    "demo": (DEMO, DEMO_SHOP),
    "a": (JOB_A, DEMO_SHOP),
    "b": (JOB_B, BEARING_SHOP),
    "inch": (INCH, INCH_SHOP),
    "plumb rake": (replace(DEMO, rake_deg=90.0), DEMO_SHOP),
    "horn and trim": (replace(DEMO, leg=replace(DEMO.leg, horn_mm=5.0, trim_mm=30.0)), DEMO_SHOP),
    "cnc": (DEMO, CNC),
}


def sheets_of(job: Job, shop: Shop) -> Document:
    """The set-up sheets of a job in a shop, in words: every picture has tests of its own."""
    # Unplaced: placing takes longer than all the rest, and only the number of sheets depends on it.
    return setup_document(Bench(make_kit(solve(job), shop), ()), with_pictures=False)


@pytest.fixture(scope="module")
def documents() -> dict[str, Document]:
    """Every kit's sheets, made once."""
    return {name: sheets_of(*kit) for name, kit in KITS.items()}


@pytest.fixture(scope="module")
def demo(documents) -> dict[str, Page]:
    """The demo's pages by the name of their operation."""
    return {page.title.partition(" ")[2]: page for page in documents["demo"].pages}


@pytest.mark.parametrize("name", KITS)
def test_no_angle_stands_bare(documents, name) -> None:
    """A saw's scale and a bevel count from different lines: every angle says what it is off."""
    for words in (words for page in documents[name].pages for words in words_of(page)):
        angles = re.findall(r"[0-9.]+°.{0,5}", words)
        assert all(re.fullmatch(r"[0-9.]+° (off |from).*", angle) for angle in angles), words


@pytest.mark.parametrize("name", KITS)
def test_an_angle_and_its_complement_make_90_as_printed(documents, name) -> None:
    """Whoever sets one of the two must get the other."""
    pairs = re.findall(r"([0-9.]+)° off [^(°\n]+\(([0-9.]+)° off", document_text(documents[name]))
    assert len(pairs) > 10
    for one, other in pairs:
        assert round(float(one) * 100) + round(float(other) * 100) == 9000


def test_an_inch_job_reads_in_inches(documents) -> None:
    """No size of the job in metric units anywhere, M6 being a bolt's name; a slant is told over 4 inches."""
    said = document_text(documents["inch"])
    assert re.findall(r"[0-9.]+ ?[cm]m", said) == []
    assert 'over 4"' in said and "3.937" not in said


@pytest.mark.parametrize("name", KITS)
def test_every_sheet_has_its_head_checks_and_one_caution(documents, name) -> None:
    """Five to eight dimensions with limit, end points and tool; one danger, and no two sheets the same one."""
    pages = [page for page in documents[name].pages if cautions_of(page)]
    assert len(pages) == 14
    for page in pages:
        assert [key for key, _ in page.head] == [
            "job",
            "batch",
            "operation",
            "sheet",
            "quantity",
            "timber as measured",
            "datum",
            "set by, checked by, date",
        ]
        rows = table_of(page, "what").rows
        assert 5 <= len(rows) <= 8, page.title
        assert all(all(row[:5]) for row in rows), page.title
    cautions = [caution for page in pages for caution in cautions_of(page)]
    assert len(set(cautions)) == len(cautions) == len(pages)


DANGERS = {
    "Cut the kit": "fumes",
    "Assemble the jig dry": "screw",
    "Set the router on scrap": "plug",
    "Rout the housings: R, then L": "tips",
    "Saw the legs": "thrown",
    "Saw the braces": "Short pieces",
    "Final checks": "nobody climbs",
}


@pytest.mark.parametrize(("operation", "danger"), DANGERS.items())
def test_a_caution_names_the_danger_of_its_operation(demo, operation, danger) -> None:
    """A caution that fits every page is read on none."""
    assert danger in cautions_of(demo[operation])[0]


# Worked out by hand from the demo's sizes: bush 17, cutter 12, housing 70 + 0.15, sheet 9.1, standoff 7, leg 32.
SUMS = {
    "Set the router on scrap": (
        "75.15 mm = housing 70.15 mm + bush 17 mm - cutter 12 mm",
        "48.1 mm = sheet 9.1 mm + standoff 7 mm + housing 32 mm deep",
        "2.5 mm = (bush 17 mm - cutter 12 mm) / 2",
    ),
    # Corner positions of the same trestle built with an independent solid kernel.
    "Mark the housings, saw the waste out": ("119.92 mm", "110.77 mm", "71.65 mm", "32.71 mm", "23.15 mm"),
    "Saw the legs": ("751.83 mm", "11.75° off square (78.25° off the arris)", "12.00° off upright (78.00°"),
    "Saw the braces": ("139.13 mm", "184.87 mm", "78.25° off the long edge (11.75° off square)"),
}


@pytest.mark.parametrize(("operation", "figures"), SUMS.items())
def test_the_figures_are_the_trestles(demo, operation, figures) -> None:
    """The sums add up and the lengths are those of the solid trestle."""
    said = text_of(demo[operation])
    assert [figure for figure in figures if figure not in said] == []


PASS = "projection, pass "


def test_the_passes_end_at_the_projection_in_steps_of_3_mm_at_most(demo) -> None:
    """32 mm deep: 11 passes, the first with sheet, standoff and one pass below the base."""
    rows = next(block.rows for block in demo["Set the router on scrap"].blocks if PASS in str(block))
    told = {int(name.removeprefix(PASS)): float(figure.removesuffix(" mm")) for name, figure in rows}
    deep = [told[n] for n in sorted(told)]
    assert len(deep) == 11 and deep[-1] == 48.1
    steps = [b - a for a, b in zip([9.1 + 7, *deep[:-1]], deep, strict=True)]
    assert max(steps) < 3.05 and min(steps) > 2.8


def test_the_readings_have_a_row_for_every_trestle_and_a_column_for_every_foot(documents) -> None:
    """A batch is levelled to one height: all its readings side by side; the four feet by the names on the form."""
    for name in ("demo", "a"):
        table = table_of(next(page for page in documents[name].pages if page.title.endswith("readings")), "trestle")
        count = KITS[name][0].trestles
        assert [row[0] for row in table.rows] == [str(number) for number in range(1, count + 1)]
        assert {f"under {end} {hand}" for end in ("near", "far") for hand in "RL"} < set(table.head)
