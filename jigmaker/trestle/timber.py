"""The trestle's timber as exact models: a solved trestle in; each piece lying, and the whole standing, out. mm.

A piece lies with its length along x and its lowest corner at the origin of its own frame; the trestle stands in the
timber frame, every leg and brace a copy of the one that lies.
"""

from jigmaker.geometry.flat_faces import flat_faces
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.model import FlatSided, Model, ModelBody
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import Vector, add, cross, scale
from jigmaker.trestle.angles import cosine, sine
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solids import SEATS, brace_solid, leg_solid, trestle_solids

Lying = tuple[FlatSided, Frame]
"""A piece in its own frame, and timber_from_piece for one place of it."""

_HALF_TURN = Frame((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))


def timber_models(trestle: Trestle) -> dict[str, Model]:
    """One model a kind of piece: "top-board", "leg", "brace"; "leg-as-sawn" too where legs have horn or trim."""
    leg = trestle.job.leg
    pieces = {"top-board": _top(trestle), "leg": _leg(trestle), "brace": _brace(trestle)}
    if leg.horn_mm or leg.trim_mm:
        pieces["leg-as-sawn"] = _leg(trestle, finished=False)
    models = {}
    for name, (shape, _) in pieces.items():
        words = name.replace("-", " ")
        models[name] = Model(words, (ModelBody(words, words, shape),))
    return models


def trestle_model(trestle: Trestle) -> Model:
    """The trestle put together, finished: the board with its housings, four legs, two braces; timber frame."""
    (top, at), (leg, at_leg), (brace, at_brace) = _top(trestle), _leg(trestle), _brace(trestle)
    legs = [
        ModelBody(f"leg {place}", "leg", leg, _to_seat(trestle, x, y) @ at_leg)  #
        for place, x, y in SEATS
    ]
    braces = [
        ModelBody("brace +x", "brace", brace, at_brace),
        ModelBody("brace -x", "brace", brace, _HALF_TURN @ at_brace),
    ]
    return Model("trestle", (ModelBody("top board", "top board", top, at), *legs, *braces))


def _top(trestle: Trestle) -> Lying:
    return _lying(trestle_solids(trestle)["top board"], Frame())


def _leg(trestle: Trestle, finished: bool = True) -> Lying:
    """The +x +y leg, its outer wide face up, its head at the origin's end."""
    down, outward, _ = leg_directions(trestle)
    return _lying(leg_solid(trestle, finished), Frame((0.0, 0.0, 0.0), down, cross(outward, down), outward))


def _brace(trestle: Trestle) -> Lying:
    """The brace at the +x end, its outer face up, its lower edge along x."""
    s, c = sine(trestle.job.rake_deg), cosine(trestle.job.rake_deg)
    return _lying(brace_solid(trestle), Frame((0.0, 0.0, 0.0), (0.0, 1.0, 0.0), (-c, 0.0, s), (s, 0.0, c)))


def _lying(solid: Solid, timber_from_way: Frame) -> Lying:
    """The solid in a frame with these axes that starts at the low corner of the box around it."""
    turned = FlatSided(flat_faces(solid)).inside(timber_from_way)
    way_from_piece = Frame(turned.low)
    return turned.inside(way_from_piece), timber_from_way @ way_from_piece


def _to_seat(trestle: Trestle, x: int, y: int) -> Frame:
    """What takes the finished +x +y leg to the seat with these signs.

    A mirror image is no move; but a leg does not change when it is turned inside out through its own middle, and both
    together are half a turn.
    """
    if x == y:
        return Frame() if x == 1 else _HALF_TURN
    middle: Vector = (0.0, 0.0, 0.0)
    for corner in leg_corners(trestle):
        middle = add(middle, scale(corner, 1 / 8))
    twice = (2 * x * middle[0], 2 * y * middle[1], 2 * middle[2])
    return Frame(twice, (0.0 - x, 0.0, 0.0), (0.0, 0.0 - y, 0.0), (0.0, 0.0, -1.0))
