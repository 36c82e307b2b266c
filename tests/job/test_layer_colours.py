"""The default colours of the operations, measured by a colour library: seen on white, told apart, and no one's own.

Contrast by WCAG 2.2, 1.4.11 (3 : 1 for what must be made out). Differences by CIEDE2000 (Sharma, Wu, Dalal 2005), also
as the three kinds of dichromats see them (Machado, Oliveira, Fernandes 2009), both as the library coloraide has them.
"""

from itertools import combinations

import pytest
from coloraide import Color
from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb

from jigmaker.job.sections import LAYER_COLOURS
from jigmaker.job.shop import OPERATIONS
from jigmaker.writers.dxf_layers import colour_index

COLOURS = {operation: colour for operation, (colour, _) in LAYER_COLOURS.items()}


def test_every_operation_has_one():
    """Each its own, and a word for each."""
    assert set(OPERATIONS) <= set(COLOURS)
    assert len(set(LAYER_COLOURS.values())) == len({word for _, word in LAYER_COLOURS.values()}) == len(COLOURS)


def test_the_library_measures_as_published():
    """Three of the pairs that Sharma, Wu and Dalal give for checking an implementation (table 1, pairs 1, 7 and 19)."""
    for one, two, apart in (
        ((50, 2.6772, -79.7751), (50, 0, -82.7485), 2.0425),
        ((50, 0, 0), (50, -1, 2), 2.3669),
        ((50, 2.5, 0), (58, 24, 15), 19.4535),
    ):
        first, second = (Color("lab-d65", place) for place in (one, two))
        assert first.delta_e(second, method="2000", space="lab-d65") == pytest.approx(apart, abs=1e-4)


@pytest.mark.parametrize("operation", COLOURS)
def test_each_is_seen_on_white(operation):
    """3 : 1 at least."""
    assert Color(COLOURS[operation]).contrast("white", method="wcag21") >= 3


@pytest.mark.parametrize("sight", [None, "protan", "deutan", "tritan"])
def test_any_two_are_told_apart(sight):
    """By more than 15, by all eyes."""
    seen = {
        name: Color(colour).filter(sight, method="machado") if sight else Color(colour)
        for name, colour in COLOURS.items()
    }
    for one, two in combinations(seen, 2):
        assert seen[one].delta_e(seen[two], method="2000") > 15, (one, two)


@pytest.mark.parametrize("operation", COLOURS)
def test_dxf_has_the_same_colour(operation):
    """An index that is no standard colour of seven and no grey, with the very RGB that SVG has."""
    index = colour_index(COLOURS[operation])
    assert 10 <= index <= 249
    assert "#{:02x}{:02x}{:02x}".format(*int2rgb(DXF_DEFAULT_COLORS[index])) == COLOURS[operation]


@pytest.mark.parametrize("operation", COLOURS)
def test_none_is_one_that_machines_give_a_meaning_to(operation):
    """Black, and red, blue, green and orange in full."""
    for taken in ("#000000", "#ff0000", "#0000ff", "#00ff00", "#ff7f00", "#ff8000"):
        assert Color(COLOURS[operation]).delta_e(taken, method="2000") > 15, taken
