"""The proof's crooked machine against trigonometry and shapely: where lines go, how wide the cut is."""

from dataclasses import replace
from itertools import pairwise
from math import cos, dist, pi, radians, sin, tan

import pytest
import shapely
from shapely.affinity import affine_transform

from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Stroke
from jigmaker.job.shop import Machine
from jigmaker.proof.checks.machine_error import (
    as_cut,
    machine_of_kit,
    mean_findings,
    round_width_mm,
    rows_as_cut,
    stretched,
    unstretched,
)
from jigmaker.proof.checks.pieces import pieces_of
from jigmaker.proof.contours import ReadContour, contours_of, rows_of

PLAIN = Machine("laser", 0.2)
SKEWED = Machine("laser", 0.2, skew_deg=0.3)
CROOKED = Machine("laser", 0.2, scale_x=1.002, scale_y=0.998, skew_deg=-0.4)
EVEN = Machine("laser", 0.2, scale_x=1.002, scale_y=1.002)
DIRECTED = Machine("laser", 0.2, kerf_x_mm=0.15, kerf_y_mm=0.25)
BOX = Outline.from_points([(0, 0), (100, 0), (100, 100), (0, 100)])
SHAPES = [Outline.from_rounded([(10, 10), (90, 20), (60, 80)], 5), Circle((40, 30), 12)]


def test_a_square_out_of_square() -> None:
    """Positive skew leans the y axis toward +x: the rising diagonal is the longer one, heights stay."""
    a, b, c, d = as_cut(BOX, SKEWED).corners
    assert (a, b) == ((0, 0), (100, 0))
    assert d == pytest.approx((100 * tan(radians(0.3)), 100), abs=1e-9)
    assert dist(a, c) ** 2 - dist(b, d) ** 2 == pytest.approx(4 * 100**2 * tan(radians(0.3)), abs=1e-6)


def test_scales_are_measured_over_drawn() -> None:
    """100 drawn along x is 100.2 long; 100 along y stands 99.8 high."""
    _, b, _, d = as_cut(BOX, CROOKED).corners
    assert b == pytest.approx((100.2, 0), abs=1e-9)
    assert d == pytest.approx((-99.8 * tan(radians(0.4)), 99.8), abs=1e-9)


@pytest.mark.parametrize("shape", SHAPES)
def test_curves_go_where_another_librarys_go(shape: Outline | Circle) -> None:
    """As fine chords, bent by shapely: the two differ by less than 0.0005 mm."""
    wanted = affine_transform(
        shapely.LinearRing(shape.points(512)), (1.002, 0.998 * tan(radians(-0.4)), 0, 0.998, 0, 0)
    )
    bent = as_cut(shape, CROOKED)
    assert isinstance(bent, Outline)
    assert shapely.LinearRing(bent.points(1)).hausdorff_distance(wanted) < 5e-4


def test_one_scale_keeps_arcs_and_strokes_stay_open() -> None:
    """Nothing becomes chords where it need not."""
    bent = as_cut(Stroke((Arc((0, 0), (10, 0), 1.0),)), EVEN)
    assert bent == Stroke((Arc((0, 0), (10.02, 0), 1.0),))
    assert as_cut(Circle((10, 20), 5), EVEN) == Circle((10 * 1.002, 20 * 1.002), 5 * 1.002)
    assert isinstance(as_cut(Stroke((Arc((0, 0), (10, 0), 1.0),)), CROOKED), Stroke)


@pytest.mark.parametrize("turn_deg", range(0, 180, 15))
def test_a_directed_cut_is_a_round_one_when_stretched(turn_deg: float) -> None:
    """The ellipse 0.15 by 0.25 becomes a disc: its half width that way, from the ellipse's equation, one radius."""
    way = (cos(radians(turn_deg)), sin(radians(turn_deg)))
    reach = 1 / ((way[0] / 0.075) ** 2 + (way[1] / 0.125) ** 2) ** 0.5
    spoke = stretched(Stroke.from_points([(0, 0), (reach * way[0], reach * way[1])]), DIRECTED)
    assert spoke.length == pytest.approx(round_width_mm(DIRECTED) / 2)


def test_lines_along_y_lose_kerf_x() -> None:
    """A cut swept in the stretched plane is 0.15 wide along x, 0.25 along y when it is back on the bed."""
    ring = shapely.LinearRing(stretched(BOX, DIRECTED).points(1))
    swept = unstretched(ring.buffer(round_width_mm(DIRECTED) / 2, quad_segs=64), DIRECTED)
    assert swept.bounds == pytest.approx((-0.075, -0.125, 100.075, 100.125), abs=1e-9)
    inside = shapely.Polygon(swept.interiors[0]).bounds
    assert inside == pytest.approx((0.075, 0.125, 99.925, 99.875), abs=1e-9)


def test_arcs_that_are_hardly_bent_may_stay() -> None:
    """A skew of 0.3 degrees puts a circle of 0.5 mm off by 0.0013 mm and one of 5 mm by 0.013."""
    small, large = Circle((10, 10), 0.5), Circle((10, 10), 5)
    assert isinstance(as_cut(small, SKEWED, 0.002), Circle)
    assert isinstance(as_cut(small, SKEWED), Outline)
    assert isinstance(as_cut(large, SKEWED, 0.002), Outline)


NEAR = Machine("laser", 0.2, kerf_x_mm=0.19, kerf_y_mm=0.21)


def test_the_mean_of_two_kerfs_is_told() -> None:
    """Each edge is (0.21 - 0.2) / 2 off; not told when the files hold no kerf, or both kerfs are in the lines."""
    (finding,) = mean_findings(NEAR)
    assert finding.severity == "caution"
    assert all(word in finding.says for word in ("0.19 mm", "0.21 mm", "0.2 mm", "0.005 mm"))
    assert finding.key == "shop machine.kerf_x"
    assert mean_findings(replace(NEAR, compensation="left out")) == []
    assert mean_findings(DIRECTED) == mean_findings(PLAIN) == []


def test_an_older_kit_used_smaller_differences() -> None:
    """0.036 mm were used in kit 1 and are averaged since; 0.02 mm never were used."""
    between = Machine("laser", 0.2, kerf_x_mm=0.182, kerf_y_mm=0.218)
    assert machine_of_kit(between, 1).cut_width_mm == (0.182, 0.218)
    assert machine_of_kit(between, 2).cut_width_mm == (0.2, 0.2)
    assert machine_of_kit(NEAR, 1) == NEAR


def test_an_ideal_machine_moves_nothing() -> None:
    """Kerfs that hardly differ are one."""
    assert as_cut(BOX, PLAIN) == BOX
    assert stretched(BOX, NEAR) == BOX
    assert round_width_mm(NEAR) == 0.2


def test_a_huge_arc_stays_a_few_thousand_chords() -> None:
    """Files of others hold radii of kilometres; they are bent in no time too."""
    bent = as_cut(Circle((0, 0), 1e9), CROOKED)
    assert isinstance(bent, Outline)
    assert len(bent.segments) == 4096


ROUND = Stroke((Arc((0, 0), (10, 0), 1.0), Arc((10, 0), (11, 7), -0.3), Line((11, 7), (20, 30))))


@pytest.mark.parametrize("machine", [CROOKED, EVEN, SKEWED])
@pytest.mark.parametrize("within_mm", [0.0, 0.002])
def test_many_lines_in_one_table_go_where_each_goes_alone(machine: Machine, within_mm: float) -> None:
    """Arcs that stay, arcs that become chords and lines between them: no row takes another's place."""
    shapes = [*SHAPES, ROUND, Circle((5, 5), 0.3)]
    table = contours_of([ReadContour("", shape, "") for shape in shapes]).table
    wanted = [row for shape in shapes for row in rows_of(as_cut(shape, machine, within_mm))]
    rows, _ = rows_as_cut(table, machine, within_mm)
    assert rows.tolist() == [pytest.approx(row, abs=1e-9) for row in wanted]


def test_arcs_in_several_pieces_are_one() -> None:
    """A half turn in three, a line, an O in eight, a wave of two arcs: 1, 1, 2 and 2 rows, by the circle's geometry."""
    half = [
        Arc(*ends, tan(pi / 12)) for ends in pairwise([(5 * cos(a), 5 * sin(a)) for a in (0, pi / 3, 2 * pi / 3, pi)])
    ]
    ring = [Arc(*ends, tan(pi / 16)) for ends in pairwise([(cos(i * pi / 4), sin(i * pi / 4)) for i in range(9)])]
    wave = (Arc((0, 0), (2, 0), 0.5), Arc((2, 0), (4, 0), -0.5))
    shapes = [Stroke((*half, Line((-5, 0), (-5, -9)))), Stroke(tuple(ring)), Stroke(wave)]
    whole = pieces_of([(0, shape) for shape in shapes]).with_whole_arcs()
    assert sorted(whole.owner.tolist()) == [0, 0, 1, 1, 2, 2]
    rows = {tuple(round(float(v), 9) + 0.0 for v in row) for row in whole.table}
    assert (5.0, 0.0, -5.0, 0.0, 1.0, 0.0) in rows
    assert {(1.0, 0.0, -1.0, 0.0, 1.0, 0.0), (-1.0, 0.0, 1.0, 0.0, 1.0, 0.0)} <= rows
