"""Names of the single parts' files in the demo's folder: a part's slug in, the name that make gives out."""

PIECES = {
    "plate": 1,
    "bearer": 3,
    "end-bearer": 2,
    "stop": 1,
    "fence-or-back-strip": 4,
    "bevel-plate": 1,
    "taper-gauge": 1,
    "taper-scale": 1,
    "pad-strip": 1,
    "projection-gauge": 1,
    "foot-block-layer": 4,
    "foot-block-nose": 1,
    "foot-pad": 4,
    "coupon": 1,
    "mask-foot": 4,
    "leg-gauge": 1,
    "depth-gauge": 1,
    "housing-plug": 1,
    "brace-template": 1,
    "mask-for-slot-r": 1,
    "mask-for-slot-l": 1,
    "stock-strip": 2,
}
"""How many of each are cut, spares too."""


def cut_file(slug, form="dxf", words="kerf-0.20"):
    """With the cut's width in its lines, which [files] parts asks for."""
    return f"parts/{words}/potting-bench-{slug}-cut-{PIECES[slug]}-{words}.{form}"


def finished_file(slug, form="dxf"):
    """At finished size."""
    return f"parts/potting-bench-{slug}-cut-{PIECES[slug]}-finished-size.{form}"
