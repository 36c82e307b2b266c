"""What goes wrong with SVG files in other programs, looked for in every file of three kits, and against their DXF."""

import re
from math import atan, sin

import pytest
from svg_paths import NAMESPACE, root
from trouble.written_kits import KITS, drawn, lines_of, written_kit

from jigmaker.geometry.outline import bounds_of

HAIRLINE_MM = 0.1
ROUNDING_MM = 2e-5  # the sixth decimal of an inch
INKSCAPE = "{http://www.inkscape.org/namespaces/inkscape}"

every_kit = pytest.mark.parametrize("name", KITS)


@every_kit
def test_the_page_is_as_large_as_it_says(name):
    """A page in pixels, or without a viewBox, is 3.78 times too large in one program and 1.07 times in the next."""
    for file in written_kit(name).of("svg"):
        page = root(file.data).attrib
        left, low, width, height = page["viewBox"].split()
        assert (left, low, page["width"], page["height"]) == ("0", "0", f"{width}mm", f"{height}mm"), file.name


@every_kit
def test_a_part_has_its_size_in_millimetres(name):
    """Also where the DXF beside it is in inches: a unit of the page is a millimetre."""
    kit = written_kit(name)
    for part, file in kit.part_files("svg"):
        if part.slug.startswith(("plate", "coupon", "foot-block")):
            (outer,) = [line for line in drawn(file) if line.layer == kit.layer("outer")]
            xs, ys = [p.real for p in outer.points], [p.imag for p in outer.points]
            grown = 2 * kit.offset_mm(file)
            size = (max(xs) - min(xs), max(ys) - min(ys))
            assert size == pytest.approx([nominal + grown for nominal in part.outline.bounds[2:]], abs=3e-6), file.name


@every_kit
def test_elements_and_attributes_that_every_program_reads_alike(name):
    """Style sheets are dropped, copies imported twice, transforms taken in the wrong order: there are none."""
    for file in written_kit(name).of("svg"):
        every = list(root(file.data).iter())
        assert {one.tag.removeprefix(NAMESPACE) for one in every} <= {"svg", "title", "desc", "g", "path", "circle"}
        keys = {key for one in every for key in one.attrib}
        page, shape = {"width", "height", "viewBox", "version", "baseProfile"}, {"fill", "stroke", "stroke-width"}
        passed_over = {
            f"{INKSCAPE}groupmode",
            f"{INKSCAPE}label",
        }  # of another namespace, which XML lets readers ignore
        assert keys <= page | shape | passed_over | {"id", "d", "cx", "cy", "r"}, (file.name, keys)
        ids = [one.attrib["id"] for one in every if "id" in one.attrib]
        assert len(ids) == len(set(ids)) and all(re.fullmatch(r"[A-Za-z_][\w.-]*", found) for found in ids)


@every_kit
def test_lines_are_hairlines_in_their_layers_colour_and_nothing_is_filled(name):
    """A fill is engraved and a fat line traced on both sides; the page's edge must cut no line in half."""
    kit = written_kit(name)
    layers = {layer.name: layer for layer in kit.plan.shop.layers.values()}
    for file in kit.of("svg"):
        page = root(file.data)
        for group in page.findall(f"{NAMESPACE}g"):
            layer = layers[group.findtext(f"{NAMESPACE}title")]
            for shape in group.findall(f"{NAMESPACE}path") + group.findall(f"{NAMESPACE}circle"):
                assert (shape.attrib["fill"], shape.attrib["stroke"]) == ("none", layer.colour), file.name
                assert 0 < float(shape.attrib["stroke-width"]) <= HAIRLINE_MM
        width, height = (float(size) for size in page.attrib["viewBox"].split()[2:])
        dots = [dot for line in drawn(file) for dot in line.dots(4)]
        assert min(min(dot) for dot in dots) > HAIRLINE_MM and max(x for x, _ in dots) < width - HAIRLINE_MM
        assert max(y for _, y in dots) < height - HAIRLINE_MM


@every_kit
def test_coordinates_are_bare_numbers(name):
    """A unit or a decimal comma inside path data, or nan, empties the drawing without a word."""
    number = r"-?\d+(\.\d+)?"
    grammar = re.compile(
        rf"(M{number} {number}( L{number} {number}| A{number} {number} 0 0 [01] {number} {number})+( Z)?\s?)+"
    )
    for file in written_kit(name).of("svg"):
        paths = [one.attrib["d"] for one in root(file.data).iter(f"{NAMESPACE}path")]
        assert paths and [path for path in paths if not grammar.fullmatch(path)] == [], file.name
        circles = [one.attrib[key] for one in root(file.data).iter(f"{NAMESPACE}circle") for key in ("cx", "cy", "r")]
        assert [value for value in circles if not re.fullmatch(number, value)] == []


@every_kit
def test_both_formats_hold_the_same_part_and_not_its_mirror_image(name):
    """y runs down in SVG: forgotten, a right-hand plate becomes a left-hand one, or its arcs bend the wrong way."""
    kit = written_kit(name)
    for svg, dxf in zip(kit.of("svg"), kit.of("dxf"), strict=True):
        assert svg.name.removesuffix("svg") == dxf.name.removesuffix("dxf")
        for one, other in zip(drawn(svg), drawn(dxf), strict=True):
            assert (one.layer, one.is_closed) == (other.layer, other.is_closed)
            assert _apart(one, other) < 2e-4, (svg.name, one, other)


def _apart(one, other):
    """How far two contours are from each other: by their points, middles of arcs included; strokes may run back."""
    if one.circle:
        return max(abs(a - b) for a, b in zip(one.circle, other.circle, strict=True))
    there, other_there = [(_stations(line)) for line in (one, other)]
    if len(there) != len(other_there):
        return float("inf")
    ways = [other_there, other_there[::-1]] if not one.is_closed else [other_there]
    return min(max(abs(a - b) for a, b in zip(there, way, strict=True)) for way in ways)


def _stations(line):
    """Start and middle of every piece; the middle of an arc lies bulge x half chord right of its chord."""
    found = [p for a, b, bulge in line.pieces for p in (a, (a + b) / 2 - 1j * (b - a) / 2 * bulge)]
    return found if line.is_closed else [*found, line.points[-1]]


@every_kit
@pytest.mark.parametrize("form", ["dxf", "svg"])
def test_files_hold_what_the_tool_should_follow_in_its_place(name, form):
    """Contours rounded piece by piece gape, and a drawing far from its origin runs off the sheet."""
    kit = written_kit(name)
    for file in kit.of(form):
        cut = kit.cut(file)
        found = [line for line in drawn(file) if line.layer != kit.layer("note")]
        for line, (_, shape) in zip(found, lines_of(cut), strict=True):
            low, box = bounds_of([shape]), line.dots(32)
            assert (min(x for x, _ in box), min(y for _, y in box)) == pytest.approx(low[:2], abs=5e-3), file.name
            if line.is_closed and not line.circle:
                assert _area(line) == pytest.approx(shape.area, abs=0.05)
        free = kit.plan.shop.sheet.margin_mm if file.name.startswith("sheets") else 10.0
        cuts = [dot for line in found if line.is_closed for dot in line.dots(16)]
        assert min(min(dot) for dot in cuts) >= free - ROUNDING_MM
        assert (
            max(x for x, _ in cuts) <= cut.length_mm - free + ROUNDING_MM
            and max(y for _, y in cuts) <= cut.width_mm - free + ROUNDING_MM
        )


def _area(line):
    """Signed area in mm2, arcs' segments included: each adds chord^2 / 4 x (turn - sin turn) / 2 sin^2(turn / 2)."""
    total = 0.0
    for a, b, bulge in line.pieces:
        total += (a.conjugate() * b).imag / 2
        if bulge:
            turn = 4 * atan(bulge)
            total += (abs(b - a) / 2 / sin(turn / 2)) ** 2 * (turn - sin(turn)) / 2
    return total
