"""The leg's drawing: its outer wide face and its narrow edge, standing, as cut. mm.

All legs are one piece without a hand, so two faces show everything. Horn and trim are on it.
"""

from jigmaker.drawing.draft import LINE_STEP, WORDS_MM
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.view import View
from jigmaker.geometry.vectors import add, cross, dot, subtract, unit
from jigmaker.geometry.vectors import scale as stretched
from jigmaker.job.shop import Shop
from jigmaker.papers.drawings.on_paper import finish
from jigmaker.papers.drawings.pens import DIMENSIONS
from jigmaker.papers.drawings.placed_view import Seen, see
from jigmaker.papers.drawings.scaled_draft import ScaledDraft, off
from jigmaker.papers.drawings.title_block import Head
from jigmaker.papers.wording import angle_off, off_square, off_upright
from jigmaker.parts.leg_saw.leg_cradle import cradle_of
from jigmaker.trestle.cut_list import turns_legs
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import leg_solid
from jigmaker.units import length_text

_APART_MM, _RADIUS_MM, _CAPTION_MM = 108.0, 12.0, 17.0


def leg_drawing(trestle: Trestle, shop: Shop, size: str = "", number: str = "2") -> Picture:
    """The leg with horn and trim, head up, on the shop's paper, as large as there is room for; of several sizes `size`
    says which.

    First angle shows the edge at its left, toward the board's end, to its right; third angle the other one.
    """
    job, leg = trestle.job, {"leg": leg_solid(trestle, finished=False)}
    down, wide, edge = leg_directions(trestle)
    up, side = stretched(down, -1), edge if job.unit == "mm" else stretched(edge, -1)
    views = (see(leg, View(cross(up, wide), up, wide)), see(leg, View(cross(up, side), up, side)))
    head = Head(f"leg, {size}" if size else "leg, all alike", job.name, number, job.unit, "one arris of the leg")
    return finish(lambda scale, _: _compose(trestle, shop, views, scale), head, shop.paper.size)


def _compose(trestle: Trestle, shop: Shop, views: tuple[Seen, Seen], scale: float) -> ScaledDraft:
    draft = ScaledDraft(scale=scale, unit=trestle.job.unit)
    wide = views[0].placed(scale, (0.0, 0.0))
    narrow = views[1].placed(scale, (wide.box[2] + _APART_MM, 0.0))
    for view in (wide, narrow):
        draft.view(view)
    draft.caption(wide, "outer wide face", rise_mm=_CAPTION_MM)
    draft.words("narrow edge", (narrow.box[2], narrow.box[3] + _CAPTION_MM), "right")
    # The leg's corners with horn and trim, as leg_corners orders them.
    corners, (down, _, _), leg = leg_corners(trestle), leg_directions(trestle), trestle.job.leg
    horn, trim = stretched(down, -leg.horn_mm), stretched(down, leg.trim_mm)
    cut = tuple(add(corner, horn if i < 4 else trim) for i, corner in enumerate(corners))
    # Thin lines where horn and trim are sawn off after assembly.
    for first in (first for first, left_on in ((0, leg.horn_mm), (4, leg.trim_mm)) if left_on):
        draft.line([wide.point(corners[first]), wide.point(corners[first + 1])], DIMENSIONS)
        draft.line([narrow.point(corners[first]), narrow.point(corners[first + 3])], DIMENSIONS)
    # Along one arris from the foot: finished, as cut where that differs; then the shortest board that holds it, from
    # the corner farthest down the leg to the one farthest up.
    up = stretched(down, -1)
    lengths = [(corners[4], corners[0])]
    if leg.horn_mm or leg.trim_mm:
        lengths.append((cut[4], cut[0]))
    lengths.append((min(cut, key=lambda p: dot(p, up)), max(cut, key=lambda p: dot(p, up))))
    for row, (foot, head) in enumerate(lengths):
        draft.size(wide, foot, head, "left", row)
    draft.size(wide, cut[4], cut[5], "below")
    draft.size(narrow, cut[7], cut[4], "below", beyond="end" if draft.unit == "mm" else "start")
    # The end's line on either face, off the leg's arris, drawn on beyond the head.
    angles = trestle.angles
    across, through = unit(subtract(cut[1], cut[0])), unit(subtract(cut[3], cut[0]))
    on_face, on_edge = (off(deg, "the leg's arris") for deg in (angles.leg_face_deg, 90 - angles.leg_edge_deg))
    draft.angle(wide, cut[1], (across, up), _RADIUS_MM, (15.0, 9.0), on_face)
    if draft.unit == "mm":
        draft.angle(narrow, cut[3], (through, up), _RADIUS_MM, (-15.0, 9.0), on_edge, anchor="right")
    else:
        rays = (stretched(through, -1), stretched(up, -1))
        draft.angle(narrow, cut[5], rays, _RADIUS_MM, (-15.0, -12.5), on_edge, anchor="right")
    words = _saw_words(trestle, shop)
    middle = (wide.box[1] + wide.box[3]) / 2 + len(words) / 2 * LINE_STEP * WORDS_MM
    draft.words(words, (wide.box[2] + 5.0, middle))
    return draft


def _saw_words(trestle: Trestle, shop: Shop) -> tuple[str, ...]:
    """What the leg is sawn from, and how on the shop's own saw; the lines of both ends are in the drawing."""
    angles, edge = trestle.angles, "the leg's arris"
    job = trestle.job
    blank = length_text(trestle.leg.blank_mm, job.unit)
    cuts = (
        "the line at each end is sawn to after assembly" if job.leg.horn_mm or job.leg.trim_mm else "ends as finished"
    )
    turned = "leg turned between" if turns_legs(trestle, shop) else "board never turned"
    flat = "saw, leg on its wide face:", f"mitre {off_square(angles.saw_mitre_deg, edge)}"
    if shop.leg_saw.kind == "tilting":
        sawn: tuple[str, ...] = (
            *flat,
            f"blade {off_upright(angles.saw_tilt_deg)}",
            "",
            "or, leg on its narrow edge:",
            f"mitre {off_square(angles.saw_mitre_on_edge_deg, edge)}",
            f"blade {off_upright(angles.saw_tilt_on_edge_deg)}",
        )
    elif shop.leg_saw.kind == "hand":
        sawn = ("sawn by hand in the leg box",)
    elif not turns_legs(trestle, shop):
        sawn = flat
    elif cradle_of(trestle, shop):
        slope = f"slope {angle_off(angles.saw_mitre_on_edge_deg, 'the table', 'plumb')}"
        mitre = f"mitre {off_square(angles.saw_tilt_on_edge_deg, 'the fence')}"
        sawn = ("saw, leg on the sloping cradle:", mitre, slope)
    else:
        sawn = ("both ends marked with the bevel,", "sawn by hand")
    return (f"from a board of at least {blank}", cuts, f"both alike and parallel, the {turned}", "", *sawn)
