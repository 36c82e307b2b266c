"""The page to open first: what is on its first screen, and that every file of the folder has its link, papers first."""

import html
import re
from dataclasses import replace

import pytest
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.findings import Finding
from jigmaker.making.index_file import index_figures, index_file
from jigmaker.making.plan import Plan
from jigmaker.parts.kit import make_kit
from jigmaker.proof.prove import Report
from jigmaker.trestle.solve import solve

FIRST = (
    "-set-up-sheets.html",
    "-set-up-sheets.pdf",
    "-cut-list.html",
    "-notes.html",
    "/drawings/",
    "-full-size.pdf",
    "sheets/",
    "parts/",
)
NAMES = (
    "job.toml",
    "kit.json",
    "numbers.json",
    "papers/bench-cut-list.html",
    "papers/bench-notes.html",
    "papers/bench-set-up-sheets.html",
    "papers/bench-set-up-sheets.pdf",
    "papers/drawings/bench-leg.svg",
    "papers/bench-full-size.pdf",
    "parts/bench-plate-cut-1-finished-size.dxf",
    "parts/kerf-0.20/bench-plate-cut-1-kerf-0.20.dxf",
    "proof.json",
    "sheets/bench-sheet-1-of-1-kerf-0.20.dxf",
    "sheets/finished-size/bench-sheet-1-of-1-finished-size.dxf",
    "shop.toml",
)
THIN = Finding(208, "the blade is short", "mind the shank", "shop hand_router.blade", severity="caution")


INCH_SHOP = replace(DEMO_SHOP, files=replace(DEMO_SHOP.files, unit="in"))


def index_of(job=DEMO, cautions=(), names=NAMES) -> str:
    """The index of a job with these files, its entities undone."""
    shop = INCH_SHOP if job.unit == "in" else DEMO_SHOP
    plan = Plan(job, shop, make_kit(solve(job), shop), (), (), cautions)
    return html.unescape(index_file(plan, Report((), 22, 100, None), names, index_figures(plan)).decode())


@pytest.fixture(scope="module")
def index() -> str:
    """The demo's, made once."""
    return index_of(cautions=(THIN,))


def linked(page: str) -> list[str]:
    """The names that an index links to, in order."""
    return re.findall(r'href="\./([^"]+)"', page)


def test_every_file_is_linked_once(index):
    """Whatever the folder holds, the index aside."""
    assert sorted(linked(index)) == sorted(NAMES)


def test_every_file_of_the_demo_is_linked_once(demo_files):
    """The names that make gives, and no link twice where two files differ in their ending only."""
    assert sorted(linked(index_of(names=tuple(demo_files)))) == sorted(demo_files)


def test_an_inch_kit_is_told_in_inches():
    """Everything on its index, the words about paper too; but what a program shows is in the files' unit, here mm."""
    said = re.sub(r"<(style|svg).*?</\1>|<[^>]+>", " ", index_of(replace(DEMO, unit="in")), flags=re.DOTALL)
    said, told = re.subn(r"measure in the file of the first sheet: [^;]*", "", said)
    assert told == 1 and re.findall(r"[0-9] ?(?:mm|cm³|kg|N)\b|millimet", said) == []


def test_papers_for_the_bench_come_before_files_for_the_machine(index):
    """Set-up sheets first: whoever opens the page on a telephone wants those."""
    names = linked(index)
    places = [next(i for i, name in enumerate(names) if words in name) for words in FIRST]
    assert places == sorted(places)
    assert places[0] == 0


def test_contents_and_cautions_come_first_numbers_last(index):
    """Steps to every heading, the proof, cautions, then papers, and only then pictures and numbers."""
    order = [
        "On this page",
        "Proof passed",
        "Caution: ",
        "not a working platform",
        "Papers for the bench",
        "Pictures",
        "Numbers",
    ]
    order += ["Housing jig and hand router", "How it stands", ">Kit "]
    body = index[index.index("<h1>") :].partition('class="jumps"')
    places = [index.index(order[0]), *(index.index(words, index.index("</nav>")) for words in order[1:])]
    assert places == sorted(places) and body[1]
    for name in re.findall(r'href="#([^"]+)"', index):
        assert index.count(f'id="{name}"') == 1


def test_a_file_is_named_by_what_it_is(index):
    """And the many single parts are folded away until they are asked for."""
    assert "set-up sheets, one page an operation (HTML)" in index
    assert "<details>" in index and index.index("<details>") < index.index("parts/bench-plate")
