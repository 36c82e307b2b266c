"""Small parts, shops and sheets of plain shapes, for tests that need a part and no kit. Part frame; mm."""

from dataclasses import replace

from sample_jobs import ideal_shop_text

from jigmaker.geometry.frames import PlaneFrame, Point
from jigmaker.geometry.outline import Outline
from jigmaker.job.read import read_shop
from jigmaker.job.shop import Machine, Shop
from jigmaker.parts.part import Hole, Mark, Part
from jigmaker.sheets.sheet import PlacedPart, Sheet

LASER = Machine("laser", 0.2)
CNC = Machine("cnc", 6.0)


def box(length: float, width: float, at: Point = (0.0, 0.0)) -> Outline:
    """A rectangle with its lower left at `at`, anticlockwise."""
    x, y = at
    return Outline.from_points([(x, y), (x + length, y), (x + length, y + width), (x, y + width)])


def hole_box(name: str, length: float, width: float, at: Point) -> Hole:
    """A rectangular hole, clockwise."""
    return Hole(name, box(length, width, at).reversed())


def plain_part(
    slug: str, outline: Outline, holes: tuple[Hole, ...] = (), marks: tuple[Mark, ...] = (), pieces: int = 1
) -> Part:
    """A part of 9.1 mm sheet with no facts but its shape."""
    return Part(slug.replace("-", " "), slug, "test", "", pieces, 0, 9.1, outline, holes, marks=marks)


def shop_with(machine: Machine = LASER, **sheet: float) -> Shop:
    """The demo's shop with another machine, and sheet sizes changed by name (length_mm=...)."""
    shop = read_shop(ideal_shop_text())
    return replace(shop, machine=machine, sheet=replace(shop.sheet, **sheet))


def on_bed(part: Part, turn_deg: float) -> Sheet:
    """The part alone on a large sheet, clear of its axes whichever way it lies."""
    low_x, low_y, high_x, high_y = part.outline.placed(PlaneFrame(0, 0, turn_deg)).bounds
    frame = PlaneFrame(20 - low_x, 20 - low_y, turn_deg)
    return Sheet("sheet-1", high_x - low_x + 40, high_y - low_y + 40, (PlacedPart(part, frame),))
