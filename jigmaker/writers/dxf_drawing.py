"""Dimensioned drawings as DXF (R2007, UTF-8), at real size. File in mm or inches.

The page is enlarged by the drawing's scale, so that what is measured in the file is the timber's size. Shapes are as in
every DXF of ours; words are TEXT, lengths are DIMENSION entities that know what they measure. Line types and letters
grow with the page. R2007 is the first version that holds a degree sign as itself: the older codes are shown as codes
by FreeCAD and Inkscape.
"""

from dataclasses import replace
from io import StringIO
from typing import Final

from jigmaker.drawing.measure import BoundsPen, Tee
from jigmaker.drawing.picture import Picture
from jigmaker.units import MM_PER_INCH, Unit
from jigmaker.writers.dxf import new_document, repeatable_library, set_page
from jigmaker.writers.dxf_dimensions import add_dimensions, add_letters, add_text
from jigmaker.writers.dxf_layers import add_layers
from jigmaker.writers.dxf_pen import DxfPen
from jigmaker.writers.dxf_text import comments, plain_numbers

_VERSION: Final = "R2007"


def write_drawing_dxf(picture: Picture, unit: Unit = "mm") -> bytes:
    """The drawing as a DXF file in which everything has its real size. Same picture, same bytes.

    Raises OutOfRange for a layer name that DXF cannot hold, and for a shape on an undeclared layer.
    """
    paper_mm = picture.scale * (MM_PER_INCH if unit == "in" else 1.0)
    with repeatable_library():
        document = new_document(_VERSION, unit)
        document.header["$LTSCALE"] = 1 / paper_mm
        colours = add_layers(document, picture.layers, _VERSION)
        add_letters(document)
        bounds, bare = BoundsPen(), replace(picture, labels=(), dimensions=())
        bare.draw(Tee(DxfPen(document.modelspace(), colours, paper_mm), bounds))
        for label in picture.labels:
            at = (label.at[0] / paper_mm, label.at[1] / paper_mm)
            layout = document.modelspace()
            add_text(layout, label.layer, label.text, at, label.height_mm / paper_mm, label.turn_deg, label.anchor)
        add_dimensions(document, picture, paper_mm)
        set_page(document, picture, bounds, paper_mm)
        # The library names the classes in use in the order of a set, which differs from run to run.
        for kind in sorted(document.entitydb.dxf_types_in_use()):
            document.classes.add_class(kind)
        stream = StringIO()
        document.write(stream)
    return (comments(picture, _VERSION, unit) + plain_numbers(stream.getvalue())).encode("utf-8", "replace")
