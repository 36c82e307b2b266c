"""DXF files read back by a reader of our own and by the library, both versions and both units."""

import re
from collections import Counter
from io import BytesIO, StringIO
from math import pi
from pathlib import Path

import ezdxf
import pyogrio
import pytest
from dxf_tags import contours, entries, header, layers, tags
from ezdxf import recover
from pytest import approx
from sample_pictures import FOOT, LAYERS, PIN, SLOT, sample_picture

from jigmaker.drawing.picture import DrawnShape, Picture, PictureLayer
from jigmaker.errors import OutOfRange
from jigmaker.geometry.outline import Circle, Line, Outline, Stroke
from jigmaker.proof.readers.read_dxf import read_dxf
from jigmaker.units import Unit
from jigmaker.writers.dxf import Version, write_dxf

BOTH = ("R2000", "R12")
EVERY = [(version, unit) for version in BOTH for unit in ("mm", "in")]


@pytest.fixture(scope="module")
def files() -> dict[tuple[str, str], bytes]:
    return {(v, u): write_dxf(sample_picture(), v, u) for v, u in EVERY}  # type: ignore[arg-type]


@pytest.mark.parametrize("kind", EVERY)
def test_library_finds_no_fault(files: dict[tuple[str, str], bytes], kind: tuple[str, str]) -> None:
    """The library reads the file and its audit has nothing to repair."""
    document = ezdxf.read(StringIO(files[kind].decode("ascii")))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    assert document.acad_release == kind[0]
    assert len(document.modelspace()) == len(sample_picture().shapes)


# Published: INSUNITS, 1 inches, 4 millimetres; MEASUREMENT, 0 imperial, 1 metric; version strings of the DXF reference.
@pytest.mark.parametrize(("unit", "insunits", "measurement"), [("mm", "4", "1"), ("in", "1", "0")])
def test_header_tells_the_unit(
    files: dict[tuple[str, str], bytes], unit: Unit, insunits: str, measurement: str
) -> None:
    """Both variables agree with each other and with the coordinates, in both versions; the print scale is 1."""
    for version, number in (("R2000", "AC1015"), ("R12", "AC1009")):
        found = header(files[version, unit])
        assert (found["$INSUNITS"], found["$MEASUREMENT"]) == ([insunits], [measurement])
        assert found["$ACADVER"] == [number]
    assert header(files["R2000", unit])["$PSVPSCALE"] == ["1.0"]


@pytest.mark.parametrize(("unit", "words"), [("mm", "1 drawing unit = 1 mm"), ("in", "1 drawing unit = 1 inch")])
def test_r12_tells_the_unit_in_a_comment(files: dict[tuple[str, str], bytes], unit: Unit, words: str) -> None:
    """R12 knew no variable for it; the comment stands before the first section."""
    written = tags(files["R12", unit])
    head = written[: written.index((0, "SECTION"))]
    assert {code for code, _ in head} == {999} and any(words in value for _, value in head)


@pytest.mark.parametrize("kind", EVERY)
def test_extents_limits_and_view(files: dict[tuple[str, str], bytes], kind: tuple[str, str]) -> None:
    """The header has the true box and the page, and the active view holds both: the file does not open blank."""
    found, size = header(files[kind]), 25.4 if kind[1] == "in" else 1.0
    box = [float(value) * size for name in ("$EXTMIN", "$EXTMAX") for value in found[name]]
    assert box == approx([10.1, 5, 0, 120, 75, 0], abs=2e-5)
    assert [float(v) * size for v in found["$LIMMIN"] + found["$LIMMAX"]] == approx([0, 0, 130, 90], abs=2e-5)
    view = next(dict(body) for kind, body in entries(files[kind], "TABLES") if kind == "VPORT")
    assert view[2] == "*Active"
    assert (float(view[12]) * size, float(view[22]) * size) == approx((65, 45), abs=2e-5)
    assert float(view[40]) * size >= 90 and float(view[40]) * float(view[41]) * size >= 130


@pytest.mark.parametrize(
    ("width_mm", "weight"), [(0.13, 13), (0.35, 35), (0.7, 70), (0.72, 70), (1.0, 100), (1.4, 140)]
)
def test_a_layer_has_the_nearest_of_the_line_weights_there_are(width_mm: float, weight: int) -> None:
    """Widths of ISO 128-2 (from memory) are among them, in hundredths of a millimetre."""
    layer = PictureLayer("LINE", "#000000", width_mm)
    shape = DrawnShape("LINE", Stroke.from_points([(10, 10), (20, 20)]))
    assert layers(write_dxf(Picture("sample", 100.0, 60.0, (layer,), (shape,))))["LINE"][370] == str(weight)


@pytest.mark.parametrize("ends", [((-30, -40), (150, 90)), ((-300, -10), (90, 50)), ((20, -400), (30, 70))])
def test_the_view_holds_what_lies_off_the_page(ends: tuple[tuple[float, float], tuple[float, float]]) -> None:
    """Page and line whole, on a screen wider than high or not; they fill it one way, so that nothing opens as a dot."""
    shape = DrawnShape(LAYERS[0].name, Stroke.from_points(ends))
    written = write_dxf(Picture("sample", 100.0, 60.0, LAYERS, (shape,)))
    view = next(dict(body) for kind, body in entries(written, "TABLES") if kind == "VPORT")
    height = float(view[40])
    share = []
    for middle, size, page, at in ((12, height * float(view[41]), 100.0, 0), (22, height, 60.0, 1)):
        low, high = min(0, ends[0][at], ends[1][at]), max(page, ends[0][at], ends[1][at])
        assert float(view[middle]) == approx((low + high) / 2)
        share.append((high - low) / size)
    assert 0.9 < max(share) <= 1


@pytest.mark.parametrize("kind", EVERY)
def test_numbers_are_plain(files: dict[tuple[str, str], bytes], kind: tuple[str, str]) -> None:
    """Seven-bit ASCII; no exponent, no -0, six decimals at most, no 1e+20 written out; extrusion 0, 0, 1 only."""
    assert max(files[kind]) < 0x80
    real = [value for code, value in tags(files[kind]) if 10 <= code < 60 or 110 <= code < 150 or 210 <= code < 240]
    assert len(real) > 200
    assert [v for v in real if not re.fullmatch(r"-?\d{1,7}\.\d{1,6}", v) or re.fullmatch(r"-0\.0*", v)] == []
    outward = [
        (code, float(v)) for body in entries(files[kind], "ENTITIES") for code, v in body[1] if code in (210, 220, 230)
    ]
    assert set(outward) <= {(210, 0.0), (220, 0.0), (230, 1.0)}


@pytest.mark.parametrize("kind", EVERY)
def test_entities(files: dict[tuple[str, str], bytes], kind: tuple[str, str]) -> None:
    """One entity a shape in drawing order, only kinds that every reader knows, on declared layers in their colour."""
    found, table = contours(files[kind]), layers(files[kind])
    assert [c.layer for c in found] == [drawn.layer for drawn in sample_picture().shapes]
    polyline = "LWPOLYLINE" if kind[0] == "R2000" else "POLYLINE"
    assert {c.kind for c in found} == {polyline, "CIRCLE", "LINE", "ARC"}
    assert {c.kind for c in found if c.layer != "SCORED"} == {polyline, "CIRCLE"}
    assert all(int(table[c.layer][62]) == c.colour for c in found) and "0" not in {c.layer for c in found}


# ACI: 1 red, 5 blue, 7 black or white by background (published table).
def test_layer_table(files: dict[tuple[str, str], bytes]) -> None:
    """Name, colour index and line weight (group code 370, hundredths of a mm) of every layer, its line continuous."""
    for version in BOTH:
        table = layers(files[version, "mm"])
        assert [table[name][62] for name in ("SCORED", "INSIDE", "OUTSIDE")] == ["5", "1", "7"]
        assert {table[name][6].upper() for name in ("SCORED", "INSIDE", "OUTSIDE")} == {"CONTINUOUS"}
    assert [layers(files["R2000", "mm"])[name][370] for name in ("SCORED", "INSIDE", "OUTSIDE")] == ["9", "13", "20"]


def test_closed_contours(files: dict[tuple[str, str], bytes]) -> None:
    """Closed by the flag, first vertex not repeated, no vertex twice, bulges at most 1, areas to the last digit."""
    slot, pin, foot = contours(files["R2000", "mm"])[-3:]
    for contour in (slot, foot):
        assert contour.is_closed and len({v[:2] for v in contour.vertices}) == len(contour.vertices)
        assert max(abs(v[2]) for v in contour.vertices) <= 1
    assert (len(foot.vertices), len(slot.vertices)) == (8, 8)
    assert (foot.area, slot.area) == approx((FOOT.area, SLOT.area), abs=1e-3)
    assert pin.circle == (100, 20, 3.05)
    # By hand: a box 109.9 x 70 less the triangle, the corner's and the half disc's loss.
    assert foot.area == approx(109.9 * 70 - 50 * 39.876544 / 2 - (1 - pi / 4) * 100 - pi * 50, abs=1e-3)


def test_it_is_the_same_hand(files: dict[tuple[str, str], bytes]) -> None:
    """x to the right, y up: the pin is at the lower right, the half disc is lost at the top left."""
    _, pin, foot = contours(files["R2000", "mm"])[-3:]
    assert pin.circle[0] > 65 and pin.circle[1] < 45
    assert next((x, y) for x, y, bulge in foot.vertices if bulge == -1) == (40, 75)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_versions_agree(files: dict[tuple[str, str], bytes], unit: Unit) -> None:
    """R12 has the same contours as R2000, vertex by vertex: layer, colour, closed flag, coordinates, bulges."""
    one, other = contours(files["R2000", unit]), contours(files["R12", unit])
    assert [(c.layer, c.colour, c.is_closed, c.vertices, c.circle) for c in one] == [
        (c.layer, c.colour, c.is_closed, c.vertices, c.circle) for c in other
    ]


def test_inches_are_divided(files: dict[tuple[str, str], bytes]) -> None:
    """Every coordinate over 25.4 to 1e-6, bulges and turns as they are. An inch is 25.4 mm exactly since 1959."""
    for mm, inch in zip(contours(files["R2000", "mm"]), contours(files["R2000", "in"]), strict=True):
        assert [(x / 25.4, y / 25.4, b) for x, y, b in mm.vertices] == [approx(v, abs=1e-6) for v in inch.vertices]
        assert [value / 25.4 for value in mm.circle[:3]] == approx(list(inch.circle[:3]), abs=1e-6)
        assert mm.circle[3:] == approx(inch.circle[3:], abs=2e-3)


def test_open_strokes(files: dict[tuple[str, str], bytes]) -> None:
    """An arc alone is an ARC, run anticlockwise whichever way it was drawn; a stroke that comes home is closed."""
    bow, loop = contours(files["R2000", "mm"])[-5:-3]
    x, y, radius, first, last = bow.circle
    # By hand: chord 10, rise 1.5, so r = (25 + 2.25) / 3 and the centre lies r - 1.5 below the chord.
    assert (x, y, radius) == approx((85, 41.5 - 27.25 / 3, 27.25 / 3), abs=1e-6)
    assert 0 < first < 90 < last < 180 and first + last == approx(180, abs=1e-5)
    assert loop.is_closed and [v[:2] for v in loop.vertices] == [(30, 60), (36, 60)]


@pytest.mark.parametrize("version", BOTH)
def test_tiny_and_negative_zero(version: Version) -> None:
    """Values whose repr has an exponent or a minus are written plainly; pieces under the last decimal fall away."""
    outline = Outline(
        (
            Line((1.2e-05, -1e-9), (20, 0.1 + 0.2)),
            Line((20, 0.1 + 0.2), (20.0000013, 0.1 + 0.2)),
            Line((20.0000013, 0.1 + 0.2), (7, 9)),
            Line((7, 9), (1.2e-05, -1e-9)),
        )
    )
    picture = Picture(
        "", 20, 10, LAYERS, (DrawnShape("OUTSIDE", outline), DrawnShape("INSIDE", Circle((5, 3), 1.3e-05)))
    )
    written = write_dxf(picture, version)
    assert b"e-" not in written and b"-0.0\n" not in written
    assert contours(written)[0].vertices == ((0.000012, 0, 0), (20, 0.3, 0), (20.000001, 0.3, 0), (7, 9, 0))
    assert len(contours(write_dxf(picture, version, "in"))[0].vertices) == 3


@pytest.mark.parametrize("version", BOTH)
def test_empty_picture(version: Version) -> None:
    """A page without shapes shows the page."""
    written = write_dxf(Picture("", 100, 50, LAYERS, ()), version)
    assert contours(written) == [] and header(written)["$EXTMAX"] == ["100.0", "50.0", "0.0"]


@pytest.mark.parametrize(
    ("colour", "index"),
    [("#ff0000", 1), ("#ffff00", 2), ("#00ff00", 3), ("#00ffff", 4), ("#0000ff", 5), ("#ff00ff", 6), ("#ffffff", 7)]
    + [("#808080", 8), ("#c0c0c0", 9), ("#000000", 7), ("#fe0201", 1), ("#0000FF", 5)],
)
def test_colours(colour: str, index: int) -> None:
    """The published palette is met exactly, other colours by the nearest; black is the one that shows on white."""
    shape = DrawnShape("ANY", Stroke.from_points([(0, 0), (1, 1)]))
    written = write_dxf(Picture("", 9, 9, (PictureLayer("ANY", colour, 0.1),), (shape,)))
    assert (layers(written)["ANY"][62], contours(written)[0].colour) == (str(index), index)


@pytest.mark.parametrize(
    ("names", "version", "words"),
    [
        (["Defpoints"], "R2000", "is one that no DXF reader prints; choose another"),
        (["Jig 3/4"], "R2000", 'layer name "Jig 3/4" cannot be written to DXF R2000; use 1 to 255 printable signs'),
        ([""], "R2000", "cannot be written"),
        (["cut "], "R2000", "cannot be written"),
        (["W" * 256], "R2000", "cannot be written"),
        (["\U0001f600"], "R2000", "cannot be written"),
        (["a\nb"], "R2000", "cannot be written"),
        (["cut"], "R12", 'layer name "cut" cannot be written to DXF R12; use 1 to 31 of A-Z, 0-9'),
        (["6 MM"], "R12", "cannot be written to DXF R12"),
        (["W" * 32], "R12", "cannot be written to DXF R12"),
        (["CUT", "Cut"], "R2000", 'layers "CUT" and "Cut" are one layer in DXF; name them apart'),
    ],
)
def test_bad_layer_names(names: list[str], version: Version, words: str) -> None:
    """Refused by the rule of the version, with the right form."""
    picture = Picture("", 9, 9, tuple(PictureLayer(name, "#ff0000", 0.1) for name in names), ())
    with pytest.raises(OutOfRange, match=words):
        write_dxf(picture, version)


def test_undeclared_layer() -> None:
    """A shape on a layer that the picture does not have is refused, not put on layer 0."""
    with pytest.raises(OutOfRange, match='layer "OTHER", which the picture does not declare'):
        write_dxf(Picture("", 9, 9, LAYERS, (DrawnShape("OTHER", PIN),)))


def test_library_is_left_as_it_was(caplog: pytest.LogCaptureFixture) -> None:
    """Its option for fixed dates is put back, also after an error, and nothing is logged for R12."""
    for fixed in (False, True):
        ezdxf.options.write_fixed_meta_data_for_testing = fixed
        write_dxf(sample_picture(), "R12")
        with pytest.raises(OutOfRange, match="does not declare"):
            write_dxf(Picture("", 9, 9, LAYERS, (DrawnShape("OTHER", PIN),)))
        assert ezdxf.options.write_fixed_meta_data_for_testing is fixed
    ezdxf.options.write_fixed_meta_data_for_testing = False
    assert caplog.records == []


def test_layer_names_with_signs_and_layer_0(tmp_path: Path) -> None:
    """Blanks, signs of the file's code page and others, and the layer that every file has, as others read them."""
    layers = tuple(
        PictureLayer(name, colour, 0.2)
        for name, colour in (("Score 1 (fine)", "#ff0000"), ("Außen", "#0000ff"), ("外", "#00ff00"), ("0", "#ff00ff"))
    )
    shapes = tuple(DrawnShape(layer.name, Circle((9 * i + 9, 5), 2)) for i, layer in enumerate(layers))
    data = write_dxf(Picture("", 60, 10, layers, shapes))
    document, audit = recover.read(BytesIO(data))
    seen = [(entity.dxf.layer, document.layers.get(entity.dxf.layer).color) for entity in document.modelspace()]
    assert seen == [("Score 1 (fine)", 1), ("Außen", 5), ("外", 3), ("0", 6)]
    assert (audit.errors, audit.fixes) == ([], [])
    (tmp_path / "x.dxf").write_bytes(data)
    by_gdal = list(pyogrio.raw.read(tmp_path / "x.dxf", columns=["Layer"])[3][0])
    assert by_gdal == ["Score 1 (fine)", "Außen", r"\U+5916", "0"]  # it leaves such spellings as they are
    (ours, _) = read_dxf("x.dxf", data)
    assert [contour.layer for contour in ours.contours] == [layer.name for layer in layers]


@pytest.mark.parametrize("version", BOTH)
def test_cuts_as_lines_and_arcs(version: Version) -> None:
    """On the layers that are named: piece by piece, each beginning where the one before ended; marks as they were."""
    plain = contours(write_dxf(sample_picture(), version))
    apart = contours(write_dxf(sample_picture(), version, apart=frozenset(("INSIDE", "OUTSIDE"))))
    cuts = [one for one in apart if one.layer != "SCORED"]
    assert [one for one in apart if one.layer == "SCORED"] == [one for one in plain if one.layer == "SCORED"]
    assert Counter((one.layer, one.kind) for one in cuts) == {
        ("INSIDE", "LINE"): 4,
        ("INSIDE", "ARC"): 4,
        ("INSIDE", "CIRCLE"): 1,
        ("OUTSIDE", "LINE"): 6,
        ("OUTSIDE", "ARC"): 2,
    }
    read = ezdxf.read(StringIO(write_dxf(sample_picture(), version, apart=frozenset(("OUTSIDE",))).decode("ascii")))
    ends = []
    for entity in read.modelspace().query("*[layer=='OUTSIDE']"):
        is_line = entity.dxftype() == "LINE"
        ends.append((entity.dxf.start, entity.dxf.end) if is_line else (entity.start_point, entity.end_point))
    for one, other in zip(ends, [*ends[1:], ends[0]], strict=True):
        assert min(a.distance(b) for a in one for b in other) < 2e-6
