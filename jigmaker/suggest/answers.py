"""Answers to jigmaker new in, a Wish out; or every answer's fault at once, by its option. Lengths in mm inside."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigmaker.errors import JigmakerError, UsageError
from jigmaker.job.rules import Rule, section_of
from jigmaker.job.sections import JOB
from jigmaker.job.templates import Filled
from jigmaker.job.values import fault_of
from jigmaker.suggest.backwards import Lean, slope_from_text
from jigmaker.suggest.board_sizes import boards_from_text
from jigmaker.suggest.height import DOOR_MM, HeightWish
from jigmaker.suggest.shop_answers import cut_from_text, router_from_text, sheet_from_text
from jigmaker.suggest.uses import BodyMeasure, measure_named, use_named
from jigmaker.suggest.wish import Wish
from jigmaker.units import length_mm

if TYPE_CHECKING:
    from jigmaker.units import Unit


def _length(key: str, low: float, high: float, meaning: str) -> Rule:
    return Rule(key, "length", meaning, "", low, high)


_TRESTLE, _TOP = section_of(JOB, "trestle"), section_of(JOB, "top")
_LENGTHS = {
    "height": _TRESTLE.rule("height"),
    "top_length": _TOP.rule("length"),
    "top_thickness": _length("top_thickness", 0, 200, "the thickness of what is laid on the trestles"),
    "leg_length": _length("leg_length", 150, 4000, "the piece of board that a leg is cut from"),
    "foot_spread_along": _length("foot_spread_along", 100, 6000, "the way from foot to foot, over the outer corners"),
    "foot_spread_across": _length("foot_spread_across", 50, 4000, "the way from foot to foot, over the outer corners"),
    "saw": _length("saw", 200, 1000, "the length of a hand saw's blade"),
    "door": _length("door", 300, 5000, "the clear width of a door"),
}
_ANGLES = {"rake": _TRESTLE.rule("rake_deg"), "splay": _TRESTLE.rule("splay_deg")}
_OTHERS = {"trestles": section_of(JOB, "job").rule("trestles"), "name": section_of(JOB, "job").rule("name")}
_HEIGHTS = ("for", "body", "height", "leg_length")


def wish_of(said: dict[str, str | None]) -> Wish:
    """The wish in the answers, by the option's key. Raises UsageError as refuse_faults, or when no height is told."""
    refuse_faults(said)
    if all(said.get(key) is None for key in _HEIGHTS):
        raise UsageError(
            "say what it is for with --for (sawing, assembly, general, planing, table, standing or planting), or give "
            "--body, --height or --leg-length"
        )
    # Refused before, so that every answer here is good by itself, and no two decide the same thing.
    unit = _unit(said.get("units"))
    taken: dict[str, Any] = {key: _taken(key, words.strip(), unit) for key, words in said.items() if words is not None}
    body, body_mm = taken.get("body", (None, 0.0))
    return Wish(
        HeightWish(taken.get("for"), body, body_mm, taken.get("height"), taken.get("top_thickness"), taken.get("saw")),
        unit,
        taken.get("name", "My trestles"),
        taken.get("trestles", 2),
        taken.get("boards", ()),
        taken.get("top_length"),
        taken.get("rake", taken.get("slope_along")),
        taken.get("splay", taken.get("slope_across")),
        taken.get("foot_spread_along"),
        taken.get("foot_spread_across"),
        taken.get("leg_length"),
        taken.get("door", DOOR_MM),
        taken.get("other_heights", ()),
    )


def name_after(folder: Path) -> str:
    """The job's name after its folder, "Bench for two" for bench-for-two, where that makes a name."""
    # resolve(), as "." has no name. The name's own rule decides, so that it can go into job.toml without a fault.
    plain = folder.resolve().name.replace("-", " ").replace("_", " ").strip()
    name = plain[:1].upper() + plain[1:]
    return "My trestles" if fault_of(_OTHERS["name"], name, "mm") else name


def shop_values(said: dict[str, str | None]) -> dict[str, Filled]:
    """What the answers tell of the shop, by dotted key of shop.toml; raises UsageError as refuse_faults."""
    refuse_faults(said)
    unit = _unit(said.get("units"))
    parsers = {"cut": cut_from_text, "sheet": sheet_from_text, "router": router_from_text}
    told: dict[str, Filled] = {}
    for key, parse in parsers.items():
        words = said.get(key)
        told |= {} if words is None else parse(words, unit)
    return told


def refuse_faults(said: dict[str, str | None]) -> None:
    """Raises UsageError with a sentence for each faulty answer, else for answers that decide the same thing."""
    faults = []
    for key, words in said.items():
        if words is not None and (fault := fault_of_answer(key, words.strip(), said.get("units"))):
            faults.append(f"--{key.replace('_', '-')}: {fault}")
    if faults:
        raise UsageError(faults)
    groups = {
        "height": ("height", "body", "leg_length"),
        "rake": ("rake", "slope_along", "foot_spread_along"),
        "splay": ("splay", "slope_across", "foot_spread_across"),
    }
    for decided, keys in groups.items():
        given = [f"--{key.replace('_', '-')}" for key in keys if said.get(key) is not None]
        if len(given) > 1:
            raise UsageError(f"{' and '.join(given)} decide the same thing, the {decided}: give one of them")


def fault_of_answer(key: str, words: str, units: str | None) -> str:
    """What is wrong with one answer, as a sentence without its option; "" when it will do."""
    unit = _unit(units)
    if key == "units":
        return "" if words in ("mm", "in") else f'is "{words[:40]}", must be mm or in'
    # What stands in the job file too is held to that file's own rule, in its words; all else to its parser.
    rule = _LENGTHS.get(key) or _ANGLES.get(key) or _OTHERS.get(key)
    if rule is not None:
        return fault_of(rule, words if rule.kind == "text" else _raw(words), unit)
    try:
        _PARSERS[key](words, unit)
    except JigmakerError as error:
        return str(error)
    return ""


def _unit(units: str | None) -> Unit:
    return "in" if units == "in" else "mm"


def _raw(words: str) -> str | int | float:
    """The words as a file would hold them: a bare number as a number, so that advice about its unit can be given."""
    if re.fullmatch(r"-?[0-9]{1,15}", words, re.ASCII):
        return int(words)
    return float(words) if re.fullmatch(r"-?[0-9]{1,15}\.[0-9]{1,15}", words, re.ASCII) else words


def _taken(key: str, words: str, unit: Unit) -> object:
    """A good answer's value: lengths in mm."""
    if key in _LENGTHS:
        return length_mm(_raw(words), unit)
    if key in _ANGLES:
        return Lean(float(words), "as asked")
    if key == "trestles":
        return int(words)
    return words if key in ("name", "units") else _PARSERS[key](words, unit)


def _body(words: str, unit: Unit) -> tuple[BodyMeasure, float]:
    """ "kneecap=490": which measure, and how much in mm."""
    name, sign, size = words.partition("=")
    if not sign:
        raise UsageError(f'"{words[:40]}" is no body measure; write its name and height, such as kneecap=490')
    measure = measure_named(name)
    rule = _length(measure.key, measure.low_mm, measure.high_mm, f"the way from the floor to {measure.words}")
    raw = _raw(size.strip())
    if fault := fault_of(rule, raw, unit):
        raise UsageError(f"{measure.key} {fault}")
    return measure, length_mm(raw, unit)


def _other_heights(words: str, unit: Unit) -> tuple[float, ...]:
    """ "650, 520": heights of further sizes, mm."""
    rule, heights = _TRESTLE.rule("height"), list[float]()
    for each in (part.strip() for part in words.split(",")):
        if fault := fault_of(rule, _raw(each), unit):
            raise UsageError(f"one height {fault}; write them with commas between, such as 650, 520")
        heights.append(length_mm(_raw(each), unit))
    if len(heights) >= (most := section_of(JOB, "size").most):
        raise UsageError(f"names {len(heights)} heights, must be {most - 1} or fewer beside the first")
    if len(set(heights)) < len(heights):
        raise UsageError("names a height twice; each size stands once")
    return tuple(heights)


_PARSERS: dict[str, Callable[[str, Unit], object]] = {
    "for": lambda words, unit: use_named(words),
    "body": _body,
    "boards": boards_from_text,
    "other_heights": _other_heights,
    "slope_along": lambda words, unit: slope_from_text(words),
    "slope_across": lambda words, unit: slope_from_text(words),
    "cut": cut_from_text,
    "sheet": sheet_from_text,
    "router": router_from_text,
}
