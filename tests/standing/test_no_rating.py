"""Nothing written tells what a trestle may carry: outputs/, PDFs too, and all words of the program."""

import re
from pathlib import Path

from pdf_pages import read_pdf

PROJECT = Path(__file__).parents[2]
OUTPUTS, PROGRAM = PROJECT / "outputs", PROJECT / "jigmaker"
READ_AS_TEXT = {".html", ".csv", ".json", ".toml", ".svg"}
RATING = re.compile(r"\b(rating|rated|safe load|capacity)\b", re.IGNORECASE)


def test_no_file_rates_a_trestle() -> None:
    """A load that tips a trestle is geometry; a load that it bears would be a promise."""
    files = [path for path in OUTPUTS.rglob("*") if path.suffix in READ_AS_TEXT]
    assert len(files) > 100
    assert [path.name for path in files if RATING.search(path.read_text("utf-8-sig"))] == []


def _words(path: Path) -> str:
    return " ".join(page.words for page in read_pdf(path.read_bytes()))


def test_no_pdf_rates_a_trestle() -> None:
    """As text that a reader finds: what is drawn in strokes carries its words unseen."""
    files = list(OUTPUTS.rglob("*.pdf"))
    assert len(files) > 10
    assert all(_words(path) for path in files)
    assert [path.name for path in files if RATING.search(_words(path))] == []


def test_the_program_has_no_word_for_it() -> None:
    """So no screen, and no file for another job, can say it."""
    assert [path.name for path in PROGRAM.rglob("*.py") if RATING.search(path.read_text("utf-8"))] == []


def test_a_rating_would_be_found() -> None:
    """The search above can fail."""
    assert RATING.search("Rated for 200 kg") and not RATING.search("separating, generated")
