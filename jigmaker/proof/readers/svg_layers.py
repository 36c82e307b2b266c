"""Which layer an SVG shape belongs to: names found on the groups around it and its colour in, a layer's name out."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

_BEHIND = re.compile(r"(-[0-9]+)?(--.*)?$")
_NOT_ID = re.compile(r"[^A-Za-z0-9_.-]")
_NO_LETTER = re.compile(r"^(?![A-Za-z_])")  # XML: a name starts with a letter or a low line
_RGB = re.compile(r"rgb\(\s*([0-9]+)\s*,\s*([0-9]+)\s*,\s*([0-9]+)\s*\)")

# CSS Color 4, the sixteen oldest names: what programs write for plain colours.
_NAMED = {
    "black": "#000000",
    "silver": "#c0c0c0",
    "gray": "#808080",
    "grey": "#808080",
    "white": "#ffffff",
    "maroon": "#800000",
    "red": "#ff0000",
    "purple": "#800080",
    "fuchsia": "#ff00ff",
    "magenta": "#ff00ff",
    "green": "#008000",
    "lime": "#00ff00",
    "olive": "#808000",
    "yellow": "#ffff00",
    "navy": "#000080",
    "blue": "#0000ff",
    "teal": "#008080",
    "aqua": "#00ffff",
    "cyan": "#00ffff",
}


@dataclass(slots=True)
class Around:
    """An element that may hold shapes: its names, the innermost last, and its stroke colour."""

    title: str = ""
    label: str = ""
    id: str = ""
    stroke: str = ""


def colour_of(text: str) -> str:
    """A colour as "#rrggbb" in small letters; "" for what is no plain colour."""
    plain = text.strip().lower()
    if re.fullmatch("#[0-9a-f]{3}", plain):
        return "#" + "".join(digit * 2 for digit in plain[1:])
    if re.fullmatch("#[0-9a-f]{6}", plain):
        return plain
    if found := _RGB.fullmatch(plain):
        return "#" + "".join(f"{min(255, int(share[:4])):02x}" for share in found.groups())
    return _NAMED.get(plain, "")


def layer_of(around: Sequence[Around], stroke: str, layers: Mapping[str, str]) -> tuple[str, str]:
    """The shape's layer, and the layer that its colour stands for ("" when it stands for none).

    `layers` maps colours to layer names. Of the names on the groups, the innermost that is a known layer counts; else
    the colour; else the innermost name there is.
    """
    known = set(layers.values())
    by_colour = layers.get(colour_of(stroke), "")
    names = [name for each in reversed(around) for name in (each.title, each.label, each.id) if name]
    for name in names:
        # An id cannot hold every sign of a layer's name; a second group's number and the file's name stand behind it.
        written = (name, _BEHIND.sub("", name))
        by_id = [layer for layer in layers.values() if _NO_LETTER.sub("_", _NOT_ID.sub("_", layer)) in written]
        if name in known or by_id:
            return name if name in known else by_id[0], by_colour
    return by_colour or next(iter(names), ""), by_colour
