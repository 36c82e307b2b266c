"""The figures and words of one job that sheets use, by name, and what is so for it. mm, degrees."""

from collections.abc import Iterator
from dataclasses import fields
from math import ceil, degrees, radians, tan

from jigmaker.cutting.cut_picture import reference_words
from jigmaker.cutting.holding import SCREW_CLEAR_MM, How, holdings, is_told, names_held
from jigmaker.first_off.play import play
from jigmaker.first_off.tape_checks import tape_checks
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.practice import FENCE_SCREW, HANDS_AWAY, PRACTICE, STOP_BOLT, fit_word
from jigmaker.papers.bench import Bench, size_facts
from jigmaker.papers.directions import direction_facts
from jigmaker.papers.facts import Fact, ReadAs, of_all_sizes
from jigmaker.papers.hand_work_facts import cradle_facts, hand_work_facts, has_template, template_facts, wedge_facts
from jigmaker.papers.pictures.saw_setups import NONE_DEG
from jigmaker.papers.setup_sheets.router_stops import router_stops
from jigmaker.papers.standing_now import as_glued, rock_of_winding, travel_over_play
from jigmaker.papers.wording import fine_text, rule_text
from jigmaker.parts.bevel_flanks import SQUARE, wanted_uses
from jigmaker.parts.bevel_plate import plates_for
from jigmaker.parts.bevel_size import size_on_bed
from jigmaker.parts.brace_template import notch_of
from jigmaker.parts.drilling_template import SEEN_MM, lay_out_template
from jigmaker.parts.housing_jig.layout import tilt_deg
from jigmaker.parts.housing_saw.guides import trial_piece_mm
from jigmaker.parts.left_out import INSTEAD, instead_of, tools_of
from jigmaker.parts.leg_saw.leg_cradle import LEG_CRADLE
from jigmaker.parts.relief import mortise_width
from jigmaker.parts.wedges import SLIPPERY_DEG, lay_out_wedges
from jigmaker.trestle.cut_list import turns_legs
from jigmaker.trestle.fixings import fixings, leg_marks
from jigmaker.units import caliper_text

_READ: dict[str, ReadAs] = {
    "leg.width": "given",
    "leg.thickness": "given",
    "housing.width": "caliper",
    "housing.depth_square": "fine",
    "housing.depth_top": "fine",
    "housing.depth_bottom": "fine",
    "brace.depth": "given",
    "brace.thickness": "given",
    "brace.gap": "fine",
}
"""How a solved length is read where a rule or tape is not what reads it."""

STEEP_DEG = 20.0
"""A plate that tilts more off the level lets a router slide: common practice, no source."""


def fact_table(bench: Bench) -> dict[str, Fact]:
    """Every fact by its name; what differs from size to size has the value of each."""
    by_hand = (hand_work_facts, cradle_facts, template_facts, wedge_facts)
    groups = (_batch, _jig, _flanks, _cutting, direction_facts, *by_hand)
    facts = {fact.name: fact for group in groups for fact in group(bench)}
    # What play and winding do at the feet of the highest size, where they do most.
    highest = max((size.kit.trestle for size in bench.sizes), key=lambda trestle: trestle.job.height_mm)
    rock_mm = rock_of_winding(highest, PRACTICE["limit.winding"].mm)
    facts["press.travel"] = Fact("press.travel", travel_over_play(highest), "rule")
    facts["rock.of_winding"] = Fact("rock.of_winding", rock_mm, "fine")
    for name, figure in PRACTICE.items():
        how: ReadAs = "limit" if name.startswith("limit.") else "given"
        facts[name] = Fact(name, figure.mm, how, source=figure.source)
    of_size = (_solved, _asked, _standing)
    each = [{fact.name: fact for group in of_size for fact in group(size)} for size in bench.sizes]
    return facts | of_all_sizes(bench.size_names, each) | size_facts(bench)


def off_cut_fact(bench: Bench) -> dict[str, Fact]:
    """The one fact that the cut list states too."""
    return {fact.name: fact for fact in _fixed(bench) if fact.name == "jig.off_cut"}


def what_is_so(bench: Bench) -> dict[str, bool]:
    """What a line or a whole sheet may depend on."""
    job, shop, angles = bench.kit.trestle.job, bench.kit.shop, bench.kit.trestle.angles
    found = fixings(bench.kit.trestle)
    return {
        "several": job.all_trestles > 1,
        "sizes": len(job.sizes) > 1,
        "glued": job.housing.joint == "glued",
        "raked": job.rake_deg != 90,
        "splayed": job.splay_deg != 90,
        "leans": (job.rake_deg, job.splay_deg) != (90, 90),
        "steep": 90 - job.splay_deg > STEEP_DEG,
        "brace tilt": abs(angles.brace_end_tilt_deg) > NONE_DEG,
        "screws": bool(found.screws),
        "horn": job.leg.horn_mm > 0,
        "trim": job.leg.trim_mm > 0,
        "reveal": job.housing.reveal_mm > 0,
        "mitre": angles.saw_mitre_deg != 0,
        "tilt": angles.saw_tilt_deg != 0,
        "leg screws": found.legs is not None,
        "one leg screw": found.legs is not None and len(found.legs.marks) == 2,
        "brace screws": found.braces is not None,
        "routed": shop.routs_housings,
        "sawn housings": shop.saws_housings,
        "cradle": any(part.assembly == LEG_CRADLE for part in bench.kit.parts),
        "turned legs": turns_legs(bench.kit.trestle, shop),
        "tilting saw": shop.leg_saw.kind == "tilting",
        "leg box": shop.leg_saw.kind == "hand",
        "box halves": "leg-box-right-half" in {part.slug for part in bench.kit.parts},
        **_jigs_are_so(bench),
        **{slug: slug not in shop.left_out for slug in ("coupon", *INSTEAD)},
        **_machine_is_so(bench),
    }


def _jigs_are_so(bench: Bench) -> dict[str, bool]:
    """What of it the kit's jigs decide; all of a jig that the kit is without is not so."""
    trestle, shop = bench.kit.trestle, bench.kit.shop
    routed = bench.kit.layout if shop.routs_housings else None
    template = lay_out_template(trestle, shop) if has_template(bench) else None
    wedges = lay_out_wedges(trestle, shop)
    return {
        "stops serve": routed is not None and len(_stops(bench)) <= shop.router.stops,
        "both hands": routed is not None and routed.hands == "both",
        "parks clear": routed is not None and routed.parks_clear,
        "bearing": routed is not None and shop.router.is_bearing_guided,
        # What the drilling template tells apart, and how it guides.
        "template": template is not None,
        "template gap": template is not None and template.gap_shows,
        "template hand": template is not None and template.has_hand,
        "template gape": template is not None and template.gape >= SEEN_MM,
        "template holes": template is not None and any(len(hole.hands) == 1 for hole in template.holes),
        "beside the edge": template is not None and len(leg_marks(trestle)) == 1,
        "pricked": template is not None and template.only_pricks,
        "clamping wedges": wedges is not None and wedges.clamps,
        "leaning wedges": wedges is not None and bool(wedges.leanings),
        # Whether wood alone holds on their slope.
        "slippery": wedges is not None and 90 - wedges.splay_deg >= SLIPPERY_DEG - TOUCH_MM,
    }


def _machine_is_so(bench: Bench) -> dict[str, bool]:
    """What of it the machine decides."""
    shop, machine = bench.kit.shop, bench.kit.shop.machine
    held = {each.how for each in holdings(bench.kit.parts, machine)} if is_told(machine) else set[How]()
    is_bridged = "bridges" in held
    return {
        "laser": machine.kind == "laser",
        "cnc": machine.kind == "cnc",
        "paper": machine.is_paper,
        "note": shop.layers["note"].write,
        "marked bridges": is_bridged and machine.compensation != "included" and shop.layers["bridge"].write,
        "open bridges": is_bridged and machine.compensation != "left out",
        "some bridged": is_bridged,
        "some screwed": "screw" in held,
        "some taped": "tape" in held,
        "scored": machine.marking != "none",
        "kerf included": machine.compensation == "included",
        "kerf left out": machine.compensation == "left out",
        "kerf both": machine.compensation == "both",
    }


def _solved(bench: Bench) -> Iterator[Fact]:
    """What the trestle comes to; each is a figure of numbers.json under the same group and name."""
    # Names follow from the records' own fields: angle "saw_mitre_deg" is the fact angles.saw_mitre, length
    # "leg.blank_mm" is leg.blank.
    trestle = bench.kit.trestle
    for field in fields(trestle.angles):
        name = field.name.removesuffix("_deg")
        yield Fact(f"angles.{name}", getattr(trestle.angles, field.name), "angle", f"angles_deg.{name}")
    for group in ("leg", "housing", "brace", "foot"):
        record = getattr(trestle, group)
        for field in fields(record):
            name, _, unit = field.name.rpartition("_")
            reading: ReadAs = "volume" if unit == "mm3" else _READ.get(f"{group}.{name}", "rule")
            yield Fact(f"{group}.{name}", getattr(record, field.name), reading, f"{group}.{field.name}")
    yield Fact(
        "leg.along_over_height", f"{trestle.leg.length_mm / trestle.job.height_mm:.3f}", "words", told_as="ratio"
    )


def _asked(bench: Bench) -> Iterator[Fact]:
    """What job.toml and shop.toml say."""
    job, shop = bench.kit.trestle.job, bench.kit.shop
    given = {
        "trestle.height": job.height_mm,
        "trestle.inset": job.inset_mm,
        "top.length": job.top.length_mm,
        "top.width": job.top.width_mm,
        "top.thickness": job.top.thickness_mm,
        "leg.horn": job.leg.horn_mm,
        "leg.trim": job.leg.trim_mm,
        "housing.clearance": job.housing.clearance_mm,
        "housing.reveal": job.housing.reveal_mm,
        "sheet.length": shop.sheet.length_mm,
        "sheet.width": shop.sheet.width_mm,
    }
    caliper = {"sheet.thickness": shop.sheet.thickness_mm, "machine.tool": shop.machine.tool_mm}
    if shop.routs_housings:
        router = shop.router
        caliper |= {"router.bush": router.bush_mm, "router.cutter": router.cutter_mm}
        caliper["router.cutter_reach"] = router.cutter_reach_mm
        yield Fact("router.stops", router.stops, "number")
    yield from (Fact(name, mm, "given") for name, mm in given.items())
    yield from (Fact(name, mm, "caliper") for name, mm in caliper.items())
    yield Fact("machine.accuracy", shop.machine.accuracy_mm, "limit")
    yield Fact("machine.or_hand", "saw and file" if shop.machine.is_paper else "machine", "prose")
    yield Fact("machine.tool_name", "kerf" if shop.machine.kind == "laser" else "cutter", "words")
    what, size = reference_words(bench.sheets, shop)
    yield from (Fact("files.reference", what, "words"), Fact("files.reference_size", size, "words", told_as="file"))
    yield Fact("sheet.material", shop.sheet.material, "words")
    # What a measure is taken with, and what is done where a gauge is not cut.
    yield from (Fact(f"tool.{name}", words, "prose") for name, words in tools_of(shop).items())
    yield from (Fact(f"instead.{slug.replace('-', '_')}", words, "prose") for slug, words in instead_of(shop).items())


def _cutting(bench: Bench) -> Iterator[Fact]:
    """How a CNC machine is set, and what holds the pieces that hang on no bridge."""
    shop = bench.kit.shop
    machine, into_board = shop.machine, PRACTICE["practice.into_board"].mm
    # The cutter goes through the sheet and a little into what lies under it, no deeper at once than it is wide.
    depth = shop.sheet.thickness_mm + into_board
    yield Fact("machine.depth", depth, "caliper")
    yield Fact("machine.into_board", into_board, "caliper")
    if machine.kind == "cnc":
        yield Fact("machine.passes", ceil(depth / machine.tool_mm), "number")
    yield Fact("machine.bridge", machine.bridge_width_mm, "given")
    yield Fact("machine.screw_clear", machine.tool_mm + SCREW_CLEAR_MM, "rule")
    for operation in ("bridge", "note"):
        yield Fact(f"layers.{operation}", shop.layers[operation].name, "words")
    held = holdings(bench.kit.parts, machine) if is_told(machine) else ()
    yield Fact("held.screwed", names_held(held, "screw"), "words")
    yield Fact("held.taped", names_held(held, "tape"), "words")


def _batch(bench: Bench) -> Iterator[Fact]:
    """How many of what, and which screws."""
    n, parts = bench.kit.trestle.job.all_trestles, bench.kit.parts
    counts = {
        "trestles": n,
        "tops": n,
        "legs": 4 * n,
        "legs_and_spare": 4 * n + 1,
        "braces": 2 * n,
        "braces_and_spare": 2 * n + 1,
        "housings": 4 * n,
        "housings_a_hand": 2 * n,
        "pieces": sum(part.pieces for part in parts),
        "sheets": len(bench.sheets),
        "jigs": len(bench.kit.layouts),
        "plain_bearers": sum(part.needed for part in parts if part.name == "bearer"),
        "jig_pieces": sum(part.needed for part in parts if part.assembly == "housing jig"),
    }
    yield from (Fact(f"batch.{name}", count, "number") for name, count in counts.items())
    found = fixings(bench.kit.trestle)
    two = "screws are" if found.legs and len(found.legs.marks) == 4 else "screw is"
    where = f"; and where each leg's {two}." if found.legs else ", clamped over wedges."
    yield Fact("gluing.caption", f"On the flat reference{where}", "prose")
    joints = (("leg_screw", "leg to board", found.legs), ("brace_screw", "brace to leg", found.braces))
    for name, joins, pattern in joints:
        if pattern:
            size = pattern.size
            yield Fact(f"{name}.name", size.name, "words")
            yield Fact(f"{name}.count", n * sum(screw.joins == joins for screw in found.screws), "number")
            yield Fact(f"{name}.hole", size.clearance_hole_mm, "given")
            yield Fact(f"{name}.pilot", size.pilot_mm, "given")
            yield Fact(f"{name}.hard_pilot", size.hardwood_pilot_mm, "given")


def _jig(bench: Bench) -> Iterator[Fact]:
    """Settings of jig and gauges."""
    kit, limits = bench.kit, bench.kit.limits
    caliper = {
        "jig.joint": mortise_width(kit.shop) - kit.shop.sheet.thickness_mm,
        "jig.mortise": mortise_width(kit.shop),
        "leg_gauge.go": limits.go_mm,
        "leg_gauge.no_go": limits.no_go_mm,
        "plug.low": limits.low_mm,
        "plug.high": limits.high_mm,
        "play.least": limits.low_mm - limits.go_mm,
        "play.most": limits.high_mm - limits.no_go_mm,
        "play.asked": kit.trestle.job.housing.clearance_mm,
    }
    if kit.shop.routs_housings:
        layout = kit.layout
        caliper |= {
            "jig.standoff": layout.standoff,
            "jig.guide_offset": layout.guide_offset,
            "jig.slot_width": layout.slot_width,
            "jig.projection": layout.projection,
            "jig.bush_play": layout.slot_width - 2 * layout.bush_radius,
        }
    proved = ("standoff", "guide_offset", "slot_width", "projection")
    for name, mm in caliper.items():
        group, _, key = name.partition(".")
        yield Fact(name, mm, "caliper", f"jig.{key}_mm" if group == "jig" and key in proved else "")
    yield from _fixed(bench)
    if not kit.shop.routs_housings:
        return
    cut = play(kit.trestle.job, kit.shop)
    for name, mm in (("asked", cut.asked_mm), ("as_cut_least", cut.least_mm), ("as_cut_most", cut.most_mm)):
        yield Fact(f"fit.{name}", fit_word(mm), "words")
    # A play below 0 is a figure too: the leg is that much wider than its housing.
    yield Fact("play.as_cut_least", caliper_text(cut.least_mm, bench.unit), "words", told_as="caliper")
    yield Fact("play.as_cut_most", caliper_text(cut.most_mm, bench.unit), "words", told_as="caliper")


def _fixed(bench: Bench) -> Iterator[Fact]:
    """What the jig is held by, and what is tried on it."""
    trestle, unit = bench.kit.trestle, bench.unit
    yield Fact("fence_screw", FENCE_SCREW[unit], "words")
    yield Fact("hands_away", HANDS_AWAY[unit], "words")
    yield Fact("jig.off_cut", trial_piece_mm(trestle, bench.kit.shop), "rule")
    if not bench.kit.shop.routs_housings:
        return
    layout = bench.kit.layout
    # From the board's far edge to the middle of the band that clamps take.
    yield Fact("jig.throat", trestle.job.top.width_mm - (layout.strip_depth + layout.lug_depth) / 2, "rule")
    yield Fact("jig.plate_tilt", tilt_deg(layout), "angle", "jig.plate_tilt_deg")
    # A board that leans back by as much off plumb holds the plate level.
    yield Fact("jig.board_lean", tilt_deg(layout), "angle", "jig.plate_tilt_deg")
    yield Fact("stop_bolt", STOP_BOLT[unit], "words")
    yield Fact(
        "stops.before_last", ", ".join(fine_text(mm, unit) for mm in _stops(bench)[:-1]), "words", told_as="fines"
    )


def _stops(bench: Bench) -> tuple[float, ...]:
    layout = bench.kit.layout
    return router_stops(layout, bench.kit.shop.router.stops)


def _standing(bench: Bench) -> Iterator[Fact]:
    """Before its feet are levelled a trestle is as much higher, and wider, as its trim is upright; so it is checked
    with a tape, five ways.
    """
    trestle = bench.kit.trestle
    glued = as_glued(trestle)
    yield Fact("as_glued.height", glued.job.height_mm, "rule")
    yield Fact("as_glued.along", glued.foot.spread_along_mm, "rule")
    yield Fact("as_glued.across", glued.foot.spread_across_mm, "rule")
    yield Fact("press.play", 1.0, "fine")
    yield Fact("brace.undercut", trestle.brace.thickness_mm * tan(radians(trestle.angles.brace_end_tilt_deg)), "fine")
    for check in tape_checks(glued, bench.kit.shop):
        name = f"tape.{check.key}"
        # All lines of a check are alike by design; where they are not, each is given.
        wanted = dict.fromkeys(rule_text(line.wanted_mm, bench.unit) for line in check.lines)
        yield Fact(name, " / ".join(wanted), "words", told_as="rule")
        yield Fact(f"{name}.limit", check.limit_mm, "limit")
        yield Fact(f"{name}.name", check.name, "prose")
        between = "; ".join(f"{line.start_name} to {line.end_name}" for line in check.lines)
        yield Fact(f"{name}.between", between.replace("foot ", ""), "words")
        yield Fact(f"{name}.tells", check.tells, "prose")


def _flanks(bench: Bench) -> Iterator[Fact]:
    """Which flank a bevel is set to for each use, and what the machine's accuracy makes of it."""
    trestle, shop, unit = bench.kit.trestle, bench.kit.shop, bench.unit
    notch, accuracy = notch_of(trestle, shop), shop.machine.accuracy_mm
    for use in wanted_uses(trestle, shop):
        where = " of the brace template" if notch and use in notch.flank.uses else ""
        yield Fact(f"flank.{use.name.replace(' ', '_')}", f"flank {use.name.upper()}{where}", "words")
    size = size_on_bed(plates_for(trestle, shop), shop, unit)
    # One end of a flank off by the accuracy turns it by that over its length; both ends of flank and reference edge,
    # each the worse way, by twice that over either length.
    long = size.flank_length(SQUARE)
    yield Fact("flank.length", long, "rule")
    yield Fact("flank.off", degrees(accuracy / long), "degrees")
    yield Fact("flank.off_both", degrees(2 * accuracy / long) + degrees(2 * accuracy / size.width), "degrees")
