"""Nothing that is written says what a trestle may carry: every text file of both kits in outputs/ is searched."""

import re
from pathlib import Path

OUTPUTS = Path(__file__).parents[2] / "outputs"
READ_AS_TEXT = {".html", ".csv", ".json", ".toml", ".svg"}
RATING = re.compile(r"\b(rating|rated|safe load|capacity)\b", re.IGNORECASE)


def test_no_file_rates_a_trestle() -> None:
    """A load that tips a trestle is geometry; a load that it bears would be a promise."""
    files = [path for path in OUTPUTS.rglob("*") if path.suffix in READ_AS_TEXT]
    assert len(files) > 100
    assert [path.name for path in files if RATING.search(path.read_text("utf-8-sig"))] == []


def test_a_rating_would_be_found() -> None:
    """The search above can fail."""
    assert RATING.search("Rated for 200 kg") and not RATING.search("separating, generated")
