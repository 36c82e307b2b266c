"""The timber as exact models: each piece lying, and the trestle made of copies of it, against the trestle's solids."""

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B
from sample_variants import JOBS
from trestle_on_solids import random_valid_jobs

from jigmaker.geometry.solid import Solid
from jigmaker.trestle.solids import leg_solid, trestle_solids
from jigmaker.trestle.solve import solve
from jigmaker.trestle.timber import timber_models, trestle_model

EXAMPLES = {
    "demo": DEMO,
    "A": JOB_A,
    "B": JOB_B,
    **{name: JOBS[name] for name in ("90/78", "reveal 6", "horn and trim")},
    **{f"random {i}": job for i, job in enumerate(random_valid_jobs(23, 6), 1)},
}


def corners_of(body):
    """The body's corners where it stands, rounded, each once."""
    points = {corner for face in body.shape.faces for ring in face.rings for corner in ring}
    return {tuple(round(v, 6) + 0.0 for v in body.model_from_shape.point(point)) for point in points}


@pytest.mark.parametrize("name", EXAMPLES)
def test_copies_of_one_leg_and_one_brace_make_the_trestle(name):
    """Piece by piece the same corners as the solids', although a leg is never mirrored; a leg has six faces."""
    trestle = solve(EXAMPLES[name])
    bodies, wanted = trestle_model(trestle).bodies, trestle_solids(trestle)
    assert [body.name for body in bodies] == list(wanted)
    assert {body.of: len(body.shape.faces) for body in bodies} == {"top board": 22, "leg": 6, "brace": 6}
    for body in bodies:
        told = sorted({tuple(round(v, 6) + 0.0 for v in corner) for corner in wanted[body.name].corners})
        assert sorted(corners_of(body)) == [pytest.approx(corner, abs=2e-6) for corner in told], body.name


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_piece_lies_as_it_would_on_the_bench(name):
    """Length along x, lowest corner at the origin; the box is as wide and as thick as the job's timber."""
    trestle = solve(EXAMPLES[name])
    job, models = trestle.job, timber_models(trestle)
    boxes = {"leg": (job.leg.width_mm, job.leg.thickness_mm), "top-board": (job.top.width_mm, job.top.thickness_mm)}
    for piece, across in boxes.items():
        (body,) = models[piece].bodies
        corners = [corner for face in body.shape.faces for corner in face.border]
        assert [min(c[i] for c in corners) for i in range(3)] == pytest.approx([0, 0, 0], abs=1e-9)
        assert tuple(max(c[i] for c in corners) for i in (1, 2)) == pytest.approx(across, abs=1e-9)
    assert max(c[0] for c in corners) == pytest.approx(job.top.length_mm)


def test_a_leg_as_sawn_is_told_where_it_differs():
    """With its horn and trim, and only then."""
    assert "leg-as-sawn" not in timber_models(solve(DEMO))
    trestle = solve(JOBS["horn and trim"])
    (body,) = timber_models(trestle)["leg-as-sawn"].bodies
    volume = Solid.hull([corner for face in body.shape.faces for corner in face.border]).volume
    assert volume == pytest.approx(leg_solid(trestle, finished=False).volume, rel=1e-9)
    assert volume > leg_solid(trestle).volume
