"""Where the kit's pieces lie on what the machine cuts: parts and shop in, sheets out. Sheet frame; mm."""

from collections.abc import Collection, Sequence
from math import radians, tan

from jigmaker.errors import DoesNotFit
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import Shop
from jigmaker.parts.part import Part
from jigmaker.progress import counted
from jigmaker.sheets.bed import Bed
from jigmaker.sheets.footprint import Footprint, footprints
from jigmaker.sheets.sheet import PlacedPart, Sheet
from jigmaker.units import length_text

CLEAR_MM = 10.0
"""Free of anything cut all round on a part's own sheet."""

GAP_LASER_MM = 3.0
"""Wood left between two laser-cut pieces, so that the waste between them does not burn or fall out."""

GAP_CNC_MM = 2.0
"""Wood left beside the cutter's path between two routed pieces."""

_EDGE_MM = 1.0  # the least margin: a path on the sheet's very edge has no coordinate to spare

_Shapes = dict[int, tuple[Footprint, ...]]


def single_part_sheet(part: Part, tool_mm: float = 0.0) -> Sheet:
    """One piece of the part, unturned, its box 10 mm + 2.5 tool widths clear of both axes; named by the part's slug.

    tool_mm: width of the kerf or cutter, the larger one where it differs in x and y. A compensated path reaches at most
    two tool widths beyond a sharp corner and the tool half a width beyond its path, so nothing cut comes nearer than
    10 mm to an axis.
    """
    clear = CLEAR_MM + 2.5 * tool_mm
    low_x, low_y, high_x, high_y = part.outline.bounds
    frame = PlaneFrame(clear - low_x, clear - low_y)
    return Sheet(part.slug, high_x - low_x + 2 * clear, high_y - low_y + 2 * clear, (PlacedPart(part, frame),))


def place(parts: Sequence[Part], shop: Shop, bridged: Collection[str] | None = None) -> tuple[Sheet, ...]:
    """Every piece of every part on as few sheets as four fixed searches find, named "sheet-1", "sheet-2" and so on.

    Pieces lie at quarter turns, beside each other and in each other's gaps, never in a hole: a hole's waste drops out
    before the outlines are cut. Between two pieces stay 3 mm for a laser, the cutter's width and 2 mm for a router
    (a bridge's width of wood and two cuts round the parts whose slugs are in `bridged`, None for all, where bridges are
    asked for: that is what they hold on to); the tool's path keeps the sheet's margin (at least 1 mm, and enough for the lines of a crooked machine to stay above 0). Same parts, same sheets.
    Raises DoesNotFit for each part that is larger than the sheet leaves room for.
    """
    shapes: _Shapes = {i: footprints(part, shop.machine.widest_cut_mm) for i, part in enumerate(parts)}
    _check_sizes(parts, shapes, shop)
    if not parts:
        return ()
    searches = [(order, upward) for order in _orders(parts, shapes) for upward in (True, False)]
    wide = [i for i, part in enumerate(parts) if bridged is None or part.slug in bridged]
    tries = [_fill(order, upward, shapes, shop, wide) for order, upward in counted("placing", searches)]
    beds = min(tries, key=_cost)
    return tuple(_sheet(number, bed, parts, shop) for number, bed in enumerate(beds, 1))


def refuse_too_large(parts: Sequence[Part], shop: Shop) -> None:
    """Raise DoesNotFit with a sentence for each part that is larger than the sheet leaves room for; place nothing."""
    _check_sizes(parts, {i: footprints(part, shop.machine.widest_cut_mm) for i, part in enumerate(parts)}, shop)


def _fill(order: Sequence[int], upward: bool, shapes: _Shapes, shop: Shop, wide: Collection[int]) -> list[Bed]:
    """One search: each piece goes on the first sheet that has a place for it."""
    beds: list[Bed] = []
    for kind in order:
        for bed in beds:
            if (found := bed.find(kind, shapes[kind])) is not None:
                bed.put(kind, found)
                break
        else:
            beds.append(_empty_bed(shop, upward, wide))
            fresh = beds[-1].find(kind, shapes[kind])
            assert fresh is not None  # _check_sizes has seen to it
            beds[-1].put(kind, fresh)
    return beds


def _empty_bed(shop: Shop, upward: bool, wide: Collection[int] = ()) -> Bed:
    edge = max(shop.sheet.margin_mm, _EDGE_MM)
    left = max(edge, _EDGE_MM + _leaning_mm(shop))
    high = (shop.sheet.length_mm - edge, shop.sheet.width_mm - edge)
    cut_mm = shop.machine.widest_cut_mm
    apart = max(GAP_LASER_MM - cut_mm, 1.0) if shop.machine.kind == "laser" else GAP_CNC_MM
    if not shop.machine.bridges:
        return Bed((left, edge), high, apart, upward)
    return Bed((left, edge), high, apart, upward, frozenset(wide), max(apart, cut_mm + shop.machine.bridge_width_mm))


def _leaning_mm(shop: Shop) -> float:
    """How far to the left of their places lines at the bed's far edge are drawn, for a machine that leans right."""
    if shop.machine.compensation == "left out":
        return 0.0
    return max(0.0, shop.sheet.width_mm * tan(radians(shop.machine.skew_deg)))


def _orders(parts: Sequence[Part], shapes: _Shapes) -> list[list[int]]:
    """The orders that are tried: by area and by longest side, large first, and as given among equals."""
    by_area = {i: -round(part.outline.area, 3) for i, part in enumerate(parts)}
    by_side = {i: -round(max(shapes[i][0].length, shapes[i][0].width), 3) for i in by_area}
    kinds = [sorted(size, key=size.__getitem__) for size in (by_area, by_side)]
    return [[i for i in order for _ in range(parts[i].pieces)] for order in kinds]


def _cost(beds: list[Bed]) -> tuple[int, float]:
    """Sheets used, then how much of the last is spoilt for other work: the box from its corner round all on it."""
    bed = beds[-1]
    far_x = max(at[0] + shape.length for _, (shape, at) in bed.placed)
    far_y = max(at[1] + shape.width for _, (shape, at) in bed.placed)
    return len(beds), round((far_x - bed.low[0]) * (far_y - bed.low[1]), 3)


def _sheet(number: int, bed: Bed, parts: Sequence[Part], shop: Shop) -> Sheet:
    placed = tuple(PlacedPart(parts[kind], shape.frame_at(at)) for kind, (shape, at) in bed.placed)
    return Sheet(f"sheet-{number}", shop.sheet.length_mm, shop.sheet.width_mm, placed)


def _check_sizes(parts: Sequence[Part], shapes: _Shapes, shop: Shop) -> None:
    bed = _empty_bed(shop, upward=True)
    room = (bed.high[0] - bed.low[0] + TOUCH_MM, bed.high[1] - bed.low[1] + TOUCH_MM)
    too_large = [
        part
        for i, part in enumerate(parts)
        if not any(shape.length <= room[0] and shape.width <= room[1] for shape in shapes[i])
    ]
    if too_large:
        raise DoesNotFit([_too_large_sentence(part, room, shop) for part in too_large])


def _too_large_sentence(part: Part, room: tuple[float, float], shop: Shop) -> str:
    def size(length: float, width: float) -> str:
        return f"{length_text(length, shop.files.unit)} x {length_text(width, shop.files.unit)}"

    low_x, low_y, high_x, high_y = part.outline.bounds
    return (
        f"{part.name}: {size(high_x - low_x, high_y - low_y)} does not fit the sheet of "
        f"{size(shop.sheet.length_mm, shop.sheet.width_mm)}, which leaves {size(*room)} inside its margin for "
        "parts and the cut round them; in the shop file give a larger sheet.length or sheet.width, or less sheet.margin"
    )
