"""The drilling template, taken apart and on the heads of an R and of an L leg. Template frame; paper mm.

What lies on the L leg is the template turned over: on that leg's mirror image it would be its own mirror image in the
plate's middle plane, so both are drawn there and mirrored together.
"""

from math import cos, pi, sin

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, scale
from jigmaker.papers.pictures.hand_guides import Pointed, bodies_of, named_picture
from jigmaker.papers.pictures.jig_bodies import exploded
from jigmaker.papers.pictures.names import Side
from jigmaker.parts.drilling_template import DRILLING_TEMPLATE, lay_out_template
from jigmaker.parts.kit import Kit
from jigmaker.parts.solids import Worked
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.solids import leg_solid

_APART_WIDE_MM, _WIDE_MM, _COLUMN_MM = 30.0, 28.0, 21.0
"""All three stand beside each other on a sheet."""
_APART_MM = 30.0
_DRILL_MM = 34.0  # of a drill over the plate
_BELOW = 1.5  # of the leg that is drawn, over the plate's length


def template_apart_picture(kit: Kit) -> Picture:
    """Both strips off their tenons, marked faces outward."""
    ways = {"head": (0.0, _APART_MM, 0.0), "side": (-_APART_MM, 0.0, 0.0)}
    words: Pointed = [("plate", "marked face up"), ("head", "head strip"), ("side", "side strip")]
    view = View.from_viewer((-0.45, 0.6, 1.0), (0.0, 1.0, 0.0))
    return named_picture(
        exploded(_template(kit), ways), view, words, "The drilling template taken apart", _APART_WIDE_MM, _COLUMN_MM
    )


def template_on_leg_picture(kit: Kit, hand: Worked) -> Picture:
    """On the upper end of a leg for this hand, seen from outside, a drill in each hole that it has there."""
    lay = lay_out_template(kit.trestle, kit.shop)
    assert lay is not None  # the page is one of kits that have it
    near: Side = "left" if hand == "R" else "right"
    far: Side = "right" if hand == "R" else "left"
    drills = []
    for hole in lay.holes:
        if hand in hole.hands:
            # A plain rod of 16 sides, through the plate and out over it.
            ring = [(lay.drill / 2 * cos(pi * i / 8), lay.drill / 2 * sin(pi * i / 8)) for i in range(16)]
            rod = Solid.prism_of_points([ring], _DRILL_MM + lay.sheet)
            drills.append(Body("drill", rod.moved((*lay.point(hole.v, hole.e), 0.0))))
    # The upper end of the +x +y leg as sawn, template frame: x to the right as one looks at the outer face, against the
    # board's own x, z out of that face, the origin at the near corner of the head.
    down, wide, _ = leg_directions(kit.trestle)
    head = add(leg_corners(kit.trestle)[0], scale(down, -kit.trestle.job.leg.horn_mm))
    right = (-1.0, 0.0, 0.0)
    frame = Frame(head, right, cross(wide, right), wide)
    leg = leg_solid(kit.trestle, finished=False).placed(frame.inverse)
    bodies = [*_template(kit), Body("leg", leg.kept_below((0.0, -_BELOW * lay.length, 0.0), (0.0, -1.0, 0.0))), *drills]
    if hand == "L":
        # The same pieces, the other face of the plate out.
        flat = {body.name: body.solid.mirrored((0.0, 0.0, 1.0)).moved((0.0, 0.0, lay.sheet)) for body in _template(kit)}
        bodies = [Body(b.name, flat.get(b.name, b.solid).mirrored((1.0, 0.0, 0.0))) for b in bodies]
    words: Pointed = [
        ("side", "side strip toward the board's end", near),
        ("leg", "leg for R, outer face" if hand == "R" else "leg for L, outer face", far),
    ]
    words.append(("plate", "marked face out" if hand == "R" else "marked face on the leg", far))
    if hand == "R" and lay.gap_shows:
        words.append(("head", "gap before the head's arris", far))
    view = View.from_viewer((0.25 if hand == "R" else -0.25, 0.3, 1.0), (0.0, 1.0, 0.0))
    return named_picture(bodies, view, words, f"The drilling template on a leg for {hand}", _WIDE_MM, _COLUMN_MM, hand)


def _template(kit: Kit) -> list[Body]:
    """Its three pieces, by what they are."""
    found = bodies_of(kit, DRILLING_TEMPLATE, "R")
    return [Body(body.name.removeprefix(f"{DRILLING_TEMPLATE} "), body.solid) for body in found]
