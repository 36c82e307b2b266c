"""The strokes that are written as text, held byte for byte to the entities that the library itself writes."""

import re
from io import StringIO

import pytest
from sample_pictures import sample_picture

from jigmaker.drawing.measure import BoundsPen, Tee
from jigmaker.drawing.picture import DrawnShape, Picture
from jigmaker.geometry.lettering import letter_table
from jigmaker.units import MM_PER_INCH, Unit
from jigmaker.writers.dxf import Version, new_document, repeatable_library, set_page, write_dxf
from jigmaker.writers.dxf_layers import add_layers
from jigmaker.writers.dxf_pen import DxfPen
from jigmaker.writers.dxf_text import comments, plain_numbers
from jigmaker.writers.svg import write_svg

KINDS: dict[Version, tuple[str, ...]] = {
    "R2000": ("LINE", "ARC", "CIRCLE", "LWPOLYLINE"),
    "R12": ("LINE", "ARC", "CIRCLE", "POLYLINE", "VERTEX", "SEQEND"),
}


def by_the_library(picture: Picture, version: Version, unit: Unit) -> str:
    """The file as the library writes all of it."""
    unit_mm, bounds = MM_PER_INCH if unit == "in" else 1.0, BoundsPen()
    with repeatable_library():
        document = new_document(version, unit)
        pen = DxfPen(document.modelspace(), add_layers(document, picture.layers, version), unit_mm)
        picture.draw(Tee(pen, bounds))
        set_page(document, picture, bounds, unit_mm)
        stream = StringIO()
        document.write(stream)
    return comments(picture, version, unit) + plain_numbers(stream.getvalue())


def without_unit(data: bytes, version: Version, unit: Unit) -> str:
    """The file as written; of R12 without the unit, which the library's header has no room for, and which stands in one
    piece right behind the version.
    """
    written = data.decode("ascii")
    if version == "R12":
        codes = {"mm": (4, 1), "in": (1, 0)}[unit]  # DXF reference: $INSUNITS 1 inch, 4 mm; $MEASUREMENT 0 imperial
        said = "  9\n$INSUNITS\n 70\n{}\n  9\n$MEASUREMENT\n 70\n{}\n".format(*codes)
        before, found, after = written.partition(said)
        assert found and before.endswith("  9\n$ACADVER\n  1\nAC1009\n")
        written = before + after
    return written


@pytest.mark.parametrize("version", ["R2000", "R12"])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_strokes_are_written_as_the_library_writes_them(version: Version, unit: Unit) -> None:
    """Every kind of entity, its layer, colour, handle and owner, every figure, and the next free handle in the head;
    all else is the library's too, but for the unit in R12."""
    expected = by_the_library(sample_picture(), version, unit)
    assert all(f"\n{kind}\n" in expected for kind in KINDS[version])
    assert without_unit(write_dxf(sample_picture(), version, unit), version, unit) == expected


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_an_empty_picture_after_a_full_one_is_written_as_the_library_writes_it(version: Version) -> None:
    """What is kept between pictures on the same layers holds nothing of the one before."""
    empty = Picture("Nothing", 40.0, 30.0, sample_picture().layers, ())
    write_dxf(sample_picture(), version)
    assert without_unit(write_dxf(empty, version), version, "mm") == by_the_library(empty, version, "mm")


@pytest.mark.parametrize("version", ["R2000", "R12"])
def test_a_table_is_written_as_its_strokes_are(version: Version) -> None:
    """Letters as one table give the same bytes as letter by letter; in SVG the same runs, all in one path."""
    words, layers = "S 08 R 78.25° KERF", sample_picture().layers
    table = letter_table(words, (10, 10), 5.0, 30.0)
    whole = Picture("t", 90.0, 90.0, layers, (DrawnShape("SCORED", table),))
    single = Picture("t", 90.0, 90.0, layers, tuple(DrawnShape("SCORED", stroke) for stroke in table))
    assert write_dxf(whole, version) == write_dxf(single, version)
    assert re.findall(b'M[^M"]*[0-9]', write_svg(whole)) == re.findall(b'M[^M"]*[0-9]', write_svg(single))
    assert write_svg(whole).count(b"<path") == 1
