"""What is used in place of a part that the shop leaves out: Shop in, words and Findings out."""

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop

INSTEAD = {
    "projection-gauge": "set the cutter with a caliper, from the router's base to the tip",
    "leg-gauge": "measure width and thickness of every leg with a caliper, at both ends and the middle",
    "housing-plug": "measure the housing with a caliper, wall to wall and square to the walls",
    "depth-gauge": "measure both depths with a depth rod, from a straight edge over the board's edge",
    "taper-gauge": "measure the gap under a foot with feeler gauges",
    "taper-scale": "measure the gap under a foot with feeler gauges",
    "pad-strip": "lift the feet with shims, and measure them with a caliper",
    "brace-template": "mark the braces with rule and bevel, by the figures of their set-up sheet",
}
"""By slug; the coupon is not among them: nothing of the kit is set by it."""


def left_out_findings(shop: Shop) -> list[Finding]:
    """A caution (216) for each gauge that is left out, with what to use instead."""
    return [
        Finding(
            216,
            f"names {slug}, by which the work is set or checked",
            INSTEAD[slug],
            "shop kit.leave_out",
            severity="caution",
        )
        for slug in shop.kit.leave_out
        if slug in INSTEAD
    ]
