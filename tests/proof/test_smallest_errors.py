"""The smallest errors that the proof sees: a feature of the kit moved in all files alike."""

import pytest
from smallest_errors import ROWS

WAYS = [
    pytest.param(row, sign * seen, id=f"{row.slug}, {row.name}, {row.move} by {sign * seen:g}")
    for row in ROWS
    for sign, seen in zip((1, -1), row.seen, strict=True)
    if seen
]


@pytest.mark.parametrize(("row", "by"), WAYS)
def test_an_error_of_the_size_told_is_found(row, by):
    """A finding of the tool, size, fit or assembly, though all files and kit.json agree."""
    assert row.is_found(by)


def test_a_slot_corner_so_round_that_the_wall_ends_inside_the_board_is_found():
    """The slot reaches 14 mm before the board and 13 behind it; a corner of 4 + 28 mm takes more of a slanting wall."""
    (row,) = (row for row in ROWS if row.move == "rounder")
    assert 451 in row.found(28.0)


def test_what_is_told_of_features_is_fine_or_has_a_reason():
    """0.002 mm and 0.002 degrees, or a sentence that says why a coarser error does no harm."""
    for row in ROWS:
        assert row.why or all(seen and seen <= 0.002 for seen in row.seen), row.what
