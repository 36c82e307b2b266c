"""Places the kit's pieces on the sheets that the machine cuts. Sheet frame; mm."""

from collections.abc import Callable, Collection, Iterator, Sequence
from functools import partial
from math import radians, tan

from jigmaker.errors import DoesNotFit
from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.tolerance import TOUCH_MM
from jigmaker.job.shop import SheetMaterial, Shop
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
    asked for: that is what they hold on to); the tool's path keeps the sheet's margin (at least 1 mm, and enough for
    the lines of a crooked machine to stay above 0). Same parts, same sheets.

    A part is cut from the sheets that serve it. All others share the shop's first sheet and the off-cuts of its
    thickness, which are filled before it. Raises DoesNotFit for each part that is larger than its sheets leave room
    for, and where there are too few of them.
    """
    sheets: list[Sheet] = []
    for stocks, own in _pools(parts, shop):
        shapes: _Shapes = {i: footprints(part, shop.machine.widest_cut_mm) for i, part in enumerate(own)}
        _check_sizes(own, shapes, stocks, shop)
        # Four searches: by area and by longest side, large first and as given among equals; rows and columns.
        by_area = {i: -round(part.outline.area, 3) for i, part in enumerate(own)}
        by_side = {i: -round(max(shapes[i][0].length, shapes[i][0].width), 3) for i in by_area}
        kinds = [sorted(size, key=size.__getitem__) for size in (by_area, by_side)]
        orders = [[i for i in order for _ in range(own[i].pieces)] for order in kinds]
        searches = [(order, upward) for order in orders for upward in (True, False)]
        wide = frozenset(i for i, part in enumerate(own) if bridged is None or part.slug in bridged)
        tries = [
            _fill(order, shapes, stocks, partial(_empty_bed, shop=shop, upward=upward, wide=wide))
            for order, upward in counted("placing", searches)
        ]
        whole = [beds for beds in tries if beds]
        if not whole:
            named = ", ".join(f"{part.pieces} {part.name}" for part in own)
            count = sum(stock.count or 0 for stock in stocks)
            sheets_told = "1 sheet" if count == 1 else f"{count} sheets"
            rule = f"they do not go on the {sheets_told} that the shop file tells for them; give more, or larger ones"
            raise DoesNotFit([f"{named}: {rule}"])
        for stock, bed in min(whole, key=_cost):
            placed = tuple(PlacedPart(own[kind], shape.frame_at(at)) for kind, (shape, at) in bed.placed)
            name, of_stock = f"sheet-{len(sheets) + 1}", None if stock is shop.sheet else stock
            sheets.append(Sheet(name, stock.length_mm, stock.width_mm, placed, of_stock))
    return tuple(sheets)


def refuse_too_large(parts: Sequence[Part], shop: Shop) -> None:
    """Raise DoesNotFit with a sentence for each part that is larger than its sheets leave room for; place nothing."""
    for stocks, own in _pools(parts, shop):
        _check_sizes(own, {i: footprints(part, shop.machine.widest_cut_mm) for i, part in enumerate(own)}, stocks, shop)


def _pools(parts: Sequence[Part], shop: Shop) -> Iterator[tuple[list[SheetMaterial], list[Part]]]:
    """Sheets in the order in which they are filled, off-cuts first, each with the parts that are cut from them."""
    off_cuts = [each for each in shop.further_sheets if not each.serves]
    chosen = [shop.sheet_for(part.slug, part.assembly) for part in parts]
    for first in (shop.sheet, *shop.further_sheets):
        own = [part for part, sheet in zip(parts, chosen, strict=True) if sheet is first]
        if own and first is shop.sheet:
            yield [*off_cuts, first], own
        elif own:
            alike = [each for each in shop.further_sheets if each.serves == first.serves]
            of_it = [each for each in alike if each.thickness_mm == first.thickness_mm]
            yield sorted(of_it, key=lambda each: each.count is None), own


_Beds = list[tuple[SheetMaterial, Bed]]


def _fill(
    order: Sequence[int],
    shapes: _Shapes,
    stocks: Sequence[SheetMaterial],
    empty_bed: Callable[[SheetMaterial], Bed],
) -> _Beds:
    """One search: each piece goes on the first sheet that has a place for it; nothing when the sheets are too few."""
    beds: list[list[Bed]] = [[] for _ in stocks]
    for kind in order:
        for stock, begun in zip(stocks, beds, strict=True):
            if any(_put(bed, kind, shapes) for bed in begun):
                break
            fresh = empty_bed(stock)
            if len(begun) != stock.count and _put(fresh, kind, shapes):
                begun.append(fresh)
                break
        else:
            return []
    return [(stock, bed) for stock, begun in zip(stocks, beds, strict=True) for bed in begun]


def _put(bed: Bed, kind: int, shapes: _Shapes) -> bool:
    """True when the bed had a place for the piece, which it has taken."""
    if (found := bed.find(kind, shapes[kind])) is None:
        return False
    bed.put(kind, found)
    return True


def _empty_bed(stock: SheetMaterial, shop: Shop, upward: bool, wide: Collection[int] = ()) -> Bed:
    edge = max(stock.margin_mm, _EDGE_MM)
    # A machine that leans right draws the lines at the bed's far edge to the left of their places.
    leaning_mm = max(0.0, stock.width_mm * tan(radians(shop.machine.skew_deg)))
    left = edge if shop.machine.compensation == "left out" else max(edge, _EDGE_MM + leaning_mm)
    high = (stock.length_mm - edge, stock.width_mm - edge)
    cut_mm = shop.machine.widest_cut_mm
    apart = max(GAP_LASER_MM - cut_mm, 1.0) if shop.machine.kind != "cnc" else GAP_CNC_MM
    if not shop.machine.bridges:
        return Bed((left, edge), high, apart, upward)
    return Bed((left, edge), high, apart, upward, wide, max(apart, cut_mm + shop.machine.bridge_width_mm))


def _cost(beds: _Beds) -> tuple[int, int, float]:
    """Whole sheets used, all sheets used, then how much of the last is spoilt for other work: the box from its corner
    round all on it."""
    # Sheets that are bought whole count before off-cuts, which lie about anyway.
    bed = beds[-1][1]
    far_x = max(at[0] + shape.length for _, (shape, at) in bed.placed)
    far_y = max(at[1] + shape.width for _, (shape, at) in bed.placed)
    whole = sum(stock.count is None for stock, _ in beds)
    return whole, len(beds), round((far_x - bed.low[0]) * (far_y - bed.low[1]), 3)


def _check_sizes(parts: Sequence[Part], shapes: _Shapes, stocks: Sequence[SheetMaterial], shop: Shop) -> None:
    beds = [_empty_bed(stock, shop, upward=True) for stock in stocks]
    rooms = [(bed.high[0] - bed.low[0] + TOUCH_MM, bed.high[1] - bed.low[1] + TOUCH_MM) for bed in beds]
    too_large = [
        part
        for i, part in enumerate(parts)
        if not any(shape.length <= room[0] and shape.width <= room[1] for shape in shapes[i] for room in rooms)
    ]

    def size(length: float, width: float) -> str:
        return f"{length_text(length, shop.files.unit)} x {length_text(width, shop.files.unit)}"

    says = []
    for part in too_large:
        low_x, low_y, high_x, high_y = part.outline.bounds
        says.append(
            f"{part.name}: {size(high_x - low_x, high_y - low_y)} does not fit the sheet of "
            f"{size(shop.sheet.length_mm, shop.sheet.width_mm)}, which leaves {size(*max(rooms))} inside its margin "
            "for parts and the cut round them; in the shop file give a larger sheet.length or sheet.width, or less "
            "sheet.margin"
        )
    if says:
        raise DoesNotFit(says)
