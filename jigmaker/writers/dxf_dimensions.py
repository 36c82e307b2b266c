"""Dimensions and words of a drawing as DXF entities: DIMENSION with its block, DIMSTYLE, TEXT. File units; degrees.

A DIMENSION holds points, not words: whoever opens the file has its number measured again. The block shows the same
strokes as SVG and PDF, with the number as TEXT. A style holds what a program needs to draw the block anew, in paper
millimetres under one overall scale.
"""

from math import cos, radians, sin
from typing import TYPE_CHECKING

from jigmaker.drawing.angular_dimension import AngularDimension
from jigmaker.drawing.dimension import (
    BEYOND_MM,
    CLEAR_MM,
    GAP_MM,
    HEAD_MM,
    INCH_DENOMINATOR,
    LinearDimension,
)
from jigmaker.drawing.picture import Dimension, Picture, draw_shape
from jigmaker.geometry.frames import Point
from jigmaker.geometry.lettering import Anchor
from jigmaker.writers.dxf_pen import DxfPen
from jigmaker.writers.dxf_text import plain_ascii

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import BaseLayout

LETTERS = "LETTERS"
"""The text style, and its font: about as wide as our own strokes, and found on most machines."""

_FONT = "arial.ttf"

_SIGNS = {"°": "%%d", "±": "%%p", "Ø": "%%c", "⌀": "%%c"}
"""Signs that every reader of DXF knows by these codes, whatever its code page."""

# DXF reference, DIMENSION group 70: kind, 32 the block is this dimension's alone, 128 the number's place is the user's.
# An angle between two lines (2), not at three points (5): LibreCAD shows nothing of the latter.
_LINEAR, _ANGULAR, _OWN_BLOCK, _OWN_PLACE = 0, 2, 32, 128

# DXF reference, DIMSTYLE: 2 decimal, 5 fractional; fractions side by side; 8 leaves trailing zeros out.
_DECIMAL, _FRACTIONAL, _NOT_STACKED, _NO_TRAILING_ZEROS = 2, 5, 2, 8
_SIXTY_FOURTHS = 6  # DIMDEC of a fractional style: 2 to this power is the largest denominator


def add_letters(document: "Drawing") -> None:
    """The text style of everything that is read."""
    document.styles.add(LETTERS, font=_FONT)


def add_text(
    layout: "BaseLayout", layer: str, words: str, at: Point, height: float, turn_deg: float, anchor: Anchor
) -> None:
    """One line of words as TEXT; `at` is on the baseline. Signs that ASCII lacks go by their codes or are spelled."""
    from ezdxf.enums import TextEntityAlignment

    align = {
        "left": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "right": TextEntityAlignment.RIGHT,
    }
    attributes = {"layer": layer, "style": LETTERS, "height": height, "rotation": turn_deg}
    layout.add_text(text_in_ascii(words), dxfattribs=attributes).set_placement(at, align=align[anchor])


def text_in_ascii(words: str) -> str:
    """Words as TEXT carries them: degree, plus-minus and diameter by their codes."""
    coded = "".join(_SIGNS.get(sign, sign) for sign in words.replace("%%", "% %"))
    return plain_ascii(coded)


def add_dimensions(document: "Drawing", picture: Picture, paper_mm: float) -> None:
    """Every dimension of the picture, in order; `paper_mm` is what one file unit measures on the picture's paper."""
    names: dict[tuple[object, ...], str] = {}
    for dimension in picture.dimensions:
        style = _style_of(dimension, picture, paper_mm)
        name = names.setdefault(tuple(style.items()), f"READ-{len(names) + 1}")
        if name not in document.dimstyles:
            _add_style(document, name, style, is_first=len(names) == 1)
        _add_dimension(document, dimension, name, style["dimlfac"], paper_mm)


def _style_of(dimension: Dimension, picture: Picture, paper_mm: float) -> dict[str, float]:
    """The dimension variables, sizes in paper mm. A detail's own scale goes into the factor for lengths."""
    is_linear = isinstance(dimension, LinearDimension)
    is_inch = isinstance(dimension, LinearDimension) and dimension.unit == "in"
    factor = picture.scale / dimension.scale if isinstance(dimension, LinearDimension) else 1.0
    return {
        "dimscale": 1 / paper_mm,
        "dimtxt": dimension.height_mm,
        "dimasz": HEAD_MM,
        "dimexo": GAP_MM,
        "dimexe": BEYOND_MM,
        "dimgap": CLEAR_MM,
        "dimtad": 1 if is_linear else 0,
        "dimtih": 0 if is_linear else 1,
        "dimtoh": 0 if is_linear else 1,
        "dimtmove": 2,
        "dimtofl": 1,
        "dimlfac": round(factor, 9),
        "dimlunit": _FRACTIONAL if is_inch else _DECIMAL,
        "dimfrac": _NOT_STACKED,
        "dimdec": _SIXTY_FOURTHS if is_inch else dimension.decimals if is_linear else 1,
        # The last shown digit: some readers take the 0 that means "not rounded" for whole numbers.
        "dimrnd": 1 / INCH_DENOMINATOR if is_inch else 10.0 ** -(dimension.decimals if is_linear else 1),
        "dimadec": 2 if is_linear else dimension.decimals,
        "dimaunit": 0,
        "dimazin": 0,
        "dimzin": _NO_TRAILING_ZEROS,
        "dimdsep": ord("."),
    }


def _add_style(document: "Drawing", name: str, variables: dict[str, float], is_first: bool) -> None:
    """A DIMSTYLE of these variables; the first one is the file's own too, for readers that know no other."""
    from ezdxf.render.arrows import ARROWS

    ARROWS.create_block(document.blocks, ARROWS.open_30)
    style = document.dimstyles.new(name, dxfattribs={**variables, "dimtxsty": LETTERS})
    style.set_arrows(blk=ARROWS.open_30)
    if not is_first:
        return
    document.header["$DIMSTYLE"] = name
    for key, value in variables.items():
        document.header[f"${key.upper()}"] = value


def _add_dimension(document: "Drawing", dimension: Dimension, style: str, factor: float, paper_mm: float) -> None:
    """The entity and its block. The number's place is ours, so a program that draws anew puts nothing on top of it."""
    layers = {layer.dxf.name: layer.dxf.color for layer in document.layers}
    block = document.blocks.new_anonymous_block("D")
    pen = DxfPen(block, layers, paper_mm)
    pen.use_layer(dimension.layer)
    for stroke in dimension.lines:
        draw_shape(stroke, pen)
    (x, y), size, turn_deg = dimension.text_at, dimension.height_mm / paper_mm, dimension.text_turn_deg
    add_text(block, dimension.letters, dimension.text, (x / paper_mm, y / paper_mm), size, turn_deg, "middle")
    if isinstance(dimension, LinearDimension):
        kind = _linear(dimension, factor, paper_mm)
    else:
        kind = _angular(dimension, paper_mm)
    common = {"layer": dimension.layer, "dimstyle": style, "geometry": block.name, "attachment_point": 5}
    place = {"text_midpoint": _in_file(_middle_of_number(dimension), paper_mm)}
    document.modelspace().new_entity("DIMENSION", {**common, **place, **kind})


def _linear(dimension: LinearDimension, factor: float, paper_mm: float) -> dict[str, object]:
    """DXF reference, DIMENSION: 10 on the dimension line, 13 and 14 the points that are measured, 50 the direction."""
    return {
        "dimtype": _LINEAR | _OWN_BLOCK | _OWN_PLACE,
        "defpoint": _in_file(dimension.feet[1], paper_mm),
        "defpoint2": _in_file(dimension.start, paper_mm),
        "defpoint3": _in_file(dimension.end, paper_mm),
        "angle": dimension.turn_deg,
        "actual_measurement": dimension.value_mm * dimension.scale * factor / paper_mm,
    }


def _angular(dimension: AngularDimension, paper_mm: float) -> dict[str, object]:
    """DXF reference, DIMENSION: 15 to 10 on the first ray, 13 to 14 on the second, 16 on the arc; 42 is in radians.

    Each ray ends where the work does, so that a program which draws anew leads an extension line from there to the arc;
    but not so near the vertex that six decimals would turn it.
    """
    radius = dimension.radius_mm
    first, second = (min(max(reach, radius / 2), radius) for reach in dimension.reach_mm)
    vertex = _in_file(dimension.vertex, paper_mm)
    return {
        "dimtype": _ANGULAR | _OWN_BLOCK | _OWN_PLACE,
        "defpoint4": vertex,
        "defpoint": _in_file(dimension.on_ray(dimension.from_deg, first), paper_mm),
        "defpoint2": vertex,
        "defpoint3": _in_file(dimension.on_ray(dimension.to_deg, second), paper_mm),
        "defpoint5": _in_file(dimension.middle, paper_mm),
        "actual_measurement": radians(dimension.value_deg),
    }


def _middle_of_number(dimension: Dimension) -> Point:
    """Half a letter above the middle of the baseline, as the number is turned."""
    (x, y), half, turn_deg = dimension.text_at, dimension.height_mm / 2, dimension.text_turn_deg
    return (x - half * sin(radians(turn_deg)), y + half * cos(radians(turn_deg)))


def _in_file(at: Point, paper_mm: float) -> tuple[float, float, float]:
    return (at[0] / paper_mm, at[1] / paper_mm, 0.0)
