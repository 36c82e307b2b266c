"""What goes wrong on the parts themselves: letters turned over, marks taken for openings, crumbs, a jig that drifts."""

from dataclasses import replace
from functools import cache
from itertools import islice
from math import dist

import pytest
from measured_contours import signed_distance
from sample_jobs import DEMO, DEMO_SHOP, random_jobs
from sample_variants import VARIANTS

from jigmaker.cutting.compensate import compensate
from jigmaker.findings import errors_in
from jigmaker.geometry.lettering import write_text
from jigmaker.geometry.outline import Circle, Stroke
from jigmaker.geometry.strokes import Strokes
from jigmaker.parts.check import check_kit
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import single_part_sheet
from jigmaker.trestle.check import check_trestle
from jigmaker.trestle.solve import solve

SHORTEST_MM = 0.05
NAMES = ("laser, bush, two slots", "cnc with a 6 mm cutter", "laser, bearing, one hand")
RANDOM_JOBS = 3


@cache
def parts_of(name):
    """Every part of a variant's kit."""
    job, shop = VARIANTS[name]
    return make_kit(solve(job), shop).parts


@cache
def makeable_jobs():
    """The first random jobs against which nothing speaks."""
    good = (j for j in random_jobs(seed=907) if not errors_in(check_trestle(solve(j))))
    return tuple(islice((j for j in good if not errors_in(check_kit(solve(j), DEMO_SHOP))), RANDOM_JOBS))


@pytest.mark.parametrize("name", NAMES)
def test_letters_read_forwards_on_either_hand(name):
    """A left-hand part made by mirroring carries mirrored words; here each is written as on any part, only turned."""
    written = 0
    for part in parts_of(name):
        for mark in part.marks:
            if mark.text:
                assert mark.strokes.strokes() == write_text(mark.text, mark.at, mark.height_mm, mark.turn_deg), (
                    part.slug
                )
                written += 1
    assert written > 30


@pytest.mark.parametrize("name", NAMES)
def test_no_mark_is_a_closed_line(name):
    """A program that looks for closed lines takes a ring or a box on the mark layer for an opening to cut out."""
    strokes = [
        (part.slug, mark.text, stroke) for part in parts_of(name) for mark in part.marks for stroke in mark.strokes
    ]
    assert len(strokes) > 500
    assert [words for *words, s in strokes if dist(s.segments[0].start, s.segments[-1].end) < SHORTEST_MM] == []


@pytest.mark.parametrize("name", NAMES)
def test_a_part_is_one_piece_with_each_feature_once_after_the_tool(name):
    """An offset can split a part, lose a slot or leave a crumb: as many contours come out as went in, none tiny."""
    _, shop = VARIANTS[name]
    for part in parts_of(name):
        _check_followed(part, shop)


@pytest.mark.parametrize("number", range(RANDOM_JOBS))
def test_no_trestle_leaves_crumbs(number):
    """At some angle or other a step becomes as short as the kerf: the same for trestles drawn at random."""
    for part in make_kit(solve(makeable_jobs()[number]), DEMO_SHOP).parts:
        _check_followed(part, DEMO_SHOP)


def _check_followed(part, shop):
    cut = compensate(single_part_sheet(part, shop.machine.tool_mm), shop.machine, "included")
    closed = [contour.shape for contour in cut.contours if not isinstance(contour.shape, Stroke | Strokes)]
    assert len(closed) == 1 + len(part.holes), part.slug
    for shape in closed:
        if isinstance(shape, Circle):
            assert shape.radius >= SHORTEST_MM, part.slug
        else:
            short = [s for s in shape.segments if s.length < SHORTEST_MM]
            assert short == [] and abs(shape.area) > 0.5, part.slug


@pytest.mark.parametrize("change_mm", [-0.8, 0.8])
def test_a_board_thicker_or_thinner_than_asked_shifts_no_housing(change_mm):
    """Held at one face and one end, the slot starts where it did; held at both faces it would move by half of that."""
    other = replace(DEMO, top=replace(DEMO.top, thickness_mm=DEMO.top.thickness_mm + change_mm))
    plate, changed = (make_kit(solve(job), DEMO_SHOP).parts[0] for job in (DEMO, other))
    for feature in (f for f in plate.features if f.contour == "slot R" and f.name.endswith(("near wall", "far wall"))):
        wall, same = (part.contour("slot R").segments[feature.pieces[0]] for part in (plate, changed))
        line = (complex(*wall.start), complex(*wall.end))
        assert [signed_distance(complex(*p), line) for p in (same.start, same.end)] == pytest.approx([0, 0], abs=1e-9)
    for name in ("mortise, end, right, front", "mortise, side R, front"):
        assert changed.contour(name).bounds[1] == pytest.approx(plate.contour(name).bounds[1], abs=1e-9)
    front, same = (part.contour("slot R").bounds[1] for part in (plate, changed))
    assert same == pytest.approx(front, abs=1e-9)
    stop, same = (part.contour("mortise, end, right, front").bounds[0] for part in (plate, changed))
    assert same == pytest.approx(stop, abs=1e-9)
