"""The pages for a class: what a pupil gets, that the slip gives nothing away, and that every reading has an answer."""

from dataclasses import replace
from math import radians, sqrt, tan

import pypdfium2
import pytest
from page_words import table_of, text_of
from sample_jobs import DEMO, DEMO_SHOP, JOB_B

from jigmaker.drawing.page import BOX, Facts, Figures
from jigmaker.job.demo import demo_shop_text
from jigmaker.job.job import Size
from jigmaker.job.read import read_shop
from jigmaker.job.shop import PAPER_MM, PaperChoices
from jigmaker.papers.bench import Bench
from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.papers.setup_sheets.document import class_document
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve
from jigmaker.units import length_text
from jigmaker.writers.pdf import write_pdf


@pytest.fixture(scope="module", params=["demo", "other angles", "inch"])
def made(request):
    """A job and its pages for a class."""
    job = {"demo": DEMO, "other angles": JOB_B, "inch": replace(DEMO, unit="in")}[request.param]
    shop = replace(DEMO_SHOP, files=replace(DEMO_SHOP.files, unit=job.unit))
    return job, class_document(Bench(make_kit(solve(job), shop), ()))


def test_a_pupil_gets_five_sizes_four_angles_and_the_words(made):
    """On one page with the trestle's picture; every angle says what it is off."""
    job, document = made
    handout = document.pages[0]
    sizes, angles, words = (block.rows for block in handout.blocks if isinstance(block, Facts))
    assert (len(sizes), len(angles)) == (5, 4) and len(words) >= 6
    assert sum(isinstance(block, Figures) for block in handout.blocks) == 1
    assert sizes[0][1].startswith(length_text(job.height_mm, job.unit))
    assert all(" off " in figures and "°" in figures for _, figures in angles)
    assert "nobody stands" in text_of(handout)


def test_the_picture_tells_spreads_as_a_tape_reads_them():
    """30 in high at 76 degrees, 36 in board, inset 4 3/4 in: 41.4600 in, the 41 15/32 in of the set-up sheets."""
    inch = 25.4
    job = replace(DEMO, unit="in", height_mm=30 * inch, rake_deg=76.0, splay_deg=76.0, inset_mm=4.75 * inch)
    job = replace(job, top=replace(job.top, length_mm=36 * inch))
    said = " ".join(label.text for label in trestle_picture(solve(job)).labels)
    assert 'feet along 41 15/32",' in said


def test_a_picture_of_several_sizes_says_whose_figures_it_has():
    """One trestle is drawn, with its own height and legs; of a plain job nothing is to be said."""
    job = replace(DEMO, further_sizes=(Size(2, 600.0, 900.0),))
    several, one = (class_document(Bench(make_kit(solve(each), DEMO_SHOP), ())).pages[0] for each in (job, DEMO))
    assert "figures here are of the first height below" in text_of(several)
    assert "first height" not in text_of(one)
    assert "720 mm / 600 mm" in text_of(several)


def test_the_slip_asks_what_the_teacher_can_answer_and_tells_no_answer(made):
    """Boxes and no figure on the slip; on the answers' page every reading but that of the foot that hangs."""
    _, document = made
    slip, answers = (table_of(page, "what") for page in document.pages[1:])
    assert all(row[-2:] == (BOX, BOX) for row in slip.rows)
    assert not any(sign.isdigit() for row in slip.rows for cell in row for sign in cell)
    asked, answered = [row[0] for row in slip.rows], [row[0] for row in answers.rows]
    assert answered == [what for what in asked if what != "the foot that hangs"]


def test_the_leg_of_the_answers_is_the_slope_of_its_arris(made):
    """An arris that leans both ways is the height times the root of 1 + cot² rake + cot² splay (space diagonal of a
    box, Pythagoras), and the trim along it."""
    job, document = made
    slope = sqrt(1 + 1 / tan(radians(job.rake_deg)) ** 2 + 1 / tan(radians(job.splay_deg)) ** 2)
    length = job.height_mm * slope + job.leg.horn_mm + job.leg.trim_mm
    row = next(row for row in table_of(document.pages[2], "what").rows if row[0] == "leg, length")
    told = float(row[1].removesuffix(" mm")) if job.unit == "mm" else None
    assert (
        told == pytest.approx(length, abs=0.25) if told else row[1] == '29 19/32"'
    )  # 751.8 mm are 29.60 inches, 29 19.2/32


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_each_page_is_one_sheet_of_paper(made, paper):
    """On A4 and on Letter: three pages to copy by themselves."""
    _, document = made
    assert len(pypdfium2.PdfDocument(write_pdf(document, PAPER_MM[paper]))) == len(document.pages) == 3


def test_they_are_made_when_asked_for():
    """By [papers] handout = true in the shop file, and not else; whatever is no yes or no is refused."""
    assert DEMO_SHOP.papers == PaperChoices(handout=False)
    text = demo_shop_text()
    shop = read_shop(text + b"\n[papers]\nhandout = true\n")
    assert shop.papers.handout
    with pytest.raises(ValueError, match=r"shop.toml line [0-9]+: papers.handout is .yes., must be true or false"):
        read_shop(text + b'\n[papers]\nhandout = "yes"\n')
