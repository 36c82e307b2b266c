"""Whether a tool can cut parts at all: their contours in, what is wrong in words out, without a remedy. Any frame; mm.

Judged on the nominal contours, so that a file without compensation is held to the same rule as one with it.
"""

from collections.abc import Sequence
from itertools import combinations
from typing import TYPE_CHECKING

from jigmaker.cutting.cut_sheet import CutContour
from jigmaker.cutting.figure import figure
from jigmaker.cutting.offset import can_follow, narrow_words
from jigmaker.geometry.outline import Circle, Contour, Outline
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Machine
from jigmaker.units import Unit

if TYPE_CHECKING:
    from shapely import Polygon

CUTTER_SPARE_MM = 0.2
"""A cutter needs this much more than its own width, or it cuts on both sides at once and chatters."""

WEB_MM = 1.0
"""Wood left between two cuts by a router: thinner than about one ply it breaks out (common practice, no source)."""

APART = "move them apart"

_ROUNDING_MM = 2e-3  # a relief made exactly as wide as the rule asks must pass in spite of rounding


def contour_name(contour: CutContour) -> str:
    """How messages name a contour: "plate: outline" or 'plate: hole "slot R"'."""
    return f"{contour.part}: outline" if contour.operation == "outer" else f'{contour.part}: hole "{contour.name}"'


def narrow_name(contour: CutContour) -> str:
    """How messages name what a tool cannot enter: a hole, or a gap in an outline."""
    return f"{contour.part}: a gap in the outline" if contour.operation == "outer" else contour_name(contour)


def narrow_faults(piece: Sequence[CutContour], machine: Machine, unit: Unit) -> list[str]:
    """Words for every closed contour of the piece that the tool cannot follow with the room it needs.

    A laser needs its kerf, a cutter its diameter and 0.2 mm more.
    """
    needed = machine.tool_mm + (CUTTER_SPARE_MM if machine.kind == "cnc" else 0.0)
    faults: list[str] = []
    for contour, shape in _closed(piece):
        side = 1 if contour.operation == "outer" else -1
        if not can_follow(shape, side * (needed - _ROUNDING_MM) / 2):
            faults.append(narrow_words(shape, side * needed / 2, narrow_name(contour), needed, unit))
    return faults


def web_faults(piece: Sequence[CutContour], machine: Machine, unit: Unit) -> list[str]:
    """Words for every pair of the piece's contours that leave too little wood between them, or cross.

    A laser leaves nothing of a web narrower than its kerf; a router's web is at least 1 mm.
    """
    least = WEB_MM if machine.kind == "cnc" else machine.tool_mm
    polygons = [(contour, _polygon(shape)) for contour, shape in _closed(piece)]
    faults: list[str] = []
    for (one, first), (two, second) in combinations(polygons, 2):
        # Holes lie beside each other; a hole lies inside its outline.
        hole, outline = (first, second) if two.operation == "outer" else (second, first)
        lie_so = not first.intersects(second) if one.operation == two.operation else outline.contains(hole)
        web = first.exterior.distance(second.exterior) if lie_so else 0.0
        if web < least - _ROUNDING_MM:
            faults.append(_web_sentence(one, two, web, least, unit))
    return faults


def neighbour_faults(outlines: Sequence[CutContour], machine: Machine, unit: Unit) -> list[str]:
    """Words for every two pieces on a sheet that lie so close that the paths round them would meet."""
    import shapely

    # A tree finds the few pairs that lie close: a sheet of many pieces has thousands of pairs.
    polygons = [_polygon(shape) for _, shape in _closed(outlines)]
    pairs = shapely.STRtree(polygons).query(polygons, predicate="dwithin", distance=machine.tool_mm - TOUCH_MM)
    close = sorted((int(i), int(j)) for i, j in pairs.T if i < j)
    webs = [(i, j, polygons[i].distance(polygons[j])) for i, j in close]
    return [_web_sentence(outlines[i], outlines[j], web, machine.tool_mm, unit) for i, j, web in webs]


def _closed(contours: Sequence[CutContour]) -> list[tuple[CutContour, Contour]]:
    """The contours that are cut through, each with its shape."""
    return [(contour, contour.shape) for contour in contours if isinstance(contour.shape, Outline | Circle)]


def _web_sentence(one: CutContour, two: CutContour, web: float, least: float, unit: Unit) -> str:
    between = f"{contour_name(one)} and {contour_name(two)}"
    left, needed = f"{figure(web, unit)} {unit}", f"{figure(least, unit)} {unit}"
    return f"{between}: {left} of wood between them, at least {needed} must stay"


def _polygon(shape: Contour) -> "Polygon":
    import shapely

    return shapely.polygons(shape.points(64))
