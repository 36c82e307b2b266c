"""The form for the readings of a batch, as a TOML file to fill in: unit and number of trestles in, its text out."""

from collections.abc import Sequence

from jigmaker.levelling.feet import FEET, PICTURE, WHICH_IS_WHICH
from jigmaker.levelling.level_rules import LEVEL, trestle_section
from jigmaker.units import Unit

MOST_TRESTLES = 40
"""Sections in a blank form; a larger batch copies one more for each."""

_COLUMN = 22


def level_form_text(unit: Unit, trestles: int, sizes: Sequence[str] = ()) -> str:
    """A blank form with a section for each trestle, every key of it with its meaning in the first.

    sizes: of a job with several sizes the height of each trestle, as it is written.
    """
    units, height, sheets, soles = LEVEL.rules
    rows = [
        _row(units.key, unit, units.meaning),
        _row(height.key, "", height.meaning),
        f"{'# sheets = 2':<{_COLUMN}}# {sheets.meaning}",
        _row(soles.key, soles.sample, soles.meaning),
    ]
    lines = [
        "Readings for levelling the feet, on a floor that is flat and level. Put your figures between the quotes.",
        "A key left empty counts as not there, a trestle without figures as not measured.",
        "",
        *PICTURE,
        WHICH_IS_WHICH,
        "",
        "Each trestle is read in one of two ways:",
        "  top and under_*: shims under the feet until a level reads level along the top and across both its ends;",
        "    then the one height of the top, and the four shims. Write 0 where nothing is under a foot.",
        "  over_*: a straight batten across the top at each end, long enough to reach over both feet; four heights of",
        "    its underside, straight over where each foot touches. If a foot hangs or stands on a shim, under_* too.",
        "One trestle by itself that only shall not rock, at whatever height: hangs and gap.",
        "Then: jigmaker level JOB --readings FILE",
    ]
    blocks = [
        ("\n".join(f"# {line}".rstrip() for line in lines) + "\n"),
        ("\n".join(["[level]", *rows]) + "\n"),
    ]
    for number in range(1, min(trestles, MOST_TRESTLES) + 1):
        blocks.append(_trestle(f"trestle_{number}", sizes[number - 1] if sizes else "", is_first=number == 1))
    return "\n".join(blocks)


def _trestle(name: str, size: str, is_first: bool) -> str:
    rules = trestle_section(name).rules
    kept = [rule for rule in rules if is_first or rule.key not in ("hangs", "gap")]
    rows = []
    for rule in kept:
        if rule.key == "size":
            rows += [_row(rule.key, size, rule.meaning if is_first else "")] if size else []
            continue
        meaning = rule.meaning
        if rule.key == "hangs":
            meaning = f"{meaning}: {' or '.join(foot.key for foot in FEET)}"
        rows.append(_row(rule.key, "", meaning if is_first else ""))
    return "\n".join([f"[{name}]", *rows]) + "\n"


def _row(key: str, value: str, meaning: str) -> str:
    setting = f'{key} = "{value}"'
    return f"{setting:<{_COLUMN}}# {meaning}" if meaning else setting
