"""A job in, the solved trestle out: every angle, length and depth. Timber frame; mm, degrees."""

from jigmaker.job.job import Job
from jigmaker.trestle.angles import angles_of
from jigmaker.trestle.brace import brace_of
from jigmaker.trestle.foot import foot_of
from jigmaker.trestle.housing import housing_of
from jigmaker.trestle.leg import leg_of
from jigmaker.trestle.records import Trestle


def solve(job: Job) -> Trestle:
    """The job solved, at its first size, whether or not it can be built: `check_trestle` judges the result.

    Rake and splay must be over 0 and at most 90; the job file's reader holds them to 60 to 90.
    """
    angles = angles_of(job)
    return Trestle(
        job=job,
        angles=angles,
        leg=leg_of(job, angles),
        housing=housing_of(job, angles),
        brace=brace_of(job, angles),
        foot=foot_of(job, angles),
    )


def solve_sizes(job: Job) -> tuple[Trestle, ...]:
    """Every size of the job solved as a job of its own, in the order of the sizes; one for a plain job."""
    return tuple(solve(job.of_size(index)) for index in range(len(job.sizes)))
