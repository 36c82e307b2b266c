"""Dimensions and words of a drawing as DXF entities: DIMENSION with its block, DIMSTYLE, TEXT. File units; degrees.

Of lengths: a DIMENSION holds points, not words: a program that opens the file measures its number again. The block
shows the same strokes as SVG and PDF, with the number as TEXT. A style holds what a program needs to draw the block
anew, in paper millimetres under one overall scale. Angles are drawn, lines and TEXT, and no entity: programs agree too
little about those. FreeCAD 0.20 makes a length of every angle, and LibreCAD sets its number where it likes.
"""

from math import cos, dist, radians, sin
from typing import TYPE_CHECKING

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
from jigmaker.geometry.lettering import Anchor, text_width
from jigmaker.writers.dxf_pen import DxfPen

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import BaseLayout

LETTERS = "LETTERS"
"""The text style, and its font: about as wide as our own strokes, and found on most machines."""

_FONT = "arial.ttf"

# DXF reference, DIMENSION group 70: kind, 32 the block is this dimension's alone, 128 the number's place is the user's.
_LINEAR, _OWN_BLOCK, _OWN_PLACE = 0, 32, 128

# DXF reference, DIMSTYLE: 2 decimal, 5 fractional; fractions side by side; 8 leaves trailing zeros out.
_DECIMAL, _FRACTIONAL, _NOT_STACKED, _NO_TRAILING_ZEROS = 2, 5, 2, 8
_SIXTY_FOURTHS = 6  # DIMDEC of a fractional style: 2 to this power is the largest denominator


def add_letters(document: "Drawing") -> None:
    """The text style of everything that is read."""
    document.styles.add(LETTERS, font=_FONT)


def add_text(
    layout: "BaseLayout", layer: str, words: str, at: Point, height: float, turn_deg: float, anchor: Anchor
) -> None:
    """One line of words as TEXT; `at` is on the baseline.

    DXF reference, TEXT: 10 is the left end, 11 the point that the words are aligned at. Readers that know no alignment
    (Inkscape) begin at the left end, as wide as our own letters would be.
    """
    from ezdxf.enums import TextEntityAlignment

    align = {
        "left": TextEntityAlignment.LEFT,
        "middle": TextEntityAlignment.CENTER,
        "right": TextEntityAlignment.RIGHT,
    }
    attributes = {"layer": layer, "style": LETTERS, "height": height, "rotation": turn_deg}
    text = layout.add_text(printable(words), dxfattribs=attributes).set_placement(at, align=align[anchor])
    # From the place of alignment back to the left end, along the line of text.
    back = {"left": 0.0, "middle": 0.5, "right": 1.0}[anchor] * text_width(words, height)
    text.dxf.insert = (at[0] - back * cos(radians(turn_deg)), at[1] - back * sin(radians(turn_deg)))


def printable(words: str) -> str:
    """Words as TEXT carries them: every sign as itself, and none that readers take for a code (%%d) or cannot show."""
    plain = (sign if sign.isprintable() else " " if sign.isspace() else "?" for sign in words)
    return "".join(plain).replace("%%", "% %").replace("⌀", "Ø")


def add_dimensions(document: "Drawing", picture: Picture, paper_mm: float) -> None:
    """Every dimension of the picture, in order; `paper_mm` is what one file unit measures on the picture's paper."""
    # One style for each set of variables, so that a drawing with details at other scales has a style for each scale.
    names: dict[tuple[object, ...], str] = {}
    for dimension in picture.dimensions:
        if not isinstance(dimension, LinearDimension):
            _draw(document, document.modelspace(), dimension, paper_mm)
            continue
        style = _style_of(dimension, picture, paper_mm)
        name = names.setdefault(tuple(style.items()), f"READ-{len(names) + 1}")
        if name not in document.dimstyles:
            _add_style(document, name, style, is_first=len(names) == 1)
        # The entity and its block. The number's place is ours, so a program that draws anew puts nothing on top of it.
        # DXF reference, DIMENSION: 10 on the dimension line, 13 and 14 the points that are measured, 50 the direction.
        factor = style["dimlfac"]
        block = document.blocks.new_anonymous_block("D")
        _draw(document, block, dimension, paper_mm)
        start, end = _level(dimension)
        # Half a letter above the middle of the baseline, as the number is turned.
        (x, y), half, turn_deg = dimension.text_at, dimension.height_mm / 2, dimension.text_turn_deg
        attributes = {
            "layer": dimension.layer,
            "dimstyle": name,
            "geometry": block.name,
            "attachment_point": 5,
            "text_midpoint": _in_file((x - half * sin(radians(turn_deg)), y + half * cos(radians(turn_deg))), paper_mm),
            "dimtype": _LINEAR | _OWN_BLOCK | _OWN_PLACE,
            "defpoint": _in_file(dimension.feet[1], paper_mm),
            "defpoint2": _in_file(start, paper_mm),
            "defpoint3": _in_file(end, paper_mm),
            "angle": dimension.turn_deg,
            "actual_measurement": dimension.value_mm * dimension.scale * factor / paper_mm,
        }
        document.modelspace().new_entity("DIMENSION", attributes)


def _style_of(dimension: LinearDimension, picture: Picture, paper_mm: float) -> dict[str, float]:
    """The dimension variables, sizes in paper mm. A detail's own scale goes into the factor for lengths."""
    # DXF reference, DIMSTYLE: dimscale enlarges all paper sizes to file units; dimlfac is what a measured length is
    # multiplied by; dimtad 1 puts text over the line, dimtih and dimtoh 0 turn it with the line; dimtmove 2 lets it
    # stand anywhere without a leader, dimtofl 1 draws the line between the feet even when it stands outside.
    is_inch = dimension.unit == "in"
    return {
        "dimscale": 1 / paper_mm,
        "dimtxt": dimension.height_mm,
        "dimasz": HEAD_MM,
        "dimexo": GAP_MM,
        "dimexe": BEYOND_MM,
        "dimgap": CLEAR_MM,
        "dimtad": 1,
        "dimtih": 0,
        "dimtoh": 0,
        "dimtmove": 2,
        "dimtofl": 1,
        "dimlfac": round(picture.scale / dimension.scale, 9),
        "dimlunit": _FRACTIONAL if is_inch else _DECIMAL,
        "dimfrac": _NOT_STACKED,
        "dimdec": _SIXTY_FOURTHS if is_inch else dimension.decimals,
        # The last shown digit: some readers take the 0 that means "not rounded" for whole numbers.
        "dimrnd": 1 / INCH_DENOMINATOR if is_inch else 10.0**-dimension.decimals,
        "dimadec": 2,
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


def _draw(document: "Drawing", layout: "BaseLayout", dimension: Dimension, paper_mm: float) -> None:
    """Its lines, and its number as TEXT."""
    pen = DxfPen(layout, {layer.dxf.name: layer.dxf.color for layer in document.layers}, paper_mm)
    pen.use_layer(dimension.layer)
    for stroke in dimension.lines:
        draw_shape(stroke, pen)
    (x, y), size, turn_deg = dimension.text_at, dimension.height_mm / paper_mm, dimension.text_turn_deg
    add_text(layout, dimension.letters, dimension.text, (x / paper_mm, y / paper_mm), size, turn_deg, "middle")


def _level(dimension: LinearDimension) -> tuple[Point, Point]:
    """The measured points, both as far from the dimension line as the nearer of them.

    For readers that show the distance from point to point, whatever the direction (FreeCAD 0.20). Extension lines that
    a program draws anew then begin outside of the work; those of the block begin at the points themselves.
    """
    ends = tuple(zip((dimension.start, dimension.end), dimension.feet, strict=True))
    (x, y), (foot_x, foot_y) = min(ends, key=lambda each: dist(*each))
    (ax, ay), (bx, by) = dimension.feet
    return (ax + x - foot_x, ay + y - foot_y), (bx + x - foot_x, by + y - foot_y)


def _in_file(at: Point, paper_mm: float) -> tuple[float, float, float]:
    return (at[0] / paper_mm, at[1] / paper_mm, 0.0)
