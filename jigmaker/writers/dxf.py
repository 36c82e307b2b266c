"""A picture as DXF: Picture in, bytes out (R2000 or R12). Picture frame, y up; file in mm or inches.

Contours are closed LWPOLYLINEs (POLYLINE in R12) with true bulges, circles are CIRCLE, open strokes LINE, ARC or an
open polyline. No splines, blocks or text entities. All is ASCII but for layer names. Words go into 999 comments at the
head.
"""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import TYPE_CHECKING, Literal

from jigmaker.drawing.measure import Bounds, Tee
from jigmaker.drawing.picture import Picture
from jigmaker.units import MM_PER_INCH, Unit
from jigmaker.writers.dxf_layers import add_layers
from jigmaker.writers.dxf_pen import DxfPen
from jigmaker.writers.dxf_text import comments, file_bytes, plain_numbers

if TYPE_CHECKING:
    from ezdxf.document import Drawing

Version = Literal["R2000", "R12"]

# DXF header variables $INSUNITS (1 inch, 4 millimetre) and $MEASUREMENT (0 imperial, 1 metric).
_INSUNITS: dict[Unit, int] = {"mm": 4, "in": 1}
_MEASUREMENT: dict[Unit, int] = {"mm": 1, "in": 0}

_VIEW_ASPECT = 1.34  # width over height of the active view
_VIEW_ROOM = 1.05  # a little air round the page


def write_dxf(picture: Picture, version: Version = "R2000", unit: Unit = "mm") -> bytes:
    """The picture as a DXF file; unit "in" divides every coordinate by 25.4. Same picture, same bytes.

    Raises OutOfRange for a layer name that DXF of that version cannot hold, and for a shape on an undeclared layer.
    """
    unit_mm = MM_PER_INCH if unit == "in" else 1.0
    with repeatable_library():
        document = new_document(version, unit)
        colours = add_layers(document, picture.layers, version)
        bounds = Bounds()
        picture.draw(Tee(DxfPen(document.modelspace(), colours, unit_mm), bounds))
        set_page(document, picture, bounds, unit_mm)
        stream = StringIO()
        document.write(stream)
    written = plain_numbers(stream.getvalue())
    if version == "R12":
        written = _with_unit(written, unit)
    return file_bytes(comments(picture, version, unit) + written)


def _with_unit(written: str, unit: Unit) -> str:
    """R12's text with the unit in its header, for which the library leaves no room.

    Later versions added the variables; what reads R12 takes them, and what does not know them passes over them. Without
    them most programs take inches for millimetres.
    """
    version = "  9\n$ACADVER\n  1\nAC1009\n"
    said = f"  9\n$INSUNITS\n 70\n{_INSUNITS[unit]}\n  9\n$MEASUREMENT\n 70\n{_MEASUREMENT[unit]}\n"
    before, found, after = written.partition(version)
    assert found, "the library writes the version first"
    return before + found + said + after


@contextmanager
def repeatable_library() -> Iterator[None]:
    """The library's dates and ids are fixed, and its log of R12's missing unit is left to our comment; undone after."""
    import ezdxf

    logger, fixed = logging.getLogger("ezdxf"), ezdxf.options.write_fixed_meta_data_for_testing
    level = logger.level
    ezdxf.options.write_fixed_meta_data_for_testing = True
    logger.setLevel(logging.ERROR)
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = fixed
        logger.setLevel(level)


def new_document(version: Version, unit: Unit) -> "Drawing":
    """An empty document that states its unit."""
    import ezdxf

    document = ezdxf.new(version, units=_INSUNITS[unit])
    document.header["$MEASUREMENT"] = _MEASUREMENT[unit]
    if version != "R12":
        # The library's 0 is taken by some readers as a paper scale, which shrinks the print to a point.
        document.header["$PSVPSCALE"] = 1.0
    return document


def set_page(document: "Drawing", picture: Picture, bounds: Bounds, unit_mm: float) -> None:
    """Extents are the box of what is drawn, limits the sheet that is cut, else the page; the active view shows all.

    A view of what is there, so that no file opens blank. Layouts for paper have the page.
    """
    width, height = picture.width_mm / unit_mm, picture.height_mm / unit_mm
    low_x, low_y, high_x, high_y = (value / unit_mm for value in bounds.box or (0.0, 0.0, width, height))
    lowest, highest = (low_x, low_y, 0.0), (high_x, high_y, 0.0)
    # The library takes extents over from the layout only when no corner is the origin, so the header is set as well.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = lowest, highest
    for layout in document.layouts:
        layout.reset_extents(lowest, highest)
        layout.reset_limits((0.0, 0.0), (width, height))
    if picture.sheet_mm is not None:
        document.modelspace().reset_limits((0.0, 0.0), (picture.sheet_mm[0] / unit_mm, picture.sheet_mm[1] / unit_mm))
    left, right = min(0.0, low_x), max(width, high_x)
    bottom, top = min(0.0, low_y), max(height, high_y)
    seen = max(top - bottom, (right - left) / _VIEW_ASPECT) * _VIEW_ROOM
    document.set_modelspace_vport(
        seen, ((left + right) / 2, (bottom + top) / 2), dxfattribs={"aspect_ratio": _VIEW_ASPECT}
    )
