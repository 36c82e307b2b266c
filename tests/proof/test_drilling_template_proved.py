"""The drilling template judged by its files: a sound one passes, and one spoilt alike in all files does not."""

from dataclasses import replace
from functools import cache

import pytest
from folders_from_records import folder_of, told_part, with_part_of_kit
from sample_jobs import DEMO, DEMO_SHOP, a_job
from spoil_parts import contour_moved, edge_moved, told_anew
from spoil_read_folder import only

from jigmaker.geometry.frames import Frame
from jigmaker.job.shop import KitChoices
from jigmaker.parts.kit import make_kit
from jigmaker.proof.checks.measured import MeasuredPart
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.use.drilling_template import template_as_cut, template_findings
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.words.known_facts import KitFacts
from jigmaker.proof.words.known_hand_work import HandJigs, template_facts
from jigmaker.proof.words.known_number import kit_number_findings
from jigmaker.proof.words.mark_findings import mark_findings
from jigmaker.trestle.fixings import leg_marks
from jigmaker.trestle.solve import solve

SHOP = replace(
    DEMO_SHOP,
    machine=replace(DEMO_SHOP.machine, compensation="included", marking="none"),
    kit=KitChoices(also=("drilling template",)),
)
PLATE, HEAD, SIDE = (f"drilling-template-{name}" for name in ("plate", "head-strip", "side-strip"))


@cache
def parts():
    """The template's parts by slug."""
    made = {part.slug: part for part in make_kit(solve(DEMO), SHOP).parts}
    return {slug: made[slug] for slug in (PLATE, HEAD, SIDE)}


@cache
def sound():
    """(the folder of these parts alone, its pieces as cut)."""
    folder, before = only(folder_of(DEMO, SHOP, with_sheets=False), *parts()), CutBefore()
    return folder, cut_parts(folder, before)[0], before


def judged(folder, cut):
    """Codes of all that is found."""
    return [finding.code for finding in template_findings(template_as_cut(folder, cut))]


def test_a_sound_template_passes_and_has_the_holes_of_the_trestles_screws():
    """Nothing is found; on both hands two holes, where the trestle marks its screws."""
    folder, cut, _ = sound()
    assert judged(folder, cut) == []
    holes = template_as_cut(folder, cut).holes()
    assert len(holes) == 4
    for hand in ("R", "L"):
        for mark in leg_marks(solve(DEMO)):
            is_near = (mark.side == "left") == (hand == "R")
            e = mark.from_edge_mm if is_near else DEMO.leg.width_mm - mark.from_edge_mm
            (hole,) = [h for h in holes if h.hands == hand and ("near" in h.name) == is_near]
            assert (hole.v, hole.e) == pytest.approx((mark.from_head_mm, e), abs=2e-3)


def test_what_tells_a_leg_that_lies_wrong():
    """Worked out on solids: the gap at the head, how much nearer to it the holes come on the inner face; the gape of a
    strip as long as the plate, 27.9, less what its upper 6 mm have of it.
    """
    folder, cut, _ = sound()
    facts = template_facts(template_as_cut(folder, cut))
    assert (facts["template.gap"], facts["template.nearer"]) == pytest.approx((3.40, 3.40), abs=5e-3)
    assert facts["template.gape"] == pytest.approx(27.9 * (1 - 6 / 70), abs=0.05)
    assert facts["template.drill"] == 5.5


SPOILT = {
    "hole moved along the head": (PLATE, contour_moved("screw R near", 0.5, 0), {336}),
    "hole moved down": (PLATE, contour_moved("screw L far", 0, 0.05), {336}),
    "head strip's lip lower": (HEAD, edge_moved("lip, turned over", 0.02), {509}),
    "side strip's mortise aside": (SIDE, contour_moved("mortise 1", 0, 0.05), {502}),
    "head strip's mortise aside": (HEAD, contour_moved("mortise 2", 0.05, 0), {502}),
    "plate's tenon aside": (PLATE, edge_moved("side tenon 1, upper side", -0.3), {502}),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_part_is_found(name):
    """In the files and in kit.json alike."""
    slug, change, wanted = SPOILT[name]
    folder, _, before = sound()
    spoilt = with_part_of_kit(folder, told_anew(change(parts()[slug])))
    assert wanted <= set(judged(spoilt, cut_parts(spoilt, before)[0]))


def _moved(slug, move):
    """The pieces as cut, with one part's placement moved."""
    _, cut, _ = sound()

    def changed(each):
        places = tuple(replace(p, frame=move @ p.frame) for p in each.declared.placements)
        return replace(each, declared=replace(each.declared, placements=places))

    return [changed(each) if each.declared.slug == slug else each for each in cut]


HALF_TURN = Frame((0.0, 0.0, 9.1), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
MISPLACED = {
    "side strip off the near edge": (SIDE, Frame((-0.02, 0.0, 0.0)), 509),
    "head strip off the head": (HEAD, Frame((0.0, 0.02, 0.0)), 509),
    "head strip's lip longer on one side": (HEAD, Frame((0.0, 0.0, 0.02)), 509),
    "plate turned over": (PLATE, HALF_TURN, 502),
}


@pytest.mark.parametrize("name", MISPLACED)
def test_a_misplaced_part_is_found(name):
    """Told in kit.json elsewhere than the other pieces hold it."""
    slug, move, code = MISPLACED[name]
    folder, _, _ = sound()
    assert code in judged(folder, _moved(slug, move))


def test_holes_lettered_for_the_other_hand_are_found():
    """R's holes told as L's and L's as R's: the upper one of two is then at the wrong side, on both hands."""
    folder, _, before = sound()
    plate, swap = parts()[PLATE], {"R": "L", "L": "R"}

    def other(name):
        words = name.split()
        return " ".join([words[0], swap.get(words[1], words[1]), *words[2:]]) if words[0] == "screw" else name

    told = replace(
        plate,
        holes=tuple(replace(hole, name=other(hole.name)) for hole in plate.holes),
        features=tuple(replace(f, name=other(f.name), contour=other(f.contour)) for f in plate.features),
    )
    spoilt = with_part_of_kit(folder, told)
    assert judged(spoilt, cut_parts(spoilt, before)[0]).count(336) >= 2


@cache
def lettered():
    """(the whole kit as made with its marks, what the judge knows of it by finished sizes)."""
    shop = replace(SHOP, machine=replace(SHOP.machine, compensation="left out", marking="score"))
    folder = folder_of(DEMO, shop, with_sheets=False)
    kit, jig = as_measured(folder)
    template = template_as_cut(folder, [part.cut for part in kit.parts.values()])
    return make_kit(solve(DEMO), shop), KitFacts(kit, jig, folder.kit, HandJigs(template=template))


def said(slug, change):
    """Codes of what is wrong with the words on a part that the maker hands on changed."""
    kit, facts = lettered()
    part, cut = change(next(part for part in kit.parts if part.slug == slug)), facts.kit.parts[slug].cut
    mutant = MeasuredPart(replace(cut, declared=told_part(part, cut.declared.files)))
    alone = replace(facts.kit, parts={**facts.kit.parts, slug: mutant})
    return {finding.code for finding in mark_findings(replace(facts, kit=alone), only=slug)}


WORDS = {
    "the holes' hands": (PLATE, "hand", {"R": "L", "L": "R"}, 601),
    "the marked face's hand": (PLATE, "face", {"THIS FACE FOR R": "THIS FACE FOR L"}, 601),
    "the drill": (PLATE, "drill", {"DRILL 5.5 mm": "DRILL 5.6 mm"}, 602),
    "the lips' hands": (HEAD, "hand", {"HEAD OF LEGS IN L": "HEAD OF LEGS IN R"}, 601),
    "a gap that must not show": (HEAD, "gap", {"NO GAP: TURN LEG OVER": "GAP: TURN LEG OVER"}, 601),
}


@pytest.mark.parametrize("name", WORDS)
def test_a_wrong_word_on_it_is_found(name):
    """As it is made nothing is; the letters of all its holes, both lips and its figures are judged."""
    slug, fact, words, code = WORDS[name]

    def other(part):
        marks = [replace(m, text=words.get(m.text, m.text)) if m.fact == fact else m for m in part.marks]
        assert tuple(marks) != part.marks
        return replace(part, marks=tuple(marks))

    assert said(slug, lambda part: part) == set()
    assert code in said(slug, other)


def test_a_narrow_plate_has_the_kit_number_on_two_lines():
    """For legs 38 mm wide: it is the kit's own all the same, and one line of it alone is not."""
    shop = replace(SHOP, machine=replace(SHOP.machine, marking="score"))
    low = a_job(500, (80, 82), 100, (760, 90, 40), (38, 18), (60, 15))
    kit = folder_of(low, shop, with_sheets=False).kit
    (plate,) = [part for part in kit.parts if part.slug == PLATE]
    lines = [mark.text for mark in plate.marks if mark.fact == "kit"]
    assert lines == ["KIT", kit.kit_number] and not list(kit_number_findings(kit))
    cut_short = replace(plate, marks=tuple(mark for mark in plate.marks if mark.text != "KIT"))
    kit = replace(kit, parts=tuple(cut_short if part is plate else part for part in kit.parts))
    assert [finding.code for finding in kit_number_findings(kit)] == [607]
