"""The leg box, taken apart and at work. Box frame; paper mm.

Every piece is drawn where it stands, the leg and the saw as plain stand-ins of the sizes that job and shop tell.
"""

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.papers.pictures.hand_guides import Pointed, bodies_of, named_picture
from jigmaker.papers.pictures.jig_bodies import exploded
from jigmaker.parts.kit import Kit
from jigmaker.parts.leg_saw.leg_box import LEG_BOX, lay_out_box
from jigmaker.trestle.angles import cosine, sine

_VIEW = View.from_viewer((-0.35, -1.0, 0.95))
_AT_WORK = View.from_viewer((-0.5, -1.0, 1.15))
_APART_MM, _WIDE_MM = 86.0, 60.0
_BACK_MM, _HANDLE_MM = 12.0, 100.0


def leg_box_apart_picture(kit: Kit) -> Picture:
    """Walls and strips lifted out of the bottom, each the way it goes in."""
    ways = {
        "leg box near": (0.0, -25.0, 95.0),
        "leg box far": (0.0, 25.0, 75.0),
        "leg box left": (0.0, 0.0, 45.0),
        "leg box right": (0.0, 0.0, 45.0),
    }
    words: Pointed = [
        ("leg box near", "near wall, its tongue through the bottom; HEAD THIS END at your left"),
        ("leg box far", "far wall, its letters toward you"),
        ("leg box left", "strip"),
        ("leg box right", "strip"),
        ("leg box bottom", "bottom"),
    ]
    return named_picture(
        exploded(bodies_of(kit, LEG_BOX, "R"), ways), _VIEW, words, "The leg box taken apart", _APART_MM
    )


def leg_box_picture(kit: Kit) -> Picture:
    """A leg in the box, the saw half way through it."""
    lay = lay_out_box(kit.trestle, kit.shop)
    words: Pointed = [
        ("board", "leg: outer wide face down, head at your left", "left"),
        ("hand saw", "hand saw: its back comes down on both walls"),
        ("leg box near", "near wall, hooked over the bench's edge", "right"),
    ]
    # Plate, back and handle in the slots, the teeth half way through the leg, the handle toward the operator.
    saw, (s, c) = lay.saw, (sine(lay.splay_deg), cosine(lay.splay_deg))
    teeth = lay.leg_thickness / 2
    # x away from the operator, y up in the saw's plane, z out of it toward the foot.
    in_slots = Frame((lay.slot_x(teeth, 0), 0.0, teeth), (0.0, 1.0, 0.0), (-c, 0.0, s), (s, 0.0, c))
    near, far, half = -saw.length_mm * 0.6, saw.length_mm * 0.4, saw.plate_mm / 2
    plate = Solid.block((near, 0.0, -half), (far, saw.depth_mm, half))
    back = Solid.block((near, saw.depth_mm, -saw.back_mm / 2), (far, saw.depth_mm + _BACK_MM, saw.back_mm / 2))
    handle = Solid.block((near - _HANDLE_MM, 15.0, -10.0), (near, saw.depth_mm + 25.0, 10.0))
    sawing = Solid.union([plate, back, handle]).placed(in_slots)
    # The leg lies askew, its head at the left and nearer to the operator, wide face down.
    reach, leg = lay.bottom_half + 90.0, kit.trestle.job.leg
    axis = (sine(lay.face_deg), cosine(lay.face_deg), 0.0)
    along = Frame((0.0, 0.0, 0.0), axis, (-axis[1], axis[0], 0.0), (0.0, 0.0, 1.0))
    block = Solid.block((-reach, -leg.width_mm / 2, 0.0), (reach, leg.width_mm / 2, leg.thickness_mm))
    bodies = [*bodies_of(kit, LEG_BOX, "R"), Body("board", block.placed(along).minus(sawing))]
    bodies.append(Body("hand saw", sawing))
    return named_picture(bodies, _AT_WORK, words, "A leg in the leg box", _WIDE_MM)
