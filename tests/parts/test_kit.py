"""What holds for every part of every kit, by enumeration."""

import re
from dataclasses import replace

import pytest
import shapely
from marks_on_parts import mark_faults, measured
from sample_jobs import DEMO, DEMO_SHOP, HAND_SHOP, JOB_A, JOB_B
from sample_variants import SHOPS

from jigmaker.job.shop import Machine
from jigmaker.parts.corners import mortise
from jigmaker.parts.housing_jig.bearer import bearer_places, end_bearer_places
from jigmaker.parts.housing_jig.layout import lay_out_jigs
from jigmaker.parts.kit import make_kit
from jigmaker.parts.relief import Bites, relief_radius
from jigmaker.trestle.solve import solve

KITS = {name: make_kit(solve(job), DEMO_SHOP) for name, job in {"demo": DEMO, "a": JOB_A, "b": JOB_B}.items()}
PARTS = {f"{name}: {part.slug}": part for name, kit in KITS.items() for part in kit.parts}
HAND_PARTS = {f"hand: {part.slug}": part for part in make_kit(solve(DEMO), HAND_SHOP).parts}


@pytest.mark.parametrize("part", PARTS.values(), ids=PARTS)
def test_the_box_starts_at_the_origin_and_contours_run_the_right_way(part):
    """Part frame: lower left of the box at (0, 0); outlines anticlockwise, holes clockwise."""
    assert part.outline.bounds[:2] == pytest.approx((0, 0), abs=1e-9)
    assert part.outline.area > 0
    assert all(hole.contour.area < 0 for hole in part.holes if hasattr(hole.contour, "segments"))


@pytest.mark.parametrize("part", PARTS.values(), ids=PARTS)
def test_marks_are_inside_clear_of_cuts_and_of_each_other(part):
    """3.5 mm letters or larger, upright or along the part, nothing within 1.5 mm of a cut."""
    assert mark_faults(part) == []
    assert all(mark.turn_deg == mark.height_mm == 0 for mark in part.marks if not mark.text)  # lines stand as drawn


@pytest.mark.parametrize("kit", KITS.values(), ids=KITS)
def test_names_are_unique_and_fit_for_files(kit):
    """A slug names one part; it is lower case with hyphens."""
    slugs = [part.slug for part in kit.parts]
    assert slugs
    assert len(set(slugs)) == len(slugs)
    assert all(slug.replace("-", "").isalnum() and slug == slug.lower() for slug in slugs)


@pytest.mark.parametrize("part", PARTS.values(), ids=PARTS)
def test_as_many_places_as_needed_pieces(part):
    """A part of the housing jig has a place for every piece; the stop has one for either hand."""
    if part.assembly == "housing jig":
        assert len(part.placements) == (2 if part.slug == "stop" else part.needed)


NECKED = {name: part for name, part in PARTS.items() if "neck" in dict(part.least_wood_mm)}


@pytest.mark.parametrize("part", NECKED.values(), ids=NECKED)
def test_a_neck_is_as_wide_as_is_declared(part):
    """Shrunk from all sides by a little less than half of it, the part does not fall in two."""
    shrunk = shapely.Polygon(part.outline.points(64)).buffer(0.01 - dict(part.least_wood_mm)["neck"] / 2, quad_segs=64)
    assert sum(piece.area > 0.5 for piece in shapely.get_parts(shrunk)) == 1


@pytest.mark.parametrize("kit", KITS.values(), ids=KITS)
def test_a_shop_needs_one_of_every_gauge(kit):
    """Whoever sets up hands it on; only the proof of bevel plates takes two strips (common practice, no source)."""
    gauges = [part for part in kit.parts if "gauge" in part.slug or "template" in part.slug or "plug" in part.slug]
    assert len(gauges) == 6
    assert [(part.needed, part.spares) for part in gauges] == [(1, 0)] * len(gauges)


@pytest.mark.parametrize("part", PARTS.values(), ids=PARTS)
def test_features_point_at_pieces_that_exist(part):
    """Every feature's contour and piece is there, and its figure is sensible."""
    for feature in part.features:
        segments = getattr(part.contour(feature.contour), "segments", ())
        assert all(0 <= i < len(segments) for i in feature.pieces)
        assert 0 <= feature.value < (180 if feature.measure == "angle_deg" else 2000)


@pytest.mark.parametrize("part", PARTS.values(), ids=PARTS)
def test_features_measure_what_they_tell(part):
    """Angles, lengths, distances and diameters, corners' rounds too, from the coordinates of the contour."""
    for feature in part.features:
        assert measured(part, feature) == pytest.approx(feature.value, abs=1e-6), feature


def places_of(part):
    """{(contour, name): middle} of every straight piece that has a name of its own. Fails when two of a contour share
    one.
    """
    found = {}
    for feature in part.features:
        if feature.measure == "angle_deg":
            assert (feature.contour, feature.name) not in found, (part.slug, feature.name)
            piece = part.contour(feature.contour).segments[feature.pieces[0]]
            found[feature.contour, feature.name] = [(a + b) / 2 for a, b in zip(piece.start, piece.end, strict=True)]
    return found


SIDES = (("left", "right", "x"), ("lower", "upper", "y"), ("bottom", "top", "y"), ("front", "rear", "xy"))
ALONG_ITS_NOSE = ("foot-block-layer", "foot-block-nose")
"""Left and right of these are those of one who looks from their back to their nose, along x."""


@pytest.mark.parametrize("part", (PARTS | HAND_PARTS).values(), ids=PARTS | HAND_PARTS)
def test_names_of_sides_say_where_they_are(part):
    """Two pieces whose names differ in one word lie as the words say: left of right, lower under upper, one way from
    all that is in front to what is behind on the outline, and one in the holes. Plain English, no source.
    """
    places = places_of(part)
    for low, high, axes in SIDES:
        ways = set()
        for (contour, name), at in places.items():
            other = re.sub(rf"\b{low}\b", high, name)
            if other == name or (contour, other) not in places:
                continue
            by = [b - a for a, b in zip(at, places[contour, other], strict=True)]
            longest = max((0, 1), key=lambda i: abs(by[i]))
            if low == "left" and part.slug in ALONG_ITS_NOSE:
                assert longest == 1 and by[1] < 0, (part.slug, name)
            elif axes != "xy":
                assert by["xy".index(axes)] > 0, (part.slug, name)
            else:
                ways.add((contour == "outer", longest, by[longest] > 0))
        assert len(ways) == len({is_outer for is_outer, _, _ in ways}), (part.slug, low, high)


ON_THE_EDGE = {
    "bearer",
    "end-bearer",
    "mask-foot",
    "saw-guide-bearer",
    "saw-guide-near-cheek",
    "saw-guide-far-cheek",
    "paring-guide-rib",
}


def test_what_is_named_after_the_boards_edge_stands_on_it():
    """Jig frame: the worked edge is at Y = 0, and there lie both ends of the piece, wherever the part is placed."""
    seen = set()
    for part in (*KITS["a"].parts, *HAND_PARTS.values()):
        for feature in (f for f in part.features if f.name.endswith("on the board's edge")):
            piece = part.contour(feature.contour).segments[feature.pieces[0]]
            for frame in (place.assembly_from_part for place in part.placements):
                # What lies askew stands on the arris of one face.
                for x, y in (piece.start, piece.end):
                    faces = [frame.point((x, y, z))[1] for z in (0.0, part.thickness_mm)]
                    assert min(faces) == pytest.approx(0.0, abs=1e-6), part.slug
                    seen.add(part.slug)
    assert seen == ON_THE_EDGE


@pytest.mark.parametrize("hand", ["R", "L"])
def test_a_jig_for_one_hand_has_its_stop_where_that_hand_has_it(hand):
    """For R at the right end of the board, X = 0, and all else to the left of it; for L the other way round."""
    (layout,) = [each for each in lay_out_jigs(solve(DEMO), SHOPS["laser, bush, one hand"]) if each.hands == hand]
    ((name, x, state),) = end_bearer_places(layout)
    assert (name, state) == ({"R": "right", "L": "left"}[hand], hand)
    assert (x < 0) == (hand == "R") and all((at < x) == (hand == "R") for _, at, _ in bearer_places(layout))


def test_a_screws_hole_lets_a_screw_of_3_5_mm_through_and_not_its_head():
    """ISO 273, from memory: 3.7 mm wide in the fine series and 3.9 in the medium one."""
    holes = {
        (part.slug, 2 * hole.contour.radius)
        for part in (*KITS["demo"].parts, *HAND_PARTS.values())
        for hole in part.holes
        if hole.name.startswith("screw, ")
    }
    assert {slug for slug, _ in holes} >= {"fence-or-back-strip", "saw-guide-fence-r", "saw-guide-fence-l"}
    assert all(3.7 <= wide <= 3.9 for _, wide in holes)


@pytest.mark.parametrize("kit", KITS.values(), ids=KITS)
def test_strips_have_square_ends(kit):
    """Fence and back strip, pad strip, stock strip and taper scale fill the box round them, or are cut off slanting."""
    strips = [part for part in kit.parts if "strip" in part.slug or part.slug == "taper-scale"]
    assert len(strips) == 4
    for part in strips:
        (x0, y0, x1, y1) = part.outline.bounds
        assert part.outline.area == pytest.approx((x1 - x0) * (y1 - y0)), part.slug


@pytest.mark.parametrize(
    ("machine", "radius"),
    [
        (Machine("laser", 0.2), 0.0),
        (Machine("laser", 0.3), 0.15),
        (Machine("cnc", 6.0), 3.0),
        (Machine("cnc", 1.0), 0.5),
        # The flattest side of an ellipse with half axes a and b is as round as a circle of radius a a / b.
        (Machine("laser", 0.3, kerf_x_mm=0.4, kerf_y_mm=0.2), 0.4),
    ],
)
def test_corners_are_relieved_where_the_cut_is_not_as_good_as_sharp(machine, radius):
    """By a cutter always, by a beam over 0.2 mm wide; the bite is as round as the cut, a little rounder at most."""
    found = relief_radius(replace(DEMO_SHOP, machine=machine))
    assert radius <= found <= (radius + 0.3 if radius else 0.0)


@pytest.mark.parametrize("low", [(5.0, 7.0), (-25.0, -47.0)])
@pytest.mark.parametrize(("size", "grows"), [((9.0, 40.0), (2, 0)), ((40.0, 9.0), (0, 2))])
def test_two_bites_that_do_not_fit_into_a_short_wall_lie_in_the_long_ones(low, size, grows):
    """A cutter of 6.35 mm in an opening 9 mm wide, upright or level, wherever it lies: it grows across, not longer."""
    bites = Bites(3.175, 9.0)
    assert bites.are_beside
    hole, features = mortise("mortise", low, (low[0] + size[0], low[1] + size[1]), bites)
    x0, y0, x1, y1 = hole.contour.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((size[0] + 3.175 * grows[0], size[1] + 3.175 * grows[1]), abs=1e-6)
    assert {round(f.value, 6) for f in features if f.measure == "across_mm"} == {9.0, 40.0}


@pytest.mark.parametrize("kit", KITS.values(), ids=KITS)
def test_hand_and_set_up_are_marked_on_the_plate(kit):
    """Which hand a slot is, is written at the slot, at the stop's end and on both masks."""
    plate = kit.parts[0]
    words = " ".join(mark.text for mark in plate.marks)
    middle = plate.outline.bounds[2] / 2
    for hand, is_right in (("R", True), ("L", False)):
        slot, stop = ([mark.at[0] for mark in plate.marks if mark.text == text] for text in (hand, f"STOP FOR {hand}"))
        assert len(slot) == len(stop) == 1
        assert (slot[0] > middle) == (stop[0] > middle) == is_right
        assert abs(stop[0] - middle) > abs(slot[0] - middle)
    for wanted in ("TOP FACE", "FEED", "PROJECTION", "BUSH 17", "CUTTER 12", "OFF LEVEL"):
        assert wanted in words, wanted
    masks = {part.slug: " ".join(mark.text for mark in part.marks) for part in kit.parts if "mask-for" in part.slug}
    assert "R IN WORK" in masks["mask-for-slot-l"]
    assert "L IN WORK" in masks["mask-for-slot-r"]
