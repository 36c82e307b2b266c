"""What stands on parts is judged: nothing is found on sound kits of every kind, and every wrong word is."""

import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from folders_from_records import folder_of, told_part
from sample_jobs import ideal_shop_text
from sample_variants import VARIANTS
from spoil_files import files_of, light_plan, with_part
from spoil_words import DRAWN, EXCHANGED, PARTS, redrawn, with_words

from jigmaker.findings import errors_in
from jigmaker.geometry.lettering import letter_table
from jigmaker.job.demo import demo_job_text, demo_shop_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.job.shop import Machine
from jigmaker.making.job_check import Source
from jigmaker.parts.kit import make_kit
from jigmaker.parts.mark_list import MARKS
from jigmaker.proof.checks.measured import MeasuredPart
from jigmaker.proof.prove import prove
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.words.known_facts import KitFacts
from jigmaker.proof.words.mark_findings import mark_findings
from jigmaker.proof.words.part_places import family_of
from jigmaker.proof.words.part_words import LINES, SAYINGS
from jigmaker.trestle.solve import solve

TESTS = Path(__file__).parent.parent
DEMOS = {
    "laser, mm": (demo_job_text(), demo_shop_text()),
    "CNC, inches": (
        (TESTS / "jobs" / "workshop_pair.toml").read_bytes(),
        (TESTS / "shops" / "workshop_pair.toml").read_bytes(),
    ),
}


def at_finished_size(shop):
    """The shop's kit by its finished sizes alone, which are read fastest."""
    return replace(shop, machine=replace(shop.machine, compensation="left out"))


def facts_of(job, shop):
    """What the judge knows of a kit."""
    folder = folder_of(job, at_finished_size(shop), with_sheets=False)
    return KitFacts(*as_measured(folder), folder.kit)


@cache
def demo(name):
    """(kit as made, what the judge knows of it)."""
    job, shop = read_job(DEMOS[name][0]), read_shop(DEMOS[name][1])
    return make_kit(solve(job), at_finished_size(shop)), facts_of(job, shop)


def codes_with(name, slug, change):
    """Codes found on one part when the maker hands it on changed."""
    kit, facts = demo(name)
    part = change(next(part for part in kit.parts if part.slug == slug))
    cut = facts.kit.parts[slug].cut
    mutant = MeasuredPart(replace(cut, declared=told_part(part, cut.declared.files)))
    alone = replace(facts.kit, parts={**facts.kit.parts, slug: mutant})
    found = mark_findings(KitFacts(alone, facts.jig, facts.declared), only=slug)
    return {finding.code for finding in found}


@pytest.mark.parametrize("row", PARTS, ids=lambda row: " ".join(row[:5]))
def test_a_wrong_word_is_found(row) -> None:
    """By its code, wherever it stands, though file and kit.json agree."""
    name, slug, fact, old, new, how, code = row
    assert code in codes_with(name, slug, lambda part: with_words(part, fact, old, new, how))


@pytest.mark.parametrize("row", DRAWN, ids=lambda row: " ".join(row[:4]))
def test_a_wrong_line_or_a_mark_without_a_name_is_found(row) -> None:
    """Arrows, centre lines, marks that nobody could judge."""
    name, slug, fact, how, code = row
    assert code in codes_with(name, slug, lambda part: redrawn(part, fact, how))


def test_bevel_plates_are_numbered_by_name_however_they_lie_on_sheets() -> None:
    """Parts come off the sheets in any order."""
    facts = facts_of(
        read_job(demo_job_text().replace(b"splay_deg = 78", b"splay_deg = 75")), read_shop(demo_shop_text())
    )
    assert {"bevel-plate-1", "bevel-plate-2"} <= set(facts.kit.parts)
    backwards = replace(facts.kit, parts=dict(reversed(facts.kit.parts.items())))
    assert list(mark_findings(replace(facts, kit=backwards))) == []


@pytest.mark.parametrize("name", DEMOS)
def test_sound_demos_say_nothing_wrong(name) -> None:
    """And every mark has a name of the maker's own list, which the judge's table knows."""
    kit, facts = demo(name)
    assert list(mark_findings(facts)) == []
    for part in kit.parts:
        family = family_of(part.slug)
        known = {*SAYINGS[family], *LINES.get(family, ()), "use"}
        assert {mark.fact for mark in part.marks} <= known
        if part.slug != "coupon":  # its marks are its form
            assert {mark.fact for mark in part.marks} <= {row.what for row in MARKS[family]}


def test_a_limit_that_runs_over_two_lines_is_read() -> None:
    """An inch and an eighth in mm, beside a notch that a cutter leaves little room at."""
    job, shop = read_job(demo_job_text()), read_shop(demo_shop_text())
    leg = replace(job.leg, width_mm=62.188, thickness_mm=28.575)
    sheet = replace(shop.sheet, thickness_mm=12.0, length_mm=1220.0, width_mm=610.0)
    router = replace(shop.hand_router, cutter_reach_mm=70.0)
    wide = replace(shop, machine=Machine("cnc", 6.35), sheet=sheet, hand_router=router)
    facts = facts_of(replace(job, leg=leg), wide)
    limits = [mark.text for mark in facts.kit.parts["leg-gauge"].declared.marks if mark.fact == "limits"]
    assert "THICKNESS" in limits and list(mark_findings(facts, only="leg-gauge")) == []


KINDS = ("laser, bush, one hand", "laser, bearing, two slots", "sheet 12.2", "60/60", "90/90", "reveal 6", "inches")


@pytest.mark.parametrize("name", KINDS)
def test_sound_kits_of_every_kind_say_nothing_wrong(name) -> None:
    """Angles, beds, sheets, guides, reveal, horn, inches."""
    assert [finding.says for finding in mark_findings(facts_of(*VARIANTS[name]))] == []


SCORED = ideal_shop_text().replace(b'compensation = "both"', b'compensation = "included"')
SOURCE = Source(demo_job_text(), SCORED)


def test_letters_are_held_to_the_words_of_kit_json() -> None:
    """R and L exchanged on the plate: with kit.json alike they are found as words (601), else as letters (605)."""
    shop = read_shop(SCORED)
    plan = replace(light_plan(read_job(SOURCE.job_text), shop, SOURCE), shop=shop)
    mutant, _ = files_of(with_part(plan, "plate", hands_exchanged), SOURCE)
    assert codes(mutant) == {601}
    told = json.loads(mutant["kit.json"])
    for mark in told["parts"][0]["marks"]:
        mark["text"] = {"R": "L", "L": "R"}.get(mark["text"], mark["text"])
    assert codes({**mutant, "kit.json": json.dumps(told).encode()}) == {605}


def hands_exchanged(plate):
    """The plate with both large letters exchanged, written anew."""
    marks = with_words(plate, "hand", "R", "L", EXCHANGED).marks
    written = {m: letter_table(m.text, m.at, m.height_mm, m.turn_deg) for m in marks if m.fact == "hand"}
    return replace(plate, marks=tuple(replace(m, strokes=written.get(m, m.strokes)) for m in marks))


def codes(files):
    """Codes of the errors."""
    return {finding.code for finding in errors_in(list(prove(files).findings))}


def test_bevel_plates_have_their_numbers_in_whatever_order_they_are_read():
    """Sheets are filled by size: the second plate may come off the first of them."""
    facts = facts_of(replace(read_job(demo_job_text()), rake_deg=76.0), read_shop(demo_shop_text()))
    turned = replace(facts.kit, parts=dict(reversed(facts.kit.parts.items())))
    assert {"bevel-plate-1", "bevel-plate-2"} < set(turned.parts)
    assert list(mark_findings(KitFacts(turned, facts.jig, facts.declared))) == list(mark_findings(facts)) == []
