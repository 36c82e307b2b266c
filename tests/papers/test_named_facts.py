"""Figures and directions on papers: each has a name, and the proof finds every one that is wrong.

Pages are made without pictures, which no reader of words could read back.
"""

import html
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from folders_from_records import folder_of
from pdf_pages import read_pdf
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, HAND_SHOP, ideal_shop_text
from sample_variants import JOBS, SHOPS
from small_folder import edit_kit, rehashed
from spoil_words import PAPERS, paper_with

from jigmaker.drawing.page import Document
from jigmaker.findings import errors_in
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.practice import PRACTICE
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import HousingWork, LegSaw, Machine
from jigmaker.making.verdict_words import verdict_sentence
from jigmaker.papers.bench import Bench
from jigmaker.papers.cut_list_page import cut_list_page, cut_list_rows
from jigmaker.papers.index_page import index_page
from jigmaker.papers.named_words import WORDS
from jigmaker.papers.notes_pages import notes_document
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.proof.prove import prove
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.use.housing_saw import guides_as_cut
from jigmaker.proof.use.leg_box import box_as_cut
from jigmaker.proof.words.known_facts import KitFacts
from jigmaker.proof.words.known_files import file_facts
from jigmaker.proof.words.known_hand_work import HandJigs
from jigmaker.proof.words.paper_findings import named_papers, paper_findings
from jigmaker.sheets.place import place
from jigmaker.trestle.solve import solve
from jigmaker.writers.csv_rows import write_csv
from jigmaker.writers.html import write_html
from jigmaker.writers.pdf import write_pdf

TESTS = Path(__file__).parent.parent


def demo(name):
    """(job, shop) of a demo, or of another kit."""
    if name == "laser, mm":
        return read_job(demo_job_text()), read_shop(demo_shop_text())
    if name == "CNC, inches":
        pair = (TESTS / "jobs" / "workshop_pair.toml", TESTS / "shops" / "workshop_pair.toml")
        return read_job(pair[0].read_bytes()), read_shop(pair[1].read_bytes())
    return KINDS[name]


# No router, legs sawn by hand; the kit is cut with a cutter too wide for the slots of the leg box.
BY_HAND = replace(
    HAND_SHOP,
    sheet=replace(DEMO_SHOP.sheet, thickness_mm=12.0, length_mm=1220.0, width_mm=610.0),
    machine=Machine("cnc", 6.35, marking="none"),
    hand_router=None,
    housing_work=HousingWork("saw and chisel"),
    leg_saw=LegSaw("hand"),
    kit=replace(DEMO_SHOP.kit, also=("clamping wedges", "leaning wedges")),
)
DRY = replace(DEMO, housing=replace(DEMO.housing, joint="dry", reveal_mm=3.0), trestles=1)
KINDS = {
    "one hand, gauges left out": (
        JOBS["90/78"],
        replace(SHOPS["laser, bush, one hand"], kit=replace(DEMO_SHOP.kit, leave_out=("leg-gauge", "taper-gauge"))),
    ),
    "dry, one trestle, bearing, reveal": (DRY, BEARING_SHOP),
    "three sizes": (read_job((TESTS / "jobs" / "class.toml").read_bytes()), DEMO_SHOP),
    "by hand": (DEMO, BY_HAND),
    "horn and trim, a cutter": (JOBS["horn and trim"], SHOPS["cnc with a 6 mm cutter"]),
}
DEMOS = ("laser, mm", "CNC, inches")


def at_finished_size(name):
    """The job, and the shop with files at finished size alone, which are read fastest."""
    job, shop = demo(name)
    return job, replace(shop, machine=replace(shop.machine, compensation="left out"))


@cache
def bench_of(name):
    """What papers are made from."""
    job, shop = at_finished_size(name)
    kit = make_kit(solve(job), shop)
    return Bench(kit, place(kit.parts, shop), saw_kerf_mm=shop.timber_kerf_mm)


@cache
def made(name):
    """(papers by name, kit as told, job, what is known)."""
    job, shop = at_finished_size(name)
    bench = bench_of(name)
    folder = replace(folder_of(job, shop, placed=bench.sheets), saw_kerf_mm=shop.timber_kerf_mm)
    verdict = f"Proof passed: {len(folder.files)} files of {len(folder.kit.parts)} parts read back."
    papers = {
        "papers/{}-set-up-sheets.html": write_html(setup_document(bench, with_pictures=False)),
        "papers/{}-cut-list.html": write_html(Document("Cut list", (cut_list_page(bench),))),
        "papers/{}-cut-list.csv": write_csv(cut_list_rows(bench)),
        "papers/{}-notes.html": write_html(notes_document(bench)),
        "index.html": write_html(index_page(bench, (), (verdict,), ())),
    }
    papers = {paper.format(job.slug): data for paper, data in papers.items()}
    told = replace(folder.kit, hashes=dict.fromkeys(papers, ""))
    kit, jig = as_measured(folder)
    cut = [part.cut for part in kit.parts.values()]
    facts = KitFacts(kit, jig, told, HandJigs(guides_as_cut(folder, cut), box_as_cut(folder, cut)))
    return papers, told, job, facts.table | file_facts(folder)


def found(name, papers):
    """What is found in some papers of a kit."""
    _, told, job, known = made(name)
    return list(paper_findings(papers, named_papers(papers, job, told), job, told, known))


@pytest.mark.parametrize("name", [*DEMOS, *KINDS])
def test_sound_papers_say_nothing_wrong(name) -> None:
    """Demos, and kits with what they have not: one hand, a bearing, dry joints, a horn, gauges left out."""
    assert [(each.part, each.says) for each in found(name, made(name)[0])] == []


@pytest.mark.parametrize("row", PAPERS, ids=lambda row: " ".join(row[:5]))
def test_a_wrong_word_on_a_paper_is_found(row) -> None:
    """By its code; nothing but the words was changed."""
    name, paper, fact, old, new, code = row
    papers = made(name)[0]
    key = next(key for key in papers if key.endswith(paper))
    assert code in {each.code for each in found(name, {key: paper_with(papers[key], fact, old, new)})}


def test_there_are_enough_mutants() -> None:
    """Both demos, both hands, each kind of paper and of code."""
    assert len(PAPERS) >= 60
    assert {(row[0], row[1]) for row in PAPERS} >= {(name, paper) for name in DEMOS for paper in PAPER_KINDS}
    assert {row[-1] for row in PAPERS} == {601, 602, 603, 604, 606, 607}


PAPER_KINDS = ("set-up-sheets.html", "cut-list.html", "cut-list.csv", "notes.html", "index.html")


def test_prove_reads_the_papers_of_a_whole_folder(demo_files) -> None:
    """A leg 100 mm short in the cut list and the wrong hand on a sheet, each hash renewed; and nothing else."""
    cut_list, sheets = "papers/potting-bench-cut-list.csv", "papers/potting-bench-set-up-sheets.html"
    job, shop = read_job(demo_job_text()), read_shop(ideal_shop_text())
    kit = make_kit(solve(job), shop)
    bench = Bench(kit, place(kit.parts, shop), saw_kerf_mm=2.54)
    said = {cut_list: write_csv(cut_list_rows(bench)), sheets: write_html(setup_document(bench, with_pictures=False))}
    wrong = {
        cut_list: paper_with(said[cut_list], "leg / length, mm", "777.33", "677.33"),
        sheets: paper_with(said[sheets], "rout.stop_R", "right", "left"),
    }
    wrong |= {"boards.toml": b'kerf = "0.1 in"'}  # the saw that the cut list reckons with
    folder = {**demo_files, **wrong, **dict.fromkeys(UNREAD, b"as made")}
    edit_kit(folder, lambda kit: kit["files"].update(dict.fromkeys(wrong, "")))
    edit_kit(folder, lambda kit: kit["files"].update(dict.fromkeys(UNREAD, "")))
    rehashed(folder)
    report = prove({**folder, **dict.fromkeys(UNREAD, b"changed")})
    errors = errors_in(list(report.findings))
    assert sorted((each.code, each.part) for each in errors) == [(601, sheets), (602, cut_list)]
    said = {each.part: each.says for each in report.findings if each.code == 123}
    assert all("cannot be judged" in said[name] and "judged as it is now" not in said[name] for name in UNREAD)
    other = {**folder, **dict.fromkeys(UNREAD, b"changed"), "boards.toml": b"[[board"}
    rehashed(other)
    lengths = {each.at for each in prove(other).findings if each.code == 602}
    assert lengths == {f"row {number}" for number in (2, 3, 4)}  # of a usual saw, of 3.2 mm
    assert report.papers == 2 and "PDFs and drawings cannot be" in verdict_sentence(replace(report, findings=()))


UNREAD = ("papers/potting-bench-notes.pdf", "papers/drawings/potting-bench-leg.dxf")


@pytest.mark.parametrize(
    ("paper", "data", "code"),
    [
        ("index.html", b"\xff\xfe", 606),
        ("index.html", b"<p>nothing</p>", 606),
        ("index.html", b"<span data-fact='leg.width:given'>70 mm</span>", 606),
        ("index.html", b'<span data-fact="x">' * 30_000, 606),
        ("index.html", b'<span data-fact="batch.legs:number">' + b"9" * 5_000 + b"</span>", 602),
        ("index.html", b'<span data-fact="leg.width:given">1/0"</span>', 602),
        ("cut-list.csv", b"a,b\r\n", 606),
        ("cut-list.csv", b'"' * 99, 606),
    ],
)
def test_a_paper_that_is_none_is_told(paper, data, code) -> None:
    """Never a fault of the program."""
    papers = made("laser, mm")[0]
    key = next(key for key in papers if key.endswith(paper))
    assert {each.code for each in found("laser, mm", {key: data})} == {code}


# Words and figures that tell a direction or a size; tables of differences and what another plate does are not judged,
# nor how high trestles stack.
BARE = re.compile(
    r"\b(?:left|right|clockwise|anticlockwise|inward|outward|upward|downward)\b|[0-9] ?(?:mm|°|in\b|\"|ml)|[0-9]°"
)
PLAIN = re.compile(
    r"\b(?:left out|left on|wood left|none left|left flat|left and right by turns|brace left|then left|are right)\b"
    r"|When these are right|how much to change|One put over another stands .*? higher|in one stack are .*? high"
)
UNJUDGED = ("What matters", "What else this plate does")


@pytest.mark.parametrize("name", DEMOS)
def test_no_figure_and_no_direction_stands_without_a_name(name) -> None:
    """On sheets, cut list, marking page and index."""
    for paper, data in made(name)[0].items():
        for page in re.split("(?=<section)", data.decode()) if paper.endswith("html") else ():
            if any(title in page[:900] for title in UNJUDGED):
                continue
            bare = [line for line in nameless(page) if BARE.search(PLAIN.sub("", line)) or WORDS.search(line)]
            assert bare == [], (paper, bare)


def nameless(page):
    """The lines of a page without its facts."""
    page = re.sub(r"<(svg|style|title|nav)[ >].*?</\1>|<[^<]*$", "", page, flags=re.DOTALL)
    page = re.sub(r'<span data-fact="[^"]*">[^<]*</span>', "", page)
    for line in re.split(r"</(?:p|td|th|li|dt|dd|h\d|figcaption)>", page):
        yield " ".join(html.unescape(re.sub(r"<[^>]*>", " ", line)).split())


def test_a_nameless_figure_is_found() -> None:
    """The check above can fail."""
    assert BARE.search(next(nameless("<p>stop at the left end</p>"))) and BARE.search("saw 3 mm inside")


@pytest.mark.parametrize("name", ["set-up sheets", "cut list", "notes"])
def test_paper_says_the_same_as_the_screen(name) -> None:
    """Word for word, by a reader of PDF that is not ours; on paper heads stand again, and steps have their numbers."""
    bench = bench_of("laser, mm")
    document = {
        "set-up sheets": lambda: setup_document(bench, with_pictures=False),
        "cut list": lambda: Document("Cut list", (cut_list_page(bench),)),
        "notes": lambda: notes_document(bench),
    }[name]()
    screen = re.sub(r"<(svg|style|title|nav)[ >].*?</\1>", "", write_html(document).decode(), flags=re.DOTALL)
    screen = html.unescape(re.sub(r"<[^>]+>", "", re.sub(r"<(?!/?span)[^>]+>", " ", screen)))
    paper = " ".join(page.words for page in read_pdf(write_pdf(document, bench.kit.shop.paper.page_mm)))
    said, printed = (Counter(re.findall(r"[\w°\"/.×±+-]+", text)) for text in (screen, paper))
    again = " ".join([document.title, "page of continued", *(str(page.head) for page in document.pages)])
    again += " ".join([*(page.title for page in document.pages), document.foot, heads(document)])
    extra = {word for word in printed - said if not re.fullmatch(r"\d+\.?", word)}
    assert set(said - printed) <= set(re.findall(r"[\w-]+|\d+", document.title)) | {"1"}
    assert extra <= set(re.findall(r"[\w°\"/.×±+-]+", again)) or name == "notes"


def heads(document):
    """The names of all columns."""
    return " ".join(str(getattr(block, "head", "")) for page in document.pages for block in page.blocks)


def test_practice_is_one_table_with_sources() -> None:
    """From which papers are made and to which the proof holds them, as it stands."""
    assert all(figure.source for figure in PRACTICE.values())
    known = made("laser, mm")[3]
    assert {name: known[name] for name in PRACTICE} == {name: figure.mm for name, figure in PRACTICE.items()}
