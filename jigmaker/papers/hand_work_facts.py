"""The figures and words of sheets for housings made with saw and chisel. mm, mm³, degrees."""

from collections.abc import Iterator

from jigmaker.geometry.frames import Frame
from jigmaker.papers.bench import Bench
from jigmaker.papers.facts import Fact
from jigmaker.parts.housing_saw.layout import lay_out_saw
from jigmaker.parts.housing_saw.paring_guide import PARING_GUIDE
from jigmaker.parts.housing_saw.saw_guide import SAW_GUIDE
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import SEATS, at_seat, board_solid, housing_solid, leg_solid


def hand_work_facts(bench: Bench) -> Iterator[Fact]:
    """Tools as told and what the guides come to; nothing where housings are not sawn."""
    kit = bench.kit
    if not kit.shop.saws_housings:
        return
    lay = lay_out_saw(kit.trestle, kit.shop)
    given = {
        "hand_saw.plate": lay.saw.plate_mm,
        "hand_saw.kerf": lay.saw.kerf_mm,
        "hand_saw.depth": lay.saw.depth_mm,
        "hand_saw.back": lay.saw.back_mm,
        "hand_saw.length": lay.saw.length_mm,
        "chisel.blade": lay.chisel.blade_mm,
    }
    yield from (Fact(name, mm, "given") for name, mm in given.items())
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


def wrong_face_mm3(trestle: Trestle) -> float:
    """What of a leg finds wood when the fence lay on the bottom face: the least of all four places, mm³.

    The housing then lies as if the board had been turned over about its length.
    """
    turned = Frame((0.0, 0.0, -trestle.job.top.thickness_mm), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, -1.0))
    left, leg = board_solid(trestle).minus(housing_solid(trestle).placed(turned)), leg_solid(trestle)
    return min(left.common(at_seat(leg, x, y)).volume for _, x, y in SEATS)
