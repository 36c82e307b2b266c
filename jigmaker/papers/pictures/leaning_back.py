"""The board leaning back until the jig's plate is level, seen along the board. Paper mm."""

from math import cos, radians, sin

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Frame
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN, Canvas, fitted
from jigmaker.papers.pictures.jig_bodies import board_body, jig_bodies
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.wording import angle_off
from jigmaker.parts.kit import Kit

VIEW = View.from_viewer((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
"""From the board's right end: the operator stands at the left of the picture."""

_WIDE_MM, _HIGH_MM, _COLUMN_MM = 46.0, 40.0, 32.0


def leaning_back_picture(kit: Kit) -> Picture:
    """Jig and board turned back by the plate's tilt, a plumb line beside the board, the plate level."""
    back_deg = 90.0 - kit.trestle.job.splay_deg
    bodies = leaning_bodies(kit)
    drawn = project(bodies, VIEW)
    spot, canvas = fitted(drawn, _WIDE_MM, _HIGH_MM), Canvas()
    for body in drawn:
        canvas.bodies([body], spot, (OUTLINE if body.name in ("board", "plate") else THIN, THIN))
    high = kit.trestle.job.top.width_mm
    # The lowest corner toward the operator: from there the plumb line and the face part.
    back = radians(back_deg)
    foot = VIEW.point((0.0, -high * cos(back), high * sin(back)))
    plumb = (foot[0], foot[1] + 0.9 * high)
    canvas.line([spot.point(foot), spot.point(plumb)], BROKEN)
    places = {name: spot.point(place) for name, place in seen_places(bodies, VIEW).items()}
    plate = next(place for name, place in places.items() if name.startswith("plate"))
    names = [
        NameLabel("plate level: the router does not slide", plate, "right"),
        NameLabel("you stand here, the top face toward you", spot.point((foot[0] - 4.0, foot[1] + 0.3 * high)), "left"),
        NameLabel(
            f"board {angle_off(back_deg, 'plumb', 'the level')}, leaning back from you", places["board"], "right"
        ),
        NameLabel("plumb", spot.point((foot[0], foot[1] + 0.75 * high)), "left"),
    ]
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("The board leaning back")


def leaning_bodies(kit: Kit) -> list[Body]:
    """The jig set for R on its board, turned about the board's top arris; y up, z toward the operator."""
    back = radians(90.0 - kit.trestle.job.splay_deg)
    turned = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, cos(back), -sin(back)), (0.0, sin(back), cos(back)))
    board, _ = board_body(kit, "R")
    return [Body(body.name, body.solid.placed(turned)) for body in (*jig_bodies(kit, "R"), board)]
