"""The top board's drawing: both faces, both edges, both ends, every line to mark. mm.

All that lies along the board is measured from the datum end, all across it from an edge, all in one face of the two.
The views are unrolled about the board's long axis; in every one of them the datum end is to the left.
"""

from jigmaker.drawing.draft import WORDS_MM
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.view import BOTTOM, FRONT, TOP, View, X, Y
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import arrow_strokes
from jigmaker.job.practice import PRACTICE
from jigmaker.job.shop import Paper
from jigmaker.papers.drawings.housing_points import HousingPoints
from jigmaker.papers.drawings.on_paper import BELOW, finish
from jigmaker.papers.drawings.pens import DIMENSIONS, NUMBERS
from jigmaker.papers.drawings.placed_view import PlacedView, Seen, see
from jigmaker.papers.drawings.scaled_draft import ScaledDraft, off
from jigmaker.papers.drawings.title_block import Head
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import SEATS, trestle_solids

# Up is such that the views unroll from the top face: the edge at -y next to it one way, the edge at +y the other.
_BACK_EDGE = View(X, (0.0, 0.0, -1.0), Y)
_DATUM_END = View((0.0, 0.0, 1.0), Y, (-1.0, 0.0, 0.0))
_FAR_END = View((0.0, 0.0, -1.0), Y, X)
_LONG = {"front edge": FRONT, "top face": TOP, "back edge": _BACK_EDGE, "bottom face": BOTTOM}

_ROOM_BELOW = {"front edge": 9.0, "top face": 43.0, "back edge": 5.0, "bottom face": 36.0}
_ROOM_ABOVE = {"front edge": 21.0, "top face": 18.0, "back edge": 9.0, "bottom face": 7.0}
_SHORT_MM = 110.0
_BESIDE_MM, _BESIDE_IN_THIRD_MM, _RADIUS_MM = 30.0, 62.0, 9.0
_BELOW_MM, _BELOW_IN_THIRD_MM, _APART_MM = 56.0, 30.0, 85.0
_ROOMY_MM = 11.0  # of the board's width on the paper


def top_board_drawing(trestle: Trestle, paper: Paper | None = None, size: str = "", number: str = "1") -> Picture:
    """The board with its four housings on the shop's paper, as large as there is room for; of boards of several lengths
    `size` says which.
    """
    board = {"top board": trestle_solids(trestle)["top board"]}
    seen = {name: see(board, view) for name, view in _LONG.items()}
    ends = {"datum end": see(board, _DATUM_END), "far end": see(board, _FAR_END)}
    job = trestle.job
    head = Head(
        f"top board, {size}" if size else "top board",
        job.name,
        number,
        job.unit,
        "datum end, top face",
        PRACTICE["limit.start"].mm,
    )
    return finish(lambda scale, way: _compose(trestle, seen, ends, scale, way == BELOW), head, (paper or Paper()).size)


def _compose(
    trestle: Trestle, seen: dict[str, Seen], ends: dict[str, Seen], scale: float, ends_are_below: bool
) -> ScaledDraft:
    draft = ScaledDraft(scale=scale, unit=trestle.job.unit)
    # Long views one below the other: first angle puts the front edge over the top face, third angle under it.
    views, y = dict[str, PlacedView](), 0.0
    for name in list(seen)[::-1] if draft.unit == "in" else list(seen):
        y -= _ROOM_ABOVE[name] + seen[name].size(scale)[1]
        views[name] = seen[name].placed(scale, (0.0, y))
        y -= _ROOM_BELOW[name]
    top = views["top face"]
    for name, view in views.items():
        draft.view(view)
        # On a short view the angle's words reach over to the name.
        rise = 16.5 if name == "front edge" and view.box[2] - view.box[0] < _SHORT_MM else 3.0
        draft.caption(view, "back edge: as the front edge, end for end" if name == "back edge" else name, rise_mm=rise)
    _sizes(draft, trestle, views)
    # R or L beside each housing, on the side of the board's middle.
    for _, x, y in SEATS:
        seat = HousingPoints(trestle, x, y)
        at_x, at_y = top.point(seat.at_floor("far"))
        _, edge = top.point(seat.on_arris("far"))
        up = edge - WORDS_MM - 1.5 if y > 0 else edge + 1.5
        aside = 3.0 if y > 0 or _is_roomy(top) else 7.0
        draft.words(seat.hand, (at_x - aside * x, min(up, at_y) if y < 0 else up), "middle")
    low_x, low_y, _, high_y = views["front edge"].box
    level = (low_y + high_y) / 2
    draft.add(DIMENSIONS, *arrow_strokes([(low_x - 9.0, level), (low_x - 0.5, level)], 3.0))
    draft.words("datum end", (low_x - 10.5, level - 1.75), "right", 3.5, NUMBERS)
    _draw_ends(draft, trestle, ends, views, ends_are_below)
    return draft


def _sizes(draft: ScaledDraft, trestle: Trestle, views: dict[str, PlacedView]) -> None:
    """On each face where the walls and the floor of its housings are: walls from the datum end, floors from the edge
    that they are cut in; the board's length under the top face, its thickness beside the front edge; the walls' angles.
    """
    top = trestle.job.top
    half_length, half_width = top.length_mm / 2, top.width_mm / 2
    for face, level, y in (("top", 0.0, -1), ("bottom", -top.thickness_mm, 1)):
        datum = (-half_length, y * half_width, level)
        left, right = HousingPoints(trestle, -1, y), HousingPoints(trestle, 1, y)
        ends = [
            seat.on_arris(wall, face) for seat, wall in ((left, "near"), (left, "far"), (right, "far"), (right, "near"))
        ]
        ends += [(half_length, y * half_width, level)] if face == "top" else []
        for row, end in enumerate(ends):
            draft.size(views[f"{face} face"], datum, end, "below", row, beyond="start", out_mm=9.0)
    for face, y in (("top", -1), ("bottom", 1)):
        seat = HousingPoints(trestle, 1, y)
        edge, floor = seat.on_arris("near", face), seat.at_floor("near", face)
        draft.size(views[f"{face} face"], edge, floor, "right", beyond="start")
    front, over = views["front edge"], views["top face"]
    draft.size(front, (half_length, -half_width, -top.thickness_mm), (half_length, -half_width, 0.0), "right")
    # The wall's line on the edge and on the faces, each off its own arris, drawn on beyond the board.
    seat, angles = HousingPoints(trestle, 1, -1), trestle.angles
    rays = (seat.up_the_edge, (-seat.to_the_end[0], 0.0, 0.0))
    words = off(angles.edge_line_deg, "the top arris")
    draft.angle(front, seat.on_arris("near"), rays, _RADIUS_MM, (-12.0, 10.5), words, (0.0, 99.0), "right")
    seat = HousingPoints(trestle, 1, 1)
    words = off(90 - angles.edge_twist_deg, "the arris")
    rays = (seat.out_of_face, seat.to_the_end)
    # Above the tail of the depth's arrow, which reaches as high as a narrow board.
    above = 10.5 if _is_roomy(over) else 13.0
    draft.angle(over, seat.on_arris("far"), rays, _RADIUS_MM, (12.0, above), words, (0.0, 99.0))


def _is_roomy(face: PlacedView) -> bool:
    return face.box[3] - face.box[1] >= _ROOMY_MM


def _draw_ends(
    draft: ScaledDraft, trestle: Trestle, ends: dict[str, Seen], faces: dict[str, PlacedView], are_below: bool
) -> None:
    """Both ends level with the top face: first angle shows an end at the other side of it, third angle at its own.

    Where the paper is too narrow for that they stand below all faces.
    """
    top = faces["top face"]
    is_third = draft.unit == "in"
    left, right = ("datum end", "far end") if is_third else ("far end", "datum end")
    beside = _BESIDE_IN_THIRD_MM if is_third else _BESIDE_MM
    places: dict[str, Point] = {
        left: (top.box[0] - beside - ends[left].size(draft.scale)[0], top.box[1]),
        right: (top.box[2] + _BESIDE_MM + (15.0 if is_third or not _is_roomy(top) else 0.0), top.box[1]),
    }
    if are_below:
        low_y = (
            min(view.box[1] for view in faces.values())
            - (_BELOW_IN_THIRD_MM if is_third else _BELOW_MM)
            - ends[left].size(draft.scale)[1]
        )
        places = {left: (top.box[0] + 15.0, low_y), right: (top.box[0] + 15.0 + _APART_MM, low_y)}
    views = {name: seen.placed(draft.scale, places[name]) for name, seen in ends.items()}
    for view in views.values():
        draft.view(view)
    low_x, _, high_x, high_y = views["far end"].box
    draft.words("far end", (high_x if is_third else low_x, high_y + 3.0), "right" if is_third else "left")
    half_length, half_width = trestle.job.top.length_mm / 2, trestle.job.top.width_mm / 2
    edges = (half_length, -half_width, 0.0), (half_length, half_width, 0.0)
    draft.size(views["far end"], *edges, "right" if is_third else "left")
    # The housing's floor off the top face, drawn on beyond the end, its words below the view.
    end = views["datum end"]
    seat = HousingPoints(trestle, -1, -1)
    vertex, rays = seat.at_floor("near"), (seat.up_the_floor, seat.inward)
    words = ("floor", *off(trestle.job.splay_deg, "the top face"))
    level = end.point(vertex)[1]
    # The ray upward may reach beyond a narrow board.
    draft.caption(end, "datum end", rise_mm=max(3.0, level + _RADIUS_MM + 4.0 - end.box[3]))
    below = (0.0, end.box[1] - level - 10.0)
    draft.angle(end, vertex, rays, _RADIUS_MM, below, words, anchor="middle")
