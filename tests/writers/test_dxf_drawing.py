"""Drawings as DXF, read back: real size, lengths that measure themselves, line types, words; mm and inches."""

import io
import math
import os
import subprocess
import sys
from dataclasses import replace

import ezdxf
import pytest

from jigmaker.drawing.angular_dimension import AngularDimension
from jigmaker.drawing.dimension import LinearDimension
from jigmaker.drawing.picture import DrawnShape, Label, Picture, PictureLayer
from jigmaker.geometry.lettering import text_width
from jigmaker.geometry.outline import Outline, Stroke
from jigmaker.writers.dxf import write_dxf
from jigmaker.writers.dxf_drawing import write_drawing_dxf

LAYERS = (
    PictureLayer("EDGES", "#000000", 0.5),
    PictureLayer("HIDDEN", "#000000", 0.25, (3.0, 0.75)),
    PictureLayer("SIZES", "#000000", 0.25),
    PictureLayer("NUMBERS", "#000000", 0.35),
)
BOX = Outline.from_points([(40, 60), (120, 60), (120, 90), (40, 90)])
SIZES = (
    LinearDimension("SIZES", "NUMBERS", (40, 60), (120, 60), (0, 45), scale=0.2),
    LinearDimension("SIZES", "NUMBERS", (120, 60), (120, 90), (135, 0), 90, scale=0.2),
    LinearDimension("SIZES", "NUMBERS", (40, 60), (120, 90), (60, 100), 20.556, scale=0.2),
    LinearDimension("SIZES", "NUMBERS", (40, 90), (46.54298, 90), (0, 105), scale=0.2, beyond="start"),
    AngularDimension("SIZES", "NUMBERS", (40, 60), 0, 78.5046, 20, (80, 0)),
)
DETAIL = LinearDimension("SIZES", "NUMBERS", (150, 60), (180, 60), (0, 45), scale=1.0)


def drawing(*more, unit="mm", scale=0.2):
    """A box at 1:5 with sizes, on A5."""
    sizes = [replace(each, unit=unit) if isinstance(each, LinearDimension) else each for each in (*SIZES, *more)]
    shapes = (DrawnShape("EDGES", BOX), DrawnShape("HIDDEN", Stroke.from_points([(40, 70), (120, 70)])))
    labels = (Label("NUMBERS", "lengths ±0.5, 78° off Ø", (10, 10), 2.5),)
    return Picture("Box", 210, 148, LAYERS, shapes, ("a note",), labels, tuple(sizes), scale)


def read(written):
    return ezdxf.read(io.StringIO(written.decode("utf-8")))


def numbers(document):
    """(what the entity measures in its file's unit, what its block shows) of every DIMENSION."""
    found = []
    for entity in document.modelspace().query("DIMENSION"):
        factor = document.dimstyles.get(entity.dxf.dimstyle).dxf.dimlfac
        measured = entity.get_measurement() * factor
        (shown,) = [each.dxf.text for each in entity.get_geometry_block() if each.dxftype() == "TEXT"]
        found.append((measured, shown))
    return found


def test_everything_has_its_real_size():
    """1:5 on paper, so the box is five times as large in the file; the page too."""
    document = read(write_drawing_dxf(drawing()))
    (box,) = document.modelspace().query("LWPOLYLINE[layer=='EDGES']")
    assert [tuple(point) for point in box.get_points("xy")] == [(200, 300), (600, 300), (600, 450), (200, 450)]
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"], document.header["$PSVPSCALE"]) == (4, 1, 1)
    assert document.header["$LIMMAX"] == (1050, 740)


def test_dimensions_measure_themselves():
    """What the library measures between the entity's own points is what the block shows; nothing is typed."""
    document = read(write_drawing_dxf(drawing(DETAIL)))
    found = numbers(document)
    assert [value for value, _ in found] == pytest.approx([400, 150, 427.2, 32.7149, 30], abs=1e-3)
    assert [shown for _, shown in found] == ["400", "150", "427.2", "32.7", "30"]
    assert {entity.dxf.text for entity in document.modelspace().query("DIMENSION")} == {""}


def test_the_librarys_own_rendering_shows_the_same_numbers():
    """Every DIMENSION drawn anew by the library from points and style alone."""
    document = read(write_drawing_dxf(drawing(DETAIL)))
    shown = [text for _, text in numbers(document)]
    redrawn = []
    for entity in document.modelspace().query("DIMENSION"):
        entity.render()
        (words,) = [e for e in entity.get_geometry_block() if e.dxftype() == "MTEXT"]
        redrawn.append(words.plain_text())
    assert redrawn == shown


def test_inches_are_told_in_64ths():
    """The file's unit is the inch; the style is fractional to 64ths, fractions side by side."""
    document = read(write_drawing_dxf(drawing(unit="in"), "in"))
    assert (document.header["$INSUNITS"], document.header["$MEASUREMENT"]) == (1, 0)
    (length, shown), *_ = numbers(document)
    assert length == pytest.approx(400 / 25.4, abs=1e-5)
    assert shown == "15 3/4"  # 15.748 in
    style = document.dimstyles.get(document.modelspace().query("DIMENSION").first.dxf.dimstyle).dxf
    assert (style.dimlunit, style.dimdec, style.dimfrac) == (5, 6, 2) and style.dimrnd == 1 / 64


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_a_style_says_how_numbers_are_written_and_where_they_stand(unit):
    """DXF reference, DIMSTYLE: units 2 decimal or 5 fractional, zeros 8 without trailing ones, separator a full stop;
    number over the line (77), turned with it (73, 74), moved without a leader (279), line between the feet (172);
    degrees (275) with both decimals (179, DIMAZIN 0). The header says the same.
    """
    document = read(write_drawing_dxf(drawing(unit=unit), unit))
    style, digit = document.dimstyles.get("READ-1").dxf, 1 / 64 if unit == "in" else 0.1 ** SIZES[0].decimals
    wanted = {"dimlunit": 5 if unit == "in" else 2, "dimzin": 8, "dimdsep": 46, "dimtad": 1, "dimtih": 0, "dimtoh": 0}
    wanted |= {"dimtmove": 2, "dimtofl": 1, "dimaunit": 0, "dimadec": 2, "dimazin": 0, "dimrnd": digit}
    assert {name: style.get(name) for name in wanted} == pytest.approx(wanted)
    assert {name: document.header[f"${name.upper()}"] for name in wanted} == pytest.approx(wanted)


def test_a_style_draws_what_the_block_shows():
    """Extension lines of the lowest size, 15 mm below the box at 1:5: from `dimexo` under the measured corner to
    `dimexe` beyond the dimension line, heads `dimasz` long; paper mm, five times as much in the file.
    """
    document = read(write_drawing_dxf(drawing()))
    style = document.dimstyles.get("READ-1").dxf
    first = document.modelspace().query("DIMENSION").first
    lines = [tuple(e.get_points("xy")) for e in first.get_geometry_block() if e.dxftype() == "LWPOLYLINE"]
    lines += [(e.dxf.start.vec2, e.dxf.end.vec2) for e in first.get_geometry_block() if e.dxftype() == "LINE"]
    ends = [[(round(x / 5, 6), round(y / 5, 6)) for x, y in line] for line in lines]
    upright = [sorted(y for _, y in line) for line in ends if len({x for x, _ in line}) == 1]
    assert upright == [pytest.approx([45 - style.dimexe, 60 - style.dimexo])] * 2
    heads = {x for line in ends for x, y in line if y != 45 and x not in (40, 120)}
    assert heads == {40 + style.dimasz, 120 - style.dimasz}


def test_styles_carry_the_papers_sizes():
    """Letters of 3.5 on paper at 1:5 are 17.5 in the file: 3.5 under a scale of 5; the header says the same."""
    document = read(write_drawing_dxf(drawing(DETAIL)))
    style = document.dimstyles.get("READ-1").dxf
    assert (style.dimscale, style.dimtxt, style.dimlfac) == (5, 3.5, 1)
    assert (document.header["$DIMSCALE"], document.header["$DIMTXT"], document.header["$DIMDEC"]) == (5, 3.5, 1)
    heights = {
        each.dxf.height
        for entity in document.modelspace().query("DIMENSION")
        for each in entity.get_geometry_block().query("TEXT")
    }
    assert heights == {17.5}
    factors = [document.dimstyles.get(name).dxf.dimlfac for name in ("READ-1", "READ-2")]
    assert factors == pytest.approx([1, 0.2])


def test_lines_have_widths_and_dashes():
    """Hundredths of a mm in the layer table; dashes are paper mm under the line type scale."""
    document = read(write_drawing_dxf(drawing()))
    assert [document.layers.get(name).dxf.lineweight for name in ("EDGES", "HIDDEN", "NUMBERS")] == [50, 25, 35]
    assert document.layers.get("HIDDEN").dxf.linetype == "HIDDEN"
    assert document.linetypes.get("HIDDEN").pattern_tags.tags[1:] is not None
    assert document.header["$LTSCALE"] == 5
    assert document.layers.get("EDGES").dxf.linetype == "Continuous"


def test_words_are_text():
    """Signs are themselves, in a version whose files are UTF-8: programs show the older codes as codes."""
    written = write_drawing_dxf(drawing())
    document = read(written)
    words = document.modelspace().query("TEXT").first
    assert (document.dxfversion, b"%%" in written) == ("AC1021", False)
    assert words.dxf.text == "lengths ±0.5, 78° off Ø"
    assert (words.dxf.height, tuple(words.dxf.insert)[:2]) == (12.5, (50, 50))


@pytest.mark.parametrize(("anchor", "back"), [("left", 0), ("middle", 0.5), ("right", 1)])
def test_words_have_their_left_end_in_the_file_too(anchor, back):
    """DXF reference, TEXT: 10 the left end, 11 where they are aligned; up the page when they are turned."""
    label = Label("NUMBERS", "off the arris", (100, 50), 2.5, 90, anchor)
    document = read(write_drawing_dxf(replace(drawing(), labels=(label,))))
    words = document.modelspace().query("TEXT").first
    width = text_width("off the arris", 2.5)
    assert tuple(words.dxf.insert)[:2] == pytest.approx((500, (50 - back * width) * 5), abs=1e-5)
    assert anchor == "left" or tuple(words.dxf.align_point)[:2] == pytest.approx((500, 250))


def test_measured_points_lie_square_to_the_dimension_line():
    """The distance between them is the length: for readers that know no direction. The block begins at the work."""
    document = read(write_drawing_dxf(drawing()))
    for entity in document.modelspace().query("DIMENSION"):
        a, b = entity.dxf.defpoint2, entity.dxf.defpoint3
        assert math.dist(a, b) == pytest.approx(entity.get_measurement(), abs=1e-5)
    slanting = list(document.modelspace().query("DIMENSION"))[2]
    starts = [(line.dxf.start.x, line.dxf.start.y) for line in slanting.get_geometry_block().query("LINE")]
    for corner in ((200, 300), (600, 450)):
        assert min(math.dist(start, corner) for start in starts) == pytest.approx(10, abs=1e-4)


def test_angles_are_drawn():
    """An arc as wide as the angle, and its number as words; no entity that programs take for a length."""
    document = read(write_drawing_dxf(drawing()))
    assert {entity.dimtype for entity in document.modelspace().query("DIMENSION")} == {0}
    assert "78.50°" in [words.dxf.text for words in document.modelspace().query("TEXT")]
    bent = [line.get_points("xyb") for line in document.modelspace().query("LWPOLYLINE[layer=='SIZES']")]
    (arc,) = [line for line in bent if any(bulge for _, _, bulge in line)]
    assert sum(4 * math.degrees(math.atan(bulge)) for _, _, bulge in arc) == pytest.approx(78.5046, abs=1e-4)
    assert math.dist(arc[0][:2], (200, 300)) == pytest.approx(100)


@pytest.mark.parametrize("unit", ["mm", "in"])
def test_same_drawing_same_bytes_and_nothing_to_repair(unit):
    """Twice alike; the library's audit finds no error and fixes nothing."""
    written = write_drawing_dxf(drawing(DETAIL, unit=unit), unit)
    assert written == write_drawing_dxf(drawing(DETAIL, unit=unit), unit)
    audit = read(written).audit()
    assert (audit.errors, audit.fixes) == ([], [])


def test_a_cut_file_has_no_dimensions_in_it():
    """Written for a machine, the same picture is strokes only, at the size it has on paper."""
    document = read(write_dxf(drawing()))
    assert {entity.dxftype() for entity in document.modelspace()} <= {"LWPOLYLINE", "LINE", "ARC", "CIRCLE"}
    (box,) = document.modelspace().query("LWPOLYLINE[layer=='EDGES']")
    assert math.dist(*list(box.get_points("xy"))[:2]) == 80


def test_a_drawing_has_the_same_bytes_in_every_process() -> None:
    """Whatever order the run gives to sets of names: the library lists the kinds in use out of one."""
    script = (
        "from hashlib import sha256; from jigmaker.drawing.picture import Label, Picture, PictureLayer; "
        "from jigmaker.writers.dxf_drawing import write_drawing_dxf; "
        "picture = Picture('P', 50.0, 40.0, (PictureLayer('EDGE', '#5f007f', 0.3),), (), "
        "labels=(Label('EDGE', '78°', (5.0, 5.0), 3.0),)); "
        "print(sha256(write_drawing_dxf(picture)).hexdigest())"
    )
    runs = {
        subprocess.run(
            [sys.executable, "-c", script], env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True
        ).stdout
        for seed in ("1", "2", "3", "4")
    }
    assert len(runs) == 1
