"""Defaults that are others than in kit 1: a file that was read without fault in, a caution for each that meets it out.

Lengths are told in the file's unit.
"""

from jigmaker.findings import Finding
from jigmaker.job.rules import KIT_NUMBER, Default, Rule
from jigmaker.job.sections import JOB, SHOP
from jigmaker.job.survey import Survey
from jigmaker.job.templates import length_in_file
from jigmaker.units import Unit

CODE = 130


def changed_defaults(data: bytes, table: str, made_before: int | None) -> list[Finding]:
    """The cautions of a job file (`table` "job") or a shop file ("shop").

    `made_before` is the kit that the folder to be written holds; None when it holds none. A value that is written out
    and was only the old default is told unless this kit was made there before, so once for a folder; a key that is left
    out is told when the old kit is there, for then it means something else now.
    """
    if made_before is not None and made_before >= KIT_NUMBER:
        return []
    # A line that says the old default may have been written by an old jigmaker and never chosen; a key that is left out
    # has another value than when the kit that lies there was made. A kit of this number was made with the new ones.
    sections, unit_key = (JOB, "job.units") if table == "job" else (SHOP, "files.units")
    survey = Survey.of(data, table, sections, unit_key)
    findings: list[Finding] = []
    for section in sections:
        for rule in (rule for rule in section.rules if rule.was is not None):
            key = f"{section.name}.{rule.key}"
            old, new = _in_file(rule, rule.was, survey.unit or "mm"), _in_file(rule, rule.default, survey.unit or "mm")
            if survey.is_there(key) and survey.value(key) == rule.was:
                says, do = f"is {old}, the default of older versions", f"delete this line to have the new one, {new}"
            elif not survey.is_there(key) and made_before is not None:
                says = f"was {old} when this folder was last made and is {new} now, for no line says otherwise"
                do = f"write {rule.key} = {old} to have the old one"
            else:
                continue
            findings.append(Finding(CODE, says, do, key=f"{table} {key}", severity="caution"))
    return findings


def _in_file(rule: Rule, value: Default, unit: Unit) -> str:
    """A value as the file would hold it; for None what a new file starts with."""
    if value is None:
        return rule.sample
    if rule.kind == "length" and isinstance(value, float | int):
        return length_in_file(value, unit)
    if isinstance(value, bool):
        return "true" if value else "false"
    return f'"{value}"' if isinstance(value, str) else f"{value}"
