"""Drawings of a job with several sizes: one of each that differs, and its title says of which size it is."""

from pathlib import Path

from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.job.read import read_job
from jigmaker.papers.drawings.drawing_set import DRAWINGS, drawing_set
from jigmaker.parts.kit import make_kit
from jigmaker.trestle.solve import solve

CLASS = read_job((Path(__file__).parents[1] / "jobs" / "class.toml").read_bytes())


def words(picture):
    """All that is written on a drawing."""
    return {label.text for label in picture.labels}


def test_each_size_has_its_own_trestle_leg_and_board() -> None:
    """Twelve drawings for three sizes, one with a shorter board; housing, brace and jig are drawn once."""
    drawings = drawing_set(make_kit(solve(CLASS), DEMO_SHOP))
    sizes = ("size-762-mm", "size-650-mm", "size-520-mm")
    assert list(drawings) == [
        *(f"trestle-{size}" for size in sizes),
        *(f"top-board-{size}" for size in sizes),
        "housing",
        *(f"leg-{size}" for size in sizes),
        "brace",
        "housing-jig",
    ]
    assert "leg, size 520 mm" in words(drawings["leg-size-520-mm"])
    assert "top board, size 520 mm" in words(drawings["top-board-size-520-mm"])
    assert any("12 of 12" in text for text in words(drawings["housing-jig"]))


def test_a_plain_job_has_one_of_each() -> None:
    """By the names they always had."""
    assert list(drawing_set(make_kit(solve(DEMO), DEMO_SHOP))) == list(DRAWINGS)
