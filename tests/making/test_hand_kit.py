"""A shop with saw and chisel and without a router: its kit is made, proves, and speaks of no router and of no jig."""

import re
from dataclasses import replace
from functools import cache

import pypdfium2 as pdfium
import pytest
from kit_cache import made
from page_words import document_text
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, HAND_TOOLS, JOB_A, JOB_B, a_job, ideal_shop_text, quick

from jigmaker.cli.closing import goes_on_board
from jigmaker.errors import JobError, OutOfRange
from jigmaker.job.demo import demo_job_text
from jigmaker.job.job import Size
from jigmaker.job.read import read_shop
from jigmaker.job.sections import ALSO
from jigmaker.job.shop import HousingWork, KitChoices, LegSaw, Machine
from jigmaker.job.write import shop_text
from jigmaker.making.job_check import check_job
from jigmaker.making.make import make
from jigmaker.making.plan import placed
from jigmaker.making.verdict_words import verdict_sentence
from jigmaker.order.board_file import read_boards
from jigmaker.order.pieces import piece_kinds
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.proof.prove import prove
from jigmaker.proof.readers.read_folder import read_folder
from jigmaker.trestle.solve import solve
from jigmaker.writers.pdf import write_pdf

LEGS_BY_HAND = '[leg_saw]\nkind = "hand"\n'
BY_HAND = '[housing_work]\nby = "saw and chisel"\n'


@cache
def shop_file(work=BY_HAND, tools=HAND_TOOLS + LEGS_BY_HAND, has_router=False):
    """The demo's shop.toml with these sections, and without its hand router."""
    text = quick(ideal_shop_text())
    if not has_router:
        text = re.sub(r"(?ms)^\[hand_router\].*?(?=^\[|\Z)", "", text)
    return f"{text}\n{work}{tools}".encode()


@cache
def kit():
    return make_kit(solve(DEMO), read_shop(shop_file()))


def test_the_kit_is_made_and_proves():
    """Guides and leg box are in it, nothing of the jig is; four housings are sawn and have their legs in them."""
    files = made(demo_job_text(), shop_file())
    report = prove(files)
    assert report.passed and report.findings == ()
    assert "put together and sawn in numbers" in verdict_sentence(report)
    slugs = {part.slug for part in kit().parts}
    assert {"saw-guide-fence-r", "saw-guide-fence-l", "saw-guide-near-cheek", "paring-guide-ramp"} <= slugs
    assert {"leg-box-near-wall", "leg-box-far-wall", "leg-box-bottom", "leg-box-strip"} <= slugs
    assert not slugs & {"plate", "bearer", "end-bearer", "stop", "projection-gauge", "mask-foot"}
    assert [each.hand for each in report.figures.housings] == ["R", "R", "L", "L"]
    # No page says a word of a tool that is not there: no router, no plate of its jig.
    for name in (name for name in files if name.endswith(".html")):
        said = re.sub(r"<(style|svg).*?</\1>|<[^>]+>", " ", files[name].decode(), flags=re.DOTALL)
        assert not re.findall(r"(?i)hand router|\brout\w*|guide bush|what else the plate", said), name


def test_the_sheets_speak_of_no_router():
    """Pages for saw and chisel in place of those for jig and router, by their numbers; no word of the latter. Those of
    two sizes too, which have a table of the batch.
    """
    sizes = make_kit(solve(replace(DEMO, further_sizes=(Size(2, 600.0, 900.0),))), read_shop(shop_file()))
    documents = [setup_document(Bench(each, ()), with_pictures=False) for each in (kit(), sizes)]
    numbers = [page.title.split()[0] for page in documents[0].pages if page.title[0].isdigit()]
    assert numbers == ["10", "20", "35", "37", "63", "66", "70", "80", "90", "95", "100", "120"]
    for document in documents:
        assert not re.search(r"\brout|\bbush\b|\bjig\b|projection", document_text(document).lower())
        without_box = replace(document, pages=tuple(p for p in document.pages if not p.title.startswith(("37", "70"))))
        assert not re.search(r"\bslots?\b", document_text(without_box).lower())
    assert {"35", "63", "66"} <= {p.title.split()[0] for p in setup_document(Bench(both(), ()), False).pages}


def sheet(shop, number, job=DEMO):
    """A set-up sheet's words."""
    document = setup_document(Bench(make_kit(solve(job), shop), (), saw_kerf_mm=shop.timber_kerf_mm), False)
    return document_text(replace(document, pages=tuple(p for p in document.pages if p.title.startswith(number))))


def test_legs_are_sawn_in_the_box():
    """Box, saw and stop block in place of mitre and tilt; what a turned leg costs, where it costs anything."""
    shop = read_shop(shop_file())
    words = sheet(shop, "70")
    for told in ("box is made for this saw only", "HEAD THIS END at your left", "outer wide face down", "752 mm along"):
        assert told in words, told
    assert "24.00° off each other, rolled over on its other wide face 33.46°" in words  # solids of another kernel
    assert "slot's left face" in words and "near edge, upper arris" in words
    assert not re.search(r"mitre|\btilt|off upright|\btable\b", words)
    braces = sheet(shop, "80")
    assert "Plane the bevel of the top edge" in braces and not re.search(r"blade|mitre|\btilt", braces)
    # The template says what the sheet says: ends square, where a saw that tilts would undercut them.
    assert "ends, through the thickness" in braces and "square:" in braces
    for each, ends in ((kit(), "ENDS SQUARE TO THIS FACE"), (both(), "ENDS 2.48° OFF UPRIGHT, UNDERCUT")):
        (template,) = [part for part in each.parts if part.slug == "brace-template"]
        assert ends in [mark.text for mark in template.marks]
    # No flank is for a blade's tilt, which no saw here has; the splay's flank has that angle where one does.
    said = [" ".join(m.text for p in each.parts if "bevel" in p.slug for m in p.marks) for each in (kit(), both())]
    assert ["SAW BLADE" in words for words in said] == [False, True]
    plumb = sheet(shop, "70", replace(DEMO, rake_deg=90, splay_deg=90, inset_mm=150))
    assert "off each other" not in plumb
    sizes = replace(DEMO, further_sizes=(Size(2, 600.0, 900.0),))
    of_sizes = sheet(shop, "70", sizes)
    assert 0 < of_sizes.index("Try a leg in a housing") < of_sizes.index("move the stop in to the next.")
    assert "5 pieces" in sheet(shop, "37") and "slip 1.05" not in sheet(shop, "37")
    tilting = read_shop(shop_file(tools=HAND_TOOLS))
    assert "Leg box" not in sheet(tilting, "70") and "mitre 11.75° off square" in sheet(tilting, "70")
    assert not sheet(tilting, "37") and "off upright" in sheet(tilting, "80")


def test_walls_in_halves_are_told_with_their_slip():
    """Where a router cuts the kit: what keeps the halves apart, as thick as the slot is wide."""
    thick = replace(DEMO_SHOP.sheet, thickness_mm=12.0, length_mm=1220.0, width_mm=610.0)
    cnc = replace(DEMO_SHOP, machine=Machine("cnc", 6.35), sheet=thick)
    words = sheet(replace(cnc, leg_saw=LegSaw("hand"), hand_saw=HAND_SHOP.hand_saw), "37")
    assert "slip 1.05 mm thick" in words and "7 pieces" in words


def test_the_hand_saws_cut_is_counted_in():
    """A leg takes its length along the board and the hand saw's cut askew, 751.826 + 1.044; a table saw's elsewhere."""
    by_hand, by_table = read_shop(shop_file()), read_shop(shop_file(tools=HAND_TOOLS))
    assert (by_hand.timber_kerf_mm, by_table.timber_kerf_mm) == (1.0, 3.2)
    files = made(demo_job_text(), shop_file())
    read, findings = read_folder(files)
    assert findings == [] and read.saw_kerf_mm == 1.0
    boards = b'[[board]]\nsection = "70 x 32"\nlength = 2440\ncount = 20\n'
    assert read_boards(boards, "mm", usual_kerf_mm=1.0).kerf_mm == 1.0
    assert read_boards(b"kerf = 2.0\n" + boards, "mm", usual_kerf_mm=1.0).kerf_mm == 2.0
    (leg,) = [kind for kind in piece_kinds(solve(DEMO), by_hand.timber_kerf_mm) if kind.name == "leg"]
    assert leg.takes / 1000 == pytest.approx(751.826 + 1.044, abs=0.01)


def test_no_router_is_made_up():
    """Nothing is laid out for a router that the shop does not have, and who asks for one is told so."""
    shop = read_shop(shop_file())
    assert kit().layouts == () and kit().settings == ()
    with pytest.raises(OutOfRange, match="hand_router is missing"):
        _ = shop.router
    by_hand_with_router = make_kit(solve(DEMO), read_shop(shop_file(has_router=True)))
    assert by_hand_with_router.layouts == () and by_hand_with_router.shop.router == DEMO_SHOP.router


@cache
def both():
    return make_kit(solve(DEMO), HAND_SHOP)


def test_the_verdict_speaks_of_both_ways():
    """Whoever has both kits is told that both made the housings."""
    report = prove(made(demo_job_text(), shop_file('[housing_work]\nby = "both"\n', has_router=True)))
    assert report.passed and "put together and routed and sawn in numbers" in verdict_sentence(report)


def test_both_ways_have_all_parts_and_all_pages():
    """Whoever chooses both has the jig as it was, and the guides beside it."""
    slugs = [part.slug for part in both().parts]
    assert {"plate", "projection-gauge", "saw-guide-stop"} <= set(slugs) and len(slugs) == len(set(slugs))
    shops = HAND_SHOP, DEMO_SHOP, read_shop(shop_file())
    assert [goes_on_board(shop) for shop in shops] == ["Jig and saw guide", "Jig", "Saw guide"]


def test_without_a_word_and_without_a_router_guides_are_made_with_a_caution():
    """No silent choice; said once, with the line to write."""
    shop = read_shop(shop_file(work=""))
    assert shop.hand_router is None and shop.saws_housings and not shop.routs_housings
    (caution,) = [finding for finding in check_job(DEMO, shop) if finding.code == 225]
    assert caution.severity == "caution" and 'by = "saw and chisel"' in caution.sentence()
    assert not [f for f in check_job(DEMO, read_shop(shop_file())) if f.code == 225]
    assert read_shop(shop_text(shop)) == shop


def test_whoever_saws_housings_has_all_further_jigs_unless_the_file_names_some():
    """A shop with a router has those that it names; what is said comes back from the file written for it."""
    named = shop_file('[kit]\nalso = ["clamping wedges"]\n[leg_saw]\nkind = "plain"\ncutting_height = 70\n', "", True)
    assert read_shop(shop_file()).also == ALSO and DEMO_SHOP.also == ()
    assert read_shop(shop_file(f"{BY_HAND}[kit]\nalso = []\n")).also == ()
    shop = read_shop(named)
    assert (shop.also, shop.leg_saw) == (("clamping wedges",), LegSaw("plain", 70.0))
    assert read_shop(shop_text(shop)) == shop


REFUSED = {
    "neither": (shop_file("", ""), "hand_router is missing; write [hand_router] with base"),
    "by router": (shop_file('[housing_work]\nby = "router"\n'), "but there is no [hand_router]"),
    "both, no router": (shop_file('[housing_work]\nby = "both"\n'), "but there is no [hand_router]"),
    "no saw": (shop_file(BY_HAND, "\n[chisel]\nblade = 140\n", True), "hand_saw is missing"),
    "no chisel": (shop_file(BY_HAND, HAND_TOOLS.partition("[chisel]")[0], True), "chisel is missing"),
    "half a saw": (shop_file(BY_HAND, HAND_TOOLS.replace("depth = 75\n", "")), "hand_saw lacks depth"),
    "kerf": (shop_file(BY_HAND, HAND_TOOLS.replace("kerf = 1.0", "kerf = 0.7")), "kerf is less than plate"),
    "legs by hand, no saw": (shop_file('[leg_saw]\nkind = "hand"\n', "", True), "but there is no [hand_saw]"),
    "a plain saw": (shop_file('[leg_saw]\nkind = "plain"\n', "", True), "leg_saw.cutting_height is missing"),
    "a tilting saw": (shop_file("[leg_saw]\ncutting_height = 70\n", "", True), "take it out, or write kind"),
    "no chisel, sawn": (shop_file(BY_HAND, HAND_TOOLS.partition("[chisel]")[0]), "chisel is missing"),
    "a jig unheard of": (shop_file('[kit]\nalso = ["vice"]\n', "", True), 'must be out of "drilling template", "cl'),
}


@pytest.mark.parametrize("name", REFUSED)
def test_a_shop_that_cannot_make_housings_is_refused(name):
    """Each with one sentence that says what to write."""
    text, words = REFUSED[name]
    with pytest.raises(JobError, match=re.escape(words)) as caught:
        read_shop(text)
    assert len(caught.value.faults) == 1


def test_a_guide_that_the_saw_does_not_serve_is_refused_before_any_work():
    """With the line of the key."""
    text = shop_file(tools=HAND_TOOLS.replace("depth = 75", "depth = 50"))
    with pytest.raises(JobError, match=r"shop.toml line \d+: hand_saw.depth: the hand saw reaches 50 mm"):
        make(DEMO, read_shop(text), demo_job_text(), text)


def titles_on_paper(job, shop, is_placed=False):
    """The first line of every page of the set-up sheets as printed."""
    kit = make_kit(solve(job), shop)
    pdf = write_pdf(setup_document(Bench(kit, placed(kit.parts, shop) if is_placed else ())), shop.paper.page_mm)
    return [page.get_textpage().get_text_bounded().split("\n")[0].strip() for page in pdfium.PdfDocument(pdf)]


def test_how_a_kit_for_both_ways_is_cut_stands_on_one_page():
    """Although it has some forty names of pieces, on four sheets."""
    titles = titles_on_paper(DEMO, read_shop(shop_file('[housing_work]\nby = "both"\n', has_router=True)), True)
    assert [title for title in titles if title.startswith("20 ")] == ["20 Cut the kit"]


NARROW = a_job(400, (80, 76), 110, (760, 90, 40), (45, 20), (70, 18))
"""A low trestle on thin legs."""
BY_HAND_ALONE = replace(HAND_SHOP, hand_router=None, housing_work=HousingWork("saw and chisel"), leg_saw=LegSaw("hand"))
OF_PAPER = replace(BY_HAND_ALONE, machine=Machine("paper", 0.0, accuracy_mm=0.5))
ONE_PAGE_EACH = {
    "box and template": (DEMO, BY_HAND_ALONE),
    "narrow legs": (NARROW, BY_HAND_ALONE),
    "no room for the template, wedges that slide": (
        JOB_B,
        replace(BY_HAND_ALONE, machine=Machine("cnc", 6.35)),
    ),
    "cradle": (DEMO, replace(BY_HAND_ALONE, leg_saw=LegSaw("plain", 70.0))),
    "jig and wedges that slide": (JOB_A, replace(DEMO_SHOP, kit=KitChoices(also=ALSO))),
    "paper, trim": (replace(DEMO, leg=replace(DEMO.leg, trim_mm=5.0)), OF_PAPER),
}


@pytest.mark.parametrize("name", ONE_PAGE_EACH)
def test_each_set_up_sheet_is_one_page(name):
    """It hangs at the bench, where nobody turns over. With a template legs are drilled on a page of their own."""
    job, shop = ONE_PAGE_EACH[name]
    titles = titles_on_paper(job, shop)
    assert not [title for title in titles if "continued" in title]
    assert ("95 Drill the legs" in titles) is not name.startswith("no room")


def test_what_a_housing_is_tried_with_reads_as_a_sentence():
    """With a plug, with a test leg in a kit from paper, which has none."""
    without = replace(BY_HAND_ALONE, kit=KitChoices(leave_out=("housing-plug",)))
    for shop, words in (
        (BY_HAND_ALONE, "then try the plug, low end and high end."),
        (OF_PAPER, "then try it with the test leg."),
        (without, "then try it with a caliper and a leg."),
    ):
        assert words in sheet(shop, "66")
