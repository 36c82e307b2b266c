"""SVG files read back by a path reader of our own and by a stranger, rendered, and compared with the DXF's hand."""

import re
from io import BytesIO
from math import pi
from xml.etree import ElementTree

import pytest
import resvg_py
import svgelements
from dxf_tags import contours
from png_pixels import pixels
from pytest import approx
from sample_pictures import BOW, FOOT, LAYERS, PIN, SLOT, sample_picture
from shapely.geometry import Point, Polygon
from svg_paths import NAMESPACE, centre, root, shapes

from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer
from jigmaker.errors import OutOfRange
from jigmaker.geometry.outline import Arc, Circle, Line, Outline, Stroke
from jigmaker.writers.dxf import write_dxf
from jigmaker.writers.svg import write_svg


@pytest.fixture(scope="module")
def written() -> bytes:
    return write_svg(sample_picture())


def test_page_is_one_to_one(written: bytes) -> None:
    """Width and height in mm, the same numbers in the viewBox, so a user unit is a millimetre in any reader."""
    page = root(written).attrib
    assert (page["width"], page["height"], page["viewBox"]) == ("130mm", "90mm", "0 0 130 90")


def test_elements_and_attributes(written: bytes) -> None:
    """Six elements; no transform, style, class or reference; fill none, stroke and hairline on every shape itself."""
    every = list(root(written).iter())
    assert {e.tag.removeprefix(NAMESPACE) for e in every} == {"svg", "title", "desc", "g", "path", "circle"}
    assert not {"transform", "style", "class", "href"} & {key for e in every for key in e.attrib}
    declared = {layer.name: layer for layer in LAYERS}
    for shape in shapes(written):
        layer = declared[shape.layer]
        assert shape.attributes["fill"] == "none" and shape.attributes["stroke"] == layer.colour
        assert float(shape.attributes["stroke-width"]) == layer.width_mm


def test_order_is_kept(written: bytes) -> None:
    """Shapes in drawing order, layer by layer."""
    assert [shape.layer for shape in shapes(written)] == [drawn.layer for drawn in sample_picture().shapes]


def test_a_layer_that_comes_again_has_another_group() -> None:
    """Order before grouping: ids stay unique and legal, titles keep the names."""
    layers = (
        PictureLayer("6 mm", "#ff0000", 0.1),
        PictureLayer("6/mm", "#0000ff", 0.1),
        PictureLayer("Ä", "#00ff00", 0.1),
    )
    stroke = Stroke.from_points([(1, 1), (2, 2)])
    order = ["6 mm", "6/mm", "6 mm", "Ä", "6 mm"]
    written = write_svg(Picture("", 9, 9, layers, tuple(DrawnShape(name, stroke) for name in order)))
    groups = root(written).findall(f"{NAMESPACE}g")
    assert [group.findtext(f"{NAMESPACE}title") for group in groups] == order
    ids = [group.attrib["id"] for group in groups]
    assert len(set(ids)) == 5 and all(re.fullmatch(r"[A-Za-z_][A-Za-z0-9_.-]*", found) for found in ids)


def test_groups_are_layers_in_inkscape() -> None:
    """Its documentation: a group with groupmode "layer" is a layer, and its label is what the layers' list shows."""
    space = "{http://www.inkscape.org/namespaces/inkscape}"
    written = write_svg(Picture("", 9, 9, (PictureLayer("6 mm", "#ff0000", 0.1),), (DrawnShape("6 mm", BOW),)))
    (group,) = root(written).findall(f"{NAMESPACE}g")
    assert (group.attrib[f"{space}groupmode"], group.attrib[f"{space}label"]) == ("layer", "6 mm")


def test_ids_say_what_a_shape_is() -> None:
    """Numbered, and apart from those of other files, which one page may take in."""
    names = ["foot-mark", "foot-inner", "foot-inner", "foot-outer", ""]
    layers = ["SCORED", "INSIDE", "INSIDE", "OUTSIDE", "SCORED"]
    drawn = [DrawnShape(layer, PIN, name) for layer, name in zip(layers, names, strict=True)]
    picture = Picture("", 130, 90, LAYERS, tuple(drawn))
    found = [shape.attributes.get("id", "") for shape in shapes(write_svg(picture, "bench-1"))]
    plain = ("foot-mark-1", "foot-inner-1", "foot-inner-2", "foot-outer-1")
    assert found == [*(f"{name}--bench-1" for name in plain), ""]
    every = re.findall(b' id="([^"]*)"', write_svg(picture, "bench-1") + write_svg(picture, "bench-2"))
    assert len(set(every)) == len(every) == 2 * (4 + 4)


def test_numbers_are_plain(written: bytes) -> None:
    """Six decimals at most, no exponent, no -0, no unit suffix in path data, nothing outside the page."""
    numbers = [n for s in shapes(written) for key in ("d", "cx", "cy", "r") for n in s.attributes.get(key, "").split()]
    assert len(numbers) > 200
    assert [n for n in numbers if not re.fullmatch(r"[MLAZ]?(0|[1-9]\d*)?(\.\d{0,5}[1-9])?", n)] == []
    assert all(
        0 <= point.real <= 130 and 0 <= point.imag <= 90 for s in shapes(written) for p in s.pieces for point in p[:2]
    )


def test_closed_contours(written: bytes) -> None:
    """Outlines end in Z; their areas are those of the outlines, arcs included; scored strokes are open."""
    slot, pin, foot = shapes(written)[-3:]
    assert (slot.is_closed, foot.is_closed) == (True, True)
    assert (foot.area, slot.area) == approx((FOOT.area, SLOT.area), abs=1e-4)
    assert (len(foot.pieces), len(slot.pieces)) == (8, 8)
    assert pin.circle == approx((100, 20, 3.05))
    assert not any(shape.is_closed for shape in shapes(written) if shape.layer == "SCORED")


def test_same_hand_as_the_dxf(written: bytes) -> None:
    """Turned back over, every vertex is the DXF's vertex and every arc bends to the same side."""
    drawn = zip(shapes(written), contours(write_dxf(sample_picture())), strict=True)
    compared = 0
    for shape, contour in drawn:
        if contour.kind == "LWPOLYLINE":
            starts = [(p[0].real, p[0].imag) for p in shape.pieces]
            assert starts == [approx(v[:2], abs=1e-6) for v in contour.vertices[: len(starts)]]
            bends = [0 if not p[2] else 1 if p[3] else -1 for p in shape.pieces]
            assert bends == [(v[2] > 0) - (v[2] < 0) for v in contour.vertices[: len(starts)]]
            compared += 1
        elif contour.kind == "ARC":
            assert centre(shape.pieces[0]) == approx(complex(*contour.circle[:2]), abs=1e-5)
            compared += 1
    assert compared > 10
    assert shapes(written)[-2].circle[0] > 65 and shapes(written)[-2].circle[1] < 45


def test_a_stranger_reads_the_same(written: bytes) -> None:
    """Another library, at 25.4 dots an inch, finds the same lengths and boxes, y down."""
    page = svgelements.SVG.parse(BytesIO(written), ppi=25.4)
    assert (page.width, page.height) == approx((130, 90))
    found = [e for e in page.elements() if isinstance(e, svgelements.Path | svgelements.Circle)]
    for element, drawn in zip(found, sample_picture().shapes, strict=True):
        x_low, y_low, x_high, y_high = drawn.shape.bounds
        assert element.bbox(with_stroke=False) == approx((x_low, 90 - y_high, x_high, 90 - y_low), abs=1e-3)
        assert svgelements.Path(element).length(error=1e-6) == approx(drawn.shape.length, rel=1e-4)


@pytest.mark.parametrize("x", [3.3333333, 7.77777777, 10.1234567])
def test_half_turns_stay_exact(x: float) -> None:
    """Half a disc over an odd chord keeps its centre on the chord, whatever the radius' last decimal rounds to."""
    half_disc = Outline((Line((0, 0), (x, 5)), Arc((x, 5), (0, 0), 1.0)))
    shape = shapes(write_svg(Picture("", 20, 20, LAYERS, (DrawnShape("OUTSIDE", half_disc),))))[0]
    assert centre(shape.pieces[1]) == approx(complex(x / 2, 2.5), abs=1e-5)
    assert shape.area == approx(pi * (x**2 + 25) / 8, abs=1e-4)


def test_rendered_area() -> None:
    """Filled black and rendered, the contours darken as much as their polygons are large, and in the right corners."""
    slot, pin, foot = sample_picture().shapes[-3:]
    # The foot goes to the back, so that the holes filled white show on it.
    svg = write_svg(Picture("", 130, 90, LAYERS, (foot, slot, pin))).decode()
    svg = re.sub(r' stroke="[^"]*" stroke-width="[^"]*"', "", svg)
    svg = svg.replace('fill="none"', 'fill="#000"', 1).replace('fill="none"', 'fill="#fff"')
    scale = 5
    picture = pixels(resvg_py.svg_to_bytes(svg_string=svg, background="#ffffff", dpi=25.4 * scale))
    assert picture.shape == (90 * scale, 130 * scale, 4)
    dark = 1 - picture[:, :, 0] / 255
    expected = Polygon(FOOT.points(), [SLOT.points(), PIN.points()])
    assert dark.sum() / scale**2 == approx(expected.area, rel=5e-4)
    for x, y in ((100, 20), (116, 8), (25, 71), (15, 10), (55, 30), (115, 60), (115, 30), (60, 70)):
        assert (dark[round((90 - y) * scale), round(x * scale)] > 0.5) == expected.contains(Point(x, y)), (x, y)


def test_tiny_pieces_and_odd_sizes() -> None:
    """Sizes with long fractions are rounded alike in all places; pieces under the last decimal fall away."""
    thin = Outline(
        (
            Line((0, 0), (20, 0)),
            Line((20, 0), (20.0000013, 1e-7)),
            Line((20.0000013, 1e-7), (7, 9)),
            Line((7, 9), (0, 0)),
        )
    )
    written = write_svg(Picture("", 100 / 3, 0.1 + 0.2, LAYERS, (DrawnShape("OUTSIDE", thin),)))
    page = root(written).attrib
    assert (page["width"], page["height"], page["viewBox"]) == ("33.333333mm", "0.3mm", "0 0 33.333333 0.3")
    assert shapes(written)[0].attributes["d"] == "M0 0.3 L20 0.3 L20.000001 0.3 L7 -8.7 Z"


def test_empty_picture_is_a_page() -> None:
    """No shapes, no groups."""
    written = write_svg(Picture("", 10, 10, LAYERS, ()))
    assert shapes(written) == [] and ElementTree.fromstring(written).findall(f"{NAMESPACE}g") == []


def test_undeclared_layer() -> None:
    """Refused, not drawn black."""
    with pytest.raises(OutOfRange, match='layer "OTHER", which the picture does not declare'):
        write_svg(Picture("", 9, 9, LAYERS, (DrawnShape("OTHER", Circle((1, 1), 1)),)))
