"""The shop in the answers to jigmaker new: sheet, machine and hand router in words in, keys of shop.toml out."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jigmaker.errors import UsageError
from jigmaker.job.rules import section_of
from jigmaker.job.sections import SHOP
from jigmaker.job.templates import SHOP_IN_INCHES, Filled, length_in_file
from jigmaker.job.values import fault_of
from jigmaker.units import length_mm

if TYPE_CHECKING:
    from jigmaker.units import Unit

SHEET = {"mm": "600x400x9.1", "in": "24x16x0.358"}
CUT = {"mm": "laser 0.2, cnc 6, or paper", "in": "laser 0.008, cnc 1/4, or paper"}
ROUTER = {"mm": "base 150, bush 17, cutter 12, reach 55", "in": "base 6, bush 11/16, cutter 1/2, reach 2 1/4"}
"""Examples in questions and faults."""

_ROUTER_KEYS = {
    "base": "base",
    "bush": "bush",
    "bush length": "bush_length",
    "cutter": "cutter",
    "reach": "cutter_reach",
}


def sheet_from_text(words: str, unit: Unit) -> dict[str, Filled]:
    """ "600x400x9.1": length, width and thickness of the sheet. Raises UsageError."""
    sizes = re.split(r"\s*[x×*]\s*", words.strip().lower())
    if len(sizes) != 3:
        raise UsageError(f'"{words[:40]}" is no sheet; write length, width and thickness, such as {SHEET[unit]}')
    return _filled(
        {f"sheet.{key}": size for key, size in zip(("length", "width", "thickness"), sizes, strict=True)}, unit
    )


# What a new shop starts with whose kit is printed: keys of a machine are shown, and commented out.
_PAPER = {
    "machine.kind": Filled("paper"),
    "machine.accuracy": Filled('"0.5 mm"', "What print, saw and file come to."),
    "machine.compensation": Filled("# included"),
    "machine.bridges": Filled("# 0"),
}


def cut_from_text(words: str, unit: Unit) -> dict[str, Filled]:
    """ "laser 0.2" or "cnc 6": the machine and the width of its cut, with the choices that suit its kind; "paper"."""
    if words.strip().lower() == "paper":
        return {**_PAPER, "machine.kerf": Filled("# 0.20" if unit == "mm" else "# 0.008")}
    found = re.fullmatch(r"(laser|cnc)\s+(.+)", words.strip().lower())
    if not found:
        raise UsageError(f'"{words[:40]}" is no machine with its cut; write {CUT[unit]}')
    kind, width = found.groups()
    filled = {"machine.kind": Filled(kind)}
    if kind == "laser":
        return filled | _filled({"machine.kerf": width}, unit)
    return filled | {
        "machine.kerf": Filled("# 0.20" if unit == "mm" else "# 0.008"),
        **_filled({"machine.cutter": width}, unit),
        "machine.compensation": Filled("left out"),
        "machine.marking": Filled("short"),
        "machine.bridges": Filled("3"),
    }


def router_from_text(words: str, unit: Unit) -> dict[str, Filled]:
    """ "base 150, bush 17, cutter 12, reach 55": each with its name, in any order; what is left out stays as usual.
    "none": housings are made with saw and chisel, and the router's keys are only shown.
    """
    if words.strip().lower() == "none":
        samples = _samples(unit)
        shown = {key: Filled(f"# {samples[key]}") for key in samples if key.startswith("hand_router.")}
        used = {key: Filled(samples[key]) for key in samples if key.startswith(("hand_saw.", "chisel."))}
        return {**shown, **used, "housing_work.by": Filled("saw and chisel")}
    told: dict[str, str] = {}
    for part in filter(None, re.split(r"\s*[,;]\s*", words.strip().lower())):
        found = re.fullmatch(r"(bush length|base|bush|cutter|reach)\s+(.+)", part)
        if not found:
            raise UsageError(f'"{part[:40]}" is no size of a hand router; write such as {ROUTER[unit]}, or none')
        told[f"hand_router.{_ROUTER_KEYS[found[1]]}"] = found[2]
    return _filled(told, unit)


def _samples(unit: Unit) -> dict[str, str]:
    """What a new shop shows for the tools of housings, by dotted key, whether it is commented out or not."""
    found = {
        f"{section.name}.{rule.key}": rule.sample
        for section in SHOP
        if section.name in ("hand_router", "hand_saw", "chisel")
        for rule in section.rules
    }
    if unit == "in":
        found |= {key: sample for key, sample in SHOP_IN_INCHES.items() if key in found}
    return {key: sample.removeprefix("# ") for key, sample in found.items()}


def _filled(told: dict[str, str], unit: Unit) -> dict[str, Filled]:
    """Lengths by dotted key as the file holds them; raises UsageError with the rule for one that cannot be."""
    filled = {}
    for key, size in told.items():
        section, _, name = key.partition(".")
        if fault := fault_of(section_of(SHOP, section).rule(name), size, unit):
            raise UsageError(f"{key} {fault}")
        filled[key] = Filled(length_in_file(length_mm(size, unit), unit))
    return filled
