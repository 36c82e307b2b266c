"""What papers and parts must say of the routing jig and of the hand router, by name; mm, degrees, words."""

from math import ceil

from jigmaker.job.job import Job
from jigmaker.job.practice import BUSH_MM, CUTTER_MM, OFF_CENTRE_MM, PRACTICE, fit_word
from jigmaker.job.shop import Shop
from jigmaker.proof.checks.measured import Unmeasured, missing_finding
from jigmaker.proof.expected_numbers import expected_jig
from jigmaker.proof.use.jig import JigAsCut
from jigmaker.proof.words.figures import AsCut, Value

_OF_ROUTER = {
    "router.bush": "bush_mm",
    "router.cutter": "cutter_mm",
    "router.cutter_reach": "cutter_reach_mm",
    "router.stops": "stops",
}
"""Facts that are what shop.toml says of the hand router: the router's field of each."""


def jig_facts(jig: JigAsCut) -> dict[str, Value]:
    """The jig's settings; its standoff and what clamps take as the parts were cut."""
    job, shop = jig.job, jig.shop
    # As declared, which is held to the bearers as cut.
    standoff = jig.settings.get("standoff", jig.standoff_mm)
    figures = expected_jig(job, shop, standoff)
    pieces = jig.pieces("R")
    strips = [piece.solid.bounds[0][1] for piece in pieces if piece.name.startswith(("fence", "back strip"))]
    others = [piece.solid.bounds[0][1] for piece in pieces if not piece.name.startswith(("fence", "back strip"))]
    if not strips or not others:
        raise Unmeasured(missing_finding("housing jig", "kit.json places no fence, no back strip or nothing else"))
    # An offcut reaches from stop to stop, or is as long as a plate for one hand.
    long, plate = jig.stop_plane("R") - jig.stop_plane("L"), jig.plate("R").cut.material.bounds
    floor = jig.plate("R").declared.thickness_mm + standoff
    # Projections before the last: the walls are trimmed in steps alike, none deeper than takes as much wood as a full
    # cut; the last of them leaves the floor.
    depth, deepest = figures["projection_mm"] - floor, PRACTICE["practice.pass"].mm
    walls = depth - min(deepest, depth)
    trim = shop.router.cutter_mm * deepest / PRACTICE["practice.inside"].mm
    count = max(shop.router.stops - 1, ceil(walls / trim - 1e-9)) if walls else 0
    stops = tuple(floor + walls * (i + 1) / count for i in range(count))
    return {
        "angles.plate_tilt": figures["plate_tilt_deg"],
        "jig.plate_tilt": figures["plate_tilt_deg"],
        "jig.board_lean": figures["plate_tilt_deg"],
        "jig.standoff": standoff,
        "jig.guide_offset": figures["guide_offset_mm"],
        "jig.slot_width": figures["slot_width_mm"],
        "jig.bush_play": figures["slot_width_mm"] - shop.router.bush_mm,
        "jig.projection": figures["projection_mm"],
        "jig.joint": shop.sheet.thickness_spread_mm + shop.sheet.joint_clearance_mm,
        "jig.mortise": shop.sheet.thickness_mm + shop.sheet.thickness_spread_mm + shop.sheet.joint_clearance_mm,
        "jig.sheet": shop.sheet.thickness_mm,
        "jig.throat": AsCut(job.top.width_mm + (min(strips) + min(others)) / 2),
        "jig.off_cut": AsCut(long if jig.plate("R") is jig.plate("L") else plate[2] - plate[0]),
        "jig.stop_to_stop": AsCut(long),
        "stops.before_last": stops,
        **{f"stops.{number}": mm for number, mm in enumerate(stops, 1)},
    }


def router_facts(job: Job, shop: Shop) -> dict[str, Value]:
    """The router as the shop gives it, and how a leg goes into a housing that it has cut."""
    clearance, bearing = job.housing.clearance_mm, shop.router.is_bearing_guided
    off = 2 * shop.machine.accuracy_mm + CUTTER_MM + (0.0 if bearing else BUSH_MM)
    # At the worst leg and housing are each off by what machine, cutter and bush may be, the same way.
    least, most = clearance - off, clearance + off + (0.0 if bearing else 2 * OFF_CENTRE_MM)
    return {
        **{name: getattr(shop.router, field) for name, field in _OF_ROUTER.items()},
        **({"router.bearing": "BEARING"} if bearing else {}),
        "play.as_cut_least": least,
        "play.as_cut_most": most,
        "fit.asked": fit_word(clearance),
        "fit.as_cut_least": fit_word(least),
        "fit.as_cut_most": fit_word(most),
    }
