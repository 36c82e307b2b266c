"""The sloping cradle judged by its files: a sound one passes, and one spoilt alike in all files does not."""

from dataclasses import replace
from functools import cache

import pytest
from folders_from_records import folder_of, told_part, with_part_of_kit
from sample_jobs import DEMO, DEMO_SHOP
from spoil_parts import contour_moved, edge_moved, edge_turned, told_anew
from spoil_read_folder import only

from jigmaker.job.shop import LegSaw
from jigmaker.parts.kit import make_kit
from jigmaker.proof.checks.measured import MeasuredPart
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.use.leg_cradle import cradle_as_cut, cradle_facts, leg_cradle_findings
from jigmaker.proof.words.known_facts import KitFacts
from jigmaker.proof.words.known_hand_work import HandJigs
from jigmaker.proof.words.mark_findings import mark_findings
from jigmaker.trestle.solve import solve

MACHINE = replace(DEMO_SHOP.machine, compensation="included", marking="none")
SHOP = replace(DEMO_SHOP, machine=MACHINE, leg_saw=LegSaw("plain", 70.0))


@cache
def parts():
    """The cradle's parts by slug."""
    made = {part.slug: part for part in make_kit(solve(DEMO), SHOP).parts}
    return {slug: part for slug, part in made.items() if part.assembly == "sloping cradle"}


@cache
def sound():
    """(the folder of these parts alone, its pieces as cut)."""
    folder, before = only(folder_of(DEMO, SHOP, with_sheets=False), *parts()), CutBefore()
    return folder, cut_parts(folder, before)[0], before


def judged(folder, cut):
    """Codes of all that is found of the cradle and of the leg that is sawn on it."""
    return {finding.code for finding in leg_cradle_findings(cradle_as_cut(folder, cut))}


def test_a_sound_cradle_passes_and_tells_which_way_to_swing():
    """Nothing is found; the swings are those that make the wanted leg. Worked out on solids with an exact kernel."""
    folder, cut, _ = sound()
    assert len(parts()) == 5 and judged(folder, cut) == set()
    facts = cradle_facts(cradle_as_cut(folder, cut))
    assert (facts["cradle.first"], facts["cradle.second"], facts["cradle.pieces"]) == ("right", "left", 6)
    assert facts["cradle.from_blade"] == pytest.approx(32.92, abs=6e-3)


SPOILT = {
    "slope off by 0.3": ("cradle-rib", edge_turned("seat of the leg", 0.3), {466}),
    "slope off by 0.002": ("cradle-rib", edge_turned("seat of the leg", 0.002), {466}),
    "ribs' feet shorter": ("cradle-rib", edge_moved("foot on the saw's table", -0.02), {509}),
    "fence rib's foot shorter": ("cradle-fence-rib", edge_moved("foot on the saw's table", -0.02), {509}),
    "cross piece short": ("cradle-low-cross-piece", edge_moved("far shoulder, lower", -0.02), {509}),
    "other cross piece short": ("cradle-high-cross-piece", edge_moved("near shoulder, upper", -0.02), {509}),
    "mortise lower": ("cradle-rib", contour_moved("mortise, low cross piece", 0, -0.02), {502}),
    "mortise aside": ("cradle-rib", contour_moved("mortise, high cross piece", 0.02, 0), {502}),
    "mortise under the leg": ("cradle-rib", contour_moved("mortise, low cross piece", 0, 9), {343}),
    "tenon too long": ("cradle-high-cross-piece", edge_moved("far tenon, end", 1.6), {501}),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_part_is_found(name):
    """Hundredths of a mm, in the files and in kit.json alike."""
    slug, change, wanted = SPOILT[name]
    folder, _, before = sound()
    spoilt = with_part_of_kit(folder, told_anew(change(parts()[slug])))
    assert wanted <= judged(spoilt, cut_parts(spoilt, before)[0])


def placed(cut, change):
    """The same pieces with every placement changed, by its name and frame into a frame."""
    return [
        replace(
            each,
            declared=replace(
                each.declared,
                placements=tuple(replace(p, frame=change(p.name, p.frame)) for p in each.declared.placements),
            ),
        )
        for each in cut
    ]


def test_ribs_that_change_places_are_found():
    """Fence rib for near rib, which stands in the leg's way; and a far rib that does not lie at the fence rib."""
    folder, cut, _ = sound()
    frames = {p.name: p.frame for each in cut for p in each.declared.placements}
    other = {"cradle fence rib": "cradle near rib", "cradle near rib": "cradle fence rib"}
    swapped = placed(cut, lambda name, frame: frames[other.get(name, name)])
    assert {501, 509} <= judged(folder, swapped)
    aside = placed(cut, lambda name, frame: frame.moved((0.0, -0.05, 0.0)) if name == "cradle far rib" else frame)
    assert 509 in judged(folder, aside)


def test_a_cradle_too_near_to_the_blade_is_found():
    """Moved along the fence, all of it: the slope is right, the blade is not clear."""
    folder, cut, _ = sound()
    assert judged(folder, placed(cut, lambda _, frame: frame.moved((20.0, 0.0, 0.0)))) == {456}


TOLD = {
    "splay": {"splay_deg": 77.9},
    "rake": {"rake_deg": 77.0},
    "leg's width": {"leg": replace(DEMO.leg, width_mm=60)},
}


@pytest.mark.parametrize("name", TOLD)
def test_a_cradle_made_for_another_job_is_found(name):
    """Its slope is another, or it stands out beyond the leg."""
    folder, cut, _ = sound()
    assert 466 in judged(replace(folder, job=replace(DEMO, **TOLD[name])), cut)


@cache
def facts():
    """What the judge knows of the whole kit, with every mark; the parts as made by slug."""
    shop = replace(SHOP, machine=replace(MACHINE, compensation="left out", marking="score"))
    folder = folder_of(DEMO, shop, with_sheets=False)
    cut = cut_parts(folder, CutBefore())[0]
    made = {part.slug: part for part in make_kit(solve(DEMO), shop).parts}
    return KitFacts(*as_measured(folder), folder.kit, HandJigs(cradle=cradle_as_cut(folder, cut))), made


def words_judged(slug, old="", new=""):
    """Codes of what is found on one part when its maker hands it on with other words."""
    known, made = facts()
    marks = tuple(replace(mark, text=mark.text.replace(old, new) if old else mark.text) for mark in made[slug].marks)
    cut = known.kit.parts[slug].cut
    mutant = MeasuredPart(replace(cut, declared=told_part(replace(made[slug], marks=marks), cut.declared.files)))
    alone = replace(known.kit, parts={**known.kit.parts, slug: mutant})
    return {finding.code for finding in mark_findings(replace(known, kit=alone), only=slug)}


WORDS = (
    ("cradle-rib", "TO THE RIGHT", "TO THE LEFT", 601),
    ("cradle-rib", "TO THE LEFT", "TO THE RIGHT", 601),
    ("cradle-rib", "11.48°", "11.75°", 602),
    ("cradle-rib", "SLOPE 12.25°", "SLOPE 12.00°", 602),
    ("cradle-rib", "OTHER", "SAME", 601),
    ("cradle-rib", "THIS END", "OTHER END", 601),
    ("cradle-low-cross-piece", "LOW", "HIGH", 601),
    ("cradle-high-cross-piece", "HIGH", "LOW", 601),
    ("cradle-fence-rib", "FENCE RIB", "RIB", 601),
)


@pytest.mark.parametrize("row", WORDS, ids=lambda row: " ".join(row[:3]))
def test_a_wrong_word_on_the_cradle_is_found(row):
    """Though file and kit.json agree; with its own words nothing is."""
    slug, old, new, code = row
    assert words_judged(slug) == set() and code in words_judged(slug, old, new)
