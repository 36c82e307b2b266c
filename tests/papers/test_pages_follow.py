"""Which set-up sheets follow which key of job.toml and shop.toml: a page says what its operation needs, and no more."""

from dataclasses import replace
from functools import cache

import pytest
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, HAND_SHOP

from jigmaker.drawing.page import Page
from jigmaker.job.job import Job, Size, Timber
from jigmaker.job.sections import ALSO, JOB, SHOP
from jigmaker.job.shop import Shop
from jigmaker.papers.bench import Bench
from jigmaker.papers.setup_sheets.document import setup_document
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

STOCK, KIT, JIG, WASTE, ROUTER, ROUT, LEGS, BRACES, DRY, GLUE, HORNS, LEVEL = (str(n) for n in range(10, 130, 10))
GUIDES, SAW, PARE = "35", "63", "66"
BOX = CRADLE = "37"
DRILL = "95"
BATCH = WORDS = "The batch; words"
ALL = {STOCK, KIT, JIG, WASTE, ROUTER, ROUT, LEGS, BRACES, DRY, GLUE, LEVEL}
AIR = ("moisture", "temperature", "humidity")
SPREAD = {DRY, GLUE, LEVEL}
"""Where the feet are measured: along the board, by dry fit, glue and final check."""

# Read off the trade: what a figure is used for. Each row: what is changed, and whose sheets say so. All others stay.
OF_THE_JOB: dict[str, tuple[dict[str, object], set[int]]] = {
    # Every page's foot, and the file's title; nothing on the page itself.
    "job.name": ({"name": "Other"}, set()),
    "job.units": ({"unit": "in"}, {*ALL, BATCH}),
    "job.trestles": ({"trestles": 7}, ALL - {KIT, JIG, ROUTER} | {BATCH}),
    # A taller trestle has longer legs and stands wider; nothing at the board's housings changes.
    "trestle.height": ({"height_mm": 725.0}, {LEGS, LEVEL, *SPREAD}),
    # Housing, both saws, the spread of the feet; how long an off-cut the jig takes, and what winding does;
    # legs that lean unlike both ways want a second bevel plate.
    "trestle.rake_deg": ({"rake_deg": 79.0}, {STOCK, KIT, WASTE, ROUT, LEGS, BRACES, LEVEL, WORDS, *SPREAD}),
    "trestle.splay_deg": ({"splay_deg": 79.0}, {STOCK, KIT, JIG, WASTE, ROUT, LEGS, BRACES, LEVEL, *SPREAD}),
    "trestle.inset": ({"inset_mm": 125.0}, {STOCK, WASTE, ROUT, *SPREAD}),
    "top.length": ({"top.length_mm": 950.0}, {STOCK, WASTE, ROUT, *SPREAD}),
    # Braces reach across the board; the off-cut to try the router on is of its section.
    "top.width": ({"top.width_mm": 125.0}, {STOCK, ROUTER, WASTE, ROUT, BRACES, DRY, LEVEL}),
    # The brace hangs under the board, and the screws are spread over its edge.
    "top.thickness": ({"top.thickness_mm": 47.0}, {STOCK, ROUTER, WASTE, ROUT, BRACES, DRY, GLUE}),
    # Slot, plug, gauge; marks of the screws a quarter of the width in.
    "leg.width": ({"leg.width_mm": 74.0}, {STOCK, KIT, ROUTER, WASTE, ROUT, LEGS, GLUE}),
    # The housing's depth and so the projection; the gap behind the brace; how far a screw must reach.
    "leg.thickness": ({"leg.thickness_mm": 36.0}, {STOCK, KIT, ROUTER, WASTE, ROUT, LEGS, BRACES, DRY, GLUE}),
    "leg.horn": ({"leg.horn_mm": 6.0}, {LEGS, GLUE, HORNS, LEVEL}),
    "leg.trim": ({"leg.trim_mm": 20.0}, {LEGS, DRY, GLUE, LEVEL}),
    "brace.depth": ({"brace.depth_mm": 115.0}, {STOCK, BRACES, GLUE}),
    "brace.thickness": ({"brace.thickness_mm": 28.0}, {STOCK, BRACES, GLUE}),
    # The leg keeps its size; housing, slot and plug open, and the play that is told under the words.
    "housing.clearance": ({"housing.clearance_mm": 0.25}, {KIT, ROUTER, WASTE, ROUT, WORDS}),
    # Shallower housings, feet farther out, longer braces.
    # No glue, one screw that comes out; the demo's clearance is told either way.
    "housing.joint": ({"housing.joint": "dry"}, {DRY, GLUE}),
    "housing.reveal": (
        {"housing.reveal_mm": 2.0},
        {STOCK, KIT, ROUTER, WASTE, ROUT, BRACES, *SPREAD},
    ),
    # Damp is a caution, told where the job is made; no figure at the bench changes with it.
    **{
        f"timber.{key}": ({"timber": Timber("softwood", moisture_now=12, moisture_later=18)}, set())
        for key in ("species", *(f"{name}_{when}" for name in AIR for when in ("now", "later")))
    },
}

# Of one of two sizes, against the same job with the size as it was.
SIZES = replace(DEMO, trestles=2, further_sizes=(Size(2, 600.0, 900.0),))
OF_A_SIZE: dict[str, tuple[Size, set[str]]] = {
    # Its own legs and feet; every page's foot. The highest decides what winding and play do.
    "size.height": (Size(2, 620.0, 900.0), {LEGS, BATCH, LEVEL, *SPREAD}),
    "size.trestles": (Size(3, 600.0, 900.0), ALL - {KIT, JIG, ROUTER, DRY} | {BATCH}),
    "size.top_length": (Size(2, 600.0, 950.0), {STOCK, WASTE, ROUT, *SPREAD}),
}
CNC = {"machine.kind": "cnc", "machine.tool_mm": 3.0}
OF_THE_SHOP: dict[str, tuple[dict[str, object], set[int]]] = {
    "sheet.material": ({"sheet.material": "beech plywood"}, {KIT, JIG}),
    # Mortises, standing plate, projection, the table of the foot block's steps.
    "sheet.thickness": ({"sheet.thickness_mm": 9.3}, {KIT, JIG, ROUTER, ROUT, BATCH}),
    "sheet.thickness_spread": ({"sheet.thickness_spread_mm": 0.1}, {KIT}),
    "sheet.length": ({"sheet.length_mm": 800.0}, {KIT}),
    "sheet.width": ({"sheet.width_mm": 500.0}, {KIT}),
    "sheet.margin": ({"sheet.margin_mm": 7.0}, set()),
    "sheet.count": ({"sheet.count": 5}, set()),
    "sheet.for": ({"sheet.serves": ("gauges",)}, set()),
    # How many pieces are cut; what to use instead of a gauge.
    "kit.leave_out": ({"kit.leave_out": ("leg-gauge",)}, {KIT, STOCK}),
    "kit.spares": ({"kit.spares": False}, {KIT}),
    "sheet.joint_clearance": ({"sheet.joint_clearance_mm": 0.2}, {KIT}),
    "machine.kind": (CNC, {KIT}),
    "machine.kerf": ({"machine.tool_mm": 0.25}, {KIT}),
    "machine.cutter": (CNC | {"machine.tool_mm": 4.0}, {KIT}),
    # Limits of what it cuts, the tape over a trestle from that jig, the flanks that bevels are set to.
    "machine.accuracy": ({"machine.accuracy_mm": 0.15}, {KIT, ROUTER, WASTE, LEGS, DRY}),
    "machine.compensation": ({"machine.compensation": "included"}, {KIT}),
    "machine.marking": ({"machine.marking": "none"}, {KIT}),
    "machine.bridges": ({"machine.bridges": 2}, {KIT}),
    "machine.bridge_width": ({"machine.bridge_width_mm": 8.0}, set()),
    # What the coupon found is in the lines: nobody at the bench sets it.
    "machine.kerf_x": ({"machine.kerf_x_mm": 0.19, "machine.kerf_y_mm": 0.22}, set()),
    "machine.kerf_y": ({"machine.kerf_x_mm": 0.2, "machine.kerf_y_mm": 0.23}, set()),
    "machine.scale_x": ({"machine.scale_x": 1.001}, set()),
    "machine.scale_y": ({"machine.scale_y": 1.001}, set()),
    "machine.skew_deg": ({"machine.skew_deg": 0.1}, set()),
    # A larger base needs a larger plate: the machine cuts it, and stop and slot keep their places.
    "hand_router.base": ({"hand_router.base_mm": 200.0}, set()),
    "hand_router.bush": ({"hand_router.bush_mm": 18.0}, {KIT, ROUTER}),
    "hand_router.bush_length": ({"hand_router.bush_length_mm": 7.0}, set()),
    "hand_router.bush_bore": ({"hand_router.bush_bore_mm": 14.0}, set()),
    "hand_router.cutter": ({"hand_router.cutter_mm": 11.0}, {KIT, ROUTER}),
    "hand_router.cutter_reach": ({"hand_router.cutter_reach_mm": 60.0}, {ROUTER}),
    "hand_router.stops": ({"hand_router.stops": 6}, {ROUTER, ROUT}),
    "hand_router.blade": ({"hand_router.blade_mm": 40.0}, set()),
    "files.dxf": ({"files.dxf": "R12"}, set()),
    # The reference square is 2 in wide in a file in inches.
    "files.units": ({"files.unit": "in"}, {KIT}),
    "files.parts": ({"files.parts": "finished size"}, set()),
    "files.contours": ({"files.contours": "line and arc"}, set()),
    "files.operations": ({"files.operations": "apart"}, set()),
    "paper.size": ({"paper.size": "Letter"}, set()),
    "paper.scale_x": ({"paper.scale_x": 1.01}, set()),
    "paper.scale_y": ({"paper.scale_y": 0.99}, set()),
    # Further pages, in a document of their own.
    "papers.handout": ({"papers.handout": True}, set()),
    # All that there are: template, and wedges of both kinds.
    "kit.also": ({"kit.also": ALSO}, {KIT, DRILL, ROUTER, ROUT, GLUE}),
    # Braces are sawn without tilt, too.
    "kit.jaws": ({"kit.jaws_mm": 90.0}, set()),  # what it does not take is told as the kit is made
    "leg_saw.kind": ({"leg_saw.kind": "hand", "hand_saw": HAND_SHOP.hand_saw}, {KIT, BOX, LEGS, BRACES}),
    "leg_saw.cutting_height": (
        {"leg_saw.kind": "plain", "leg_saw.cutting_height_mm": 70.0},
        {KIT, CRADLE, LEGS, BRACES},
    ),
    "housing_work.by": (
        {"housing_work.by": "both", "hand_saw": HAND_SHOP.hand_saw, "chisel": HAND_SHOP.chisel},
        # By itself a shop that saws has wedges and a drilling template too.
        {KIT, GUIDES, SAW, PARE, ROUTER, ROUT, DRILL, GLUE},
    ),
}
OF_HAND_TOOLS: dict[str, tuple[dict[str, object], set[str]]] = {
    # The set of the teeth is the plate's and the kerf's: spacers, and how wide the saw cuts.
    "hand_saw.plate": ({"hand_saw.plate_mm": 0.9}, {GUIDES, SAW}),
    "hand_saw.kerf": ({"hand_saw.kerf_mm": 1.1}, {GUIDES, SAW}),
    "hand_saw.depth": ({"hand_saw.depth_mm": 80.0}, {SAW}),
    # So much is left to move it; that its guide is not too long is checked before.
    "hand_saw.back": ({"hand_saw.back_mm": 7.0}, set()),
    "hand_saw.length": ({"hand_saw.length_mm": 320.0}, set()),
    "chisel.blade": ({"chisel.blade_mm": 150.0}, {PARE}),
}
"""Changed in a shop that saws its housings."""


def changed(record, values):
    """A record with other values, given by their dotted paths, all at once."""
    parts: dict[str, dict[str, object]] = {}
    for path, value in values.items():
        part, _, name = path.rpartition(".")
        parts.setdefault(part, {})[name] = value
    own = parts.pop("", {})
    return replace(record, **own, **{part: replace(getattr(record, part), **new) for part, new in parts.items()})


def pages_of(job: Job, shop: Shop) -> tuple[Page, ...]:
    """The sheets in words: unplaced, and without pictures, which take longest."""
    return setup_document(Bench(make_kit(solve(job), shop), ()), with_pictures=False).pages


@cache
def demo_pages() -> tuple[Page, ...]:
    """The demo's, made once."""
    return pages_of(DEMO, DEMO_SHOP)


def differing(job: Job, shop: Shop) -> set[str]:
    """Numbers of the operations whose pages are not the demo's, or titles of pages without one."""
    pages, own = ({page.title: page for page in pages} for pages in (demo_pages(), pages_of(job, shop)))
    titles = [title for title in {**pages, **own} if pages.get(title) != own.get(title)]
    return {title.split()[0] if title[0].isdigit() else title for title in titles}


def keys_of(sections) -> set[str]:
    return {f"{section.name}.{rule.key}" for section in sections for rule in section.rules}


def test_every_key_has_its_row() -> None:
    """A new key must say here which sheets tell it. Layers are the machine's; the bearing's height has its own test."""
    assert set(OF_THE_JOB) | set(OF_A_SIZE) == keys_of(JOB)
    others = {key for key in keys_of(SHOP) if not key.startswith("layers.")}
    assert set(OF_THE_SHOP) | set(OF_HAND_TOOLS) | {"hand_router.bearing_height"} == others


@pytest.mark.parametrize("key", OF_THE_JOB)
def test_a_key_of_the_job_changes_the_sheets_that_use_it(key) -> None:
    """These and no others."""
    values, wanted = OF_THE_JOB[key]
    assert differing(changed(DEMO, values), DEMO_SHOP) == wanted


@pytest.mark.parametrize("key", OF_A_SIZE)
def test_a_key_of_a_size_changes_the_sheets_that_use_it(key) -> None:
    """These and no others."""
    size, wanted = OF_A_SIZE[key]
    pages, own = (pages_of(replace(SIZES, further_sizes=(each,)), DEMO_SHOP) for each in (SIZES.further_sizes[0], size))
    differ = [one.title for one, other in zip(pages, own, strict=True) if one != other]
    assert {title.split()[0] if title[0].isdigit() else title for title in differ} == wanted


@pytest.mark.parametrize("key", OF_THE_SHOP)
def test_a_key_of_the_shop_changes_the_sheets_that_use_it(key) -> None:
    """These and no others."""
    values, wanted = OF_THE_SHOP[key]
    assert differing(DEMO, changed(DEMO_SHOP, values)) == wanted


@pytest.mark.parametrize("key", OF_HAND_TOOLS)
def test_a_key_of_a_hand_tool_changes_the_sheets_that_use_it(key) -> None:
    """These and no others."""
    values, wanted = OF_HAND_TOOLS[key]
    old, new = ({page.title: page for page in pages_of(DEMO, shop)} for shop in (HAND_SHOP, changed(HAND_SHOP, values)))
    assert {title.split()[0] for title in {**old, **new} if old.get(title) != new.get(title)} == wanted


def test_a_bearing_is_named_where_the_router_is_set() -> None:
    """A cutter with a bearing has no bush; where on its shank the bearing sits is nothing to set."""
    assert {KIT, ROUTER} <= differing(DEMO, BEARING_SHOP)
    lower = changed(BEARING_SHOP, {"hand_router.bearing_height_mm": 7.0})
    assert pages_of(DEMO, lower) == pages_of(DEMO, BEARING_SHOP)
