"""Every direction that a sheet tells, worked out anew on solids, and the pages that must tell it in that word.

Solids are cut from blocks by planes; the operator stands where the picture shows him. Trade facts are marked as such.
"""

import re
from functools import cache

import pytest
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP, JOB_A, JOB_B
from sample_variants import JOBS, SHOPS
from trestle_on_solids import DOWN, board, brace, directions, finished_leg, housing, normal_of, random_valid_jobs

from jigmaker.cutting.compensate import compensate
from jigmaker.geometry.outline import Outline
from jigmaker.geometry.vectors import cross, dot, scale
from jigmaker.papers.bench import Bench
from jigmaker.papers.directions import direction_facts
from jigmaker.papers.setup_sheets.document import FOR_ALL, OPERATIONS, setup_document, sheet_text
from jigmaker.parts.kit import make_kit
from jigmaker.parts.solids import assembled
from jigmaker.sheets.place import single_part_sheet
from jigmaker.trestle.solve import solve

KITS = {
    "demo": (DEMO, DEMO_SHOP),
    "a": (JOB_A, BEARING_SHOP),
    "b": (JOB_B, DEMO_SHOP),
    "90/78, one hand": (JOBS["90/78"], SHOPS["laser, bush, one hand"]),
    "78/90": (JOBS["78/90"], DEMO_SHOP),
    "cnc": (DEMO, SHOPS["cnc, bush, two slots"]),
}
SLIGHT = 1e-4
"""Sine of an angle that is told as 0.00 degrees."""


@cache
def told(name):
    """The directions of a kit by name."""
    job, shop = KITS[name]
    return {fact.name: fact.value for fact in direction_facts(Bench(make_kit(solve(job), shop), ()))}


def word(amount, above, below):
    """By the sign; none for nothing."""
    return "" if abs(amount) < SLIGHT else above if amount > 0 else below


def cut_words(normal, right, up, ends):
    """(far end of the kerf, top of the blade) toward which of the two ends, at the left and at the right.

    normal: out of the sawn end, toward the right; right and up: the saw's axes; the operator looks from the near side.
    """
    away = cross(up, right)
    x, y, z = (dot(normal, axis) for axis in (right, away, up))
    # In the table the plane runs along (-y, x): its far end lies at -y / x. In the plane the top lies at -z / x.
    left_end, right_end = ends
    return word(-y / x, right_end, left_end), word(-z / x, right_end, left_end)


def leg_cut(job, on_edge):
    """A leg with its head at the left: on its outer wide face, or on its near edge with the outer face to the front."""
    down, wide, edge, _ = directions(job)
    return cut_words(normal_of(finished_leg(job), DOWN), down, scale(edge if on_edge else wide, -1), ("head", "foot"))


def brace_lengths(job):
    """Lengths of the inside and of the outside face halfway down, measured on a thin slice of the solid."""
    raked = directions(job)[3]
    along_face = cross((0.0, 1.0, 0.0), raked)
    solid = brace(job)
    heights = [dot(p, along_face) for p in solid.corners]
    level = (min(heights) + max(heights)) / 2
    low, high = scale(along_face, level - 0.01), scale(along_face, level + 0.01)
    cut = solid.kept_below(high, along_face).kept_below(low, scale(along_face, -1))
    depths = [dot(p, raked) for p in cut.corners]

    def long(depth):
        return max(p[1] for p in cut.corners if abs(dot(p, raked) - depth) < 1e-3)

    return long(min(depths)), long(max(depths))


def housing_words(job):
    """Which way the near wall runs as it goes down, and the face in which the floor lies deeper, on the solid."""
    taken, half = housing(job).common(board(job)), job.top.width_mm / 2

    def near_wall(z):
        slab = taken.kept_below((0, 0, z + 0.01), (0, 0, 1)).kept_below((0, 0, z - 0.01), (0, 0, -1))
        slab = slab.kept_below((0, half - 0.01, 0), (0, -1, 0))
        return max(p[0] for p in slab.corners)

    def depth(z):
        slab = taken.kept_below((0, 0, z + 0.01), (0, 0, 1)).kept_below((0, 0, z - 0.01), (0, 0, -1))
        return half - min(p[1] for p in slab.corners)

    bottom, top = -job.top.thickness_mm + 0.02, -0.02
    runs, deeper = near_wall(bottom) - near_wall(top), depth(top) - depth(bottom)
    return (
        "" if abs(runs) < 0.01 else "toward" if runs > 0 else "away from",
        "" if abs(deeper) < 0.01 else "top" if deeper > 0 else "bottom",
    )


@pytest.mark.parametrize("name", KITS)
def test_the_saw_swings_and_leans_as_the_solid_ends(name) -> None:
    """Mitre and blade of both ways to lay a leg, and how it lies."""
    job, said = KITS[name][0], told(name)
    assert (said["saw.mitre"], said["saw.tilt"]) == leg_cut(job, on_edge=False)
    assert (said["saw_edge.mitre"], said["saw_edge.tilt"]) == leg_cut(job, on_edge=True)
    assert said["saw.head"] == said["saw_edge.head"] == "left" and said["saw.face_down"] == "outer"
    assert said["saw_edge.edge_down"] == "near"
    # On its near edge, head at the left: right is down the leg, up is off the near edge; the front is their cross.
    down, wide, edge, _ = directions(job)
    front = cross(down, scale(edge, -1))
    assert said["saw_edge.outer_face"] == ("toward you" if dot(front, wide) > 0 else "away from you")


@pytest.mark.parametrize("job", random_valid_jobs(31, 6))
def test_random_legs_too(job) -> None:
    """Rake and splay of all sizes."""
    made = Bench(make_kit(solve(job), DEMO_SHOP), ())
    said = {fact.name: fact.value for fact in direction_facts(made)}
    assert (said["saw.mitre"], said["saw.tilt"]) == leg_cut(job, on_edge=False)
    assert (said["housing.wall_runs"], said["housing.deeper_face"]) == housing_words(job)


@pytest.mark.parametrize("name", KITS)
def test_the_brace_lies_and_is_cut_as_its_solid(name) -> None:
    """Inside face up, top edge at the fence, its end at -y at the blade; the face that comes out shorter."""
    job, said = KITS[name][0], told(name)
    _, wide, _, raked = directions(job)
    end = (wide[0], -wide[1], wide[2])
    up, right = scale(raked, -1), (0.0, -1.0, 0.0)
    assert (said["saw_brace.mitre"], said["saw_brace.tilt"]) == cut_words(
        normal_of(brace(job), end), right, up, ("brace", "waste")
    )
    assert said["saw_brace.inside_face"] == "up"
    # The sawn end lies at the right of the brace's middle, so the other one is at the left.
    assert said["saw_brace.other_end"] == ("left" if dot(end, right) > 0 else "right")
    away = cross(up, right)
    assert said["saw_brace.top_edge"] == ("at the fence" if away[2] > 0 else "toward you")
    inside, outside = brace_lengths(job)
    wanted = "" if abs(inside - outside) < 0.01 else "outside" if outside < inside else "inside"
    assert said["saw_brace.shorter_face"] == wanted


@pytest.mark.parametrize("name", KITS)
def test_the_housing_runs_as_its_solid(name) -> None:
    """Wall toward the board's end, floor deeper in which face."""
    said = told(name)
    assert (said["housing.wall_runs"], said["housing.deeper_face"]) == housing_words(KITS[name][0])


@pytest.mark.parametrize("name", KITS)
def test_hands_lie_as_the_operator_sees_them(name) -> None:
    """Edge up, top face toward him: his right is up x toward. The +x +y housing is R (a trade fact of this kit)."""
    job, said = KITS[name][0], told(name)
    up, toward = (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)
    right = cross(up, toward)
    corners = housing(job).corners
    at = sum(dot(p, right) for p in corners) / len(corners)
    wanted = "right" if at > 0 else "left"
    assert said["rout.end_R"] == said["rout.stop_R"] == wanted
    assert said["rout.end_L"] == said["rout.stop_L"] == {"right": "left", "left": "right"}[wanted]
    # Whoever stands at the near end, at +x, faces -x: his right is that way x up.
    facing_right = cross((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    assert said["foot.R"] == ("right" if facing_right[1] * corners[0][1] > 0 else "left")
    assert said["foot.L"] != said["foot.R"]


@pytest.mark.parametrize("name", KITS)
def test_the_jig_stands_as_it_is_told(name) -> None:
    """Stop, mask and marks of the assembled pieces; y up, z toward the operator."""
    kit, said = make_kit(solve(KITS[name][0]), KITS[name][1]), told(name)
    for hand, other in (("R", "L"), ("L", "R")):
        pieces = assembled(kit, hand)
        stop = next(solid for piece, solid in pieces.items() if piece.startswith("stop"))
        fence = next(solid for piece, solid in pieces.items() if piece.startswith("fence"))
        is_right = _middle(stop)[0] > _middle(fence)[0]
        assert said[f"rout.stop_{hand}"] == ("right" if is_right else "left")
        assert said[f"rout.mask_{hand}"] == other
        assert _middle(fence)[2] > 0 and said["jig.top_face"] == "toward you"
    assert said["jig.marks"] == "up" and said["jig.mortises"] == said["jig.notch"] == "upward"
    assert _highest_opening(kit, "fence") and _highest_opening(kit, "stop")
    # Put together, the end bearer's outer face carries the stop, and its play in the mortise is on the inner side.
    pieces = assembled(kit, "R")
    outermost = max(solid.bounds[1][0] for piece, solid in pieces.items() if piece.startswith("end bearer"))
    stop = next(solid for piece, solid in pieces.items() if piece.startswith("stop"))
    assert stop.bounds[0][0] == pytest.approx(outermost, abs=1e-6) and said["jig.push"] == "outward"


def _middle(solid):
    (x, y, z), (far_x, far_y, far_z) = solid.bounds
    return (x + far_x) / 2, (y + far_y) / 2, (z + far_z) / 2


def _highest_opening(kit, piece):
    """A thin slice below the piece's upper edge has less wood than one above its lower edge."""
    solid = next(solid for name, solid in assembled(kit, "R").items() if name.startswith(piece))
    (_, low, _), (_, high, _) = solid.bounds
    third = (high - low) / 3
    upper = solid.kept_below((0, high - third, 0), (0, -1, 0)).volume
    lower = solid.kept_below((0, low + third, 0), (0, 1, 0)).volume
    return upper < lower


def test_the_feed_keeps_the_wall_at_its_left() -> None:
    """A router's cutter turns clockwise seen from above; fed with the wall at its left it cuts against the feed, and
    is drawn to the wall (common practice, no source). Inside an opening that is clockwise."""
    for name in KITS:
        assert told(name)["rout.feed_R"] == told(name)["rout.feed_L"] == "clockwise"
    around = [(0.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, 0.0)]  # clockwise, y up
    for (ax, ay), (bx, by) in zip(around, [*around[1:], around[0]], strict=True):
        left = (-(by - ay), bx - ax)
        outward = ((ax + bx) / 2 - 0.5, (ay + by) / 2 - 0.5)
        assert left[0] * outward[0] + left[1] * outward[1] > 0


def test_a_routers_files_are_told_to_run_as_they_do() -> None:
    """Outlines and holes of a sheet by the sign of their area, y up."""
    shop = SHOPS["cnc, bush, two slots"]
    plate = make_kit(solve(DEMO), shop).parts[0]
    cut = compensate(single_part_sheet(plate, shop.machine.tool_mm), shop.machine, "included", "mm")
    shapes = [contour.shape for contour in cut.contours if contour.operation in ("inner", "outer")]
    corners = [shape.corners for shape in shapes if isinstance(shape, Outline)]
    areas = [sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(c, [*c[1:], c[0]], strict=True)) for c in corners]
    assert len(areas) > 2 and min(areas) > 0
    assert told("cnc")["machine.turn"] == "anticlockwise"


def test_every_direction_is_told_by_some_sheet() -> None:
    """A name that no text uses is no fact of the papers."""
    texts = "".join(sheet_text(name) for name in (*OPERATIONS, *FOR_ALL))
    used = set(re.findall(r"\{([a-zA-Z_.]+)[:}]", texts))
    assert {name for name in told("demo") if name not in used} <= {"rout.feed_L", "saw_edge.edge_down"}


# Page, and the sentence as it must stand for the demo: R at the right, feed clockwise, mitre to the foot.
SENTENCES = {
    "60 Rout the housings: R, then L": (
        "Rout the R housing at the right end of every board.",
        "clockwise round the inside of the slot",
        "the mask in slot L, stop at the right end",
        "Move the stop to the left end and the mask to slot R",
    ),
    "70 Saw the legs": (
        "outer face down, head at your left; far end of the cut toward the foot, blade's top toward the head",
        "outer face toward you, head at your left; far end of the cut toward the head, blade's top toward the head",
    ),
    "80 Saw the braces": ("inside face up, top toward the waste", "the outside face comes out shorter"),
    "40 Mark the housings, saw the waste out": ("runs toward the board's end", "deeper at the top face"),
    "90 Dry fit, tape checks": ("R is at your right, L at your left",),
}


@cache
def demo_pages():
    made = Bench(make_kit(solve(DEMO), DEMO_SHOP), ())
    return {page.title: page for page in setup_document(made, with_pictures=False).pages}


@pytest.mark.parametrize("title", SENTENCES)
def test_the_sentence_stands_on_its_page(title) -> None:
    """Whoever turns one round in a text, or in the geometry, is told here."""
    said = str(demo_pages()[title])
    assert [sentence for sentence in SENTENCES[title] if sentence not in said.replace('\\"', '"')] == []


PLAIN = re.compile(r"\b(?:left out|left on|left and right by turns|wood left|none left|Left square)\b|\bone spare\b")
"""Where a word is no direction, or means either."""
BARE = re.compile(r"\b(left|right|clockwise|anticlockwise|inward|outward|upward|downward)\b|[0-9] ?(mm|°|in)\b")


@pytest.mark.parametrize("name", [*OPERATIONS, *FOR_ALL])
def test_no_direction_and_no_size_stands_bare_in_a_text(name) -> None:
    """Each is a fact with a name, so that a wrong one cannot be typed."""
    for number, line in enumerate(sheet_text(name).splitlines(), 1):
        told = PLAIN.sub("", re.sub(r"\{[^}]*\}|\[[^]]*\]", "", line))
        assert not BARE.search(told), (number, line)


def test_a_bare_direction_is_found() -> None:
    """The check above can fail."""
    assert BARE.search(PLAIN.sub("", "stop at the left end")) and BARE.search("saw 3 mm inside")


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("90/78, one hand", "head at your left; far end of the cut toward the head, blade upright"),
        ("78/90", "head at your left; cut square across, blade's top toward the head"),
    ],
)
def test_a_leg_that_is_plumb_one_way_is_told_both_ways_too(name, sentence) -> None:
    """On its narrow edge: what is square there and what is not, found on the solid above."""
    made = Bench(make_kit(solve(KITS[name][0]), KITS[name][1]), ())
    page = next(page for page in setup_document(made, with_pictures=False).pages if page.title == "70 Saw the legs")
    assert f"Or narrow edge down: outer face toward you, {sentence}" in str(page).replace('\\"', '"')
