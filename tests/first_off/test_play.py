"""What a leg's fit comes to at the worst, against corners of all errors tried one by one."""

from dataclasses import replace
from itertools import product

import pytest
from sample_jobs import BEARING_SHOP, DEMO, DEMO_SHOP

from jigmaker.first_off.play import play
from jigmaker.job.practice import fit_word


@pytest.mark.parametrize("accuracy", [0.05, 0.1, 0.3])
@pytest.mark.parametrize("shop", [DEMO_SHOP, BEARING_SHOP], ids=["bush", "bearing"])
def test_the_worst_of_all_corners(shop, accuracy: float) -> None:
    """Housing = slot - bush + cutter, each wall and tool at its limit, and the router turned about or not."""
    shop = replace(shop, machine=replace(shop.machine, accuracy_mm=accuracy))
    tools = 1 if shop.hand_router.is_bearing_guided else 2
    widths = [
        0.15 + near + far + sum(tool) + turned
        for near, far in product((-accuracy, accuracy), repeat=2)
        for tool in product((-0.05, 0.05), repeat=tools)
        for turned in ((0.0,) if tools == 1 else (0.0, 0.1))
    ]
    found = play(DEMO, shop)
    assert (found.asked_mm, found.least_mm, found.most_mm) == pytest.approx((0.15, min(widths), max(widths)))


@pytest.mark.parametrize(
    ("play_mm", "word"),
    # By hand from 0.03 mm on, a mallet to 0.1 mm of press, loose over 0.3: common practice, no source.
    [(-0.2, "not at all"), (-0.1, "mallet"), (0.02, "mallet"), (0.03, "push"), (0.3, "push"), (0.31, "loose")],
)
def test_words_for_a_fit(play_mm: float, word: str) -> None:
    """From what must be planed to what rattles."""
    assert word in fit_word(play_mm)
