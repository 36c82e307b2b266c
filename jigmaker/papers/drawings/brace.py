"""The brace's drawing: its inside face, its end and its underside. mm.

The inside face is the one that lies on the legs; lengths are given on it, and the end lines run off its long edge.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.view import View
from jigmaker.geometry.vectors import Vector, add, cross, subtract
from jigmaker.geometry.vectors import scale as stretched
from jigmaker.job.shop import Shop
from jigmaker.papers.drawings.on_paper import finish
from jigmaker.papers.drawings.placed_view import PlacedView, Seen, see
from jigmaker.papers.drawings.scaled_draft import ScaledDraft, off
from jigmaker.papers.drawings.title_block import Head
from jigmaker.papers.wording import off_square, off_upright
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.leg import leg_corners
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import brace_solid

_APART_MM, _RADIUS_MM = 33.0, 12.0
_AWAY: Vector = (0.0, -1.0, 0.0)


def brace_drawing(trestle: Trestle, shop: Shop, number: str = "3") -> Picture:
    """The brace at the +x end, flat on the legs' outer arrises, on the shop's paper, as large as there is room for."""
    job, brace = trestle.job, {"brace": brace_solid(trestle)}
    inside, up = _axes(trestle)
    right = cross(up, inside)
    # Seen from the left; first angle shows that to the right of the face, third angle to its left.
    face, end = see(brace, View(right, up, inside)), see(brace, View(inside, up, stretched(right, -1)))
    edge = see(brace, View(right, stretched(inside, -1), up))
    head = Head("brace, all alike", job.name, number, job.unit, "inside face, top edge")
    tilts = shop.leg_saw.kind == "tilting"
    return finish(lambda scale, _: _compose(trestle, (face, end, edge), scale, tilts), head, shop.paper.size)


def _axes(trestle: Trestle) -> tuple[Vector, Vector]:
    """Out of the inside face, and up along it."""
    s, c = sine(trestle.job.rake_deg), cosine(trestle.job.rake_deg)
    return (-s, 0.0, -c), (-c, 0.0, s)


def _inside_corners(trestle: Trestle) -> dict[str, Vector]:
    """The inside face's corners at +y: top and bottom; the top edge's outer arris too."""
    # Seen along y at the +x end, up is up: the brace leans at the rake a, its top edge level under the board, its depth
    # measured along its face, its thickness square to it (so thickness / sin a along the level):
    #
    #         top ____ outer top         z = -thickness of the top board
    #             \   \
    #              \   \
    #        bottom \ a \
    #
    # In y both follow the leg's outer face, which spreads by cot(splay) for each mm down.
    job, (x, y, z) = trestle.job, leg_corners(trestle)[0]
    under = -job.top.thickness_mm
    s, c = sine(job.rake_deg), cosine(job.rake_deg)
    top = (x + (z - under) * cotangent(job.rake_deg), under)
    bottom = (top[0] + job.brace.depth_mm * c, under - job.brace.depth_mm * s)
    outer = (top[0] + job.brace.thickness_mm / s, under)
    points = {"top": top, "bottom": bottom, "outer top": outer}
    return {name: (px, y + (z - pz) * cotangent(job.splay_deg), pz) for name, (px, pz) in points.items()}


def _compose(trestle: Trestle, seen: tuple[Seen, Seen, Seen], scale: float, saw_tilts: bool) -> ScaledDraft:
    draft = ScaledDraft(scale=scale, unit=trestle.job.unit)
    is_third = draft.unit == "in"
    face = seen[0].placed(scale, (0.0, 0.0))
    width = seen[1].size(scale)[0]
    apart = _APART_MM + (0.0 if is_third or _has_room(trestle, scale) else 30.0)
    beside = -apart - width if is_third else face.box[2] + apart
    end = seen[1].placed(scale, (beside, 0.0))
    height = seen[2].size(scale)[1]
    edge = seen[2].placed(scale, (0.0, face.box[3] + 25.0 if is_third else -32.0 - height))
    for view, name, rise in ((face, "inside face", 16.0), (end, "end", 33.0), (edge, "top edge", 3.0)):
        draft.view(view)
        draft.caption(view, name, rise_mm=rise)
    # Both long edges of the inside face, its depth, the thickness.
    at = _inside_corners(trestle)
    draft.size(face, at["top"], _across(at["top"]), "above")
    draft.size(face, at["bottom"], _across(at["bottom"]), "below")
    draft.size(face, at["bottom"], at["top"], "left")
    inside, _ = _axes(trestle)
    draft.size(end, add(at["bottom"], stretched(inside, -trestle.job.brace.thickness_mm)), at["bottom"], "below")
    _angles(draft, trestle, face, end)
    low_x = min(face.box[0], end.box[0])
    angles = trestle.angles
    draft.words(
        (
            "saw, brace on its face:",
            f"ends: mitre {off_square(90 - angles.brace_end_deg, 'its long edge')}",
            f"ends: blade {off_upright(angles.brace_end_tilt_deg)}",
            f"top edge: blade {off_upright(90 - angles.brace_edge_deg)}",
            "so the ends lie flush with the legs' outer faces",
            "and the top edge tight under the board",
        )
        if saw_tilts
        else (
            "ends sawn square to the inside face, along their lines",
            "and planed flush with the legs' outer faces;",
            "top edge planed to its angle, tight under the board",
        ),
        (low_x, min(face.box[1], edge.box[1]) - (30.0 if is_third else 10.0)),
    )
    return draft


def _across(p: Vector) -> Vector:
    """The same point at the other end."""
    return (p[0], -p[1], p[2])


def _angles(draft: ScaledDraft, trestle: Trestle, face: PlacedView, end: PlacedView) -> None:
    """The end's line in the inside face, and the bevel of the top edge, both drawn on beyond the brace."""
    at, (_, up), angles = _inside_corners(trestle), _axes(trestle), trestle.angles
    low, high = _across(at["bottom"]), _across(at["top"])
    words = off(angles.brace_end_deg, "its long edge")
    if _has_room(trestle, draft.scale):
        low, high = at["bottom"], at["top"]
        draft.angle(face, low, (_AWAY, subtract(high, low)), _RADIUS_MM, (15.0, 14.0), words, (99.0, 99.0))
    else:
        draft.angle(face, low, (_AWAY, subtract(low, high)), _RADIUS_MM, (14.0, -7.0), words)
    words = off(angles.brace_edge_deg, "the inside face")
    bevel = subtract(at["top"], at["outer top"])
    draft.angle(
        end,
        at["top"],
        (up, (bevel[0], 0.0, bevel[2])),
        _RADIUS_MM,
        (2.0, 16.5),
        words,
        anchor="middle",
        words_above=True,
    )


def _has_room(trestle: Trestle, scale: float) -> bool:
    """True when the angle of the end's line and its words fit into the inside face."""
    return trestle.brace.depth_mm * scale >= 24.0 and trestle.brace.top_mm * scale >= 62.0
