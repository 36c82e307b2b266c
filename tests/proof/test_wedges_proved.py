"""Wedges judged by their files: sound ones pass, and one spoilt alike in all files and in kit.json does not."""

from dataclasses import replace
from functools import cache
from math import radians, tan

import pytest
from folders_from_records import folder_of, told_part, with_part_of_kit
from sample_jobs import DEMO, HAND_SHOP
from spoil_parts import edge_moved, told_anew
from spoil_read_folder import only

from jigmaker.geometry.outline import Outline
from jigmaker.job.shop import HousingWork, KitChoices
from jigmaker.parts.corners import direction_deg
from jigmaker.parts.kit import make_kit
from jigmaker.proof.checks.measured import MeasuredPart, Unmeasured
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.use.gauges import KitAsCut
from jigmaker.proof.use.housing_saw import guides_as_cut
from jigmaker.proof.use.jig import jig_as_cut
from jigmaker.proof.use.wedges import wedge_findings
from jigmaker.proof.words.known_facts import KitFacts
from jigmaker.proof.words.mark_findings import mark_findings
from jigmaker.trestle.solve import solve

SHOP = replace(HAND_SHOP, machine=replace(HAND_SHOP.machine, compensation="included", marking="none"))
USED = ("housing jig", "housing saw guide", "paring guide", "wedges")


@cache
def parts():
    """Every part by slug."""
    return {part.slug: part for part in make_kit(solve(DEMO), SHOP).parts}


@cache
def sound():
    """The folder of jig, guides and wedges, and its parts as cut."""
    wanted = [part.slug for part in parts().values() if part.assembly in USED]
    return _cut(only(folder_of(DEMO, SHOP, with_sheets=False), *wanted), CutBefore())


def _cut(folder, before):
    """(folder, what is known of cuts, the parts by slug, jig, guides)."""
    cut = cut_parts(folder, before)[0]
    by_slug = {part.declared.slug: MeasuredPart(part) for part in cut}
    return folder, before, by_slug, jig_as_cut(folder, cut), guides_as_cut(folder, cut)


def judged(*changed):
    """Codes of all that is found of the wedges, these parts changed; but for changes of jig and guides they stay."""
    folder, before, by_slug, jig, guides = sound()
    for part in changed:
        folder = with_part_of_kit(folder, told_anew(part))
    if changed:
        _, _, by_slug, new_jig, _ = _cut(folder, before)
        jig = jig if all(part.assembly == "wedges" for part in changed) else new_jig
    try:
        return {finding.code for finding in wedge_findings(KitAsCut(folder.job, folder.shop, by_slug), jig, guides)}
    except Unmeasured as error:
        return {error.finding.code}


def test_sound_wedges_pass():
    """Jig and saw guide of either hand, leaning between jaws as far apart as kit.json tells."""
    assert judged() == set()


def test_a_router_beyond_its_support_is_found():
    """A slot that goes on behind the board takes the router's axis to where no ear stands on a jaw."""
    longer = edge_moved("slot R, rear end", -20.0)(parts()["plate"])
    assert 519 in judged(longer)


def turned(degrees):
    """A change: the slope turned about the thin end's corner."""

    def change(part):
        return edge_moved("slope", tan(radians(degrees)) * part.outline.bounds[2], 0.0)(part)

    return change


def outline_of(slug):
    """A change: the outline of the other wedge, with its features."""

    def change(part):
        other = parts()[slug]
        return replace(part, outline=other.outline, features=other.features)

    return change


def without_ear(part):
    """A change: a plain wedge, whose straight side goes from end to end."""
    (x0, y0, x1, y1), ear = part.outline.bounds, 14.0
    if part.slug == "back-wedge":
        points = [(x0, y0 + ear), (x1, y0 + ear), (x1, y1), (x0, y0 + ear + 6)]
    else:
        points = [(x0, y0 + ear), (x1, y0 + ear), (x1, y1), (x0, y0 + ear + 6)]
    names = ("straight side", "thick end", "slope", "thin end")
    kept = {f.name: f for f in part.features if f.measure == "angle_deg"}
    features = tuple(
        replace(kept[name], pieces=(i,), value=direction_deg(points[i], points[(i + 1) % 4]))
        for i, name in enumerate(names)
    )
    return replace(part, outline=Outline.from_points(points), features=features)


SPOILT = {
    "front, 0.3 degrees off": ("front-wedge", turned(0.3), {349}),
    "back, 0.3 degrees off": ("back-wedge", turned(-0.3), {349}),
    "front, 0.005 degrees off": ("front-wedge", turned(0.005), {349}),
    "front with the back's outline": ("front-wedge", outline_of("back-wedge"), {349}),
    "back with the front's outline": ("back-wedge", outline_of("front-wedge"), {349}),
    "front without its ear": ("front-wedge", without_ear, {341}),
    "back without its ear": ("back-wedge", without_ear, {341}),
    "front thicker": ("front-wedge", edge_moved("slope", 0.5), {349}),
    "ear lower": ("front-wedge", edge_moved("ear, on the jaw", 6.0), {349}),
    "ear higher": ("back-wedge", edge_moved("ear, on the jaw", -16.0), {349}),
    "thin end thinner": ("front-wedge", edge_moved("slope", 0.0, -3.2), {349}),
    "ear shorter": ("front-wedge", edge_moved("ear, outer side", -5.0), {349}),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_wedge_is_found(name):
    """In the files and in kit.json alike: only job and jig can show it."""
    slug, change, wanted = SPOILT[name]
    assert wanted <= judged(change(parts()[slug]))


TOLD = {
    "fewer layers": ("", 0.0, {349}),
    "no jaws": ("jaws apart, saw guide", None, {341}),
    "jaws nearer": ("jaws apart, housing jig", -1.0, {349, 501}),
    "jaws farther": ("jaws apart, saw guide", 1.0, {349}),
    "jaws higher, jig": ("jaws below the top arris, housing jig", -6.0, {349, 501}),
    "jaws higher, saw": ("jaws below the top arris, saw guide", -6.0, {349, 456}),
}


@pytest.mark.parametrize("name", TOLD)
def test_what_kit_json_tells_wrongly_is_found(name):
    """Stacks too narrow to stand, and figures that a vice is set by."""
    setting, by, codes = TOLD[name]
    front = parts()["front-wedge"]
    if setting:
        others = tuple(s for s in front.settings if s.name != setting)
        (told,) = set(front.settings) - set(others)
        settings = others if by is None else (*others, replace(told, value=told.value + by))
        front = replace(front, settings=settings)
    else:
        front = replace(front, needed=2, placements=front.placements[:2])
    assert codes <= judged(front)


MARKED = {
    "front for back": ("front-wedge", "name", "FRONT WEDGE", "BACK WEDGE"),
    "back for front": ("back-wedge", "name", "BACK WEDGE", "FRONT WEDGE"),
    "off the level": ("front-wedge", "lean", "15.00° OFF PLUMB", "75.00° OFF PLUMB"),
    "another splay": ("back-wedge", "lean", "15.00° OFF PLUMB", "12.00° OFF PLUMB"),
}


@cache
def marked():
    """(every part by slug, what is known of them) of a job on whose wedges both marks find room."""
    job = replace(DEMO, splay_deg=75.0)
    shop = replace(SHOP, kit=KitChoices(also=("leaning wedges",)), housing_work=HousingWork("router"))
    folder = folder_of(job, shop, with_sheets=False)
    kit, jig = as_measured(folder)
    return {part.slug: part for part in make_kit(solve(job), shop).parts}, KitFacts(kit, jig, folder.kit)


@pytest.mark.parametrize("name", MARKED)
def test_a_wrong_word_on_a_wedge_is_found(name):
    """Sound ones are not."""
    slug, fact, said, put = MARKED[name]
    made, facts = marked()
    (mark,) = (mark for mark in made[slug].marks if mark.fact == fact)
    assert mark.text == said

    def codes(words):
        part = replace(made[slug], marks=(replace(mark, text=words),))
        told = told_part(part, facts.kit.parts[slug].declared.files)
        alone = MeasuredPart(replace(facts.kit.parts[slug].cut, declared=told))
        kit = replace(facts.kit, parts={**facts.kit.parts, slug: alone})
        return {finding.code for finding in mark_findings(replace(facts, kit=kit), only=slug)}

    assert codes(said) == set() and codes(put) & {601, 602}
