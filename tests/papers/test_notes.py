"""The notes: no angle bare, nothing that a trestle is said to bear, figures from solids, inches throughout."""

import re
from dataclasses import replace

import pytest
from page_words import document_text, words_of
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.drawing.page import Document, Figures, Heading, Links, Table, Words
from jigmaker.papers.bench import Bench
from jigmaker.papers.index_page import index_page
from jigmaker.papers.notes_pages import notes_document
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

JOBS = {"demo": DEMO, "a": JOB_A, "b": JOB_B, "inch": replace(DEMO, unit="in"), "plumb": replace(DEMO, rake_deg=90.0)}


@pytest.fixture(scope="module")
def documents() -> dict[str, Document]:
    """The notes of every job, made once."""
    return {name: notes_document(Bench(make_kit(solve(job), DEMO_SHOP), ())) for name, job in JOBS.items()}


@pytest.mark.parametrize("name", JOBS)
def test_no_angle_stands_bare(documents, name) -> None:
    """Every angle says what it is off."""
    for words in (words for page in documents[name].pages for words in words_of(page)):
        assert all(re.fullmatch(r"[0-9.]+° off.*", angle) for angle in re.findall(r"[0-9.]+°.{0,5}", words)), words


@pytest.mark.parametrize("name", JOBS)
def test_nothing_is_said_to_bear_a_load(documents, name) -> None:
    """Where a trestle tips is geometry; what it bears nobody has tried."""
    said = document_text(documents[name]).lower()
    for word in ("rating", "rated", "safe load", "capacity"):
        assert not re.search(rf"\b{word}\b", said)
    assert "not a working platform" in said


def test_an_inch_job_has_no_millimetres(documents) -> None:
    """Pounds and inches throughout."""
    said = document_text(documents["inch"])
    assert not re.search(r"[0-9] ?(mm|kg|N)\b", said)


def test_the_figures_are_those_of_the_solids(documents) -> None:
    """The demo's starts (119.92, 110.77) and depths (32.71, 23.15) by plane cuts on solids; one bevel's gaps (1.41,
    0.41, 1.26, 1.38) by a leg put into such a housing. Told as a rule and a marking gauge read them."""
    said = document_text(documents["demo"])
    for figure in (
        "120 mm, top arris",
        "111 mm",
        "32.7 mm",
        "23.1 mm",
        "1.4 mm",
        "0.4 mm",
        "1.3 mm",
    ):
        assert figure in said


def test_the_index_tells_how_it_stands_as_the_notes_do(documents) -> None:
    """Footprint, what tips it, stacking: whoever opens only the index has them, under a heading, after the files."""
    page = index_page(Bench(make_kit(solve(DEMO), DEMO_SHOP), ()), (), ("passed",), (("Files", Links(())),))
    at = page.blocks.index(Heading("How it stands"))
    assert at > page.blocks.index(Heading("Files"))
    assert (*page.blocks[at + 1 : -1], page.blocks[2]) == documents["demo"].pages[-1].blocks
    assert any(isinstance(block, Figures) for block in page.blocks[at:])


def test_tipping_is_two_sentences_and_a_stack_has_its_size(documents) -> None:
    """No kilograms, no newtons. Six of the demo: 720 + 5 x 153.9 mm high (found by lowering solids), 966 x 426 of
    floor."""
    said = document_text(documents["demo"])
    assert not re.search(r"[0-9] ?(kg|N)\b", said)
    assert "1489.5 mm high and take 966 mm × 426 mm of floor" in said
    assert "weight or a push that comes outside that line tips the trestle" in said


@pytest.mark.parametrize("name", JOBS)
def test_what_matters_has_its_rows_and_the_rest_is_named(documents, name) -> None:
    """No figure stands in both places. A height that is off shows in the height, clearance in the play; how thick the
    board is moves no foot of a leg that hangs from the board's upper arris.
    """
    page = next(page for page in documents[name].pages if page.title == "What matters")
    (table,) = (block for block in page.blocks if isinstance(block, Table))
    rows = {row[0].rpartition(",")[0] for row in table.rows}
    (quiet,) = (block.text for block in page.blocks if isinstance(block, Words) and "depends on" in block.text)
    assert {"height", "clearance"} <= rows and "top board, thickness" not in rows
    assert "top board, thickness" in quiet
    # The names have commas of their own: between them stand semicolons.
    named = quiet.partition(": ")[2].removesuffix(".").split("; ")
    assert "brace, depth" in named and rows.isdisjoint(named)
    assert ('height, +1/32"' if name == "inch" else "height, +1 mm") in {row[0] for row in table.rows}
