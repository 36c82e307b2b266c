"""The board leaning back until the plate of jig or saw guide is level, between wedges where the kit has them.

Seen along the board; paper mm.
"""

from math import cos, radians, sin
from typing import Literal

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN, Canvas, fitted
from jigmaker.papers.pictures.hand_guides import saw_guide_on_board
from jigmaker.papers.pictures.jig_bodies import board_body, drawn_solid, jig_bodies
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.papers.wording import angle_off, counted
from jigmaker.parts.kit import Kit
from jigmaker.parts.wedges import lay_out_wedges

VIEW = View.from_viewer((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
"""From the board's right end: the operator stands at the left of the picture."""

LeansFor = Literal["rout", "saw"]
_PLATE: dict[LeansFor, tuple[str, str]] = {
    "rout": ("plate", "plate level: the router does not slide"),
    "saw": ("saw guide near plate", "plates level: the saw stands upright"),
}
_WIDE_MM, _HIGH_MM, _COLUMN_MM = 46.0, 40.0, 32.0
_JAW_MM, _JAW_DEEP_MM, _BODY_MM = 26.0, 70.0, 10.0  # of a jaw that is drawn: its thickness and depth; along the board


def leaning_back_picture(kit: Kit, use: LeansFor = "rout") -> Picture:
    """Jig or saw guide and board turned back by the plate's tilt, a plumb line beside the board, the plate level."""
    back_deg = 90.0 - kit.trestle.job.splay_deg
    wedges = lay_out_wedges(kit.trestle, kit.shop)
    bodies = leaning_bodies(kit, use)
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
    begins, level = _PLATE[use]
    plate = next(place for name, place in places.items() if name.startswith(begins))
    # The operator stands before the board, and before the jaw that is before it.
    before = min([foot[0], *(VIEW.point(body.solid.bounds[1])[0] for body in bodies if body.name == "front jaw")])
    names = [
        NameLabel(level, plate, "right"),
        NameLabel("you stand here, the top face toward you", spot.point((before - 4.0, foot[1] + 0.3 * high)), "left"),
        NameLabel(
            f"board {angle_off(back_deg, 'plumb', 'the level')}, leaning back from you", places["board"], "right"
        ),
        NameLabel("plumb", spot.point((foot[0], foot[1] + 0.75 * high)), "left"),
    ]
    if wedges and use in wedges.leanings:
        layers = f"{counted(wedges.layers, 'layer')} glued"
        names += [
            NameLabel(f"front wedge, {layers}: thick end up, ear on the jaw", places["front wedge"], "left"),
            NameLabel(f"back wedge, {layers}: thin end up, ear on the jaw", places["back wedge"], "right"),
            NameLabel("jaw of the vice: wedges at both its ends, clear of the lugs", places["front jaw"], "left"),
        ]
    name_beside(canvas, names, _COLUMN_MM)
    return canvas.picture("The board leaning back")


def leaning_bodies(kit: Kit, use: LeansFor = "rout") -> list[Body]:
    """Jig or saw guide for R on its board, turned about the board's top arris; y up, z toward the operator."""
    back = radians(90.0 - kit.trestle.job.splay_deg)
    turned = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, cos(back), -sin(back)), (0.0, sin(back), cos(back)))
    is_routed = use == "rout"
    on_board = [*jig_bodies(kit, "R"), board_body(kit, "R")[0]] if is_routed else saw_guide_on_board(kit, "R")[0]
    bodies = [Body(body.name, body.solid.placed(turned)) for body in on_board]
    wedges = lay_out_wedges(kit.trestle, kit.shop)
    if wedges is None or use not in wedges.leanings:
        return bodies
    # Drawn where all of them is seen, beyond the board's right end.
    right = max(body.solid.bounds[1][0] for body in bodies)
    # Jaws and wedges from X = right on.
    top, front = wedges.jaw_top(use), wedges.front_jaw(use)
    rear = front + wedges.jaws_apart(use)
    # A part's x runs from its thin end: up for a front wedge, down for a back one; its y from the ear to the slope.
    ways = {"front-wedge": (1.0, top + wedges.ear - wedges.height, front), "back-wedge": (-1.0, top + wedges.ear, rear)}
    found = []
    for part in kit.parts:
        if part.slug in ways:
            up, end, face = ways[part.slug]
            own = Frame((right, end, up * wedges.ear_out - face), (0.0, up, 0.0), (0.0, 0.0, -up), (-1.0, 0.0, 0.0))
            found.append(Body(part.name, drawn_solid(part).placed(own).moved((part.thickness_mm, 0.0, 0.0))))
    for name, near, far in (("front jaw", front - _JAW_MM, front), ("back jaw", rear, rear + _JAW_MM)):
        found.append(Body(name, Solid.block((right, top - _JAW_DEEP_MM, -far), (right + _BODY_MM, top, -near))))
    return [*bodies, *found]
