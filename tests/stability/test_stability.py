"""What tips a trestle: weight and footprint against other solids, loads against the energy of a small turn."""

from dataclasses import replace
from math import cos, radians, sin

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B, a_job
from trestle_on_solids import across, brace, finished_leg, random_valid_jobs
from whole_trestle import pieces_of

from jigmaker.errors import OutOfRange
from jigmaker.geometry.outline import Outline
from jigmaker.geometry.solid import Solid
from jigmaker.stability.densities import LIGHTEST, SPECIFIC_GRAVITY, density_kg_m3
from jigmaker.stability.stability import SLOPES_DEG, stability_of
from jigmaker.stability.weight import volume_and_centre, weigh
from jigmaker.trestle.solve import solve

JOBS = [DEMO, JOB_A, JOB_B, replace(DEMO, rake_deg=90.0, splay_deg=90.0), *random_valid_jobs(seed=41, count=4)]
SLICES = 400


def by_slices(job):
    """Volume and height of the centre over the floor, from the areas of level slices: thickness by thickness."""
    step, volume, moment = job.height_mm / SLICES, 0.0, 0.0
    for solid in pieces_of(job):
        for i in range(SLICES):
            z = -job.height_mm + (i + 0.5) * step
            own = sum(abs(area(ring)) for ring in solid.outlines_at(z)) * step
            volume, moment = volume + own, moment + own * (z + job.height_mm)
    return volume, moment / volume


def area(ring):
    return sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(ring, ring[1:] + ring[:1], strict=True)) / 2


@pytest.mark.parametrize("job", JOBS[:6], ids=range(6))
def test_weight_and_centre_are_those_of_other_solids(job):
    """Slices of solids cut from the job's keys; one species' density, within what slices of a couple of mm can tell."""
    volume, height = by_slices(job)
    found = weigh(solve(job), 400.0)
    assert found.volume_mm3 == pytest.approx(volume, rel=0.005)
    assert found.volume_mm3 == pytest.approx(sum(solid.volume for solid in pieces_of(job)), rel=1e-9)
    assert found.centre[2] + job.height_mm == pytest.approx(height, rel=0.005)
    assert found.centre[:2] == pytest.approx((0, 0), abs=1e-6)
    assert found.mass_kg == pytest.approx(found.volume_mm3 * 400e-9)


def test_the_centre_of_known_bodies():
    """A box's is its middle; a triangular prism's a third up from its base (textbook)."""
    assert volume_and_centre(Solid.block((10, 20, 30), (14, 26, 38))) == (
        pytest.approx(192),
        pytest.approx((12, 23, 34)),
    )
    wedge = Solid.prism(Outline.from_points([(0, 0), (30, 0), (0, 60)]), [], 8)
    assert volume_and_centre(wedge) == (pytest.approx(7200), pytest.approx((10, 20, 4)))


@pytest.mark.parametrize(
    ("species", "density"),
    [
        # Wood Handbook, FPL-GTR-190, table 5-3a: ponderosa pine 0.40, red pine 0.46, sugar pine 0.36 at 12 %; x 1.12.
        ("ponderosa pine", 448.0),
        ("red pine", 515.2),
        ("sugar pine", 403.2),
        # Same book after tables that cite it: coast Douglas-fir 0.48, northern red oak 0.63.
        ("Douglas-fir", 537.6),
        ("red oak", 705.6),
    ],
)
def test_densities_are_published_ones(species, density):
    """Ovendry mass over the volume at 12 %, and the water that is in it then."""
    assert density_kg_m3(species) == pytest.approx(density)


def test_the_lightest_wood_is_taken_and_others_are_known_by_name():
    """Whoever names no wood gets the one that tips soonest."""
    assert SPECIFIC_GRAVITY[LIGHTEST] == min(SPECIFIC_GRAVITY.values())
    light, heavy = stability_of(solve(DEMO)), stability_of(solve(DEMO), "beech")
    for one, other in zip(light.tippings, heavy.tippings, strict=True):
        assert one.push_n < other.push_n
    with pytest.raises(OutOfRange, match='"balsa" is not in the table of woods; known are eastern white pine'):
        stability_of(solve(DEMO), "balsa")


@pytest.mark.parametrize("job", JOBS, ids=range(len(JOBS)))
def test_the_footprint_is_the_hull_of_the_feet(job):
    """Sixteen corners on the floor, from other solids; their hull has the four corners and the area that are told."""
    from shapely import MultiPoint, Polygon

    on_floor = [p for p in finished_leg(job).corners if p[2] < 1e-6 - job.height_mm]
    hull = MultiPoint([(x * p[0], y * p[1]) for p in on_floor for x in (1, -1) for y in (1, -1)]).convex_hull
    told = Polygon(stability_of(solve(job)).footprint)
    assert hull.symmetric_difference(told).area < 1e-3
    assert told.exterior.is_ccw


@pytest.mark.parametrize(
    ("height", "lean", "inset", "beyond"),
    [(600, 10, 125, -19.2), (600, 15, 125, 35.8), (600, 12, 150, -22.5)],
)
def test_how_far_the_board_stands_inside_the_feet(height, lean, inset, beyond):
    """Worked by hand, inset - height x tan(lean): below 0 the board's end overhangs its feet."""
    job = a_job(height, (90 - lean, 90 - lean), inset, (900, 120, 30), (70, 32))
    assert stability_of(solve(job)).end_mm == pytest.approx(beyond, abs=0.05)


def energy_of_turn(job, way, slope_deg, load_kg, push_n, turn=1e-6):
    """Change of energy, N mm, when trestle, load and push turn a hair over the line; floor sloped toward the line.

    Points are turned by rotation about the line; weights fall along the sloped gravity, the push goes along the floor.
    """
    axis = 0 if way == "end" else 1
    found = weigh(solve(job), density_kg_m3(LIGHTEST))
    feet = [p for p in finished_leg(job).corners if p[2] < 1e-6 - job.height_mm]
    line = max(p[axis] for p in feet)
    edge = (job.top.length_mm if way == "end" else job.top.width_mm) / 2
    down = (sin(radians(slope_deg)), -cos(radians(slope_deg)))  # toward the line, and up out of the floor

    def moved(r, h):
        r0, s, c = r - line, sin(turn), cos(turn)
        return (r0 * c + h * s - r0, h * c - r0 * s - h)

    def work(force, at):
        by = moved(*at)
        return force[0] * by[0] + force[1] * by[1]

    own, load = found.mass_kg * 9.80665, load_kg * 9.80665
    centre = (0.0, found.centre[2] + job.height_mm)
    total = work((own * down[0], own * down[1]), centre)
    total += work((load * down[0], load * down[1]), (edge, job.height_mm))
    return -(total + work((push_n, 0.0), (edge, job.height_mm))) / turn


@pytest.mark.parametrize("job", JOBS, ids=range(len(JOBS)))
def test_load_and_push_are_where_a_small_turn_costs_nothing(job):
    """A little less and turning over the line costs energy; a little more and it sets some free."""
    found = stability_of(solve(job))
    assert [(t.way, t.slope_deg) for t in found.tippings] == [(w, s) for w in ("end", "side") for s in SLOPES_DEG]
    for tipping in found.tippings:
        way, slope = tipping.way, tipping.slope_deg
        if tipping.push_n == 0:
            assert tipping.load_kg == 0
            assert energy_of_turn(job, way, slope, 0, 0) < 1e-2
            continue
        assert energy_of_turn(job, way, slope, 0, 0.99 * tipping.push_n) > 0
        assert energy_of_turn(job, way, slope, 0, 1.01 * tipping.push_n) < 0
        if tipping.load_kg is None:
            assert energy_of_turn(job, way, slope, 1e5, 0) > 0
        else:
            assert energy_of_turn(job, way, slope, 0.99 * tipping.load_kg, 0) > 0
            assert energy_of_turn(job, way, slope, 1.01 * tipping.load_kg, 0) < 0


def test_a_slope_makes_it_tip_sooner_and_some_fall_by_themselves():
    """Pushes shrink with the slope; a tall trestle on plumb legs falls over its side at 5 degrees."""
    pushes = [tipping.push_n for tipping in stability_of(solve(DEMO)).tippings]
    assert pushes[:3] == sorted(pushes[:3], reverse=True) and pushes[3:] == sorted(pushes[3:], reverse=True)
    plumb = replace(DEMO, height_mm=1100.0, rake_deg=90.0, splay_deg=90.0)
    falls = stability_of(solve(plumb)).tippings[-1]
    assert (falls.way, falls.slope_deg, falls.load_kg, falls.push_n) == ("side", 5.0, 0.0, 0.0)


def test_mirror_images_weigh_alike():
    """The judge's own mirroring keeps the brace's volume: a check of the test."""
    one = brace(DEMO)
    assert one.mirrored((1, 0, 0)).volume == pytest.approx(one.volume)
    assert across((1, 2, 3)) == (1, -2, 3)
