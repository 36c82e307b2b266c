"""The jig put together as solids, and where it sits on the timber: one test's own assembly against the room's."""

import pytest
from jig_on_solids import board_in_jig, jig_from_timber_end, plate_of, stations, stop_x
from sample_jobs import DEMO, JOB_A, JOB_B
from sample_variants import SHOPS

from jigmaker.geometry.solid import Solid
from jigmaker.geometry.vectors import scale
from jigmaker.parts.kit import make_kit
from jigmaker.parts.solids import assembled, board_under_jig, part_solid, stop_plane_x, timber_from_jig
from jigmaker.trestle.solids import trestle_solids
from jigmaker.trestle.solve import solve

TWO = SHOPS["laser, bush, two slots"]
ONE = SHOPS["laser, bush, one hand"]
KITS = {
    name: make_kit(solve(job), shop)
    for name, (job, shop) in {
        "demo": (DEMO, TWO),
        "a": (JOB_A, TWO),
        "b": (JOB_B, TWO),
        "demo, one hand": (DEMO, ONE),
    }.items()
}
SEATS = {("R", 1): "+x+y", ("R", -1): "-x-y", ("L", 1): "-x+y", ("L", -1): "+x-y"}


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("hand", ["R", "L"])
def test_every_piece_sits_where_its_placement_says(name, hand):
    """The same pieces in the same boxes as the parts' own records give, chords of round things apart."""
    kit = KITS[name]
    found, wanted = assembled(kit, hand), {n: solid for n, _, _, solid in stations(kit.parts, hand)}
    assert list(found) == list(wanted)
    for piece, solid in found.items():
        assert sum(solid.bounds, ()) == pytest.approx(sum(wanted[piece].bounds, ()), abs=0.2), piece
        assert solid.volume == pytest.approx(wanted[piece].volume, rel=2e-3), piece


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize("hand", ["R", "L"])
def test_board_and_stop_meet(name, hand):
    """The stop plane is the stop's own face; the board's end lies on it, its worked edge at Y = 0."""
    kit = KITS[name]
    assert stop_plane_x(kit, hand) == pytest.approx(stop_x(kit.parts, hand), abs=1e-9)
    wanted = board_in_jig(kit.trestle.job, kit.parts, hand)
    assert sum(board_under_jig(kit, hand).bounds, ()) == pytest.approx(sum(wanted.bounds, ()), abs=1e-9)


@pytest.mark.parametrize("name", KITS)
@pytest.mark.parametrize(("hand", "edge"), SEATS)
def test_the_jig_goes_to_its_own_housing(name, hand, edge):
    """Pushed down into the wood the slot holds the whole head of the right leg, and nothing of another."""
    kit = KITS[name]
    frame, wanted = timber_from_jig(kit, hand, edge), jig_from_timber_end(kit.trestle.job, kit.parts, hand, edge)
    assert (*frame.origin, *frame.x_axis) == pytest.approx((*wanted.origin, *wanted.x_axis), abs=1e-9)
    legs, column = trestle_solids(kit.trestle), slot_column(kit, hand).placed(frame)
    held = {place: column.common(legs[f"leg {place}"]).volume for place in SEATS.values()}
    assert [place for place, volume in held.items() if volume > 0.0] == [SEATS[hand, edge]]
    head = legs[f"leg {SEATS[hand, edge]}"].kept_below((0, 0, -kit.trestle.job.top.thickness_mm), (0, 0, -1))
    assert head.minus(column).volume == pytest.approx(0, abs=1e-3)


def slot_column(kit, hand):
    """The slot of this hand made a column that goes down through the housing, jig frame."""
    _, frame, slot = plate_of(kit.parts, hand)
    return Solid.prism(slot.reversed(), [], 100.0).placed(frame.moved(scale(frame.z_axis, -80.0)))


def test_parts_are_solid_at_their_size():
    """A rectangle with holes: its volume is area times thickness."""
    kit = KITS["demo"]
    strip = next(part for part in kit.parts if part.slug == "fence-or-back-strip")
    area = strip.outline.area - sum(abs(hole.contour.area) for hole in strip.holes)
    assert part_solid(strip).volume == pytest.approx(area * strip.thickness_mm, rel=1e-4)


@pytest.mark.parametrize("thickness", [8.6, 9.4])
@pytest.mark.parametrize("name", ["demo", "a"])
def test_the_stop_plane_stays_where_it_is_on_a_thinner_or_thicker_sheet(name, thickness):
    """The stop is bolted to an end bearer's outer face, so that is what stays: the inner face comes or goes."""
    parts = [part for part in KITS[name].parts if part.slug.startswith("end-bearer")]
    spans = []
    for part in parts:
        for each in (part, part.of_thickness(thickness)):
            solids = [part_solid(each).placed(place.assembly_from_part) for place in each.placements]
            spans.append([(solid.bounds[0][0], solid.bounds[1][0]) for solid in solids])
    for asked, made in zip(spans[::2], spans[1::2], strict=True):
        for (low, high), (new_low, new_high) in zip(asked, made, strict=True):
            outer, inner = ((high, new_high), (low, new_low)) if high > 0 else ((low, new_low), (high, new_high))
            assert outer[0] == pytest.approx(outer[1], abs=1e-9)
            assert abs(inner[0] - inner[1]) == pytest.approx(abs(thickness - 9.1), abs=1e-9)
