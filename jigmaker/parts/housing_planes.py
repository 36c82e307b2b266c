"""The planes in which the jigs and templates for housings are drawn: splay and face angle in, points out; mm, degrees.

All three layouts (of the routing jig, of the saw guide, of the drilling template) reckon in them.
"""

from jigmaker.geometry.frames import Point
from jigmaker.trestle.angles import cosine, sine


class HousingPlanes:
    """What follows from a layout's splay b and face angle phi alone. The angles are the layout's own fields."""

    __slots__ = ()
    splay_deg: float
    face_deg: float

    # The plate plane (X, v, m) from the board's right end, in the bearer plane (q rearward, y up out of the edge):
    #
    #     m    y
    #      \   |            . - ' v     The board's top arris O is the origin of both. v rises away from the operator, b
    #       \  |      . - '             off y; m is square to it, out of the wood. So a point at (v, m) lies
    #        \ |. - '                   q = v sin b - m cos b behind the board's top face, and
    #          O----------------- q     y = v cos b + m sin b over its worked edge.

    def bearer_point(self, v: float, m: float) -> Point:
        """(q, y) in the bearer plane of the point at v, m of the plate plane, mm."""
        s, c = sine(self.splay_deg), cosine(self.splay_deg)
        return (v * s - m * c, v * c + m * s)

    # In the plate plane the leg's axis runs outward as it rises, phi off the board's arris X.

    @property
    def lie(self) -> float:
        """cos phi: X for 1 along the leg."""
        return cosine(self.face_deg)

    @property
    def rise(self) -> float:
        """sin phi: v for 1 along the leg."""
        return sine(self.face_deg)
