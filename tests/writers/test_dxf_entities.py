"""The strokes that are written as text, held byte for byte to the entities that the library itself writes."""

from io import StringIO

import pytest
from sample_pictures import sample_picture

from jigmaker.drawing.measure import Bounds, Tee
from jigmaker.drawing.picture import Picture
from jigmaker.units import MM_PER_INCH, Unit
from jigmaker.writers.dxf import new_document, repeatable_library, set_page, write_dxf
from jigmaker.writers.dxf_layers import add_layers
from jigmaker.writers.dxf_pen import DxfPen
from jigmaker.writers.dxf_text import comments, plain_numbers


def by_the_library(picture: Picture, unit: Unit) -> str:
    """The file as the library writes all of it."""
    unit_mm, bounds = MM_PER_INCH if unit == "in" else 1.0, Bounds()
    with repeatable_library():
        document = new_document("R2000", unit)
        pen = DxfPen(document.modelspace(), add_layers(document, picture.layers, "R2000"), unit_mm)
        picture.draw(Tee(pen, bounds))
        set_page(document, picture, bounds, unit_mm)
        stream = StringIO()
        document.write(stream)
    return comments(picture, "R2000", unit) + plain_numbers(stream.getvalue())


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_strokes_are_written_as_the_library_writes_them(unit: Unit) -> None:
    """Every kind of entity, its layer, colour, handle and owner, every figure, and the next free handle in the head."""
    expected = by_the_library(sample_picture(), unit)
    assert all(f"\n{kind}\n" in expected for kind in ("LINE", "ARC", "CIRCLE", "LWPOLYLINE"))
    assert write_dxf(sample_picture(), "R2000", unit).decode("ascii") == expected
