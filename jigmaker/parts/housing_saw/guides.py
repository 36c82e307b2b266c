"""Saw guides and paring guide of a shop that saws its housings: Trestle and Shop in, Parts and Findings out; mm."""

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop
from jigmaker.parts.bed_rules import BAND_LEAST_MM
from jigmaker.parts.housing_jig.jig import off_cut_mm
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.housing_saw.layout import SawLayout, lay_out_saw
from jigmaker.parts.housing_saw.paring_guide import paring_guide_parts
from jigmaker.parts.housing_saw.saw_guide import saw_guide_parts
from jigmaker.parts.least_sizes import LeastSize, too_small
from jigmaker.parts.part import Part
from jigmaker.trestle.records import Trestle

LEAST_SHEET_MM = 6.0  # thinner cheeks spring; from memory, no source
LEAST_STROKE_MM = 80.0  # a saw that moves less does not clear its teeth; common practice, no source
LEAST_UNDER_WINDOW_MM = 47.0  # fence under the window: the ribs' tenon, and a band for clamps


def hand_guide_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """Two saw guides and one paring guide; nothing where housings are not sawn."""
    if not shop.saws_housings:
        return ()
    lay = lay_out_saw(trestle, shop)
    return (*saw_guide_parts(lay, trestle.job, shop), *paring_guide_parts(lay, shop))


def trial_piece_mm(trestle: Trestle, shop: Shop) -> float:
    """The least length of a piece of top board for trial housings, mm: each hand's at its own end."""
    if shop.routs_housings:
        return off_cut_mm(lay_out_jigs(trestle, shop)[0])
    return -lay_out_saw(trestle, shop).left_end


_LIMITS: tuple[LeastSize[SawLayout], ...] = (
    (
        221,
        lambda lay: (lay.saw.depth_mm, lay.least_saw_depth),
        "the hand saw reaches {0}, the saw guide needs {1}",
        "use a deeper saw, or a saw without a back and a batten clamped on it at that depth",
        "shop hand_saw.depth",
    ),
    (
        222,
        lambda lay: (lay.stroke_left, LEAST_STROKE_MM),
        "the hand saw is too short for its guide: {0} are left to move it",
        "use a longer saw: {1} must be left",
        "shop hand_saw.length",
    ),
    (
        223,
        lambda lay: (lay.sheet, LEAST_SHEET_MM),
        "the sheet is {0} thick: cheeks so thin spring when the saw leans on them",
        "cut the kit from a sheet {1} thick or more",
        "shop sheet.thickness",
    ),
    (
        224,
        lambda lay: (lay.ramp_length, lay.least_ramp),
        "the chisel leaves a ramp of {0} to lie on",
        "use a longer chisel: the ramp must be {1} or more",
        "shop chisel.blade",
    ),
    (
        321,
        lambda lay: (lay.inset, lay.least_inset),
        "the inset, {0}, leaves no room for the saw guide's stop and bearer",
        "make the inset {1} or more",
        "job trestle.inset",
    ),
    (
        322,
        lambda lay: (lay.fence_depth - lay.lug_depth, BAND_LEAST_MM),
        "below the saw guide's lugs {0} of the top are left to hold it by",
        "use a wider top: {1} must be left",
        "job top.width",
    ),
    (
        323,
        lambda lay: (lay.paring_depth + lay.window_floor, LEAST_UNDER_WINDOW_MM),
        "below the paring guide's window {0} of the top are left to hold it by",
        "use a wider top: {1} must be left",
        "job top.width",
    ),
    (
        324,
        lambda lay: (lay.top_length, -lay.left_end),
        "the top, {0} long, is shorter than the saw guide, which needs {1}",
        "use a longer top, or a smaller inset",
        "job top.length",
    ),
)


def check_hand_guides(trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """Whether this saw and this chisel can make the housings with guides on this board."""
    if not shop.saws_housings:
        return
    if shop.housing_work.by is None:
        says = "does not say how housings are made; there is no [hand_router], so guides for saw and chisel are made"
        do = 'write [housing_work] with by = "saw and chisel"'
        yield Finding(225, says, do, "shop housing_work.by", severity="caution")
    yield from too_small(_LIMITS, lay_out_saw(trestle, shop), trestle.job.unit)
