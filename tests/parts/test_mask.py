"""The masks make the wrong slot impossible: shown by moving the solids."""

from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from jig_on_solids import board_in_jig, body, bush_region, plate_of, stations, swept
from sample_jobs import DEMO, DEMO_SHOP, JOB_A, JOB_B

from jigmaker.geometry.frames import Frame
from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import scale
from jigmaker.job.shop import Machine
from jigmaker.parts.housing_jig.jig import housing_jig_parts
from jigmaker.trestle.solve import solve

JOBS = {"demo": DEMO, "a": JOB_A, "b": JOB_B}
OTHER = {"R": "L", "L": "R"}

every_job = pytest.mark.parametrize("name", JOBS)
both_hands = pytest.mark.parametrize("hand", ["R", "L"])


def assembled(name, hand):
    """(all parts, the mask that lies in the other hand's slot as part, frame and solid with its feet)."""
    parts = housing_jig_parts(solve(JOBS[name]), DEMO_SHOP)
    pieces = [s for s in stations(parts, hand) if s[0].startswith("mask")]
    mask = next(s for s in pieces if s[0] == f"mask in slot {OTHER[hand]}")
    return parts, mask[1], mask[2], Solid.union([s[3] for s in pieces])


@every_job
@both_hands
def test_the_bush_cannot_stand_anywhere_in_the_masked_slot(name, hand):
    """Wherever the bush would be in the slot not in use, it would be inside the mask."""
    parts, _, _, mask = assembled(name, hand)
    router, other = DEMO_SHOP.hand_router, OTHER[hand]
    _, frame, _ = plate_of(parts, other)
    region = bush_region(parts, other, router)
    low_x, low_y, high_x, high_y = region.bounds
    for i in range(7):
        for j in range(7):
            at = (low_x + (high_x - low_x) * i / 6, low_y + (high_y - low_y) * j / 6)
            if not region.buffer(1e-6).contains(shapely.Point(at)):
                continue
            disc = shapely.Point(at).buffer(router.bush_mm / 2, quad_segs=8)
            bush = Solid.prism_of_points([list(disc.exterior.coords)[:-1]], router.bush_length_mm)
            lifted = Frame(frame.point((0, 0, 9.1 - router.bush_length_mm)), frame.x_axis, frame.y_axis, frame.z_axis)
            assert bush.placed(lifted).common(mask).volume > 500


@every_job
@both_hands
def test_the_mask_is_clear_of_the_slot_in_use(name, hand):
    """Cutter and bush of the hand in work never meet the other slot's mask."""
    parts, _, _, mask = assembled(name, hand)
    router = DEMO_SHOP.hand_router
    for diameter in (router.bush_mm, router.cutter_mm):
        assert swept(parts, hand, router, diameter, -60.0, 0.0).common(mask).volume == 0


@every_job
@both_hands
def test_the_mask_stays_below_the_plates_face_and_lifts_straight_out(name, hand):
    """0.3 under the face, standing on the board's edge; free at every height as it is drawn out square to the plate."""
    parts, _, frame, mask = assembled(name, hand)
    plate, plate_frame, _ = plate_of(parts, hand)
    heights = [plate_frame.inside(corner)[2] for corner in mask.corners]
    assert max(heights) == pytest.approx(plate.thickness_mm - 0.3, abs=1e-6)
    feet = [s[3].bounds[0][1] for s in stations(parts, hand) if s[0].startswith("mask foot")]
    assert feet == pytest.approx([0.0] * len(feet), abs=1e-9)
    assert len(feet) == 2
    # Flat on the edge from face to face: 0.1 mm lower, each foot bites in over four fifths of the board's thickness.
    low = mask.moved((0, -0.1, 0)).common(board_in_jig(JOBS[name], parts, hand)).volume
    assert low == pytest.approx(2 * 9.1 * 0.8 * JOBS[name].top.thickness_mm * 0.1, rel=0.01)
    fixed = Solid.union([s[3] for s in stations(parts, hand) if not s[0].startswith("mask")])
    for lift in (0.0, 2.0, 5.0, 9.0, 14.0, 20.0, 30.0):
        assert mask.moved(scale(frame.z_axis, lift)).common(fixed).volume < 1e-3


@every_job
def test_a_mask_does_not_go_into_the_other_slot(name):
    """Moved over to the slot in use, in any place near it, the mask meets the plate."""
    parts, mask_part, _, _ = assembled(name, "R")
    plate, _, slot = plate_of(parts, "R")
    plug = body(mask_part)
    solid = body(plate)
    x0, y0, _, _ = slot.bounds
    for dx in (-2, 0, 2, 4):
        for dy in (-1, 0, 0.3, 1):
            assert plug.moved((x0 + dx, y0 + dy, 0)).common(solid).volume > 100


def test_one_handed_jigs_need_no_mask():
    """With a plate for each hand there is no wrong slot to enter."""
    parts = housing_jig_parts(solve(DEMO), DEMO_SHOP)
    assert {p.slug for p in parts if "mask" in p.slug} == {"mask-for-slot-r", "mask-for-slot-l", "mask-foot"}
    narrow = replace(DEMO_SHOP, sheet=replace(DEMO_SHOP.sheet, length_mm=400))
    assert not [p for p in housing_jig_parts(solve(DEMO), narrow) if "mask" in p.slug]


@pytest.mark.parametrize(("width", "count"), [(24, 1), (32, 1), (36, 2), (44, 2)])
def test_a_mask_has_two_feet_where_a_sheet_of_air_stays_between_them(width, count):
    """For narrow legs one, in the middle: two so near each other would be cut into one another's mortises."""
    parts = housing_jig_parts(solve(replace(DEMO, leg=replace(DEMO.leg, width_mm=float(width)))), DEMO_SHOP)
    pieces = stations(parts, "R")
    feet = [s[3] for s in pieces if s[0].startswith("mask foot")]
    assert len(feet) == count
    spans = sorted((foot.bounds[0][0], foot.bounds[1][0]) for foot in feet)
    assert all(right - left >= 9.1 for (_, left), (right, _) in pairwise(spans))
    mask = next(s[3] for s in pieces if s[0].startswith("mask in slot"))
    beside = [spans[0][0] - mask.bounds[0][0], mask.bounds[1][0] - spans[-1][1]]
    assert min(beside) > 3 and (count == 2 or beside == pytest.approx([sum(beside) / 2] * 2, abs=6))


@pytest.mark.parametrize("width", [40.0, 42.0, 43.0, 43.5, 44.0])
def test_two_feet_leave_wood_between_them_for_a_wide_cutter_too(width):
    """A cutter of 8.9 mm in a sheet of 9.1 bites beside the mortises: 3 mm of wood stay between those of two feet."""
    large = replace(DEMO_SHOP.sheet, length_mm=1220, width_mm=610)
    shop = replace(DEMO_SHOP, machine=Machine("cnc", 8.9), sheet=large)
    parts = housing_jig_parts(solve(replace(DEMO, leg=replace(DEMO.leg, width_mm=width))), shop)
    mask = next(part for part in parts if part.slug == "mask-for-slot-r")
    spans = sorted(hole.contour.bounds for hole in mask.holes if hole.name.startswith("mortise"))
    assert len(spans) == (2 if width == 44 else 1)
    assert all(right[0] - left[2] >= 3 for left, right in pairwise(spans))
