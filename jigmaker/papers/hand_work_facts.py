"""The figures and words of sheets for work with hand tools: housings, legs sawn in a box, drilled. mm, mm³, degrees."""

from collections.abc import Iterator

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.vectors import cross, scale
from jigmaker.papers.bench import Bench
from jigmaker.papers.facts import Fact
from jigmaker.parts.drilling_template import DRILLING_TEMPLATE, lay_out_template
from jigmaker.parts.housing_saw.layout import lay_out_saw
from jigmaker.parts.housing_saw.paring_guide import PARING_GUIDE
from jigmaker.parts.housing_saw.saw_guide import SAW_GUIDE
from jigmaker.parts.leg_saw.leg_box import LEG_BOX, lay_out_box, turned_deg
from jigmaker.parts.leg_saw.leg_cradle import LEG_CRADLE, lay_out_cradle
from jigmaker.parts.wedges import lay_out_wedges
from jigmaker.trestle.fixings import leg_marks
from jigmaker.trestle.leg import leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import SEATS, at_seat, board_solid, housing_solid, leg_solid


def hand_work_facts(bench: Bench) -> Iterator[Fact]:
    """Tools as told, and what guides and leg box come to."""
    kit = bench.kit
    if saw := kit.shop.hand_saw:
        given = {"plate": saw.plate_mm, "kerf": saw.kerf_mm, "depth": saw.depth_mm, "back": saw.back_mm}
        yield from (Fact(f"hand_saw.{key}", mm, "given") for key, mm in (given | {"length": saw.length_mm}).items())
    if kit.shop.leg_saw.kind == "hand":
        yield Fact("leg_box.pieces", sum(part.needed for part in kit.parts if part.assembly == LEG_BOX), "number")
        yield Fact("leg_box.slot", lay_out_box(kit.trestle, kit.shop).slot, "caliper")
        yield from (Fact(f"leg_box.{how}", deg, "degrees") for how, deg in turned_deg(kit.trestle).items())
    if not kit.shop.saws_housings:
        return
    lay = lay_out_saw(kit.trestle, kit.shop)
    yield Fact("chisel.blade", lay.chisel.blade_mm, "given")
    yield Fact("saw_guide.spacer", lay.spacer_width, "caliper")
    yield Fact("saw_guide.wrong_face", wrong_face_mm3(kit.trestle), "volume")
    # On the bottom face the guide's ramp has the slope of the floor turned over: the one face's depth at the other.
    yield Fact("paring_guide.too_deep", lay.top_thickness * lay.cot_splay, "rule")
    # A board that leans back by as much off plumb holds the floor level and the saw upright.
    yield Fact("saw_guide.board_lean", 90 - lay.splay_deg, "angle", "jig.plate_tilt_deg")
    yield Fact("saw_guide.throat", lay.top_width - (lay.fence_depth + lay.lug_depth) / 2, "rule")
    for name, assembly in (("saw_guide", SAW_GUIDE), ("paring_guide", PARING_GUIDE)):
        places = [place for part in kit.parts if part.assembly == assembly for place in part.placements]
        yield Fact(f"{name}.pieces", sum(place.state != "L" for place in places), "number")
    at = {place.name: place.assembly_from_part.origin for part in kit.parts for place in part.placements}
    for hand in ("R", "L"):
        # Jig frame: X to the operator's right; the housing is sawn beside its cheeks, the stop is at the board's end.
        end = "right" if at[f"stop {hand}"][0] > at[f"far cheek {hand}"][0] else "left"
        yield Fact(f"saw_guide.stop_{hand}", end, "direction")
        if not kit.shop.routs_housings:
            yield Fact(f"rout.end_{hand}", end, "direction")
    face = "top" if at["saw guide fence R"][2] > -lay.top_thickness / 2 else "bottom"
    yield Fact("saw_guide.fence", face, "direction")


def cradle_facts(bench: Bench) -> Iterator[Fact]:
    """What the sloping cradle comes to, and which way the saw swings on it; nothing where the kit has none."""
    kit = bench.kit
    places = {place.name: part for part in kit.parts if part.assembly == LEG_CRADLE for place in part.placements}
    if not places:
        return
    lay = lay_out_cradle(kit.trestle, kit.shop)
    yield Fact("cradle.pieces", len(places), "number")
    yield Fact("cradle.from_blade", lay.from_blade, "rule")
    yield Fact("cradle.waste", lay.waste, "rule")
    # A half turn about the upright reverses what of the ends' plane runs through the leg's thickness and no more of it.
    yield Fact("cradle.wrong_turn", 2 * (90 - kit.trestle.job.splay_deg), "degrees")
    # Cradle frame: x to the operator's right; a rib's highest point is at its left end where the leg rises to the left.
    highest, _ = max(places["cradle near rib"].outline.corners, key=lambda corner: corner[1])
    high, low = ("left", "right") if highest < lay.length / 2 else ("right", "left")
    yield Fact("cradle.high", high, "direction")
    yield Fact("cradle.low", low, "direction")
    # Outer wide face down, foot to the right: where the foot's plane looks toward the operator, the cut's far end
    # swings to the right; for the other end, tumbled, the same plane looks the other way.
    down, wide, _ = leg_directions(kit.trestle)
    away = cross(scale(wide, -1.0), down)
    first, second = ("right", "left") if -away[2] < 0 else ("left", "right")
    yield Fact("cradle.first", first if lay.swings else "", "direction")
    yield Fact("cradle.second", second if lay.swings else "", "direction")


def wedge_facts(bench: Bench) -> Iterator[Fact]:
    """How jaws and clamps are set for wedges; nothing in a kit without any."""
    kit = bench.kit
    lay = lay_out_wedges(kit.trestle, kit.shop)
    if lay is None:
        return
    yield Fact("wedge.layers", lay.layers, "number")
    yield Fact("wedge.which", "front wedges" if lay.leanings else "the wedges", "prose")
    yield Fact("wedge.clamp_apart", lay.clamp_apart(kit.trestle.job), "rule")
    yield Fact("wedge.under_head", lay.under_head(kit.trestle.job), "given")
    for use in lay.leanings:
        yield Fact(f"wedge.jaws_{use}", lay.jaws_apart(use), "rule")
        yield Fact(f"wedge.jaw_top_{use}", -lay.jaw_top(use), "rule")


def has_template(bench: Bench) -> bool:
    """True for a kit with a drilling template."""
    return any(part.assembly == DRILLING_TEMPLATE for part in bench.kit.parts)


def template_facts(bench: Bench) -> Iterator[Fact]:
    """The drill, and how a leg is told that lies wrong; nothing in a kit without a drilling template."""
    lay = lay_out_template(bench.kit.trestle, bench.kit.shop)
    if lay is None or not has_template(bench):
        return
    yield Fact("template.drill", lay.drill, "given")
    yield Fact("template.gap", lay.gap, "fine")
    yield Fact("template.nearer", lay.nearer, "fine")
    yield Fact("template.gape", lay.gape, "rule")
    # Its marked face looks out of the leg where the side strip is at the left, on R legs.
    yield Fact("template.face", "R", "direction")
    yield Fact("template.other_face", "L", "direction")
    for mark in leg_marks(bench.kit.trestle):
        yield Fact(f"leg_screw.{mark.name}_edge", mark.side, "direction")
    yield Fact(
        "template.pieces", sum(part.needed for part in bench.kit.parts if part.assembly == DRILLING_TEMPLATE), "number"
    )


def wrong_face_mm3(trestle: Trestle) -> float:
    """What of a leg finds wood when the fence lay on the bottom face: the least of all four places, mm³.

    The housing then lies as if the board had been turned over about its length.
    """
    turned = Frame((0.0, 0.0, -trestle.job.top.thickness_mm), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
    left, leg = board_solid(trestle).minus(housing_solid(trestle).placed(turned)), leg_solid(trestle)
    return min(left.common(at_seat(leg, x, y)).volume for _, x, y in SEATS)
