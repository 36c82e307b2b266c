"""A file looked over against its table of rules: in come bytes, out come good values by dotted key and all faults.

Lengths come out in mm. Faults come out as full sentences in the order of their lines.
"""

from dataclasses import field, replace
from typing import Any, Self

from jigmaker.errors import JobError
from jigmaker.job.lines import dotted_name, lines_of, numbered
from jigmaker.job.rules import KIT_NUMBER, Rule, Section, top_names
from jigmaker.job.toml import table_of, text_of
from jigmaker.job.unknown_keys import unknown_fault
from jigmaker.job.values import fault_of, shown, value_of
from jigmaker.record import dataclass
from jigmaker.units import Unit

# Stands for the line of what is not in the file: told after everything that is.
_LAST = 10**9


@dataclass
class Survey:
    """What one file holds. `values` are by dotted key, defaults included; a key with a fault has none.

    `kit`: by which kit's defaults keys that are left out are taken. `taken_for` are the keys that a misspelt one was
    meant for, `blocked` the names of sections that are none: one mistake makes one fault.
    """

    file: str
    sections: tuple[Section, ...]
    table: dict[str, Any]
    lines: dict[str, int]
    kit: int = KIT_NUMBER
    unit: Unit | None = None
    values: dict[str, object] = field(default_factory=dict)
    faults: list[tuple[int, str, str]] = field(default_factory=list)
    taken_for: set[str] = field(default_factory=set)
    blocked: set[str] = field(default_factory=set)

    @classmethod
    def of(cls, data: bytes, file: str, sections: tuple[Section, ...], unit_key: str, kit: int = KIT_NUMBER) -> Self:
        """Look over a file; `unit_key` is the key that says the unit of its bare numbers. JobError if it is no TOML."""
        text = text_of(data, file)
        table = table_of(text, file)
        # The second [[sheet]] and those after it become sections of their own, "sheet 2"; the first is [sheet] itself.
        # The table is changed to match. A list of anything else is left, and is no section.
        given = {name: len(held) for name, held in table.items() if isinstance(held, list)}
        further: list[Section] = []
        for section in sections:
            held = table.get(section.name)
            if section.most > 1 and held and isinstance(held, list) and all(isinstance(each, dict) for each in held):
                table[section.name] = held[0]
                for i, each in enumerate(held[1 : section.most], 2):
                    table[numbered(section.name, i)] = each
                    further.append(replace(section, name=numbered(section.name, i)))
        survey = cls(file, (*sections, *further), table, lines_of(text), kit)
        for section in sections:
            if section.most > 1 and given.get(section.name, 0) > section.most:
                survey._add(section.name, f"stands {given[section.name]} times, must be {section.most} times or fewer")
        # The unit before all values, for their lengths are in it; misspelt keys before those that are missing, for what
        # a misspelt one was meant for is not missing too.
        said = survey._raw(unit_key)
        survey.unit = "mm" if said == "mm" else "in" if said == "in" else None
        survey._look_for_unknown_keys()
        for section in survey.sections:
            survey._look_at(section)
        return survey

    def refuse_faults(self) -> None:
        """Raise JobError with all faults in the order of their lines, if there are any."""
        if self.faults:
            told = sorted(self.faults, key=lambda fault: fault[0])
            raise JobError([sentence for _, _, sentence in told], [key for _, key, _ in told])

    def add(self, faults: dict[str, str]) -> None:
        """Add faults by dotted key."""
        for key, fault in faults.items():
            self._add(key, fault)

    def is_there(self, key: str) -> bool:
        """True when the file holds the key or section, good or bad."""
        return self._raw(key) is not None

    def is_good(self, key: str) -> bool:
        """True when the key has a value, its own or its default, and no fault."""
        return key in self.values

    def value(self, key: str) -> object:
        """The value of a key without fault: mm, degrees, text; None when it is left out and has no default."""
        return self.values[key]

    def numbered(self, name: str) -> list[str]:
        """The names of all tables of a list, [[size]], that the file has: "size", "size 2" and so on."""
        return [each.name for each in self.sections if each.name.partition(" ")[0] == name and self.is_there(each.name)]

    def fields(self, section: str) -> dict[str, Any]:
        """The section's values by the name of the record's field."""
        rules = next(each for each in self.sections if each.name == section).rules
        return {rule.field: self.values[f"{section}.{rule.key}"] for rule in rules}

    def _add(self, key: str, fault: str) -> None:
        """Note a fault at the key's line, or at its section's when the file does not hold the key."""
        line = self.lines.get(key) or self.lines.get(key.rpartition(".")[0])
        where = f"{self.file} line {line}" if line else self.file
        self.faults.append((line or _LAST, key, f"{where}: {key} {fault}"))

    def _raw(self, key: str) -> object:
        # Dotted names of sections are nested tables: "layers.mark.name" is three steps.
        found: object = self.table
        for part in key.split("."):
            found = found.get(part) if isinstance(found, dict) else None
        return found

    def _look_for_unknown_keys(self) -> None:
        """Note sections and keys that no rule knows; what each was probably meant for is not called missing too."""
        known = {
            name: [s.name.split(".")[1] for s in self.sections if s.name.startswith(f"{name}.")]
            for name in top_names(self.sections)
        }
        self._look_among("", list(known))
        for name, inner in known.items():
            if inner:
                self._look_among(name, inner)
        for section in self.sections:
            self._look_among(section.name, [rule.key for rule in section.rules])

    def _look_among(self, table: str, known: list[str]) -> None:
        held = self._raw(table) if table else self.table
        for name, raw in held.items() if isinstance(held, dict) else ():
            if name in known:
                continue
            fault, meant = unknown_fault(name, isinstance(raw, dict), table, known, self.sections)
            self._add(dotted_name((*table.split("."), name) if table else (name,)), fault)
            self.taken_for.add(meant)

    def _look_at(self, section: Section) -> None:
        # A section that is missing as a whole is one fault, with all that it needs; then none of its keys is told.
        if self._is_blocked(section.name):
            return
        needed = ", ".join(rule.key for rule in section.rules if self._is_needed(rule))
        # A section whose name is misspelt was meant to be there: that is the one fault to tell.
        others = [self.is_there(other) or other in self.taken_for for other in section.instead]
        # Who writes that housings are sawn is asked for a chisel that is not there, and for no router.
        stands_in = bool(others) and (all(others) or self._raw("housing_work.by") == "saw and chisel")
        if self._raw(section.name) is None and (section.is_optional or stands_in):
            return
        if self._raw(section.name) is None and needed:
            if section.name not in self.taken_for:
                self._add(section.name, f"is missing; write [{section.name}] with {needed}")
            return
        for rule in section.rules:
            self._look_at_key(section, rule)

    def _is_blocked(self, section: str) -> bool:
        """True, and noted once, when something that is no section stands in a section's place: leg = 5, [[leg]]."""
        top = section.partition(".")[0]
        for name in (top, section):
            held = self._raw(name)
            if held is not None and not isinstance(held, dict):
                if name not in self.blocked:
                    self._add(name, f"is {shown(held)}, must be one section: write [{section}] with its keys below")
                self.blocked.add(name)
                return True
        return False

    def _is_needed(self, rule: Rule) -> bool:
        """A key that every table of a list has for itself is not; one that such a table lacks is missed there alone."""
        name, _, key = rule.each.partition(".")
        tables = self.numbered(name) if name else []
        is_asked_there = any(each.rule(key).required for each in self.sections if each.name == name)
        return rule.required and not (
            tables and (is_asked_there or all(self.is_there(f"{table}.{key}") for table in tables))
        )

    def _look_at_key(self, section: Section, rule: Rule) -> None:
        key = f"{section.name}.{rule.key}"
        raw = self._raw(key)
        if raw is None:
            if not self._is_needed(rule):
                self.values[key] = rule.default_in(self.kit)
            elif key not in self.taken_for:
                self._add(section.name, f"lacks {rule.key}: {rule.meaning}; add a line {rule.key} = ...")
        elif fault := fault_of(rule, raw, self.unit):
            self._add(key, fault)
        else:
            self.values[key] = value_of(rule, raw, self.unit or "mm")
