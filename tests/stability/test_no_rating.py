"""Nothing written tells what a trestle may carry: files of a whole kit, PDFs too, and all words of the program."""

import re
from pathlib import Path

import pytest
from pdf_pages import read_pdf
from sample_jobs import ideal_shop_text

from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.making.paper_files import with_papers
from jigmaker.making.plan import plan
from jigmaker.proof.prove import Report

PROGRAM = Path(__file__).parents[2] / "jigmaker"
READ_AS_TEXT = (".html", ".csv", ".json", ".toml", ".svg")
RATING = re.compile(r"\b(rating|rated|safe load|capacity)\b", re.IGNORECASE)


@pytest.fixture(scope="module")
def whole_kit(demo_files: dict[str, bytes]) -> dict[str, bytes]:
    """The demo's files and all its papers."""
    texts = demo_job_text(), ideal_shop_text()
    planned = plan(read_job(texts[0]), read_shop(texts[1]), Source(*texts))
    return with_papers(planned, Report((), 0, 0, None), demo_files)


def test_no_file_rates_a_trestle(whole_kit: dict[str, bytes]) -> None:
    """A load that tips a trestle is geometry; a load that it bears would be a promise."""
    files = {name: data.decode("utf-8-sig") for name, data in whole_kit.items() if name.endswith(READ_AS_TEXT)}
    assert len(files) > 40
    assert [name for name, words in files.items() if RATING.search(words)] == []


def test_no_pdf_rates_a_trestle(whole_kit: dict[str, bytes]) -> None:
    """As text that a reader finds: what is drawn in strokes carries its words unseen."""
    words = {
        name: " ".join(page.words for page in read_pdf(data))
        for name, data in whole_kit.items()
        if name.endswith(".pdf")
    }
    assert len(words) > 5
    assert all(words.values())
    assert [name for name, said in words.items() if RATING.search(said)] == []


def test_the_program_has_no_word_for_it() -> None:
    """So no screen, and no file for another job, can say it."""
    assert [path.name for path in PROGRAM.rglob("*.py") if RATING.search(path.read_text("utf-8"))] == []


def test_a_rating_would_be_found() -> None:
    """The search above can fail."""
    assert RATING.search("Rated for 200 kg") and not RATING.search("separating, generated")
