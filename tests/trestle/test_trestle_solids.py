"""The trestle's solids against the same trestle cut from blocks by planes, which uses nothing of the solver."""

from dataclasses import replace
from itertools import combinations

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B
from sample_variants import JOBS
from trestle_on_solids import board, brace, finished_leg, housing, leg_as_cut, random_valid_jobs

from jigmaker.trestle.solids import SEATS, at_seat, board_solid, housing_solid, trestle_solids
from jigmaker.trestle.solve import solve

THICK = replace(DEMO, top=replace(DEMO.top, width_mm=200.0, thickness_mm=110.0))
EXAMPLES = [DEMO, JOB_A, JOB_B, THICK, *JOBS.values(), *random_valid_jobs(11, 6)]
NAMES = ["top board", *(f"leg {place}" for place, _, _ in SEATS), "brace +x", "brace -x"]


def differ(one, other):
    """Volume that only one of the two holds, mm3."""
    return one.minus(other).volume + other.minus(one).volume


@pytest.mark.parametrize("job", EXAMPLES)
def test_every_piece_is_the_one_that_planes_cut(job):
    """Leg finished and as sawn, brace, and what the housing takes: the same bodies to the kernel's last digits."""
    trestle = solve(job)
    finished, sawn = trestle_solids(trestle), trestle_solids(trestle, finished=False)
    assert list(finished) == list(sawn) == NAMES
    assert differ(finished["leg +x+y"], finished_leg(job)) == pytest.approx(0, abs=1e-4)
    assert differ(sawn["leg +x+y"], leg_as_cut(job)) == pytest.approx(0, abs=1e-4)
    assert differ(finished["brace +x"], brace(job)) == pytest.approx(0, abs=1e-4)
    assert differ(board_solid(trestle).common(housing_solid(trestle)), housing(job)) == pytest.approx(0, abs=1e-4)


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOBS["reveal 6"], JOBS["90/78"]])
def test_no_two_pieces_share_wood(job):
    """The whole stands together without overlap; the board has lost its four housings and nothing else."""
    solids = trestle_solids(solve(job))
    assert max(a.common(b).volume for a, b in combinations(solids.values(), 2)) == pytest.approx(0, abs=1e-3)
    assert solids["top board"].volume == pytest.approx(board(job).volume - 4 * housing(job).volume, rel=1e-9)


def test_a_leg_at_the_wrong_place_is_in_the_wood():
    """The check above can fail: a leg of one hand at the other hand's place overlaps the board."""
    solids = trestle_solids(solve(JOB_A))
    by_twelve = solids["leg +x+y"].moved((-12.0, 0.0, 0.0))
    assert by_twelve.common(solids["top board"]).volume > 10_000


@pytest.mark.parametrize(("place", "x", "y"), SEATS)
def test_legs_and_braces_stand_where_their_names_say(place, x, y):
    """A leg's feet lie on the side that its name gives; mirrored back it is the +x +y leg."""
    solids = trestle_solids(solve(DEMO))
    low = min(solids[f"leg {place}"].corners, key=lambda p: p[2])
    assert place == f"{'+' if low[0] > 0 else '-'}x{'+' if low[1] > 0 else '-'}y"
    assert (low[0] > 0, low[1] > 0) == (x > 0, y > 0)
    assert differ(at_seat(solids[f"leg {place}"], x, y), solids["leg +x+y"]) == pytest.approx(0, abs=1e-6)
    assert solids["brace +x"].bounds[0][0] > 0 > solids["brace -x"].bounds[1][0]
