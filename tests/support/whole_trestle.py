"""A whole trestle as solids cut by planes from the job's keys, for tests of what stands; timber frame, mm."""

from trestle_on_solids import board, brace, finished_leg, housing

from jigmaker.geometry.solid import Solid


def pieces_of(job):
    """Board with four housings, four legs, two braces, cut by planes straight from the job's keys."""
    four = [(x, y) for x in (1, -1) for y in (1, -1)]

    def at(solid, x, y):
        turned = solid if x == 1 else solid.mirrored((1, 0, 0))
        return turned if y == 1 else turned.mirrored((0, 1, 0))

    top = board(job).minus(Solid.union([at(housing(job), x, y) for x, y in four]))
    return [top, *(at(finished_leg(job), x, y) for x, y in four), brace(job), at(brace(job), -1, 1)]
