"""All drawings of a job in their order; each says which of how many it is."""

from collections.abc import Callable
from dataclasses import replace

from jigmaker.drawing.picture import Picture
from jigmaker.job.naming import slug_of
from jigmaker.papers.drawings.brace import brace_drawing
from jigmaker.papers.drawings.housing import housing_drawing
from jigmaker.papers.drawings.jig import jig_drawing
from jigmaker.papers.drawings.leg import leg_drawing
from jigmaker.papers.drawings.top_board import top_board_drawing
from jigmaker.papers.drawings.whole import trestle_drawing
from jigmaker.parts.kit import Kit
from jigmaker.trestle.solve import solve_sizes

Drawer = Callable[[Kit, str], Picture]

DRAWINGS: dict[str, Drawer] = {
    "trestle": lambda kit, number: trestle_drawing(kit.trestle, kit.shop.paper, number),
    "top-board": lambda kit, number: top_board_drawing(kit.trestle, kit.shop.paper, number),
    "housing": lambda kit, number: housing_drawing(kit.trestle, kit.shop.paper, number),
    "leg": lambda kit, number: leg_drawing(kit.trestle, kit.shop.paper, number),
    "brace": lambda kit, number: brace_drawing(kit.trestle, kit.shop.paper, number),
    "housing-jig": jig_drawing,
}
"""By the name in their files; a new drawing is one new module here and one line."""


BY_SIZE = {"trestle": "height_mm", "leg": "height_mm", "top-board": "top_length_mm"}
"""Drawings that differ from size to size, and in what a size must differ for that."""


def drawing_set(kit: Kit) -> dict[str, Picture]:
    """Every drawing of the job by the name in its files, numbered from 1, with the kit's number.

    Of several sizes there is one of each that differs.
    """
    job, trestles = kit.trestle.job, solve_sizes(kit.trestle.job)
    wanted: list[tuple[str, Drawer, Kit]] = []
    for name, draw in DRAWINGS.items():
        if name == "housing-jig" and not kit.shop.routs_housings:
            continue
        differs = name in BY_SIZE and len({getattr(size, BY_SIZE[name]) for size in job.sizes}) > 1
        if name == "trestle":
            differs = bool(job.further_sizes)
        sizes = zip(job.size_names, trestles, strict=True) if differs else ()
        wanted += [(f"{name}-{slug_of(size)}", draw, replace(kit, trestle=solved)) for size, solved in sizes]
        wanted += [] if differs else [(name, draw, kit)]
    return {name: draw(own, f"{i} of {len(wanted)}, kit {kit.number}") for i, (name, draw, own) in enumerate(wanted, 1)}
