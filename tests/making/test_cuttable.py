"""What no rule of a part foresaw is still refused before any work, naming a key and the widest tool that goes."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO, DEMO_SHOP
from spoil_files import shifted, vertex_moved

from jigmaker.job.shop import Machine
from jigmaker.making import cuttable
from jigmaker.making.cuttable import check_cuttable
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve


def kit_with(slug, change):
    """The demo's kit with one part spoilt."""
    kit = make_kit(solve(DEMO), DEMO_SHOP)
    return replace(kit, parts=tuple(change(part) if part.slug == slug else part for part in kit.parts))


SPOILT = [
    ("bearer", vertex_moved("outer", 3, 60, 0), "bearer: the outline crosses itself"),
    ("plate", shifted("slot R", 200, 0), "plate: slot R is not inside the outline"),
    ("plate", shifted("slot R", -160, 0), "plate: slot R and slot L are not apart"),
]


@pytest.mark.parametrize(("slug", "change", "words"), SPOILT)
def test_an_outline_that_is_not_simple_is_refused(slug, change, words, monkeypatch):
    """Before anything is placed, by its part's name."""
    monkeypatch.setattr(cuttable, "_TRIES", 1)
    (found,) = check_cuttable(kit_with(slug, change))
    assert (found.code, found.part) == (210, slug)
    assert words in found.says


def test_a_sound_kit_passes():
    """Nothing is found in the demo's."""
    assert check_cuttable(make_kit(solve(DEMO), DEMO_SHOP)) == []


def test_the_widest_cutter_is_found_by_trying(monkeypatch):
    """With the parts' own rules put aside: a cutter of 10 mm in a sheet of 9.1, whose mortises are 9.2 mm wide."""
    monkeypatch.setattr(cuttable, "check_kit", lambda trestle, shop: [])
    shop = replace(DEMO_SHOP, machine=Machine("cnc", 10.0))
    found = {finding.part: finding for finding in check_cuttable(make_kit(solve(DEMO), shop))}
    assert {"plate", "fence or back strip"} <= set(found)
    for finding in found.values():
        assert (finding.code, finding.key) == (210, "shop machine.cutter")
        assert finding.says.startswith("the machine's cutter, 10 mm, is too wide: ")
        assert finding.do in ("cut the kit with 9 mm or less", "cut the kit with 8.95 mm or less")
    assert 'plate: hole "mortise, centre, front" is 9.20 mm wide' in found["plate"].says
