"""A number for shapes: its letters apart from each other either way up, its figures proof against noise."""

from itertools import combinations, product
from math import radians, tan

import pytest
import shapely
from shapely.affinity import affine_transform, translate

from jigmaker.geometry.lettering import text_width, write_text
from jigmaker.geometry.outline import Circle, Outline
from jigmaker.geometry.shape_number import LETTERS, WIDEST, contour_line, figure, number_of
from jigmaker.parts.corners import mortise
from jigmaker.parts.relief import Bites


def drawn(letter, turned=False):
    """A letter 10 high as lines, the middle of its box at (0, 0)."""
    lines = shapely.MultiLineString([stroke.points(16) for stroke in write_text(letter, (0.0, 0.0), 10.0)])
    if turned:
        lines = affine_transform(lines, [-1, 0, 0, -1, 0, 0])
    low_x, low_y, high_x, high_y = lines.bounds
    return translate(lines, -(low_x + high_x) / 2, -(low_y + high_y) / 2)


def apart(one, other):
    """The farthest that a point of either lies from the other."""
    return float(shapely.hausdorff_distance(one, other, densify=0.05))


@pytest.mark.parametrize("pair", list(combinations(LETTERS, 2)), ids="".join)
def test_letters_are_unlike_each_other_upright_and_turned(pair) -> None:
    """Somewhere a stroke of one is 2.2 of 10 from every stroke of the other; 6 and G, U and V come to 2.0, B and 8 to
    1.4, Y and a turned A to 1.7."""
    one, other = pair
    assert min(apart(drawn(one), drawn(other)), apart(drawn(one, turned=True), drawn(other))) > 2.2
    for alike in ("6G", "UV", "B8", "2Z", "5S"):
        assert apart(*map(drawn, alike)) < 2.1
    assert apart(drawn("A", turned=True), drawn("Y")) < 1.7


def test_no_letter_is_one_that_is_taken_for_another() -> None:
    """The usual pairs of either hand (common practice, no source), and all that are themselves when turned but one."""
    for alike in ("0OQD", "1IL7", "5S", "8B", "2Z", "UV", "CG", "EF", "PR", "JT", "69", "MW", "NZ", "E3", "H4"):
        assert len(set(alike) & set(LETTERS)) <= 1, alike
    assert {each for each in LETTERS if apart(drawn(each), drawn(each, turned=True)) < 1} == {"H"}


def test_a_number_is_the_end_of_the_hash_in_letters() -> None:
    """Of "abc" by the worked example of FIPS 180-4 (SHA-256): read from behind its letters count by nines."""
    digest = 0xBA7816BF8F01CFEA414140DE5DAE2223B00361A396177A9CB410FF61F20015AD
    digits = [str(LETTERS.index(letter)) for letter in number_of(["abc"]).replace("-", "")]
    assert int("".join(reversed(digits)), 9) == digest % 9**6
    assert number_of(["a", "b"]) != number_of(["b", "a"])


def test_no_number_is_wider_than_the_widest() -> None:
    """Marks are laid out for that one."""
    wide = text_width(WIDEST, 5.0)
    assert all(text_width(WIDEST.replace("A", letter), 5.0) <= wide for letter in LETTERS)


@pytest.mark.parametrize("value", [1.5875, 0.79375, 0.0005, 12.3455, 0.0, 78.0, 7.143 + 0.0005])
def test_noise_of_a_platform_changes_no_figure(value) -> None:
    """A sixteenth of an inch is 1.5875 mm, just between two thousandths; sines differ at the fifteenth digit."""
    assert len({figure(value + noise) for noise in (-4e-13, 0.0, 4e-13)}) == 1


@pytest.mark.parametrize("bites", [Bites(1.7, 9.2), Bites(3.1, 9.2)], ids=["on the bisector", "beside"])
@pytest.mark.parametrize("low", [(3.0, 5.0), (120.123457, 17.7654321)])
def test_a_mortise_counts_as_if_it_were_sharp(bites, low) -> None:
    """Whatever cutter bites its corners."""
    high = (low[0] + 9.2, low[1] + 25.0)
    (sharp, _), (bitten, _) = mortise("one", low, high), mortise("one", low, high, bites)
    assert len(bitten.contour.segments) > 4
    assert contour_line(sharp.contour) == contour_line(bitten.contour)


@pytest.mark.parametrize("radius", [1.0, 4.0, 6.5])
def test_a_rounded_slot_counts_by_where_its_sides_would_meet(radius) -> None:
    """A parallelogram of 78 degrees, its corners as worked out by hand: 60 / tan 78."""
    lean = 60 / tan(radians(78))
    ring = [(10.0, 10.0), (80.0, 10.0), (80.0 + lean, 70.0), (10.0 + lean, 70.0)]
    assert contour_line(Outline.from_rounded(ring, radius)) == contour_line(Outline.from_points(ring))
    assert f"{10 + lean:.3f},70.000" in contour_line(Outline.from_rounded(ring, radius))


def test_every_corner_and_middle_counts() -> None:
    """Moved by a hundredth; but not where the outline begins, nor how wide a hole is drilled."""
    ring = [(0.0, 0.0), (50.0, 0.0), (60.0, 20.0), (0.0, 30.0)]
    own = contour_line(Outline.from_points(ring))
    for i, (dx, dy) in product(range(4), ((0.01, 0.0), (0.0, 0.01))):
        moved = [(x + dx, y + dy) if k == i else (x, y) for k, (x, y) in enumerate(ring)]
        assert contour_line(Outline.from_points(moved)) != own
    assert contour_line(Outline.from_points([*ring[2:], *ring[:2]])) == own
    assert contour_line(Circle((5.0, 6.0), 3.0)) == contour_line(Circle((5.0, 6.0), 3.1)) == "hole 5.000,6.000"
    assert contour_line(Circle((5.0, 6.01), 3.0)) != "hole 5.000,6.000"
