"""Marks on a leg or a brace in, the screw's line and what wood is round it out; timber frame of the +x +y leg, mm.

The leg across the board is this one's mirror image: its screws are placed here too and mirrored afterwards.
"""

from math import ceil, floor
from typing import Literal

from jigmaker.geometry.segments import SpaceSegment
from jigmaker.geometry.vectors import Vector, add, dot, scale, subtract
from jigmaker.job.screw_sizes import ScrewSize
from jigmaker.record import dataclass
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.leg import leg_corners, leg_directions
from jigmaker.trestle.records import Trestle

EDGE_MM = 12.0
"""Wood from a screw to any edge of leg, board and brace (common practice, no source)."""

FOOT_MM = 25.0
"""Nothing of metal this near to a foot: feet are trimmed, and chamfered (common practice, no source)."""

TIP_MM = 5.0
"""Wood left round a screw's tip, and between two screws (common practice, no source)."""

Edge = Literal["near", "far"]
"""The leg's edge toward the board's end, and the other one."""


@dataclass(frozen=True, slots=True)
class ScrewLine:
    """A screw's line: the middle of its head, on the face it goes in by, and the unit direction it goes."""

    head: Vector
    direction: Vector

    def to_depth(self, length_mm: float) -> Vector:
        """The point so far in."""
        return add(self.head, scale(self.direction, length_mm))

    def body(self, length_mm: float) -> SpaceSegment:
        """From the head to the tip of a screw so long."""
        return self.head, self.to_depth(length_mm)


def leg_line(trestle: Trestle, edge: Edge, from_head_mm: float, from_edge_mm: float) -> ScrewLine:
    """A leg's screw, square to the housing's floor, marked on the leg's outer face.

    from_head: square to the finished head's line on that face; from_edge: square to the arris of that edge.
    """
    down, wide, out = leg_directions(trestle)
    corner = leg_corners(trestle)[0 if edge == "near" else 1]
    beside = add(corner, scale(out, -from_edge_mm if edge == "near" else from_edge_mm))
    # The head's line is level at z = 0, and square to it the face falls by sin(splay).
    along = (beside[2] + from_head_mm * sine(trestle.job.splay_deg)) / -down[2]
    return ScrewLine(add(beside, scale(down, along)), scale(wide, -1))


def head_range(trestle: Trestle, size: ScrewSize, margin_mm: float) -> tuple[float, float] | None:
    """How far from the finished head's line, square to it, a leg's screw keeps the margin, and its tip enough wood; mm.

    Asked for: the margin from the leg's head and from the board's two faces, the tip clear of the board's bottom face,
    and the foot far off. None where there is no such place.
    """
    job, slope = trestle.job, cosine(trestle.job.splay_deg)
    through = job.leg.thickness_mm * slope
    thickness = job.top.thickness_mm
    # Levels, z = 0 in the top face. The screw runs square to the housing's floor, and falls by cos b for 1 of way: by
    # `through` in the leg, so that it enters the board at z - through, and by length cos b in all to its tip.
    high = min(-margin_mm * sine(job.splay_deg), -margin_mm + through)
    low = max(
        margin_mm + through - thickness,
        TIP_MM + size.length_mm * slope - thickness,
        FOOT_MM * sine(job.splay_deg) - job.height_mm,
    )
    if low > high:
        return None
    quarter = (through - thickness / 4, through - thickness * 3 / 4)  # no farther apart than quarters of the board
    upper, lower = max(low, min(high, quarter[0])), min(high, max(low, quarter[1]))
    falls = sine(job.splay_deg)
    return -upper / falls, -lower / falls


def penetration_mm(trestle: Trestle, size: ScrewSize) -> float:
    """How far a leg's screw goes into the board."""
    return size.length_mm - trestle.job.leg.thickness_mm


def tip_room_mm(trestle: Trestle, tip: Vector) -> float:
    """The least wood round a tip in the board: to its faces, its end and the floor of the housing across, mm."""
    top = trestle.job.top
    _, wide, _ = leg_directions(trestle)
    mirrored = (0.0, -wide[1], wide[2])
    # The floor of the housing across is this one's mirror image: the distance to it is along the mirrored normal.
    floor_across = top.width_mm / 2 * wide[1] - trestle.housing.depth_square_mm
    return min(-tip[2], tip[2] + top.thickness_mm, top.length_mm / 2 - tip[0], floor_across - dot(tip, mirrored))


def brace_outer_depth_mm(trestle: Trestle) -> float:
    """The brace's outer face from its top edge to its bottom edge: the bevel of the top edge takes the rest."""
    brace = trestle.brace
    return brace.depth_mm - brace.thickness_mm * cotangent(trestle.job.rake_deg)


def brace_line(trestle: Trestle, from_top_mm: float, from_end_mm: float) -> ScrewLine:
    """A brace's screw, square to the brace, marked on the brace's outer face.

    from_top: from its top edge down the face; from_end: square to its end line, which lies in the leg's outer face.
    """
    job = trestle.job
    # Out of the brace's outer face; down that face, square to its long edges.
    rake_deg = trestle.job.rake_deg
    raked, falls = (sine(rake_deg), 0.0, cosine(rake_deg)), (cosine(rake_deg), 0.0, -sine(rake_deg))
    _, wide, _ = leg_directions(trestle)
    x = job.top.length_mm / 2 - trestle.brace.stand_back_mm
    in_middle = add((x, 0.0, -job.top.thickness_mm), scale(falls, from_top_mm))
    # The brace's face stands off square to the leg's outer face by the wedge.
    inside = from_end_mm * cosine(trestle.angles.brace_wedge_deg)
    y = (dot(leg_corners(trestle)[0], wide) - inside - dot(in_middle, wide)) / wide[1]
    return ScrewLine(add(in_middle, (0.0, y, 0.0)), scale(raked, -1))


def brace_entry(trestle: Trestle, line: ScrewLine) -> Vector:
    """Where a brace's screw meets the leg's narrow edge: behind the brace, and behind the gap of a flat brace."""
    _, _, out = leg_directions(trestle)
    to_edge = dot(subtract(line.head, leg_corners(trestle)[0]), out) / -dot(line.direction, out)
    return line.to_depth(to_edge)


def into_leg_mm(trestle: Trestle, point: Vector) -> tuple[float, float, float, float]:
    """A point's depth below the leg's outer face, inner face, near edge and far edge, mm."""
    _, wide, out = leg_directions(trestle)
    behind = subtract(leg_corners(trestle)[0], point)
    outer, near = dot(behind, wide), dot(behind, out)
    leg = trestle.job.leg
    return outer, leg.thickness_mm - outer, near, leg.width_mm - near


def step_up(value: float, step: float) -> float:
    """The next mark of a rule at or above a value."""
    return ceil(value / step - 1e-9) * step


def step_down(value: float, step: float) -> float:
    """The next mark of a rule at or below a value."""
    return floor(value / step + 1e-9) * step
