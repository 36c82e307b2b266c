"""The feet on the floor: a job and its angles in, spread and throw out. Timber frame; mm."""

from jigmaker.job.job import Job
from jigmaker.trestle.angles import cotangent, sine
from jigmaker.trestle.leg import proud
from jigmaker.trestle.records import Angles, Foot, Trestle


def foot_of(job: Job, angles: Angles) -> Foot:
    """Spread of the four feet over their outer corners, along and across the board, mm."""
    along, across = proud(job, angles)
    return Foot(
        # From the outer near corner at the top face, the inset in from the board's end, down the slope and out by the
        # reveal.
        spread_along_mm=job.top.length_mm - 2 * job.inset_mm + 2 * (job.height_mm * cotangent(job.rake_deg) + along),
        spread_across_mm=job.top.width_mm + 2 * (job.height_mm * cotangent(job.splay_deg) + across),
    )


def throws_mm(job: Job) -> tuple[float, float]:
    """(along, across): how far a foot stands out from where the same leg meets the level of the top face, mm."""
    return job.height_mm * cotangent(job.rake_deg), job.height_mm * cotangent(job.splay_deg)


def sole_out_mm(trestle: Trestle) -> float:
    """From the board's middle line out to the middle of a sole, mm."""
    return trestle.foot.spread_across_mm / 2 - trestle.job.leg.thickness_mm / (2 * sine(trestle.job.splay_deg))
