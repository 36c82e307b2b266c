"""The trestle's drawing in three views, put together. mm.

First angle puts the view from the end to the right of the side and the view from above under it; third angle puts the
end at its own side and the view from above over it. That view has no size: the notes show where the feet stand.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.view import FRONT, LEFT, TOP
from jigmaker.geometry.vectors import Vector, subtract
from jigmaker.job.shop import Paper
from jigmaker.papers.drawings.on_paper import BELOW, BESIDE, FEWER, finish
from jigmaker.papers.drawings.placed_view import PlacedView, Seen, see
from jigmaker.papers.drawings.scaled_draft import ScaledDraft, off
from jigmaker.papers.drawings.title_block import Head
from jigmaker.trestle.leg import leg_corners
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import trestle_solids

_RADIUS_MM = 12.0
_BESIDE_MM, _BESIDE_IN_THIRD_MM, _UNDER_MM = 55.0, 65.0, 34.0
_END_UNDER_MM, _END_UNDER_SIDE_MM = 42.0, 36.0


def trestle_drawing(trestle: Trestle, paper: Paper | None = None, size: str = "", number: str = "5") -> Picture:
    """Side and end of the finished trestle on the shop's paper, as large as there is room for, and the view from above
    where it leaves them that; of several sizes `size` says which.
    """
    job, solids = trestle.job, trestle_solids(trestle)
    seen = (see(solids, FRONT), see(solids, LEFT), see(solids, TOP))
    head = Head(
        f"trestle, {size}" if size else "trestle put together", job.name, number, job.unit, "floor and board's end"
    )
    size = (paper or Paper()).size
    return finish(lambda scale, way: _compose(trestle, seen, scale, way), head, size, (BESIDE, BELOW, FEWER))


def _compose(trestle: Trestle, seen: tuple[Seen, Seen, Seen], scale: float, way: int) -> ScaledDraft:
    draft = ScaledDraft(scale=scale, unit=trestle.job.unit)
    # An end that has no room beside the side stands below both, or below the side alone without a view from above.
    is_third = draft.unit == "in"
    side = seen[0].placed(scale, (0.0, 0.0))
    (end_width, end_height), (_, height) = seen[1].size(scale), seen[2].size(scale)
    above_y = side.box[3] + _UNDER_MM if is_third else -_UNDER_MM - height
    end_low = (-_BESIDE_IN_THIRD_MM - end_width if is_third else side.box[2] + _BESIDE_MM, 0.0)
    if way != BESIDE:
        under = -_END_UNDER_SIDE_MM if way == FEWER else min(0.0, above_y) - _END_UNDER_MM
        end_low = (0.0, under - end_height)
    end, above = seen[1].placed(scale, end_low), seen[2].placed(scale, (0.0, above_y))
    views = ((side, "side", 23.0), (end, "end", 15.5 if way == FEWER else 23.0), (above, "from above", 3.0))
    for view, name, rise in views[:2] if way == FEWER else views:
        draft.view(view)
        draft.caption(view, name, rise_mm=rise)
    # Height, the board's length and width, the inset, and how far the feet spread.
    top, height = trestle.job.top, trestle.job.height_mm
    half_length, half_width = top.length_mm / 2, top.width_mm / 2
    foot_x, foot_y = trestle.foot.spread_along_mm / 2, trestle.foot.spread_across_mm / 2
    end_top = (-half_length, -half_width, 0.0)
    draft.size(side, (-foot_x, 0.0, -height), (-half_length, 0.0, 0.0), "left")
    draft.size(side, end_top, (-half_length + trestle.job.inset_mm, -half_width, 0.0), "above", 0, beyond="start")
    draft.size(side, end_top, (half_length, -half_width, 0.0), "above", 1)
    draft.size(side, (-foot_x, 0.0, -height), (foot_x, 0.0, -height), "below")
    draft.size(end, (-half_length, half_width, 0.0), end_top, "above", 0)
    draft.size(end, (0.0, foot_y, -height), (0.0, -foot_y, -height), "below")
    # Rake and splay off the floor, at a foot, on the side where the leg leans away.
    toe, tip = leg_corners(trestle)[4], leg_corners(trestle)[0]
    words = ("rake", *off(trestle.job.rake_deg, "the floor", "plumb"))
    _lean(draft, side, (toe, tip), (-1.0, 0.0, 0.0), words)
    words = ("splay", *off(trestle.job.splay_deg, "the floor", "plumb"))
    # Seen from -x, y points to the left: the leg at -y is the one to the right.
    _lean(draft, end, ((toe[0], -toe[1], toe[2]), (tip[0], -tip[1], tip[2])), (0.0, 1.0, 0.0), words)
    return draft


def _lean(
    draft: ScaledDraft, view: PlacedView, ends: tuple[Vector, Vector], inward: Vector, words: tuple[str, ...]
) -> None:
    """The angle inside the leg between its outer line, from toe to tip, and the floor; the number beside the leg."""
    toe, tip = ends
    up = min(30.0, 0.65 * (view.box[3] - view.box[1]))  # below the brace
    draft.angle(view, toe, (inward, subtract(tip, toe)), _RADIUS_MM, (4.0, up), words, (0.0, 99.0))
