"""What sheets and cut list say of the legs' screws: two, one or none, marked by rule or drilled by a template."""

import re
from dataclasses import replace

import pytest
from page_words import text_of
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.job.job import Job
from jigmaker.job.shop import KitChoices, Machine
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.cut_list import cut_list
from jigmaker.trestle.fixings import fixings
from jigmaker.trestle.solve import solve

TEMPLATE = replace(DEMO_SHOP, kit=KitChoices(also=("drilling template",)))


def page_of(number, job, shop, with_pictures=False):
    """The words of an operation's page; "" where there is none."""
    pages = setup_document(Bench(make_kit(solve(job), shop), ()), with_pictures).pages
    return "\n".join(text_of(page) for page in pages if page.title.startswith(f"{number} "))


def _in_top(thickness_mm: float) -> Job:
    """The demo in a narrower and thinner top board."""
    return replace(DEMO, top=replace(DEMO.top, thickness_mm=thickness_mm, width_mm=90.0), splay_deg=84.0, rake_deg=84.0)


def test_without_room_for_screws_nothing_is_said_of_them() -> None:
    """No step, no table and no picture of screws; the top board has no hold for them."""
    kit = make_kit(solve(_in_top(26.0)), DEMO_SHOP)
    found = fixings(kit.trestle)
    assert not found.legs
    page = next(page for page in setup_document(Bench(kit, ())).pages if page.title.startswith("100 "))
    lines = text_of(page).splitlines()
    told = [line for line in lines[1:] if "screw" in line]
    assert lines[0] == "100 Glue, without screws in the legs"
    assert not [line for line in told if re.search("leg|hold", line)]
    assert "leg in R, from outside" not in " ".join(lines)


def test_one_screw_a_leg_is_counted_and_told_where_two_find_no_room() -> None:
    """On the sheet and in the cut list: 6 trestles, 4 legs each."""
    said = page_of("100", _in_top(30.0), DEMO_SHOP)
    assert "24 screws 5.0 × 50" in said and "a second finds no room" in said
    assert "leg: 1\n" in said and "leg: 2" not in said
    row = next(row for row in cut_list(solve(_in_top(30.0))) if row.group == "screws" and row.what == "5.0 × 50")
    assert (
        row.note.startswith("one through each leg into the top; ") and row.per_trestle == 4 + 8
    )  # the same in the braces


def test_a_dry_joint_has_no_glue_and_one_screw_a_leg() -> None:
    """Legs that come out again: nothing is glued, and each leg has the upper one of the two screws."""
    job = replace(DEMO, housing=replace(DEMO.housing, joint="dry"))
    said = page_of("100", job, DEMO_SHOP)
    assert said.startswith("100 Put together dry") and "24 screws" in said and "leg: 1" in said and "leg: 2" not in said
    assert [line for line in said.splitlines() if "glue" in line.lower()] == [
        "Press every leg home and against the near wall, without glue, its head flush with the top face."
    ]
    assert not [row for row in cut_list(solve(job)) if row.group == "glue"]


FACES = "marked face out on legs for R, turned over on legs for L"
PAIR = "on every leg two, seen from outside, head up: the upper one at the left, the lower one at the right"
NARROW = replace(DEMO, leg=replace(DEMO.leg, width_mm=35.5, thickness_mm=32.0))
TOLD = {
    "two screws": (
        DEMO,
        {},
        [FACES, PAIR, "3.4 mm is seen", "25.5 mm off the edge", "through the leg with 5.5 mm"],
        [],
    ),
    "one screw": (_in_top(30.0), {}, [FACES, "on every leg the one at the left, seen from outside, head up"], [PAIR]),
    "one in the middle": (NARROW, {}, [FACES, "one a leg, by the letter beside it"], [PAIR, "the one at the left"]),
    "plumb rake": (replace(DEMO, rake_deg=90.0), {}, [FACES, PAIR, "3.4 mm is seen"], ["wrong hand"]),
    "plumb splay": (replace(DEMO, splay_deg=90.0), {}, [FACES, PAIR], ["is seen between head strip"]),
    "wide cutter": (DEMO, {"machine": Machine("cnc", 6.35)}, ["a brad point drill 7 mm wide", "then drill 5.5 mm"], []),
}


@pytest.mark.parametrize("name", TOLD)
def test_a_kit_with_a_template_says_how_it_is_used(name) -> None:
    """What tells a wrong hand and a wrong face only where it can be seen; nothing of it in a kit without one."""
    job, changes, wanted, not_told = TOLD[name]
    said = " ".join(page_of("95", job, replace(TEMPLATE, **changes)).split())
    assert [words for words in wanted if words not in said] == [words for words in not_told if words in said] == []
    assert "Mark the screws on every leg" not in page_of("100", job, replace(TEMPLATE, **changes))
    without = page_of("100", job, DEMO_SHOP)
    assert "emplate" not in without and "Mark the screws on every leg" in without


def test_it_is_put_together_and_used_on_one_page_and_named_on_no_other() -> None:
    """In a shop that routs too; a kit without it has no such page, and tells the legs' screws where they are glued."""
    assert page_of("95", DEMO, DEMO_SHOP) == page_of("35", DEMO, TEMPLATE) == ""
    assert "The day before: glue both strips" in page_of("95", DEMO, TEMPLATE)
    assert "Write the letters beside the holes" in page_of("95", DEMO, TEMPLATE)
    told = [page for page in ("95", "100") if "from the head's line as sawn" in page_of(page, DEMO, TEMPLATE)]
    assert told == ["95"] and "from the head's line as sawn" in page_of("100", DEMO, DEMO_SHOP)
    pages = setup_document(Bench(make_kit(solve(DEMO), TEMPLATE), ()), with_pictures=False).pages
    assert {page.title.split()[0] for page in pages if "drilling template" in text_of(page).lower()} == {"95"}
