"""The jig at work on the clamped board, for R or for L, from the operator's side. Jig frame; paper mm.

Everything is drawn from that hand's own solids and places; nothing is mirrored.
"""

from functools import lru_cache

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import DrawnBody, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Point
from jigmaker.papers.pictures.canvas import BROKEN, LARGE, OUTLINE, Canvas, Spot, bounds_of_bodies, fitted, midpoint
from jigmaker.papers.pictures.jig_bodies import (
    ROUTER_HIGH_MM,
    board_body,
    clamp_bodies,
    jig_bodies,
    on_plate,
    router_body,
    slot_corners,
)
from jigmaker.papers.pictures.names import NameLabel, Side, name_beside
from jigmaker.parts.kit import Kit
from jigmaker.parts.solids import Worked

_WIDE_MM, _PAPER_MM, _HIGH_MM = 98.0, 162.0, 95.0  # the drawing; with a column of names on both sides; its height
_PAIR_MM, _COLUMNS_MM = 56.0, (34.0, 25.0)  # of two beside each other: each drawing; a column of the first, the second
_FEED_SHARE = 0.62
_TITLE_MM = 9.0  # height of the hand's letter
_UP = (0.0, 1.0, 0.0)


def operator_view(hand: Worked) -> View:
    """From the operator, over the shoulder that is nearer to the stop."""
    return View.from_viewer((0.42 if hand == "R" else -0.42, 0.72, 1.0), _UP)


def jig_on_board_picture(kit: Kit, hand: Worked) -> Picture:
    """The jig on the board with fence, stop and clamps; the router in broken lines; the feed in its slot."""
    return _drawn(kit, hand, _WIDE_MM, (_PAPER_MM - _WIDE_MM) / 2, False)


def beside_each_other(kit: Kit, hand: Worked) -> Picture:
    """The same for R at the left of that for L, which names only what is not as it was for R."""
    return _drawn(kit, hand, _PAIR_MM, _COLUMNS_MM["RL".index(hand)], hand == "L")


def _drawn(kit: Kit, hand: Worked, wide_mm: float, column_mm: float, is_second: bool) -> Picture:
    """A drawing at most wide_mm wide, its names in columns of that width."""
    view, corners, (drawn, ghost, places) = operator_view(hand), slot_corners(kit, hand), seen_jig(kit, hand)
    spot, canvas = fitted([*drawn, *ghost], wide_mm, _HIGH_MM), Canvas()
    canvas.bodies(drawn, spot)
    canvas.bodies(ghost, spot, (BROKEN, BROKEN))
    canvas.arrow([spot.point(view.point(on_plate(kit, hand, p))) for p in feed(corners)], OUTLINE)
    low, _, high, top = canvas.bounds
    name_beside(canvas, jig_names(kit, hand, places, spot, is_second), column_mm)
    if hand == "R" and wide_mm == _PAIR_MM:
        # The names at the right stand close, and their leaders run where the letter would.
        x, y = (low + high) / 2 - 3.0, top + 1.0
    else:
        # Above the highest point of the plate at the stop's end.
        by_stop = bounds_of_bodies([body for body in drawn if body.name.startswith(("plate", "stop"))])
        x = high - _TITLE_MM if hand == "R" else low + _TITLE_MM
        y = max(top - _TITLE_MM, spot.point(by_stop[2:])[1] + 4.0)
    canvas.words(hand, (x, y), "middle", _TITLE_MM, LARGE)
    return canvas.picture(f"The jig on the board, set for {hand}")


@lru_cache(maxsize=2)  # set-up sheets and index show it in two sizes
def seen_jig(kit: Kit, hand: Worked) -> tuple[list[DrawnBody], list[DrawnBody], dict[str, Point]]:
    """The lines that are seen of the bodies, in order, those of the router, and a place to point at on each body."""
    view, router = operator_view(hand), router_body(kit, hand, _parked(slot_corners(kit, hand)))
    bodies = [*jig_bodies(kit, hand), board_body(kit, hand)[0], *clamp_bodies(kit, hand)]
    return project(bodies, view), project([router], view), seen_places(bodies, view)


def _parked(corners: list[Point]) -> Point:
    """The bush's centre at the slot's front end, where the router starts and stops."""
    return midpoint(*sorted(corners, key=lambda p: p[1])[:2])


def feed(corners: list[Point]) -> list[Point]:
    """Clockwise seen from the router, within the way of the bush's centre and well off the slot's walls."""
    # The way of the bush drawn smaller about the slot's middle, most of the way round: the arrow's head ends short of
    # where the line began.
    x, y = (sum(p[axis] for p in corners) / 4 for axis in (0, 1))
    ring = [(x + _FEED_SHARE * (px - x), y + _FEED_SHARE * (py - y)) for px, py in corners]
    (ax, ay), (bx, by) = ring[-1], ring[0]
    return [*ring, (ax + 0.7 * (bx - ax), ay + 0.7 * (by - ay))]


def jig_names(kit: Kit, hand: Worked, places: dict[str, Point], spot: Spot, is_second: bool) -> list[NameLabel]:
    """What must be seen before the router starts; in a second picture what the first does not show."""
    view, corners = operator_view(hand), slot_corners(kit, hand)
    stop_side: Side = "right" if hand == "R" else "left"
    other: Side = "left" if hand == "R" else "right"
    words: list[tuple[str, str, Side | None]] = [
        ("stop", f"stop at your {stop_side}, against the board's end", stop_side),
        ("board", "top face toward you" + (", board goes on" if board_body(kit, hand)[1] else ""), other),
        ("fence", "fence on the top face", stop_side),
        ("clamp", "two clamps from below, on the free band", other),
        ("plate", "plate", None),
        ("mask in", "mask in the slot not in use", other),
    ]
    names = []
    for start, text, side in (word for word in words if not is_second or word[0] in ("stop", "mask in")):
        seen = [place for name, place in places.items() if name.startswith(start)]
        names += [NameLabel(text, spot.point(seen[0]), side)] if seen else []
    fed, router = feed(corners)[2], on_plate(kit, hand, _parked(corners), ROUTER_HIGH_MM)
    fed_at, router_at = (spot.point(view.point(at)) for at in (on_plate(kit, hand, fed), router))
    names.append(NameLabel("feed clockwise inside the slot", fed_at, stop_side))
    if not is_second:
        names.append(NameLabel("router, parked at the front end", router_at))
    return names
