"""Saw guides and paring guide judged by their files: sound ones pass, and one spoilt alike in all files does not."""

from dataclasses import replace
from functools import cache

import pytest
from folders_from_records import folder_of, with_part_of_kit
from sample_jobs import DEMO, HAND_SHOP
from spoil_parts import contour_moved, edge_moved, told_anew
from spoil_read_folder import only

from jigmaker.geometry.frames import Frame
from jigmaker.parts.housing_saw.guides import hand_guide_parts
from jigmaker.parts.kit import make_kit
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.use.housing_saw import guide_findings, guides_as_cut, sawn_housings
from jigmaker.proof.use.wrong_way import wrong_way_findings
from jigmaker.proof.words.known_hand_work import hand_work_facts
from jigmaker.trestle.solve import solve

SHOP = replace(HAND_SHOP, machine=replace(HAND_SHOP.machine, compensation="included", marking="none"))


@cache
def parts():
    """The guides' parts by slug."""
    made = {part.slug: part for part in make_kit(solve(DEMO), SHOP).parts}
    return {slug: part for slug, part in made.items() if "guide" in slug and "gauge" not in slug}


@cache
def sound():
    """(the folder of these parts alone, its pieces as cut)."""
    folder, before = only(folder_of(DEMO, SHOP, with_sheets=False), *parts()), CutBefore()
    return folder, cut_parts(folder, before)[0], before


def judged(folder, cut):
    """Codes of all that is found of the guides and of the housings that they make."""
    guides = guides_as_cut(folder, cut)
    found = (*guide_findings(guides), *wrong_way_findings(guides), *sawn_housings(guides)[1])
    return {finding.code for finding in found}


def test_sound_guides_pass_and_make_all_four_housings():
    """Nothing is found; the four housings are the job's, each with its leg in it."""
    folder, cut, _ = sound()
    assert judged(folder, cut) == set()
    figures, _ = sawn_housings(guides_as_cut(folder, cut))
    assert sorted(each.hand for each in figures) == ["L", "L", "R", "R"]
    assert all(each.near_gap_mm == pytest.approx(0.075, abs=1e-3) for each in figures)  # half of the clearance


LEANING = {
    # A wide leg that leans far along the board: the chisel comes nearest to the ribs.
    "wide leg": ((70.15, 67.59), 36.79, (105.2, 44.7)),
    # Hardly room between the mortises of the near plate for what tells which end goes out.
    "thin board": ((74.17, 63.14), 26.49, (86.5, 20.6)),
}


@pytest.mark.parametrize("name", LEANING)
def test_sound_guides_of_boards_and_legs_that_strain_them_pass(name):
    """Both were refused by their own proof."""
    (rake, splay), thick, (width, leg_thick) = LEANING[name]
    job = replace(
        DEMO,
        rake_deg=rake,
        splay_deg=splay,
        inset_mm=236.0,
        top=replace(DEMO.top, length_mm=1400.0, width_mm=190.0, thickness_mm=thick),
        leg=replace(DEMO.leg, width_mm=width, thickness_mm=leg_thick),
        housing=replace(DEMO.housing, clearance_mm=0.1),
    )
    slugs = {part.slug for part in hand_guide_parts(solve(job), SHOP)}
    folder = only(folder_of(job, SHOP, with_sheets=False), *slugs)
    assert judged(folder, cut_parts(folder, CutBefore())[0]) == set()


SPOILT = {
    "cheek's top lower": ("saw-guide-near-cheek", edge_moved("top: the saw's back lands here", -0.02), {452}),
    "cheek's foot shorter": ("saw-guide-far-cheek", edge_moved("foot on the board's edge", -0.02), {509}),
    "cheek's mortise aside": ("saw-guide-near-cheek", contour_moved("mortise, plate, front", 0, 0.02), {502}),
    "plate's edge off the cheek": ("saw-guide-near-plate-r", edge_moved("seat of the cheek, front", -0.02), {509}),
    "bearer's foot shorter": ("saw-guide-bearer", edge_moved("foot on the board's edge", -0.02), {509}),
    "bearer's seat lower": ("saw-guide-bearer", edge_moved("seat of the plate, middle", -0.02), {504}),
    "stop's seat lower": ("saw-guide-stop", edge_moved("seat of the plate, middle", -0.02), {504}),
    "fence's mortise aside": ("saw-guide-fence-l", contour_moved("mortise, far bearer", 0.02, 0), {502}),
    "spacer narrower": ("saw-guide-spacer", edge_moved("far side", -0.02), {336}),
    "screw hole at the mortise": ("saw-guide-fence-r", contour_moved("screw, near bearer", 0, 6), {343}),
    "rib's hook lower": ("paring-guide-rib", edge_moved("hook on the board's edge", -0.02), {509}),
    "rib's mortise lower": ("paring-guide-rib", contour_moved("mortise, ramp, front", 0, -0.02), {502}),
    "fence's window deeper": ("paring-guide-fence", contour_moved("mortise, left rib", 0, -0.05), {502}),
}


@pytest.mark.parametrize("name", SPOILT)
def test_a_spoilt_part_is_found(name):
    """Two hundredths of a mm, in the files and in kit.json alike."""
    slug, change, wanted = SPOILT[name]
    folder, _, before = sound()
    spoilt = with_part_of_kit(folder, told_anew(change(parts()[slug])))
    assert wanted <= judged(spoilt, cut_parts(spoilt, before)[0])


def without(fact):
    """The part without the words of this name."""
    return lambda part: replace(part, marks=tuple(mark for mark in part.marks if mark.fact != fact))


WRONG_WAY = {
    "stop reaches 5 mm into the wood": ("saw-guide-stop", edge_moved("foot", -20.0), {518}),
    "stop ends above the edge": ("saw-guide-stop", edge_moved("foot", -25.5), {518}),
    "fence without its face": ("saw-guide-fence-r", without("top"), {608}),
    "paring guide without its face": ("paring-guide-fence", without("top"), {608}),
    "plate without its hand": ("saw-guide-near-plate-l", without("hand"), {608}),
    "plate without its end": ("saw-guide-near-plate-r", without("end"), {608}),
}


@pytest.mark.parametrize("name", WRONG_WAY)
def test_a_guide_that_goes_on_the_wrong_way_unseen_is_found(name):
    """A stop that does not meet the wood at the board's other end; a piece without the word that alone tells."""
    slug, change, wanted = WRONG_WAY[name]
    folder, _, before = sound()
    spoilt = with_part_of_kit(folder, told_anew(change(parts()[slug])))
    assert judged(spoilt, cut_parts(spoilt, before)[0]) == wanted


def test_a_plate_that_hides_its_letters_is_found():
    """The near plate told to lie with its marked face down."""
    folder, cut, _ = sound()
    guides = guides_as_cut(folder, placed_anew(cut, "saw guide near plate R", lambda f: turned_down(f)))
    found = [finding for finding in wrong_way_findings(guides) if finding.code == 608]
    assert [finding.at for finding in found] == ["hand", "end"] and all("hides" in f.says for f in found)


def test_a_leg_that_goes_into_another_housing_is_found():
    """The far cheek told so far off that one guide saws both housings of an edge of a short board at once."""
    folder, cut, _ = sound()
    guides = guides_as_cut(
        folder, placed_anew(cut, "far cheek R", lambda f: replace(f, origin=(-470.0, *f.origin[1:])))
    )
    short = replace(DEMO, top=replace(DEMO.top, length_mm=500.0))
    found = [finding for finding in sawn_housings(guides.of_job(short))[1] if finding.code == 468]
    assert {finding.at for finding in found} == {"leg -x +y", "leg +x -y"}


def placed_anew(cut, name, change):
    """The pieces with one of them told to stand elsewhere."""

    def anew(place):
        return replace(place, frame=change(place.frame)) if place.name == name else place

    return [
        replace(each, declared=replace(each.declared, placements=tuple(map(anew, each.declared.placements))))
        for each in cut
    ]


def turned_down(frame):
    """The frame turned about its x axis, face down."""
    return Frame(frame.origin, frame.x_axis, tuple(-c for c in frame.y_axis), tuple(-c for c in frame.z_axis))


TOLD = {
    "depth": ("hand_saw", {"depth_mm": 75.05}, 452),
    "kerf": ("hand_saw", {"kerf_mm": 1.1}, 451),
    "plate": ("hand_saw", {"plate_mm": 0.7}, 451),
}


@pytest.mark.parametrize("name", TOLD)
def test_another_saw_than_the_guides_were_made_for_is_found(name):
    """Its kerfs end elsewhere."""
    tool, values, code = TOLD[name]
    folder, cut, _ = sound()
    shop = replace(folder.shop, **{tool: replace(getattr(folder.shop, tool), **values)})
    assert code in judged(replace(folder, shop=shop), cut)


def test_the_guides_turned_about_are_the_other_hands():
    """L's pieces told as R's: the housings come out with the other slant."""
    folder, cut, _ = sound()
    swap = {"R": "L", "L": "R"}
    turned = [
        replace(
            each,
            declared=replace(
                each.declared,
                placements=tuple(
                    replace(p, state=swap.get(p.state, p.state), name=p.name[:-1] + swap.get(p.name[-1], p.name[-1]))
                    for p in each.declared.placements
                ),
            ),
        )
        for each in cut
    ]
    guides = guides_as_cut(folder, turned)
    assert {505, 501} & {finding.code for finding in guide_findings(guides)}
    assert {finding.code for finding in sawn_housings(guides)[1]} & {453, 455, 460}


def test_what_the_wrong_face_costs():
    """Worked out on solids with an exact B-rep kernel."""
    folder, cut, _ = sound()
    assert hand_work_facts(guides_as_cut(folder, cut))["saw_guide.wrong_face"] == pytest.approx(12701, abs=1)
