"""Layers and contours of a DXF file, mm, straight from its group codes; faults for all the rest.

R12, R2000 and later. What is not a line, an arc, a circle or a polyline of them is a fault, never left out quietly.
"""

from collections.abc import Container

from jigmaker.findings import Finding
from jigmaker.geometry.outline import Bounds
from jigmaker.proof.faults import Faults, TooMuch
from jigmaker.proof.readers.dxf_entities import read_entities
from jigmaker.proof.readers.dxf_groups import Groups, bits_of, plain_text, read_groups
from jigmaker.proof.readers.join import joined
from jigmaker.proof.records import ReadFile
from jigmaker.units import MM_PER_INCH, Unit

_INSUNITS: dict[str, Unit] = {"1": "in", "4": "mm"}
_MEASUREMENT: dict[str, Unit] = {"0": "in", "1": "mm"}
_UNIT_WORDS: dict[str, Unit] = {"1 drawing unit = 1 mm": "mm", "1 drawing unit = 1 inch": "in"}

_FROZEN = 1  # group 70 of a layer, bit 1

Header = dict[str, list[tuple[int, str]]]


def read_dxf(name: str, data: bytes, uncut: Container[str] = ()) -> tuple[ReadFile | None, list[Finding]]:
    """The file as read, or None when nothing of it can be, and every fault met on the way (codes 101, 102, 103 ...).

    Coordinates are turned into mm by the unit that the file states; one that states none is taken as mm. Loose lines
    are joined but on the layers in `uncut` (small letters), along which nobody cuts.
    """
    faults = Faults(name)
    try:
        groups = read_groups(data, faults)
        read = _read(name, groups, uncut, faults) if groups is not None else None
    except TooMuch as error:
        faults.add(101, str(error), "write the files again")
        read = None
    return read, faults.findings


def _read(name: str, groups: Groups, uncut: Container[str], faults: Faults) -> ReadFile:
    """The file from its groups. Raises TooMuch."""
    # Variables by name, each with its groups.
    header: Header = {}
    here: list[tuple[int, str]] = []
    for record in map(groups.record, groups.sections.get("HEADER", [])[:1]):
        for code, value in zip(record.codes, record.values, strict=True):
            if code == 9:
                here = header.setdefault(value.strip(), [])
            else:
                here.append((code, value.strip()))
    unit, said = _unit(header, groups.comments)
    unit_mm = MM_PER_INCH if unit == "in" else 1.0
    # A layer that is off or frozen is a fault, for a machine may leave it out.
    names: list[str] = []
    for number in groups.sections.get("TABLES", []):
        if groups.kinds[number] == "LAYER" and 2 in (record := groups.record(number)).codes:
            layer = plain_text(record.first(2, ""))
            names.append(layer)
            off = record.first(62, "7").strip().startswith("-")
            if off or max(bits_of(record.first(70, "0")), 0) & _FROZEN:
                faults.add(116, f'layer "{layer}" is switched off or frozen', "switch it on", f'layer "{layer}"')
    layers = tuple(dict.fromkeys(names))
    if "ENTITIES" not in groups.sections:
        faults.add(101, "the file has no section of entities", "write the files again")
    found = read_entities(groups, {layer.lower(): layer for layer in layers}, unit_mm, faults)
    # The limits are the sheet, by the maker's custom; the extents are what the lines themselves reach to.
    limits = _box(header, "$LIMMIN", "$LIMMAX", unit_mm) or (0.0, 0.0, 0.0, 0.0)
    return ReadFile(
        name=name,
        form="dxf",
        unit=unit,
        width_mm=limits[2] - limits[0],
        height_mm=limits[3] - limits[1],
        layers=layers,
        lines=joined(found, uncut),
        notes=groups.comments,
        unit_said=said,
        measurement=_MEASUREMENT.get(_value(header, "$MEASUREMENT")),
        box_mm=_box(header, "$EXTMIN", "$EXTMAX", unit_mm),
    )


def _value(header: Header, name: str) -> str:
    found = header.get(name, [])
    return found[0][1] if found else ""


def _unit(header: Header, comments: tuple[str, ...]) -> tuple[Unit | None, str]:
    """The file's unit and where it says so. In R12 the variable may be missing; then our comment counts."""
    if said := _value(header, "$INSUNITS"):
        return _INSUNITS.get(said), f"$INSUNITS {said}"
    for comment in comments:
        for words, unit in _UNIT_WORDS.items():
            if words in comment:
                return unit, comment
    return None, ""


def _box(header: Header, low: str, high: str, unit_mm: float) -> Bounds | None:
    """Two corners of the header in mm; None when they are missing or make no box."""
    # Groups 10 and 20 of either variable; a third one, the height, may follow. Extents of 1e20 say that nothing was
    # drawn: that is no box.
    try:
        (x0, y0), (x1, y1) = (
            [float(value) * unit_mm for code, value in header.get(name, []) if code in (10, 20)][:2]
            for name in (low, high)
        )
    except ValueError:
        return None
    return (x0, y0, x1, y1) if abs(x0) + abs(y0) + abs(x1) + abs(y1) < 1e9 and x1 >= x0 and y1 >= y0 else None
