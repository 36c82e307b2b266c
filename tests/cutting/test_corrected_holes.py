"""Holes as a crooked machine cuts them, swept by shapely."""

from dataclasses import replace
from math import pi, sqrt

import pytest
import shapely
from cutting.crooked_machine import material
from plain_parts import box, on_bed, plain_part
from sample_jobs import DEMO_SHOP

from jigmaker.cutting.compensate import compensate
from jigmaker.geometry.outline import Circle
from jigmaker.job.shop import Machine
from jigmaker.parts.corners import mortise
from jigmaker.parts.part import Hole
from jigmaker.parts.relief import Bites, relief_radius

BITTEN = {
    "cut wider in x, and a scale": Machine("laser", 0.3, kerf_x_mm=0.3312, kerf_y_mm=0.2688, scale_x=1.0144),
    "cut wider in y": Machine("laser", 0.45, kerf_x_mm=0.3435, kerf_y_mm=0.5565),
    "a wide cut, a little wider in y": Machine("laser", 0.89, kerf_x_mm=0.8601, kerf_y_mm=0.9199),
}
"""Shops whose corners are relieved so narrowly that the tool turns in them about a tenth of a millimetre."""


@pytest.mark.parametrize("machine", BITTEN.values(), ids=BITTEN)
def test_no_wood_is_lost_beside_a_bite(machine: Machine) -> None:
    """Where a bite runs out into a wall, a flat arc and a narrow one meet in the tool's way: also there all that is
    taken away lies within 0.005 mm of the part."""
    hole, _ = mortise("mortise", (40, 20), (49.3, 36), Bites(relief_radius(replace(DEMO_SHOP, machine=machine)), 9.3))
    part = plain_part("bitten plate", box(90, 60), (hole,))
    sheet = on_bed(part, 0)
    left, frame = material(compensate(sheet, machine, "included"), machine), sheet.placed[0].sheet_from_part
    wanted = shapely.Polygon(hole.contour.placed(frame).points(256))
    (opening,) = map(shapely.Polygon, left.interiors)
    lost = opening.difference(wanted)
    assert max(shapely.Point(at).distance(wanted) for at in shapely.get_coordinates(lost)) < 0.005 + 5e-4


@pytest.mark.parametrize("radius", [2.95, 3.0, 3.2])
def test_holes_drawn_round_are_as_wide_on_the_whole_as_they_should_be(radius: float) -> None:
    """Where the cut is twice as wide in y, a circle stands for a curve that is no ellipse: swept by shapely its opening
    has the area of the hole, so that its mean diameter is right within 0.002 mm."""
    machine = Machine("laser", 0.2, kerf_x_mm=0.1313, kerf_y_mm=0.2687, scale_x=1.0136, scale_y=0.994, skew_deg=0.002)
    part = plain_part("hung plate", box(90, 60), (Hole("hole", Circle((45, 30), radius)),))
    cut = compensate(on_bed(part, 0), machine, "included")
    (drawn,) = (contour.shape for contour in cut.contours if contour.operation == "inner")
    assert isinstance(drawn, Circle)
    (opening,) = material(cut, machine).interiors
    assert 2 * sqrt(shapely.Polygon(opening).area / pi) == pytest.approx(2 * radius, abs=0.002)
