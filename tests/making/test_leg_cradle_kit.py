"""A shop whose mitre saw does not tilt: its kit with the sloping cradle proves, and its papers speak of no tilt."""

import re
from dataclasses import replace
from functools import cache

import pytest
from kit_cache import made
from page_words import document_text
from sample_jobs import DEMO, DEMO_SHOP, a_job, ideal_shop_text, small

from jigmaker.findings import errors_in
from jigmaker.job.demo import demo_job_text
from jigmaker.job.job import Size
from jigmaker.job.read import read_shop
from jigmaker.job.shop import LegSaw, Machine
from jigmaker.making.compare import compare
from jigmaker.making.job_check import check_job
from jigmaker.order.pieces import piece_kinds
from jigmaker.papers.bench import Bench
from jigmaker.papers.full_size.printed_parts import printed_parts
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.parts.kit_number import kit_number
from jigmaker.parts.leg_saw.leg_cradle import LEG_CRADLE
from jigmaker.proof.prove import prove
from jigmaker.trestle.cut_list import turns_legs
from jigmaker.trestle.solve import solve

PLAIN = replace(DEMO_SHOP, leg_saw=LegSaw("plain", 70.0))


@cache
def plain_file():
    """The demo's shop in which the saw does not tilt, as a file; short marks, so that these are proved too."""
    text = small(ideal_shop_text()).replace('marking = "none"', 'marking = "short"')
    return f'{text}\n[leg_saw]\nkind = "plain"\ncutting_height = 70\n'.encode()


def sheet(shop, number, job=DEMO):
    """A set-up sheet's words."""
    document = setup_document(Bench(make_kit(solve(job), shop), ()), False)
    return document_text(replace(document, pages=tuple(p for p in document.pages if p.title.startswith(number))))


def test_the_kit_is_made_and_proves():
    """All of the cradle is in it, with its marks and papers, and nothing is found."""
    assert read_shop(plain_file()).leg_saw == LegSaw("plain", 70.0)
    report = prove(made(demo_job_text(), plain_file()))
    assert report.passed and report.findings == ()
    names = {name.rpartition("/")[2] for name in made(demo_job_text(), plain_file())}
    for slug in ("rib-cut-2", "fence-rib", "low-cross-piece", "high-cross-piece", "packing-strip"):
        assert any(f"-cradle-{slug}" in name for name in names), slug


def test_legs_are_sawn_on_the_cradle():
    """Swing to the right first, tumble, to the left; clamp, hands, stop; what a leg that is not tumbled costs."""
    words = sheet(PLAIN, "70")
    for told in (
        "swung 11.48° off square (78.52° off the fence): far end of the cut to your right for first ends",
        "to your left for second ends",
        "end for end and its other wide face down",
        "24.00° off each other",
        "clamp it to the fence rib before every cut",
        "150 mm from the blade, none on the waste",
        "ribs 33 mm from the blade set square",
        "far edge, upper arris",
        "752 mm along an arris",
        "773.5 mm and 5 mm over at either end",
    ):
        assert told in words, told
    assert 'Hands 6" from the blade' in sheet(PLAIN, "70", replace(DEMO, unit="in"))
    assert not re.search(r"\btilt|blade's top|Slide the board|each further leg|narrow edge down", words)
    assert "12.25° off square" in sheet(PLAIN, "37") and "BLADE THIS END at your right" in sheet(PLAIN, "37")
    assert "Plane the bevel of the top edge" in sheet(PLAIN, "80") and not re.search(
        "off upright|tilt", sheet(PLAIN, "80")
    )


def test_a_short_cradle_has_its_page_too():
    """The legs of a trestle 400 mm high: the corners of its ribs lie a rounding off its length."""
    low = a_job(400, (80, 76), 110, (760, 90, 40), (45, 20), (70, 18))
    assert "BLADE THIS END at your right" in sheet(PLAIN, "37", low) and "9.42° off square" in sheet(PLAIN, "70", low)


def test_a_rake_of_90_wants_no_swing_and_a_splay_of_90_no_cradle():
    """Tumbled all the same where the leg slopes; slid along as on any saw where it does not."""
    plumb_rake = sheet(PLAIN, "70", replace(DEMO, rake_deg=90.0))
    assert "square across for both ends" in plumb_rake and "Swing the saw" not in plumb_rake
    flat = replace(DEMO, splay_deg=90.0)
    assert "No cradle is wanted" in sheet(PLAIN, "70", flat) and not sheet(PLAIN, "37", flat)
    assert "Set the mitre with the bevel plate" in sheet(PLAIN, "70", flat)
    assert "arrow edge down" not in sheet(PLAIN, "70", flat) and "No cradle" not in sheet(DEMO_SHOP, "70", flat)


def test_where_no_cradle_can_be_the_ends_are_marked():
    """A caution and no error; the page tells both bevels, and nothing of a cradle but that there is none."""
    shop = replace(PLAIN, leg_saw=LegSaw("plain", 40.0))
    found = check_job(DEMO, shop)
    assert not errors_in(found) and [each.code for each in found if each.key == "shop leg_saw.cutting_height"] == [237]
    words = sheet(shop, "70")
    assert "both wide faces 78.25° off the arris" in words and "both narrow edges 12.25° off square" in words
    assert "No cradle serves these legs" in words and "fence rib" not in words and not sheet(shop, "37")


def test_of_several_sizes_the_longest_leg_is_what_the_cradle_is_made_for():
    """Also where it is not the first; one that is too long for a cradle is told, once."""
    sizes = replace(DEMO, height_mm=500.0, further_sizes=(Size(2, 720.0, 900.0),))
    kits = [make_kit(solve(job), PLAIN).parts for job in (sizes, DEMO)]
    ribs = [next(part for part in parts if part.slug == "cradle-rib") for parts in kits]
    assert ribs[0].outline.bounds == ribs[1].outline.bounds
    told = sheet(PLAIN, "70", sizes)
    assert 0 < told.index("Try a leg in a housing") < told.index("to the next, without touching the swing")
    high = replace(DEMO, height_mm=500.0, further_sizes=(Size(2, 1400.0, 900.0),))
    assert [each.code for each in check_job(high, PLAIN) if each.key == "shop leg_saw.kind"] == [236]


def test_each_leg_has_a_blank_and_the_kit_number_stays():
    """Blanks share no cut. What of the cradle depends on the height is in no number: the jig serves other heights."""
    kinds = piece_kinds(solve(DEMO), 3.2, in_blanks=turns_legs(solve(DEMO), PLAIN))
    (leg,) = [kind for kind in kinds if kind.name == "leg"]
    assert leg.stop_mm == pytest.approx(783.327, abs=2e-3)
    kits = [make_kit(solve(replace(DEMO, height_mm=high)), PLAIN) for high in (720.0, 700.0)]
    assert kits[0].number == kits[1].number == make_kit(solve(DEMO), DEMO_SHOP).number
    assert kit_number(kits[0].parts, kits[0].settings) == kits[0].number


def test_a_kit_from_paper_prints_the_whole_cradle():
    """Full size, each part with its words."""
    paper = replace(PLAIN, machine=Machine("paper", 0.0, accuracy_mm=0.3))
    kit = make_kit(solve(DEMO), paper)
    wanted = [part.name for part in kit.parts if part.assembly == LEG_CRADLE]
    titles = [template.title for template in printed_parts(kit)["cradle"]]
    assert len(wanted) == len(titles) == 5 and all(any(name in title for title in titles) for name in wanted)


def test_for_longer_legs_the_jig_serves_and_the_cradle_is_cut_again():
    """The jig asks for no height; a leg that is not carried beyond its middle does not lie on the cradle by itself."""
    found = compare(made(demo_job_text(), plain_file()), replace(DEMO, height_mm=900.0))
    assert found.why_not == () and {name for name, _ in found.again} >= {"cradle rib", "cradle fence rib"}
    assert "bevel plate" in found.serve
