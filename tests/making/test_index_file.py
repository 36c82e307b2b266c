"""The page to open first: every file of the folder has its link, what is wanted first stands first."""

import html
import re
from pathlib import Path

OUTPUTS = Path(__file__).parents[2] / "outputs"
FIRST = (
    "-set-up-sheets.html",
    "-set-up-sheets.pdf",
    "-cut-list.html",
    "-notes.html",
    "/drawings/",
    "/full-size/",
    "sheets/",
    "cut/",
)


def linked(job):
    """The names that a kit's index links to, in order."""
    index = html.unescape((OUTPUTS / job / "index.html").read_text("utf-8"))
    return re.findall(r'href="\./([^"]+)"', index)


def test_every_file_is_linked_once():
    """Both kits in outputs/, which .ci/run makes anew."""
    for job in ("potting-bench", "workshop-pair"):
        files = {path.relative_to(OUTPUTS / job).as_posix() for path in (OUTPUTS / job).rglob("*") if path.is_file()}
        assert sorted(linked(job)) == sorted(files - {"index.html"})


def test_an_inch_kit_is_told_in_inches():
    """Everything on its index, the words about paper too."""
    index = html.unescape((OUTPUTS / "workshop-pair" / "index.html").read_text("utf-8"))
    said = re.sub(r"<(style|svg).*?</\1>|<[^>]+>", " ", index, flags=re.DOTALL)
    assert re.findall(r"[0-9] ?(?:mm|cm³|kg|N)\b|millimet", said) == []


def test_papers_for_the_bench_come_before_files_for_the_machine():
    """Set-up sheets first: whoever opens the page on a telephone wants those."""
    names = linked("potting-bench")
    places = [next(i for i, name in enumerate(names) if words in name) for words in FIRST]
    assert places == sorted(places)
    assert places[0] == 0
