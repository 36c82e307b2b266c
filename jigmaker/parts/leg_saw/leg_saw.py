"""The jig for the legs' ends that the shop's saw wants: Trestle and Shop in, Parts and Findings out; mm."""

from collections.abc import Iterator

from jigmaker.findings import Finding
from jigmaker.job.shop import Shop
from jigmaker.parts.leg_saw.leg_box import check_leg_box, leg_box_parts
from jigmaker.parts.leg_saw.leg_cradle import leg_cradle_parts
from jigmaker.parts.part import Part
from jigmaker.trestle.records import Trestle


def leg_saw_parts(trestle: Trestle, shop: Shop) -> tuple[Part, ...]:
    """The leg box for a hand saw, the sloping cradle for a plain mitre saw; nothing for a saw that tilts."""
    match shop.leg_saw.kind:
        case "hand":
            return leg_box_parts(trestle, shop)
        case "plain":
            return leg_cradle_parts(trestle, shop)
        case _:
            return ()


def check_leg_saw(trestle: Trestle, shop: Shop) -> Iterator[Finding]:
    """Whether the shop's saw can cut the legs with its jig; of a cradle check_job asks, for the longest legs."""
    if shop.leg_saw.kind == "hand":
        yield from check_leg_box(trestle, shop)
