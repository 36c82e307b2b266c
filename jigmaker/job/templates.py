"""Commented files for someone's own job and shop: made from the table of rules, so that no key is forgotten.

They read without a fault as they stand, and every key has its one line of meaning. A value may be filled in, with the
reason for it above its line.
"""

from collections.abc import Mapping
from textwrap import wrap

from jigmaker.job.lines import numbered
from jigmaker.job.rules import Section
from jigmaker.job.sections import JOB, SHOP
from jigmaker.record import dataclass
from jigmaker.units import MM_PER_INCH, Unit, inch_fraction, length_mm, text

_ANY_LENGTH = "'2 3/4 in', '1 ft 3 1/2 in', '70 mm'"

_JOB_HEAD = f"""\
# A job: one design of trestle, and how many of it.
# Change the numbers to those of your own boards.
# A length may carry its own unit in quotes: {_ANY_LENGTH}.
"""

_SHOP_HEAD = f"""\
# A shop: the machine, the sheet and the hand router. It serves many jobs.
# Measure your own: the thickness of the sheet and the width of a cut decide whether things fit.
# A length may carry its own unit in quotes: {_ANY_LENGTH}.
"""


# Columns of a line of reasons.
_WIDTH = 110

_SAME_MM = 5e-7

# What a new shop in inches starts with, in place of the rules' samples: the same shop in sizes sold in inches.
SHOP_IN_INCHES = {
    "sheet.thickness": "0.358",
    "sheet.thickness_spread": "0",
    "sheet.length": "24",
    "sheet.width": "16",
    "sheet.margin": "'1/4'",
    "sheet.joint_clearance": "0.004",
    "machine.kerf": "0.008",
    "machine.cutter": "# '1/4'",
    "machine.accuracy": "0.004",
    "machine.bridge_width": "'1/4'",
    "machine.kerf_x": "# 0.008",
    "machine.kerf_y": "# 0.008",
    "hand_router.base": "6",
    "hand_router.bush": "'11/16'",
    "hand_router.bush_length": "'1/4'",
    "hand_router.bush_bore": "# '19/32'",
    "hand_router.cutter": "'1/2'",
    "hand_router.cutter_reach": "'2 1/4'",
    "hand_router.blade": "# '1 1/2'",
    "hand_router.bearing_height": "# '1/4'",
    "hand_saw.plate": "# 0.032",
    "hand_saw.kerf": "# 0.04",
    "hand_saw.depth": "# 3",
    "hand_saw.back": "# '1/4'",
    "hand_saw.length": "# 12",
    "chisel.blade": "# '5 1/2'",
    "leg_saw.cutting_height": "# '2 3/4'",
    "kit.jaws": "# 6",
    "files.units": "in",
    "paper.size": "Letter",
    **{f"layers.{operation}.width": "0.004" for operation in ("mark", "inner", "outer", "bridge", "note")},
}


@dataclass(frozen=True, slots=True)
class Filled:
    """A value as it stands in a file, without the quotes of a text, and the reason for it; "" for none."""

    value: str
    why: str = ""


def new_job_text(filled: Mapping[str, Filled] | None = None) -> str:
    """A commented job.toml that reads as it stands and makes a trestle that can be built; every key is in it.

    `filled` gives values by dotted key ("trestle.height") in place of the samples.
    """
    return _file_text(_JOB_HEAD, JOB, filled or {})


def new_shop_text(unit: Unit = "mm", filled: Mapping[str, Filled] | None = None) -> str:
    """A commented shop.toml that reads as it stands; keys that not every shop has are commented out. `filled` gives
    values by dotted key ("machine.kerf") in place of the samples.
    """
    inches = {key: Filled(sample) for key, sample in SHOP_IN_INCHES.items()} if unit == "in" else {}
    return _file_text(_SHOP_HEAD, SHOP, {**inches, **(filled or {})})


def length_in_file(mm: float, unit: Unit) -> str:
    """A length in mm as a file in that unit holds it: 89, or '3 1/2' in quotes, or 0.006, or "38 mm" for none of them.

    Reading it gives the same length to a millionth of a mm.
    """
    if unit == "mm":
        return text(mm)
    # As a person would write it: a fraction where it is one, decimals where three are enough, else millimetres.
    fraction, thousandths = inch_fraction(mm), text(mm / MM_PER_INCH, 3)
    if abs(length_mm(fraction, "in") - mm) <= _SAME_MM:
        return f"'{fraction}'" if "/" in fraction else fraction
    return thousandths if abs(length_mm(thousandths, "in") - mm) <= _SAME_MM else f'"{text(mm)} mm"'


def _file_text(head: str, sections: tuple[Section, ...], filled: Mapping[str, Filled]) -> str:
    return "\n".join([head, *(_section_text(section, filled) for section in sections)])


def _section_text(section: Section, filled: Mapping[str, Filled]) -> str:
    """A section; tables that a file may have several of, or none, for each that is filled in, else commented out."""
    meaning = [f"# {line}" for line in wrap(section.meaning, _WIDTH)]
    if not section.is_optional:
        keys = _key_lines(section, section.name, filled)
        # A section that needs keys is only shown where none of them is given: empty it would be one that lacks them.
        is_given = any(not line.startswith("# ") for line in keys) or not any(rule.required for rule in section.rules)
        return "\n".join([*meaning, f"{'' if is_given else '# '}[{section.name}]", *keys]) + "\n"
    names = [section.name, *(numbered(section.name, i) for i in range(2, section.most + 1))]
    tables = [_key_lines(section, name, filled) for name in names if any(key.startswith(f"{name}.") for key in filled)]
    written = [line for keys in tables for line in (f"[[{section.name}]]", *keys)]
    shown = ["", *(f"# {line}" for line in (f"[[{section.name}]]", *_key_lines(section, section.name, {})))]
    return "\n".join([*meaning, *(written or shown)]) + "\n"


def _key_lines(section: Section, name: str, filled: Mapping[str, Filled]) -> list[str]:
    """The keys of one table, but for a height that stands in tables of its own."""
    lines: list[str] = []
    for rule in (rule for rule in section.rules if rule.key != "height" or rule.each not in filled):
        if section.is_optional and filled and f"{name}.{rule.key}" not in filled:
            continue
        given = filled.get(f"{name}.{rule.key}", Filled(rule.sample))
        lines += [f"# {line}" for line in wrap(given.why, _WIDTH, break_long_words=False, break_on_hyphens=False)]
        # One key with its value and meaning; commented out when it has no value to start with.
        is_quoted = rule.kind in ("text", "choice", "colour", "layer name")
        is_shown_only = given.value.startswith("# ") and not (rule.kind == "text" and rule.required)
        sample = given.value.removeprefix("# ") if is_shown_only else given.value
        value = quoted(sample) if is_quoted else sample
        setting = f"# {rule.key} = {value}" if is_shown_only else f"{rule.key} = {value}"
        lines.append(f"{setting:<27} # {rule.meaning}")
    return lines


def quoted(words: str) -> str:
    """Text as TOML holds it."""
    plain = words.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{plain}"'
