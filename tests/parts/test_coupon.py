"""The coupon cut by a disc in shapely: its sums give back the kerf, scale and skew that the cut was made with."""

import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import dist, radians, tan

import pytest
import shapely
from cut_by_disc import cut
from marks_on_parts import ink, mark_faults, measured, polygon, unmeasured
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.cutting.compensate import compensate
from jigmaker.errors import DoesNotFit
from jigmaker.job.shop import Machine
from jigmaker.parts.coupon import check_coupon, coupon, coupon_parts
from jigmaker.parts.coupon_size import coupon_size, kerf_of_stack, scale_of_lengths, skew_of_diagonals_deg
from jigmaker.parts.kit import PART_MAKERS
from jigmaker.sheets.place import single_part_sheet
from jigmaker.trestle.solve import solve

LASER, CNC, QUARTER_INCH = Machine("laser", 0.2), Machine("cnc", 3.175), Machine("cnc", 6.35)
SHOPS = {
    **{f"laser {sheet}": (LASER, sheet, "mm") for sheet in (3, 6, 9.1, 12.2, 18, 19)},
    **{f"cnc {sheet}": (CNC, sheet, "mm") for sheet in (6, 9.1, 12.2, 18, 19)},
    **{f"laser inch {sheet}": (LASER, sheet, "in") for sheet in (6.35, 12.7)},
    **{f"cnc inch {sheet}": (CNC, sheet, "in") for sheet in (6.35, 12.7, 19.05)},
    "wide cutter": (QUARTER_INCH, 12.2, "mm"),
    "wide cutter, inch": (QUARTER_INCH, 19.05, "in"),
    "wide beam, thick sheet": (Machine("laser", 1.0), 30, "mm"),
    "sheet thinner than the cutter": (CNC, 3, "mm"),
}


def shop_of(name):
    machine, sheet, unit = SHOPS[name]
    return replace(DEMO_SHOP, machine=machine, sheet=replace(DEMO_SHOP.sheet, thickness_mm=float(sheet))), unit


@cache
def made(name):
    return coupon(*shop_of(name)), coupon_size(*shop_of(name))


@cache
def cut_sheet(name, off=0.0, compensation="included"):
    """The coupon's pieces when the true kerf is `off` wider than the shop file says."""
    machine = SHOPS[name][0]
    return cut(made(name)[0], machine, machine.tool_mm + off, compensation)


def stack(pieces, station, axis):
    """Loose strips pushed together: the sum of their widths along x (0) or y (1), as a caliper reads it."""
    strips = [piece.bounds for name, piece in pieces.out_of.items() if name.startswith(f"{station}, strip")]
    return sum(bounds[axis + 2] - bounds[axis] for bounds in strips)


def lengths(body, size):
    """((long, short) in x, (long, short) in y) between outside edges, on lines laid across the cut coupon."""
    low_x, low_y, high_x, high_y = body.bounds
    across = body.intersection(shapely.LineString([(low_x - 9, high_y - 5), (high_x + 9, high_y - 5)]))
    up = body.intersection(shapely.LineString([(high_x - 5, low_y - 9), (high_x - 5, high_y + 9)]))
    short_x = max((piece.bounds for piece in across.geoms), key=lambda b: b[0])
    short_y = max((piece.bounds for piece in up.geoms), key=lambda b: b[1])
    return (high_x - low_x, short_x[2] - short_x[0]), (high_y - low_y, short_y[3] - short_y[1])


def diagonals(body, size):
    """(rising, falling): far side to far side of the square's holes."""
    holes = [ring for ring in body.interiors if abs(ring.bounds[2] - ring.bounds[0] - size.square_hole) < 1]
    by_place = sorted(holes, key=lambda ring: ring.centroid.x + ring.centroid.y)
    low, high = by_place[0], by_place[-1]
    left, right = sorted(by_place[1:-1], key=lambda ring: ring.centroid.x)
    reach = [
        max(dist(p, q) for p in one.coords[::8] for q in two.coords[::8]) for one, two in ((low, high), (left, right))
    ]
    return tuple(reach)


@pytest.mark.parametrize("name", SHOPS)
def test_it_fits_150_by_100_and_every_piece_has_its_figure(name):
    """As drawn, lying as drawn; every feature measured from the coordinates."""
    part, _ = made(name)
    assert part.outline.bounds[2] <= 150
    assert part.outline.bounds[3] <= 100
    assert polygon(part).is_valid
    assert not unmeasured(part)
    for feature in part.features:
        assert measured(part, feature) == pytest.approx(feature.value, abs=1e-9), feature


@pytest.mark.parametrize("name", SHOPS)
def test_marks_are_clear_and_none_is_dropped(name):
    """Letters A to F, name, sheet and the sum stand on every coupon, one comb figure a slot."""
    part, size = made(name)
    assert mark_faults(part) == []
    words = " ".join(mark.text for mark in part.marks)
    letters = "ABDEF" if not size.slots else "ABCDEF"
    assert all(re.search(rf"(^| ){letter}( |$)", words) for letter in letters)
    for said in ("COUPON", "SHEET", f"- STACK) / {size.strips}", "- KERF IN THE LINES", f"{size.strips} STRIPS X:"):
        assert said in words
    assert sum(mark.text in ("X", "Y") for mark in part.marks) == 2


@pytest.mark.parametrize("compensation", ["included", "left out"])
@pytest.mark.parametrize("name", SHOPS)
def test_every_machine_can_cut_its_coupon(name, compensation):
    """No window, slot or notch narrower than the tool, no web too thin: compensate refuses none of them."""
    part, _ = made(name)
    machine = SHOPS[name][0]
    contours = compensate(single_part_sheet(part, machine.tool_mm), machine, compensation).contours
    assert sum(contour.operation != "mark" for contour in contours) == len(part.holes) + 1


@pytest.mark.parametrize("off", [-0.07, 0.0, 0.13])
@pytest.mark.parametrize("name", SHOPS)
def test_the_stack_gives_the_true_kerf(name, off):
    """Cut by a beam or cutter that is not as wide as the shop file says: x and y, to 1e-9."""
    size, machine = made(name)[1], SHOPS[name][0]
    pieces = cut_sheet(name, off)
    assert len(pieces.out_of) == 2 * size.strips + 5
    for station, axis in (("A", 0), ("B", 1)):
        found = kerf_of_stack(size.stack, stack(pieces, station, axis), size.strips, machine.tool_mm)
        assert found == pytest.approx(machine.tool_mm + off, abs=1e-9)


@pytest.mark.parametrize("name", ["laser 9.1", "laser inch 6.35", "wide beam, thick sheet"])
def test_a_file_without_compensation_gives_it_as_well(name):
    """A laser that follows the nominal lines as they are: nothing is in the lines."""
    size, machine = made(name)[1], SHOPS[name][0]
    pieces = cut_sheet(name, 0.05, "left out")
    for station, axis in (("A", 0), ("B", 1)):
        found = kerf_of_stack(size.stack, stack(pieces, station, axis), size.strips)
        assert found == pytest.approx(machine.tool_mm + 0.05, abs=1e-9)


def test_the_published_strip_gives_a_fifth():
    """80 mm in 8 pieces that measure 78.4 together: 0.200. Common practice, no source; n - 1 would say 0.2286."""
    assert kerf_of_stack(80, 78.4, 8) == pytest.approx(0.2, abs=1e-12)
    assert kerf_of_stack(80, 78.4, 7) == pytest.approx(0.2286, abs=1e-4)


def test_dividing_by_one_cut_less_is_wrong():
    """The failing twin on the simulated cut: with n - 1 the kerf that the lines allow for comes out wrong too."""
    size, pieces = made("laser 9.1")[1], cut_sheet("laser 9.1", 0.13)
    wrong = kerf_of_stack(size.stack, stack(pieces, "A", 0), size.strips - 1, 0.2)
    assert abs(wrong - 0.33) > 0.1


@pytest.mark.parametrize("name", SHOPS)
def test_loose_strips_are_told_apart_and_wide_enough_to_measure(name):
    """By their length, 3 mm; each at least 5 wide and 12 long after the cut."""
    pieces = cut_sheet(name)
    sides = {station: set() for station in "AB"}
    for key, piece in pieces.out_of.items():
        if "strip" in key:
            low_x, low_y, high_x, high_y = piece.bounds
            width, length = sorted((high_x - low_x, high_y - low_y))
            assert width >= 4.9
            assert length >= 11.9
            sides[key[0]].add(round(length, 6))
    (long,), (short,) = sides["A"], sides["B"]
    assert long - short == pytest.approx(3, abs=1e-6)


@pytest.mark.parametrize("off", [0.0, 0.1])
@pytest.mark.parametrize("scales", [(1.002, 1.0), (0.9985, 1.001)])
@pytest.mark.parametrize("name", ["laser 9.1", "cnc inch 12.7"])
def test_two_lengths_give_the_scale_whatever_the_kerf(name, scales, off):
    """Scale in x and y to 1e-9; then the strips, told the scale, still give the kerf."""
    (part, size), machine = made(name), SHOPS[name][0]
    pieces = cut(part, machine, machine.tool_mm + off, error=(scales[0], 0, 0, scales[1], 0, 0))
    drawn = (size.x_lengths, size.y_lengths)
    for i, (station, read) in enumerate(zip("AB", lengths(pieces.body, size), strict=True)):
        scale = scale_of_lengths(drawn[i], read)
        assert scale == pytest.approx(scales[i], abs=1e-9)
        read_stack = stack(pieces, station, i)
        found = kerf_of_stack(size.stack * scale, read_stack, size.strips, machine.tool_mm * scale)
        assert found == pytest.approx(machine.tool_mm + off, abs=1e-9)


def test_one_length_alone_mixes_kerf_and_scale():
    """The failing twin: a true machine with 0.1 more kerf looks 0.07 % short by its long length alone."""
    size, pieces = made("laser 9.1")[1], cut_sheet("laser 9.1", 0.1)
    (long, _), _ = lengths(pieces.body, size)
    assert long / size.x_lengths[0] == pytest.approx(1 - 0.1 / 145, abs=1e-9)


@pytest.mark.parametrize("skew_deg", [-0.3, 0.0, 0.05, 0.3, 1.0])
@pytest.mark.parametrize(("name", "scale"), [("laser 9.1", 1.0), ("cnc 18", 1.002), ("wide cutter, inch", 0.999)])
def test_the_diagonals_give_the_skew_and_its_sign(name, scale, skew_deg):
    """Sheared by x' = x + y tan s, cut 0.1 wider than assumed: s within a thousandth of a degree."""
    (part, size), machine = made(name), SHOPS[name][0]
    error = (scale, scale * tan(radians(skew_deg)), 0, scale, 0, 0)
    kerf = machine.tool_mm + 0.1
    rising, falling = diagonals(cut(part, machine, kerf, error=error).body, size)
    assert skew_of_diagonals_deg(rising, falling, kerf) == pytest.approx(skew_deg, abs=1e-3)
    assert skew_of_diagonals_deg(falling, rising, kerf) == pytest.approx(-skew_deg, abs=1e-3)


def test_a_machine_three_tenths_out_shows_on_the_caliper():
    """0.3 degrees: far sides 70 sqrt(2) + 4.8 apart, bent, differ by tan 0.3 times that, 0.54 mm: 27 caliper steps."""
    part, size = made("laser 9.1")
    rising, falling = diagonals(cut(part, LASER, 0.2, error=(1, tan(radians(0.3)), 0, 1, 0, 0)).body, size)
    assert rising - falling == pytest.approx(0.5435, abs=0.001)


@pytest.mark.parametrize("off", [-0.05, 0.1])
@pytest.mark.parametrize("name", ["laser 9.1", "cnc 18", "wide cutter, inch"])
def test_hole_less_disc_is_two_kerfs(name, off):
    """On a curve, whatever the lines allow for; chords of a circle leave 1e-3."""
    pieces, machine = cut_sheet(name, off), SHOPS[name][0]
    disc = pieces.out_of["F, hole and disc"]
    hole = min(pieces.body.interiors, key=lambda ring: ring.centroid.distance(disc.centroid))
    difference = hole.bounds[2] - hole.bounds[0] - (disc.bounds[2] - disc.bounds[0])
    assert difference / 2 == pytest.approx(machine.tool_mm + off, abs=1e-3)


@pytest.mark.parametrize(
    ("name", "count", "low", "high"),
    [
        ("laser 3", 9, 2.85, 3.25),
        ("laser 6", 9, 5.85, 6.25),
        ("laser 9.1", 9, 8.95, 9.35),
        ("laser 12.2", 7, 12.1, 12.4),
        ("cnc 18", 5, 17.95, 18.15),
        ("cnc 19", 5, 18.95, 19.15),
        ("laser inch 6.35", 9, 6.2, 6.6),
        ("cnc inch 12.7", 7, 12.6, 12.9),
        ("wide beam, thick sheet", 3, 30.0, 30.1),
        ("sheet thinner than the cutter", 0, None, None),
    ],
)
def test_the_comb_stands_about_the_sheets_thickness(name, count, low, high):
    """Steps of 0.05 about 0.05 over the thickness, as many as fit, an odd number; none that the cutter cannot cut."""
    _, size = made(name)
    assert len(size.slots) == count
    if count:
        assert (size.slots[0], size.slots[-1]) == pytest.approx((low, high), abs=1e-9)
        assert [b - a for a, b in pairwise(size.slots)] == pytest.approx([0.05] * (count - 1))


@pytest.mark.parametrize("name", [name for name in SHOPS if name != "sheet thinner than the cutter"])
def test_each_slot_is_marked_with_its_own_width(name):
    """The figure over a slot, read back in the shop's unit, is the slot's width as cut by a true machine."""
    part, _ = made(name)
    body, unit = cut_sheet(name).body, SHOPS[name][2]
    low_x, low_y, high_x, _ = body.bounds
    line = shapely.LineString([(low_x, low_y + 5), (high_x, low_y + 5)])
    teeth = sorted(piece.bounds for piece in body.intersection(line).geoms)
    gaps = [(a[2], b[0]) for a, b in pairwise(teeth)]
    comb_marks = [m for m in part.marks if re.fullmatch(r"[\d.]+", m.text) and m.at[1] < 18]
    assert len(gaps) == len(comb_marks) >= 3
    shift = low_x
    for (start, end), mark in zip(gaps, comb_marks, strict=True):
        said = float(mark.text) * (25.4 if unit == "in" else 1)
        assert said == pytest.approx(end - start, abs=0.013 if unit == "in" else 0.0051)
        middle = ink(mark).bounds
        assert (middle[0] + middle[2]) / 2 + shift == pytest.approx((start + end) / 2, abs=0.5)


@pytest.mark.parametrize(("off", "enters"), [(0.0, 9.10), (0.1, 9.00), (-0.05, 9.15)])
def test_an_offcut_enters_the_right_slot(off, enters):
    """A piece of the 9.1 sheet moved into each slot: with a kerf 0.1 wider the slots come out 0.1 wider."""
    _, size = made("laser 9.1")
    body = cut_sheet("laser 9.1", off).body
    low_x, low_y, _, _ = body.bounds
    line = shapely.LineString([(low_x, low_y + 5), (low_x + 145, low_y + 5)])
    teeth = sorted(piece.bounds for piece in body.intersection(line).geoms)
    entered = []
    for width, a, b in zip(size.slots, teeth, teeth[1:], strict=False):
        middle = (a[2] + b[0]) / 2
        offcut = shapely.box(middle - 9.1 / 2, low_y - 5, middle + 9.1 / 2, low_y + 9)
        if offcut.intersection(body).area < 1e-6:
            entered.append(width)
    assert min(entered) == pytest.approx(enters)
    assert len(entered) == size.slots.index(max(size.slots)) - size.slots.index(min(entered)) + 1


@pytest.mark.parametrize("name", SHOPS)
def test_without_marks_its_shape_tells_which_face_and_which_way(name):
    """Turned over or turned half round, it covers itself nowhere within 50 mm2."""
    shape = polygon(made(name)[0])
    x, y = shape.bounds[2:]
    looks = {
        "turned half": shapely.affinity.rotate(shape, 180, origin=(x / 2, y / 2)),
        "turned over": shapely.affinity.scale(shape, -1, 1, origin=(x / 2, y / 2)),
        "turned over end for end": shapely.affinity.scale(shape, 1, -1, origin=(x / 2, y / 2)),
    }
    for look in looks.values():
        assert shape.symmetric_difference(look).area > 50
    assert x > y + 40


def test_it_is_part_of_the_kit_once():
    """One piece, in the kit's list of makers."""
    assert coupon_parts in PART_MAKERS
    (part,) = coupon_parts(solve(DEMO), DEMO_SHOP)
    assert (part.assembly, part.needed, part.spares, part.slug) == ("coupon", 1, 0, "coupon")
    assert check_coupon(solve(DEMO), DEMO_SHOP) == []


def test_a_cutter_too_wide_gets_no_coupon_and_a_caution():
    """8 mm: the maker leaves it out and says so; asked for by itself it is refused with both figures."""
    shop = replace(DEMO_SHOP, machine=Machine("cnc", 8.0))
    assert coupon_parts(solve(DEMO), shop) == ()
    assert [(f.severity, f.value, f.limit) for f in check_coupon(solve(DEMO), shop)] == [("caution", "8 mm", "6.5 mm")]
    with pytest.raises(DoesNotFit, match=r"room for cuts up to 6.5 mm wide, the machine's is 8 mm"):
        coupon(shop, "mm")
