"""The kit: every part for one trestle and one shop. Trestle and Shop in, Kit out; part frames, mm."""

from collections.abc import Callable
from dataclasses import replace

from jigmaker.job.shop import Shop
from jigmaker.parts.bevel_plate import bevel_plates
from jigmaker.parts.brace_template import brace_template_parts
from jigmaker.parts.coupon import coupon_parts
from jigmaker.parts.drilling_template import drilling_template_parts
from jigmaker.parts.foot_block import foot_block_parts
from jigmaker.parts.gauge_limits import Limits, gauge_limits
from jigmaker.parts.gauges import gauge_parts
from jigmaker.parts.housing_jig.jig import housing_jig_parts, jig_settings
from jigmaker.parts.housing_jig.layout import JigLayout, lay_out_jigs
from jigmaker.parts.housing_saw.guides import hand_guide_parts
from jigmaker.parts.kit_number import kit_number, with_number
from jigmaker.parts.leg_saw.leg_saw import leg_saw_parts
from jigmaker.parts.mark_list import short_name
from jigmaker.parts.pad_strip import pad_strip_parts
from jigmaker.parts.part import Part, Setting
from jigmaker.parts.wedges import wedge_parts
from jigmaker.record import dataclass
from jigmaker.trestle.records import Trestle


@dataclass(frozen=True, slots=True, eq=False)
class Kit:
    """Every part to cut, in a stable order, and the settings of the jig as a whole (tilt, standoff, projection).

    Part slugs are unique. layouts: how the housing jig is laid out, once for both hands, or for R and then for L;
    empty where housings are not routed.
    limits: what leg gauge and housing plug let pass. number: what is scored on the jig's main parts and printed on
    every page.
    A kit is equal to itself alone, so that what is worked out from it can be kept for it.
    """

    trestle: Trestle
    shop: Shop
    parts: tuple[Part, ...]
    settings: tuple[Setting, ...]
    layouts: tuple[JigLayout, ...]
    limits: Limits
    number: str

    @property
    def layout(self) -> JigLayout:
        """The jig for both hands, or that for R: L's is its mirror image, alike in every setting and size. Where
        housings are routed only."""
        return self.layouts[0]


PART_MAKERS: tuple[Callable[[Trestle, Shop], tuple[Part, ...]], ...] = (
    housing_jig_parts,
    hand_guide_parts,
    leg_saw_parts,
    bevel_plates,
    foot_block_parts,
    pad_strip_parts,
    gauge_parts,
    brace_template_parts,
    drilling_template_parts,
    wedge_parts,
    coupon_parts,
)
"""A new jig is one new module in this room and one line here."""


def make_kit(trestle: Trestle, shop: Shop) -> Kit:
    """Every part of the kit. The job and shop must have passed check_kit; this function checks nothing."""
    made = []
    for part in [part for make in PART_MAKERS for part in make(trestle, shop)]:
        # Whatever the part's lines were laid out for, it is as thick as the sheet it is cut from.
        thickness_mm = shop.sheet_for(part.slug, part.assembly).thickness_mm
        made.append(part if thickness_mm == part.thickness_mm else part.of_thickness(thickness_mm))
    layouts = lay_out_jigs(trestle, shop) if shop.routs_housings else ()
    settings = jig_settings(layouts[0]) if layouts else ()
    number = kit_number(made, settings)  # before any part is left out: a kit without its coupon is the same kit
    parts = []
    for part in [with_number(part, number) for part in made if part.slug not in shop.left_out]:
        # The part knows the two letters that stand for its name, where they are scored on it.
        short = short_name(part.slug)
        is_scored = short in (mark.text for mark in part.marks)
        spares = part.spares if shop.kit.spares else 0
        parts.append(replace(part, spares=spares, short_mark=short if is_scored else part.short_mark))
    return Kit(trestle, shop, tuple(parts), settings, layouts, gauge_limits(trestle, shop), number)
