"""A kit's own papers in a real browser: index, set-up sheets, cut list and notes of a job with a hostile name."""

from dataclasses import replace

import pytest
from browsing import needs_browser
from pdf_pages import read_pdf
from sample_jobs import DEMO, DEMO_SHOP
from sample_pages import STRANGE_NAME

from jigmaker.making.index_file import index_figures, index_file
from jigmaker.making.job_check import Source
from jigmaker.making.paper_files import cut_list_files, notes_files, setup_files
from jigmaker.making.plan import Plan, plan
from jigmaker.proof.prove import Report

PAPERS = ("index", "set-up-sheets", "cut-list", "notes")


@pytest.fixture(scope="module")
def planned() -> Plan:
    """The demo under a hostile name."""
    return plan(replace(DEMO, name=STRANGE_NAME), DEMO_SHOP, Source(b"", b""))


@pytest.fixture(scope="module")
def papers(planned) -> dict[str, bytes]:
    """Every HTML paper by its kind."""
    files = setup_files(planned) | cut_list_files(planned) | notes_files(planned)
    files["index.html"] = index_file(planned, Report((), 22, 100, None), files, index_figures(planned))
    return {kind: data for kind in PAPERS for name, data in files.items() if name.endswith(f"{kind}.html")}


@needs_browser
@pytest.mark.parametrize("kind", PAPERS)
def test_nothing_is_wrong_on_phone_and_desk(kind, papers, browser, tmp_path) -> None:
    """No console error, no request off the page, no text cut off or over another."""
    path = tmp_path / f"{kind}.html"
    path.write_bytes(papers[kind])
    assert browser.look_at(path) == {390: [], 1280: []}


@needs_browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_sheets_print_whole(paper, papers, browser, tmp_path) -> None:
    """Every operation's caution and the last words of the last sheet are on paper."""
    path = tmp_path / "sheets.html"
    path.write_bytes(papers["set-up-sheets"])
    said = " ".join(page.words for page in read_pdf(browser.print_to(path, paper)))
    for number in (*range(10, 110, 10), 120):
        assert f"{number} " in said
    assert "nobody sits on an end" in said and "straight board over two" in said
