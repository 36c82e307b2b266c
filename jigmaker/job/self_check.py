"""Records that check themselves: in comes a record when it is made, out goes OutOfRange if it breaks the file's rules.

Millimetres and degrees. The rules are those of the files, so what a reader refuses no code can build either.
"""

import math
from collections.abc import Iterable

from jigmaker.errors import OutOfRange
from jigmaker.job.rules import Rule, section_of
from jigmaker.job.sections import JOB, SHOP
from jigmaker.job.values import range_text, text_fault
from jigmaker.units import text

_MAY_BE_LEFT_OUT = ("length", "whole number", "percent", "temperature")


def check_record(record: object, section: str, leave_out: Iterable[str] = ()) -> None:
    """Check the fields of a record that have a rule in the section, but for the keys left out; raises OutOfRange.

    The sentences name the record's own field: "leg.width_mm is 7, must be 20 to 200 mm".
    """
    rules = [rule for rule in section_of(JOB + SHOP, section).rules if rule.key not in leave_out]
    # One Layer serves all four sections, so its sentences say "layers.name".
    record_name = section.partition(".")[0]
    faults = [
        f"{record_name}.{rule.field} {fault}"
        for rule in rules
        if hasattr(record, rule.field) and (fault := _fault(rule, getattr(record, rule.field)))
    ]
    if faults:
        raise OutOfRange(faults)


def _fault(rule: Rule, value: object) -> str:
    if value is None and not rule.required and rule.default is None and rule.kind in _MAY_BE_LEFT_OUT:
        return ""
    if rule.kind == "names":
        return ""  # also slugs of parts that are cut again by themselves
    if rule.kind in ("length", "angle", "skew", "ratio", "percent", "temperature", "whole number"):
        is_number = isinstance(value, int) if rule.kind == "whole number" else isinstance(value, int | float)
        if isinstance(value, bool) or not is_number:
            return f"is {value!r}, must be {range_text(rule, 'mm')}"
        assert isinstance(value, int | float)
        if math.isfinite(value) and rule.low <= value <= rule.high:
            return ""
        return f"is {text(value) if math.isfinite(value) else value}, must be {range_text(rule, 'mm')}"
    if rule.kind == "yes or no":
        return "" if isinstance(value, bool) else f"is {value!r}, must be True or False"
    return text_fault(rule, value) if isinstance(value, str) else f"is {value!r}, must be text"
