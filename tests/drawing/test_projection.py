"""Hidden lines on known solids: counted by hand, and judged by rays that know nothing of triangles."""

import random
from itertools import combinations, pairwise, product
from math import dist, sqrt

import pytest

from jigmaker.drawing.projection import Body, chained, project
from jigmaker.drawing.view import BACK, BOTTOM, FRONT, ISOMETRIC, LEFT, RIGHT, TOP, View
from jigmaker.errors import FrameError
from jigmaker.geometry.frames import Frame
from jigmaker.geometry.outline import Circle, Outline
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import add, cross, dot, scale, subtract, unit

CUBE = Solid.block((0, 0, 0), (10, 10, 10))
SKEW = View.from_viewer((0.41, -0.73, 0.55))
PRINCIPAL = {"front": FRONT, "back": BACK, "right": RIGHT, "left": LEFT, "top": TOP, "bottom": BOTTOM}


def length_of(pieces):
    return sum(dist(a, b) for a, b in pieces)


def boxes_as_bodies(boxes):
    return [Body(f"box {i}", Solid.block(low, high)) for i, (low, high) in enumerate(boxes)]


# --- what a box's edges and a ray through boxes are, from the boxes' two corners alone


def edges_of(low, high):
    """The twelve edges of a box."""
    corners = list(product(*zip(low, high, strict=True)))
    return [(p, q) for p, q in combinations(corners, 2) if sum(a != b for a, b in zip(p, q, strict=True)) == 1]


def is_behind(point, toward, boxes):
    """True when the way from the point to the viewer leads through the inside of a box."""
    return any(_stretch_inside(point, toward, low, high) > 1e-6 for low, high in boxes)


def _stretch_inside(point, toward, low, high):
    first, last = 1e-6, float("inf")
    for p, d, a, b in zip(point, toward, low, high, strict=True):
        if abs(d) < 1e-12:
            if not a < p < b:
                return 0.0
            continue
        enter, leave = sorted(((a - p) / d, (b - p) / d))
        first, last = max(first, enter), min(last, leave)
    return last - first


def lies_on(point, way, pieces):
    """True when a piece that runs the same way covers the point."""
    for (ax, ay), (bx, by) in pieces:
        size = dist((ax, ay), (bx, by))
        along = ((point[0] - ax) * (bx - ax) + (point[1] - ay) * (by - ay)) / size
        aside = abs((point[0] - ax) * (by - ay) - (point[1] - ay) * (bx - ax)) / size
        turned = abs(way[0] * (by - ay) - way[1] * (bx - ax)) / size
        if aside < 1.5e-4 and turned < 1e-3 and -2e-3 < along < size + 2e-3:
            return True
    return False


def judge(boxes, view, drawn, samples=15):
    """Samples along every edge whose fate in the drawing is not the ray's: those near where it changes are left out."""
    seen = [piece for body in drawn for piece in body.visible]
    wrong = []
    for box in boxes:
        for p, q in edges_of(*box):
            (px, py), (qx, qy) = view.point(p), view.point(q)
            if dist((px, py), (qx, qy)) < 1e-6:
                continue
            way = ((qx - px) / dist((px, py), (qx, qy)), (qy - py) / dist((px, py), (qx, qy)))
            fates = {}
            for i in range(-1, 2 * samples):
                at = add(p, scale(subtract(q, p), (i + 1.03) / (2 * samples + 1)))
                fates[i] = (at, is_behind(at, view.toward, boxes))
            for i in range(0, 2 * samples - 1, 2):
                at, hidden = fates[i]
                if fates[i - 1][1] == hidden == fates[i + 1][1] and lies_on(view.point(at), way, seen) == hidden:
                    wrong.append((box, at, hidden))
    return wrong


# --- known solids


def test_a_cube_shows_nine_edges_and_hides_three():
    """Isometric view: six edges around, three inside, each sqrt(2/3) of its length; ISO 5456-3 shortens all alike."""
    (cube,) = project([Body("cube", CUBE)], ISOMETRIC, keep_hidden=True)
    assert (len(cube.outline), len(cube.inner), len(cube.hidden)) == (6, 3, 3)
    assert {round(dist(*piece), 3) for piece in cube.visible + cube.hidden} == {round(10 * sqrt(2 / 3), 3)}
    (again,) = project([Body("cube", CUBE)], ISOMETRIC)
    assert (again.visible, again.hidden) == (cube.visible, ())


@pytest.mark.parametrize(("name", "view"), PRINCIPAL.items())
def test_a_cube_from_six_sides_is_a_square(name, view):
    """Four edges, no second line on any of them, nothing inside."""
    (cube,) = project([Body("cube", CUBE)], view)
    assert (len(cube.outline), len(cube.inner), length_of(cube.visible)) == (4, 0, pytest.approx(40)), name


@pytest.mark.parametrize(
    ("name", "x_right", "up"),
    [
        ("front", (1, 0, 0), (0, 0, 1)),
        ("back", (-1, 0, 0), (0, 0, 1)),
        ("right", (0, 1, 0), (0, 0, 1)),
        ("left", (0, -1, 0), (0, 0, 1)),
        ("top", (1, 0, 0), (0, 1, 0)),
        ("bottom", (1, 0, 0), (0, -1, 0)),
    ],
)
def test_principal_views_are_not_mirrored(name, x_right, up):
    """What is at the viewer's right is at the picture's right; third axis toward the viewer."""
    view = PRINCIPAL[name]
    assert (view.point(x_right), view.point(up)) == ((1, 0), (0, 1))
    assert cross(view.right, view.up) == view.toward


def test_views_by_angles_and_wrong_ones():
    """From azimuth and elevation z stays upright; a left-handed set of axes is refused."""
    view = View.from_angles(-60, 25)
    assert view.point((0, 0, 1))[0] == pytest.approx(0) and view.point((0, 0, 1))[1] > 0
    assert view.point((1, 0, 0))[0] > 0 and dot(view.toward, (1, -1, 1)) > 0
    with pytest.raises(FrameError, match="right-handed"):
        View((1, 0, 0), (0, 0, 1), (0, 1, 0))


def test_a_box_behind_another_is_gone_but_for_what_looks_over():
    """Seen from the front: the small box behind is hidden, a taller one shows its upper part only."""
    front = ((0, 0, 0), (20, 5, 20))
    small, tall = ((5, 10, 5), (15, 12, 15)), ((5, 10, 5), (15, 12, 26))
    (_, gone) = project(boxes_as_bodies([front, small]), FRONT)
    assert gone.visible == ()
    (_, over) = project(boxes_as_bodies([front, tall]), FRONT)
    assert sorted(over.visible) == [((5, 20), (5, 26)), ((5, 26), (15, 26)), ((15, 20), (15, 26))]


def test_a_hole_goes_through():
    """Looking along a square hole its four edges show; from the side, a round hole's far rim shows through the near."""
    plate = CUBE.minus(Solid.block((3, -1, 3), (7, 11, 7)))
    (along,) = project([Body("plate", plate)], FRONT)
    assert length_of(along.visible) == pytest.approx(40 + 16)
    ring = Solid.prism(Outline.from_points([(0, 0), (30, 0), (30, 30), (0, 30)]), [Circle((15, 15), 9)], 2.0, 6)
    (body,) = project([Body("ring", ring)], View.from_angles(20, 60))
    (full,) = project([Body("disc", Solid.prism(Circle((15, 15), 9), [], 0.01, 6))], View.from_angles(20, 60))
    rim = length_of(body.visible) - 4 * 30 * 0.8
    assert length_of(full.visible) < rim < 2 * length_of(full.visible)


def test_a_cylinder_shows_its_outline_and_no_chords():
    """24 chords around, but along its length only the two lines where it turns away."""
    cylinder = Solid.prism(Circle((0, 0), 5), [], 40, 6)
    (body,) = project([Body("cylinder", cylinder)], FRONT)
    lines = [piece for piece in body.visible if piece[0][0] == piece[1][0]]
    assert [dist(*line) for line in lines] == [pytest.approx(40)] * 2


def test_touching_bodies_share_their_line():
    """Two equal cubes on each other: the line between them is drawn once, by the first."""
    lower, upper = project(boxes_as_bodies([((0, 0, 0), (10, 10, 10)), ((0, 0, 10), (10, 10, 20))]), FRONT)
    assert len(lower.visible) == 4 and len(upper.visible) == 3
    assert length_of(lower.visible + upper.visible) == pytest.approx(70)


def test_bodies_through_each_other_hide_what_is_inside():
    """A bar through a cube: it shows before and behind, not within."""
    boxes = [((0, 0, 0), (10, 10, 10)), ((4, 4, -5), (6, 6, 15))]
    _, bar = project(boxes_as_bodies(boxes), SKEW)
    assert judge(boxes, SKEW, project(boxes_as_bodies(boxes), SKEW)) == []
    rises = [piece for piece in bar.visible if abs(piece[0][0] - piece[1][0]) < 1e-6]
    assert max(dist(*piece) for piece in rises) < 20 * dot(SKEW.up, (0, 0, 1)) * 0.6


# --- many boxes, judged by rays


@pytest.mark.parametrize("number", range(10))
def test_no_hidden_edge_is_drawn_and_no_seen_one_missing(number):
    """Boxes anywhere, through each other too, from anywhere: every edge as rays through the boxes say."""
    draw = random.Random(number)
    boxes = []
    for _ in range(6):
        low = tuple(draw.uniform(0, 60) for _ in range(3))
        boxes.append((low, tuple(c + draw.uniform(5, 50) for c in low)))
    view = View.from_viewer(tuple(draw.uniform(-1, 1) for _ in range(3)), (0.1, 0.2, 1))
    assert judge(boxes, view, project(boxes_as_bodies(boxes), view)) == []


@pytest.mark.parametrize("number", range(10))
def test_boxes_that_touch_on_a_grid(number):
    """The same with corners on a coarse grid: faces, edges and corners of different boxes coincide."""
    draw = random.Random(100 + number)
    boxes = []
    for _ in range(6):
        low = tuple(10.0 * draw.randrange(4) for _ in range(3))
        boxes.append((low, tuple(c + 10.0 * draw.randrange(1, 4) for c in low)))
    view = View.from_angles(draw.uniform(-180, 180), draw.uniform(-80, 80))
    assert judge(boxes, view, project(boxes_as_bodies(boxes), view)) == []


def test_the_judge_sees_a_hidden_edge():
    """The checks above can fail: a drawing with its hidden edges in it, and one with an edge left out."""
    boxes = [((0, 0, 0), (10, 10, 10)), ((2, -9, 1), (6, -4, 8))]
    drawn = project(boxes_as_bodies(boxes), SKEW, keep_hidden=True)

    class Spoilt:
        def __init__(self, visible):
            self.visible = visible

    assert len(judge(boxes, SKEW, [Spoilt(body.visible + body.hidden) for body in drawn])) > 20
    assert len(judge(boxes, SKEW, [Spoilt(body.visible[1:]) for body in drawn])) > 5


def test_the_kernel_finds_nothing_before_what_is_drawn():
    """A thin needle from the middle of every drawn edge of an unconvex body toward the viewer meets no wood."""
    frame = Solid.block((0, 0, 0), (40, 30, 20)).minus(Solid.block((8, -1, 6), (32, 31, 14)))
    body = frame.plus(Solid.block((-10, 10, 20), (50, 20, 26)))
    view = View.from_angles(35, 28)
    (drawn,) = project([Body("body", body)], view, keep_hidden=True)
    edges = _sharp_edges(body)
    assert len(edges) > 40
    for p, q in edges:
        for share in (0.07, 0.31, 0.5, 0.77, 0.93):
            at = add(p, scale(subtract(q, p), share))
            way = subtract(q, p)
            flat = unit((dot(way, view.right), dot(way, view.up), 0.0))
            on = [lies_on(view.point(at), flat, pieces) for pieces in (drawn.visible, drawn.hidden)]
            meets = _needle(at, view).common(body).volume > 1e-7
            # A hidden edge may lie exactly behind a visible one; then the line is rightly there.
            assert on[0] or meets
            assert on[0] != on[1]


def _needle(at, view):
    """From just before the point to far before it, 0.002 thick."""
    needle = Solid.block((-0.001, -0.001, 0.01), (0.001, 0.001, 500.0))
    return needle.placed(Frame(at, view.right, view.up, view.toward))


def _sharp_edges(body):
    """Edges between triangles of different planes, straight from the kernel's mesh."""
    mesh = body.mesh()
    points = [tuple(map(float, p)) for p in mesh.vert_properties[:, :3]]
    faces = {}
    for a, b, c in mesh.tri_verts.tolist():
        normal = unit(cross(subtract(points[b], points[a]), subtract(points[c], points[a])))
        for pair in ((a, b), (b, c), (c, a)):
            faces.setdefault(tuple(sorted(pair)), []).append(normal)
    return [(points[a], points[b]) for (a, b), (m, n) in faces.items() if dot(m, n) < 0.9]


def test_same_bodies_same_drawing_whatever_their_order():
    """Nothing depends on chance; a body's own lines do not depend on its place in the list when none are shared."""
    boxes = boxes_as_bodies([((0, 0, 0), (30, 20, 10)), ((40, 5, 3), (52, 31, 44)), ((10, -20, 2), (35, -11, 30))])
    once, twice = project(boxes, SKEW), project(boxes, SKEW)
    assert once == twice
    assert once == project(boxes[::-1], SKEW)[::-1]


def test_chained_lines_hold_every_piece_once():
    """The cube's nine edges as few lines through several points."""
    (cube,) = project([Body("cube", CUBE)], ISOMETRIC)
    lines = chained(cube.visible)
    assert len(lines) == 2
    joined = [tuple(sorted(pair)) for line in lines for pair in pairwise(line)]
    assert sorted(joined) == sorted(cube.visible)
    assert chained([]) == []


def test_nothing_to_draw():
    """A body cut away entirely is drawn as nothing."""
    nothing = CUBE.minus(CUBE)
    (empty, cube) = project([Body("nothing", nothing), Body("cube", CUBE)], ISOMETRIC)
    assert empty.visible == () and len(cube.visible) == 9
    assert project([], ISOMETRIC) == []
