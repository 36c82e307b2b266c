"""The layer table of a DXF file, and the nearest of DXF's 255 colours to each layer's. Widths in mm."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from jigmaker.drawing.picture import PictureLayer
from jigmaker.errors import OutOfRange

if TYPE_CHECKING:
    from ezdxf.document import Drawing

AnyVersion = Literal["R2007", "R2000", "R12"]

# What a layer may be called: its whole name, signs that it must not hold, and that rule in words.
_NAMES = {
    "R12": (re.compile(r"[A-Z0-9$_-]{1,31}"), set[str](), "1 to 31 of A-Z, 0-9, $, - and _"),
    "later": (
        re.compile(r"(?! )[ -~\u00a1-\uffff]{1,255}(?<! )"),
        set("<>/\\\":;?*|=,'`"),
        "1 to 255 printable signs without < > / \\ \" : ; ? * | = , ' `",
    ),
}

_BLACK_OR_WHITE = 7  # shown as the one that differs from the background


def add_layers(document: "Drawing", layers: Sequence[PictureLayer], version: AnyVersion) -> dict[str, int]:
    """Put the layers into the table; gives the colour index of each by name.

    Raises OutOfRange for a name the version cannot hold, and for one name with two colours or widths.
    """
    from ezdxf.lldxf.const import VALID_DXF_LINEWEIGHTS

    colours: dict[str, int] = {}
    known: dict[str, PictureLayer] = {}
    for layer in layers:
        # DXF reference, symbol table names: 31 capitals in R12, 255 characters later; Defpoints is never printed.
        pattern, forbidden, rule = _NAMES["R12" if version == "R12" else "later"]
        if layer.name.upper() == "DEFPOINTS":
            raise OutOfRange(f'layer name "{layer.name}" is one that no DXF reader prints; choose another')
        if not pattern.fullmatch(layer.name) or forbidden & set(layer.name):
            raise OutOfRange(f'layer name "{layer.name}" cannot be written to DXF {version}; use {rule}')
        other = known.setdefault(layer.name.lower(), layer)
        if other != layer:
            raise OutOfRange(f'layers "{other.name}" and "{layer.name}" are one layer in DXF; name them apart')
        if layer.name not in colours:
            colours[layer.name] = colour_index(layer.colour)
            # DXF group code 370: the only line weights there are, in hundredths of a millimetre.
            weight = min(VALID_DXF_LINEWEIGHTS, key=lambda weight: abs(weight - layer.width_mm * 100))
            # A line type of its own for each dashed layer: DXF counts a dash above 0 and a gap below.
            line_type = layer.name if layer.dashes else "Continuous"
            if layer.dashes:
                signed = [length if i % 2 == 0 else -length for i, length in enumerate(layer.dashes)]
                lengths = [sum(layer.dashes), *signed]
                document.linetypes.add(layer.name, lengths, description=f"dashes of {layer.name}")
            # Layer 0 is in every table already.
            known_to_all = layer.name in document.layers
            entry = document.layers.get(layer.name) if known_to_all else document.layers.add(layer.name)
            entry.update_dxf_attribs({"color": colours[layer.name], "lineweight": weight, "linetype": line_type})
    return colours


@lru_cache(maxsize=64)
def colour_index(colour: str) -> int:
    """The AutoCAD colour index, 1 to 255, whose colour in the standard table is nearest to "#rrggbb"."""
    from ezdxf.colors import DXF_DEFAULT_COLORS, int2rgb

    wanted = int2rgb(int(colour[1:], 16))
    if sum(wanted) == 0:
        return _BLACK_OR_WHITE

    def distance(index: int) -> int:
        return sum((a - b) ** 2 for a, b in zip(wanted, int2rgb(DXF_DEFAULT_COLORS[index]), strict=True))

    return min(range(1, 256), key=distance)
