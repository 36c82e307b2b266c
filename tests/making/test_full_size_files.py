"""Full-size paper among a job's files: which there is, on whose paper, in kit.json and on the index."""

import html
from dataclasses import replace

import pytest
from pdf_pages import read_pdf, told
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.job.shop import Paper
from jigmaker.making.index_file import index_file
from jigmaker.making.paper_files import PAPERS, full_size_files
from jigmaker.making.plan import Plan
from jigmaker.papers.full_size.full_size_set import templates
from jigmaker.parts.kit import make_kit
from jigmaker.proof.prove import Report
from jigmaker.trestle.solve import solve

NAMES = ["papers/potting-bench-full-size.pdf"]
ORDER = (
    "bevel plate",
    "plate, tile A1",
    "fence or back strip, tile A1",
    "housing strip R",
    "leg, head end",
    "brace template",
    "foot block layer",
)
"""What is set, made, marked, sawn and scribed first."""


def test_files_are_on_the_shops_paper():
    """One PDF in working order, numbered through; pages of shop.toml's size, 8 1/2 x 11 in (ASME Y14.1), either way."""
    shop = replace(DEMO_SHOP, paper=Paper("Letter"))
    files = full_size_files(Plan(DEMO, shop, make_kit(solve(DEMO), shop), (), (), ()))
    assert list(files) == NAMES
    assert told(files[NAMES[0]])["Title"] == "Potting bench: templates at full size"
    pages = read_pdf(files[NAMES[0]])
    for number, page in enumerate(pages, 1):
        assert sorted(page.size) == pytest.approx((215.9, 279.4), abs=1e-3)
        assert f"page {number} of {len(pages)}" in page.words
    firsts = [next(n for n, page in enumerate(pages) if title in page.words) for title in ORDER]
    assert firsts == sorted(firsts)


def test_a_one_handed_kit_has_both_plates():
    """What is printed are the kit's own parts, whatever they are."""
    shop = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=400.0))
    plates = templates(make_kit(solve(DEMO), shop))["plate"]
    assert [(plate.title, plate.notes[-1]) for plate in plates] == [("plate R", "Hand: R."), ("plate L", "Hand: L.")]


def test_they_are_linked():
    """On the index, under words that say for whom they are and how true, each with what it is."""
    kit = make_kit(solve(DEMO), DEMO_SHOP)
    index = html.unescape(
        index_file(Plan(DEMO, DEMO_SHOP, kit, (), (), ()), Report((), 0, 0, None), NAMES, ()).decode()
    )
    assert all(f'href="./{name}"' in index for name in NAMES)
    assert "Paper at full size" in index
    assert "Expect ±0.5 mm" in index
    assert "all templates, in working order (PDF)" in index


def test_make_writes_them():
    """They are among the papers that every kit comes with, which kit.json lists."""
    assert full_size_files in PAPERS
