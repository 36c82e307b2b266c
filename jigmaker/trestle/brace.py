"""The brace across the two legs of an end: a job and its angles in, lengths, gap and stand-back out. Timber frame; mm.

A flat brace lies on the legs' two outer arrises, tight under the board, and leans with them at the rake.
"""

from jigmaker.job.job import Job
from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.leg import proud
from jigmaker.trestle.records import Angles, Brace


def brace_of(job: Job, angles: Angles) -> Brace:
    """One brace, measured on its inside face; stand_back below 0 says that it stands out beyond the board's end."""
    along, across = proud(job, angles)
    thickness = job.top.thickness_mm
    outward = cotangent(job.splay_deg)
    # The legs' outer arrises run out by cot b on each side for 1 of fall, and so do both ends of the brace between
    # them:
    #
    #          ____top____          under the board, `thickness` below its top face
    #         /           \         depth leaning at the rake: a fall of depth sin a
    #        /____bottom___\
    fall = job.brace.depth_mm * sine(job.rake_deg)
    top = job.top.width_mm + 2 * (thickness * outward + across)
    return Brace(
        top_mm=top,
        bottom_mm=top + 2 * fall * outward,
        depth_mm=job.brace.depth_mm,
        thickness_mm=job.brace.thickness_mm,
        gap_mm=job.leg.thickness_mm * cosine(job.rake_deg) * cosine(job.splay_deg),
        stand_back_mm=job.inset_mm
        - along
        - thickness * cotangent(job.rake_deg)
        - job.brace.thickness_mm / sine(job.rake_deg),
    )
