"""Values of the shop that must agree with each other: in come single values in mm, out come faults by dotted key.

Each fault is the end of a sentence that starts with its key. The reader puts file and line in front, the records
only the key.
"""

import re
from collections.abc import Mapping

_R12_NAME = re.compile(r"[A-Z0-9$_-]{1,31}")  # DXF reference R12, names in symbol tables

MEAN_SLACK_MM = 0.001
"""By so much rounding may take a mean of two kerfs out from between them."""


MOST_OF_OTHER = 3.0
"""Kerf in x over kerf in y, or the other way round, at most: with half of each wide and narrow, the beam's flat side is
as round as wide x wide / narrow, 1.5 mm for the widest kerf, and still goes round the smallest hole."""


PAPER_ACCURACY_MM = 0.5
FINEST_BY_HAND_MM = 0.3
"""How far off its place a point may be that is printed, glued on, sawn and filed to a line: as a rule, and at best;
common practice, no source."""


def sheet_faults(length_mm: float, width_mm: float, margin_mm: float) -> dict[str, str]:
    """The margins must leave some sheet between them; mm."""
    if 2 * margin_mm < min(length_mm, width_mm):
        return {}
    return {"sheet.margin": "leaves nothing of the sheet; make it smaller than half the sheet's width"}


def machine_faults(kind: str, given: set[str]) -> dict[str, str]:
    """A laser has a kerf, a CNC machine a cutter, paper neither; `given` are the keys of [machine] that are there."""
    if kind == "paper":
        says = (
            'does not go with kind = "paper": the kit is sawn by hand to printed lines, at finished size; take it out'
        )
        return {f"machine.{key}": says for key in ("kerf", "cutter") if key in given}
    wanted, other = ("kerf", "cutter") if kind == "laser" else ("cutter", "kerf")
    if other in given:
        advice = "take one of the two out" if wanted in given else f"write {wanted} instead"
        return {f"machine.{other}": f'does not go with kind = "{kind}", which has a {wanted}; {advice}'}
    if wanted not in given:
        meaning = "the full width of a cut, from a test cut" if wanted == "kerf" else "the diameter of its cutter"
        return {"machine": f'lacks {wanted}, which kind = "{kind}" needs: {meaning}; add a line {wanted} = ...'}
    return {}


def kerf_faults(kind: str, kerf_mm: float, kerf_x_mm: float | None, kerf_y_mm: float | None) -> dict[str, str]:
    """Kerf in x and in y are a laser's, are given together, and kerf is their mean, so it lies between them; mm."""
    # In the order in which they make sense: of the right machine, both given, not too unlike, and with the mean between
    # them; what fails first is told alone.
    given = {"kerf_x": kerf_x_mm, "kerf_y": kerf_y_mm}
    widths = [width for width in given.values() if width is not None]
    if not widths:
        return {}
    if kind != "laser":
        return {f"machine.{key}": 'goes with kind = "laser"; take it out' for key, width in given.items() if width}
    if len(widths) == 1:
        there, lacking = ("kerf_x", "kerf_y") if kerf_y_mm is None else ("kerf_y", "kerf_x")
        return {f"machine.{there}": f"needs {lacking} beside it; give both, or kerf alone"}
    if max(widths) > MOST_OF_OTHER * min(widths) + MEAN_SLACK_MM:
        wider = "kerf_x" if kerf_x_mm == max(widths) else "kerf_y"
        other = "kerf_y" if wider == "kerf_x" else "kerf_x"
        return {f"machine.{wider}": f"is more than 3 times {other}; measure both again, or write kerf alone"}
    if min(widths) - MEAN_SLACK_MM <= kerf_mm <= max(widths) + MEAN_SLACK_MM:
        return {}
    return {"machine.kerf": "must lie between kerf_x and kerf_y; write their mean"}


def paper_faults(accuracy_mm: float, bridges: int, is_corrected: bool, tool_mm: float = 0.0) -> dict[str, str]:
    """No hand is truer than the paper it follows, and nothing is set right for a machine that is not there; mm."""
    faults: dict[str, str] = {}
    if accuracy_mm < FINEST_BY_HAND_MM:
        faults["machine.accuracy"] = (
            f'is finer than paper, saw and file hold; with kind = "paper" write {PAPER_ACCURACY_MM} mm, or yours, '
            f"{FINEST_BY_HAND_MM} mm or more"
        )
    if tool_mm:
        faults["machine.tool_mm"] = 'is the width of a machine\'s cut; with kind = "paper" it is 0'
    if bridges:
        faults["machine.bridges"] = 'hold parts while a machine cuts; with kind = "paper" take it out'
    if is_corrected:
        faults["machine"] = (
            'has a scale or a skew, of which kind = "paper" knows none: take them out; a printer is corrected by '
            "scale_x and scale_y of [paper]"
        )
    return faults


def hand_router_faults(bush_mm: float, cutter_mm: float, bush_length_mm: float | None) -> dict[str, str]:
    """A guide bush has a length; a bearing-guided cutter (bush = cutter) has no bush and needs none. Millimetres."""
    if bush_length_mm is not None or bush_mm == cutter_mm:
        return {}
    meaning = "how far the guide bush stands out below the router's base"
    return {"hand_router": f"lacks bush_length: {meaning}; add a line bush_length = ..."}


def timber_faults(values: Mapping[str, object]) -> dict[str, str]:
    """The wood and its moisture in both places, each known in one way; `values` by key of [timber], None
    for what is left out.
    """
    given = {key for key, value in values.items() if value is not None}
    if not given:
        return {}
    if "species" not in given:
        return {"timber": 'lacks species: the wood of the legs; add a line species = "softwood", or a hardwood'}
    faults: dict[str, str] = {}
    # Each place's moisture is known by a meter or by the air, whose warmth and humidity go together.
    for when in ("now", "later"):
        moisture, warmth, humidity = (f"{each}_{when}" for each in ("moisture", "temperature", "humidity"))
        by_air = given & {warmth, humidity}
        if moisture in given and by_air:
            faults[f"timber.{moisture}"] = f"and {' and '.join(sorted(by_air))} say it twice; keep one of the two ways"
        elif len(by_air) == 1:
            lacking = ({warmth, humidity} - by_air).pop()
            faults[f"timber.{by_air.pop()}"] = f"needs {lacking} beside it; give both, or {moisture} alone"
        elif moisture not in given and not by_air:
            ways = f"add a line {moisture} = ..., or {warmth} and {humidity}"
            faults[f"timber.{moisture}"] = f"is missing, and without it nothing can be said of damp; {ways}"
    return faults


def hand_saw_faults(plate_mm: float, kerf_mm: float) -> dict[str, str]:
    """Teeth stand out of the plate, or not at all; mm."""
    if kerf_mm >= plate_mm:
        return {}
    return {"hand_saw.kerf": "is less than plate; measure the width of a cut in a scrap"}


def housing_work_faults(by: str | None, has_router: bool, has_saw: bool, has_chisel: bool) -> dict[str, str]:
    """Whoever routs housings has a router, whoever saws them says with which saw and chisel."""
    if by in ("router", "both") and not has_router:
        return {"housing_work.by": f'is "{by}", but there is no [hand_router]; write it, or by = "saw and chisel"'}
    if has_router and by not in ("saw and chisel", "both"):
        return {}
    wanted = {"hand_saw": (has_saw, "plate, kerf, depth, back and length"), "chisel": (has_chisel, "blade")}
    return {
        name: f'is missing, which [housing_work] by = "{by or "saw and chisel"}" needs; write [{name}] with {keys}'
        for name, (is_there, keys) in wanted.items()
        if not is_there
    }


def leg_saw_faults(kind: str, has_hand_saw: bool, cutting_height_mm: float | None) -> dict[str, str]:
    """The legs of whoever saws them by hand need a hand saw; a plain saw has a height that it cuts; mm."""
    if kind == "hand" and not has_hand_saw:
        keys = "plate, kerf, depth, back and length"
        return {"leg_saw.kind": f'is "hand", but there is no [hand_saw]; write [hand_saw] with {keys}'}
    if kind == "plain" and cutting_height_mm is None:
        return {"leg_saw.cutting_height": "is missing, which a plain saw needs; add a line cutting_height = ..."}
    if kind != "plain" and cutting_height_mm is not None:
        return {
            "leg_saw.cutting_height": f'is of a plain saw, but kind is "{kind}"; take it out, or write kind = "plain"'
        }
    return {}


LayerFacts = tuple[str, object | None, bool]
"""Name, colour and width (None where one of them is faulty), and whether it is written."""


def layer_faults(layers: Mapping[str, LayerFacts], dxf: str) -> dict[str, str]:
    """Layers by operation: cuts are written, names are such as R12 can hold, operations on one layer agree about it."""
    faults: dict[str, str] = {}
    owner: dict[str, str] = {}
    for operation, (name, look, is_written) in layers.items():
        # Readers of DXF take layer names without regard to capitals.
        first = owner.setdefault(name.lower(), operation)
        other, other_look, _ = layers[first]
        key = f"layers.{operation}.name"
        if name != other:
            faults[key] = f'is "{name}", but {first} has "{other}", which is one layer in DXF; spell both alike'
        elif look and other_look and look != other_look:
            faults[key] = (
                f'is "{name}", the layer of {first} too; give both one colour and one width, or choose another name'
            )
        elif dxf == "R12" and not _R12_NAME.fullmatch(name):
            has = 'has 1 to 31 of A to Z, 0 to 9, $, - and _; choose such a name, or write dxf = "R2000"'
            if _R12_NAME.fullmatch(name.upper()):
                has = f'has capitals only; write "{name.upper()}"'
            faults[key] = f'is "{name}", but R12 {has}'
        if operation in ("inner", "outer") and not is_written:
            faults[f"layers.{operation}.write"] = "is false, must be true: a kit without its cuts is no kit"
    return faults
