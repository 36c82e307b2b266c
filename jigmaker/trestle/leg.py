"""The leg: a job and its angles in, lengths and the eight corners of the +x +y leg out. Timber frame; mm, degrees.

All legs are one piece: a rectangular section with parallel end cuts is its own mirror image turned half a turn.
"""

from jigmaker.geometry.vectors import Vector, add
from jigmaker.job.job import Job
from jigmaker.trestle.angles import cosine, cotangent, sine, stretch, tangent
from jigmaker.trestle.records import Angles, Leg, Trestle


def leg_of(job: Job, angles: Angles) -> Leg:
    """The leg's lengths, mm. Horn and trim are measured along the leg and lengthen what is cut, not the trestle."""
    along = stretch(job.rake_deg, job.splay_deg)
    cut = job.height_mm * along + job.leg.horn_mm + job.leg.trim_mm
    # Both ends slope across the width and through the thickness; the blank must hold the slope once.
    #    ___________________
    #   /                  /|     cut from long point to long point, and the blank that holds it: longer by what
    #  /__________________/ |     one end slants, across the width (cot phi) and through the thickness (tan epsilon,
    #  |    cut      |slope|      which is cos b stretch; see `angles`)
    slope = job.leg.width_mm * cotangent(angles.leg_face_deg) + job.leg.thickness_mm * cosine(job.splay_deg) * along
    return Leg(
        width_mm=job.leg.width_mm,
        thickness_mm=job.leg.thickness_mm,
        length_mm=job.height_mm * along,
        cut_length_mm=cut,
        blank_mm=cut + slope,
        level_width_mm=job.leg.width_mm / sine(angles.leg_face_deg),
        along_per_leg_mm=cut,
    )


def proud(job: Job, angles: Angles) -> tuple[float, float]:
    """(along, across): how far a reveal puts the leg's outer arris out at any level, mm.

    The leg is shifted in its own narrow edge's plane, so that its near wall keeps its place on the board's top arris.
    """
    # The reveal is square to the wide face; at any level that is 1 / sin b as much across the board, and the narrow
    # edge, which is level along tan tau for 1 across, takes the leg along by so much.
    across = job.housing.reveal_mm / sine(job.splay_deg)
    return across * tangent(angles.edge_twist_deg), across


def leg_directions(trestle: Trestle) -> tuple[Vector, Vector, Vector]:
    """(down along the leg, out of its outer wide face, out of its narrow edge toward the board's end), unit vectors.

    For the +x +y leg, timber frame. The last two are also the normals of the housing's floor and of its near wall.
    """
    angles, splay_deg = trestle.angles, trestle.angles.splay_deg
    along = stretch(angles.rake_deg, splay_deg)
    lie, rise = cosine(angles.leg_face_deg), sine(angles.leg_face_deg)
    return (
        (cotangent(angles.rake_deg) / along, cotangent(splay_deg) / along, -1 / along),
        (0.0, sine(splay_deg), cosine(splay_deg)),
        (rise, 0.0 - lie * cosine(splay_deg), lie * sine(splay_deg)),
    )


def leg_corners(trestle: Trestle) -> tuple[Vector, ...]:
    """The eight corners of the finished +x +y leg, timber frame, mm.

    Head first, then foot, each in the order outer near, outer far, inner far, inner near; outer is the face away from
    the board, near is the edge toward the board's end. Horn and trim are not in it.
    """
    job, angles = trestle.job, trestle.angles
    along, across = proud(job, angles)
    outer_near = (job.top.length_mm / 2 - job.inset_mm + along, job.top.width_mm / 2 + across, 0.0)
    # A level section of the leg: wide faces along x, narrow edges turned by tau out of y.
    #
    #       outer far ________ outer near      level width along x, thickness / sin b across
    #                /       /
    #     inner far /_______/ inner near
    inward = job.leg.thickness_mm / sine(job.splay_deg)
    through = (-inward * tangent(angles.edge_twist_deg), -inward, 0.0)
    back = (-trestle.leg.level_width_mm, 0.0, 0.0)
    outer_far = add(outer_near, back)
    head = (outer_near, outer_far, add(outer_far, through), add(outer_near, through))
    fall = (job.height_mm * cotangent(job.rake_deg), job.height_mm * cotangent(job.splay_deg), -job.height_mm)
    return head + tuple(add(corner, fall) for corner in head)
