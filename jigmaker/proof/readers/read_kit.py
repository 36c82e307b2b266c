"""The kit as kit.json declares it: parts, sheets, settings, hashes; every fault with its path.

Mm and degrees as in the file: part frames, assembly_from_part and sheet_from_part.
"""

import re
from collections.abc import Callable, Iterable
from typing import TypeVar, cast

from jigmaker.errors import FrameError, OutlineError
from jigmaker.findings import Finding
from jigmaker.geometry.frames import Frame, PlaneFrame
from jigmaker.geometry.outline import Circle, Outline, piece
from jigmaker.geometry.vectors import Vector
from jigmaker.job.rules import KIT_NUMBER
from jigmaker.job.shop import OPERATIONS, Compensation, Operation
from jigmaker.proof.readers.json_values import MOST_ITEMS, JsonFault, JsonValue, parse_json
from jigmaker.proof.records import (
    DeclaredFeature,
    DeclaredFile,
    DeclaredKit,
    DeclaredMark,
    DeclaredPart,
    DeclaredPlacement,
    DeclaredSheet,
)

KIT = "kit.json"
_SCHEMA = re.compile("jigmaker kit ([0-9]{1,3})")
_MEASURES = ("angle_deg", "across_mm", "diameter_mm", "length_mm", "x_mm", "y_mm")
_MOST_PLACEMENTS = 20  # of one part; a kit's most is 4, and each is put together with all others
_MOST_FILES = 40  # of one part or sheet: two forms, two compensations, a file for each operation
_MOST_FAULTS = 100
_TALLEST_MM = 1000.0  # letters
_MOST_SCREWS = 100  # of one sheet; a kit has a tenth of that
_DO = "make the folder again; kit.json is not for editing"

KitEntry = TypeVar("KitEntry")


def read_kit(data: bytes) -> tuple[DeclaredKit | None, list[Finding]]:
    """The kit that kit.json declares; None when anything in it is faulty, with a finding (124) for each fault."""
    faults: list[Finding] = []
    try:
        declared = parse_json(data)
        # A later kit may mean another thing by a key of the same name: it is not read as far as it can be.
        number = schema_number(declared)
        if number is None or number > KIT_NUMBER:
            raise declared.at("schema").fault(f'"jigmaker kit {KIT_NUMBER}" or older; a later jigmaker reads the rest')
        # Parts come first: sheets may hold no others.
        parts = _all(declared.each("parts"), _part, faults)
        kit = DeclaredKit(
            parts=tuple(parts),
            sheets=tuple(_all(declared.each("sheets"), lambda sheet: _sheet(sheet, {p.slug for p in parts}), faults)),
            settings=_settings(declared),
            hashes={name: declared.at("files").text(name) for name in declared.at("files").names()},
            number=number,
            is_whole=declared.at("whole").value is not False if declared.has("whole") else True,
            kit_number=declared.text("kit_number") if declared.has("kit_number") else "",
        )
        if len({part.slug for part in parts}) < len(parts):
            raise JsonFault("parts: two parts have the same slug")
        # One file for two entries would leave one of the two without a file of its own that anyone had looked at.
        files = [*(part.files for part in kit.parts), *(sheet.files for sheet in kit.sheets)]
        names = [file.name for each in files for file in each]
        if len(set(names)) < len(names):
            raise JsonFault("parts: two entries name the same file")
    except JsonFault as error:
        return None, [*faults, _finding(error)]
    return (None if faults else kit), faults


def schema_number(declared: JsonValue) -> int | None:
    """Which kit a kit.json says it is, 2 for "jigmaker kit 2"; None when it does not say so."""
    found = _SCHEMA.fullmatch(declared.text("schema")) if declared.has("schema") else None
    return int(found[1]) if found else None


def _finding(error: JsonFault) -> Finding:
    place, _, says = str(error).partition(": ")
    return Finding(124, f"{place} {says}", _DO, part=KIT, at=place)


def _all(items: Iterable[JsonValue], read: Callable[[JsonValue], KitEntry], faults: list[Finding]) -> list[KitEntry]:
    """Every item that can be read; of each that cannot, its first fault."""
    # One faulty entry does not hide the faults of those after it; none of them is proved while one is faulty.
    found: list[KitEntry] = []
    for item in items:
        try:
            found.append(read(item))
        except JsonFault as error:
            faults.append(_finding(error))
        if len(faults) >= _MOST_FAULTS:
            break
    return found


def _part(declared: JsonValue) -> DeclaredPart:
    outline = _contour(declared.at("outline"))
    if not isinstance(outline, Outline):
        raise declared.at("outline").fault("vertices, for an outline is no circle")
    holes = tuple((hole.text("name"), _contour(hole)) for hole in declared.each("holes"))
    # Features point at pieces of contours by number: a number that is not there is a fault of the file, found here.
    pieces = {
        name: (len(contour.segments) if isinstance(contour, Outline) else 0)
        for name, contour in (*holes, ("outer", outline))
    }
    promised = [declared.at("least_wood_mm")] if declared.has("least_wood_mm") else []  # kits made earlier declare none
    return DeclaredPart(
        name=declared.text("name"),
        slug=declared.text("slug"),
        assembly=declared.text("assembly"),
        hand=declared.one_of("hand", "", "R", "L"),
        needed=declared.whole("needed"),
        spares=declared.whole("spares"),
        thickness_mm=declared.number("thickness_mm"),
        outline=outline,
        holes=holes,
        features=tuple(_feature(feature, pieces) for feature in declared.each("features")),
        settings=_settings(declared),
        placements=tuple(_placement(placement) for placement in declared.each("placements", _MOST_PLACEMENTS)),
        files=tuple(_file(file) for file in declared.each("files", _MOST_FILES)),
        least_wood_mm={name: least.number(name) for least in promised for name in least.names()},
        bridges=declared.whole("bridges") if declared.has("bridges") else None,
        held_by=declared.one_of("held_by", "bridges", "screw", "tape", "nothing") if declared.has("held_by") else "",
        marks=tuple(_mark(mark) for mark in declared.each("marks")) if declared.has("marks") else (),
    )


def _mark(declared: JsonValue) -> DeclaredMark:
    # Letters the proof draws itself, from text, place, height and turn; of lines that spell nothing the points are
    # read.
    text, (x, y) = declared.text("text"), declared.numbers("at_mm", 2)
    height = declared.number("height_mm")
    if text and not 0 < height <= _TALLEST_MM:
        raise declared.at("height_mm").fault(f"above 0 and up to {_TALLEST_MM:.0f}")
    lines = []
    for stroke in declared.each("strokes_mm") if not text else ():
        if not isinstance(stroke.value, list) or not 2 <= len(stroke.value) <= MOST_ITEMS:
            raise stroke.fault("a list of two points or more")
        rows = [JsonValue(item, f"{stroke.path}[{i}]") for i, item in enumerate(stroke.value)]
        lines.append(tuple(row.as_numbers(3) for row in rows))
    fact = declared.text("fact") if declared.has("fact") else None
    return DeclaredMark(fact, text, (x, y), height, declared.number("turn_deg"), tuple(lines))


def _contour(declared: JsonValue) -> Outline | Circle:
    try:
        if declared.has("radius_mm"):
            x, y = declared.numbers("centre_mm", 2)
            return Circle((x, y), declared.number("radius_mm"))
        rows = [row.as_numbers(3) for row in declared.each("vertices_mm")]
        following = [*rows[1:], *rows[:1]]
        # Two vertices may bound a disc, by arcs; two straight lines there and back bound nothing.
        if len(rows) < 3 and not any(row[2] for row in rows):
            raise JsonFault(f"{declared.path}: is no contour: it encloses nothing")
        return Outline(tuple(piece((a[0], a[1]), (b[0], b[1]), a[2]) for a, b in zip(rows, following, strict=True)))
    except OutlineError as error:
        raise JsonFault(f"{declared.path}: is no contour: {error}") from None


def _feature(declared: JsonValue, pieces: dict[str, int]) -> DeclaredFeature:
    """A feature whose contour and pieces are there, so that whoever measures need not ask."""
    contour = declared.one_of("contour", *pieces)
    numbers = tuple(number.as_whole() for number in declared.each("pieces"))
    if any(number >= pieces[contour] for number in numbers):
        raise declared.at("pieces").fault(f"numbers of the {pieces[contour]} pieces of {contour}")
    measure = next((key for key in _MEASURES if declared.has(key)), "")
    if not measure:
        raise JsonFault(f"{declared.path}: has no figure; one of {', '.join(_MEASURES)} must be there")
    return DeclaredFeature(
        declared.text("name"), declared.text("kind"), contour, numbers, measure, declared.number(measure)
    )


def _settings(declared: JsonValue) -> tuple[tuple[str, float, str], ...]:
    """Name, value and unit, "mm" or "deg"."""
    found = []
    for setting in declared.each("settings"):
        unit = "deg" if setting.has("value_deg") else "mm"
        found.append((setting.text("name"), setting.number(f"value_{unit}"), unit))
    return tuple(found)


def _placement(declared: JsonValue) -> DeclaredPlacement:
    origin, *axes = (cast(Vector, declared.numbers(key, 3)) for key in ("origin_mm", "x_axis", "y_axis", "z_axis"))
    # A Frame refuses axes that are not right-handed: nothing in a kit may stand as its own mirror image.
    try:
        return DeclaredPlacement(
            declared.text("name"), declared.one_of("state", "both", "R", "L"), Frame(origin, *axes)
        )
    except FrameError as error:
        raise JsonFault(f"{declared.path}: {error}") from None


def _file(declared: JsonValue) -> DeclaredFile:
    operations: tuple[Operation, ...] = OPERATIONS
    if declared.has("operations"):
        given = [item.value for item in declared.each("operations")]
        if not given or not all(isinstance(word, str) and word in OPERATIONS for word in given):
            raise declared.at("operations").fault(f"a list of {', '.join(OPERATIONS)}")
        operations = tuple(operation for operation in OPERATIONS if operation in given)
    name = declared.text("name")
    if not name.endswith((".dxf", ".svg")):
        raise declared.at("name").fault("the name of a .dxf or .svg file")
    x, y = declared.at("correction").numbers("moved_mm", 2) if declared.has("correction") else (0.0, 0.0)
    return DeclaredFile(
        name=name,
        compensation=cast(Compensation, declared.one_of("compensation", "included", "left out")),
        tool_mm=declared.number("tool_mm"),
        offset_mm=declared.number("offset_mm"),
        operations=operations,
        moved_mm=(x, y),  # so that all lines of a file for a crooked machine stay above 0
        shapes={
            key: declared.at("shapes").whole(key)
            for key in OPERATIONS
            if declared.has("shapes") and declared.at("shapes").has(key)
        },
        has_square=declared.at("has_reference_square").value is True if declared.has("has_reference_square") else True,
    )


def _sheet(declared: JsonValue, slugs: set[str]) -> DeclaredSheet:
    pieces = []
    for placed in declared.each("pieces"):
        frame = PlaneFrame(placed.number("x_mm"), placed.number("y_mm"), placed.number("turn_deg"))
        pieces.append((placed.one_of("part", *sorted(slugs)), frame))
    places = declared.each("screws_mm", _MOST_SCREWS) if declared.has("screws_mm") else ()
    screws = tuple((x, y) for x, y in (place.as_numbers(2) for place in places))
    return DeclaredSheet(
        name=declared.text("name"),
        length_mm=declared.number("length_mm"),
        width_mm=declared.number("width_mm"),
        pieces=tuple(pieces),
        files=tuple(_file(file) for file in declared.each("files", _MOST_FILES)),
        screws=screws if declared.has("screws_mm") else None,
    )
