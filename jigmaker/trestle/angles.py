"""Every angle of a trestle from its two bevel settings; in and out are degrees, the names read in the timber frame.

rake and splay are bevel settings off the level, over 0 and up to 90 (plumb). Words: a level line is the line in which a
level plane meets a face; square means at right angles to the leg's arris unless the name says otherwise.
"""

from math import asin, atan, degrees, hypot, radians, sin, sqrt, tan

from jigmaker.job.job import Job
from jigmaker.trestle.records import Angles


def cotangent(angle_deg: float) -> float:
    """How far a line so many degrees off the level runs out for 1 of fall; exactly 0 at 90."""
    return tan(radians(90 - angle_deg))


def cosine(angle_deg: float) -> float:
    """Cosine that is exactly 0 at 90, so that a plumb leg leaves no crumbs of rounding behind."""
    return sin(radians(90 - angle_deg))


def sine(angle_deg: float) -> float:
    """Sine of an angle given in degrees."""
    return sin(radians(angle_deg))


def tangent(angle_deg: float) -> float:
    """Tangent of an angle given in degrees, under 90."""
    return tan(radians(angle_deg))


def stretch(rake_deg: float, splay_deg: float) -> float:
    """Length along the leg for 1 of height."""
    return sqrt(1 + cotangent(rake_deg) ** 2 + cotangent(splay_deg) ** 2)


def true_lean_deg(rake_deg: float, splay_deg: float) -> float:
    """The leg's axis off the level, both leans together."""
    return 90 - degrees(atan(hypot(cotangent(rake_deg), cotangent(splay_deg))))


# All angles below follow from five unit vectors of the leg at +x +y; x along the board toward its end, y across it
# outward, z up, a the rake, b the splay:
#
#     down the leg          d = (cot a, cot b, -1) / stretch
#     out of its wide face  w = (0, sin b, cos b)               w . d = 0, and w has no x: the face is level along x
#     out of its edge       e = d x w = (sin phi, -cos phi cos b, cos phi sin b),    cot phi = cot a sin b
#     a plane at the rake   r = (sin a, 0, cos a)               square across the board
#     a level plane         z = (0, 0, 1)
#
# Two planes meet along the cross product of their normals, and their normals' product is the cosine of the angle
# between them.
def edge_line_deg(rake_deg: float, splay_deg: float) -> float:
    """The housing's wall where it meets the board's edge, off the top arris."""
    # In the board's edge, a plane of x and z, the wall with the normal e runs along (e_z, -e_x): out by e_z / e_x for 1
    # of fall, which is cot phi sin b = cot a sin^2 b.
    return 90 - degrees(atan(cotangent(rake_deg) * sine(splay_deg) ** 2))


def saw_mitre_deg(rake_deg: float, splay_deg: float) -> float:
    """Level line across the leg's wide face, off square: the mitre with the leg lying on its wide face.

    With rake and splay alike this is the face cut of a four-sided mitred box of that pitch.
    """
    # A level line of the wide face runs along x, so its cosine off the leg is d_x; the tangent of what it lacks of 90
    # is d_x / sqrt(1 - d_x^2) = cot a / sqrt(1 + cot^2 b) = cot a sin b.
    return degrees(atan(cotangent(rake_deg) * sine(splay_deg)))


def leg_face_deg(rake_deg: float, splay_deg: float) -> float:
    """Level line across the leg's wide face, off the leg's arris (phi)."""
    return 90 - saw_mitre_deg(rake_deg, splay_deg)


def leg_edge_deg(rake_deg: float, splay_deg: float) -> float:
    """Level line across the leg's narrow edge, off square (epsilon): the mitre with the leg lying on that edge."""
    # The level line of the narrow edge runs along z x e = (cot phi cos b, 1, 0); put against d, with 1 + cot^2 phi =
    # stretch^2 sin^2 b, what is left of the sine and the cosine is the ratio cos b stretch.
    return degrees(atan(cosine(splay_deg) * stretch(rake_deg, splay_deg)))


def saw_tilt_on_edge_deg(rake_deg: float, splay_deg: float) -> float:
    """Blade off upright for the end cut with the leg lying on its narrow edge."""
    # The cut is level: its normal leans out of the narrow edge by z . e = cos phi sin b, and cos phi = sin(mitre).
    return degrees(asin(sine(saw_mitre_deg(rake_deg, splay_deg)) * sine(splay_deg)))


def edge_twist_deg(rake_deg: float, splay_deg: float) -> float:
    """Level line across the leg's narrow edge, off square to the board (tau)."""
    # Of that level line (cot phi cos b, 1, 0) what runs along the board for 1 across it: cot phi cos b.
    return degrees(atan(cotangent(rake_deg) * sine(splay_deg) * cosine(splay_deg)))


def wedge_deg(rake_deg: float, splay_deg: float) -> float:
    """How far a plane at the rake, square across the board, misses being square to the leg's wide face.

    The same figure three times: the wedge between brace and leg edge, the tilt of the brace's ends, and what a wall
    sawn square across the board lacks of 90 to the housing's floor.
    """
    # r . w = cos a cos b, which is 0 only for two square planes.
    return degrees(asin(cosine(rake_deg) * cosine(splay_deg)))


def brace_end_deg(rake_deg: float, splay_deg: float) -> float:
    """The brace's end line in the brace's own face, off its long edge (psi)."""
    # The end lies in the leg's wide face, so its line is r x w = (-cos a sin b, -sin a cos b, sin a sin b): along the
    # brace sin a cos b, square to it sin b, and sin a cos b / sin b = sin a cot b.
    return 90 - degrees(atan(cotangent(splay_deg) * sine(rake_deg)))


def angles_of(job: Job) -> Angles:
    """Every angle of the job's trestle, degrees."""
    both = (job.rake_deg, job.splay_deg)
    wedge = wedge_deg(*both)
    return Angles(
        rake_deg=job.rake_deg,
        splay_deg=job.splay_deg,
        true_lean_deg=true_lean_deg(*both),
        edge_line_deg=edge_line_deg(*both),
        leg_face_deg=leg_face_deg(*both),
        leg_edge_deg=leg_edge_deg(*both),
        saw_mitre_deg=saw_mitre_deg(*both),
        saw_tilt_deg=90 - job.splay_deg,
        saw_mitre_on_edge_deg=leg_edge_deg(*both),
        saw_tilt_on_edge_deg=saw_tilt_on_edge_deg(*both),
        wall_deg=90 - wedge,
        edge_twist_deg=edge_twist_deg(*both),
        brace_end_deg=brace_end_deg(*both),
        brace_end_tilt_deg=wedge,
        brace_edge_deg=job.rake_deg,
        brace_wedge_deg=wedge,
    )
