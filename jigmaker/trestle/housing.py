"""The housing as cut: a job and its angles in, widths, depths, starts and volume out. Timber frame of the board; mm.

Its floor is parallel to the leg's wide face, its walls stand square to the floor; clearance moves both walls apart.
"""

from jigmaker.job.job import Job
from jigmaker.trestle.angles import cotangent, sine
from jigmaker.trestle.records import Angles, Housing


def housing_of(job: Job, angles: Angles) -> Housing:
    """The housing of one leg, clearance included. A depth below 0 says that the floor never gets there."""
    #     edge                    A section across the board. Square to its floor the housing is
    #      |     depth_top        leg thickness - reveal deep; the floor leans by the splay off the level,
    #   ---+----------------+     so that along the top face it is deeper by 1 / sin(splay), and
    #      |               /      thickness x cot(splay) less deep in the bottom face.
    #      |   cut away   /       A floor that comes out of the edge above the bottom face
    #      |             /        leaves a triangle.
    #   ---+------------+
    #       depth_bottom
    width = job.leg.width_mm + job.housing.clearance_mm
    deep = job.leg.thickness_mm - job.housing.reveal_mm
    thickness, slope = job.top.thickness_mm, cotangent(job.splay_deg)
    depth_top = deep / sine(job.splay_deg)
    depth_bottom = depth_top - thickness * slope
    section_mm2 = 0.0
    if depth_bottom >= 0:
        section_mm2 = thickness * (depth_top + depth_bottom) / 2
    elif depth_top > 0:
        section_mm2 = depth_top**2 / (2 * slope)
    # The clearance is shared by both walls: each lies half of it out, more on the arris, which it meets at a slant.
    opened = job.housing.clearance_mm / (2 * sine(angles.leg_face_deg))
    on_arris = width / sine(angles.leg_face_deg)
    return Housing(
        width_mm=width,
        width_on_arris_mm=on_arris,
        depth_square_mm=deep,
        depth_top_mm=depth_top,
        depth_bottom_mm=depth_bottom,
        start_top_mm=job.inset_mm - opened,
        start_bottom_mm=job.inset_mm - thickness * cotangent(angles.edge_line_deg) - opened,
        volume_mm3=on_arris * section_mm2,
    )


def hand_sawn_start_mm(job: Job) -> float:
    """Near wall from the board's end on the bottom arris when the walls are sawn square across at the rake, mm."""
    return job.inset_mm - job.top.thickness_mm * cotangent(job.rake_deg)
