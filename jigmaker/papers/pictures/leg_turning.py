"""How a leg goes to a housing of the other hand: two legs seen from outside. Paper mm.

Both legs stand as in the trestle, seen from its +y side, and are drawn short: their slanting ends are true.
"""

from jigmaker.drawing.draft import LINE_STEP
from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.drawing.wrapping import letters_wrapped
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, scale
from jigmaker.papers.pictures.canvas import BROKEN, LARGE, LARGE_MM, SMALL_MM, Canvas, Spot, bounds_of_bodies
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import at_seat

VIEW = View.from_viewer((0.0, 1.0, 0.42))
_HIGH_MM, _APART_MM, _WORDS_MM = 44.0, 60.0, 90.0
_SHORT = 2.8  # drawn length, in widths of the leg


def leg_turning_picture(trestle: Trestle) -> Picture:
    """Left the leg in an R housing, right the same leg in an L housing: other end up, other wide face out."""
    canvas, leg = Canvas(), short_leg(trestle)
    for i, (seat, face, ends, hand) in enumerate(((1, "1", ("A", "B"), "R"), (-1, "2", ("B", "A"), "L"))):
        body = Body("leg", at_seat(leg, seat, 1))
        (drawn,) = project([body], VIEW)
        x, y, far_x, far_y = bounds_of_bodies([drawn])
        size = _HIGH_MM / (far_y - y)
        spot = Spot(size, i * _APART_MM - size * (x + far_x) / 2, -size * y)
        canvas.bodies([drawn], spot)
        face_x, _ = spot.point(seen_places([body], VIEW)["leg"])
        canvas.words(face, (face_x, _HIGH_MM / 2 + LARGE_MM), "middle", LARGE_MM, LARGE)
        # The letter of each end, above the head and below the foot.
        points = [spot.point(p) for piece in drawn.visible for p in piece]
        high, low = max(p[1] for p in points), min(p[1] for p in points)
        for name, level, baseline in ((ends[0], high, high + 2.5), (ends[1], low, low - 2.5 - LARGE_MM)):
            xs = [p[0] for p in points if abs(p[1] - level) < 0.05 * (high - low)]
            canvas.words(f"end {name}", ((min(xs) + max(xs)) / 2, baseline), "middle", LARGE_MM, LARGE)
        canvas.words(f"in an {hand} housing", (i * _APART_MM, -12.0), "middle")
    # The arrow from the one to the other, and the line that the leg is turned about.
    middle, level = _APART_MM / 2, _HIGH_MM / 2
    canvas.arrow([(middle - 11.0, level), (middle + 11.0, level)])
    canvas.words(("end for end", "about this line"), (middle, level + 2.0 + LINE_STEP * SMALL_MM), "middle")
    for at in (0.0, _APART_MM):
        canvas.line([(at - 16.0, level), (at + 16.0, level)], BROKEN)
    words = "other end up, other wide face out; no leg has a hand until it is marked. Drawn short."
    canvas.words(letters_wrapped(words, _WORDS_MM), (middle, -18.0), "middle")
    return canvas.picture("A leg goes to the other hand")


def short_leg(trestle: Trestle) -> Solid:
    """The +x +y leg, finished ends, but only a few widths long; timber frame."""
    head, (down, _, _) = leg_corners(trestle)[:4], leg_directions(trestle)
    foot = [add(corner, scale(down, _SHORT * trestle.leg.width_mm)) for corner in head]
    return Solid.hull([*head, *foot])
