"""The housing as cut: a job and its angles in, widths, depths, starts and volume out. Timber frame of the board; mm.

Its floor is parallel to the leg's wide face, its walls stand square to the floor; clearance moves both walls apart.
"""

from jigmaker.job.job import Job
from jigmaker.trestle.angles import cotangent, sine
from jigmaker.trestle.records import Angles, Housing


def housing_of(job: Job, angles: Angles) -> Housing:
    """The housing of one leg, clearance included. A depth below 0 says that the floor never gets there."""
    width = job.leg.width_mm + job.housing.clearance_mm
    deep = job.leg.thickness_mm - job.housing.reveal_mm
    depth_top = deep / sine(job.splay_deg)
    opened = job.housing.clearance_mm / (2 * sine(angles.leg_face_deg))
    on_arris = width / sine(angles.leg_face_deg)
    return Housing(
        width_mm=width,
        width_on_arris_mm=on_arris,
        depth_square_mm=deep,
        depth_top_mm=depth_top,
        depth_bottom_mm=depth_top - job.top.thickness_mm * cotangent(job.splay_deg),
        start_top_mm=job.inset_mm - opened,
        start_bottom_mm=job.inset_mm - job.top.thickness_mm * cotangent(angles.edge_line_deg) - opened,
        volume_mm3=on_arris * _section_mm2(depth_top, job.top.thickness_mm, cotangent(job.splay_deg)),
    )


def hand_sawn_start_mm(job: Job) -> float:
    """Near wall from the board's end on the bottom arris when the walls are sawn square across at the rake, mm."""
    return job.inset_mm - job.top.thickness_mm * cotangent(job.rake_deg)


def _section_mm2(depth_top: float, thickness: float, slope: float) -> float:
    """Area cut away in any section across the board; a floor that runs out above the bottom face leaves a triangle."""
    depth_bottom = depth_top - thickness * slope
    if depth_bottom >= 0:
        return thickness * (depth_top + depth_bottom) / 2
    return depth_top**2 / (2 * slope) if depth_top > 0 else 0.0
