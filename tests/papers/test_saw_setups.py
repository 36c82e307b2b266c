"""The saw pictures against solids: the cut that a set-up makes is the piece's real end; how a leg changes hands."""

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B
from sample_variants import JOBS
from trestle_on_solids import DOWN, X, brace, directions, finished_leg, normal_of, random_valid_jobs

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, dot, scale
from jigmaker.papers.pictures.saw import saw_bodies
from jigmaker.papers.pictures.saw_setups import CUTS, saw_setup
from jigmaker.trestle.leg import leg_directions
from jigmaker.trestle.solve import solve

EXAMPLES = [DEMO, JOB_A, JOB_B, JOBS["90/78"], JOBS["78/90"], JOBS["60/60"], *random_valid_jobs(21, 6)]


def saw_from_timber(setup):
    """The saw's axes, given in the timber frame."""
    x, z = setup.timber_axes
    return Frame((0.0, 0.0, 0.0), x, cross(z, x), z)


def end_normal(job, cut):
    """Out of the end that lies at the blade, measured on the piece's solid: the leg's foot, the brace's end at -y."""
    x, y, z = directions(job)[1]
    return normal_of(brace(job), (x, -y, z)) if cut == "brace end" else normal_of(finished_leg(job), DOWN)


@pytest.mark.parametrize("job", EXAMPLES)
@pytest.mark.parametrize("cut", CUTS)
def test_the_blade_stands_in_the_end_of_the_piece(job, cut):
    """The plane that mitre and tilt set is parallel to the end that planes cut from solid blocks."""
    setup = saw_setup(solve(job), cut)
    assert dot(saw_from_timber(setup).inside(end_normal(job, cut)), setup.blade.z_axis) == pytest.approx(1, abs=1e-9)


@pytest.mark.parametrize("cut", CUTS)
def test_a_mitre_the_other_way_is_found(cut):
    """The check above can fail: the kerf swung to the other side is no end of the piece."""
    setup = saw_setup(solve(JOB_B), cut)
    x, y, z = setup.blade.z_axis
    assert dot(saw_from_timber(setup).inside(end_normal(JOB_B, cut)), (x, -y, z)) < 0.99


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B])
@pytest.mark.parametrize("cut", CUTS)
def test_the_piece_lies_as_it_is_said(job, cut):
    """Section as it lies, and for a leg: foot at the right; on its wide face the outer face is down."""
    setup = saw_setup(solve(job), cut)
    piece = brace(job) if cut == "brace end" else finished_leg(job)
    corners = [saw_from_timber(setup).inside(p) for p in piece.corners]
    high = max(p[2] for p in corners) - min(p[2] for p in corners)
    assert high == pytest.approx(setup.thick_mm, abs=1e-6)
    down, wide, edge, _ = directions(job)
    lies = {"leg flat": wide, "leg on edge": edge}
    if cut in lies:
        assert saw_from_timber(setup).inside(down)[0] == pytest.approx(1)
        assert saw_from_timber(setup).inside(lies[cut])[2] == pytest.approx(-1)


def test_the_demo_leg_on_its_wide_face():
    """Outer face down, head to the left: the kerf's far end 11.745 degrees toward the foot, the blade's top 12 toward
    the head; worked out by hand from rake and splay."""
    setup = saw_setup(solve(DEMO), "leg flat")
    assert (setup.mitre_deg, setup.tilt_deg) == (pytest.approx(11.74513, abs=1e-5), pytest.approx(12, abs=1e-9))
    assert setup.blade.x_axis[0] > 0 and setup.blade.y_axis[0] < 0


@pytest.mark.parametrize("cut", CUTS)
def test_kept_and_rest_are_parted_by_the_blade(cut):
    """In the picture the blade lies between the two parts and touches both; nothing stands in the table."""
    bodies = {body.name: body.solid for body in saw_bodies(saw_setup(solve(DEMO), cut))}
    assert bodies["kept"].gap(bodies["rest"], 10.0) == pytest.approx(3.0, abs=1e-6)
    for part in ("kept", "rest"):
        assert bodies["blade"].common(bodies[part]).volume == pytest.approx(0, abs=1e-3)
        assert bodies["blade"].gap(bodies[part], 1.0) == pytest.approx(0, abs=1e-6)
    assert max(bodies["table"].common(bodies[name]).volume for name in bodies if name != "table") < 1e-3


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B, JOBS["78/90"]])
def test_a_leg_turned_end_for_end_is_the_other_hand(job):
    """Turned half round, other end up and other wide face out, the +x +y leg fills the place of the -x +y leg."""
    leg = finished_leg(job)
    down, wide, edge = leg_directions(solve(job))
    own = Frame((0.0, 0.0, 0.0), down, wide, cross(down, wide))
    other_down, other_wide, other_edge = ((-v[0], v[1], v[2]) for v in (down, wide, edge))
    turned = Frame((0.0, 0.0, 0.0), scale(other_down, -1), scale(other_wide, -1), scale(other_edge, -1))
    inside = Solid.hull([own.inside(p) for p in leg.corners]).placed(turned)
    wanted = leg.mirrored(X)
    low, wanted_low = inside.bounds[0], wanted.bounds[0]
    moved = inside.moved(add(wanted_low, scale(low, -1)))
    assert moved.minus(wanted).volume == pytest.approx(0, abs=1e-3)
    assert wanted.minus(moved).volume == pytest.approx(0, abs=1e-3)
