"""A shop with saw and chisel and without a router: its kit is made, proves, and speaks of no router and of no jig."""

import re
from dataclasses import replace
from functools import cache

import pytest
from kit_cache import made
from page_words import document_text
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, ideal_shop_text, quick

from jigmaker.cli.closing import goes_on_board
from jigmaker.errors import JobError, OutOfRange
from jigmaker.job.demo import demo_job_text
from jigmaker.job.job import Size
from jigmaker.job.read import read_shop
from jigmaker.job.sections import ALSO
from jigmaker.job.shop import LegSaw
from jigmaker.job.write import shop_text
from jigmaker.making.job_check import check_job
from jigmaker.making.make import make
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.proof.prove import prove
from jigmaker.trestle.solve import solve

TOOLS = "\n[hand_saw]\nplate = 0.8\nkerf = 1.0\ndepth = 75\nback = 6\nlength = 300\n[chisel]\nblade = 140\n"
BY_HAND = '[housing_work]\nby = "saw and chisel"\n'


@cache
def shop_file(work=BY_HAND, tools=TOOLS, has_router=False):
    """The demo's shop.toml with these sections, and without its hand router."""
    text = quick(ideal_shop_text())
    if not has_router:
        text = re.sub(r"(?ms)^\[hand_router\].*?(?=^\[|\Z)", "", text)
    return f"{text}\n{work}{tools}".encode()


@cache
def kit():
    return make_kit(solve(DEMO), read_shop(shop_file()))


def test_the_kit_is_made_and_proves():
    """Both guides are in it, nothing of the jig is; four housings are sawn and have their legs in them."""
    files = made(demo_job_text(), shop_file())
    report = prove(files)
    assert report.passed and report.findings == ()
    slugs = {part.slug for part in kit().parts}
    assert {"saw-guide-fence-r", "saw-guide-fence-l", "saw-guide-near-cheek", "paring-guide-ramp"} <= slugs
    assert not slugs & {"plate", "bearer", "end-bearer", "stop", "projection-gauge", "mask-foot"}
    assert [each.hand for each in report.figures.housings] == ["R", "R", "L", "L"]


def test_the_sheets_speak_of_no_router():
    """Pages for saw and chisel in place of those for jig and router, by their numbers; no word of the latter. Those of
    two sizes too, which have a table of the batch.
    """
    sizes = make_kit(solve(replace(DEMO, further_sizes=(Size(2, 600.0, 900.0),))), read_shop(shop_file()))
    documents = [setup_document(Bench(each, ()), with_pictures=False) for each in (kit(), sizes)]
    numbers = [page.title.split()[0] for page in documents[0].pages if page.title[0].isdigit()]
    assert numbers == ["10", "20", "35", "63", "66", "70", "80", "90", "100", "120"]
    for document in documents:
        assert not re.search(r"\brout|\bbush\b|\bslot\b|\bjig\b|projection", document_text(document).lower())
    assert {"35", "63", "66"} <= {p.title.split()[0] for p in setup_document(Bench(both(), ()), False).pages}


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
    named = shop_file('[kit]\nalso = ["clamping wedges"]\n[leg_saw]\nkind = "plain"\ncapacity = 70\n', "", True)
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
    "no chisel": (shop_file(BY_HAND, TOOLS.partition("[chisel]")[0], True), "chisel is missing"),
    "half a saw": (shop_file(BY_HAND, TOOLS.replace("depth = 75\n", "")), "hand_saw lacks depth"),
    "kerf": (shop_file(BY_HAND, TOOLS.replace("kerf = 1.0", "kerf = 0.7")), "kerf is less than plate"),
    "legs by hand, no saw": (shop_file('[leg_saw]\nkind = "hand"\n', "", True), "but there is no [hand_saw]"),
    "a plain saw": (shop_file('[leg_saw]\nkind = "plain"\n', "", True), "leg_saw.capacity is missing"),
    "a tilting saw": (shop_file("[leg_saw]\ncapacity = 70\n", "", True), "take it out, or write kind"),
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
    text = shop_file(tools=TOOLS.replace("depth = 75", "depth = 50"))
    with pytest.raises(JobError, match=r"shop.toml line \d+: hand_saw.depth: the hand saw reaches 50 mm"):
        make(DEMO, read_shop(text), demo_job_text(), text)
