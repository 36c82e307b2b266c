"""All drawings of a job in their order: a Kit in, pictures by name out; each says which of how many it is."""

from collections.abc import Callable

from jigmaker.drawing.picture import Picture
from jigmaker.papers.drawings.brace import brace_drawing
from jigmaker.papers.drawings.housing import housing_drawing
from jigmaker.papers.drawings.jig import jig_drawing
from jigmaker.papers.drawings.leg import leg_drawing
from jigmaker.papers.drawings.top_board import top_board_drawing
from jigmaker.papers.drawings.whole import trestle_drawing
from jigmaker.parts.kit import Kit

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


def drawing_set(kit: Kit) -> dict[str, Picture]:
    """Every drawing of the job by the name in its files, numbered from 1, with the kit's number."""
    return {
        name: draw(kit, f"{i} of {len(DRAWINGS)}, kit {kit.number}")
        for i, (name, draw) in enumerate(DRAWINGS.items(), 1)
    }
