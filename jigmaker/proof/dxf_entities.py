"""Records of a DXF's ENTITIES section in, contours in mm out; what draws no line or arc becomes a fault."""

from collections.abc import Callable, Iterator, Sequence

from jigmaker.geometry.outline import Circle
from jigmaker.proof.chain import Vertex, circle_of, contour_of, turned_vertices
from jigmaker.proof.dxf_groups import Record, plain_text
from jigmaker.proof.faults import MOST_SHAPES, Faults, TooMuch
from jigmaker.proof.records import ReadContour

_CLOSED = 1  # group 70, bit 1; tested as a bit, for 129 is closed as well
_NOT_FLAT = 8 | 16 | 64  # a polyline in space, or a mesh
_CURVED = 2 | 4  # curve-fit and spline-fit polylines
_UP = {"210": 0.0, "220": 0.0, "230": 1.0}
_HEIGHTS = ("30", "31", "38")
_SPATIAL = frozenset((*_UP, *_HEIGHTS))
_FLAT_MM = 1e-6
_REDRAW = "draw it as lines, arcs or polylines, or write the files again"

Vertices = tuple[list[Vertex], bool]


def read_entities(
    records: Sequence[Record], names: dict[str, str], unit_mm: float, faults: Faults
) -> Iterator[ReadContour]:
    """The contours in file order; `names` gives a layer's declared spelling by its lower-case name. Raises TooMuch."""
    index = count = 0
    while index < len(records):
        record = records[index]
        following = index + 1
        if record.kind == "POLYLINE":
            while following < len(records) and records[following].kind == "VERTEX":
                following += 1
        if (contour := _contour(record, records[index + 1 : following], names, unit_mm, faults)) is not None:
            count += len(contour.shape.segments) if not isinstance(contour.shape, Circle) else 1
            yield contour
        index = following
        if count > MOST_SHAPES or index > 4 * MOST_SHAPES:
            raise TooMuch(f"the file holds more than {MOST_SHAPES} lines")


def _contour(
    record: Record, vertices: Sequence[Record], names: dict[str, str], unit_mm: float, faults: Faults
) -> ReadContour | None:
    place = f"{record.kind} at line {record.line}"
    if record.kind == "SEQEND" or not _is_readable(record, place, faults):
        return None
    layer = plain_text(record.first("8", "0"))
    layer = names.get(layer.lower(), layer)
    try:
        if record.kind == "CIRCLE":
            x, y, radius = (float(record.first(code, "nan")) * unit_mm for code in ("10", "20", "40"))
            return circle_of(layer, (x, y), radius, place, faults)
        found = _polyline(record, vertices) if record.kind == "POLYLINE" else _READERS[record.kind](record)
    except ValueError:
        faults.add(103, f"a figure of a {record.kind} is no number", "write the files again", place)
        return None
    scaled = found[0] if unit_mm == 1 else [(x * unit_mm, y * unit_mm, bulge) for x, y, bulge in found[0]]
    return contour_of(layer, scaled, found[1], place, faults)


def _is_readable(record: Record, place: str, faults: Faults) -> bool:
    """False when the record is to be left out; a fault says why, but for windows onto paper, which draw nothing."""
    codes = record.codes
    on_paper = "67" in codes and record.first("67", "0").strip() == "1"
    if record.kind not in _READERS and record.kind not in ("CIRCLE", "POLYLINE"):
        if not (record.kind == "VIEWPORT" and on_paper):
            faults.add(102, f"{record.kind} is not understood", _REDRAW, place)
        return False
    if on_paper:
        faults.add(102, f"a {record.kind} lies in paper space", "move it to model space, or remove it", place)
        return False
    if "60" in codes and record.first("60", "0").strip() == "1":
        faults.add(102, f"a {record.kind} is invisible", "show it, or remove it", place)
        return False
    return _is_flat(record, place, faults)


def _is_flat(record: Record, place: str, faults: Faults) -> bool:
    """False with a fault for a shape out of the sheet's plane: turned over, tilted, raised, or with a wrong figure."""
    codes = record.codes
    try:
        if record.kind == "POLYLINE" and _flags(record.first("70", "0")) & (_NOT_FLAT | _CURVED):
            faults.add(102, "a POLYLINE in space, a mesh or a fitted curve is not understood", _REDRAW, place)
            return False
        if _SPATIAL.isdisjoint(codes):
            return True
        turned = any(code in codes and abs(float(record.first(code, "")) - _UP[code]) > 1e-9 for code in _UP)
        raised = any(code in codes and abs(float(record.first(code, ""))) > _FLAT_MM for code in _HEIGHTS)
    except ValueError:
        faults.add(103, f"a figure of a {record.kind} is no number", "write the files again", place)
        return False
    if turned or raised:
        how = "is turned over or tilted (extrusion other than 0, 0, 1)" if turned else "lies above or below the plane"
        faults.add(102, f"a {record.kind} {how}, so that programs differ about its place", _REDRAW, place)
    return not turned and not raised


def _flags(text: str) -> int:
    """Group 70 as a number; ValueError for what is none of 16 bits."""
    if len(text) > 10:
        raise ValueError("too long for a flag")
    return int(text)


def _line(record: Record) -> Vertices:
    x, y, to_x, to_y = (float(record.first(code, "nan")) for code in ("10", "20", "11", "21"))
    return [(x, y, 0.0), (to_x, to_y, 0.0)], False


def _arc(record: Record) -> Vertices:
    x, y, radius, first, last = (float(record.first(code, "nan")) for code in ("10", "20", "40", "50", "51"))
    if not 0 < radius < 1e9 or not abs(first) + abs(last) < 1e6:
        return [(radius, first, last)] * 2 if not radius > 0 else [(float("nan"), 0.0, 0.0)] * 2, False
    return turned_vertices((x, y), radius, first, last)


def _lwpolyline(record: Record) -> Vertices:
    vertices: list[Vertex] = []
    x, y, bulge, flags, begun = float("nan"), float("nan"), 0.0, 0, False
    for code, value in zip(record.codes, record.values, strict=True):
        if code == "10":
            if begun:
                vertices.append((x, y, bulge))
            x, y, bulge, begun = float(value), float("nan"), 0.0, True
        elif code == "20":
            y = float(value)
        elif code == "42":
            bulge = float(value)
        elif code == "70":
            flags = _flags(value)
    if begun:
        vertices.append((x, y, bulge))
    return vertices, bool(flags & _CLOSED)


def _polyline(record: Record, records: Sequence[Record]) -> Vertices:
    vertices = [
        (float(each.first("10", "nan")), float(each.first("20", "nan")), float(each.first("42", "0")))
        for each in records
    ]
    return vertices, bool(_flags(record.first("70", "0")) & _CLOSED)


_READERS: dict[str, Callable[[Record], Vertices]] = {"LINE": _line, "ARC": _arc, "LWPOLYLINE": _lwpolyline}
