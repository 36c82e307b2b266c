"""Sheets, cut list and notes as PDF, read back with another reader: page size, every word and figure of each page."""

import re
from dataclasses import replace

import pytest
from page_words import words_of
from pdf_pages import read_pdf
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.drawing.page import Document, Figures
from jigmaker.job.shop import PAPER_MM
from jigmaker.papers.bench import Bench
from jigmaker.papers.cut_list_page import cut_list_page
from jigmaker.papers.notes_pages import notes_document
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import place
from jigmaker.trestle.solve import solve
from jigmaker.writers.pdf import write_pdf

JOBS = {"A4": DEMO, "Letter": replace(DEMO, unit="in")}


@pytest.fixture(scope="module")
def printed():
    """Documents and their PDFs, by paper."""
    made = {}
    for paper, job in JOBS.items():
        kit = make_kit(solve(job), DEMO_SHOP)
        sheets = place(kit.parts, DEMO_SHOP)
        bench = Bench(kit, sheets, tuple((9_200.0, 42) for _ in sheets))
        documents = (setup_document(bench), Document("Cut list", (cut_list_page(bench),)), notes_document(bench))
        made[paper] = [(document, read_pdf(write_pdf(document, PAPER_MM[paper]))) for document in documents]
    return made


def squeezed(words: str) -> str:
    """Without blanks: lines break where the column ends."""
    return re.sub(r"\s", "", words)


@pytest.mark.parametrize("paper", JOBS)
def test_every_word_and_figure_is_on_paper(printed, paper) -> None:
    """Cell by cell and step by step, on sheets of the right size to 0.001 mm."""
    for document, pages in printed[paper]:
        said = squeezed("".join(page.words for page in pages))
        for page in document.pages:
            lettered = replace(page, blocks=tuple(b for b in page.blocks if not isinstance(b, Figures)))
            for words in words_of(lettered):
                assert squeezed(words) in said, (page.title, words)
        for sheet in pages:
            assert sheet.size == pytest.approx(PAPER_MM[paper], abs=0.001)


@pytest.mark.parametrize("paper", JOBS)
def test_nothing_runs_on(printed, paper) -> None:
    """Every page is one sheet, which its head and its foot number alike."""
    (document, pages), *_ = printed[paper]
    assert len(pages) == len(document.pages)
    for number, (page, sheet) in enumerate(zip(document.pages, pages, strict=True), 1):
        assert sheet.words.startswith(page.title)
        assert f"page {number} of {len(pages)}" in sheet.words
        assert squeezed(document.foot) in squeezed(sheet.words)
