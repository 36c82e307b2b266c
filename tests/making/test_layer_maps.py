"""The shop's map of operations to layers and files: whatever it says, the same lines lie in the same places."""

from dataclasses import replace
from functools import cache

import dxf_tags
import pytest
import svg_paths
from sample_jobs import DEMO, DEMO_SHOP

from jigmaker.job.shop import FileChoices, Layer
from jigmaker.making.cut_files import cut_files
from jigmaker.making.plan import Plan
from jigmaker.parts.kit import make_kit
from jigmaker.sheets.place import single_part_sheet
from jigmaker.sheets.sheet import Sheet
from jigmaker.trestle.solve import solve

SLUGS = ("plate", "end-bearer")
RENAMED = {
    "mark": Layer("Pencil_1", "#ff0000", 0.2),
    "inner": Layer("B$", "#00ff00", 0.5),
    "outer": Layer("c-3", "#123456", 1.0),
    "bridge": Layer("Hold", "#654321", 0.3),
    "note": Layer("Words", "#abcdef", 0.05),
}
UNWRITTEN = {key: replace(layer, write=key in ("inner", "outer")) for key, layer in DEMO_SHOP.layers.items()}
MAPS = {
    "as it comes": DEMO_SHOP,
    "renamed": replace(DEMO_SHOP, layers=RENAMED),
    "marks and notes left out": replace(DEMO_SHOP, layers=UNWRITTEN),
    "apart": replace(DEMO_SHOP, files=FileChoices(operations="apart", parts="both")),
    "renamed, apart": replace(DEMO_SHOP, files=FileChoices(operations="apart", parts="both"), layers=RENAMED),
    "apart, marks and notes left out": replace(
        DEMO_SHOP, files=FileChoices(operations="apart", parts="both"), layers=UNWRITTEN
    ),
}


@cache
def files_of(name):
    """The cut files of two parts and of a sheet with both, compensated."""
    shop = replace(MAPS[name], machine=replace(DEMO_SHOP.machine, compensation="included"))
    kit = make_kit(solve(DEMO), shop)
    kit = replace(kit, parts=tuple(part for part in kit.parts if part.slug in SLUGS))
    part_sheets = tuple(single_part_sheet(part, shop.machine.tool_mm) for part in kit.parts)
    plate, bearer = (sheet.placed[0] for sheet in part_sheets)
    bearer = replace(bearer, sheet_from_part=replace(bearer.sheet_from_part, y=250.0))
    both = Sheet("sheet-1", 600.0, 400.0, (plate, bearer))
    files = cut_files(Plan(DEMO, shop, kit, part_sheets, (both,), ()))
    return shop, [file for file in files if file.compensation == "included"]


def lines(name, operation, sheet, form):
    """What the files of a sheet hold on an operation's layer, layer and colour left out."""
    shop, files = files_of(name)
    layer = shop.layers[operation].name
    found = []
    for file in files:
        if file.sheet == sheet and file.name.endswith(form) and (operation in file.operations or operation == "note"):
            drawn = dxf_tags.contours(file.data) if form == ".dxf" else svg_paths.shapes(file.data)
            kept = [one for one in drawn if one.layer == layer]
            found.append([(one.is_closed, one.vertices if form == ".dxf" else one.pieces, one.circle) for one in kept])
    return found


@pytest.mark.parametrize("name", list(MAPS)[1:])
@pytest.mark.parametrize("form", [".dxf", ".svg"])
def test_geometry_is_the_same_whatever_the_map(name, form):
    """Each operation's lines in one file of each format, where they always lie; or nowhere, where it is not written."""
    shop, _ = files_of(name)
    for sheet in (*SLUGS, "sheet-1"):
        for operation in ("mark", "inner", "outer"):
            expected = lines("as it comes", operation, sheet, form) if shop.layers[operation].write else []
            assert len(expected) == shop.layers[operation].write
            assert lines(name, operation, sheet, form) == expected


@pytest.mark.parametrize("name", [name for name in MAPS if "apart" in name])
def test_each_operation_has_its_own_file(name):
    """Named after it, in cutting order, holding nothing else but the square, where there is one; all with one page."""
    shop, files = files_of(name)
    written = [key for key in ("mark", "inner", "outer") if shop.layers[key].write]
    for sheet in (*SLUGS, "sheet-1"):
        of_sheet = [file for file in files if file.sheet == sheet]
        assert [file.name.rsplit("-", 1)[1] for file in of_sheet] == [
            f"{key}.{form}" for key in written for form in ("dxf", "svg")
        ]
        for file, key in zip(of_sheet[::2], written, strict=True):
            assert file.operations == (key,)
            held = {one.layer for one in dxf_tags.contours(file.data)}
            wanted = {shop.layers[key].name} | ({shop.layers["note"].name} if shop.layers["note"].write else set())
            assert file.has_square == (sheet == "sheet-1" and shop.layers["note"].write)
            assert held == (wanted if file.has_square else {shop.layers[key].name})
            assert wanted == set(dxf_tags.layers(file.data)) - {"0", "DEFPOINTS", "Defpoints"}
        notes = lines(name, "note", sheet, ".dxf")
        assert all(note == notes[0] for note in notes)
        pages = {svg_paths.root(file.data).attrib["viewBox"] for file in of_sheet[1::2]}
        assert len(pages) == 1


def test_layers_carry_names_colours_and_widths():
    """As the shop says: the name in both formats, the colour in SVG, the nearest of DXF's line weights."""
    shop, files = files_of("renamed")
    dxf, svg = (
        next(f.data for f in files if f.sheet == "sheet-1" and f.name.endswith(form)) for form in (".dxf", ".svg")
    )
    weights = {"Pencil_1": "20", "B$": "50", "c-3": "100", "Words": "5"}
    assert {name: tags[370] for name, tags in dxf_tags.layers(dxf).items() if name in weights} == weights
    strokes = {
        one.layer: (one.attributes["stroke"], float(one.attributes["stroke-width"])) for one in svg_paths.shapes(svg)
    }
    drawn = [layer for key, layer in shop.layers.items() if key != "bridge"]  # this machine asks for none
    assert strokes == {layer.name: (layer.colour, layer.width_mm) for layer in drawn}
