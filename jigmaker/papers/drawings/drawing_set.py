"""All drawings of a job in their order; each says which of how many it is."""

from collections.abc import Callable
from functools import partial

from jigmaker.drawing.picture import Picture
from jigmaker.job.naming import slug_of
from jigmaker.job.shop import Shop
from jigmaker.papers.drawings.brace import brace_drawing
from jigmaker.papers.drawings.housing import housing_drawing
from jigmaker.papers.drawings.jig import jig_drawing
from jigmaker.papers.drawings.leg import leg_drawing
from jigmaker.papers.drawings.top_board import top_board_drawing
from jigmaker.papers.drawings.whole import trestle_drawing
from jigmaker.parts.kit import Kit
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve_sizes

Drawer = Callable[[Kit, str], Picture]

DRAWINGS: dict[str, Drawer] = {
    "trestle": lambda kit, number: trestle_drawing(kit.trestle, kit.shop.paper, "", number),
    "top-board": lambda kit, number: top_board_drawing(kit.trestle, kit.shop.paper, "", number),
    "housing": lambda kit, number: housing_drawing(kit.trestle, kit.shop.paper, number),
    "leg": lambda kit, number: leg_drawing(kit.trestle, kit.shop, "", number),
    "brace": lambda kit, number: brace_drawing(kit.trestle, kit.shop, number),
    "housing-jig": jig_drawing,
}
"""By the name in their files; a new drawing is one new module here and one line."""


BY_SIZE: dict[str, tuple[Callable[[Trestle, Shop, str, str], Picture], tuple[str, ...]]] = {
    "trestle": (lambda trestle, shop, *of: trestle_drawing(trestle, shop.paper, *of), ("height_mm", "top_length_mm")),
    "leg": (leg_drawing, ("height_mm",)),
    "top-board": (lambda trestle, shop, *of: top_board_drawing(trestle, shop.paper, *of), ("top_length_mm",)),
}
"""Drawings that differ from size to size, and in what sizes must differ for that."""


def drawing_set(kit: Kit) -> dict[str, Picture]:
    """Every drawing of the job by the name in its files, numbered from 1, with the kit's number.

    Of several sizes there is one of each that differs; its title says of which size it is.
    """
    job, trestles = kit.trestle.job, solve_sizes(kit.trestle.job)
    wanted: dict[str, Callable[[str], Picture]] = {}
    for name, draw in DRAWINGS.items():
        if name == "housing-jig" and not kit.shop.routs_housings:
            continue
        drawing, fields = BY_SIZE.get(name, (None, ()))
        if drawing is None or len({tuple(getattr(size, field) for field in fields) for size in job.sizes}) == 1:
            wanted[name] = partial(draw, kit)
            continue
        for size, trestle in zip(job.size_names, trestles, strict=True):
            wanted[f"{name}-{slug_of(size)}"] = partial(drawing, trestle, kit.shop, size)
    return {name: draw(f"{i} of {len(wanted)}, kit {kit.number}") for i, (name, draw) in enumerate(wanted.items(), 1)}
