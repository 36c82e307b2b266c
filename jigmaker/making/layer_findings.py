"""A shop's map of operations to layers and colours in, findings out: what cannot be seen, what machines would mix up.

Contrast as WCAG 2.2 has it. Which colours DXF holds apart is told by the writer's own colour index.
"""

from itertools import combinations

from jigmaker.findings import Finding, Severity
from jigmaker.job.shop import Operation, Shop
from jigmaker.writers.dxf_layers import colour_index

LEAST_CONTRAST, EASY_CONTRAST = 1.05, 1.5
"""Against white, for a line that can be seen at all, and for one that is easily seen; 3 is what is asked of signs that
must be made out. Machines that go by colour often want pure yellow, cyan or green: 1.07 to 1.37, between the two."""

_LINES: dict[Operation, str] = {
    "mark": "marks",
    "inner": "inner cuts",
    "outer": "outlines",
    "bridge": "bridges",
    "note": "note",
}


def layer_findings(shop: Shop) -> list[Finding]:
    """Errors for colours that cannot be seen on white; cautions for those that are hard to see, and for operations in
    one file that only names keep apart.

    Operations that draw nothing are left alone.
    """
    drawn = [key for key, layer in shop.layers.items() if layer.write]
    if shop.machine.marking == "none" and "mark" in drawn:
        drawn.remove("mark")
    if not shop.machine.bridges and "bridge" in drawn:
        drawn.remove("bridge")
    pairs = list(combinations(drawn, 2))
    if shop.files.operations == "apart":  # each file holds one of them, and the note
        pairs = [pair for pair in pairs if pair[1] == "note" or pair == ("outer", "bridge")]
    found: list[Finding | None] = []
    for key in drawn:
        colour = shop.layers[key].colour
        if (contrast := contrast_with_white(colour)) >= EASY_CONTRAST:
            continue
        is_seen = contrast >= LEAST_CONTRAST
        value, limit = f"{contrast:.2f} : 1", f"{EASY_CONTRAST if is_seen else LEAST_CONTRAST} : 1"
        how, must = ("is hard to see", "should") if is_seen else ("cannot be seen", "must")
        says = f'is "{colour}", which {how} on white: its contrast is {value}, {must} be {limit} or more'
        do = "choose a darker colour" + (", unless your machine asks for this one" if is_seen else "")
        severity: Severity = "caution" if is_seen else "error"
        found.append(Finding(131, says, do, f"shop layers.{key}.colour", severity=severity, value=value, limit=limit))
    # By what a machine could tell two operations apart: the layer's name, the colour as an SVG has it, or the nearest
    # colour of the index that a DXF has room for.
    found += [_mixed(shop, one, other) for one, other in pairs]
    return [each for each in found if each]


def contrast_with_white(colour: str) -> float:
    """Of "#rrggbb", 1 for white to 21 for black: WCAG 2.2, contrast ratio and relative luminance."""
    shares = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4 for share in shares)
    return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)


def _mixed(shop: Shop, one: Operation, other: Operation) -> Finding | None:
    """What two operations share, and what a machine that goes by it would do."""
    first, second = shop.layers[one], shop.layers[other]
    same_index = colour_index(first.colour) == colour_index(second.colour)
    if first.name == second.name:
        key, says, goes_by = "name", f'is "{second.name}", the layer of the {_LINES[one]} too', "layer or colour"
    elif first.colour == second.colour:
        key, says, goes_by = "colour", f'is "{second.colour}", the colour of the {_LINES[one]} too', "colour"
    elif same_index:
        index = colour_index(second.colour)
        key, says = "colour", f'is "{second.colour}", which DXF holds as colour {index}, as that of the {_LINES[one]}'
        goes_by = "the colours of a DXF"
    else:
        return None
    harm = "may cut a part loose before its openings are cut"
    if other in ("bridge", "note"):
        never = "which is" if other == "note" else "which are"
        harm = f"does with the {_LINES[other]}, {never} never cut, what it does with the {_LINES[one]}"
    elif one == "mark":
        harm = f"cuts the marks through as it does the {_LINES[other]}"
    says = f"{says}: a machine that goes by {goes_by} {harm}"
    do = f"give each its own {key}, unless yours goes by the order of the file"
    if key == "name":
        do = "give each its own layer, unless yours goes by the order of the file"
    return Finding(132, says, do, key=f"shop layers.{other}.{key}", severity="caution")
