"""What a solved trestle is: angles, leg, housing, brace and foot as frozen records. Timber frame; mm, degrees.

Timber frame: origin at the middle of the top face, x along the board, y across, z up; floor at z = -height. All figures
are for the leg at the +x end, +y side; the other three are its mirror images in x, in y and in both.
"""

from typing import Literal

from jigmaker.job.job import Job
from jigmaker.record import dataclass

Hand = Literal["R", "L"]
"""Of a housing: board edge up, top face toward you, R is the one near the end at your right."""


@dataclass(frozen=True, slots=True)
class Angles:
    """Every angle of the trestle, degrees. Where a name alone could be misread, its line below says off what.

    rake, splay: bevel settings off the level. true_lean: leg's axis off the level.
    edge_line: housing wall seen on the board's edge, off the top arris.
    leg_face: level line across the leg's wide face, from the leg's arris (the phi of the formulas).
    leg_edge: level line across the leg's narrow edge, off square (epsilon).
    saw_mitre, saw_tilt: leg lying on its wide face: mitre off square, blade off upright.
    saw_mitre_on_edge, saw_tilt_on_edge: the same cut with the leg lying on its narrow edge.
    wall: between the housing's floor and a wall sawn square across the board.
    edge_twist: level line across the leg's narrow edge, off square to the board (tau).
    brace_end: brace's end line in its own face, from its long edge (psi); brace_end_tilt: blade off upright for ends
    that lie flush with the legs' outer faces; brace_edge: bevel of the brace's top edge off its face; brace_wedge:
    between the brace's face and the leg's narrow edge.
    """

    rake_deg: float
    splay_deg: float
    true_lean_deg: float
    edge_line_deg: float
    leg_face_deg: float
    leg_edge_deg: float
    saw_mitre_deg: float
    saw_tilt_deg: float
    saw_mitre_on_edge_deg: float
    saw_tilt_on_edge_deg: float
    wall_deg: float
    edge_twist_deg: float
    brace_end_deg: float
    brace_end_tilt_deg: float
    brace_edge_deg: float
    brace_wedge_deg: float


@dataclass(frozen=True, slots=True)
class Leg:
    """One leg; all are one piece without a hand. length: finished, along an arris; cut_length: with horn and trim;
    blank: shortest board that holds the cut leg; level_width: along a level line of the wide face; along_per_leg: board
    used up by each leg of a row cut one after another, without the saw's kerf. All mm.
    """

    width_mm: float
    thickness_mm: float
    length_mm: float
    cut_length_mm: float
    blank_mm: float
    level_width_mm: float
    along_per_leg_mm: float


@dataclass(frozen=True, slots=True)
class Housing:
    """One housing as cut, clearance included. width: square to the walls; width_on_arris: along the top arris;
    depth_square: square to the floor (leg thickness less reveal); depth_top, depth_bottom: in the top and the bottom
    face, square to the edge; start_top, start_bottom: near wall from the board's end on the top and the bottom arris.
    mm, mm3.
    """

    width_mm: float
    width_on_arris_mm: float
    depth_square_mm: float
    depth_top_mm: float
    depth_bottom_mm: float
    start_top_mm: float
    start_bottom_mm: float
    volume_mm3: float


@dataclass(frozen=True, slots=True)
class Brace:
    """One brace. top: length along its top inside edge, under the board; bottom: along its bottom edge; gap: at a leg's
    inner arris, square to a flat brace that lies on the outer arrises; stand_back: from the board's end to the brace's
    outer face at the top. mm.
    """

    top_mm: float
    bottom_mm: float
    depth_mm: float
    thickness_mm: float
    gap_mm: float
    stand_back_mm: float


@dataclass(frozen=True, slots=True)
class Foot:
    """Spread of the feet over their outer corners at the floor, along and across the board, mm."""

    spread_along_mm: float
    spread_across_mm: float


@dataclass(frozen=True, slots=True)
class Trestle:
    """A job solved."""

    job: Job
    angles: Angles
    leg: Leg
    housing: Housing
    brace: Brace
    foot: Foot
