"""Kits spoilt everywhere alike: files and kit.json agree with each other, and the judge still sees what is wrong.

Each row changes one part before its lines are made, so nothing differs from anything: only the job can show the fault.
The finding must be of the tool, size, fit or assembly (2xx to 5xx), never just "this file differs".
"""

from functools import cache

import pytest
from sample_jobs import ideal_shop_text
from spoil_files import (
    files_of,
    hole_dropped,
    light_plan,
    placed_off,
    radius_changed,
    shifted,
    stretched,
    turned,
    vertex_moved,
    with_part,
    with_settings,
)
from spoil_parts import edge_moved, is_found, spoilt, told_anew, with_setting_off

from jigmaker.findings import errors_in
from jigmaker.job.demo import demo_job_text
from jigmaker.job.read import read_job, read_shop
from jigmaker.making.job_check import Source
from jigmaker.proof.prove import prove

SHOP_TEXT = (
    ideal_shop_text()
    .replace(b'marking = "score"', b'marking = "none"')
    .replace(b'compensation = "both"', b'compensation = "included"')
)
SOURCE = Source(demo_job_text(), SHOP_TEXT)

JIG = ("plate", "bearer", "end-bearer", "stop", "fence-or-back-strip")
MASKS = ("mask-for-slot-r", "mask-for-slot-l", "mask-foot")
TOGETHER = {
    **dict.fromkeys(JIG, JIG),
    **dict.fromkeys(MASKS, (*JIG, *MASKS)),
    "projection-gauge": (*JIG, "projection-gauge"),
    **dict.fromkeys(("bevel-plate", "brace-template"), ("bevel-plate", "brace-template")),
    **dict.fromkeys(("foot-block-nose", "foot-block-layer"), ("foot-block-nose", "foot-block-layer")),
}
"""Which parts are judged together with a part; the others stand for themselves."""


@cache
def base():
    """(plan, files, cut files) of the demo without marks and without placed sheets."""
    plan = light_plan(read_job(demo_job_text()), read_shop(SHOP_TEXT), SOURCE)
    return plan, *files_of(plan, SOURCE)


def setting(name, by):
    """A row that tells one figure of the set-up wrongly, everywhere."""
    return name, by


SPOILT = {
    "slot R turned 0.1 degrees": ("plate", turned("slot R", 0.1)),
    "slot L turned 0.1 degrees": ("plate", turned("slot L", -0.1)),
    "slot R moved 0.05 along": ("plate", shifted("slot R", 0.05, 0)),
    "slot R moved 2 across": ("plate", shifted("slot R", 0, 2)),
    "slot R wider by 0.1 %": ("plate", stretched("slot R", 1.001, 1.0)),
    "slot L narrower by 0.1 %": ("plate", stretched("slot L", 0.999, 1.0)),
    "slot R too short to pass the board": ("plate", stretched("slot R", 1.0, 0.8)),
    "slot L left out": ("plate", hole_dropped("slot L")),
    "a bearer's mortise moved 0.4": ("plate", shifted("mortise, side R, front", 0.4, 0)),
    "a bearer's mortise narrow by 3 %": ("plate", stretched("mortise, centre, front", 0.97, 1)),
    "an end bearer's mortise moved 0.05": ("plate", shifted("mortise, end, right, front", 0.05, 0)),
    "a mortise left out": ("plate", hole_dropped("mortise, end, left, rear")),
    "bearer's seat raised 0.2 at the front": ("bearer", vertex_moved("outer", 25, 0, 0.3)),
    "bearer stretched upward by 1 %": ("bearer", stretched("outer", 1.0, 1.01)),
    "bearer turned half a degree": ("bearer", turned("outer", 0.5)),
    "bearer stands 1 mm aside": ("bearer", placed_off(dz=1.0)),
    "end bearer stretched by 2 %": ("end-bearer", stretched("outer", 1.02, 1.0)),
    "end bearer moved 0.3 out": ("end-bearer", placed_off(dz=0.3)),
    "end bearer's bolt hole moved 2": ("end-bearer", shifted("front bolt", 2, 0)),
    "stop's bolt hole small": ("stop", radius_changed("rear bolt", -0.5)),
    "stop moved 0.3 out": ("stop", placed_off(dz=0.3)),
    "stop stands above the plate": ("stop", vertex_moved("outer", 2, 0, 30)),
    "fence's mortise moved 0.5 up": ("fence-or-back-strip", shifted("mortise, centre", 0, 0.5)),
    "a mortise 2 mm from the plate's front edge": ("plate", shifted("mortise, centre, front", 0, -8)),
    "fence's screw hole 2 mm under a mortise": ("fence-or-back-strip", shifted("screw, centre", 0, 6)),
    "bearer's foot 4 mm nearer to its seats": ("bearer", edge_moved("foot on the board's edge", -4)),
    "fence too long, it meets the end bearer": ("fence-or-back-strip", stretched("outer", 1.03, 1.0)),
    "fence proud of the worked edge": ("fence-or-back-strip", stretched("outer", 1.0, 1.05)),
    "fence put 1 mm into the board": ("fence-or-back-strip", placed_off(dz=-1.0)),
    "plate put 0.5 too high": ("plate", placed_off(dz=0.5)),
    "plate tilted 0.1 degrees more": ("plate", placed_off(turn_deg=0.1)),
    "mask larger than its slot": ("mask-for-slot-l", stretched("outer", 1.02, 1.02)),
    "mask's foot too tall": ("mask-foot", stretched("outer", 1.0, 1.1)),
    "projection told 0.3 deeper": setting("projection", 0.3),
    "projection told 0.3 shallower": setting("projection", -0.3),
    "slot width told 1 wider": setting("slot width", 1.0),
    "standoff told 0.5 higher": setting("standoff", 0.5),
    "plate tilt told 1 degree off": setting("plate tilt", 1.0),
    "a flank's corner moved 0.1": ("bevel-plate", vertex_moved("outer", 1, 0.1, 0)),
    "bevel plate sheared by a turn of one flank": ("bevel-plate", vertex_moved("outer", 6, -0.3, 0)),
    "bevel plate stretched by 1 %": ("bevel-plate", stretched("outer", 1.01, 1.0)),
    "brace template's flank moved 0.2": ("brace-template", vertex_moved("outer", 2, 0.2, 0)),
    "nose of the foot block 3 short": ("foot-block-nose", stretched("outer", 0.96, 1.0)),
    "dowel hole of a layer moved 1": ("foot-block-layer", shifted("dowel hole 1", 1, 0)),
    "pad as large as the foot": ("foot-pad", stretched("outer", 1.3, 1.3)),
    "taper gauge 5 % too steep": ("taper-gauge", stretched("outer", 1.0, 1.05)),
    "projection gauge's recess 0.1 deep": ("projection-gauge", stretched("outer", 1.0, 1.002)),
    "depth gauge's tongues 0.1 longer": ("depth-gauge", stretched("outer", 1.0, 1.002)),
    "leg gauge stretched by 1 %": ("leg-gauge", stretched("outer", 1.01, 1.01)),
    "housing plug 0.5 % wide": ("housing-plug", stretched("outer", 1.0, 1.005)),
    "brace template's end moved 0.5": ("brace-template", vertex_moved("outer", 2, 0.5, 0)),
    "brace template 1 % long": ("brace-template", stretched("outer", 1.01, 1.0)),
    "coupon stretched by 1 %": ("coupon", stretched("outer", 1.01, 1.0)),
}


def test_the_sound_kit_is_passed():
    """Nothing is found in the folder of the same kit."""
    assert errors_in(list(prove(base()[1]).findings)) == []


@pytest.mark.parametrize("name", SPOILT)
def test_a_kit_spoilt_everywhere_alike_is_refused(name):
    """At least one finding of tool, size, fit or assembly."""
    what, change = SPOILT[name]
    slugs = TOGETHER.get(what, (what,)) if callable(change) else JIG
    assert is_found(spoilt(slugs, {what: change}) if callable(change) else with_setting_off(slugs, what, change), slugs)


WRITTEN = (
    "slot L narrower by 0.1 %",
    "stop moved 0.3 out",
    "projection told 0.3 deeper",
    "fence's screw hole 2 mm under a mortise",
    "brace template's flank moved 0.2",
    "housing plug 0.5 % wide",
)


@pytest.mark.parametrize("name", WRITTEN)
def test_it_is_refused_from_its_written_files_too(name):
    """The same through DXF, SVG and kit.json, read back: no file differs, and still it is refused."""
    plan, _, cuts = base()
    what, change = SPOILT[name]
    if callable(change):
        spoilt = with_part(plan, what, lambda part: told_anew(change(part)))
    else:
        spoilt = with_settings(plan, what, change)
    files, _ = files_of(spoilt, SOURCE, plan, cuts)
    codes = {finding.code for finding in errors_in(list(prove(files).findings))}
    assert {code for code in codes if code >= 200}
    assert not {code for code in codes if code < 200}


def test_there_are_enough_rows_of_every_assembly():
    """Forty ways and more, over jig, bevel plate, foot block, gauges and coupon."""
    parts = {what for what, change in SPOILT.values() if callable(change)}
    assert len(SPOILT) >= 40
    assert {*JIG, "bevel-plate", "foot-block-nose", "foot-pad", "taper-gauge", "leg-gauge", "coupon"} <= parts
