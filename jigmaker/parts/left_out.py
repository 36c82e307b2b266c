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

INSTEAD_ON_PAPER = {
    **INSTEAD,
    "leg-gauge": "the widest leg is the test leg. Lay each other one beside it, a straight edge across both, on edge "
    "for the width and flat for the thickness: one slip of writing paper may go in over it, two may not",
    "housing-plug": "the test leg must go in by hand, pressed against one wall; feelers tell the play at the other",
    "taper-gauge": "slip feelers under a foot, or writing paper: ten slips are about 1 mm (0.04 in)",
    "taper-scale": "slip feelers under a foot, or writing paper: ten slips are about 1 mm (0.04 in)",
    "pad-strip": "lift the feet with wedges and card; for the saw to lie on, saw foot pads from another print",
}
"""The same where all is printed and sawn. Paper of 80 g/m2 is about 0.1 mm thick: common practice, no source."""

TOOLS = {
    "leg_width": ("leg-gauge", "leg gauge", "caliper"),
    "leg_thickness": ("leg-gauge", "leg gauge, side notch", "caliper"),
    "projection": ("projection-gauge", "gauge: tip just touches", "caliper"),
    "trial": ("housing-plug", "the plug, low end and high end", "it with a caliper and a leg"),
    "width": ("housing-plug", "housing plug: low in, high not", "caliper"),
    "fifth": ("housing-plug", "the plug", "caliper"),
    "depth": ("depth-gauge", "depth rod; then depth gauge", "depth rod"),
    "gap": ("taper-gauge", "the taper gauge", "feeler gauges"),
    "brace": ("brace-template", "the template", "your marks"),
}
"""What a step or a check of the set-up sheets is done with: the gauge that it needs, by slug; in words with it, and
without it where it is left out."""


TOOLS_ON_PAPER = {
    "leg_width": "test leg, slip of paper",
    "leg_thickness": "test leg, slip of paper",
    "trial": "it with the test leg",
    "width": "test leg and feeler",
    "fifth": "the test leg and feelers",
    "gap": "feelers, or slips of paper",
}
"""What does it where paper makes no gauge; all else as in TOOLS."""


def instead_of(shop: Shop) -> dict[str, str]:
    """What is used in place of each part that may be left out, by slug."""
    return INSTEAD_ON_PAPER if shop.machine.is_paper else INSTEAD


def tools_of(shop: Shop) -> dict[str, str]:
    """What each step or check is done with in this shop, by its name in TOOLS."""
    without = {name: other for name, (_, _, other) in TOOLS.items()} | (TOOLS_ON_PAPER if shop.machine.is_paper else {})
    return {name: without[name] if slug in shop.left_out else own for name, (slug, own, _) in TOOLS.items()}


def left_out_findings(shop: Shop) -> list[Finding]:
    """A caution (216) for each gauge that is left out, with what to use instead."""
    return [
        Finding(
            216,
            f"names {slug}, by which the work is set or checked",
            instead_of(shop)[slug],
            "shop kit.leave_out",
            severity="caution",
        )
        for slug in shop.kit.leave_out
        if slug in INSTEAD
    ]
