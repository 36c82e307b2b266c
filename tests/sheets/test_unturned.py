"""A piece that measures the machine lies on every sheet as it was drawn, or its x would not be the machine's."""

from dataclasses import replace

from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import place
from jigmaker.trestle.solve import solve


def test_the_coupon_is_never_turned():
    """On a narrow sheet, where other pieces are turned to fit, the coupon is not."""
    kit = make_kit(solve(DEMO), DEMO_SHOP)
    some = [p for p in kit.parts if p.slug in ("coupon", "stop", "stock-strip", "foot-block-nose")]
    narrow = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=160, width_mm=400))
    turns = {(placed.part.slug, placed.sheet_from_part.turn_deg) for s in place(some, narrow) for placed in s.placed}
    assert {turn for slug, turn in turns if slug == "coupon"} == {0.0}
    assert {turn for slug, turn in turns if slug != "coupon"} - {0.0}
