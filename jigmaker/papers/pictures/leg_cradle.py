"""The sloping cradle, taken apart and at work. Cradle frame; paper mm.

Every piece is drawn where it stands; leg, blade, table and fence of the saw are plain stand-ins.
"""

from math import radians, tan

from jigmaker.drawing.picture import Picture
from jigmaker.drawing.projection import Body
from jigmaker.drawing.view import View
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Circle
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import cross, dot, scale
from jigmaker.papers.pictures.hand_guides import Pointed, bodies_of, named_picture
from jigmaker.papers.pictures.jig_bodies import exploded
from jigmaker.parts.kit import Kit
from jigmaker.parts.leg_saw.leg_cradle import LEG_CRADLE, CradleLayout, lay_out_cradle
from jigmaker.trestle.angles import cosine, sine

_APART = View.from_viewer((-0.35, -1.0, 0.8))
# From where the blade is not seen edge on, and low, or the slope would seem level.
_AT_WORK = {"first": View.from_viewer((0.12, -1.0, 0.6)), "second": View.from_viewer((-0.12, -1.0, 0.6))}
_PAIR_MM, _COLUMN_MM = 66.0, 20.0
_TABLE_MM, _FENCE_MM, _GAP_MM, _KERF_MM = 8.0, (12.0, 45.0), 40.0, 3.0
_BATTEN_MM, _STOP_MM = (18.0, 22.0), 30.0


def leg_cradle_apart_picture(kit: Kit) -> Picture:
    """Ribs drawn off the cross pieces, each the way it goes on."""
    ways = {
        "cradle near rib": (0.0, -110.0, 0.0),
        "cradle far rib": (0.0, 90.0, 0.0),
        "cradle fence rib": (0.0, 170.0, 0.0),
        "cradle packing strip": (0.0, 170.0, 0.0),
    }
    words: Pointed = [
        ("cradle near rib", "rib, letters toward you, BLADE THIS END at your right"),
        ("cradle low cross piece", "low cross piece"),
        ("cradle high cross piece", "high cross piece"),
        ("cradle far rib", "rib, letters toward you"),
        ("cradle fence rib", "fence rib, glued behind it", "left"),
        ("cradle packing strip", "packing strip, stays loose"),
    ]
    return named_picture(exploded(bodies_of(kit, LEG_CRADLE, "R"), ways), _APART, words, "The sloping cradle apart")


def leg_cradle_picture(kit: Kit, end: str) -> Picture:
    """A leg on the cradle, the blade through its "first" or its "second" end; for that one the stop."""
    lay, leg = lay_out_cradle(kit.trestle, kit.shop), kit.trestle.leg
    swing = (1 if end == "first" else -1) * lay.mitre_deg
    c, s = cosine(lay.slope_deg), sine(lay.slope_deg)
    on_cradle = Frame((0.0, -lay.sheet, lay.under_leg), (c, 0.0, -s), (0.0, 1.0, 0.0), (s, 0.0, c))
    out = (cosine(swing), -sine(swing), 0.0)
    blade = Frame((0.0, 0.0, 0.0), cross((0.0, 0.0, 1.0), out), (0.0, 0.0, 1.0), out)
    block = Solid.block((-leg.cut_length_mm - 25.0, -leg.width_mm, 0.0), (70.0, 0.0, leg.thickness_mm)).placed(
        on_cradle
    )
    words: Pointed = [
        ("kept", "chalk down" if end == "first" else "chalk up", "left"),
        ("blade", "far end to the right" if swing > 0 else "far end to the left" if swing < 0 else "square across"),
        ("cradle packing strip", "packing strip", "right"),
    ]
    bodies = [*bodies_of(kit, LEG_CRADLE, "R"), *_saw(lay, swing, blade, leg.width_mm)]
    if end == "second":
        # Both ends are parallel: the sawn one lies in a plane parallel to the blade's, through the arris at the stop.
        arris = on_cradle.point((0.0, 0.0, leg.thickness_mm))
        left = -dot(arris, out) / dot(on_cradle.x_axis, out) - leg.cut_length_mm
        block = block.kept_below(on_cradle.point((left, 0.0, leg.thickness_mm)), scale(out, -1.0))
        # A batten along the fence rib's top and the block on it that the leg's point touches.
        (wide, high), start, thick = _BATTEN_MM, left - _STOP_MM, leg.thickness_mm
        batten = Solid.block((start, lay.sheet - wide, thick + 2.0), (-lay.length * 0.6, lay.sheet, thick + high))
        stop = Solid.block((start, -_STOP_MM, thick - 12.0), (left, lay.sheet - wide, thick + high))
        bodies += [Body("batten", batten.placed(on_cradle)), Body("stop", stop.placed(on_cradle))]
        words.append(("stop", "stop", "left"))
    kept = block.kept_below(scale(out, -_KERF_MM / 2), out)
    rest = block.kept_below(scale(out, _KERF_MM / 2), scale(out, -1.0))
    bodies += [Body("kept", kept), Body("rest", rest)]
    return named_picture(bodies, _AT_WORK[end], words, f"A leg's {end} end on the cradle", _PAIR_MM, _COLUMN_MM)


def _saw(lay: CradleLayout, swing: float, blade: Frame, wide: float) -> list[Body]:
    """Table, both halves of the fence, and the blade as a disc down to the table."""
    low, front = lay.ends[0] - 30.0, -wide - 2 * lay.sheet - 20.0
    thick, high = _FENCE_MM
    radius = 0.75 * (wide + 2 * lay.sheet)
    middle = -(lay.sheet + wide / 2)
    disc = Solid.prism(Circle((middle, 0.75 * radius), radius), [], _KERF_MM, 16).moved((0.0, 0.0, -_KERF_MM / 2))
    gap = _GAP_MM / 2 + high * tan(radians(abs(swing)))
    return [
        Body("blade", disc.placed(blade).kept_below((0.0, 0.0, 0.0), (0.0, 0.0, -1.0))),
        Body("fence left", Solid.block((low, 0.0, 0.0), (-gap, thick, high))),
        Body("fence right", Solid.block((gap, 0.0, 0.0), (lay.from_blade + 170.0, thick, high))),
        Body("table", Solid.block((low, front, -_TABLE_MM), (lay.from_blade + 170.0, thick, 0.0))),
    ]
