"""The pictures that set-up sheets name, each drawn only when it is wanted."""

from collections.abc import Callable
from functools import partial

from jigmaker.drawing.picture import Picture
from jigmaker.papers.bench import Bench
from jigmaker.papers.pictures.brace import brace_picture
from jigmaker.papers.pictures.drilling_template import template_apart_picture, template_on_leg_picture
from jigmaker.papers.pictures.first_off import first_off_picture
from jigmaker.papers.pictures.gluing import gluing_picture
from jigmaker.papers.pictures.hand_guides import (
    paring_guide_picture,
    saw_guide_apart_picture,
    saw_guide_on_board_picture,
)
from jigmaker.papers.pictures.horn import horn_picture
from jigmaker.papers.pictures.jig_exploded import jig_exploded_picture
from jigmaker.papers.pictures.jig_on_board import beside_each_other
from jigmaker.papers.pictures.leaning_back import leaning_back_picture
from jigmaker.papers.pictures.leg_box import leg_box_apart_picture, leg_box_picture
from jigmaker.papers.pictures.leg_cradle import leg_cradle_apart_picture, leg_cradle_picture
from jigmaker.papers.pictures.leg_turning import leg_turning_picture
from jigmaker.papers.pictures.levelling import levelling_picture
from jigmaker.papers.pictures.press import press_picture
from jigmaker.papers.pictures.router_set import router_set_picture
from jigmaker.papers.pictures.saw import saw_picture
from jigmaker.papers.pictures.saw_out_waste import saw_out_waste_picture
from jigmaker.papers.pictures.sheets_cut import sheets_cut_picture
from jigmaker.papers.pictures.stock import stock_picture
from jigmaker.papers.pictures.tape_checks import tape_checks_picture
from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.papers.pictures.words import words_picture


def sheet_pictures(bench: Bench, with_pictures: bool = True) -> dict[str, Callable[[], Picture] | None]:
    """What draws each picture, by its name in a sheet; None for one that is left out."""
    kit, trestle = bench.kit, bench.kit.trestle
    drawn: dict[str, Callable[[], Picture]] = {
        "trestle": partial(trestle_picture, trestle),
        "stock": partial(stock_picture, trestle),
        "sheets cut": partial(sheets_cut_picture, bench.sheets),
        "jig exploded": partial(jig_exploded_picture, kit),
        "router set": partial(router_set_picture, kit),
        "saw out waste": partial(saw_out_waste_picture, trestle),
        "jig on board R": partial(beside_each_other, kit, "R"),
        "jig on board L": partial(beside_each_other, kit, "L"),
        "saw guide apart": partial(saw_guide_apart_picture, kit),
        "saw guide R": partial(saw_guide_on_board_picture, kit, "R"),
        "saw guide L": partial(saw_guide_on_board_picture, kit, "L"),
        "paring guide": partial(paring_guide_picture, kit),
        "cradle apart": partial(leg_cradle_apart_picture, kit),
        "cradle first": partial(leg_cradle_picture, kit, "first"),
        "cradle second": partial(leg_cradle_picture, kit, "second"),
        "leg box apart": partial(leg_box_apart_picture, kit),
        "leg box": partial(leg_box_picture, kit),
        "drilling template apart": partial(template_apart_picture, kit),
        "drilling template R": partial(template_on_leg_picture, kit, "R"),
        "drilling template L": partial(template_on_leg_picture, kit, "L"),
        "first-off": partial(first_off_picture, trestle),
        "saw leg flat": partial(saw_picture, trestle, "leg flat"),
        "saw leg on edge": partial(saw_picture, trestle, "leg on edge"),
        "brace": partial(brace_picture, trestle, kit.shop.leg_saw.kind == "tilting"),
        "saw brace end": partial(saw_picture, trestle, "brace end"),
        "tape checks": partial(tape_checks_picture, kit),
        "gluing": partial(gluing_picture, trestle, kit),
        "horn": partial(horn_picture, trestle),
        "levelling": partial(levelling_picture, kit),
        "leg turning": partial(leg_turning_picture, trestle),
        "press": partial(press_picture, trestle),
        "leaning back": partial(leaning_back_picture, kit),
        "words": partial(words_picture, trestle),
    }
    is_placed = bool(bench.sheets)
    return {
        name: draw if with_pictures and (is_placed or name != "sheets cut") else None for name, draw in drawn.items()
    }
