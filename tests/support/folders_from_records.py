"""Folders as the judge works on them, built from the kit's records without writing and reading files: job and shop in.

Every cut file's contours are those that the machine's files are drawn from; kit.json is told from them.
"""

from dataclasses import replace

from jigmaker.cutting.compensate import compensate
from jigmaker.cutting.holding import holdings, is_told
from jigmaker.geometry.strokes import Strokes
from jigmaker.making.json_text import json_text
from jigmaker.making.numbers_json import all_numbers
from jigmaker.parts.kit import make_kit
from jigmaker.proof.contours import ReadContour, contours_of
from jigmaker.proof.readers.read_folder import read_numbers
from jigmaker.proof.records import (
    DeclaredFeature,
    DeclaredFile,
    DeclaredKit,
    DeclaredMark,
    DeclaredPart,
    DeclaredPlacement,
    DeclaredSheet,
    Folder,
    ReadFile,
)
from jigmaker.sheets.place import place, single_part_sheet
from jigmaker.trestle.solve import solve


def folder_of(job, shop, forms=("dxf",), with_sheets=True, placed=None):
    """The folder that make would write for them, as read; without sheets, or with sheets that were placed already, it
    is made in a third of the time."""
    kit = make_kit(solve(job), shop)
    sheets = placed or (place(kit.parts, shop) if with_sheets else ())
    singles = [single_part_sheet(part, shop.machine.tool_mm) for part in kit.parts]
    files, told = {}, {}
    for sheet in (*singles, *sheets):
        for compensation in _compensations(shop):
            cut = compensate(sheet, shop.machine, compensation, shop.files.unit)
            for form in forms:
                name = f"{sheet.name}-{compensation.replace(' ', '-')}.{form}"
                files[name] = _read(name, form, cut, shop)
                square = cut.square_at is not None and shop.layers["note"].write
                told.setdefault(sheet.name, []).append(
                    DeclaredFile(name, compensation, cut.tool_mm, cut.offset_mm, has_square=square)
                )
    held = {each.part.slug: each.how for each in holdings(kit.parts, shop.machine)}
    parts = tuple(
        replace(told_part(part, tuple(told[part.slug])), held_by=held[part.slug] if is_told(shop.machine) else "")
        for part in kit.parts
    )
    told_sheets = tuple(_sheet(sheet, tuple(told[sheet.name])) for sheet in sheets)
    numbers = read_numbers({"numbers.json": json_text(all_numbers(kit.trestle, shop))}, [])
    return Folder(
        job, shop, DeclaredKit(parts, told_sheets, _settings(kit.settings), {}, kit_number=kit.number), files, numbers
    )


def with_part_of_kit(folder, part):
    """The folder with one part of the kit told and cut anew, by its own files; no sheets."""
    old = next(told for told in folder.kit.parts if told.slug == part.slug)
    sheet, files = single_part_sheet(part, folder.shop.machine.tool_mm), dict(folder.files)
    for file in old.files:
        cut = compensate(sheet, folder.shop.machine, file.compensation, folder.shop.files.unit)
        files[file.name] = _read(file.name, file.form, cut, folder.shop)
    parts = tuple(told_part(part, old.files) if told is old else told for told in folder.kit.parts)
    return replace(folder, kit=replace(folder.kit, parts=parts, sheets=()), files=files)


def _compensations(shop):
    asked = shop.machine.compensation
    return ("included", "left out") if asked == "both" else (asked,)


def _read(name, form, cut, shop):
    shapes = [
        (shop.layers[contour.operation].name, shape)
        for contour in cut.contours
        for shape in (contour.shape if isinstance(contour.shape, Strokes) else [contour.shape])
    ]
    contours = [ReadContour(layer, shape, f"contour {i}") for i, (layer, shape) in enumerate(shapes)]
    layers = tuple(layer.name for layer in shop.layers.values())
    return ReadFile(name, form, shop.files.unit, cut.length_mm, cut.width_mm, layers, contours_of(contours))


def _settings(settings):
    return tuple((setting.name, setting.value, setting.unit) for setting in settings)


def told_part(part, files):
    """A part as kit.json tells it."""
    return DeclaredPart(
        name=part.name,
        slug=part.slug,
        assembly=part.assembly,
        hand=part.hand,
        needed=part.needed,
        spares=part.spares,
        thickness_mm=part.thickness_mm,
        outline=part.outline,
        holes=tuple((hole.name, hole.contour) for hole in part.holes),
        features=tuple(DeclaredFeature(f.name, f.kind, f.contour, f.pieces, f.measure, f.value) for f in part.features),
        settings=_settings(part.settings),
        placements=tuple(DeclaredPlacement(p.name, p.state, p.assembly_from_part) for p in part.placements),
        files=files,
        least_wood_mm=dict(part.least_wood_mm),
        marks=tuple(_mark(mark) for mark in part.marks),
    )


def _mark(mark):
    rows = () if mark.text else tuple(tuple(_row(segment) for segment in each.segments) for each in mark.strokes)
    ends = () if mark.text else tuple((*each.segments[-1].end, 0.0) for each in mark.strokes)
    lines = tuple((*row, end) for row, end in zip(rows, ends, strict=True))
    return DeclaredMark(mark.fact, mark.text, mark.at, mark.height_mm, mark.turn_deg, lines)


def _row(segment):
    return (*segment.start, segment.bulge)


def _sheet(sheet, files):
    pieces = tuple((placed.part.slug, placed.sheet_from_part) for placed in sheet.placed)
    return DeclaredSheet(sheet.name, sheet.length_mm, sheet.width_mm, pieces, files)
