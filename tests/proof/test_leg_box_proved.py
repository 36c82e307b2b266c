"""The leg box judged by its files: a sound one passes, and one spoilt alike in all files, or put together wrongly, does
not.
"""

from dataclasses import replace
from functools import cache

import pytest
from folders_from_records import folder_of, told_part, with_part_of_kit
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, JOB_B
from spoil_parts import contour_moved, edge_moved, told_anew, with_contour
from spoil_read_folder import only

from jigmaker.geometry.frames import Frame, PlaneFrame
from jigmaker.geometry.outline import Outline, piece
from jigmaker.job.shop import LegSaw, Machine
from jigmaker.parts.kit import make_kit
from jigmaker.proof.checks.measured import MeasuredPart
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.use.fit import as_measured
from jigmaker.proof.use.leg_box import box_as_cut, leg_box_findings, wrong_turns_deg
from jigmaker.proof.words.known_facts import KitFacts
from jigmaker.proof.words.known_hand_work import HandJigs
from jigmaker.proof.words.mark_findings import mark_findings
from jigmaker.trestle.solve import solve

LASER = replace(DEMO_SHOP.machine, compensation="included", marking="none")
SHOP = replace(DEMO_SHOP, hand_saw=HAND_SHOP.hand_saw, leg_saw=LegSaw("hand"), machine=LASER)
THICK = replace(SHOP.sheet, thickness_mm=12.0, length_mm=1220.0, width_mm=610.0)
CNC = replace(SHOP, sheet=THICK, machine=Machine("cnc", 6.35, marking="none"))
WHOLE = "whole walls"
THINNER = replace(SHOP.sheet, thickness_mm=8.9, serves=("leg-box-far-wall", "leg-box-strip"))
SHOPS = {WHOLE: SHOP, "halves": CNC, "some parts from a thinner sheet": replace(SHOP, further_sheets=(THINNER,))}


@cache
def parts(walls=WHOLE):
    """The box's parts by slug."""
    return {part.slug: part for part in make_kit(solve(DEMO), SHOPS[walls]).parts if part.assembly == "leg box"}


@cache
def sound(walls=WHOLE):
    """(the folder of these parts alone, its pieces as cut)."""
    folder, before = only(folder_of(DEMO, SHOPS[walls], with_sheets=False), *parts(walls)), CutBefore()
    return folder, cut_parts(folder, before)[0], before


def judged(folder, cut):
    """Codes of all that is found of the box and of the leg that is sawn in it."""
    return {finding.code for finding in leg_box_findings(box_as_cut(folder, cut))}


@pytest.mark.parametrize("walls", SHOPS)
def test_a_sound_box_passes(walls):
    """Nothing is found; with legs that keep horn and trim neither."""
    folder, cut, _ = sound(walls)
    assert judged(folder, cut) == set()
    longer = replace(folder.job, leg=replace(folder.job.leg, horn_mm=4.0, trim_mm=12.0))
    assert judged(replace(folder, job=longer), cut) == set()


def mirrored(part):
    """A wall whose slot leans the other way."""
    _, _, wide, _ = part.outline.bounds

    def over(p):
        return wide - p[0], p[1]

    turned = Outline(tuple(piece(over(s.end), over(s.start), s.bulge) for s in reversed(part.outline.segments)))
    count = len(part.outline.segments)
    features = tuple(
        replace(f, pieces=tuple(count - 1 - n for n in f.pieces)) if f.contour == "outer" else f for f in part.features
    )
    return replace(part, outline=turned, features=features)


def hole_turned(name, turn_deg):
    """A change: an opening turned about the part's origin by so little that it hardly moves."""
    return lambda part: with_contour(part, name, part.contour(name).placed(PlaneFrame(0.0, 0.0, turn_deg)))


SPOILT = {
    "slot leaning the other way": (WHOLE, "leg-box-near-wall", mirrored, {465}),
    "slot's faces leaning otherwise": (
        WHOLE,
        "leg-box-far-wall",
        edge_moved("slot, left face", 0.0, 0.02),
        {465},
    ),
    "slot aside": (WHOLE, "leg-box-near-wall", edge_moved("slot, right face", -0.02), {465}),
    "slot narrower than the kerf": (
        WHOLE,
        "leg-box-near-wall",
        edge_moved("slot, right face", 0.06),
        {335, 456},
    ),
    "wall lower": (WHOLE, "leg-box-far-wall", edge_moved("top, left: the saw's back lands here", -0.02), {465}),
    "wall's seat higher": (WHOLE, "leg-box-near-wall", edge_moved("seat on the bottom, left", -0.02), {509}),
    "no hook": (WHOLE, "leg-box-near-wall", edge_moved("tongue, end", -18.0), {509}),
    "bottom's mortise aside": (WHOLE, "leg-box-bottom", contour_moved("mortise, near wall", 1.0, 0.0), {502}),
    "bottom's mortise nearer": (WHOLE, "leg-box-bottom", contour_moved("mortise, far wall", 0.0, -0.02), {502}),
    "strip's mortise nearer": (
        WHOLE,
        "leg-box-bottom",
        contour_moved("mortise, left strip", 0.0, -0.02),
        {502},
    ),
    "strip's mortise turned": (WHOLE, "leg-box-bottom", hole_turned("mortise, right strip", 0.02), {502}),
    "strip's tenon aside": (WHOLE, "leg-box-strip", edge_moved("tenon, left side", -0.02), {502}),
    "half's slot leaning otherwise": ("halves", "leg-box-near-half", edge_moved("slot, left face", 0.0, -0.02), {465}),
    "half's seat higher": ("halves", "leg-box-right-half", edge_moved("seat on the bottom, right", -0.02), {509}),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_part_is_found(name):
    """Two hundredths of a mm where something depends on it, in the files and in kit.json alike."""
    walls, slug, change, wanted = SPOILT[name]
    folder, _, before = sound(walls)
    spoilt = with_part_of_kit(folder, told_anew(change(parts(walls)[slug])))
    assert wanted <= judged(spoilt, cut_parts(spoilt, before)[0])


def placed(slug, change):
    """The sound box's pieces with one part's placements changed in kit.json."""
    return [
        replace(each, declared=replace(each.declared, placements=tuple(map(change, each.declared.placements))))
        if each.declared.slug == slug
        else each
        for each in sound()[1]
    ]


def turned_about(place):
    """The wall with its other face to the operator."""
    wide = max(p.outline.bounds[2] for slug, p in parts().items() if "wall" in slug)
    half = Frame((wide, 0.0, 9.1), (-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, -1.0))
    return replace(place, frame=place.frame @ half)


def before_the_leg(place):
    """The strip on the leg's near side."""
    axis = place.frame.z_axis  # toward the leg
    return replace(place, frame=place.frame.moved(tuple(79.1 * c for c in axis)))


def test_walls_swapped_are_found():
    """The slots are alike, the hook is not: it would lie behind."""
    walls = {s: next(e.declared.placements[0] for e in sound()[1] if e.declared.slug == s) for s in WALLS}
    swapped = placed(WALLS[0], lambda place: replace(place, frame=walls[WALLS[1]].frame.moved((0, -24.5, 0))))
    lower = [part for part in swapped if part.declared.slug != WALLS[1]]
    other = placed(WALLS[1], lambda place: replace(place, frame=walls[WALLS[0]].frame))
    both = [*lower, *(part for part in other if part.declared.slug == WALLS[1])]
    assert {509, 502} & judged(sound()[0], both)


WALLS = ("leg-box-near-wall", "leg-box-far-wall")

MISPLACED = {
    "near wall turned about": (WALLS[0], turned_about, {465}),
    "far wall turned about": (WALLS[1], turned_about, {465}),
    "strip on the wrong side": ("leg-box-strip", before_the_leg, {501, 502}),
}


@pytest.mark.parametrize("name", MISPLACED)
def test_a_piece_put_in_wrongly_is_found(name):
    """Its files are sound; kit.json tells another place."""
    slug, change, wanted = MISPLACED[name]
    assert wanted <= judged(sound()[0], placed(slug, change))


OTHERS = {
    "another splay": {"job": replace(DEMO, splay_deg=78.01)},
    "another rake": {"job": replace(DEMO, rake_deg=78.02)},
    "a wider leg": {"job": replace(DEMO, leg=replace(DEMO.leg, width_mm=76))},
    "a deeper saw": {"shop": replace(SHOP, hand_saw=replace(SHOP.hand_saw, depth_mm=77.0))},
    "a wider kerf": {"shop": replace(SHOP, hand_saw=replace(SHOP.hand_saw, kerf_mm=1.1))},
}


@pytest.mark.parametrize("name", OTHERS)
def test_a_box_for_another_leg_or_saw_is_found(name):
    """What is sawn is not the job's leg, or not with this saw."""
    folder, cut, _ = sound()
    assert judged(replace(folder, **OTHERS[name]), cut) & {335, 456, 465, 501, 509}


def test_a_box_without_a_strip_is_told_as_missing():
    """And nothing is measured that is not there."""
    folder, cut, _ = sound()
    with pytest.raises(LookupError):
        judged(folder, [part for part in cut if part.declared.slug != "leg-box-strip"])


def test_what_turning_a_leg_costs():
    """Degrees, worked out on solids with an exact B-rep kernel."""
    assert tuple(wrong_turns_deg(DEMO).values()) == pytest.approx((24, 33.46), abs=6e-3)
    assert tuple(wrong_turns_deg(JOB_B).values()) == pytest.approx((30, 41.51), abs=6e-3)


MARKED = {
    # which mark of which part, what it says, what is put there
    "head at the other end": ("leg-box-near-wall", "head", "HEAD THIS END", "HEAD OTHER END", 601),
    "slid and turned": ("leg-box-near-wall", "slide", "SLIDE, DO NOT TURN", "SLIDE, TURN", 601),
    "the other wall": ("leg-box-far-wall", "name", "FAR WALL", "NEAR WALL", 601),
    "turned about": ("leg-box-far-wall", "face", "THIS FACE TO YOU", "OTHER FACE TO YOU", 601),
    "narrow edge": ("leg-box-bottom", "face", "WIDE FACE DOWN", "NARROW EDGE DOWN", 601),
    "another saw": ("leg-box-bottom", "saw", "SAW 75 mm DEEP, KERF 1 mm", "SAW 75 mm DEEP, KERF 1.1 mm", 602),
    "another leg": ("leg-box-bottom", "leg", "LEG 70 mm × 32 mm", "LEG 32 mm × 70 mm", 602),
}


@cache
def whole_kit():
    """(every part by slug, the folder of them as read) of a shop that scores all its marks."""
    shop = replace(SHOP, machine=replace(SHOP.machine, compensation="left out", marking="score"))
    return {part.slug: part for part in make_kit(solve(DEMO), shop).parts}, folder_of(DEMO, shop, with_sheets=False)


@pytest.mark.parametrize("name", MARKED)
def test_a_wrong_word_on_the_box_is_found(name):
    """Sound ones are not; a mark may wrap over lines, so the whole saying is put on one."""
    slug, fact, said, put, code = MARKED[name]
    made, folder = whole_kit()
    kit, jig = as_measured(folder)
    cut = [piece.cut for piece in kit.parts.values()]
    box = box_as_cut(folder, cut)

    def codes(words):
        part = made[slug]
        others = [mark for mark in part.marks if mark.fact != fact]
        assert len(others) < len(part.marks)
        lines = [mark for mark in part.marks if mark.fact == fact]
        marked = replace(part, marks=(*others, replace(lines[0], text=words)))
        alone = MeasuredPart(replace(kit.parts[slug].cut, declared=told_part(marked, kit.parts[slug].declared.files)))
        facts = KitFacts(replace(kit, parts={**kit.parts, slug: alone}), jig, folder.kit, HandJigs(box=box))
        return {finding.code for finding in mark_findings(facts, only=slug)}

    assert codes(said) == set() and code in codes(put)
