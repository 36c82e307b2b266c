"""The housing jig's drawing, put together and set for R. Jig frame and plate plane; mm, degrees.

From the operator's side, from the end, and square to the plate; numbered items with a list, and what is set.
"""

from collections.abc import Mapping, Sequence
from math import hypot, radians, sin

from jigmaker.drawing.draft import Draft
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.view import TOP, View, X
from jigmaker.geometry.frames import Point
from jigmaker.geometry.outline import Circle
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add
from jigmaker.geometry.vectors import scale as stretched
from jigmaker.papers.drawings.on_paper import BELOW, finish
from jigmaker.papers.drawings.pens import DIMENSIONS, MIDDLES, NUMBERS
from jigmaker.papers.drawings.placed_view import PlacedView, Seen, see
from jigmaker.papers.drawings.scaled_draft import ScaledDraft, off
from jigmaker.papers.drawings.title_block import Head
from jigmaker.parts.housing_jig.layout import JigLayout
from jigmaker.parts.housing_jig.plate import FRONT_CORNER_MM
from jigmaker.parts.kit import Kit
from jigmaker.parts.part import Part
from jigmaker.parts.solids import assembled, jig_places
from jigmaker.units import caliper_text, fixed, length_text

# From the operator's side X points right, Y up and Z toward the viewer, as in any view from z.
_OPERATOR = TOP
_END = View((0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))
_RADIUS_MM = 12.0
_BESIDE_MM, _UNDER_MM, _END_UNDER_MM = 22.0, 32.0, 42.0
_CHORDS = 3  # a quarter turn
_BOARD_MM = 60.0  # how far down the board is shown, real mm
_LIST_MM = 92.0  # from the list of items to the list of settings
_DOT_MM, _LETTER_MM = 0.4, 3.5

BALLOON_MM, BALLOONS_APART_MM = 3.6, 10.0
"""Radius of the circle round an item's number, and the least from one circle's centre to the next; paper mm."""


def jig_drawing(kit: Kit, number: str = "6") -> Picture:
    """The jig set for R housings on the shop's paper, as large as there is room for."""
    job, layout = kit.trestle.job, kit.layout
    solids = assembled(kit, "R", _CHORDS)
    # The plate's plane leans from the top face (level here, Z toward the operator) by the splay a: v runs up in it, m
    # out of it. With s = sin a and c = cos a, in the jig frame v = (0, c, -s) and m = (0, s, c).
    s, c = sin(radians(job.splay_deg)), sin(radians(90 - job.splay_deg))
    seen = {
        "operator's side": see(solids, _OPERATOR, hidden=False),
        "left end": see(solids, _END),
        "square to the plate": see(solids, View(X, (0.0, c, -s), (0.0, s, c)), hidden=False),
    }
    head = Head(
        "housing jig, set for R", job.name, number, job.unit, "top arris, stop", 2 * kit.shop.machine.accuracy_mm
    )
    return finish(
        lambda scale, way: _compose(kit, layout, solids, seen, scale, way == BELOW), head, kit.shop.paper.size
    )


def _compose(
    kit: Kit, layout: JigLayout, solids: Mapping[str, Solid], seen: Mapping[str, Seen], scale: float, end_is_below: bool
) -> ScaledDraft:
    draft = ScaledDraft(scale=scale, unit=kit.trestle.job.unit, decimals=2)
    # First angle: the end to the right of the operator's side, the plate under it; third angle: left, and over it. An
    # end that has no room there stands below both.
    is_third, (side, left_end, to_plate) = draft.unit == "in", tuple(seen)
    sizes = {name: one.size(scale) for name, one in seen.items()}
    front = seen[side].placed(scale, (0.0, 0.0))
    end_x = -_BESIDE_MM - sizes[left_end][0] if is_third else front.box[2] + _BESIDE_MM
    plate_y = front.box[3] + _UNDER_MM + 12.0 if is_third else -_UNDER_MM - sizes[to_plate][1]
    below_y = min(0.0, plate_y) - _END_UNDER_MM - sizes[left_end][1]
    end = seen[left_end].placed(scale, (0.0, below_y) if end_is_below else (end_x, 0.0))
    views = {side: front, left_end: end, to_plate: seen[to_plate].placed(scale, (0.0, plate_y))}
    for name, view in views.items():
        draft.view(view)
        if name == "left end":
            draft.words(name, (view.box[2], view.box[3] + 3.0), "right")
        else:
            draft.caption(view, name, rise_mm=26.0 if name == "operator's side" else 3.0)
    _sizes(draft, layout, views)
    slugs = [part.slug for part, _ in jig_places(kit, "R")]
    items = [f"{i}  {part.name}: {slugs.count(part.slug)}" for i, part in enumerate(_items(kit), 1)]
    settings = []
    for setting in kit.settings:
        if setting.value:
            # 64ths of an inch would hide the play: the slot's walls and the cutter are set by caliper.
            length = (caliper_text if draft.unit == "in" else length_text)(setting.value, draft.unit)
            settings.append(f"{setting.name}: {f'{fixed(setting.value, 2)}°' if setting.unit == 'deg' else length}")
    if end_is_below:
        _, _, end_x, end_y = views["left end"].box
        low, apart = (end_x + _BESIDE_MM, end_y), 52.0
    else:
        low = (min(view.box[0] for view in views.values()), min(view.box[1] for view in views.values()) - 27.0)
        apart = _LIST_MM
    draft.words(items, low)
    draft.words(settings, (low[0] + apart, low[1]))
    _draw_items(draft, kit, layout, solids, views)
    return draft


def _on_plate(layout: JigLayout, x: float, v: float, m: float = 0.0) -> Vector:
    """A point of the plate's plane in the jig frame."""
    q, y = layout.bearer_point(v, m)
    return (x, y, -q)


def _sizes(draft: ScaledDraft, layout: JigLayout, views: Mapping[str, PlacedView]) -> None:
    """From stop to stop, the plate's length and width, the slot between its walls."""
    front, plate = views["operator's side"], views["square to the plate"]
    if layout.half:
        y = -layout.lug_depth
        draft.size(front, (-layout.half, y, 0.0), (layout.half, y, 0.0), "below")
    m = layout.standoff + layout.sheet
    left, right = (_on_plate(layout, x, layout.plate_rear, m) for x in (layout.plate_low, layout.plate_high))
    draft.size(plate, left, right, "above", out_mm=12.0)
    # The plate's front corners are cut off: its front edge ends short of its right end.
    draft.size(plate, _on_plate(layout, layout.plate_high - FRONT_CORNER_MM, layout.plate_front, m), right, "right")
    v = layout.slot_front
    far, near = (_on_plate(layout, wall, v, m) for wall in (layout.far_wall(v), layout.near_wall(v)))
    out = -(v - layout.plate_front) * draft.scale - 10.0
    square_to_walls = _on_plate(layout, 1.0, -layout.wall_slope)
    draft.slanting_size(plate, far, near, square_to_walls, out, is_fit=True)
    # On the end the standoff over the board's top arris, and the plate's lean; the board itself in thin lines.
    end, thick = views["left end"], layout.top_thickness
    s, c = sin(radians(layout.splay_deg)), sin(radians(90 - layout.splay_deg))
    board = [(0.0, -_BOARD_MM, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, -thick), (0.0, -_BOARD_MM, -thick)]
    draft.line([end.point(corner) for corner in board], MIDDLES)
    out_of_wood = (0.0, s, c)
    out = layout.plate_front * draft.scale - 9.0
    draft.slanting_size(end, (0.0, 0.0, 0.0), stretched(out_of_wood, layout.standoff), out_of_wood, out)
    vertex = _on_plate(layout, 0.0, layout.plate_rear, layout.standoff)
    words = ("plate", *off(layout.splay_deg, "the top face", "the edge"))
    draft.angle(end, vertex, ((0.0, c, -s), (0.0, 1.0, 0.0)), _RADIUS_MM, (4.0, 16.5), words, words_above=True)


def _items(kit: Kit) -> list[Part]:
    """The parts that are put together, each once, in the kit's order."""
    return list({part.slug: part for part, _ in jig_places(kit, "R")}.values())


def _draw_items(
    draft: ScaledDraft, kit: Kit, layout: JigLayout, solids: Mapping[str, Solid], views: Mapping[str, PlacedView]
) -> None:
    """Numbers over the operator's side; of the mask and its feet below the plate, through which they are seen."""
    boxes = {part.slug: solids[place.name].bounds for part, place in reversed(jig_places(kit, "R"))}
    front, plate = views["operator's side"], views["square to the plate"]
    over: list[tuple[int, Point]] = []
    under: list[tuple[int, Point]] = []
    for number, part in enumerate(_items(kit), 1):
        if part.slug.startswith("mask"):
            low, high = boxes[part.slug]
            under.append((number, plate.point(stretched(add(low, high), 0.5))))
        else:
            # A point on the item that the operator sees.
            (low_x, low_y, _), (high_x, _, _) = boxes[part.slug]
            spot = ((low_x + high_x) / 2, low_y + 8.0, 0.0)
            if part.slug.startswith("plate"):
                middle = layout.standoff + layout.sheet / 2
                spot = _on_plate(layout, layout.plate_low + FRONT_CORNER_MM, layout.plate_front, middle)
            elif part.slug == "fence-or-back-strip":
                spot = (low_x + (high_x - low_x) * 0.35, low_y + 12.0, 0.0)
            over.append((number, front.point(spot)))
    draw_balloons(draft, over, front.box[3] + 15.0)
    draw_balloons(draft, under, plate.box[1] - 10.0)


def draw_balloons(draft: Draft, targets: Sequence[tuple[int, Point]], level: float) -> None:
    """Item numbers in circles in a row on that level (paper frame), each with a leader to its target.

    They stand in the order of their targets from left to right, so that no leaders cross. Leaders end in dots.
    """
    # Where targets stand closer than circles may, circles are pushed to the right.
    ordered = sorted(targets, key=lambda each: each[1])
    places: list[float] = []
    for _, (x, _) in ordered:
        places.append(max([x, *(place + BALLOONS_APART_MM for place in places[-1:])]))
    for (number, target), x in zip(ordered, places, strict=True):
        size = hypot(target[0] - x, target[1] - level)
        start = (x + (target[0] - x) * BALLOON_MM / size, level + (target[1] - level) * BALLOON_MM / size)
        draft.add(DIMENSIONS, Circle((x, level), BALLOON_MM), Circle(target, _DOT_MM))
        draft.line([start, target], DIMENSIONS)
        draft.words(str(number), (x, level - _LETTER_MM / 2), "middle", _LETTER_MM, NUMBERS)
