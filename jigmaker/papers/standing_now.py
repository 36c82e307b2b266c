"""A trestle before its feet are levelled, and what makes it rock. mm."""

from dataclasses import replace

from jigmaker.trestle.angles import cosine, cotangent, sine
from jigmaker.trestle.records import Trestle
from jigmaker.trestle.solve import solve


def as_glued(trestle: Trestle) -> Trestle:
    """The same trestle standing on its legs as sawn, trim and all: so much higher, its feet farther out."""
    job = trestle.job
    if not job.leg.trim_mm:
        return trestle
    # The leg slants: of what is left on along it only height / length is upright.
    upright = job.leg.trim_mm * job.height_mm / trestle.leg.length_mm
    return solve(replace(job, height_mm=job.height_mm + upright))


def travel_over_play(trestle: Trestle) -> float:
    """How far a foot can travel along the board for each mm of play between leg and housing, at least.

    A leg turns in its play about the middle of its seat until two opposite corners of the seat meet the walls. The
    seat reaches along a wall from where its floor leaves the top face to where the board's edge leaves the bottom face;
    its slanting ends make it longer for turning one way and shorter for the other.
    """
    job = trestle.job
    thick, splay_deg = job.top.thickness_mm, job.splay_deg
    # A turn through a small angle moves a point square to the way from the middle by angle * distance. The seat's two
    # corners touch the walls after play / along (half the play at each, at along / 2); the foot is `arm` away, so it
    # travels arm / along for each mm of play, once for each way of turning.
    stretched = trestle.leg.length_mm / job.height_mm
    along = stretched * max(thick * sine(splay_deg) ** 2 + trestle.housing.depth_square_mm * cosine(splay_deg), thick)
    slant = job.leg.width_mm * cotangent(job.rake_deg) * sine(splay_deg)
    longer, shorter = along + slant, along - slant if along > slant else along + slant
    arm = (job.height_mm - thick / 2) / sine(splay_deg)
    return arm * (1 / longer + 1 / shorter)


def rock_of_winding(trestle: Trestle, winding_mm: float) -> float:
    """How high a foot hangs on a board one of whose corners lies so far out of the plane of the other three.

    The board's two ends are turned against each other by winding / width, and the feet, a distance off the middle,
    carry that down to the floor twice: 2 y winding / width, y from the middle to the middle of a sole.
    """
    job = trestle.job
    sole = trestle.foot.spread_across_mm / 2 - job.leg.thickness_mm / (2 * sine(job.splay_deg))
    return 2 * sole * winding_mm / job.top.width_mm
