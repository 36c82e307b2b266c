"""Webs, necks and lands: measured on the parts as cut, against what the layout promises and the judge's own floor."""

from dataclasses import replace
from functools import cache
from math import radians, sin, tan

import pytest
from folders_from_records import folder_of, with_part_of_kit
from sample_jobs import DEMO
from spoil_parts import SHOP, contour_moved, edge_moved, hole_wider, kit, told_anew
from spoil_read_folder import only, part_of, with_part

from jigmaker.parts.housing_jig import layout
from jigmaker.proof.checks.same_lines import CutBefore
from jigmaker.proof.checks.simulate import cut_parts
from jigmaker.proof.checks.wood import FLOORS_MM, simple_findings, wood_findings
from jigmaker.proof.use.fit import prove_fit
from jigmaker.proof.use.jig import jig_as_cut

JIG = ("plate", "bearer", "end-bearer", "stop", "fence-or-back-strip")
FACE = radians(78.255)  # off the stop's plane; the demo's figure, from its bevel plate
ROUNDED_OFF_MM = 4.0 * (1 / tan(FACE) + 1 / sin(FACE) - 1)
"""A slot's corners have a radius of 4 mm: so much further from a bearer does the slot end than its walls would meet."""


@cache
def demo():
    return only(folder_of(DEMO, SHOP, with_sheets=False), *JIG)


def spoilt(slug, change, promise=None):
    """What is found of its wood in the demo's jig with one part changed everywhere; and its promise, where given."""
    part = told_anew(change(kit()[slug]))
    return wood_of(promised(with_part_of_kit(demo(), part), slug, promise))


def promised(folder, slug, promise):
    """The folder with other promises of a part told in kit.json."""
    return with_part(folder, replace(part_of(folder, slug), least_wood_mm=promise)) if promise is not None else folder


def wood_of(folder):
    """(code, value, what is least) of every finding on wood."""
    parts, _ = cut_parts(folder, CutBefore())
    return [(f.code, f.value, f.limit) for f in wood_findings(jig_as_cut(folder, parts))]


def test_the_demo_keeps_its_promises():
    """A land of 8 mm and the other figures are told, and nothing is found."""
    told = {part.slug: part.least_wood_mm for part in demo().kit.parts if part.least_wood_mm}
    assert set(told) == {"plate", "bearer", "end-bearer", "fence-or-back-strip"}
    assert told["plate"]["land"] == pytest.approx(8.0 + ROUNDED_OFF_MM, abs=1e-4)
    assert all(told[slug][kind] > floor for slug in told for kind, floor in FLOORS_MM[slug].items())
    assert wood_of(demo()) == []


SPOILT = {
    # The mortise's front wall stands 10 mm from the plate's front edge.
    "plate": ("plate", contour_moved("mortise, centre, front", 0, -5), "web", 2.0),
    # The screw's hole, 3.8 mm wide, lies 8.0 mm under the mortise's lower wall.
    "fence": ("fence-or-back-strip", contour_moved("screw, centre", 0, 3.5), "web", 2.0),
    "fence, a hole too wide": ("fence-or-back-strip", hole_wider("screw, side R", 8), "web", 2.0),
    # 7 mm of standoff less 9.1 cos 78: 5.1 mm of bearer over the fence.
    "bearer": ("bearer", edge_moved("foot on the board's edge", -2), "neck", 0.5),
    "end bearer": ("end-bearer", edge_moved("foot on the board's edge", -2), "neck", 0.5),
}


@pytest.mark.parametrize("name", SPOILT)
def test_less_wood_than_promised_is_found(name):
    """Wrong alike in the files and in kit.json's contours, but not in its promise."""
    slug, change, _, _ = SPOILT[name]
    assert {code for code, _, _ in spoilt(slug, change)} == {343}


FLOORED = {
    "plate": ("plate", contour_moved("mortise, centre, front", 0, -8), "web"),
    "fence": ("fence-or-back-strip", contour_moved("screw, centre", 0, 6.5), "web"),
    "bearer": ("bearer", edge_moved("foot on the board's edge", -4.5), "neck"),
    "end bearer": ("end-bearer", edge_moved("foot on the board's edge", -6.5), "neck"),
}


@pytest.mark.parametrize("name", FLOORED)
def test_a_bent_promise_does_not_pass(name):
    """With nothing promised, too little is still too little."""
    slug, change, kind = FLOORED[name]
    found = spoilt(slug, change, {kind: 0.1})
    assert found
    assert {(code, limit) for code, _, limit in found} == {(343, f"{FLOORS_MM[slug][kind]:.3f} mm")}


@pytest.mark.parametrize(
    ("land", "promise", "limit"),
    [(3.0, None, "6.000 mm"), (1.0, None, "6.000 mm"), (3.0, 8.0, "8.917 mm"), (7.95, 8.0, "8.917 mm")],
)
def test_a_narrow_land_is_found(land, promise, limit, monkeypatch):
    """A jig laid out all over with less between slot and bearer; None: its promise bent with it."""
    monkeypatch.setattr(layout, "LAND_MM", land)
    folder = only(folder_of(DEMO, SHOP, with_sheets=False), *JIG)
    folder = promised(folder, "plate", promise and {"web": 6.0, "land": promise + ROUNDED_OFF_MM})
    found = wood_of(folder)
    assert {(code, least) for code, _, least in found} == {(513, limit)}
    assert min(float(value.split()[0]) for _, value, _ in found) == pytest.approx(land + ROUNDED_OFF_MM, abs=0.001)


def test_a_nominal_outline_that_crosses_itself_is_found():
    """342 by the part's name, also when only kit.json tells it so; openings outside and openings that meet too."""
    told = part_of(demo(), "bearer")
    pieces = told.outline.segments
    swapped = type(told.outline).from_points([pieces[i].start for i in (1, 0, *range(2, len(pieces)))])
    folder = with_part(demo(), replace(told, outline=swapped))
    assert [(f.code, f.part) for f in simple_findings(folder.kit.parts)] == [(342, "bearer")]
    assert 342 in {f.code for f in prove_fit(folder)[0]}
    assert list(simple_findings(demo().kit.parts)) == []
