"""Cut files as DXF (R2000 or R12). Picture frame, y up; file in mm or inches.

Contours are closed LWPOLYLINEs (POLYLINE in R12) with true bulges, circles are CIRCLE, open strokes LINE, ARC or an
open polyline. No splines, blocks or text entities. All is ASCII but for layer names. Words go into 999 comments at the
head.
"""

import logging
import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from io import StringIO
from typing import TYPE_CHECKING, Literal

from jigmaker.drawing.measure import BoundsPen, Tee
from jigmaker.drawing.picture import Picture, PictureLayer
from jigmaker.geometry.frames import Point
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit
from jigmaker.writers.dxf_entities import EntityTextPen
from jigmaker.writers.dxf_layers import AnyVersion, add_layers
from jigmaker.writers.dxf_text import comments, file_bytes, plain_numbers, real

if TYPE_CHECKING:
    from ezdxf.document import Drawing

Version = Literal["R2000", "R12"]

# DXF header variables $INSUNITS (1 inch, 4 millimetre) and $MEASUREMENT (0 imperial, 1 metric).
_INSUNITS: dict[Unit, int] = {"mm": 4, "in": 1}
_MEASUREMENT: dict[Unit, int] = {"mm": 1, "in": 0}

_VIEW_ASPECT = 1.34  # width over height of the active view
_VIEW_ROOM = 1.05  # a little air round the page

_ENTITIES = "  2\nENTITIES\n"


# What stands in a cached envelope for what a picture fills in: figures that no file has, and high handles.
_FIGURES = tuple(f"7654{i}.123457" for i in range(10, 19))
_FIRST_OPEN = 0xFEED0000
_BLANK = re.compile("|".join(_FIGURES) + r"|FEED000[0-9A-F]")


def write_dxf(
    picture: Picture, version: Version = "R2000", unit: Unit = "mm", apart: frozenset[str] = frozenset()
) -> bytes:
    """The picture as a DXF file; unit "in" divides every coordinate by 25.4. Same picture, same bytes.

    apart: layers on which there are no polylines, but each piece is a LINE or an ARC, one after the other.

    All but the entities is the library's; that does not change from picture to picture on the same layers, so it is
    asked once. Raises OutOfRange for a layer name that DXF of that version cannot hold, and for a shape on an
    undeclared layer.
    """
    unit_mm = MM_PER_INCH if unit == "in" else 1.0
    envelope = _envelope(picture.layers, version, unit)
    pen = EntityTextPen(envelope.first_handle, envelope.owner, envelope.colours, unit_mm)
    pen.apart = apart
    bounds = BoundsPen()
    picture.draw(Tee(pen, bounds))
    place = _page_place(picture, bounds, unit_mm)
    figures = (*place.lowest, *place.highest, *place.size, place.seen, *place.middle)
    filled = {blank: real(figure) for blank, figure in zip(_FIGURES, figures, strict=True)}
    filled |= {f"{_FIRST_OPEN + i:X}": f"{pen.handle + i:X}" for i in range(16)}  # what comes after the entities
    # Text and names of blanks take turns in the envelope.
    parts = [words if i % 2 == 0 else filled[words] for i, words in enumerate(envelope.pieces)]
    before, mark, after = "".join(parts).partition(_ENTITIES)
    return file_bytes("".join((comments(picture, version, unit), before, mark, *pen.entities, after)))


@dataclass(frozen=True, slots=True)
class _Envelope:
    """A file without entities. pieces: text, then a blank's name, in turn; handles before first_handle are taken."""

    pieces: tuple[str, ...]
    first_handle: int
    owner: str
    colours: dict[str, int]


@lru_cache(maxsize=32)
def _envelope(layers: tuple[PictureLayer, ...], version: Version, unit: Unit) -> _Envelope:
    """What the library writes round the entities of a picture with these layers."""
    with repeatable_library():
        document = new_document(version, unit)
        colours = add_layers(document, layers, version)
        # Handles are the ids of a file's objects, hexadecimal and each used once. Entities get those from the first
        # free one on; what the library numbers while it writes gets high ones, which are replaced by those after the
        # entities.
        first = int(str(document.entitydb.handles), 16)
        document.entitydb.handles.reset(f"{_FIRST_OPEN:X}")
        low_x, low_y, high_x, high_y, width, height, seen, x, y = (float(blank) for blank in _FIGURES)
        _set_page(document, _PagePlace((low_x, low_y), (high_x, high_y), (width, height), seen, (x, y)))
        stream = StringIO()
        document.write(stream)
    owner = "" if version == "R12" else document.modelspace().layout_key
    written = plain_numbers(stream.getvalue())
    if version == "R12":
        written = with_unit(written, unit)
    pieces = re.split(f"({_BLANK.pattern})", written)
    return _Envelope(tuple(pieces), first, owner, colours)


def with_unit(written: str, unit: Unit) -> str:
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


def new_document(version: AnyVersion, unit: Unit) -> "Drawing":
    """An empty document that states its unit."""
    import ezdxf

    document = ezdxf.new(version, units=_INSUNITS[unit])
    document.header["$MEASUREMENT"] = _MEASUREMENT[unit]
    if version != "R12":
        # The library's 0 is taken by some readers as a paper scale, which shrinks the print to a point.
        document.header["$PSVPSCALE"] = 1.0
    return document


def set_page(document: "Drawing", picture: Picture, bounds: BoundsPen, unit_mm: float) -> None:
    """Extents are the box of what is drawn, limits the page; the active view shows both, so no file opens blank."""
    _set_page(document, _page_place(picture, bounds, unit_mm))


@dataclass(frozen=True, slots=True)
class _PagePlace:
    """In the file's unit: corners of what is drawn, the page's size, height and middle of the view of both."""

    lowest: Point
    highest: Point
    size: Point
    seen: float
    middle: Point


def _page_place(picture: Picture, bounds: BoundsPen, unit_mm: float) -> _PagePlace:
    # The view is as wide as it is high times the aspect; so high that page and drawing are both in it, with room to
    # spare.
    width, height = picture.width_mm / unit_mm, picture.height_mm / unit_mm
    low_x, low_y, high_x, high_y = (value / unit_mm for value in bounds.box or (0.0, 0.0, width, height))
    left, right = min(0.0, low_x), max(width, high_x)
    bottom, top = min(0.0, low_y), max(height, high_y)
    seen = max(top - bottom, (right - left) / _VIEW_ASPECT) * _VIEW_ROOM
    middle = ((left + right) / 2, (bottom + top) / 2)
    return _PagePlace((low_x, low_y), (high_x, high_y), (width, height), seen, middle)


def _set_page(document: "Drawing", place: _PagePlace) -> None:
    lowest, highest = (*place.lowest, 0.0), (*place.highest, 0.0)
    # The library takes extents over from the layout only when no corner is the origin, so the header is set as well.
    document.header["$EXTMIN"], document.header["$EXTMAX"] = lowest, highest
    for layout in document.layouts:
        layout.reset_extents(lowest, highest)
        layout.reset_limits((0.0, 0.0), place.size)
    document.set_modelspace_vport(place.seen, place.middle, dxfattribs={"aspect_ratio": _VIEW_ASPECT})
