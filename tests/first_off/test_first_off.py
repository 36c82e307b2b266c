"""The first-off against solids: settings are put off, the housing is cut by planes and measured, then diagnosed."""

from dataclasses import replace
from math import cos, radians, sin, tan

import pytest
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, JOB_A, JOB_B
from trestle_on_solids import X, Y, arris_point, cut, directions, extent

from jigmaker.first_off.first_off import FirstOff, diagnose
from jigmaker.first_off.first_off_table import LEADS_MM, diagnosis_table
from jigmaker.first_off.housing_settings import HousingFigures, Settings, housing_reading
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, dot, scale, subtract, unit
from jigmaker.trestle.solve import solve

JOBS = [DEMO, JOB_A, JOB_B, replace(DEMO, rake_deg=90.0), replace(DEMO, housing=replace(DEMO.housing, reveal_mm=3.0))]


def about(axis, angle_deg, vector):
    """A vector turned about a unit axis by the right-hand rule (Rodrigues)."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    turned = add(scale(vector, c), scale(cross(axis, vector), s))
    return add(turned, scale(axis, dot(axis, vector) * (1 - c)))


def board(job, settings):
    """The scrap with an edge that stands out at the bottom arris, or falls back there."""
    half, low = (job.top.length_mm / 2, job.top.width_mm / 2), -job.top.thickness_mm
    block = Solid.block((-half[0], -half[1], low), (half[0], half[1] + 5, 0))
    out = unit((0.0, job.top.thickness_mm, settings.edge_mm))
    return cut(block, ((0.0, half[1], 0.0), out))


def routed(job, settings):
    """What the cutter takes out of that scrap: three planes of the wanted housing, put off in the jig's own way."""
    _, wide, edge, _ = directions(job)
    start, c = arris_point(job), job.housing.clearance_mm
    depth = job.leg.thickness_mm - job.housing.reveal_mm + settings.projection_mm
    half = (job.leg.width_mm + c + settings.guide_mm) / 2
    middle = add(start, (-(job.leg.width_mm / 2) / edge[0], 0.0, 0.0))
    planes = []
    for out, by in ((scale(wide, -1), depth), (edge, half), (scale(edge, -1), half)):
        # Steeper: the floor's outer normal, in the y-z plane, goes from z toward y, which is about -x.
        point, way = (about(Y, -settings.turn_deg, about(X, -settings.tilt_deg, v)) for v in (scale(out, by), out))
        up = max(0.0, settings.edge_mm)
        planes.append((add(add(middle, (-settings.stop_mm, up, 0.0)), point), way))
    return cut(board(job, settings), *planes), planes[1][1]


def measured(job, settings):
    """The five figures on the solid: width square to the near wall, the others on its corners in both faces."""
    solid, wall = routed(job, settings)
    low = -job.top.thickness_mm
    faces = [[p for p in solid.corners if abs(p[2] - z) < 1e-6] for z in (0.0, low)]
    starts, depths = [], []
    for points, y in zip(faces, (job.top.width_mm / 2, job.top.width_mm / 2 + settings.edge_mm), strict=True):
        on_edge = [p for p in points if abs(p[1] - y) < 1e-6]
        floor = [p for p in points if p not in on_edge]
        starts.append(job.top.length_mm / 2 - max(p[0] for p in on_edge))
        x = (max(p[0] for p in on_edge) + min(p[0] for p in on_edge)) / 2
        (x0, y0, _), (x1, y1, _) = sorted(floor)
        depths.append(y - (y0 + (y1 - y0) * (x - x0) / (x1 - x0)))
    return HousingFigures(extent(solid.corners, wall), *depths, *starts)


OFF = [
    Settings(projection_mm=0.2),
    Settings(projection_mm=-0.3),
    Settings(guide_mm=0.3),
    Settings(guide_mm=-0.1),
    Settings(stop_mm=0.25),
    Settings(stop_mm=-0.15),
    Settings(edge_mm=0.3),
    Settings(edge_mm=-0.3),
    Settings(tilt_deg=0.3),
    Settings(turn_deg=0.25),
    Settings(turn_deg=-0.3),
    Settings(projection_mm=0.2, stop_mm=-0.2),
    Settings(guide_mm=0.2, turn_deg=-0.3, projection_mm=-0.2),
]
EACH = pytest.mark.parametrize("settings", OFF, ids=lambda s: " ".join(f"{k} {v}" for k, v in off_of(s).items()))


def off_of(settings):
    named = {key: getattr(settings, key) for key in Settings.__dataclass_fields__}
    return {key.rsplit("_", 1)[0]: value for key, value in named.items() if value}


@pytest.mark.parametrize("job", JOBS)
@EACH
def test_the_five_figures_are_the_solid_s(job, settings):
    """The exact housing by planes against the one that the kernel cuts."""
    assert housing_reading(solve(job), settings).figures() == pytest.approx(measured(job, settings).figures(), abs=1e-6)


@pytest.mark.parametrize("job", JOBS)
def test_with_nothing_off_the_figures_are_the_housing_s(job):
    """What is wanted stands in the trestle's own record, which solids have judged."""
    wanted, housing = housing_reading(solve(job)), solve(job).housing
    for key in HousingFigures.__dataclass_fields__:
        assert getattr(wanted, key) == pytest.approx(getattr(housing, key), abs=1e-9)


@pytest.mark.parametrize("job", [DEMO, JOB_A, JOB_B])
@EACH
def test_the_diagnosis_gives_back_what_was_put_off(job, settings):
    """From the solid's figures to the setting and its amount, for both hands at once."""
    trestle = solve(job)
    off = measured(job, settings).less(housing_reading(trestle))
    named = [d for d in diagnose(trestle, [FirstOff("R", off), FirstOff("L", off)]) if d.rank == 1]
    assert {d.setting: d.off for d in named} == pytest.approx(off_of(settings), abs=0.005)
    assert {d.hands for d in named} == {"R and L"}
    assert all(d.change == pytest.approx(-d.off) for d in named)


def test_the_change_puts_it_right():
    """Routed again with the change added to the setting, nothing is left to read."""
    trestle, settings = solve(DEMO), Settings(projection_mm=0.3, guide_mm=-0.2)
    off = measured(DEMO, settings).less(housing_reading(trestle))
    changes = {f"{d.setting}_mm": d.change for d in diagnose(trestle, [FirstOff("R", off)])}
    again = Settings(**{key: getattr(settings, key) + change for key, change in changes.items()})
    left = measured(DEMO, again).less(housing_reading(trestle)).figures()
    assert max(abs(figure) for figure in left) < 0.005


def test_what_cannot_be_read_is_not_diagnosed():
    """Readings of 0.05 mm and less are what a caliper in use gives anyway."""
    assert diagnose(solve(DEMO), [FirstOff("R", HousingFigures(0.05, -0.05, 0.03, 0.0, 0.05))]) == ()
    assert diagnose(solve(DEMO), []) == ()


def test_readings_that_stray_still_find_the_setting():
    """Half of what can be read added here and there changes the amount, not the setting."""
    trestle = solve(DEMO)
    off = measured(DEMO, Settings(stop_mm=0.2)).less(housing_reading(trestle)).figures()
    strayed = HousingFigures(*(a + b for a, b in zip(off, (0.025, -0.02, 0.02, 0.02, -0.025), strict=True)))
    first = diagnose(trestle, [FirstOff("L", strayed)])[0]
    assert (first.setting, first.hands, first.rank) == ("stop", "L", 1)
    assert first.off == pytest.approx(0.2, abs=0.03)


def test_an_edge_that_falls_back_and_a_plate_that_leans_are_both_named():
    """0.2 mm less in the bottom face alone: a square tells which of the two it is, the edge comes first."""
    said = diagnose(solve(DEMO), [FirstOff("R", HousingFigures(0, 0, -0.2, 0, 0))])
    assert [(d.setting, d.rank) for d in said] == [("edge", 1), ("tilt", 2)]
    assert "try a square" in said[0].do
    # a floor that lies 0.2 mm off over 45 mm, measured from the edge, is turned by atan(0.2 / 45) and a little more
    assert said[1].off == pytest.approx(-0.28, abs=0.03) and said[1].unit == "deg"


def test_hands_that_differ_are_told_apart():
    """The stop stands wrong for L only; the projection is wrong for both."""
    trestle = solve(DEMO)
    wanted = housing_reading(trestle)
    right = measured(DEMO, Settings(projection_mm=0.2)).less(wanted)
    left = measured(DEMO, Settings(projection_mm=0.2, stop_mm=0.3)).less(wanted)
    named = {(d.setting, d.hands): d.off for d in diagnose(trestle, [FirstOff("R", right), FirstOff("L", left)])}
    assert named == pytest.approx({("projection", "R and L"): 0.2, ("stop", "L"): 0.3}, abs=0.005)


@pytest.mark.parametrize("shop", [DEMO_SHOP, BEARING_SHOP])
def test_the_table_has_a_cure_in_every_row(shop):
    """Six settings, six rows each, the leading figure from -0.3 to +0.3; the row's setting is tried first, but a
    little of tilt may be an edge off square, which a square shows at once.
    """
    rows = diagnosis_table(solve(DEMO), shop)
    assert len(rows) == 36
    leads = {}
    for row in rows:
        leads.setdefault(row.found.setting, []).append(round(getattr(row.reading, row.lead), 2))
        assert row.found.rank == 1 or (row.found.setting, row.instead.setting) == ("tilt", "edge")
        assert row.found.says and row.found.do
    for setting, figures in leads.items():
        wanted = sorted([-0.3, -0.2, -0.1] * 2) if setting == "edge" else list(LEADS_MM)
        assert sorted(figures) == wanted, setting
    words = " ".join(row.found.do for row in rows)
    assert ("bearing" in words, "bush" in words) == ((True, False) if shop is BEARING_SHOP else (False, True))


def test_rows_of_the_table_are_the_solid_s():
    """Each row's setting put off by the row's amount gives the row's figures, to the hundredth that is printed."""
    wanted = housing_reading(solve(DEMO))
    for row in diagnosis_table(solve(DEMO), DEMO_SHOP):
        settings = Settings(**{f"{row.found.setting}_{row.found.unit}": row.found.off})
        off = measured(DEMO, settings).less(wanted).figures()
        assert off == pytest.approx(row.reading.figures(), abs=0.011)


def test_amounts_are_what_a_hand_sum_gives():
    """0.2 mm of projection shows as 0.2 / sin 78 in both faces; inch jobs are told in inches."""
    trestle = solve(DEMO)
    shown = 0.2 / sin(radians(78))
    (said,) = diagnose(trestle, [FirstOff("R", HousingFigures(0.0, shown, shown, 0.0, 0.0))])
    assert (said.says, said.off) == ("the cutter stands out 0.2 mm too far", pytest.approx(0.2))
    (inches,) = diagnose(solve(replace(DEMO, unit="in")), [FirstOff("R", HousingFigures(0.0, shown, shown, 0.0, 0.0))])
    assert inches.says == 'the cutter stands out 0.0079" too far'
    off = HousingFigures(0.0, 0.0, 0.0, 0.0, -45 * (tan(radians(90 - 78.50462)) - tan(radians(90 - 78.80462))))
    assert diagnose(trestle, [FirstOff("R", off)])[0].setting == "turn"


def test_a_reading_less_another():
    """Figure by figure."""
    assert HousingFigures(5, 4, 3, 2, 1).less(HousingFigures(1, 1, 1, 1, 1)).figures() == (4, 3, 2, 1, 0)
    assert subtract((1, 2, 3), (1, 1, 1)) == (0, 1, 2)
