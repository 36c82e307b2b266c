"""Fields of the pages: the rules of job.toml and shop.toml and their bytes in; labels, values as written, and TOML out.

A field's name is its file and dotted key, "job:trestle.height". What a page shows is what stands in the file, digit by
digit; what is typed goes back into it the same way.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any

from jigmaker.job.lines import lines_of
from jigmaker.job.rules import Rule
from jigmaker.job.sections import JOB, SHOP
from jigmaker.job.templates import length_in_file
from jigmaker.job.toml import table_of, text_of
from jigmaker.job.typed import toml_value
from jigmaker.record import dataclass
from jigmaker.units import Unit

TABLES = {"job": JOB, "shop": SHOP}
RULES = {f"{table}:{s.name}.{rule.key}": rule for table, each in TABLES.items() for s in each for rule in s.rules}
"""Every rule by the name of its field."""

MEANINGS = {
    table: {f"{section.name}.{rule.key}": rule.meaning for section in each for rule in section.rules}
    for table, each in TABLES.items()
}

LABELS = {
    "job:job.name": "Name",
    "job:job.units": "Units of job.toml",
    "job:job.trestles": "How many trestles",
    "job:trestle.height": "Height, floor to top face",
    "job:trestle.rake_deg": "Rake off the level, seen from the side",
    "job:trestle.splay_deg": "Splay off the level, seen from the end",
    "job:trestle.inset": "Inset, board's end to housing",
    "job:top.length": "Top board, length",
    "job:top.width": "Top board, width",
    "job:top.thickness": "Top board, thickness",
    "job:leg.width": "Leg, wide face",
    "job:leg.thickness": "Leg, narrow face",
    "job:leg.horn": "Leg, horn on the head",
    "job:leg.trim": "Leg, trim on the foot",
    "job:brace.depth": "Brace, depth",
    "job:brace.thickness": "Brace, thickness",
    "job:housing.joint": "Joint",
    "job:housing.clearance": "Clearance of the housing",
    "job:housing.reveal": "Reveal: leg proud of the edge",
    "shop:machine.kind": "Machine",
    "shop:sheet.thickness": "Sheet, thickness by caliper",
    "shop:sheet.length": "Sheet, along x",
    "shop:sheet.width": "Sheet, along y",
    "shop:machine.kerf": "Kerf, full width",
    "shop:machine.cutter": "Machine's cutter, diameter",
    "shop:hand_router.base": "Router's base, diameter",
    "shop:hand_router.bush": "Guide bush, outside",
    "shop:hand_router.cutter": "Router's cutter, diameter",
    "shop:hand_router.cutter_reach": "Cutter's reach below the base",
    "shop:hand_router.bush_length": "Guide bush, length",
    "shop:housing_work.by": "Housings are made by",
    "shop:hand_saw.plate": "Back saw, its plate",
    "shop:hand_saw.kerf": "Back saw, width of its cut",
    "shop:hand_saw.depth": "Back saw, teeth to back",
    "shop:hand_saw.back": "Back saw, its back",
    "shop:hand_saw.length": "Back saw, length of its teeth",
    "shop:chisel.blade": "Chisel, edge to bolster",
}
"""In words; of every other key its section and its own name."""

HELPS = {
    "job:job.trestles": "A batch of one kind.",
    "job:top.length": "As measured, along the board.",
    "job:top.width": "As measured, across the board.",
    "job:top.thickness": "As measured, from face to face.",
    "job:leg.width": "As measured.",
    "job:leg.thickness": "As measured.",
    "shop:machine.kind": "What cuts the sheet.",
    "shop:machine.kerf": "The full width that the beam takes away, from a test cut; the coupon measures it finely.",
}
"""In place of the meaning in the file, where that would only say the label again."""

ASKED = (
    "shop:machine.kind",
    "shop:sheet.thickness",
    "shop:sheet.length",
    "shop:sheet.width",
    "shop:machine.kerf",
    "shop:machine.cutter",
    "shop:housing_work.by",
    "shop:hand_router.base",
    "shop:hand_router.bush",
    "shop:hand_router.cutter",
    "shop:hand_saw.plate",
    "shop:hand_saw.kerf",
    "shop:hand_saw.depth",
    "shop:hand_saw.back",
    "shop:hand_saw.length",
    "shop:chisel.blade",
)
"""What of a shop only its owner knows; of a new shop none of it is ever assumed but that housings are routed."""

BY = "shop:housing_work.by"


def tools_not_of(by: str) -> tuple[str, ...]:
    """What is not asked where housings are made so: who saws them is asked for no router, who routs them for no saw."""
    of_router, of_hand = ("shop:hand_router.",), ("shop:hand_saw.", "shop:chisel.")
    others = {"saw and chisel": of_router, "both": ()}.get(by, of_hand)
    return tuple(name for name in ASKED if others and name.startswith(others))


def widths_not_of(kind: str) -> tuple[str, ...]:
    """What is not asked of such a machine: a laser has a kerf, a CNC machine a cutter, paper neither."""
    own = {"laser": "shop:machine.kerf", "cnc": "shop:machine.cutter"}.get(kind)
    return tuple(name for name in ("shop:machine.kerf", "shop:machine.cutter") if name != own)


DEGREES = ("angle", "skew")
MOST_KEPT = 60
"""Lines that are shown of what the pages do not edit."""


@dataclass(frozen=True, slots=True)
class Field:
    """One figure on a page. value: what is typed, or as the file has it. written: as the file has it, for putting back.

    stands_in: what counts when it is left empty. why: the reason beside it in the file.
    """

    name: str
    label: str
    help: str
    value: str
    written: str = ""
    stands_in: str = ""
    why: str = ""
    unit: str = ""
    choices: tuple[str, ...] = ()
    is_changed: bool = False
    is_hidden: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that belong together, folded away or not."""

    title: str
    fields: tuple[Field, ...]
    is_folded: bool = False


def label_of(name: str) -> str:
    """A field's name in words."""
    section, _, key = name.partition(":")[2].rpartition(".")
    return LABELS.get(name) or f"{section.replace('_', ' ').replace('.', ' ').capitalize()}, {key.replace('_', ' ')}"


@lru_cache(8)
def as_written(data: bytes | None, table: str) -> Mapping[str, str]:
    """The values in a file by the field's name: digits as they stand, text without its quotes, lists with commas.

    Empty for a file that is not there. Raises JobError when it is no TOML.
    """
    import tomlkit

    if data is None:
        return {}
    # Read twice: once for a good sentence on what is wrong, once by a parser that keeps each value's own digits, so
    # that 12.70 is shown as 12.70.
    text = text_of(data, f"{table}.toml")
    table_of(text, f"{table}.toml")
    document = tomlkit.parse(text)
    # Of sections that may stand several times, [[size]], the first is shown, as kept_sections() keeps the others.
    found: dict[str, str] = {}
    for name in RULES:
        where, _, dotted = name.partition(":")
        item: Any = document if where == table else None
        for step in dotted.split("."):
            item = item[0] if isinstance(item, list) and item else item
            item = item.get(step) if isinstance(item, dict) else None
        if isinstance(item, str):
            found[name] = str(item)
        elif isinstance(item, list):
            found[name] = ", ".join(str(each) for each in item)
        elif item is not None:
            found[name] = str(item).lower() if isinstance(item, bool) else str(item.as_string())
    return found


@lru_cache(8)
def reasons(data: bytes | None, table: str) -> Mapping[str, str]:
    """The comment above each key's line, by the field's name."""
    if data is None:
        return {}
    text = text_of(data, f"{table}.toml")
    lines, found = text.split("\n"), {}
    for key, number in lines_of(text).items():
        # Lines count from 1 here and from 0 in the list: the one above a key's stands at number - 2.
        above, at = list[str](), number - 2
        while at >= 0 and lines[at].startswith("#"):
            above, at = [lines[at].lstrip("# "), *above], at - 1
        if above and not lines[number - 1].startswith("["):
            found[f"{table}:{key}"] = " ".join(above)
    return found


def kept_sections(data: bytes | None, table: str) -> str:
    """What a file says besides the sections that the pages edit: as it stands, cut off after MOST_KEPT lines."""
    if data is None:
        return ""
    text = text_of(data, f"{table}.toml")
    # Of a section that stands several times, [[size]], the pages edit the first at most: the further ones are kept.
    known = {section.name for section in (JOB_SHOWN if table == "job" else SHOP)}
    kept, is_known, seen = list[str](), True, set[str]()
    for line in text.split("\n"):
        if line.startswith("["):
            name = line.strip("[] \t").partition("]")[0].strip()
            is_known = name in known and name not in seen
            seen.add(name)
        if not is_known:
            kept.append(line)
    more = [f"... and {len(kept) - MOST_KEPT} lines more"] if len(kept) > MOST_KEPT else []
    return "\n".join([*kept[:MOST_KEPT], *more]).strip()


JOB_SHOWN = tuple(s for s in JOB if s.name in ("job", "trestle", "top", "leg", "brace", "housing"))
"""Sections of job.toml that are edited; what else the file may hold is shown and kept."""


def to_toml(rule: Rule, words: str) -> str:
    """What was typed as the value of a key; "" takes a key out that may be left out."""
    import tomlkit

    # Numbers and lengths go in as typed, right or wrong: the file's own reader judges them, in one place and in one
    # wording. What cannot be a number is quoted, so that the file stays TOML whatever was typed.
    plain = words.strip()
    if not plain and not rule.required:
        return ""
    if rule.kind == "yes or no" and plain in ("true", "false"):
        return plain
    if rule.kind == "names":
        return f"[{', '.join(tomlkit.item(each.strip()).as_string() for each in plain.split(',') if each.strip())}]"
    if rule.kind in ("length", "angle", "skew", "ratio", "whole number") and plain.isprintable():
        return toml_value(plain)
    return str(tomlkit.item(words).as_string())


def fields_of(table: str, names: Iterator[str], data: bytes | None, typed: Mapping[str, str]) -> tuple[Field, ...]:
    """The fields of these names as a page shows them now."""
    # The unit that figures and defaults are told in is the one that is typed now, before it is written anywhere. What
    # is neither mm nor in is told at its own field; defaults stay in mm until then.
    written, why = as_written(data, table), reasons(data, table)
    unit = typed.get(f"{table}:{'job' if table == 'job' else 'files'}.units") or written.get(
        f"{table}:{'job' if table == 'job' else 'files'}.units", "mm"
    )
    return tuple(
        Field(
            name,
            label_of(name),
            HELPS.get(name, RULES[name].meaning),
            typed.get(name, written.get(name, "")),
            written.get(name, ""),
            _stands_in(RULES[name], "in" if unit == "in" else "mm"),
            why.get(name, ""),
            "°" if RULES[name].kind in DEGREES else unit if RULES[name].kind == "length" else "",
            ("true", "false") if RULES[name].kind == "yes or no" else RULES[name].choices,
            name in typed,
        )
        for name in names
    )


def _stands_in(rule: Rule, unit: Unit) -> str:
    """What counts when a key is left out, as a file would have it."""
    if isinstance(rule.default, float) and rule.kind == "length":
        return length_in_file(rule.default, unit).strip("'\"")
    if rule.default is None or isinstance(rule.default, tuple):
        return ""
    return str(rule.default).lower() if isinstance(rule.default, bool) else f"{rule.default}"
