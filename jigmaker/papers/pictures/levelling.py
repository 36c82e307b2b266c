"""The foot block scribing round the +x +y leg's foot on the floor. Paper mm."""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body, project
from jigmaker.drawing.seen_faces import seen_places
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Circle
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, dot, scale, subtract, unit
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN, Canvas, fitted
from jigmaker.papers.pictures.jig_bodies import drawn_solid
from jigmaker.papers.pictures.names import NameLabel, name_beside
from jigmaker.parts.kit import Kit
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.solids import leg_solid

VIEW = View.from_angles(62.0, 24.0)
_WIDE_MM, _COLUMN_MM, _HIGH_MM = 92.0, 34.0, 66.0
_LEG_HIGH_MM = 150.0
_BLOCK = ("foot-block-nose", "foot-block-layer")


def levelling_picture(kit: Kit) -> Picture:
    """The block on the floor, its nose against the leg's outer face, a pencil on the nose, the line round the leg."""
    bodies = levelling_bodies(kit)
    drawn = project(bodies, VIEW)
    spot, canvas = fitted(drawn, _WIDE_MM, _HIGH_MM), Canvas()
    for body in drawn:
        canvas.bodies([body], spot, (THIN, THIN) if body.name == "floor" else (OUTLINE, THIN))
    for line in _scribed(kit):
        canvas.line([spot.point(VIEW.point(p)) for p in line], BROKEN)
    places = seen_places(bodies, VIEW)
    named = {
        "leg": "foot of a leg",
        "foot block nose": "nose, always the top layer, against the leg",
        "foot block layer 2": "plain layers: as many as the height needs",
        "pencil": "pencil or knife flat on the nose",
    }
    names = [NameLabel(text, spot.point(places[name])) for name, text in named.items() if name in places]
    a, b = _scribed(kit)[0]
    end = spot.point(VIEW.point(add(scale(a, 0.15), scale(b, 0.85))))
    name_beside(canvas, [*names, NameLabel("line round all four faces", end)], _COLUMN_MM)
    return canvas.picture("Levelling: the foot block at a foot")


def levelling_bodies(kit: Kit) -> list[Body]:
    """Foot, layers of the block, pencil, floor; moved so that the floor is at z = 0."""
    height = kit.trestle.job.height_mm
    leg = leg_solid(kit.trestle).moved((0.0, 0.0, height)).kept_below((0.0, 0.0, _LEG_HIGH_MM), (0.0, 0.0, 1.0))
    # The block touches the leg's outer face with its nose's lower arris, square to it, from outside: its x points at
    # the leg (-y of the trestle), its y along the board.
    nose = next(part for part in kit.parts if part.slug == "foot-block-nose")
    x, y, _ = _touch(kit, _nose_top(kit) - nose.thickness_mm)
    _, _, long, wide = nose.outline.bounds
    block = Frame((x - wide / 2, y + long, 0.0), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    layers = [
        Body(place.name, drawn_solid(part).placed(block @ place.assembly_from_part))
        for part in kit.parts
        if part.slug in _BLOCK
        for place in part.placements
    ]
    # The pencil is a stick that lies on the nose, its tip at the leg.
    x, y, z = _touch(kit, _nose_top(kit))
    out_x, out_y, _ = outward = unit((0.45, 0.893, 0.0))
    lying = Frame((x, y, z + 3.5), (0.0, 0.0, 1.0), (out_y, -out_x, 0.0), outward)
    pencil = Solid.prism(Circle((0.0, 0.0), 3.5), [], 110.0, 6).placed(lying)
    (low_x, low_y, _), (high_x, high_y, _) = Solid.union([leg, *(body.solid for body in layers)]).bounds
    floor = Solid.block((low_x - 30.0, low_y - 30.0, -0.5), (high_x + 30.0, high_y + 20.0, 0.0))
    return [Body("leg", leg), *layers, Body("pencil", pencil), Body("floor", floor)]


def _nose_top(kit: Kit) -> float:
    return max(
        place.assembly_from_part.origin[2] + part.thickness_mm
        for part in kit.parts
        if part.slug in _BLOCK
        for place in part.placements
    )


def _touch(kit: Kit, height: float) -> Vector:
    """The middle of the leg's outer face at a height over the floor."""
    # From the middle of the sole's outer edge up along the leg: its direction `down` falls by -down[2] for each mm, so
    # a height h is h / -down[2] along it.
    foot, (down, _, _) = leg_corners(kit.trestle)[4:], leg_directions(kit.trestle)
    middle = scale(add(foot[0], foot[1]), 0.5)
    at = add(middle, (0.0, 0.0, kit.trestle.job.height_mm))
    return subtract(at, scale(down, height / -down[2]))


def _scribed(kit: Kit) -> list[list[Vector]]:
    """The line that the pencil leaves on the faces that are seen: outer wide face and edge toward the board's end."""
    height, down = _nose_top(kit), leg_directions(kit.trestle)[0]
    feet = [add(p, (0.0, 0.0, kit.trestle.job.height_mm)) for p in leg_corners(kit.trestle)[4:]]
    outer_near, outer_far, _, inner_near = (subtract(p, scale(down, height / -down[2])) for p in feet)
    faces = ((outer_near, outer_far, leg_directions(kit.trestle)[1]), (outer_near, inner_near, (1.0, 0.0, 0.0)))
    return [[a, b] for a, b, out in faces if dot(out, VIEW.toward) > 0]
