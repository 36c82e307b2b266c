"""A filled-in form looked over: its bytes in, values by section and key and every fault with its line out; mm.

It is read as job and shop are; besides single values it has lists, three readings of one place each.
"""

from dataclasses import field
from typing import Any, Self

from jigmaker.coupon.stations import TIMES
from jigmaker.errors import JobError
from jigmaker.job.lines import dotted_name, lines_of
from jigmaker.job.rules import Rule, Section
from jigmaker.job.toml import table_of, text_of
from jigmaker.job.unknown_keys import unknown_fault
from jigmaker.job.values import fault_of, shown, value_of
from jigmaker.record import dataclass
from jigmaker.units import Unit

_LAST = 10**9  # stands for the line of what is not in the form


@dataclass
class FormSurvey:
    """One form. `unit` is that of bare numbers, None as long as the form does not say it well."""

    file: str
    table: dict[str, Any]
    lines: dict[str, int]
    unit: Unit | None = None
    faults: list[tuple[int, str, str]] = field(default_factory=list)

    @classmethod
    def of(cls, data: bytes, file: str) -> Self:
        """Look at a form's bytes. Raises JobError if they are no TOML."""
        words = text_of(data, file)
        survey = cls(file, table_of(words, file), lines_of(words))
        said = survey._section("coupon").get("units")
        survey.unit = "mm" if said == "mm" else "in" if said == "in" else None
        return survey

    def refuse_faults(self) -> None:
        """Raise JobError with all faults in the order of their lines, if there are any."""
        if self.faults:
            told = sorted(self.faults, key=lambda fault: fault[0])
            raise JobError([sentence for _, _, sentence in told], [key for _, key, _ in told])

    def add(self, key: str, fault: str) -> None:
        """Note a fault at the line of a dotted key, or of its section when the form does not hold the key."""
        line = self.lines.get(key) or self.lines.get(key.rpartition(".")[0])
        where = f"{self.file} line {line}" if line else self.file
        self.faults.append((line or _LAST, key, f"{where}: {key} {fault}"))

    def holds(self, section: str) -> bool:
        """True when the form has the section, good or bad."""
        return section in self.table

    def look_for_unknown_keys(self, sections: tuple[Section, ...]) -> None:
        """Note sections and keys that no rule knows."""
        names = [section.name for section in sections]
        for name, raw in self.table.items():
            if name not in names:
                fault, _ = unknown_fault(name, isinstance(raw, dict), "", names, sections)
                self.add(dotted_name((name,)), fault)
        for section in sections:
            known = [rule.key for rule in section.rules]
            for name in self._section(section.name):
                if name not in known:
                    fault, _ = unknown_fault(name, False, section.name, known, sections)
                    self.add(dotted_name((section.name, name)), fault)

    def value(self, section: Section, rule: Rule) -> Any:
        """The value of one key: mm, a number or a word; its default when it is left out; None when it has a fault."""
        raw = self._section(section.name).get(rule.key)
        key = f"{section.name}.{rule.key}"
        if raw is None:
            if rule.required:
                self.add(key, f"is missing: {rule.meaning}; add a line {rule.key} = ...")
            return rule.default
        if fault := fault_of(rule, raw, self.unit):
            self.add(key, fault)
            return None
        return value_of(rule, raw, self.unit or "mm")

    def values(self, section: Section) -> dict[str, Any]:
        """The values of a whole section of single values, by key."""
        return {rule.key: self.value(section, rule) for rule in section.rules}

    def lengths(self, section: Section, rule: Rule) -> tuple[float, ...]:
        """The readings of one place, mm; none when it is left empty, which a required one must not be."""
        raw, key = self._section(section.name).get(rule.key, []), f"{section.name}.{rule.key}"
        if not isinstance(raw, list):
            self.add(key, f"is {shown(raw)}, must be {TIMES} readings in brackets, such as [1, 1, 1]")
            return ()
        faults = [fault for each in raw if (fault := fault_of(rule, each, self.unit))]
        if not faults and len(raw) != TIMES and (raw or rule.required):
            count = "1 reading" if len(raw) == 1 else f"{len(raw) or 'no'} readings"
            faults = [f"has {count}, must have {TIMES}: {rule.meaning}"]
        for fault in dict.fromkeys(faults):  # three alike are one fault
            self.add(key, fault)
        return () if faults else tuple(float(str(value_of(rule, each, self.unit or "mm"))) for each in raw)

    def _section(self, name: str) -> dict[str, Any]:
        held = self.table.get(name, {})
        if isinstance(held, dict):
            return held
        fault = f"is {shown(held)}, must be one section: write [{name}] with its keys below"
        if all(fault not in sentence for _, _, sentence in self.faults):
            self.add(name, fault)
        return {}
