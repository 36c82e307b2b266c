"""Pictures of gluing, horn, router and sheets: numbers can be read; mm."""

import re
from dataclasses import replace
from math import dist, radians, sqrt, tan

import pytest
import shapely
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, HAND_SHOP, JOB_A, JOB_B

from jigmaker.geometry.frames import PlaneFrame
from jigmaker.geometry.outline import Circle, bounds_of
from jigmaker.geometry.solid import Solid
from jigmaker.job.shop import KitChoices
from jigmaker.papers.pictures.gluing import gluing_bodies, gluing_picture
from jigmaker.papers.pictures.hatching import hatch
from jigmaker.papers.pictures.horn import horn_bodies
from jigmaker.papers.pictures.jig_bodies import board_body, jig_bodies
from jigmaker.papers.pictures.leaning_back import leaning_back_picture, leaning_bodies
from jigmaker.papers.pictures.piece_numbers import NumberGrid
from jigmaker.papers.pictures.router_set import router_set_picture
from jigmaker.papers.pictures.sheets_cut import MOST_SHEETS, sheets_cut_picture
from jigmaker.papers.pictures.trestle import trestle_picture
from jigmaker.papers.sheet_names import piece_name
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.sheet import PlacedPart, Sheet
from jigmaker.trestle.solve import solve

JOBS = {
    "demo": DEMO,
    "a": JOB_A,
    "b": JOB_B,
    "plumb splay": replace(DEMO, splay_deg=90.0),
    "reveal": replace(DEMO, housing=replace(DEMO.housing, reveal_mm=4.0)),
}
HORNED = {name: replace(job, leg=replace(job.leg, horn_mm=6.0)) for name, job in JOBS.items()}


WEDGES = replace(DEMO_SHOP, kit=KitChoices(also=("clamping wedges", "leaning wedges")))
KITS = dict.fromkeys(JOBS) | {f"{name}, kit's wedges": WEDGES for name in ("demo", "b", "reveal")}


@pytest.mark.parametrize("name", KITS)
def test_clamp_and_wedges_press_on_the_legs(name) -> None:
    """Wedges lie flat on the outer faces, the clamp on the wedges, nothing in anything else, feet on the floor."""
    trestle, shop = solve(JOBS[name.partition(",")[0]]), KITS[name]
    bodies = {body.name: body.solid for body in gluing_bodies(trestle, make_kit(trestle, shop) if shop else None)}
    for side in ("+y", "-y"):
        leg, wedge = bodies[f"leg +x{side}"], bodies[f"wedge {side}"]
        assert leg.gap(wedge, 5.0) == pytest.approx(0, abs=1e-6)
        assert bodies["clamp"].gap(wedge, 5.0) == pytest.approx(0, abs=1e-6)
        assert leg.common(wedge).volume == pytest.approx(0, abs=0.01)
        assert bodies["clamp"].common(Solid.union([leg, wedge, bodies["top board"]])).volume == pytest.approx(
            0, abs=0.01
        )
        assert leg.bounds[0][2] == pytest.approx(bodies["floor"].bounds[1][2], abs=1e-6)
        # The floor is drawn a hand's breadth beyond the feet, no more: the picture is small enough.
        assert 20.0 < bodies["floor"].bounds[1][1] - max(abs(leg.bounds[0][1]), leg.bounds[1][1]) < 60.0


@pytest.mark.parametrize(("name", "use"), [("demo", "rout"), ("a", "rout"), ("b", "saw")])
def test_wedges_and_jaws_are_drawn_where_they_hold(name, use) -> None:
    """The wedges touch jaw and fence or strip, seen along the board, and stand in nothing that is drawn."""
    kit = make_kit(solve(JOBS[name]), HAND_SHOP)
    bodies = {body.name: body.solid for body in leaning_bodies(kit, use)}
    fence = next(body for at, body in bodies.items() if at.startswith("fence") or " fence" in at)
    holds = [("front wedge", "front jaw", fence)]
    holds += [("back wedge", "back jaw", bodies["back strip"])] if use == "rout" else []
    for wedge, jaw, leans in holds:
        body = bodies[wedge]
        along = leans.bounds[0][0] - body.bounds[0][0]  # they are drawn beyond the board's end
        assert body.gap(bodies[jaw], 5.0) == pytest.approx(0, abs=1e-6)
        assert body.moved((along, 0.0, 0.0)).gap(leans, 5.0) == pytest.approx(0, abs=1e-6)
        assert body.moved((along, 0.0, 0.0)).common(leans).volume == pytest.approx(0, abs=0.01)
        assert body.common(bodies[jaw]).volume == pytest.approx(0, abs=0.01)
    words = " ".join(label.text for label in leaning_back_picture(kit, use).labels)
    assert "thick end up" in words and "thin end up" in words
    assert ("the router does not slide" in words) == (use == "rout")


@pytest.mark.parametrize("name", JOBS)
def test_the_trestle_is_drawn_on_its_floor(name) -> None:
    """The floor is drawn thin under everything: nothing of the trestle reaches below it, and the top stands over it."""
    drawn = trestle_picture(solve(JOBS[name])).shapes
    thick, thin = (
        [y for d in drawn if d.layer == layer for _, y in d.shape.points(4)] for layer in ("OUTLINE", "THIN")
    )
    assert min(thin) < min(thick) and max(thin) < max(thick)


@pytest.mark.parametrize("hand", ["R", "L"])
@pytest.mark.parametrize("name", ["demo", "a", "b"])
def test_the_jig_lies_on_the_board_that_is_drawn(name, hand) -> None:
    """Nothing is in the wood; lower, in from the face or along from the end by a tenth of a millimetre, it is."""
    kit = make_kit(solve(JOBS[name]), DEMO_SHOP)
    board, jig = board_body(kit, hand)[0].solid, [body.solid for body in jig_bodies(kit, hand)]
    assert sum(solid.common(board).volume for solid in jig) == pytest.approx(0, abs=1e-3)
    along = -0.1 if hand == "R" else 0.1
    for by in ((0.0, -0.1, 0.0), (0.0, 0.0, -0.1), (along, 0.0, 0.0)):
        assert sum(solid.moved(by).common(board).volume for solid in jig) > 1


@pytest.mark.parametrize("name", JOBS)
def test_two_screws_a_leg_and_a_brace_end_are_drawn(name) -> None:
    """Two in each of the two heads, two at both ends of the brace that is seen, where the pattern has two."""
    circles = [d.shape.radius for d in gluing_picture(solve(JOBS[name])).shapes if isinstance(d.shape, Circle)]
    heads = [radius for radius in circles if radius > 0.5]
    assert len(heads) == 4 and len(set(heads)) == 1
    assert circles.count(0.45) == 4


@pytest.mark.parametrize("name", ["demo", "a", "b"])
def test_a_screws_places_are_drawn_as_they_are_told(name) -> None:
    """Four arrows with heads at both ends, as long in proportion as the four figures beside them say."""
    picture = gluing_picture(solve(JOBS[name]))
    told = sorted(float(each.text[:-3]) for each in picture.labels if re.fullmatch(r"[0-9.]+ mm", each.text))
    shafts: dict[tuple[float, float], list[float]] = {}
    for points in (drawn.shape.points(1) for drawn in picture.shapes if not isinstance(drawn.shape, Circle)):
        if len(points) == 2:
            shafts.setdefault(points[0], []).append(dist(*points))
    drawn = sorted(sum(ways) for ways in shafts.values() if len(ways) == 2 and ways[0] == pytest.approx(ways[1]))
    assert len(told) == len(drawn) == 4
    assert [length / drawn[0] for length in drawn] == pytest.approx([mm / told[0] for mm in told], rel=0.03)


@pytest.mark.parametrize("name", HORNED)
def test_the_horn_stands_above_the_top_face(name) -> None:
    """As high as its length along the leg falls, 6 / sqrt(1 + cot^2 rake + cot^2 splay), and nowhere in the board."""
    job = HORNED[name]
    leg, board = (body.solid for body in horn_bodies(solve(job)))
    along = sqrt(1 + tan(radians(90 - job.rake_deg)) ** 2 + tan(radians(90 - job.splay_deg)) ** 2)
    assert leg.bounds[1][2] == pytest.approx(6 / along, abs=1e-9)
    assert board.bounds[1][2] == pytest.approx(0, abs=1e-9)
    assert leg.common(board).volume == pytest.approx(0, abs=0.01)


def _stretch(job) -> float:
    """How much larger a level section of a leg is than a square one."""
    return sqrt(1 + tan(radians(90 - job.rake_deg)) ** 2 + tan(radians(90 - job.splay_deg)) ** 2)


def test_hatching_fills_a_section_and_no_more() -> None:
    """An L of 30 x 20 with a 20 x 10 notch: 400 mm2, so lines 2 mm apart are 200 mm long in all, at any slant."""
    ring = [(0, 0), (30, 0), (30, 10), (10, 10), (10, 20), (0, 20)]
    inside = shapely.Polygon(ring).buffer(1e-6)
    for slant in (0.0, 45.0, -45.0, 90.0):
        lines = [shapely.LineString(ends) for ends in hatch(ring, 2.0, slant)]
        assert all(inside.covers(line) for line in lines)
        assert sum(line.length for line in lines) == pytest.approx(200, rel=0.05)


@pytest.mark.parametrize(("job", "shop", "guide"), [(DEMO, DEMO_SHOP, "bush 17 mm"), (JOB_A, BEARING_SHOP, "bearing")])
def test_the_router_shows_the_sum(job, shop, guide) -> None:
    """By hand for the demo: sheet 9.1, standoff 7, leg 32, together 48.1; a cutter with a bearing has no bush."""
    words = " ".join(label.text for label in router_set_picture(make_kit(solve(job), shop)).labels)
    assert guide in words and ("bush" in words) == ("bush" in guide)
    if job is DEMO:
        assert all(said in words for said in ("sheet 9.1 mm", "standoff 7 mm", "housing 32 mm", "projection 48.1 mm"))


def rows_of(kit, long: float, wide: float) -> list[Sheet]:
    """Every piece in rows from below, as wide as its highest: not sparing, but quick."""
    sheets, placed, x, y, high = list[Sheet](), list[PlacedPart](), 5.0, 5.0, 0.0
    for part in (each for each in kit.parts for _ in range(each.pieces)):
        _, _, w, h = part.outline.bounds
        if x + w > long - 5:
            x, y, high = 5.0, y + high + 3, 0.0
        if y + h > wide - 5:
            sheets.append(Sheet("", long, wide, tuple(placed)))
            placed, x, y, high = [], 5.0, 5.0, 0.0
        placed.append(PlacedPart(part, PlaneFrame(x, y)))
        x, high = x + w + 3, max(high, h)
    return [*sheets, Sheet("", long, wide, tuple(placed))]


BEDS = {"600 x 400": (600.0, 400.0), "1200 x 900": (1200.0, 900.0), "460 x 300": (460.0, 300.0)}


@pytest.fixture(scope="module", params=BEDS)
def nested(request):
    """Sheets of one bed's size, and their picture."""
    sheets = rows_of(make_kit(solve(DEMO), DEMO_SHOP), *BEDS[request.param])
    return sheets, sheets_cut_picture(sheets)


def test_every_piece_has_its_number(nested) -> None:
    """As often as it lies on the sheets that are drawn, and once with its name in the key."""
    sheets, picture = nested
    said = [label.text for label in picture.labels]
    names = list(dict.fromkeys(piece_name(placed) for sheet in sheets for placed in sheet.placed))
    drawn = [piece_name(placed) for sheet in sheets[:MOST_SHEETS] for placed in sheet.placed]
    for number, name in enumerate(names, 1):
        assert said.count(f"{number} {name}") == 1
        assert said.count(str(number)) == drawn.count(name)
    assert any("not drawn" in words for words in said) == (len(sheets) > MOST_SHEETS)


def test_numbers_can_be_read(nested) -> None:
    """Letters of 2.5 mm that no line and no other word runs through."""
    _, picture = nested
    boxes = [shapely.box(*bounds_of(label.strokes)) for label in picture.labels]
    shapes = [drawn.shape for drawn in picture.shapes if not isinstance(drawn.shape, Circle)]
    lines = shapely.union_all([shapely.LineString(shape.points(4)) for shape in shapes])
    assert {label.height_mm for label in picture.labels} == {2.5}
    assert [label.text for label, box in zip(picture.labels, boxes, strict=True) if box.distance(lines) < 0.1] == []
    assert all(not a.intersects(b) for i, a in enumerate(boxes) for b in boxes[:i])
    assert picture.width_mm <= 180


def test_a_piece_too_small_for_its_number_has_it_beside() -> None:
    """Its leader ends in the piece and runs over no other number; a full drawing has no room left."""
    grid = NumberGrid((0.0, 0.0), (20.0, 10.0), 2.5)
    grid.add_piece(1, [[(2, 2), (4, 2), (4, 4), (2, 4)]])
    grid.add_piece(2, [[(8, 1), (18, 1), (18, 9), (8, 9)]])
    assert grid.inside(1, "1") is None
    assert grid.inside(2, "2").leader == ()
    beside = grid.beside(1, "1")
    assert shapely.box(2, 2, 4, 4).buffer(0.3).covers(shapely.Point(beside.leader[-1]))
    assert not shapely.box(2, 2, 4, 4).covers(shapely.Point(beside.middle))
    assert grid.beside(1, "9999999") is None


@pytest.mark.parametrize("is_open", [False, True])
def test_a_piece_behind_other_numbers_is_told_with_few_looks(monkeypatch, is_open: bool) -> None:
    """On a large drawing, with numbers all round a piece: one gap among them is found, and where there is none ways
    are not tried one by one, of which there are some hundred thousand."""
    grid, looks = NumberGrid((0.0, 0.0), (120.0, 60.0), 2.5), []
    grid.add_piece(1, [[(50, 30), (60, 30), (60, 31), (50, 31)]])
    for cells in (grid._words, grid._taken):
        cells[140:227, 80:125] = True
        cells[161:206, 98:107] = False
        cells[183:186, 80:98] = not is_open
    cells_of = grid._cells_of
    monkeypatch.setattr(grid, "_cells_of", lambda *ends: looks.append(ends) or cells_of(*ends))
    place = grid.beside(1, "1")
    assert len(looks) < 3000
    assert (place is not None) is is_open
    if is_open:
        (x, y), (to_x, to_y) = place.leader
        at_gap = x + (to_x - x) * (27.0 - y) / (to_y - y)
        assert 54.7 < at_gap < 55.8  # columns 183 to 185 of 0.3 mm
