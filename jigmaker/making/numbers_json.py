"""A solved trestle in, numbers.json's content out; with a shop the jig's numbers as well. Lengths in mm, degrees."""

from typing import Any

from jigmaker.job.shop import Shop
from jigmaker.parts.housing_jig.jig import jig_numbers
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.trestle.numbers import numbers_of, rounded
from jigmaker.trestle.records import Trestle

NAME = "numbers.json"


def all_numbers(trestle: Trestle, shop: Shop | None) -> dict[str, Any]:
    """The trestle's numbers, and under "jig" those of the housing jig when there is a shop to make it in.

    The job must have passed check_job when a shop is given.
    """
    numbers = numbers_of(trestle)
    if shop is None or not shop.routs_housings:
        return numbers
    off = numbers["angles_off"] | {"plate_tilt": "the level; the jig's plate, board clamped edge up"}
    jig = {name: rounded(value) for name, value in jig_numbers(lay_out_jigs(trestle, shop)[0]).items()}
    return numbers | {"angles_off": off, "jig": jig}
