"""Values of the shop that must agree with each other: in come single values in mm, out come faults by dotted key.

Each fault is the end of a sentence that starts with its key. The reader puts file and line in front, the records
only the key.
"""

from collections.abc import Mapping

MEAN_SLACK_MM = 0.001
"""By so much rounding may take a mean of two kerfs out from between them."""


def sheet_faults(length_mm: float, width_mm: float, margin_mm: float) -> dict[str, str]:
    """The margins must leave some sheet between them; mm."""
    if 2 * margin_mm < min(length_mm, width_mm):
        return {}
    return {"sheet.margin": "leaves nothing of the sheet; make it smaller than half the sheet's width"}


def machine_faults(kind: str, given: set[str]) -> dict[str, str]:
    """A laser has a kerf and a CNC machine a cutter; `given` are the keys of [machine] that are there."""
    wanted, other = ("kerf", "cutter") if kind == "laser" else ("cutter", "kerf")
    if other in given:
        advice = "take one of the two out" if wanted in given else f"write {wanted} instead"
        return {f"machine.{other}": f'does not go with kind = "{kind}", which has a {wanted}; {advice}'}
    if wanted not in given:
        meaning = "the full width of a cut, from a test cut" if wanted == "kerf" else "the diameter of its cutter"
        return {"machine": f'lacks {wanted}, which kind = "{kind}" needs: {meaning}'}
    return {}


def kerf_faults(kind: str, kerf_mm: float, kerf_x_mm: float | None, kerf_y_mm: float | None) -> dict[str, str]:
    """Kerf in x and in y are a laser's, are given together, and kerf is their mean, so it lies between them; mm."""
    given = {"kerf_x": kerf_x_mm, "kerf_y": kerf_y_mm}
    widths = [width for width in given.values() if width is not None]
    if not widths:
        return {}
    if kind != "laser":
        return {f"machine.{key}": 'goes with kind = "laser"; take it out' for key, width in given.items() if width}
    if len(widths) == 1:
        there, lacking = ("kerf_x", "kerf_y") if kerf_y_mm is None else ("kerf_y", "kerf_x")
        return {f"machine.{there}": f"needs {lacking} beside it; give both, or kerf alone"}
    if min(widths) - MEAN_SLACK_MM <= kerf_mm <= max(widths) + MEAN_SLACK_MM:
        return {}
    return {"machine.kerf": "must lie between kerf_x and kerf_y; write their mean"}


def hand_router_faults(bush_mm: float, cutter_mm: float, bush_length_mm: float | None) -> dict[str, str]:
    """A guide bush has a length; a bearing-guided cutter (bush = cutter) has no bush and needs none. Millimetres."""
    if bush_length_mm is not None or bush_mm == cutter_mm:
        return {}
    return {"hand_router": "lacks bush_length: how far the guide bush stands out below the router's base"}


def layer_faults(layers: Mapping[str, tuple[str, bool]], dxf: str) -> dict[str, str]:
    """Layers by operation, each (name, write): names differ, cuts are written, and R12 has capitals only."""
    faults: dict[str, str] = {}
    owner: dict[str, str] = {}
    for operation, (name, is_written) in layers.items():
        # Readers of DXF take layer names without regard to capitals.
        first = owner.setdefault(name.upper(), operation)
        if first != operation:
            faults[f"layers.{operation}.name"] = f'is "{name}", which is the name of {first} too; choose another'
        elif dxf == "R12" and name != name.upper():
            faults[f"layers.{operation}.name"] = f'is "{name}", but R12 has capitals only; write "{name.upper()}"'
        if operation in ("inner", "outer") and not is_written:
            faults[f"layers.{operation}.write"] = "is false, must be true: a kit without its cuts is no kit"
    return faults
