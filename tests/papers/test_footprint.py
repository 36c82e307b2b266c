"""The picture of the footprint: on one page, black, to one scale, with the figures of other solids written in it."""

from dataclasses import replace

import pytest
from sample_jobs import DEMO, JOB_A, JOB_B
from trestle_on_solids import measured_foot

from jigmaker.geometry.outline import Outline
from jigmaker.papers.pictures.canvas import BROKEN, OUTLINE, THIN
from jigmaker.papers.pictures.footprint import footprint_picture
from jigmaker.papers.wording import rule_text
from jigmaker.trestle.solve import solve

PLUMB = replace(DEMO, rake_deg=90.0, splay_deg=90.0)
THIN_LEGS = replace(DEMO, height_mm=762.0, leg=replace(DEMO.leg, thickness_mm=19.05))
JOBS = [DEMO, JOB_A, JOB_B, PLUMB, replace(DEMO, unit="in"), THIN_LEGS]


@pytest.mark.parametrize("job", JOBS, ids=range(len(JOBS)))
def test_it_shows_four_feet_the_board_and_both_spreads(job):
    """Feet and board keep their proportion; spreads are those measured on solids; nothing leaves the page."""
    picture = footprint_picture(solve(job))
    feet = [drawn.shape for drawn in picture.shapes if drawn.layer == OUTLINE and isinstance(drawn.shape, Outline)]
    (board,) = [drawn.shape for drawn in picture.shapes if drawn.layer == THIN and isinstance(drawn.shape, Outline)]
    assert len(feet) == 4
    assert len([drawn for drawn in picture.shapes if drawn.layer == BROKEN]) == 4
    spread = measured_foot(job)
    low_x, low_y = (min(foot.bounds[i] for foot in feet) for i in (0, 1))
    high_x, high_y = (max(foot.bounds[i] for foot in feet) for i in (2, 3))
    scale = (board.bounds[2] - board.bounds[0]) / job.top.length_mm
    assert (high_x - low_x) / scale == pytest.approx(spread["spread_along_mm"], abs=1e-6)
    assert (high_y - low_y) / scale == pytest.approx(spread["spread_across_mm"], abs=1e-6)
    words = [label.text for label in picture.labels]
    for figure in spread.values():
        assert rule_text(figure, job.unit) in words
    assert {"near R", "near L", "far R", "far L", "board"} <= set(words)
    x, y, far_x, far_y = picture.bounds
    assert min(x, y) > 0 and far_x < picture.width_mm <= 180 and far_y < picture.height_mm
    assert {layer.colour for layer in picture.layers} == {"#000000"}


@pytest.mark.parametrize("job", JOBS, ids=range(len(JOBS)))
def test_no_line_of_tipping_runs_through_a_name(job):
    """Each foot's name, capitals and all, lies within the rectangle of the broken lines and clear of them."""
    picture = footprint_picture(solve(job))
    broken = [drawn.shape.bounds for drawn in picture.shapes if drawn.layer == BROKEN]
    low, high = min(box[1] for box in broken), max(box[3] for box in broken)
    names = [label for label in picture.labels if label.text in ("near R", "near L", "far R", "far L")]
    assert len(names) == 4
    assert all(low + 0.5 < name.at[1] and name.at[1] + name.height_mm < high - 0.5 for name in names)


def test_names_stand_beside_their_feet():
    """At the near end, on the right, R is up: at the right of whoever stands there and faces the board."""
    at = {label.text: label.at for label in footprint_picture(solve(DEMO)).labels}
    assert at["near R"][0] > at["far L"][0] and at["near R"][1] > at["near L"][1]
    assert at["far L"][1] > at["far R"][1] and at["near L"][0] > at["far R"][0]


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (DEMO, "end is 33 mm inside its line, the edge 153 mm inside its own"),
        (PLUMB, "end is 120 mm outside its line, the edge over its own"),
        (JOB_A, "end is 37.5 mm outside its line, the edge 229.5 mm inside its own"),
    ],
)
def test_it_says_how_the_board_lies_to_the_lines(job, words):
    """By hand: inset less height x cot(rake), and height x cot(splay); to half a millimetre, as the words beside it."""
    assert words in " ".join(label.text for label in footprint_picture(solve(job)).labels)
