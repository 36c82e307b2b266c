"""Whether this trestle's jig can be made and used in this shop: Trestle and Shop in, Findings out. mm, degrees."""

from jigmaker.findings import Finding, errors_in
from jigmaker.job.shop import Shop
from jigmaker.parts.bed_rules import check_bed, check_hold, check_inset, check_length, check_support
from jigmaker.parts.bevel_plate import check_bevel_plates
from jigmaker.parts.brace_template import check_brace_template
from jigmaker.parts.coupon import check_coupon
from jigmaker.parts.drilling_template import check_drilling_template
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.leg_gauge import check_leg_gauge
from jigmaker.parts.router_rules import (
    check_bearing,
    check_bush,
    check_cutter,
    check_first_pass,
    check_mortises,
    check_reach,
    check_slot_corners,
)
from jigmaker.parts.wedges import check_wedges
from jigmaker.trestle.records import Trestle

_CHECKS = (check_reach, check_bush, check_bearing, check_first_pass, check_mortises, check_slot_corners, check_bed)


def check_kit(trestle: Trestle, shop: Shop, is_quick: bool = False) -> list[Finding]:
    """Every fault and caution about jig, router and bed, when `is_quick` all but the router's tipping. The trestle
    itself is check_trestle's.
    """
    by_hand: list[Finding] = []
    if shop.saws_housings:
        from jigmaker.parts.housing_saw.guides import check_hand_guides  # loads the parts, which few shops have

        by_hand += check_hand_guides(trestle, shop)
    if shop.leg_saw.kind != "tilting":
        from jigmaker.parts.leg_saw.leg_saw import check_leg_saw

        by_hand += check_leg_saw(trestle, shop)
    gauges = (
        check_bevel_plates,
        check_brace_template,
        check_leg_gauge,
        check_drilling_template,
        check_coupon,
        check_wedges,
    )
    if not shop.routs_housings:
        return [finding for check in gauges for finding in check(trestle, shop)] + by_hand
    found = list(check_cutter(trestle, shop, is_quick))
    if errors_in(found):
        return found  # a layout has no meaning with a cutter that does not pass its bush
    layout = lay_out_jigs(trestle, shop)[0]
    for check in _CHECKS:
        found += check(layout, trestle, shop)
    for check_board in (check_inset, check_length, check_hold):
        found += check_board(layout, trestle)
    for check_gauge in gauges:
        found += check_gauge(trestle, shop)
    found += by_hand
    if not is_quick and not errors_in(found):
        found += check_support(layout, trestle, shop)
    return found
