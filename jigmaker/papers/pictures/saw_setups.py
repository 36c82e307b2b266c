"""The three cuts on the saw: which face lies down, how far the kerf swings and the blade leans. mm, degrees.

Saw frame: origin where the kerf meets the piece's edge nearer to the operator, on the table; x along the fence to the
operator's right, y from the operator to the fence, z up. The part that is kept lies at the left of the blade.
"""

from math import cos, radians, sin
from typing import Literal

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.vectors import Vector, add, cross, scale
from jigmaker.papers.wording import off_square, off_upright
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, sine
from jigmaker.trestle.leg import leg_directions
from jigmaker.trestle.records import Trestle

SawCut = Literal["leg flat", "leg on edge", "brace end"]
CUTS: tuple[SawCut, ...] = ("leg flat", "leg on edge", "brace end")

NONE_DEG = 0.005
"""A smaller angle prints as 0.00."""

_UP: Vector = (0.0, 0.0, 1.0)


@dataclass(frozen=True, slots=True)
class SawSetup:
    """One cut. wide, thick: the piece's section as it lies, across the table and up, mm.

    mitre_deg: the kerf off square to the fence, above 0 when its far end swings to the right. tilt_deg: the blade off
    upright, above 0 when its top leans to the left. timber_axes: the saw frame's x and z axes in the timber frame of
    the +x +y leg or of the +x brace; down, left, right: what lies down, and what the two ends are.
    """

    cut: SawCut
    wide_mm: float
    thick_mm: float
    mitre_deg: float
    tilt_deg: float
    timber_axes: tuple[Vector, Vector]
    down: str
    left: str
    right: str

    @property
    def blade(self) -> Frame:
        """The blade in the saw frame, from the two settings alone: x along the kerf, y up in the blade, z to the right
        out of it."""
        # From above, the fence at the top: the kerf swings by m from square to it, toward +x. From the operator: the
        # blade leans by t from upright, toward -x, square to the kerf.
        #
        #    y ______/_ fence           z    \ | upright
        #    |   |m /                   |     \t|
        #    |   | /  along             |      \|
        #    |___|/_____ x              |_______\_____ table
        #
        m, t = radians(self.mitre_deg), radians(self.tilt_deg)
        along = (sin(m), cos(m), 0.0)
        square = (cos(m), -sin(m), 0.0)
        up = add(scale(square, -sin(t)), scale(_UP, cos(t)))
        return Frame((0.0, 0.0, 0.0), along, up, cross(along, up))

    @property
    def swings_toward(self) -> str:
        """The end toward which the kerf's far end swings; "" for a cut square across."""
        return (self.right if self.mitre_deg > 0 else self.left) if abs(self.mitre_deg) > NONE_DEG else ""

    @property
    def leans_toward(self) -> str:
        """The end toward which the blade's top leans; "" for an upright blade."""
        return (self.left if self.tilt_deg > 0 else self.right) if abs(self.tilt_deg) > NONE_DEG else ""

    @property
    def words(self) -> tuple[str, str]:
        """(mitre, tilt) as a saw's scales and a bevel read them."""
        return (f"mitre {off_square(abs(self.mitre_deg), 'the fence')}", f"blade {off_upright(abs(self.tilt_deg))}")


def saw_setup(trestle: Trestle, cut: SawCut) -> SawSetup:
    """How the piece lies for one cut, and both settings of the saw, degrees."""
    leg, brace, angles = trestle.leg, trestle.job.brace, trestle.angles
    down, wide, edge = leg_directions(trestle)
    match cut:
        case "leg flat":
            # Outer face down, head to the left: the kerf's far end swings toward the foot, the blade's top to the head.
            section, turns = (leg.width_mm, leg.thickness_mm), (angles.saw_mitre_deg, angles.saw_tilt_deg)
            axes = down, scale(wide, -1.0)
            words = ("wide face down, the outer one", "head", "foot")
        case "leg on edge":
            # Near narrow edge down, head to the left, outer face toward the operator: the kerf swings the other way.
            section = (leg.thickness_mm, leg.width_mm)
            turns = (-angles.saw_mitre_on_edge_deg, angles.saw_tilt_on_edge_deg)
            axes = down, scale(edge, -1.0)
            words = ("narrow edge down, outer face toward you", "head", "foot")
        case "brace end":
            # Inside face up, where its lines are seen, top edge at the fence, the end at -y at the blade: undercut, so
            # the blade's top leans out of the brace. The other end is the mirror image.
            section = (brace.depth_mm, brace.thickness_mm)
            turns = (-(90.0 - angles.brace_end_deg), -angles.brace_end_tilt_deg)
            axes = (0.0, -1.0, 0.0), (-sine(angles.rake_deg), 0.0, -cosine(angles.rake_deg))
            words = ("inside face up, top edge at the fence", "brace", "waste")
    return SawSetup(cut, *section, *turns, axes, *words)
